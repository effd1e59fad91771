package bot

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"time"

	"rungbook/training"
)

// Exported is all that is kept of a member, for themselves and for the host.
// It is the JSON of an export.
type Exported struct {
	Name      string            `json:"name"`
	Zone      string            `json:"zone"`
	Nudges    bool              `json:"nudges"`
	Joined    training.Day      `json:"joined"`
	Sessions  []ExportedSession `json:"sessions"`
	Pauses    []Stretch         `json:"pauses"` // until is the day of resume, null while one runs
	Aways     []Stretch         `json:"aways"`
	Witnessed []ExportedMark    `json:"witnessed"`
	Asked     []ExportedSession `json:"asked"` // read in doubtful messages, and counted for nothing until the member says so

	// Kept is every row about them, by table and column, as it stands in the database:
	// numbers are the platform's, instants in ms since 1970 UTC. PRIVACY.md names the
	// columns that are left out, and why.
	Kept map[string][]map[string]any `json:"kept"`
}

// ExportedSession is one day's sets, in the order typed.
type ExportedSession struct {
	Day  training.Day        `json:"day"`
	Sets []training.NamedSet `json:"sets"`
}

// ExportedMark is a gate that a coach saw.
type ExportedMark struct {
	Gate string       `json:"gate"`
	Day  training.Day `json:"day"`
}

// Stretch is days from one to another.
type Stretch struct {
	From  training.Day `json:"from"`
	Until training.Day `json:"until"`
}

// ExportOf gathers all that is kept of a member of the team. Errors are those of the
// Store.
func ExportOf(tx Tx, programme *training.Programme, team training.TeamID, who training.Member) (Exported, error) {
	record, err := tx.Record(team, who.ID)
	if err != nil {
		return Exported{}, err
	}
	asked, err := tx.AskedLogs(team, who.ID, time.Time{})
	if err != nil {
		return Exported{}, err
	}
	out := exported(programme, who, &record, asked)
	out.Kept, err = tx.Kept(team, who.ID)
	return out, err
}

// exported is an export but for the rows as they stand; asked are the member's
// messages that wait for a word of theirs. Lists are never nil.
func exported(programme *training.Programme, who training.Member, record *training.Record, asked []training.Log) Exported {
	out := Exported{Name: who.Name, Zone: who.Zone.String(), Nudges: who.Nudges, Joined: who.Joined,
		Sessions: []ExportedSession{}, Pauses: []Stretch{}, Aways: []Stretch{}, Witnessed: []ExportedMark{}, Asked: []ExportedSession{}}
	for _, session := range record.Sessions {
		out.Sessions = append(out.Sessions, exportedSession(programme, session.Day, session.Sets))
	}
	for _, log := range asked {
		for _, day := range log.Days {
			out.Asked = append(out.Asked, exportedSession(programme, day.Day, day.Sets))
		}
	}
	for _, pause := range record.Pauses {
		out.Pauses = append(out.Pauses, Stretch(pause))
	}
	for _, away := range record.Aways {
		out.Aways = append(out.Aways, Stretch(away))
	}
	for _, mark := range record.Marks {
		out.Witnessed = append(out.Witnessed, ExportedMark{programme.NameOf(mark.Gate), mark.Day})
	}
	return out
}

func exportedSession(programme *training.Programme, day training.Day, sets []training.Set) ExportedSession {
	out := ExportedSession{Day: day}
	for _, set := range sets {
		out.Sets = append(out.Sets, programme.Named(set))
	}
	return out
}

// JSON writes everything.
func (e Exported) JSON() ([]byte, error) {
	data, err := json.MarshalIndent(e, "", "  ")
	return append(data, '\n'), err
}

// csvHead names the columns of a CSV export, a row a set.
var csvHead = []string{"day", "rung", "work_s", "reps", "load_kg", "help", "side", "rest_s", "effort", "failed", "tries", "done"}

// CSV writes the sets, a row each, in UTF-8 with a header. What is unsaid is an
// empty cell. A text that a spreadsheet would take for a formula gets an
// apostrophe before it.
func (e Exported) CSV() ([]byte, error) {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	w.UseCRLF = true // RFC 4180
	rows := [][]string{csvHead}
	for _, session := range e.Sessions {
		for _, set := range session.Sets {
			rows = append(rows, csvRow(session.Day, set))
		}
	}
	if err := w.WriteAll(rows); err != nil {
		return nil, fmt.Errorf("write csv: %w", err)
	}
	return out.Bytes(), nil
}

func csvRow(day training.Day, set training.NamedSet) []string {
	load, failed := "", ""
	if set.LoadKg != 0 {
		load = set.LoadKg.String()
	}
	if set.Failed {
		failed = "true"
	}
	return []string{day.String(), plain(set.Rung), number(set.WorkS), number(set.Reps), load, plain(set.Help), plain(string(set.Side)),
		optional(set.RestS), optional(set.Effort), failed, number(set.Tries), optional(set.Done)}
}

// plain keeps a text from being taken for a formula.
func plain(text string) string {
	if text != "" && strings.ContainsRune("=+-@\t\r\n'|", rune(text[0])) {
		return "'" + text
	}
	return text
}

func number(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

func optional(o training.Optional) string {
	if !o.Known {
		return ""
	}
	return strconv.Itoa(o.Value)
}
