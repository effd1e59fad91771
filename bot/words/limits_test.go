package words

import (
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"rungbook/training"
)

var drawnDay = rapid.Custom(func(t *rapid.T) training.Day {
	return training.Date(2026, 10, 1) + training.Day(rapid.IntRange(0, 90).Draw(t, "day"))
})

var drawnName = rapid.SampledFrom([]string{"support", "deep hang", "pull-ups", "toe transitions", "strict ring muscle-up from a dead hang"})

var drawnSets = rapid.Custom(func(t *rapid.T) LoggedSet {
	return LoggedSet{Count: rapid.IntRange(1, 9).Draw(t, "count"), NamedSet: training.NamedSet{
		Rung: drawnName.Draw(t, "rung"), WorkS: rapid.SampledFrom([]int{0, 30, 120, 3600}).Draw(t, "work"),
		Reps: rapid.IntRange(1, 500).Draw(t, "reps"), Failed: rapid.Bool().Draw(t, "failed"),
	}}
})

var drawnLog = rapid.Custom(func(t *rapid.T) DayFacts {
	return DayFacts{Day: drawnDay.Draw(t, "day"), Logged: rapid.SliceOfN(drawnSets, 1, 4).Draw(t, "logged")}
})

var drawnGate = rapid.Custom(func(t *rapid.T) training.GateFact {
	gate := training.GateFact{
		Gate: drawnName.Draw(t, "gate"), Needed: rapid.IntRange(1, 5).Draw(t, "needed"), Work: rapid.IntRange(1, 300).Draw(t, "work"),
		Status: rapid.SampledFrom([]training.GateStatus{
			training.Open, training.Witnessed, training.Lapsed, training.Shut}).Draw(t, "status"),
		Unit: rapid.SampledFrom([]training.Unit{training.Timed, training.Counted}).Draw(t, "unit"), Blocking: rapid.Bool().Draw(t, "blocking"),
		RestNotStated: rapid.Bool().Draw(t, "rest not stated"), ShownOn: drawnDay.Draw(t, "shown"), GoodUntil: drawnDay.Draw(t, "until"),
	}
	gate.Best = rapid.SliceOfN(rapid.IntRange(1, 300), 0, gate.Needed).Draw(t, "best")
	gate.Shown, gate.BestOn = len(gate.Best), drawnDay.Draw(t, "best on")
	return gate
})

var drawnViolation = rapid.Custom(func(t *rapid.T) training.Violation {
	return training.Violation{
		Day: drawnDay.Draw(t, "day"), Rule: rapid.SampledFrom([]string{training.RuleClearDays, training.RuleWeek}).Draw(t, "rule"),
		Had: rapid.IntRange(0, 7).Draw(t, "had"), Needs: 2, Most: 2, Since: drawnDay.Draw(t, "since"),
	}
})

var drawnTarget = rapid.Custom(func(t *rapid.T) training.Target {
	return training.Target{Rung: drawnName.Draw(t, "rung"), Sets: rapid.IntRange(1, 9).Draw(t, "sets"), Reps: rapid.IntRange(1, 99).Draw(t, "reps")}
})

// TestLogOfAnyFacts holds the answer to a log at the limits of an answer whatever
// its facts are, unless what was logged is longer: that is never cut.
func TestLogOfAnyFacts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		told := rapid.SliceOfN(drawnLog, 1, 4).Draw(t, "told")
		facts := LogFacts{
			Day: told[0].Day, Logged: told[0].Logged, Told: told, Today: drawnDay.Draw(t, "today"),
			Gates:       rapid.SliceOfN(drawnGate, 0, 6).Draw(t, "gates"),
			Violations:  rapid.SliceOfN(drawnViolation, 0, 6).Draw(t, "violations"),
			Resolved:    rapid.SliceOfN(drawnViolation, 0, 6).Draw(t, "resolved"),
			NextAllowed: drawnDay.Draw(t, "next"), NextTeamDay: drawnDay.Draw(t, "next team day"),
			Whose: rapid.SampledFrom([]string{"", "Tomé"}).Draw(t, "whose"),
		}
		notes := rapid.SliceOfN(rapid.Just("read as seconds"), 0, 2).Draw(t, "notes")
		read := ReadBack(ReadBackFacts{Told: told, Whose: facts.Whose}, notes)
		text := Log(facts, notes, rapid.Bool().Draw(t, "clear day"), rapid.SliceOfN(drawnTarget, 0, 6).Draw(t, "targets"))
		if !strings.HasPrefix(text, read) {
			t.Fatalf("what was logged is cut:\n%s\nwant\n%s", text, read)
		}
		if text != read {
			keepsLimits(t, text)
		}
		var days []training.DaySets
		for _, day := range told {
			days = append(days, training.DaySets{Day: day.Day})
		}
		unsure := Unsure(Doubt{Say: strings.Repeat("What is this? ", 30)}, "3x30s deep hang", AnswerRunes-utf8.RuneCountInString(TakenOut(days))-1)
		keepsLimits(t, Emptied(days, &facts, unsure))
		keepsLimits(t, Undone(told))
		if asked := Question(told, Remarks{}, Doubt{}, AnswerRunes); asked != "" && !strings.HasSuffix(asked, unstored) {
			t.Fatalf("it is not said that nothing is stored:\n%s", asked)
		}
	})
}

func keepsLimits(t *rapid.T, text string) {
	t.Helper()
	if utf8.RuneCountInString(text) > AnswerRunes || strings.Count(text, "\n") >= AnswerLines {
		t.Fatalf("%d characters, %d lines:\n%s", utf8.RuneCountInString(text), strings.Count(text, "\n")+1, text)
	}
	if strings.Contains(text, "  ") || strings.Contains(text, "()") {
		t.Fatalf("badly put:\n%s", text)
	}
}
