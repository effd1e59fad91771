package bot

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"rungbook/bot/words"
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
		notes := turn.loggedNotes(sets, remarksOf(parser.Result{Guesses: []parser.Guess{{Kind: "unit", Took: "seconds"}, {Kind: "day", Took: "Monday 23 Nov"}}}, nil))
		head := words.ReadBack(turn.readBack(days), notes)
		for _, text := range []string{words.Log(facts, notes, rapid.Bool().Draw(t, "clear"), turn.targetsAsked(&after, facts)), head} {
			if !strings.HasPrefix(text, head) {
				t.Fatalf("the sets are cut:\n%s\nwant\n%s", text, head)
			}
			if text != head {
				limits(t, text, day)
			}
		}
		parsed := parser.Result{Verdict: parser.Unsure, Days: []parser.DaySets{{Day: day, Sets: sets}}, Problems: []parser.Problem{{Say: strings.Repeat("What is this? ", 30)}}}
		limits(t, words.Emptied(days, &facts, b.unsure(parsed, words.AnswerRunes-100)), day)
		limits(t, words.Undone(facts.Told), day)
		if asked := b.question(parsed, facts.Told, words.AnswerRunes); asked != "" {
			limits(t, asked, day)
			if !strings.Contains(asked, "Nothing is stored yet.") || !strings.Contains(asked, words.ReadBack(turn.readBack(days), nil)) {
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
	text := words.ReadBack(read, nil)
	if n := utf8.RuneCountInString(text); n > words.AnswerRunes {
		t.Errorf("%d characters: %s", n, text)
	}
	for _, group := range read.Logged {
		if !strings.Contains(text, "3×30 s "+group.Rung) {
			t.Errorf("no %s in %s", group.Rung, text)
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

func limits(t *rapid.T, text string, day training.Day) {
	t.Helper()
	if n := utf8.RuneCountInString(text); n > words.AnswerRunes {
		t.Fatalf("%d characters:\n%s", n, text)
	}
	if n := strings.Count(text, "\n") + 1; n > words.AnswerLines {
		t.Fatalf("%d lines:\n%s", n, text)
	}
	_, month, date := day.Civil()
	if name := fmt.Sprintf("%d %s", date, month.String()[:3]); !strings.Contains(text, name) {
		t.Fatalf("%s is not said:\n%s", name, text)
	}
	if strings.Contains(text, "  ") || strings.Contains(text, "()") {
		t.Fatalf("badly put:\n%s", text)
	}
}

// TestDoubtOfABodyIsNotRepeated holds that of a message that may speak of a body
// no word is repeated.
func TestDoubtOfABodyIsNotRepeated(t *testing.T) {
	b := loadProgramme(programme.Builtin())
	parsed := parser.Result{Care: training.AskCare, Problems: []parser.Problem{{Say: "“spicy” says nothing to me."}},
		Days: []parser.DaySets{{Day: 1, Sets: []training.Set{{Rung: "deep-hang", WorkS: 30}}}}, Unread: []string{"spicy"}}
	for _, text := range []string{b.unsure(parsed, words.AnswerRunes), b.question(parsed, b.dayLines(merged(parsed.Days)), words.AnswerRunes)} {
		if text == "" || strings.Contains(text, "spicy") {
			t.Errorf("%q", text)
		}
	}
}
