package bot

import (
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"rungbook/parser"
	"rungbook/training"
	"rungbook/training/programme"
)

// drawSet draws a set as a parser may give it, extremes included.
func drawSet(t *rapid.T, plan *training.Programme) training.Set {
	ladder := rapid.SampledFrom(plan.Ladders).Draw(t, "ladder")
	set := training.Set{Rung: rapid.SampledFrom(ladder.Rungs).Draw(t, "rung").ID}
	if ladder.Tries {
		set.Tries = rapid.IntRange(1, 50).Draw(t, "tries")
		set.Done = training.Known(rapid.IntRange(0, set.Tries).Draw(t, "done"))
		return set
	}
	set.WorkS = rapid.SampledFrom([]int{0, 1, 30, 120, 3600}).Draw(t, "work")
	set.Reps = rapid.SampledFrom([]int{0, 1, 5, 500}).Draw(t, "reps")
	set.LoadHg = rapid.SampledFrom([]int{0, 0, 25, -125, 2000}).Draw(t, "load")
	set.Help = rapid.SampledFrom([]string{"", "", "band", "partner"}).Draw(t, "help")
	set.Side = rapid.SampledFrom([]training.Side{"", "", training.Left, training.Each}).Draw(t, "side")
	if rapid.Bool().Draw(t, "rest known") {
		set.RestS = training.Known(rapid.IntRange(0, 600).Draw(t, "rest"))
	}
	if rapid.Bool().Draw(t, "effort known") {
		set.Effort = training.Known(rapid.IntRange(0, 10).Draw(t, "effort"))
	}
	set.Failed = set.WorkS+set.Reps == 0 || rapid.Bool().Draw(t, "failed")
	return set
}

// drawDays draws logs on some of 40 days, as a record.
func drawDays(t *rapid.T, plan *training.Programme) training.Record {
	first := training.Date(2026, 10, 5)
	var record training.Record
	for day := first; day < first+40; day++ {
		if rapid.IntRange(0, 3).Draw(t, "rests") > 0 {
			continue
		}
		session := training.Session{Day: day}
		for range rapid.IntRange(1, 4).Draw(t, "sets") {
			session.Sets = append(session.Sets, drawSet(t, plan))
		}
		record.Sessions = append(record.Sessions, session)
	}
	return record
}

// TestAnswerKeepsItsLimits holds the answer to any log at 4 lines and 280
// characters, unless the sets alone are longer: they are never cut.
func TestAnswerKeepsItsLimits(t *testing.T) {
	plan := programme.Builtin()
	b := loadProgramme(plan)
	rapid.Check(t, func(t *rapid.T) {
		before := drawDays(t, plan)
		day := training.Date(2026, 10, 5) + training.Day(rapid.IntRange(0, 45).Draw(t, "day"))
		var sets []training.Set
		for range rapid.IntRange(1, 60).Draw(t, "sets") {
			sets = append(sets, drawSet(t, plan))
		}
		after := training.Record{Sessions: append([]training.Session{}, before.Sessions...)}
		after = withSession(after, training.Session{Day: day, Sets: sets})
		turn := &step{loadedProgramme: b, team: training.Team{Days: training.Weekdays(rapid.IntRange(1, 127).Draw(t, "team days"))}}
		today := day + training.Day(rapid.IntRange(0, 60).Draw(t, "later"))
		days := training.OnDay(day, sets...)
		facts := turn.logFacts(change{before: before, after: after}, days, today)
		notes := turn.loggedNotes(sets, remarks{guesses: []parser.Guess{{Kind: "unit", Took: "seconds"}, {Kind: "day", Took: "Monday 23 Nov"}}})
		head := strings.Join(heading("", facts.told, notes), "\n")
		for _, text := range []string{logWords(facts, notes, rapid.Bool().Draw(t, "clear"), turn.targetsAsked(&after, facts)), readBackWords(turn.readBack(days), notes)} {
			if !strings.HasPrefix(text, head) {
				t.Fatalf("the sets are cut:\n%s\nwant\n%s", text, head)
			}
			if text != head {
				limits(t, text, dayWords(day))
			}
		}
		parsed := parser.Result{Verdict: parser.Unsure, Days: []parser.DaySets{{Day: day, Sets: sets}}, Problems: []parser.Problem{{Say: strings.Repeat("What is this? ", 30)}}}
		limits(t, emptiedAnswer(days, &facts, b.unsureWords(parsed, answerRunes-100)), dayWords(day))
		limits(t, undoneWords(facts.told), dayWords(day))
		if asked := b.questionWords(parsed, facts.told, answerRunes); asked != "" {
			limits(t, asked, dayWords(day))
			if !strings.Contains(asked, unstoredWords) || !strings.Contains(asked, strings.Join(heading("", facts.told, nil), "")) {
				t.Fatalf("a question without its sets, or that nothing is stored:\n%s", asked)
			}
		}
	})
}

// TestReadBackOfTwelveGroups is within the limits, and names every set.
func TestReadBackOfTwelveGroups(t *testing.T) {
	plan := programme.Builtin()
	var sets []training.Set
	for _, ladder := range plan.Ladders {
		for _, rung := range ladder.Rungs {
			if len(sets) < 36 && !ladder.Tries {
				sets = append(sets, slices.Repeat([]training.Set{{Rung: rung.ID, WorkS: 30}}, 3)...)
			}
		}
	}
	b := loadProgramme(plan)
	read := b.readBack(training.OnDay(training.Date(2026, 11, 23), sets...))
	if len(read.Logged) != 12 {
		t.Fatalf("%d groups", len(read.Logged))
	}
	text := readBackWords(read, nil)
	if n := utf8.RuneCountInString(text); n > answerRunes {
		t.Errorf("%d characters: %s", n, text)
	}
	for _, group := range read.Logged {
		if !strings.Contains(text, "3×30 s "+group.Rung) {
			t.Errorf("no %s in %s", group.Rung, text)
		}
	}
}

// TestUnsureAlwaysSaysThatNothingIsStored holds the help without a reading.
func TestUnsureAlwaysSaysThatNothingIsStored(t *testing.T) {
	b := loadProgramme(programme.Builtin())
	for _, parsed := range []parser.Result{
		{},
		{Care: training.AskCare, Problems: []parser.Problem{{Say: "“spicy” says nothing to me."}}},
		{Problems: []parser.Problem{{Say: "Short."}}},
		{Problems: []parser.Problem{{Say: strings.Repeat("Long. ", 100), Suggest: []string{"3x30s deep hang"}}}},
		{Problems: []parser.Problem{{Say: "Short.", Suggest: []string{strings.Repeat("3x30s deep hang, ", 12), strings.Repeat("3x20s support, ", 12), "3x30s"}}}},
	} {
		text := b.unsureWords(parsed, answerRunes)
		if !strings.Contains(text, "Nothing is stored yet.") || utf8.RuneCountInString(text) > answerRunes || strings.Contains(text, "spicy") {
			t.Errorf("%q", text)
		}
	}
}

// withSession puts the session in its place by day.
func withSession(record training.Record, session training.Session) training.Record {
	var sessions []training.Session
	placed := false
	for _, other := range record.Sessions {
		if !placed && other.Day >= session.Day {
			if other.Day == session.Day {
				session.Sets = append(append([]training.Set{}, other.Sets...), session.Sets...)
			}
			sessions, placed = append(sessions, session), true
		}
		if other.Day != session.Day {
			sessions = append(sessions, other)
		}
	}
	if !placed {
		sessions = append(sessions, session)
	}
	record.Sessions = sessions
	return record
}

func limits(t *rapid.T, text, day string) {
	t.Helper()
	if n := utf8.RuneCountInString(text); n > answerRunes {
		t.Fatalf("%d characters:\n%s", n, text)
	}
	if n := strings.Count(text, "\n") + 1; n > answerLines {
		t.Fatalf("%d lines:\n%s", n, text)
	}
	if !strings.Contains(text, day) {
		t.Fatalf("the day %s is not said:\n%s", day, text)
	}
	if strings.Contains(text, "  ") || strings.Contains(text, "()") {
		t.Fatalf("badly put:\n%s", text)
	}
}

// TestWords reads back what people may have done.
func TestWords(t *testing.T) {
	plan := programme.Builtin()
	b := loadProgramme(plan)
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
		if got := setsWords(b.together(c.sets), c.most); got != c.want {
			t.Errorf("%v reads %q, want %q", c.sets, got, c.want)
		}
	}
}

// TestDigestKeepsItsLimits gives everybody every reason at once.
func TestDigestKeepsItsLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var weeks []memberWeek
		names := []string{"Tomé", "Priya", "Wen", "Sanna", "Bako", "Mirela", "Noor", "Rui", "Ilda", "Ana Luísa", "Jean-Marc", "Oyelaran"}
		rungs := []string{"pull-ups", "deep hang", "support", "transitions", "ring dips"}
		for _, name := range names {
			some := func(label string) []string { return rungs[:rapid.IntRange(0, len(rungs)).Draw(t, label)] }
			weeks = append(weeks, memberWeek{
				WeekFact: training.WeekFact{
					Member: name, Sessions: rapid.IntRange(0, 7).Draw(t, "sessions"), Planned: 2, Violations: rapid.IntRange(0, 5).Draw(t, "violations"),
					Paused: rapid.Bool().Draw(t, "paused"), Away: rapid.Bool().Draw(t, "away"), Absent: rapid.Bool().Draw(t, "absent"),
					Ready: rapid.Bool().Draw(t, "ready"), Moved: some("moved"), StuckOn: some("stuck"), TensionS: 1234, PullDays: rapid.IntRange(0, 7).Draw(t, "pulls"),
				},
				lapsing: some("lapsing"), falling: some("falling"), change: "+12 %",
			})
		}
		notes := []string{"Not nudged, as it was too late by then: Tomé on 5 Oct, Priya on 5 Oct.", "Not sent in time: the digest of 4 Oct."}
		text := digestWords("Tidewater Rings", training.Date(2026, 10, 18), weeks, notes)
		if n := strings.Count(text, "\n") + 1; n > digestLines {
			t.Fatalf("%d lines:\n%s", n, text)
		}
		if n := len(strings.Fields(text)); n > digestWordsMost {
			t.Fatalf("%d words:\n%s", n, text)
		}
		for _, name := range names {
			if !strings.Contains(text, "\n"+name+": ") {
				t.Fatalf("no row of %s:\n%s", name, text)
			}
		}
	})
}
