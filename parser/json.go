package parser

import (
	"encoding/json"

	"rungbook/training"
)

// answer is one line of the parse command.
type answer struct {
	Text     string                `json:"text"`
	Verdict  Verdict               `json:"verdict"`
	Day      training.Day          `json:"day"`
	Sets     []training.NamedSet   `json:"sets"`
	Pain     []training.PainReport `json:"pain,omitempty"`
	Problems []place               `json:"problems,omitempty"`
	Guesses  []guessed             `json:"guesses,omitempty"`
}

type place struct {
	From    int      `json:"from"`
	To      int      `json:"to"`
	Say     string   `json:"say"`
	Suggest []string `json:"suggest,omitempty"`
	Code    string   `json:"code"`
}

type guessed struct {
	Kind string `json:"kind"`
	Took string `json:"took"`
}

// JSON returns the result as the one line that the parse command prints, with
// rungs under their present names.
func (r Result) JSON(p *training.Programme, text string) ([]byte, error) {
	a := answer{Text: text, Verdict: r.Verdict, Day: r.Day, Sets: []training.NamedSet{}, Pain: r.Pain}
	for _, set := range r.Sets {
		a.Sets = append(a.Sets, p.Named(set))
	}
	for _, problem := range r.Problems {
		a.Problems = append(a.Problems, place(problem))
	}
	for _, guess := range r.Guesses {
		a.Guesses = append(a.Guesses, guessed(guess))
	}
	return json.Marshal(a)
}
