// Package parser reads one chat message and says what was done, or what about
// it could not be read, where, and what to try instead.
//
// It works on the text alone: a scanner with positions over the original
// bytes, then recursive descent over the tokens (grammar.ebnf is the language
// for people). The names it knows come from the programme; words such as sets,
// rest or pain belong to the language and stand in this package. It knows no
// people, clock or database, keeps nothing between two messages, and must not
// store or repeat what somebody says of their body.
package parser

import (
	"unicode/utf8"

	"rungbook/training"
)

// Limits on one message; past them the answer is a problem, never a guess.
const (
	maxText  = 4000 // characters
	maxCount = 50   // sets that one size may stand for
	maxSets  = 200  // sets in one message
	maxWorkS = 3600 // seconds of one clause: a set, and its sets together
	maxReps  = 500
	maxLoad  = 2000 // hectograms either way
)

// Parser reads messages in the words of one programme. It is immutable and
// safe for concurrent use.
type Parser struct {
	programme *training.Programme
	names     lexicon
}

// New builds the lexicon of a programme. The programme must be indexed and
// must not change afterwards.
func New(p *training.Programme) *Parser {
	return &Parser{programme: p, names: newLexicon(p)}
}

// Context is what the reader needs to know beside the text.
type Context struct {
	Today         training.Day // the training day of the message's first instant
	AfterMidnight bool         // the local clock reads 00:00-03:59: then today, yesterday, the civil date now (Today+1) and its weekday all mean Today
	Addressed     bool         // spoken to the bot directly, so that silence would be rude
}

// Verdict says what a message is.
type Verdict string

const (
	Log    Verdict = "log"    // sets to store; may carry care
	Pain   Verdict = "pain"   // no sets, but care
	Unsure Verdict = "unsure" // nearly a log: Problems says why it is none
	Chat   Verdict = "chat"   // say nothing
)

// Result is what a message says.
type Result struct {
	Verdict    Verdict
	Days       []DaySets     // what was read, in the order typed: of a log what is to be stored, of Unsure what keeping it would
	Care       training.Care // what its author's own body asks for
	Problems   []Problem     // why it is unsure; empty otherwise
	Guesses    []Guess       // what was assumed, for the read-back
	Unread     []string      // words beside sets that nothing is known of, as typed, for the read-back
	NotCounted []string      // exercises of no ladder, as typed, for the read-back
}

// DaySets is what a message says was done on one day.
type DaySets struct {
	Day    training.Day   // Today where none was said
	Stated bool           // the message says which day
	Sets   []training.Set // every set stands alone, in the order typed; never empty
}

// First is the first day read; the zero value where nothing was.
func (r Result) First() DaySets {
	if len(r.Days) == 0 {
		return DaySets{}
	}
	return r.Days[0]
}

// Sets is what was read of all days, in the order typed.
func (r Result) Sets() []training.Set {
	if len(r.Days) == 1 {
		return r.Days[0].Sets
	}
	var sets []training.Set
	for _, day := range r.Days {
		sets = append(sets, day.Sets...)
	}
	return sets
}

// Problem is one thing that could not be read.
type Problem struct {
	From, To int      // characters (runes) of the message, half-open
	Say      string   // what was understood and what was not, one sentence or two
	Suggest  []string // at most 3 corrected messages; each of them parses as a log
	Code     string   // stable, kebab-case, for tests and counters
}

// Guess is one thing the reader assumed.
type Guess struct {
	Kind string // "unit", "day", "side", "name", "effort" or "tries"
	Took string // what was assumed, for people: "seconds", "Monday 23 Nov"
}

// Parse reads one message. It never panics, its cost is linear in the text, and
// equal arguments give equal results.
func (p *Parser) Parse(text string, ctx Context) Result {
	if !ctx.Addressed && !worthReading(text) {
		return Result{Verdict: Chat}
	}
	r := readers.Get().(*reader)
	defer readers.Put(r)
	r.reset(p, text, ctx)
	if cut, long := cutAt(text, maxText); long {
		return r.tooLong(cut)
	}
	return r.read()
}

// cutAt returns the length in bytes of the first n characters and whether the
// text has more.
func cutAt(text string, n int) (int, bool) {
	if len(text) <= n || utf8.RuneCountInString(text) <= n {
		return len(text), false
	}
	at := 0
	for range n {
		_, size := utf8.DecodeRuneInString(text[at:])
		at += size
	}
	return at, true
}
