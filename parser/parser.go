// Package parser reads one chat message and says what was done, or what about
// it is in doubt, where, and what to try instead.
//
// It is the front door of the packages below it: text cuts the message into
// tokens, sets reads them by the grammar (grammar.ebnf), mask hides the sets
// from the two learned readers of learn, which say whether the sets are
// reported as the author's own work and what the author's own body asks for,
// and explain puts doubts into words. It knows no people, clock or database,
// keeps nothing between two messages, and must not store or repeat what
// somebody says of their body.
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

// maxText is the most characters of a message that are read; past it nothing is
// logged.
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
	// AfterMidnight says that the local clock reads 00:00-03:59: then today, yesterday,
	// the civil date now (Today+1) and its weekday all mean Today.
	AfterMidnight bool
	// Addressed says that the bot is spoken to directly, so that silence would be rude.
	Addressed bool
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
	Unread     []string      // words beside sets that nothing is known of and that speak of no body, as typed, for the read-back
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
func (p *Parser) Parse(message string, ctx Context) Result {
	r := p.readers.Get().(*reader)
	defer p.readers.Put(r)
	cut, long := cutAt(message, maxText)
	out := r.read(p, message[:cut], ctx)
	if long && (out.Verdict == Log || out.Verdict == Unsure) { // what is said of a body in its readable part is acted on
		tail := Problem{Code: "too-long", From: maxText, To: utf8.RuneCountInString(message), Say: p.explain.TooLong()}
		return Result{Verdict: Unsure, Care: out.Care, Problems: []Problem{tail}}
	}
	return out
}

// Day reads a day phrase that stands alone: "yesterday", "last Friday", "23.11.",
// "2 days ago". The day may be one to come, where its words say so ("12 Dec");
// callers that want none refuse it. ok is false for anything else.
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

// maxDay bounds a day phrase, in characters.
const maxDay = 60

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
