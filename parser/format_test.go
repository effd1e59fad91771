package parser_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"rungbook/parser"
	"rungbook/training"
	"rungbook/training/programme"
)

// drawSet draws a set that somebody could have typed: within the parser's
// limits, its help one that its rung leaves to be said.
func drawSet(t *rapid.T, p *training.Programme) training.Set {
	ladder := rapid.SampledFrom(p.Ladders).Draw(t, "ladder")
	rung := rapid.SampledFrom(ladder.Rungs).Draw(t, "rung")
	set := training.Set{Rung: rung.ID}
	switch kind := rapid.IntRange(0, 9).Draw(t, "kind"); {
	case rung.Unit == training.Tried:
		set.Tries = rapid.IntRange(1, 50).Draw(t, "tries")
		if kind > 2 {
			set.Done = training.Known(rapid.IntRange(0, set.Tries).Draw(t, "done"))
		}
	case kind == 0:
		set.Reps, set.WorkS = rapid.IntRange(1, 20).Draw(t, "reps"), rapid.IntRange(1, 60).Draw(t, "seconds of each")
	case (rung.Unit == training.Timed) == (kind > 1):
		set.WorkS = rapid.IntRange(1, 300).Draw(t, "seconds")
	default:
		set.Reps = rapid.IntRange(1, 500).Draw(t, "reps")
	}
	if rung.Unit != training.Tried && rapid.IntRange(0, 9).Draw(t, "fail") == 0 {
		set.Failed = true
		if rapid.Bool().Draw(t, "at once") {
			set.Reps, set.WorkS = 0, 0
		}
	}
	particulars(t, &set)
	return set
}

func particulars(t *rapid.T, set *training.Set) {
	maybe := func(label string) bool { return rapid.IntRange(0, 3).Draw(t, label) == 0 }
	if maybe("load") {
		set.LoadHg = rapid.IntRange(-2000, 2000).Draw(t, "hectograms")
	}
	if maybe("help") {
		set.Help = rapid.SampledFrom([]string{"", "partner"}).Draw(t, "by")
	}
	if maybe("side") && set.Tries == 0 {
		set.Side = rapid.SampledFrom([]training.Side{training.Left, training.Right, training.Each}).Draw(t, "which")
	}
	if maybe("rest") {
		set.RestS = training.Known(rapid.IntRange(0, 600).Draw(t, "rest seconds"))
	}
	if maybe("effort") {
		set.Effort = training.Known(rapid.IntRange(0, 10).Draw(t, "of ten"))
	}
}

// TestRoundTrip holds that what Format writes is read as the very same sets, in
// both programmes.
func TestRoundTrip(t *testing.T) {
	for _, id := range programme.IDs() {
		p, ok := programme.Named(id)
		if !ok {
			t.Fatal(id)
		}
		reader := parser.New(p)
		t.Run(id, rapid.MakeCheck(func(t *rapid.T) {
			var sets []training.Set
			for range rapid.IntRange(1, 5).Draw(t, "clauses") {
				set := drawSet(t, p)
				for range rapid.IntRange(1, 4).Draw(t, "alike") {
					sets = append(sets, set)
				}
			}
			text := reader.Format(sets)
			got := reader.Parse(text, parser.Context{Today: today})
			if got.Verdict != parser.Log || !slices.Equal(got.Sets(), sets) {
				t.Fatalf("%q is read as %s %+v, not %+v", text, got.Verdict, got.Sets(), sets)
			}
			if again := reader.Format(got.Sets()); again != text {
				t.Fatalf("%q is written again as %q", text, again)
			}
		}))
	}
}

// TestFormat holds the canonical short form to its words.
func TestFormat(t *testing.T) {
	for text, want := range map[string]string{
		"3 sets of 30 seconds deep hang":     "3x30s deep hang",
		"deep hang 30/28/25s":                "30s deep hang, 28s deep hang, 25s deep hang",
		"muscle-up: 1 of 3":                  "muscle-up 1/3",
		"pull-ups 5, 5, 4 with 5 kg":         "2x5 pull-ups +5kg, 4 pull-ups +5kg",
		"3x20s support toes down":            "3x20s toe support",
		"2x1min transitions rest 60s RPE 8":  "2x60s transitions rest 60s @8",
		"3x8 ring rows, last set failed":     "2x8 ring rows, 1x8 fail ring rows",
		"deep hang 3x10s left":               "3x10s deep hang left",
		"5 pull-ups with 10kg counterweight": "5 pull-ups -10kg",
	} {
		if got := reader.Format(read(text).Sets()); got != want {
			t.Errorf("%q is written as %q, not %q", text, got, want)
		}
	}
}

func FuzzFormat(f *testing.F) {
	for _, text := range texts(f) {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		first := read(text)
		written := reader.Format(first.Sets())
		if written == "" || len([]rune(written)) > 4000 {
			return
		}
		again := read(written)
		if again.Verdict != parser.Log || !slices.Equal(again.Sets(), first.Sets()) {
			t.Fatalf("%q is written as %q, which is read as %s: %s", text, written, again.Verdict, shown(again))
		}
	})
}
