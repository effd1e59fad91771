package words

import (
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"rungbook/training"
	"rungbook/training/programme"
)

// TestUnsureAlwaysSaysThatNothingIsStored holds the help without a reading.
func TestUnsureAlwaysSaysThatNothingIsStored(t *testing.T) {
	for _, doubt := range []Doubt{
		{},
		{Say: "Short."},
		{Say: strings.Repeat("Long. ", 100), Suggest: []string{"3x30s deep hang"}},
		{Say: "Short.", Suggest: []string{strings.Repeat("3x30s deep hang, ", 12), strings.Repeat("3x20s support, ", 12), "3x30s"}},
	} {
		text := Unsure(doubt, "3x30s deep hang", AnswerRunes)
		if !strings.Contains(text, "Nothing is stored yet.") || utf8.RuneCountInString(text) > AnswerRunes {
			t.Errorf("%q", text)
		}
	}
}

// TestWords reads back what people may have done.
func TestWords(t *testing.T) {
	plan := programme.Builtin()
	hang := training.Set{Rung: "deep-hang", WorkS: 30}
	short := training.Set{Rung: "deep-hang", WorkS: 22}
	loaded := training.Set{Rung: "pull-ups", Reps: 5, LoadHg: 25, Effort: training.Known(8)}
	for _, c := range []struct {
		sets []training.Set
		most int
		want string
	}{
		{[]training.Set{hang, hang, hang}, 9, "3×30 s deep hang"},
		{[]training.Set{hang, hang, short}, 9, "deep hang 2×30 s + 22 s"},
		{[]training.Set{loaded}, 9, "5 pull-ups (+2.5 kg, effort 8)"},
		{[]training.Set{{Rung: "support", WorkS: 180, Help: "partner", RestS: training.Known(60)}}, 9, "3 min support (with partner, rest 60 s)"},
		{[]training.Set{{Rung: "ring-rows", Reps: 6, Side: training.Each}}, 9, "6 ring rows (each side)"},
		{[]training.Set{{Rung: "muscle-up", Tries: 3, Done: training.Known(1)}}, 9, "muscle-up 1 of 3"},
		{[]training.Set{{Rung: "muscle-up", Tries: 1}}, 9, "muscle-up 1 try"},
		{[]training.Set{hang, {Rung: "deep-hang", WorkS: 12, Failed: true}}, 9, "deep hang 30 s + 12 s cut short"},
		{[]training.Set{{Rung: "gone", Reps: 3}}, 9, "3 gone"},
		{[]training.Set{hang, loaded, loaded, hang}, 1, "30 s deep hang, 3 more sets"},
		{[]training.Set{{Rung: "pull-ups", Reps: 8, LoadHg: -100}}, 9, "8 pull-ups (−10 kg)"},
	} {
		if got := setsWords(grouped(plan, c.sets), c.most); got != c.want {
			t.Errorf("%v reads %q, want %q", c.sets, got, c.want)
		}
	}
}

// grouped are the sets with their rungs' names, adjacent equal ones together.
func grouped(plan *training.Programme, sets []training.Set) []LoggedSet {
	var groups []LoggedSet
	for i, set := range sets {
		if i > 0 && set == sets[i-1] {
			groups[len(groups)-1].Count++
		} else {
			groups = append(groups, LoggedSet{NamedSet: plan.Named(set), Count: 1})
		}
	}
	return groups
}

// TestDigestKeepsItsLimits gives everybody every reason at once.
func TestDigestKeepsItsLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var weeks []MemberWeek
		names := []string{"Tomé", "Priya", "Wen", "Sanna", "Bako", "Mirela", "Noor", "Rui", "Ilda", "Ana Luísa", "Jean-Marc", "Oyelaran"}
		rungs := []string{"pull-ups", "deep hang", "support", "transitions", "ring dips"}
		for _, name := range names {
			some := func(label string) []string { return rungs[:rapid.IntRange(0, len(rungs)).Draw(t, label)] }
			weeks = append(weeks, MemberWeek{
				WeekFact: training.WeekFact{
					Member: name, Sessions: rapid.IntRange(0, 7).Draw(t, "sessions"), Planned: 2, Violations: rapid.IntRange(0, 5).Draw(t, "violations"),
					Paused: rapid.Bool().Draw(t, "paused"), Away: rapid.Bool().Draw(t, "away"), Absent: rapid.Bool().Draw(t, "absent"),
					Ready: rapid.Bool().Draw(t, "ready"), Moved: some("moved"), StuckOn: some("stuck"), TensionS: 1234, PullDays: rapid.IntRange(0, 7).Draw(t, "pulls"),
				},
				Lapsing: some("lapsing"), Falling: some("falling"), Change: training.Known(12),
			})
		}
		notes := []string{"Not nudged, as it was too late by then: Tomé on 5 Oct, Priya on 5 Oct.", "Not sent in time: the digest of 4 Oct."}
		text := Digest("Tidewater Rings", training.Date(2026, 10, 18), weeks, notes)
		if n := strings.Count(text, "\n") + 1; n > digestLines {
			t.Fatalf("%d lines:\n%s", n, text)
		}
		if n := len(strings.Fields(text)); n > digestWords {
			t.Fatalf("%d words:\n%s", n, text)
		}
		for _, name := range names {
			if !strings.Contains(text, "\n"+name+": ") {
				t.Fatalf("no row of %s:\n%s", name, text)
			}
		}
	})
}
