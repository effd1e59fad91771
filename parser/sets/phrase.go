package sets

import (
	"strings"
	"unicode/utf8"

	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// kind is the kind of a phrase. The comment behind each kind names the fields of
// the phrase that it uses; the comment of n and m says what they hold for it.
type kind uint8

const (
	talk       kind = iota // words that are none of the grammar's
	filler                 // words and signs known to say nothing of sets
	separator              // at: the sign; see sign
	skill                  // a skill's name; at: index of the rung
	ladder                 // a ladder's name, as a heading; at: index of the ladder
	exercise               // the name of an exercise of no ladder
	sized                  // a size; size
	counted                // a count of sets or rounds without a size; size.count
	ratio                  // n out of m; n and m; word: "/" or byOf where the sign or the word between them matters
	rested                 // a rest; n and m
	effort                 // how hard sets were; levels; m
	load                   // a load; n and m
	help                   // what helped; word; m
	side                   // word: left, right or each
	each                   // the word each, without a side
	failed                 // a failure; set: of which sets; size: how far it came, or how many failed; else of the size before it
	tried                  // the word attempts, or which attempt was done; n
	cameOff                // how many attempts were done; n
	which                  // set: which of the sets told before are meant
	same                   // says that it was the same as the entry before
	dayNamed               // a day; day
	correction             // what stands behind it replaces what stood before it
	retracted              // takes sets back: set, or if word is "name" those of the rung at
	doubtful               // words that may change what was done, wherever they stand beside sets; n
	hedge                  // words that change what was done only if they are said of the sets
	figure                 // a number that is no size, with the words that show it
	remark                 // the head of a remark, which the rest of the line is
)

// phrase is a few tokens that mean one thing.
type phrase struct {
	kind  kind
	near  bool // of a skill: the name is misspelt
	short bool // of a failure: the set ended early and did not fail
	from  int  // from and to are tokens, half-open
	to    int
	at    int // of a skill, ladder, separator or what is taken back: see the kinds

	// n and m, by kind; both are 0 for a kind that is not listed:
	//   - ratio: n out of m
	//   - rested: n is its length in seconds, -1 where unsaid; m is 1 if it is of all sets
	//   - effort: m is 1 if it was told by reps in reserve
	//   - load: n is in hectograms, negative for what takes weight off; m is 1 if it is the pull of a band
	//   - help: m is 1 if somebody held or pushed, which is said of sets even among other words
	//   - tried: n is the number of the attempt that was done, 0 where unsaid
	//   - cameOff: n is how many attempts were done, -1 for all that were told
	//   - doubtful: n is after how many sets somebody stopped, 0 where unsaid; no doubt if so many were told
	n, m int

	size   size   // of a size, a count, a failure
	set    nth    // of a failure, of what is taken back and of which sets
	levels []int  // of an effort, in tenths: one, or one for each set
	word   string // see the kinds; "" where a kind does not use it
	day    dated  // of a day
	fault  Code   // what is wrong with it; "" for nothing
}

// size is so many sets of an amount or, where reps is said, of so many reps of the
// amount each.
type size struct {
	amount
	count  int  // how many sets; 0 where unsaid
	reps   int  // how many reps of the amount each; 0 where unsaid
	loud   bool // the count has a word of its own: sets, rounds
	rounds bool // it is a count of rounds
	behind bool // the count stands behind the amount
}

// nth says which of the sets told before are meant.
type nth struct {
	first int // the number of the first of them, from 1; 0 for the last ones
	count int // how many; 0 where no sets are meant
	like  int // it is the last set of so many seconds or reps; 0 where the sets are not named by their size
}

// phrase cuts the tokens into phrases: at each token the first rule that applies
// takes it, with those behind it that belong to it.
func (r *reader) phrase() {
	for i := 0; r.t.Kind(i) != text.End; {
		p, ok := r.phraseAt(i)
		if !ok {
			p = phrase{kind: talk, from: i, to: i + 1}
		}
		if p.kind == remark {
			p.to = r.lineEnd(p.to)
		}
		if p.kind == dayNamed && r.correctDay(&p) {
			p.kind = filler
		}
		if p.kind == help && p.m == 1 { // who helped is told with it
			for n := len(r.phrases) - 1; n >= 0 && n >= len(r.phrases)-2 && r.phrases[n].kind == talk; n-- {
				r.phrases[n].kind = filler
			}
		}
		r.phrases = append(r.phrases, p)
		r.sized = r.sized || p.kind == sized
		if p.kind == dayNamed {
			r.see(&p)
		}
		i = p.to
	}
}

// lineEnd returns the token that ends the line of token i.
func (r *reader) lineEnd(i int) int {
	for r.t.Kind(i) != text.Line && r.t.Kind(i) != text.End {
		i++
	}
	return i
}

func (r *reader) phraseAt(i int) (phrase, bool) {
	switch r.t.Kind(i) {
	case text.Mark:
		if keycapTen.has(r.t.Bytes(i)) {
			return r.numberPhrase(i)
		}
		if crossedOut.has(r.t.Bytes(i)) {
			return one(doubtful, i), true
		}
		return one(filler, i), true
	case text.Line:
		return sign('\n', i), true
	case text.Sign:
		return r.signPhrase(i), true
	case text.Number, text.Fraction:
		return r.numberPhrase(i)
	}
	return r.wordPhrase(i)
}

// marks are emoji by their first rune.
type marks string

func (m marks) has(mark []byte) bool {
	c, _ := utf8.DecodeRune(mark)
	return strings.ContainsRune(string(m), c)
}

// crossedOut are marks behind what was not done.
const crossedOut marks = "❌✖✗✘🚫"

// keycapTen is the only keycap emoji that is one character, and so no number to
// the scanner.
const keycapTen marks = "🔟"

func one(k kind, i int) phrase { return phrase{kind: k, from: i, to: i + 1} }

// sign returns a separator. c is the sign itself, or '&' for the word and, '>' for
// then, '|' for or.
func sign(c rune, i int) phrase { return phrase{kind: separator, at: int(c), from: i, to: i + 1} }

// rule reads one kind of phrase at a token. It reports false where there is none.
type rule func(*reader, int) (phrase, bool)

// firstOf returns what the first of the rules reads that applies at token i.
func (r *reader) firstOf(rules []rule, i int) (phrase, bool) {
	for _, rule := range rules {
		if p, ok := rule(r, i); ok {
			return p, true
		}
	}
	return phrase{}, false
}

// The rules at a number, in the order in which they are tried: those that read
// more come first. figureOnly are tried before numberRules, and only at
// figures.
var figureOnly, numberRules []rule

// wordRules are tried in order at a word that is of one of their classes.
var wordRules []wordRule

type wordRule struct {
	on   words.Classes
	rule rule
}

// init fills the tables of rules, which call one another.
func init() {
	figureOnly = []rule{(*reader).lineMark, (*reader).falseStart, (*reader).dayPhrase, (*reader).whichSets}
	numberRules = []rule{
		(*reader).onOff, (*reader).partOfRep, (*reader).timedRest, (*reader).numberedEffort, (*reader).noSize, (*reader).madeOf,
		(*reader).oneFoot, (*reader).loadPhrase, (*reader).ratedSet, (*reader).outOf, (*reader).sizePhrase,
	}
	of := words.OfClasses
	wordRules = []wordRule{
		{of(words.Note), (*reader).note},
		{of(words.Label, words.Activity, words.At, words.By, words.From, words.In, words.To, words.Did), (*reader).noSizeBehind},
		{of(words.Planned, words.Total), (*reader).plannedSize},
		{of(words.Retract), (*reader).retraction},
		{of(words.Correct), (*reader).correction},
		{of(words.Weekday, words.ShortDay, words.Month, words.Today, words.Yesterday, words.Ahead, words.Last, words.This,
			words.On, words.From,
			words.The, words.Of, words.Span, words.Ago, words.Ordinal, words.Article, words.Few, words.Hence, words.Ones,
			words.Couple, words.Vague, words.Between, words.Now), (*reader).dayPhrase},
		{of(words.Part), (*reader).pastHour},
		{of(words.Ones, words.Tens, words.Hundred, words.Part, words.Couple, words.Article,
			words.The, words.Minute), (*reader).spelledNumber},
		{of(words.Rest, words.Off, words.Between), (*reader).rest},
		{of(words.Effort, words.Reserve, words.Feel, words.With), (*reader).effortPhrase},
		{of(words.Unaided), (*reader).alone},
		{of(words.Phase), (*reader).lowering},
		{of(words.With, words.Without), (*reader).withIt},
		{of(words.Not, words.Without, words.None), (*reader).negation},
		{of(words.Toes, words.Band, words.Partner, words.With, words.Assisted, words.BandKind, words.Kip), (*reader).helpPhrase},
		{of(words.Body, words.Load, words.With, words.Counter), (*reader).loadWords},
		{of(words.Every, words.Each), (*reader).cadence},
		{of(words.Left, words.Right, words.Each, words.Both), (*reader).sidePhrase},
		{of(words.On), (*reader).nthTry},
		{of(words.Set, words.Rep), (*reader).formField},
		{of(words.Ordinal, words.Last, words.Set, words.Round, words.The, words.On), (*reader).whichSets},
		{of(words.Cut), (*reader).cutShort},
		{of(words.Fail, words.Times), (*reader).fail},
		{of(words.Try), (*reader).try},
		{of(words.Made, words.None), (*reader).outcome},
		{of(words.Often, words.Times), (*reader).timesAlone},
		{of(words.Same), (*reader).sameAgain},
		{of(words.Scheme), (*reader).scheme},
		{of(words.Tally), (*reader).tally},
	}
}

// wordPhrase reads what begins with a word. Marks that only count lines are tried
// first and names second, since a rung may be called by any words.
func (r *reader) wordPhrase(i int) (phrase, bool) {
	for _, mark := range [...]rule{(*reader).letterMark, (*reader).wordMark} {
		if p, ok := mark(r, i); ok {
			return p, true
		}
	}
	p, named := r.name(i)
	if next, ok := words.Phrase(r.t, i, words.Exercise); ok && !(named && p.to >= next) {
		return phrase{kind: exercise, from: i, to: next}, true
	}
	if named {
		if part, ok := r.lowering(i); ok && r.sized { // pull-ups 3x4, lowering about five seconds
			return part, true
		}
		return p, true
	}
	if r.words[i] == nil {
		if r.isPeriod(i) {
			return r.sizePhrase(i)
		}
		return r.shortRest(i)
	}
	for k := range wordRules {
		if word := r.words[i]; word.Classes.Any(wordRules[k].on) || word.Begins.Any(wordRules[k].on) {
			if p, ok := wordRules[k].rule(r, i); ok {
				return p, true
			}
		}
	}
	return r.plainWord(i)
}

// plainWord reads a word that begins no phrase of several words.
func (r *reader) plainWord(i int) (phrase, bool) {
	for _, class := range [...]words.Class{words.Correct, words.Doubtful, words.Harmless} {
		next, ok := words.Phrase(r.t, i, class)
		corrects := ok && class == words.Correct && r.amends(i, next)
		switch {
		case !ok, !corrects && r.is(next-1, words.Was): // it was 3x25 last week
		case corrects:
			return phrase{kind: correction, from: i, to: next}, true
		case class == words.Doubtful, r.sized && r.is(i, words.Retract): // scratch that, with nothing behind it
			return phrase{kind: doubtful, from: i, to: next}, true
		default:
			return phrase{kind: filler, from: i, to: next}, true
		}
	}
	if next, ok := words.Phrase(r.t, i, words.Then); ok { // after that
		return phrase{kind: separator, at: '>', from: i, to: next}, true
	}
	switch {
	case r.is(i, words.And):
		return sign('&', i), true
	case r.is(i, words.Then):
		return r.then(i), true
	case r.is(i, words.Exercise) && !r.names.Part(r.t.Word(i)): // plank, unless a rung is called by it
		return one(exercise, i), true
	case r.is(i, words.Doubtful) && !(r.is(i, words.Approx) && r.secondsAt(i+1)): // maybe 15 seconds
		return one(hedge, i), true
	case r.is(i, words.Approx), r.any(i, sayNothing):
		return one(filler, i), true
	case r.is(i, words.Or):
		return sign('|', i), true
	}
	return phrase{}, false
}

// sayNothing are classes of words that may stand between a size and a skill.
var sayNothing = words.OfClasses(words.Harmless, words.Plain, words.Did, words.Of, words.For, words.At, words.In, words.On, words.To,
	words.From, words.Article, words.The, words.This, words.My, words.With, words.Was, words.Only, words.Full, words.Each, words.Today,
	words.Feel, words.Both, words.Few, words.Address, words.DayPart)

func (r *reader) then(i int) phrase {
	p := sign('>', i)
	for r.is(p.to, words.By) {
		p.to++
	}
	return p
}

// name reads a skill's or a ladder's name.
func (r *reader) name(i int) (phrase, bool) {
	found, next, ok := r.names.At(r.t, i)
	if !ok {
		return phrase{}, false
	}
	if found.Ladder {
		l := &r.names.Ladders[found.At]
		if l.Only >= 0 && !r.is(i, words.Try) {
			return phrase{kind: skill, at: l.Only, from: i, to: next}, true
		}
		return phrase{kind: ladder, at: found.At, from: i, to: next}, l.Only < 0
	}
	at, next := r.onRings(found.At, next)
	if r.purpose(i, at) {
		return phrase{kind: filler, from: i, to: next}, true
	}
	ahead, end, more := r.names.At(r.t, next)
	if more && !ahead.Ladder && r.isTried(at) && r.names.Rungs[ahead.At].Unit == training.Timed {
		return phrase{kind: skill, at: ahead.At, from: i, to: end}, true // MU transitions
	}
	return phrase{kind: skill, at: at, from: i, to: next}, true
}

// purpose reports whether the name at token i says what another one is for:
// transitions for the muscle-up.
func (r *reader) purpose(i, at int) bool {
	j := i - 1
	for r.is(j, words.The) || r.is(j, words.My) || r.is(j, words.Article) {
		j--
	}
	n := len(r.phrases) - 1
	for n >= 0 && r.phrases[n].kind == filler && r.phrases[n].from >= j {
		n--
	}
	return r.is(j, words.For) && r.isTried(at) && n >= 0 && r.phrases[n].kind == skill && r.phrases[n].to == j
}

// onRings takes "dips on rings" for ring dips, where there is such a rung.
func (r *reader) onRings(at, next int) (int, int) {
	end, ok := words.Phrase(r.t, next, words.OnRings)
	if !ok && r.is(next, words.OnRings) {
		end, ok = next+1, true
	}
	if _, more, named := r.names.At(r.t, end-1); !ok || named && more > end { // on the ring rows
		return at, next
	}
	if ring, ok := r.names.OnRings(at); ok {
		return ring, end
	}
	return at, next
}

// note takes a label behind which no size is meant.
func (r *reader) note(i int) (phrase, bool) {
	return phrase{kind: remark, from: i, to: i + 2}, r.t.Is(i+1, ':') && r.t.Kind(i-1) != text.Word // on a sticky note: 3x9 dips
}

// sameAgain reads same for, ditto and the same again. Other words beside it
// make it a doubt.
func (r *reader) sameAgain(i int) (phrase, bool) {
	if r.is(i+1, words.Adds) && r.sized && !r.is(i+2, words.Ahead) {
		p := phrase{kind: same, from: i, to: i + 2}
		if !r.ends(p.to) {
			p.kind = doubtful
		}
		return p, true
	}
	_, _, named := r.names.At(r.t, i+1)
	_, _, behind := r.names.At(r.t, i+2)
	return one(same, i), named || behind
}
