package parser

import (
	"sync"

	"rungbook/training"
)

// reader holds one message while it is read. Readers are reused; nothing of a
// message outlives its Parse.
type reader struct {
	p    *Parser
	text string
	ctx  Context

	toks  []token
	buf   []byte // folded words
	key   []byte // scratch for names
	gap   bool   // the scanner has passed a blank
	marks bool   // there are marks of quotation

	anyKilled bool // some clause reports nothing
	spoken    body // what kinds of talk of the body some word is

	items   []item
	sized   bool // a size was read already
	counts  bool // ... one with a count
	clauses []clause
	entries []entry
	sizes   []size // of all entries, in order
	strays  []item // sizes without a name
	sets    []training.Set
	asm     *assembler

	guesses []Guess
	day     training.Day
	stated  bool // the message says which day
	deep    bool // reading a suggestion: make no further ones
	fuzzy   int  // misspellings looked up so far
}

// fuzzyCap bounds the look-ups of misspelt names in one message.
const fuzzyCap = 24

var readers = sync.Pool{New: func() any { return &reader{asm: new(assembler)} }}

func (r *reader) reset(p *Parser, text string, ctx Context) {
	r.p, r.text, r.ctx, r.day = p, text, ctx, ctx.Today
	r.toks, r.buf, r.key, r.items = r.toks[:0], r.buf[:0], r.key[:0], r.items[:0]
	r.clauses, r.entries, r.sizes = r.clauses[:0], r.entries[:0], r.sizes[:0]
	r.strays, r.sets = r.strays[:0], r.sets[:0]
	r.anyKilled, r.sized, r.counts, r.stated = false, false, false, false
	r.gap, r.marks, r.deep, r.fuzzy, r.guesses = false, false, false, 0, nil
}

// word returns the folded text of a word token.
func (r *reader) word(i int) []byte { return r.buf[r.toks[i].a:r.toks[i].b] }

// wordOr returns the folded text of token i, or nothing if it is no word.
func (r *reader) wordOr(i int) []byte {
	if r.toks[i].kind != kWord {
		return nil
	}
	return r.word(i)
}

// A question about a token past either end is answered no.

// is reports whether token i is the given folded word.
func (r *reader) is(i int, word string) bool {
	if uint(i) >= uint(len(r.toks)) {
		return false
	}
	t := &r.toks[i] // one that is no word has no letters
	return int(t.b-t.a) == len(word) && string(r.buf[t.a:t.b]) == word
}

// punct reports whether token i is the given sign.
func (r *reader) punct(i int, sign rune) bool {
	return uint(i) < uint(len(r.toks)) && r.toks[i].kind == kPunct && r.toks[i].n == sign
}

// has reports whether token i is a word with one of the flags.
func (r *reader) has(i int, f flags) bool {
	return uint(i) < uint(len(r.toks)) && r.toks[i].kind == kWord && r.toks[i].f&f != 0
}
