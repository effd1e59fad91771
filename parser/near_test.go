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
			t.Errorf("%q is read as %v", text, got.Sets())
		}
	}
}

// TestNoStandardByRounding holds that a time is told to the nearest second, save
// that it never rises to what a gate or a move-on standard asks for.
func TestNoStandardByRounding(t *testing.T) {
	p := &training.Programme{Gates: []training.Gate{{Rung: "b", Standard: training.Standard{Sets: 1, Work: 30}}}}
	for id, want := range map[training.RungID]int{"a": 30, "b": 29, "c": 29} {
		r := training.Rung{ID: id}
		if id == "c" {
			r.MoveOn = training.Standard{Sets: 3, Work: 30}
		}
		g := &rung{standards: standardsOf(p, r)}
		if got := g.seconds(29_600); got != want {
			t.Errorf("29.6 s of %s is %d s, not %d", id, got, want)
		}
		for milli, want := range map[int64]int{28_600: 29, 28_500: 28, 31_500: 32, 30_400: 30, 30_000: 30} {
			if got := g.seconds(milli); got != want {
				t.Errorf("%d ms of %s is %d s, not %d", milli, id, got, want)
			}
		}
	}
}
