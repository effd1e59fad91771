package words

import (
	"fmt"
	"strings"

	"rungbook/training"
)

// What is said of a command's words that could not be read. usage is the command as
// it is typed: /away [end] [from:] [until:].

// Usage says how a command is typed.
func Usage(usage string) string { return "Type " + usage + "." }

// NoSuchWords refuses words that a command does not take; they are empty where they
// may not be repeated.
func NoSuchWords(command, typed, usage string) string {
	what := "all of those words"
	if typed != "" {
		what = "“" + brief(typed) + "”"
	}
	return "/" + command + " does not know " + what + ". " + Usage(usage)
}

// MissingOption refuses a command without a value it needs.
func MissingOption(command, option, usage string) string {
	return "/" + command + " needs " + option + ":. " + Usage(usage)
}

// MissingWord refuses a command without one of the few words in its usage.
func MissingWord(command, usage string) string {
	return "/" + command + " needs a word more. " + Usage(usage)
}

// EmptyValue refuses an option's name with nothing behind it.
func EmptyValue(command, option, usage string) string {
	return "/" + command + " got nothing after " + option + ":. " + Usage(usage)
}

// GivenTwice refuses an option that stands there twice.
func GivenTwice(command, option string) string {
	return "/" + command + " got " + option + ": twice. Say it once."
}

// OfABody refuses words of a body that are hardly the author's own.
func OfABody(command, usage string) string {
	return "/" + command + " does not take such words. " + Usage(usage)
}

// SecondWord refuses the first word of several commands, and names them.
func SecondWord(word string, commands []string) string {
	return word + " takes a second word: " + strings.Join(commands, ", ") + "."
}

// UnknownCommand refuses what is no command.
func UnknownCommand(word string) string {
	return "I do not know " + word + ". /help lists what I do."
}

// MembersOnly refuses a command to somebody who is no member.
func MembersOnly(command string) string {
	return "/" + command + " is for members: post a first log and you are one."
}

// CoachesOption refuses a command's option to somebody who is no coach.
func CoachesOption(command, option string) string {
	return CoachesOnly("/" + command + " with " + option + ":")
}

// CoachesOnly refuses a command, or a word that begins some, to somebody who is no
// coach; asked is as it was typed.
func CoachesOnly(asked string) string { return asked + " is for this team's coach." }

// ManagersOnly refuses a command to somebody who may not manage the server.
func ManagersOnly(command string) string {
	return "/" + command + " is for whoever may manage this server."
}

// KeepsNothing refuses to keep anything of somebody who asked for that.
func KeepsNothing(member string) string {
	return member + " asked that nothing of them be kept. /me rejoin:yes is theirs to say."
}

// NobodyCalled refuses a name that is not on the roster.
func NobodyCalled(name string, roster []string) string {
	return fmt.Sprintf("Nobody here is called “%s”. On the roster: %s.", brief(name), strings.Join(roster, ", "))
}

// SeveralCalled refuses a name that several have; each is a mention of one of them.
func SeveralCalled(name string, each []string) string {
	return fmt.Sprintf("Several here are called “%s”: %s. Mention the one you mean instead of typing the name.",
		brief(name), strings.Join(each, ", "))
}

// NoGate refuses what is none of the gates.
func NoGate(value string, gates []string) string {
	return fmt.Sprintf("“%s” is no gate. The gates: %s.", brief(value), strings.Join(gates, ", "))
}

// NoDay refuses what is no day, with one that could be read; value is empty where it
// may not be repeated.
func NoDay(value, option string, like training.Day) string {
	try := fmt.Sprintf("Try %s:%s.", option, like)
	if value == "" {
		return "I cannot read what stands behind " + option + ": as a day. " + try
	}
	return "“" + brief(value) + "” is no day I can read. " + try
}

// NoZone refuses what is no time zone.
func NoZone(value string) string {
	return "“" + brief(value) + "” is no time zone I know. Try one as Europe/Lisbon."
}

// NoCount refuses what is no number from 1 to most.
func NoCount(value, option string, most int) string {
	return fmt.Sprintf("%s: takes a number from 1 to %d, not “%s”.", option, most, brief(value))
}
