// Package words is what people read: every text of the bot, refusals included,
// made from facts and names. A second language would live here.
//
// It is pure, and knows neither records nor how a message was read.
package words

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"rungbook/training"
)

// Limits of an answer in the channel.
const (
	AnswerLines = 4
	AnswerRunes = 280
)

// dayWords is a day as people say it: Mon 5 Oct.
func dayWords(day training.Day) string {
	_, month, date := day.Civil()
	return fmt.Sprintf("%s %d %s", day.Weekday().String()[:3], date, month.String()[:3])
}

// dateWords is a day without its weekday: 5 Oct.
func dateWords(day training.Day) string {
	_, month, date := day.Civil()
	return fmt.Sprintf("%d %s", date, month.String()[:3])
}

// brief quotes at most 40 characters of what somebody typed, on one line.
func brief(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	return clip(text, 40)
}

// clip cuts a text to so many characters, the last of them an ellipsis.
func clip(text string, most int) string {
	if utf8.RuneCountInString(text) <= most {
		return text
	}
	runes := []rune(text)
	cut := string(runes[:most-1])
	if runes[most-1] != ' ' { // not in the middle of a word, if there is room for one
		if at := strings.LastIndexByte(cut, ' '); at > len(cut)/2 {
			cut = cut[:at]
		}
	}
	return strings.TrimRight(cut, " ,;") + "…"
}

// count is a number with its noun: 1 set, 3 sets.
func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// andList joins with commas and a last "and".
func andList(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
}

// hasFold reports whether the list holds the word, in whatever case.
func hasFold(list []string, word string) bool {
	return slices.ContainsFunc(list, func(other string) bool { return strings.EqualFold(other, word) })
}

// sentence puts a capital first and a full stop last.
func sentence(text string) string {
	if text == "" {
		return ""
	}
	first, size := utf8.DecodeRuneInString(text)
	return strings.ToUpper(string(first)) + strings.TrimSuffix(text[size:], ".") + "."
}

func isEmpty(line string) bool { return line == "" }

// fit returns the first of the drafts, longest first, that keeps the limits of
// an answer; the last one is cut to them.
func fit(drafts ...[]string) string {
	var text string
	for _, lines := range drafts {
		kept := lines[:0:0]
		for _, line := range lines {
			if line != "" {
				kept = append(kept, line)
			}
		}
		if len(kept) > AnswerLines {
			kept = kept[:AnswerLines]
		}
		text = strings.Join(kept, "\n")
		if utf8.RuneCountInString(text) <= AnswerRunes {
			return text
		}
	}
	return clip(text, AnswerRunes)
}

// fitBelow returns the lines of the head, which are never cut, and below them the
// first of the drafts with which the limits of an answer are kept, or none.
func fitBelow(head []string, drafts ...[]string) string {
	for _, lines := range drafts {
		text := strings.Join(slices.DeleteFunc(append(slices.Clip(head), lines...), isEmpty), "\n")
		if strings.Count(text, "\n") < AnswerLines && utf8.RuneCountInString(text) <= AnswerRunes {
			return text
		}
	}
	return strings.Join(head, "\n")
}
