package training_test

import (
	"bufio"
	"encoding/json"
	"maps"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"rungbook/training"
	"rungbook/training/programme"
)

// testCase is a line of testdata/cases.jsonl: cases of this project's own
// rules, worked out by an independent brute-force script and spot-checked by
// hand.
type testCase struct {
	Kind     string          `json:"kind"`
	Sessions json.RawMessage `json:"sessions"`
	Today    training.Day    `json:"today"`
	Day      training.Day    `json:"day"`
	From     training.Day    `json:"from"`
	Days     int             `json:"days"`
	TeamDays []string        `json:"team_days"`
	Gate     string          `json:"gate"`
	Ladder   string          `json:"ladder"`
	Want     json.RawMessage `json:"want"`
}

// caseSet is a set as the cases write it.
type caseSet struct {
	Rung   string            `json:"rung"`
	WorkS  int               `json:"work_s"`
	Reps   int               `json:"reps"`
	LoadKg float64           `json:"load_kg"`
	Help   string            `json:"help"`
	RestS  training.Optional `json:"rest_s"`
	Effort training.Optional `json:"effort"`
	Failed bool              `json:"failed"`
}

// rungID finds a rung of the programme by its name.
func rungID(t testing.TB, p *training.Programme, name string) training.RungID {
	t.Helper()
	for _, l := range p.Ladders {
		for _, r := range l.Rungs {
			if r.Name == name {
				return r.ID
			}
		}
	}
	t.Fatalf("no rung is called %q", name)
	return ""
}

// record makes a record of the case's sessions by day.
func (c testCase) record(t *testing.T, p *training.Programme) *training.Record {
	var sets map[training.Day][]caseSet
	byText := map[string][]caseSet{}
	decode(t, c.Sessions, &byText)
	sets = map[training.Day][]caseSet{}
	for text, list := range byText {
		sets[day(t, text)] = list
	}
	r := &training.Record{}
	for _, d := range slices.Sorted(maps.Keys(sets)) {
		s := training.Session{Day: d}
		for _, set := range sets[d] {
			s.Sets = append(s.Sets, training.Set{
				Rung: rungID(t, p, set.Rung), WorkS: set.WorkS, Reps: set.Reps, LoadHg: int(set.LoadKg * 10),
				Help: set.Help, RestS: set.RestS, Effort: set.Effort, Failed: set.Failed,
			})
		}
		r.Sessions = append(r.Sessions, s)
	}
	return r
}

func decode(t testing.TB, data []byte, into any) {
	t.Helper()
	if err := json.Unmarshal(data, into); err != nil {
		t.Fatalf("read %s: %v", data, err)
	}
}

func day(t testing.TB, text string) training.Day {
	t.Helper()
	d, err := training.ParseDay(text)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// sameJSON compares a value's JSON with the wanted one, as values.
func sameJSON(t *testing.T, got any, want []byte) {
	t.Helper()
	data, err := json.Marshal(got)
	if err != nil {
		t.Fatal(err)
	}
	var g, w any
	decode(t, data, &g)
	decode(t, want, &w)
	if !reflect.DeepEqual(g, w) {
		t.Errorf("got  %s\nwant %s", data, want)
	}
}

func TestCases(t *testing.T) {
	file, err := os.Open("testdata/cases.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	p := programme.Builtin()
	run := map[string]func(*testing.T, *training.Programme, testCase){
		"next_allowed": caseNextAllowed, "violations": caseViolations, "plan_days": casePlanDays, "gate": caseGate, "target": caseTarget,
	}
	seen := map[string]int{}
	for lines := bufio.NewScanner(file); lines.Scan(); {
		var c testCase
		decode(t, lines.Bytes(), &c)
		seen[c.Kind]++
		if run[c.Kind] == nil {
			t.Fatalf("a case of the unknown kind %q", c.Kind)
		}
		t.Run(c.Kind, func(t *testing.T) {
			run[c.Kind](t, p, c)
			if t.Failed() {
				t.Logf("case %s", lines.Text())
			}
		})
	}
	want := map[string]int{"next_allowed": 17, "violations": 13, "plan_days": 8, "gate": 26, "target": 37}
	if !maps.Equal(seen, want) {
		t.Errorf("cases by kind %v, want %v", seen, want)
	}
}

func (c testCase) counted(t *testing.T) (counted []training.Day) {
	decode(t, c.Sessions, &counted)
	return counted
}

func caseNextAllowed(t *testing.T, p *training.Programme, c testCase) {
	sameJSON(t, p.Rest.NextAllowed(c.counted(t), c.Today), c.Want)
}

func caseViolations(t *testing.T, p *training.Programme, c testCase) {
	sameJSON(t, p.Rest.Violations(c.counted(t), c.Day), c.Want)
}

func casePlanDays(t *testing.T, p *training.Programme, c testCase) {
	team, err := training.ParseWeekdays(strings.Join(c.TeamDays, " "))
	if err != nil {
		t.Fatal(err)
	}
	r := trainedOn(c.counted(t)...)
	sameJSON(t, p.PlanDays(r, team, c.From, c.Days), c.Want)
}

func caseGate(t *testing.T, p *training.Programme, c testCase) {
	gate, ok := p.GateOn(rungID(t, p, c.Gate))
	if !ok {
		t.Fatalf("no gate on %q", c.Gate)
	}
	sameJSON(t, p.Gate(c.record(t, p), gate, c.Today), c.Want)
}

func caseTarget(t *testing.T, p *training.Programme, c testCase) {
	var want struct {
		Rung          string
		Sets, T, Rule int
	}
	decode(t, c.Want, &want)
	for _, got := range p.Targets(c.record(t, p), monThu, c.Today) {
		if got.Ladder != c.Ladder {
			continue
		}
		if got.Rung != want.Rung || got.Sets != want.Sets || got.WorkS+got.Reps != want.T || got.Reason.Rule != want.Rule {
			t.Errorf("got %+v, want %+v", got, want)
		}
		return
	}
	t.Errorf("no target for %q", c.Ladder)
}

// trainedOn is a member with one counted session on each of the days.
func trainedOn(days ...training.Day) *training.Record {
	r := &training.Record{}
	for _, d := range days {
		r.Sessions = append(r.Sessions, training.Session{Day: d, Sets: []training.Set{{Rung: "high-hold", WorkS: 10}}})
	}
	return r
}
