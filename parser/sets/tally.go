package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
)

// Sizes and counts written in the plural, or as on a form.

// tally reads a size in the plural with a count before or behind it: eights for
// three sets; three sets, all fives.
func (r *reader) tally(i int) (phrase, bool) {
	p := ofAmount(whole(r.value(i)))
	p.from, p.to = i, i+1
	p.size.from, p.size.to = i, i+1
	r.countBehind(&p)
	return p, p.size.count > 0 || r.countNear()
}

// countNear reports whether a count without a size is among the last six
// phrases, with nothing but filler, separators and skills behind it.
func (r *reader) countNear() bool {
	for n := len(r.phrases) - 1; n >= max(len(r.phrases)-6, 0); n-- {
		switch r.phrases[n].kind {
		case counted:
			return true
		case filler, separator, skill:
		default:
			return false
		}
	}
	return false
}

// formField reads the word sets or reps with its number behind it: sets: 3
// reps: 5 dips.
func (r *reader) formField(i int) (phrase, bool) {
	at := i + 1
	if r.t.OneOf(at, ":=") {
		at++
	}
	n, next, ok := r.number(at)
	if !ok || !n.whole || n.int() == 0 || !words.Plural(r.t.Word(i)) || !r.opensField(i) || !r.closesField(next) {
		return phrase{}, false
	}
	a := amount{milli: n.milli, whole: true, from: i, to: next}
	if r.is(i, words.Rep) {
		a.unit = reps
		p := ofAmount(a)
		p.from, p.to = i, next
		return p, true
	}
	return phrase{kind: counted, size: size{amount: a, count: n.int(), loud: true}, from: i, to: next}, n.int() <= mostSets
}

// opensField reports whether a field of a form may begin at token i: at the
// head of a clause, behind a skill, or behind another field.
func (r *reader) opensField(i int) bool {
	n := len(r.phrases) - 1
	if r.t.Kind(i-1) == text.Number {
		return n > 0 && r.any(r.phrases[n].from, formWords)
	}
	return r.ends(i-1) || n >= 0 && r.phrases[n].kind == skill
}

// closesField reports whether a field of a form may end before token i: the
// next field or a skill begins there, or the line or the clause ends.
func (r *reader) closesField(i int) bool {
	if r.any(i, formWords) {
		_, _, number := r.number(i + 1)
		return number || r.t.OneOf(i+1, ":=")
	}
	return r.named(i) || r.endsLine(i) || r.t.OneOf(i, ",;") && !r.t.Glued(i+1) && r.t.Kind(i+1) != text.Number
}

// formWords are words that name a field of a form.
var formWords = words.OfClasses(words.Set, words.Rep)
