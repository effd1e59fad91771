package words

import (
	"fmt"
	"strings"

	"rungbook/training"
)

// NothingToUndo answers /undo of somebody without a log.
const NothingToUndo = "There is no log of yours to take back. /history shows what you logged."

// Undone answers /undo.
func Undone(days []DayFacts) string {
	return clip("Taken back from "+dayList(days, 3)+".", AnswerRunes)
}

// dayList tells days with at most so many runs of sets each.
func dayList(days []DayFacts, most int) string {
	var parts []string
	for _, day := range days {
		parts = append(parts, dayWords(day.Day)+": "+setsWords(day.Logged, most))
	}
	return strings.Join(parts, "; ")
}

// daysWords names the days of a log.
func daysWords(days []training.DaySets) string {
	var names []string
	for _, day := range days {
		names = append(names, dayWords(day.Day))
	}
	return andList(names)
}

// TakenOut says that an edit took the sets out.
func TakenOut(days []training.DaySets) string {
	return daysWords(days) + ": no sets in this message now, its earlier ones are taken out."
}

// Emptied is TakenOut with what answers the new text, and with what else has
// changed; facts is nil on a paused day.
func Emptied(days []training.DaySets, facts *LogFacts, answer string) string {
	first := strings.TrimSpace(TakenOut(days) + " " + answer)
	if facts == nil {
		return fit([]string{first})
	}
	return fit(
		[]string{first, gateLine(*facts, inShort), restWords(*facts, true), nextWords(facts.NextAllowed, facts.NextTeamDay, facts.Today)},
		[]string{first, restWords(*facts, false), nextWords(facts.NextAllowed, facts.NextTeamDay, facts.Today)},
		[]string{first},
	)
}

// TooOld answers a log all of whose days lie too far back.
func TooOld(days []training.Day) string {
	var named []string
	for _, day := range days {
		named = append(named, dayWords(day))
	}
	are, it := "is", "it"
	if len(days) > 1 {
		are, it = "are", "them"
	}
	return fmt.Sprintf("%s %s more than %d days back, so nothing is logged. Your coach can log %s for you, or say the day again.",
		andList(named), are, training.LogDays, it)
}

// Corrected tells a member that their message changes nothing of a day.
func Corrected(day training.Day) string {
	return fmt.Sprintf("Your coach has corrected %s, so this changes nothing of that day. If something is wrong, tell them.",
		dayWords(day))
}

// Foreign tells a member that what a message gave by the names of another
// programme stays.
func Foreign(day training.Day) string {
	return fmt.Sprintf("What this message gave for %s was logged by another programme and stays as it was. "+
		"/undo takes it back if it is your last; your coach can correct the day.", dayWords(day))
}

// UndoneForYou tells a member what a coach took back.
func UndoneForYou(coach string, days []training.DaySets) string {
	return fmt.Sprintf("%s took back what they logged for you on %s.", coach, daysWords(days))
}

// LoggedForYou tells a member what a coach logged for them.
func LoggedForYou(coach string, days []DayFacts) string {
	return clip(fmt.Sprintf("%s logged for you on %s.", coach, dayList(days, 6)), 600)
}

// CorrectedForYou tells a member how a coach has corrected a day; no groups:
// nothing is logged for it now.
func CorrectedForYou(coach string, day training.Day, groups []LoggedSet) string {
	if len(groups) == 0 {
		return fmt.Sprintf("%s corrected %s: nothing is logged for it now. If that is wrong, tell them.", coach, dayWords(day))
	}
	words := fmt.Sprintf("%s corrected %s, which now reads: %s. If that is wrong, tell them.", coach, dayWords(day), setsWords(groups, 6))
	return clip(words, 600)
}
