package rehearsal

import (
	"encoding/json"
	"io"
	"strings"

	"rungbook/bot"
)

// NewJSON returns a scribe that writes one JSON object a line for each thing
// the bot says or does.
func NewJSON(w io.Writer, t *Transcript) Scribe {
	encoder := json.NewEncoder(w)
	encoder.SetEscapeHTML(false)
	return &jsonLines{encoder, t}
}

type jsonLines struct {
	*json.Encoder
	t *Transcript
}

// object is one line. At is in the team's zone, with its offset.
type object struct {
	At       string       `json:"at"`
	Kind     bot.Kind     `json:"kind"`
	To       bot.Audience `json:"to"`
	Member   string       `json:"member,omitempty"`
	Answers  string       `json:"answers,omitempty"`
	Line     int          `json:"line,omitempty"`
	Text     string       `json:"text"`
	Pictures []string     `json:"pictures,omitempty"`
	Facts    any          `json:"facts"`
}

func (j *jsonLines) Begin(*Event) error { return nil }
func (j *jsonLines) Rest(*Event) error  { return nil }
func (j *jsonLines) Close() error       { return nil }

// Say writes one object.
func (j *jsonLines) Say(said Said) error {
	zone := j.t.Team.Zone
	out := object{
		At: said.At.In(zone).Format("2006-01-02T15:04:05-07:00"), Kind: said.Kind, To: said.To, Member: said.Name,
		Line: said.Line, Text: said.Text, Facts: struct{}{},
	}
	if said.Answers != 0 {
		out.Answers = instantOf(said.Answers).In(zone).Format(reading)
	}
	if said.Facts != nil {
		out.Facts = said.Facts
	}
	for _, file := range said.Files {
		if strings.HasSuffix(file.Name, ".png") {
			out.Pictures = append(out.Pictures, file.Name)
		}
	}
	return j.Encode(out)
}
