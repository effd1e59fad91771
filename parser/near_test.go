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
