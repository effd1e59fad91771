package parser_test

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rungbook/parser"
	"rungbook/training"
)

// goods are parts that are read as sets.
var goods = []string{"3x30s deep hang", "2x60s transitions", "5 pull-ups", "support 3x20s", "3x8 ring rows @8", "muscle-up 1/3", "high hold 20/18/15s", "3x5 dips +5kg", "3x10s mid hang left", "2x1:30 transitions rest 60s", "pull-ups 5/5/4", "30s support x3", "4 slow lowers of 5s", "3 sets of 20 seconds toe support", "ring dips: 3x3", "2x5 pull-ups with band"}

// strangers are exercises of other sports: names of no rung, near to none.
var strangers = []string{
	"squats", "lunges", "burpees", "planks", "skips", "crunches", "battle ropes", "box jumps", "farmer walks", "zottman curls", "cossacks", "wallballs",
}

// TestNothingDropped holds that a part of another exercise leaves the sets beside it
// as they are and is named, wherever it stands: as not counted where the words are
// known, else in a question about them.
func TestNothingDropped(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := rapid.SliceOfN(rapid.SampledFrom(goods), 1, 4).Draw(t, "good parts")
		stranger := rapid.SampledFrom(strangers).Draw(t, "stranger")
		size := rapid.SampledFrom([]string{"3x10", "3x20s", "2 sets of 12", "4 x 8 reps", "2x1min"}).Draw(t, "size")
		at := rapid.IntRange(0, len(parts)).Draw(t, "place")
		joined := rapid.SampledFrom([]string{", ", "; ", "\n", ". ", " + ", " then "}).Draw(t, "separator")
		alone := read(strings.Join(parts, joined))
		parts = append(parts[:at:at], append([]string{size + " " + stranger}, parts[at:]...)...)
		text := strings.Join(parts, joined)
		got := read(text)
		if got.Verdict == parser.Unsure {
			p := got.Problems[0]
			if at := []rune(text)[p.From:p.To]; string(at) != stranger || !strings.Contains(p.Say, "“"+stranger+"”") {
				t.Fatalf("%q: the problem is with %q: %s", text, string(at), p.Say)
			}
			return
		}
		if !slices.Equal(got.Sets(), alone.Sets()) || !slices.Equal(got.NotCounted, []string{size + " " + stranger}) {
			t.Fatalf("%q is %s: %s", text, got.Verdict, shown(got))
		}
	})
}

// separators join parts of a message.
var separators = []string{", ", "; ", "\n", ". ", " + ", " then ", " and ", " & ", " / ", "\n- "}

// TestParts holds that good parts are read alike alone and together, whatever
// joins them: every two of them, with a third. It draws nothing, so that it
// fails for a change of the reader alone; FuzzParts draws.
func TestParts(t *testing.T) {
	for s, separator := range separators {
		for i, first := range goods {
			for j, second := range goods {
				third := goods[(5*i+3*j+s)%len(goods)]
				readsAlike(t, []string{first, second, third}, separator)
			}
		}
	}
}

// FuzzParts holds the same of up to six parts that are drawn from its input.
func FuzzParts(f *testing.F) {
	f.Fuzz(rapid.MakeFuzz(func(t *rapid.T) {
		parts := rapid.SliceOfN(rapid.SampledFrom(goods), 1, 6).Draw(t, "parts")
		readsAlike(t, parts, rapid.SampledFrom(separators).Draw(t, "separator"))
	}))
}

// readsAlike holds that parts give as many sets joined as alone, in order.
func readsAlike(t interface{ Fatalf(string, ...any) }, parts []string, separator string) {
	var alone []training.Set
	for _, part := range parts {
		alone = append(alone, read(part).Sets()...)
	}
	text := strings.Join(parts, separator)
	if got := read(text); !slices.Equal(got.Sets(), alone) {
		t.Fatalf("%q is read as %s", text, shown(got))
	}
}

// TestCase holds that case, blanks and look-alike signs change nothing.
func TestCase(t *testing.T) {
	dress := []func(string) string{
		strings.ToUpper,
		func(s string) string { return strings.ReplaceAll(s, " ", "\u00a0") },
		func(s string) string { return strings.ReplaceAll(s, " ", "  ") },
		func(s string) string { return strings.ReplaceAll(s, "x", "×") },
		func(s string) string { return strings.ReplaceAll(s, "x", " x ") },
		func(s string) string { return "\u200e" + s + "\u200b" },
		func(s string) string { return "**" + s + "**" },
		func(s string) string { return s + " 💪" },
		func(s string) string { return "<@!123456789> " + s },
		func(s string) string { return s + "!" },
		func(s string) string { return strings.ReplaceAll(s, "-", "‑") },
	}
	for _, text := range goods {
		want := shown(read(text))
		for i, d := range dress {
			if strings.Contains(text, "@8") && i == 4 {
				continue
			}
			if got := shown(read(d(text))); got != want {
				t.Errorf("%q is read as %s, not %s", d(text), got, want)
			}
		}
	}
}

// TestGuesses holds that what was assumed is told.
func TestGuesses(t *testing.T) {
	for text, want := range map[string]parser.Guess{
		"support 3x20":            {Kind: "unit", Took: "seconds"},
		"transitions 3x8":         {Kind: "unit", Took: "reps"},
		"monday: 3x30s deep hang": {Kind: "day", Took: "Monday 23 Nov"},
		"3x5 pull-ups 2 RIR":      {Kind: "effort", Took: "effort from the reps in reserve"},
		"3x30s deap hang":         {Kind: "name", Took: "deep hang"},
		"2 muscle-ups":            {Kind: "tries", Took: "every one came off"},
	} {
		got := read(text)
		found := false
		for _, g := range got.Guesses {
			found = found || g == want
		}
		if !found {
			t.Errorf("%q is read without the guess %+v: %s", text, want, shown(got))
		}
	}
	if got := read("3x30s deep hang"); len(got.Guesses) > 0 {
		t.Errorf("nothing is guessed of 3x30s deep hang, yet %+v is told", got.Guesses)
	}
}

// TestFuzzyNames holds the slips a name may have: none up to four letters, one
// up to seven, two beyond.
func TestFuzzyNames(t *testing.T) {
	for text, log := range map[string]bool{
		"3x8 dips": true, "3x8 dipss": true, "3x8 dpis": false, "3x8 rwos": false,
		"3x30s deep hnag": true, "3x30s deeep hangg": true, "3x30s dxxp hxng": false,
		"3x60s transitoins": true, "3x60s trnsitons": true, "3x60s trxxsxtions": false,
		"3x20s suport": true, "3x20s supportt": true, "suport 3x20s": true, "3x20s suppor": true,
		"the dep hang was nice": false, "transtions are hard": false,
	} {
		if got := read(text); (got.Verdict == parser.Log) != log {
			t.Errorf("%q is %s: %s", text, got.Verdict, shown(got))
		}
	}
}
