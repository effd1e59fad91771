package words

import (
	"strings"
	"unicode/utf8"
)

const unstored = "Nothing is stored yet."

// JointQuestion asks a member alone whether what they said is of a joint.
const JointQuestion = "Does a joint hurt? I ask only you, and keep no answer but yes."

// Doubt is what the reader has to say of a message it cannot be sure of. The zero
// value says nothing of it: it is for a message that also speaks of a body, of
// which no word is repeated.
type Doubt struct {
	Say     string   // what was understood and what was not, a sentence or two
	Suggest []string // messages to copy back, at most 3
}

// Unsure is the help for a message that is nearly a log, in so many characters at
// most: the doubt, and something to copy back. example is a log that can be read.
func Unsure(doubt Doubt, example string, most int) string {
	if doubt.Say == "" {
		return "I could not read that whole. " + unstored + " Try it as " + example + "."
	}
	for n := min(3, len(doubt.Suggest)); n > 0; n-- {
		words := doubt.Say + " " + unstored + " Try: " + strings.Join(doubt.Suggest[:n], " or ")
		if utf8.RuneCountInString(words) <= most {
			return words
		}
	}
	return clip(doubt.Say, most-utf8.RuneCountInString(unstored)-1) + " " + unstored
}

// Question asks whether a doubtful message is to be kept as it was read, in so
// many characters at most: every set, the doubt, that nothing is stored. It is
// empty where the sets alone are too long for that.
func Question(days []DayFacts, of Remarks, doubt Doubt, most int) string {
	const least = 30 // characters of a doubt that still say something
	lines := heading("", days, of.Notes())
	head := "I read " + lines[0]
	if len(lines) > 1 {
		head = "I read:\n" + strings.Join(lines, "\n") + "\n"
	} else {
		head += " "
	}
	say := doubt.Say
	if say == "" {
		say = "I am not sure of it."
	}
	room := most - utf8.RuneCountInString(head+" "+unstored)
	if room < least {
		return ""
	}
	return head + clip(say, room) + " " + unstored
}
