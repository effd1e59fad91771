package bot

import (
	"fmt"
	"strings"

	"rungbook/training"
)

// What is said of a command's words that could not be read. usage is the command
// as it is typed: /away [end] [from:] [until:].

func usageWords(usage string) string { return "Type " + usage + "." }

// unknownWords is for words that a command does not take; they are empty where they
// may not be repeated.
func unknownWords(command, words, usage string) string {
	what := "all of those words"
	if words != "" {
		what = "“" + brief(words) + "”"
	}
	return "/" + command + " does not know " + what + ". " + usageWords(usage)
}

func missingOptionWords(command, option, usage string) string {
	return "/" + command + " needs " + option + ":. " + usageWords(usage)
}

// missingWordWords is for one of a few words, which are in the usage.
func missingWordWords(command, usage string) string {
	return "/" + command + " needs a word more. " + usageWords(usage)
}

func emptyValueWords(command, option, usage string) string {
	return "/" + command + " got nothing after " + option + ":. " + usageWords(usage)
}

func givenTwiceWords(command, option string) string {
	return "/" + command + " got " + option + ": twice. Say it once."
}

// suchWords is for words of a body that are hardly the author's own.
func suchWords(command, usage string) string {
	return "/" + command + " does not take such words. " + usageWords(usage)
}

// secondWordWords is for the first word of several commands.
func secondWordWords(word string, commands []string) string {
	return word + " takes a second word: " + strings.Join(commands, ", ") + "."
}

// Who may give a command.

func coachsWords(what string) string { return what + " is for this team's coach." }

func membersWords(command string) string {
	return "/" + command + " is for members: post a first log and you are one."
}

func managersWords(command string) string {
	return "/" + command + " is for whoever may manage this server."
}

func keepsNothingWords(member string) string {
	return member + " asked that nothing of them be kept. /me rejoin:yes is theirs to say."
}

// What an option's value could not be read as.

func noGateWords(value string, gates []string) string {
	return fmt.Sprintf("“%s” is no gate. The gates: %s.", brief(value), strings.Join(gates, ", "))
}

// noDayWords tells a day that could be read; value is empty where it may not be
// repeated.
func noDayWords(value, option string, like training.Day) string {
	try := fmt.Sprintf("Try %s:%s.", option, like)
	if value == "" {
		return "I cannot read what stands behind " + option + ": as a day. " + try
	}
	return "“" + brief(value) + "” is no day I can read. " + try
}

func noZoneWords(value string) string {
	return "“" + brief(value) + "” is no time zone I know. Try one as Europe/Lisbon."
}

// noCountWords is for what is no number from 1 to most.
func noCountWords(value, option string, most int) string {
	return fmt.Sprintf("%s: takes a number from 1 to %d, not “%s”.", option, most, brief(value))
}
