// Package text cuts a message into tokens with their places in it.
//
// What people write in many ways (case, accents, full-width and styled letters,
// look-alikes, dashes, quotes) it folds into one. What says nothing (markdown,
// joiners, direction marks) it drops. It must not know what a word means.
package text

import "strings"

// Kind is the kind of a token.
type Kind uint8

const (
	End      Kind = iota // past the last token
	Word                 // letters, folded
	Number               // digits; N is the value
	Fraction             // a vulgar fraction; N is in thousandths
	Sign                 // one sign; N is it
	Line                 // a line end
	Mark                 // emoji, emoticons, links, mentions: no words to read
)

// NumberCap is the value of every number from it on. It is more than any limit.
const NumberCap = 100_000_000

// Token is one piece of a message.
type Token struct {
	Kind    Kind
	Glued   bool  // nothing stands between it and the token before
	Capital bool  // a word that begins with a capital letter
	Owner   bool  // a word that ended in 's, which is cut off
	Keycap  bool  // a number written as keycap emoji
	Digits  uint8 // of a number: how many figures it has, leading zeros included
	From    int32 // From and To are bytes of the message, half-open
	To      int32
	N       int32 // of a Number its value, of a Fraction its thousandths, of a Sign its character; else 0
	a, b    int32 // of a word: where in Text.buf it stands folded, half-open
}

// Text is a message cut into tokens, of which the last is always an End. The zero
// value is ready for Scan. Scan may be called any number of times, by one
// goroutine at a time.
type Text struct {
	Message string
	Tokens  []Token
	source  []byte // the message
	buf     []byte
	gap     bool // a blank was passed since the last token
}

// Word returns the folded letters of token i; it is empty if the token is no word
// or lies past either end. The slice is good until the next Scan.
func (t *Text) Word(i int) []byte {
	if uint(i) >= uint(len(t.Tokens)) {
		return nil
	}
	return t.buf[t.Tokens[i].a:t.Tokens[i].b]
}

// Kind returns the kind of token i; End if i lies past either end.
func (t *Text) Kind(i int) Kind {
	if uint(i) >= uint(len(t.Tokens)) {
		return End
	}
	return t.Tokens[i].Kind
}

// Is reports whether token i is the given sign.
func (t *Text) Is(i int, sign rune) bool {
	return uint(i) < uint(len(t.Tokens)) && t.Tokens[i].Kind == Sign && t.Tokens[i].N == sign
}

// OneOf reports whether token i is one of the signs.
func (t *Text) OneOf(i int, signs string) bool {
	return t.Kind(i) == Sign && strings.ContainsRune(signs, t.Tokens[i].N)
}

// Glued reports whether nothing stands between token i and the one before.
func (t *Text) Glued(i int) bool {
	return uint(i) < uint(len(t.Tokens)) && t.Tokens[i].Glued
}

// GluedSign reports whether token i is the given sign, with no blank before or
// behind it.
func (t *Text) GluedSign(i int, sign rune) bool {
	return t.Is(i, sign) && t.Tokens[i].Glued && t.Glued(i+1) && t.Kind(i+1) != End
}

// Bytes returns token i as it was typed. The slice is good until the next Scan and
// must not be changed.
func (t *Text) Bytes(i int) []byte {
	token := &t.Tokens[i]
	return t.source[token.From:token.To]
}

// Written returns tokens from to to-1 as they were typed.
func (t *Text) Written(from, to int) string {
	if from >= to || to > len(t.Tokens) {
		return ""
	}
	return t.Message[t.Tokens[from].From:t.Tokens[to-1].To]
}
