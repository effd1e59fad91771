// Package sets reads what was done out of a message: sets, the days they belong
// to, and what about them is in doubt.
//
// It is the grammar of grammar.ebnf, read in four steps: phrases (one typed thing
// each), segments (what stands between separators), entries (a skill with its
// sizes), and the account of what is left over, since every number and every word
// that may change what was done has an owner or is asked about. It must not know
// whether a message reports anything, or what it says of a body.
package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// Limits on one message; past them there is a doubt, never a guess.
const (
	maxCount = 50   // sets that one size may stand for
	maxSets  = 200  // sets in one message
	maxWorkS = 3600 // seconds of one size, a set and its sets together, and of a rest
	maxReps  = 500
	maxLoad  = 2000 // hectograms either way
)

// Reading is what the grammar makes of a message. It is good until the reader
// that made it reads again.
type Reading struct {
	Days    []Day     // what was done, in the order typed; empty where no sets could be read
	Doubts  []Doubt   // what must be asked before anything is stored, in the order found
	Guesses []Guess   // what was assumed
	Unread  []Span    // words beside sets that nothing is known of
	Others  []Span    // exercises of no ladder, with their sizes
	Roles   []Role    // one a token: what it is to the readers of the whole message
	Calm    bool      // beside the sets stand words alone that are known to say nothing of them
	Bare    bool      // beside the sets stands no word at all
	Skills  []Mention // skills named, with or without sizes
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
	Rung  int          // of doubts about a skill's sizes: index in Names.Rungs; else -1
	Count int          // of CountMismatch: sets that a count promised
	Sizes int          // of CountMismatch: sizes that were given
	Day   training.Day // of ConflictingDates: the other day
	Names []string     // of AmbiguousSkill: what may be meant
}

// Mention is a skill that is named in the message.
type Mention struct {
	Span
	Rung int // index in Names.Rungs
}

// Guess is one thing the reader assumed.
type Guess struct {
	Kind string // "unit", "day", "name", "effort" or "tries"
	Took string // what was assumed, for people: "seconds", "Monday 23 Nov"
}

// Role is what a token is to those who read the whole message.
type Role uint8

const (
	Talk    Role = iota // none of the grammar's
	Entry               // part of sets, or of what is said of them
	Skill               // a skill's name without sizes
	Figure              // a number that is no size
	Past                // a day that is over
	Today               // the day that runs
	Future              // a day to come
	Weekday             // a weekday, without a word about which
	Between             // a separator that may stand between two entries
)

// Context is what the grammar needs to know beside the text.
type Context struct {
	Today         training.Day // the training day of the message's first instant
	AfterMidnight bool         // the local clock reads 00:00-03:59: then yesterday, the civil date now and its weekday all mean Today
}

// Reader reads messages in the words of one programme's names. It may be used
// again and again, but by one goroutine at a time.
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

// reader holds one message while it is read.
type reader struct {
	names         *words.Names
	shapes        *words.Shapes // of words that MayCount
	t             *text.Text
	words         []*words.Word // one a token; nil for what is unknown or no word
	today         training.Day
	afterMidnight bool

	phrases  []phrase
	sized    bool // a size was read already
	seen     seen // days read so far
	segments []segment
	entries  []*entry
	strays   []bout // sizes that found no skill
	fuzzy    int    // misspellings looked up so far
	out      Reading
}

// fuzzyCap bounds the look-ups of misspelt names in one message.
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

// doubt notes what must be asked about.
func (r *reader) doubt(code Code, from, to int) *Doubt {
	r.out.Doubts = append(r.out.Doubts, Doubt{Code: code, Span: Span{from, to}, Rung: -1})
	return &r.out.Doubts[len(r.out.Doubts)-1]
}

// guess notes what was assumed, once.
func (r *reader) guess(kind, took string) {
	g := Guess{kind, took}
	for _, have := range r.out.Guesses {
		if have == g {
			return
		}
	}
	r.out.Guesses = append(r.out.Guesses, g)
}
