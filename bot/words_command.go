package bot

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
