package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
)

// Numbers and letters that only count lines.

// lineMark reads a number that only counts lines or points: "2. toe support",
// "1) 3x30s deep hang".
func (r *reader) lineMark(i int) (phrase, bool) {
	n, _ := r.num(i)
	opens := r.opensLine(i)
	if r.t.Tokens[i].Keycap && opens && !r.t.Glued(i+1) && r.digits(i) == 1 {
		return one(filler, i), true
	}
	if r.digits(i) > 2 || !r.standsOff(i) {
		return phrase{}, false
	}
	marks := phrase{kind: separator, at: '\n', from: i, to: i + 2}
	switch {
	case r.t.Is(i+1, '.'):
		later := n > 1 && !r.t.Glued(i) && r.opensNumbered()
		return marks, opens && !r.is(i+2, words.Month) || later
	case r.t.Is(i+1, ')'):
		return marks, opens || !r.t.Glued(i) && !r.bracketOpen(i)
	case r.t.Is(i+1, ':'):
		return marks, opens && n <= 12
	}
	return phrase{}, false
}

// standsOff reports whether a sign is glued to the number at token i, and a
// word or a number stands behind it after a blank.
func (r *reader) standsOff(i int) bool {
	if !r.t.Glued(i+1) || r.t.Kind(i+1) != text.Sign || r.t.Glued(i+2) {
		return false
	}
	next := r.t.Kind(i + 2)
	return next == text.Word || next == text.Number
}

// opensNumbered reports whether the message begins with "1. ": then the points
// that follow may stand on one line.
func (r *reader) opensNumbered() bool {
	n, _ := r.num(0)
	return n == 1 && r.t.Is(1, '.') && !r.t.Glued(2)
}

// bracketOpen reports whether a bracket opened shortly before token i.
func (r *reader) bracketOpen(i int) bool {
	for j := i - 1; j >= 0 && j > i-16 && !r.t.Is(j, ')'); j-- {
		if r.t.Is(j, '(') {
			return true
		}
	}
	return false
}

// wordMark reads a number in words that only counts a line: one: mid hang 40s.
func (r *reader) wordMark(i int) (phrase, bool) {
	marks := r.opensLine(i) && r.is(i, words.Ones) && r.t.Is(i+1, ':') && r.value(i) > 0
	return phrase{kind: separator, at: '\n', from: i, to: i + 2}, marks
}

// letterMark reads a letter and a figure that only name a line or a round: "A1
// 3x30s", "R1 5 dips 6 rows, R2 5 dips".
func (r *reader) letterMark(i int) (phrase, bool) {
	word := r.t.Word(i)
	if string(word) == "r" && r.ends(i-1) && r.digits(i+1) == 1 && r.t.Glued(i+1) && !r.t.Glued(i+2) && r.t.Kind(i+2) == text.Number {
		return phrase{kind: separator, at: ';', from: i, to: i + 2}, true
	}
	if len(word) != 1 || word[0] > 'f' || !r.opensLine(i) || r.digits(i+1) != 1 || !r.t.Glued(i+1) {
		return phrase{}, false
	}
	if r.t.Glued(i+2) && r.t.Kind(i+2) != text.Sign {
		return phrase{}, false
	}
	to := i + 2
	if r.t.Glued(to) {
		to++
	}
	return phrase{kind: separator, at: '\n', from: i, to: to}, r.t.Kind(to) != text.End
}
