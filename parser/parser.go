// Package parser reads one chat message and says what was done; or what about
// that is in doubt, where in the message, and what to write instead.
//
// It is the front door of the packages below it: text cuts the message into
// tokens, sets reads them by the grammar (grammar.ebnf), mask hides the sets
// from the two learned readers of learn, which say whether the sets are
// reported as the author's own work and what the author's own body asks for,
// and explain puts doubts into words. The package knows no people, clock or
// database, keeps nothing from one message to the next, and must not store or
// repeat what somebody says of their body.
package parser

import (
	"sync"
	"unicode/utf8"

	"rungbook/parser/explain"
	"rungbook/parser/learn"
	"rungbook/parser/sets"
	"rungbook/parser/words"
	"rungbook/training"
)

// maxText is how many characters of a message are read. A longer message is
// never a Log.
const maxText = 4000

// Parser reads messages in the words of one programme. It is immutable and
// safe for concurrent use.
type Parser struct {
	names   *words.Names
	explain *explain.Explainer
	readers sync.Pool // of *reader
}

// New builds the lexicon of a programme. The programme must be indexed and
// must not change afterwards.
func New(p *training.Programme) *Parser {
	names := words.NewNames(p)
	out := &Parser{names: names, explain: explain.New(p, names, learn.MaySpeakOfBody)}
	out.readers.New = func() any { return &reader{sets: sets.NewReader(names)} }
	return out
}

// Context is what the reader needs to know beside the text.
type Context struct {
	// Today is the training day of the message's first instant.
	Today training.Day
	// AfterMidnight says that the local clock shows 00:00 to 03:59, when the civil
	// date is already Today+1. Then "today", "yesterday", that date and its weekday
	// all mean Today.
	AfterMidnight bool
	// Addressed says that the bot is spoken to directly, so that silence would be
	// rude.
	Addressed bool
}

// Verdict says what a message is.
type Verdict string

const (
	Log    Verdict = "log"    // sets to store; Care may be set too
	Pain   Verdict = "pain"   // no sets, but Care
	Unsure Verdict = "unsure" // may be a log: Problems says what is in doubt; Care may be set too
	Chat   Verdict = "chat"   // neither: say nothing
)

// Result is what a message says.
type Result struct {
	Verdict    Verdict
	Days       []DaySets     // what was read, in the order typed: of a Log what to store, of Unsure what to store if it is kept
	Care       training.Care // what to do about what the author says of their own body
	Problems   []Problem     // of Unsure, what is in doubt; empty otherwise
	Guesses    []Guess       // what was assumed, for the read-back
	Unread     []string      // unknown words beside sets, as typed, for the read-back; none that may speak of a body
	NotCounted []string      // exercises of no ladder, as typed, for the read-back
}

// DaySets is what a message says was done on one day.
type DaySets struct {
	Day    training.Day   // Context.Today where the message says no day
	Stated bool           // the message says the day
	Sets   []training.Set // every set stands alone, in the order typed; never empty
}

// First returns the first day that was read; the zero value where none was.
func (r Result) First() DaySets {
	if len(r.Days) == 0 {
		return DaySets{}
	}
	return r.Days[0]
}

// Sets returns the sets of all days, in the order typed; nil where there are
// none.
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

// Problem is one thing that is in doubt.
type Problem struct {
	From, To int      // characters (runes) of the message, half-open
	Say      string   // what was understood and what was not, one sentence or two
	Suggest  []string // at most 3 corrected messages, each of which Parse reads as a Log
	Code     string   // names the kind of doubt for tests and counters, as "unknown-skill"; never changes
}

// Guess is one thing the reader assumed.
type Guess struct {
	Kind string // of what: "unit", "day", "side", "name", "effort" or "tries"
	Took string // what was assumed, as people read it: "seconds", "Monday 23 Nov"
}

// Parse reads one message. It never panics, its cost is linear in the text, and
// equal arguments give equal results.
func (p *Parser) Parse(message string, ctx Context) Result {
	r := p.readers.Get().(*reader)
	defer p.readers.Put(r)
	cut, long := cutAt(message, maxText)
	out := r.read(p, message[:cut], ctx)
	if long && (out.Verdict == Log || out.Verdict == Unsure) { // but care is kept: of what was read it is acted on
		tail := Problem{Code: "too-long", From: maxText, To: utf8.RuneCountInString(message), Say: p.explain.TooLong()}
		return Result{Verdict: Unsure, Care: out.Care, Problems: []Problem{tail}}
	}
	return out
}

// Day reads a day phrase that stands alone: "yesterday", "last Friday", "23.11.",
// "2 days ago". ok is false for any other text. The day lies after Today where
// the phrase says so ("12 Dec"): a caller that wants no such day must refuse it.
func (p *Parser) Day(phrase string, ctx Context) (day training.Day, ok bool) {
	r := p.readers.Get().(*reader)
	defer p.readers.Put(r)
	cut, long := cutAt(phrase, maxDay)
	if long {
		return 0, false
	}
	r.text.Scan(phrase[:cut])
	return r.sets.Day(&r.text, sets.Context{Today: ctx.Today, AfterMidnight: ctx.AfterMidnight})
}

// maxDay is how many characters a day phrase may have.
const maxDay = 60

// cutAt returns how many bytes the first n characters of the text have, and
// whether it has more characters.
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
