package sets

import "rungbook/parser/text"

// kinds is a set of kinds of phrases.
type kinds uint32

// kindsOf makes a set of kinds.
func kindsOf(list ...kind) (k kinds) {
	for _, one := range list {
		k |= 1 << one
	}
	return k
}

// has reports whether a kind is in the set.
func (k kinds) has(one kind) bool { return k&(1<<one) != 0 }

// The kinds that a word may have by itself though it turns out, beside other
// words, to be a skill's name, to be part of one, or to say that a skill was
// not done.
var (
	mayTell     = kindsOf(talk, filler, side)              // a word that is in one rung's name only: deep, high
	mayMisspell = kindsOf(talk, filler, help)              // a skill's name misspelt
	mayBePart   = kindsOf(talk, filler, help, hedge, side) // one word of a name of several
	mayNegate   = kindsOf(talk, filler, hedge, failed)     // a word for what was not done, beside a skill: no, skipped
)

// oneWord reports whether a phrase is a single word.
func (r *reader) oneWord(p *phrase) bool { return p.to == p.from+1 && r.t.Kind(p.from) == text.Word }
