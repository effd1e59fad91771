package parser

import (
	"testing"

	"rungbook/training"
	"rungbook/training/programme"
)

// TestOtherExercisesAreNoMisspelling reads no set of another exercise as one of
// a rung whose name is near: it could open a gate.
func TestOtherExercisesAreNoMisspelling(t *testing.T) {
	p := New(programme.Builtin())
	for _, text := range []string{"3x30s dead hang", "3x10 ring pushups", "3x5 ring chips", "3x10 push ups", "3x30s active hang", "5 chinups"} {
		if got := p.Parse(text, Context{Today: training.Date(2026, 11, 25)}); got.Verdict == Log {
			t.Errorf("%q is read as %v", text, got.Sets)
		}
	}
}

// TestNoStandardByRounding holds the bound where rounding ends to the shortest
// standard of a rung.
func TestNoStandardByRounding(t *testing.T) {
	p := &training.Programme{Gates: []training.Gate{{Rung: "b", Standard: training.Standard{Sets: 1, Work: 6}}}}
	for id, want := range map[training.RungID]int64{"a": 9_000, "b": 5_000, "c": 7_000} {
		r := training.Rung{ID: id}
		if id == "c" {
			r.MoveOn = training.Standard{Sets: 3, Work: 8}
		}
		got := exactFrom(p, r)
		if got != want {
			t.Errorf("times of %s are rounded down from %d ms on, not %d", id, got, want)
		}
		if g := (&rung{exact: got}); g.seconds(want+999) != int(want/1000) || g.seconds(want-400) != int(want/1000) {
			t.Errorf("%s: %d and %d", id, g.seconds(want+999), g.seconds(want-400))
		}
	}
}
