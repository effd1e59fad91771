package words

import (
	"fmt"
	"slices"
	"strings"

	"rungbook/training"
)

// heading is the beginning of a read-back: a line for each day, with every set.
func heading(whose string, days []DayFacts, notes []string) []string {
	var lines []string
	for _, day := range days {
		sets := setsWords(day.Logged, len(day.Logged))
		if sets == "" {
			sets = "nothing logged"
		}
		lines = append(lines, dayWords(day.Day)+": "+sets)
	}
	if whose != "" {
		lines[0] = "For " + whose + ": " + lines[0]
	}
	if len(notes) > 0 {
		lines[len(lines)-1] += " (" + strings.Join(notes, "; ") + ")"
	}
	for i := range lines {
		lines[i] += "."
	}
	return lines
}

// ReadBack answers a log of a paused day.
func ReadBack(facts ReadBackFacts, notes []string) string {
	return strings.Join(heading(facts.Whose, facts.Told, notes), "\n")
}

// Log answers a log: what was understood, which gate moved, what the rest
// rule says, when the next day is. pulled adds that elbows rest too.
// targets is what the next team day asks, if that may be said in public. The
// longer the read-back, the less of the rest is said.
func Log(facts LogFacts, notes []string, pulled bool, targets []training.Target) string {
	rest := restWords(facts, true)
	if rest == "" && pulled {
		rest = "This leaves the day a clear one; on clear days elbows rest too."
	}
	full, middle, brief, short := gateLine(facts, inFull), gateLine(facts, inShort), gateLine(facts, inBrief), restWords(facts, false)
	next := nextWords(facts.NextAllowed, facts.NextTeamDay, facts.Today)
	asks := strings.TrimSuffix(next, ".") + asksWords(targets) + "."
	return fitBelow(heading(facts.Whose, facts.Told, notes),
		[]string{full, rest, asks}, []string{middle, rest, asks},
		[]string{full, rest, next}, []string{middle, rest, next}, []string{middle, short, next}, []string{brief, short, next},
		[]string{clip(brief, 85), clip(short, 55), clip(next, 55)},
		[]string{short, next}, []string{clip(short, 55), clip(next, 55)}, []string{next}, []string{clip(next, 55)},
	)
}

// asksWords is what a session asks, in a line: ": 3×19 s high hold, …".
func asksWords(targets []training.Target) string {
	var doses []string
	for _, target := range targets {
		doses = append(doses, doseWords(target))
	}
	if len(doses) == 0 {
		return ""
	}
	return ": " + strings.Join(doses, ", ")
}

// restWords says where the rest rule was not kept, by days, and where it is
// kept again.
func restWords(facts LogFacts, long bool) string {
	var own, others, again []string
	for _, v := range facts.Violations {
		if told := slices.ContainsFunc(facts.Told, func(day DayFacts) bool { return day.Day == v.Day }); told && len(facts.Told) > 1 {
			own = append(own, dayWords(v.Day)+": "+violationWords(v))
		} else if v.Day == facts.Day {
			own = append(own, violationWords(v))
		} else if long {
			others = append(others, dayWords(v.Day)+": "+violationWords(v))
		} else if day := dayWords(v.Day); !hasFold(others, day) {
			others = append(others, day)
		}
	}
	for _, v := range facts.Resolved {
		if day := dayWords(v.Day); !hasFold(again, day) {
			again = append(again, day)
		}
	}
	var parts []string
	if len(own) > 0 {
		parts = append(parts, "Rest rule: "+strings.Join(own, "; ")+".")
	}
	if len(others) > 0 {
		parts = append(parts, "Rest rule now also on "+andList(others)+".")
	}
	if len(again) > 0 {
		parts = append(parts, "Within the rest rule again: "+andList(again)+".")
	}
	return strings.Join(parts, " ")
}

// violationWords is one violation: 1 clear day since Sat 3 Oct (2 due).
func violationWords(v training.Violation) string {
	if v.Rule == training.RuleClearDays {
		return fmt.Sprintf("%s since %s (%d due)", count(v.Had, "clear day"), dayWords(v.Since), v.Needs)
	}
	return fmt.Sprintf("%s in 7 days (at most %d)", count(v.Had, "session"), v.Most)
}

// nextWords says when somebody may train again, seen from today.
func nextWords(allowed, teamDay, today training.Day) string {
	free := "Free from " + dayWords(allowed)
	if allowed == today {
		free = "Free today"
	}
	switch {
	case allowed == 0:
		return ""
	case teamDay == 0:
		return free + "."
	case teamDay == today:
		return "Free today, a team day."
	case allowed == teamDay:
		return "Next team day " + dayWords(teamDay) + "."
	}
	return free + "; next team day " + dayWords(teamDay) + "."
}
