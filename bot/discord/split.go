package discord

import (
	"strings"
	"unicode/utf8"
)

// mostText is the platform's most for one message, in characters. The platform
// counts as JavaScript does, so a character beyond the basic plane is two.
const mostText = 2000

// split cuts a text into pieces that fit a message each, at the ends of lines;
// a line that is longer than a message is cut between words, or anywhere.
func split(text string, most int) []string {
	var pieces []string
	piece, size := "", 0
	for _, line := range strings.SplitAfter(text, "\n") {
		for width(strings.TrimSuffix(line, "\n")) > most {
			if piece != "" {
				pieces, piece, size = append(pieces, piece), "", 0
			}
			at := cut(line, most)
			pieces, line = append(pieces, line[:at]), strings.TrimLeft(line[at:], " ")
		}
		if size+width(strings.TrimSuffix(line, "\n")) > most {
			pieces, piece, size = append(pieces, piece), "", 0
		}
		piece, size = piece+line, size+width(line)
	}
	if piece != "" || len(pieces) == 0 {
		pieces = append(pieces, piece)
	}
	for i := range pieces {
		pieces[i] = strings.Trim(pieces[i], "\n")
	}
	return pieces
}

// width counts as the platform does.
func width(text string) (n int) {
	for _, r := range text {
		n++
		if r > 0xffff {
			n++
		}
	}
	return n
}

// cut is where a line that is too long is cut: at the last blank that fits, or
// at the last character that does.
func cut(line string, most int) int {
	n, blank := 0, 0
	for at, r := range line {
		if n += 1; r > 0xffff {
			n++
		}
		if n > most {
			if blank > 0 {
				return blank
			}
			return at
		}
		if r == ' ' {
			blank = at
		}
	}
	return len(line)
}

// clip shortens a text to at most so many characters of the platform's.
func clip(text string, most int) string {
	if width(text) <= most {
		return text
	}
	text = text[:cut(text, most-1)]
	for !utf8.ValidString(text) {
		text = text[:len(text)-1]
	}
	return text + "…"
}
