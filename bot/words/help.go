package words

import "strings"

// HelpTopics lists what /help knows beside the commands.
const HelpTopics = "log, safety, privacy, or a command's name"

// HelpPrivacy answers /help privacy.
const HelpPrivacy = "I keep names, zones, days and sets, and that somebody is away or paused; " +
	"never your words, and nothing of what you say of your body. " +
	"/mydata export hands you all of it, /mydata erase removes it for good."

// HelpLog answers /help log; rungs are all names that may be logged.
func HelpLog(example string, rungs []string) string {
	return "Write what you did as you would tell a friend, as " + example + "; a set each as 30/30/22. " +
		"With more: +5kg, rest 60s, @8 for effort, left and right, yesterday or Mon. Edit or delete the message and I follow. " +
		"Where I am not sure, nothing is stored until you tap “keep”. Names I know: " + strings.Join(rungs, ", ") + "."
}

// CommandHelp is a command as help lists it.
type CommandHelp struct {
	Name string // without the slash
	What string // what it does, in a line
}

// Help answers /help with the commands that its author may give.
func Help(example string, commands []CommandHelp) string {
	lines := []string{"Write your sets in the channel, as " + example + ". And:"}
	for _, command := range commands {
		lines = append(lines, "/"+command.Name+": "+command.What)
	}
	return strings.Join(append(lines, "Topics: /help log, /help safety, /help privacy"), "\n")
}

// HelpCommand answers /help on one command, with its usage.
func HelpCommand(name, what, usage string) string {
	return "/" + name + ": " + what + ". " + Usage(usage)
}

// Safety answers /help safety with a programme's cautions.
func Safety(cautions []string) string { return strings.Join(cautions, "\n") }
