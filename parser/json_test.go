package parser_test

import (
	"testing"

	"rungbook/parser"
	"rungbook/training"
	"rungbook/training/programme"
)

// TestJSON writes each kind of result as the parse command prints it.
func TestJSON(t *testing.T) {
	monday := training.Date(2026, 11, 23)
	hang, dips := training.Set{Rung: "deep-hang", WorkS: 30}, training.Set{Rung: "ring-dips", Reps: 5}
	one := []parser.DaySets{{Day: monday, Sets: []training.Set{hang}}}
	two := append(one, parser.DaySets{Day: monday + 2, Sets: []training.Set{dips}})
	const first = `"day":"2026-11-23","sets":[{"rung":"deep hang","work_s":30}]`
	const both = first + `,"days":[{` + first + `},{"day":"2026-11-25","sets":[{"rung":"ring dips","reps":5}]}]`
	doubts := []parser.Problem{{From: 1, To: 3, Say: "What?", Code: "odd"}}
	for _, c := range []struct {
		said parser.Result
		want string
	}{
		{parser.Result{Verdict: parser.Chat}, `"verdict":"chat","sets":[]`},
		{parser.Result{Verdict: parser.Pain, Care: training.AskCare}, `"verdict":"pain","sets":[],"pain":[{"care":"ask"}]`},
		{parser.Result{Verdict: parser.Log, Days: one, Care: training.StopCare}, `"verdict":"log",` + first + `,"pain":[{"care":"stop"}]`},
		{parser.Result{Verdict: parser.Log, Days: two}, `"verdict":"log",` + both},
		{parser.Result{Verdict: parser.Log, Days: one, Unread: []string{"spicy"}, NotCounted: []string{"squats"}},
			`"verdict":"log",` + first + `,"unread":["spicy"],"not_counted":["squats"]`},
		{parser.Result{Verdict: parser.Unsure, Problems: doubts},
			`"verdict":"unsure","sets":[],"problems":[{"from":1,"to":3,"say":"What?","code":"odd"}]`},
		{parser.Result{Verdict: parser.Unsure, Problems: doubts, Days: two},
			`"verdict":"unsure","day":"2026-11-23","sets":[],"reading":{` + both + `},"problems":[{"from":1,"to":3,"say":"What?","code":"odd"}]`},
	} {
		got, err := c.said.JSON(programme.Builtin(), "x")
		if want := `{"text":"x",` + c.want + `}`; err != nil || string(got) != want {
			t.Errorf("got  %s, %v\nwant %s", got, err, want)
		}
	}
}
