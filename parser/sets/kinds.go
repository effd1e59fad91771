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

// What a word may be taken for by itself, and yet be, or change, a skill's name
// among others.
var (
	mayTell     = kindsOf(talk, filler, side)              // the word that tells one rung from the others: deep, high
	mayMisspell = kindsOf(talk, filler, help)              // a skill's name misspelt
	mayBePart   = kindsOf(talk, filler, help, hedge, side) // a part of a name of several words
	mayNegate   = kindsOf(talk, filler, hedge, failed)     // no, skipped: before a skill that was not done
)

// oneWord reports whether a phrase is a single word.
func (r *reader) oneWord(p *phrase) bool { return p.to == p.from+1 && r.t.Kind(p.from) == text.Word }
