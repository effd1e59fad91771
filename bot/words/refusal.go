package words

import (
	"fmt"

	"rungbook/training"
)

// NotAMember refuses somebody who does not train here.
func NotAMember(name string) string { return name + " is not on the roster as a member." }

// ToCome refuses a day that is not yet.
func ToCome(day training.Day) string { return dayWords(day) + " is still to come." }

// LogToCome refuses to log for a day that is not yet.
func LogToCome(day training.Day) string {
	return dayWords(day) + " is still to come: log it when it is done."
}

// NoSets refuses a text that must hold sets.
func NoSets(example string) string { return "I read no sets in that. Try " + example + "." }

// NoHelp refuses a topic that there is no help on.
func NoHelp(topic string) string {
	return fmt.Sprintf("There is no help on “%s”. Topics: %s.", brief(topic), HelpTopics)
}

// NoDays refuses what is no list of weekdays; try is what to type instead.
func NoDays(value, try string) string {
	return fmt.Sprintf("“%s” is no list of days. Try %s.", brief(value), try)
}

// NotAway answers /away end of somebody who is not.
func NotAway(today training.Day) string { return "You are not away. Try " + awayUsage(today) + "." }

// SayUntil refuses /away without an end.
func SayUntil(today training.Day) string { return "Say until when: " + awayUsage(today) + "." }

// NoStretch refuses days away that are none, or past, or too many.
func NoStretch(from, until, today training.Day) string {
	return fmt.Sprintf("From %s until %s is no stretch ahead of at most a year. Try %s.", from, until, awayUsage(today))
}

func awayUsage(today training.Day) string {
	return fmt.Sprintf("/away from:%s until:%s", today, today+6)
}

// NoDigestTime refuses what is no weekday and time.
func NoDigestTime(value string) string {
	return fmt.Sprintf("digest: takes a weekday and a time, as \"Sun 18:00\", not “%s”.", brief(value))
}

// NoPostTime refuses what is no time from the earliest on; option is its name.
func NoPostTime(option string, earliest training.Clock, value string) string {
	return fmt.Sprintf("%s: takes a time from %s to 23:59, as 17:30, not “%s”.", option, earliest, brief(value))
}

// What is refused in one way only.
const (
	Untaken        = "I can't take those words behind a command. /help lists what I do."
	Unlogged       = "The sets in that are not logged: type them again, by themselves."
	NothingToPause = "You are not on the roster as a member, so there is nothing to pause."
	NotShutOut     = "You are not shut out: just post a log."
	DaySaidTwice   = "The text is of several days, and day: of one. Say the days in one place."
	OneDayAtATime  = "That is of several days. Correct one day at a time."
	OthersWitness  = "Another coach witnesses your gates."
	OthersResume   = "Another coach resumes you."
	NameOrText     = "Give name: or text:, not both."
)
