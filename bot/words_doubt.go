package bot

import (
	"strings"
	"unicode/utf8"

	"rungbook/parser"
)

const (
	unstoredWords = "Nothing is stored yet."
	jointWords    = "Does a joint hurt? I ask only you, and keep no answer but yes."
)

// unsureWords is the help for a message that is nearly a log, in so many
// characters at most: its first problem, and something to copy back. Of a message
// that also speaks of a body no word is repeated.
func (f *loadedProgramme) unsureWords(parsed parser.Result, most int) string {
	if len(parsed.Problems) == 0 || parsed.Care != "" {
		return "I could not read that whole. " + unstoredWords + " Try it as " + f.example() + "."
	}
	problem := parsed.Problems[0]
	for n := min(3, len(problem.Suggest)); n > 0; n-- {
		words := problem.Say + " " + unstoredWords + " Try: " + strings.Join(problem.Suggest[:n], " or ")
		if utf8.RuneCountInString(words) <= most {
			return words
		}
	}
	return clip(problem.Say, most-utf8.RuneCountInString(unstoredWords)-1) + " " + unstoredWords
}

// questionWords asks whether a doubtful message is to be kept as it was read, in
// so many characters at most: every set, what was in doubt, that nothing is
// stored. It is empty where the sets alone are too long for that.
func (f *loadedProgramme) questionWords(parsed parser.Result, days []dayLine, most int) string {
	const least = 30 // characters of a problem that still say something
	lines := heading("", days, remarksOf(parsed, nil).words())
	head := "I read " + lines[0]
	if len(lines) > 1 {
		head = "I read:\n" + strings.Join(lines, "\n") + "\n"
	} else {
		head += " "
	}
	doubt := "I am not sure of it."
	if len(parsed.Problems) > 0 && parsed.Care == "" {
		doubt = parsed.Problems[0].Say
	}
	room := most - utf8.RuneCountInString(head+" "+unstoredWords)
	if room < least {
		return ""
	}
	return head + clip(doubt, room) + " " + unstoredWords
}
