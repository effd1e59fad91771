// Package mask makes what the learned readers see of a message: its tokens, with
// each run of sets as one, and days and other numbers by what they are.
//
// It joins what text, sets and learn know, and decides nothing by itself.
package mask

import (
	"rungbook/parser/learn"
	"rungbook/parser/sets"
	"rungbook/parser/text"
)

// Tokens appends the masked tokens of a scanned and read message to tokens, and the
// places of its runs of sets to entries, and returns both.
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

// classes are the learned readers' classes by what the grammar says of a token.
var classes = map[sets.Role]learn.Class{
	sets.Entry: learn.Entry, sets.Skill: learn.Skill, sets.Figure: learn.Number,
	sets.Between: learn.Sign, sets.Past: learn.Past, sets.Today: learn.Today, sets.Future: learn.Future, sets.Weekday: learn.Weekday,
}

// one masks the token at i, with those behind it that are the same thing.
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

// run returns the token behind the run of sets that begins at i: entries with
// nothing but separators between them are one.
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
