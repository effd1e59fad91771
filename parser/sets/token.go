package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
)

// A question about a token past either end is answered no.

// is reports whether token i is a word of the class.
func (r *reader) is(i int, class words.Class) bool {
	return uint(i) < uint(len(r.words)) && r.words[i] != nil && r.words[i].Classes.Has(class)
}

// any reports whether token i is a word of one of the classes.
func (r *reader) any(i int, classes words.Classes) bool {
	return uint(i) < uint(len(r.words)) && r.words[i] != nil && r.words[i].Classes.Any(classes)
}

// value returns the value of the word at token i; 0 where it has none.
func (r *reader) value(i int) int {
	if uint(i) >= uint(len(r.words)) || r.words[i] == nil {
		return 0
	}
	return r.words[i].Value
}

// Questions about single tokens, and the passing over of those that say nothing.

// num returns the figures at token i.
func (r *reader) num(i int) (int, bool) {
	if r.t.Kind(i) != text.Number {
		return 0, false
	}
	return int(r.t.Tokens[i].N), true
}

// digits returns how many figures the number at token i has; 0 where none
// stands there.
func (r *reader) digits(i int) int {
	if r.t.Kind(i) != text.Number {
		return 0
	}
	return int(r.t.Tokens[i].Digits)
}

// slashed reports whether tokens i to i+2 are number, slash, number, glued.
func (r *reader) slashed(i int) bool {
	return r.t.Kind(i) == text.Number && r.t.GluedSign(i+1, '/') && r.t.Kind(i+2) == text.Number
}

// ends reports whether no word goes on at token i.
func (r *reader) ends(i int) bool { return r.t.Kind(i) != text.Word }

// opensLine reports whether token i is the first of its line.
func (r *reader) opensLine(i int) bool { return i == 0 || r.t.Kind(i-1) == text.Line }

// endsLine reports whether the line ends at token i.
func (r *reader) endsLine(i int) bool { return r.t.Kind(i) == text.Line || r.t.Kind(i) == text.End }

// named reports whether a skill's or a ladder's name begins at token i.
func (r *reader) named(i int) bool {
	_, _, ok := r.names.At(r.t, i)
	return ok
}

// unknown reports whether token i is a word that the language does not know.
func (r *reader) unknown(i int) bool { return r.t.Kind(i) == text.Word && r.words[i] == nil }

// pass passes words of some classes.
func (r *reader) pass(i int, over words.Classes) int {
	for r.any(i, over) {
		i++
	}
	return i
}

// pastOf passes an "of".
func (r *reader) pastOf(i int) int {
	if r.is(i, words.Of) {
		return i + 1
	}
	return i
}

// hyphenTo skips a glued hyphen.
func (r *reader) hyphenTo(i int) int {
	if r.t.GluedSign(i, '-') {
		return i + 1
	}
	return i
}
