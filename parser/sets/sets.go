// Package sets reads what was done out of a message: sets, the days they belong
// to, and what about them is in doubt.
//
// The grammar is that of grammar.ebnf. A message is read in four steps: it is
// cut into phrases, each of which means one thing; phrases into segments, at
// separators; segments are put together to entries, each a skill with its
// sizes; and what is left over is looked at, since every number and every word
// that may change what was done belongs to something or is asked about. The
// package must not know whether a message reports anything, or what it says of
// a body.
package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// The most that is read in one message. More is a doubt.
const (
	maxCount = 50   // sets of one size
	maxSets  = 200  // sets of the message
	maxWorkS = 3600 // seconds of a set, of all sets of one size, and of a rest
	maxReps  = 500  // reps of a set
	maxLoad  = 2000 // hectograms of a load or a counterweight
)

// Reading is what the grammar makes of a message. It is good until the reader
// that made it reads again.
type Reading struct {
	Days    []Day     // what was done, in the order typed; empty where no sets were read
	Doubts  []Doubt   // what must be asked before anything is stored, in the order found
	Guesses []Guess   // what was assumed
	Unread  []Span    // unknown words beside sets
	Others  []Span    // exercises of no ladder, with their sizes
	Roles   []Role    // by token: what it is to those who read the whole message
	Calm    bool      // all words beside the sets are known to say nothing of them
	Bare    bool      // no word stands beside the sets
	Skills  []Mention // the skills that are named, with or without sizes
}

// Day is what was done on one day.
type Day struct {
	Day    training.Day
	Stated bool
	Sets   []training.Set // every set stands alone, in the order typed
}

// Span is a stretch of tokens, half-open.
type Span struct{ From, To int }

// Doubt is one thing that must be asked about.
type Doubt struct {
	Code Code
	Span
	Rung  int          // of a doubt about a skill's sizes, the skill's index in Names.Rungs; else -1
	Count int          // of CountMismatch, how many sets the count says; else 0
	Sizes int          // of CountMismatch, how many sizes there are; else 0
	Day   training.Day // of ConflictingDates, the other day; else 0
	Names []string     // of AmbiguousSkill, the names that may be meant; else nil
}

// Mention is a skill that is named in the message.
type Mention struct {
	Span
	Rung int // index in Names.Rungs
}

// Guess is one thing the reader assumed.
type Guess struct {
	Kind string // of what: "unit", "day", "name", "effort" or "tries"
	Took string // what was assumed, as people read it: "seconds", "Monday 23 Nov"
}

// Role is what a token is to those who read the whole message.
type Role uint8

const (
	Talk    Role = iota // a word that the grammar does not read
	Entry               // part of sets, or of what is said of them
	Skill               // a skill's name without sizes
	Figure              // a number that is no size
	Past                // a day that is over
	Today               // a day that is today
	Future              // a day to come
	Weekday             // a weekday, without a word that says which one
	Between             // a separator that may stand between two entries
)

// Context is what the grammar needs to know beside the text.
type Context struct {
	Today         training.Day // the training day of the message's first instant
	AfterMidnight bool         // the clock shows 00:00-03:59: "yesterday", the civil date Today+1 and its weekday all mean Today
}

// Reader reads messages with the names of one programme. It may be used any number
// of times, by one goroutine at a time. NewReader makes one.
type Reader struct{ reader }

// NewReader returns a reader for the names.
func NewReader(names *words.Names) *Reader {
	return &Reader{reader{names: names, shapes: names.Shapes(mayCount)}}
}

// Read reads a scanned message. Its cost is linear in the text.
func (r *Reader) Read(t *text.Text, ctx Context) *Reading {
	r.begin(t, ctx)
	r.phrase()
	if r.anySize() {
		r.findNames()
		r.passScores()
		r.assemble()
		r.settle()
	}
	r.assignRoles()
	r.out.Calm = r.calm()
	r.out.Bare = r.out.Calm && r.bareSets()
	return &r.out
}

// reader is what is known of the message that is being read.
type reader struct {
	names         *words.Names
	shapes        *words.Shapes // of the words of which MayCount reports true
	t             *text.Text
	words         []*words.Word // by token; nil for an unknown word and for no word
	today         training.Day
	afterMidnight bool

	phrases  []phrase
	sized    bool // a size was read
	seen     seen
	segments []segment
	entries  []*entry
	strays   []bout // sizes that found no skill
	fuzzy    int    // how many misspellings were looked up
	out      Reading
}

// fuzzyCap is how many misspelt names of a message are looked up, so that its cost
// stays linear.
const fuzzyCap = 24

// begin makes the reader ready for a message and looks its words up.
func (r *reader) begin(t *text.Text, ctx Context) {
	r.t, r.today, r.afterMidnight = t, ctx.Today, ctx.AfterMidnight
	r.words, r.phrases, r.segments, r.entries = r.words[:0], r.phrases[:0], r.segments[:0], nil
	r.strays, r.sized, r.fuzzy, r.seen, r.out = nil, false, 0, seen{}, Reading{Roles: r.out.Roles[:0]}
	for i := range t.Tokens {
		var word *words.Word
		if t.Tokens[i].Kind == text.Word {
			word = words.Find(t.Word(i))
		}
		r.words = append(r.words, word)
	}
}

// doubt adds a doubt about the tokens, and returns it so that more can be said
// of it.
func (r *reader) doubt(code Code, from, to int) *Doubt {
	r.out.Doubts = append(r.out.Doubts, Doubt{Code: code, Span: Span{from, to}, Rung: -1})
	return &r.out.Doubts[len(r.out.Doubts)-1]
}

// guess adds a guess, unless the same was added already.
func (r *reader) guess(kind, took string) {
	g := Guess{kind, took}
	for _, have := range r.out.Guesses {
		if have == g {
			return
		}
	}
	r.out.Guesses = append(r.out.Guesses, g)
}
