// Package mask turns a message into what the learned readers see of it: its
// tokens, but each run of sets as one token, and days and other numbers as tokens
// that say of which class they are.
//
// It decides nothing by itself: text and sets have said what each token is.
package mask

import (
	"rungbook/parser/learn"
	"rungbook/parser/sets"
	"rungbook/parser/text"
)

// Tokens returns tokens with the masked tokens of a message appended, and entries
// with the indices in tokens of its runs of sets appended. t must have scanned the
// message, and r be what sets read in it.
func Tokens(t *text.Text, r *sets.Reading, tokens []learn.Token, entries []int) ([]learn.Token, []int) {
	for i := 0; t.Kind(i) != text.End; {
		token, next := one(t, r, i)
		if token.Class == learn.Entry {
			next = run(t, r, i)
			entries = append(entries, len(tokens))
		}
		tokens = append(tokens, token)
		i = next
	}
	return tokens, entries
}

// classes holds the class of a token for the learned readers by the token's role
// in the grammar.
var classes = map[sets.Role]learn.Class{
	sets.Entry: learn.Entry, sets.Skill: learn.Skill, sets.Figure: learn.Number,
	sets.Between: learn.Sign, sets.Past: learn.Past, sets.Today: learn.Today, sets.Future: learn.Future, sets.Weekday: learn.Weekday,
}

// one returns the masked token for the token at i and those behind it that belong
// to it, and the index of the token behind them.
func one(t *text.Text, r *sets.Reading, i int) (learn.Token, int) {
	if role := r.Roles[i]; role != sets.Talk && role != sets.Between {
		next := i + 1
		for t.Kind(next) != text.End && r.Roles[next] == role && role != sets.Figure {
			next++
		}
		return learn.Token{Class: classes[role], Text: t.Bytes(i)}, next
	}
	token := learn.Token{Text: t.Bytes(i)}
	switch t.Kind(i) {
	case text.Word:
		token = learn.Token{Class: learn.Word, Text: t.Word(i), Capital: t.Tokens[i].Capital, Owner: t.Tokens[i].Owner}
	case text.Number, text.Fraction:
		token.Class = learn.Number
	case text.Sign:
		token.Class = learn.Sign
	case text.Line:
		token.Class = learn.Line
	default:
		token.Class = learn.Mark
	}
	return token, i + 1
}

// run returns the index of the token behind the run of sets that begins at i.
// Entries with nothing but separators between them are one run.
func run(t *text.Text, r *sets.Reading, i int) int {
	end := i + 1
	for j := end; t.Kind(j) != text.End; j++ {
		switch {
		case r.Roles[j] == sets.Entry:
			end = j + 1
		case r.Roles[j] != sets.Between:
			return end
		}
	}
	return end
}
