package sets

import (
	"slices"

	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// person is the least that a person is taken to weigh, in hectograms. A weight
// from there on is somebody's own and no load, unless a plus, a minus or an @
// stands before it.
const person = 400

// loadPhrase reads a weight with its unit: 5kg, 10 lb, 12.5 kg vest, 10kg
// counterweight.
func (r *reader) loadPhrase(i int) (phrase, bool) {
	n, next, ok := r.number(i)
	if !ok {
		return phrase{}, false
	}
	if high, ok := r.rangeTo(amount{milli: n.milli, from: i, to: next}); ok && r.any(high.to, weightUnit) {
		return phrase{kind: load, fault: Range, from: i, to: high.to + 1}, true
	}
	j := r.hyphenTo(next)
	p := phrase{kind: load, from: i, to: j + 1}
	switch {
	case r.is(j, words.Kilogram):
		p.n = int(min(n.milli, text.NumberCap)+50) / 100
	case r.is(j, words.Pound):
		p.n = int((min(n.milli, text.NumberCap)*45359237/100_000_000 + 50) / 100) // 0.45359237 kg (international pound)
	default:
		return phrase{}, false
	}
	if p.n >= person && !r.t.OneOf(i-1, "+@-") || r.is(i-1, words.Label) || r.is(p.to, words.Label) {
		return phrase{kind: figure, from: i, to: p.to}, true
	}
	r.loadTail(&p)
	return p, true
}

// loadTail reads the words behind a weight that say what weighs so much. The
// weight of a vest is a load; that of a counterweight or a band is negative.
func (r *reader) loadTail(p *phrase) {
	for step := 0; step < 4; step++ {
		j := p.to
		of := j
		if r.is(j, words.Of) || r.is(j, words.In) || r.is(j, words.On) || r.is(j, words.Article) {
			of++
		}
		switch {
		case r.is(of, words.Counter), r.is(of, words.Assisted):
			p.n, p.to = -abs(p.n), of+1
		case phraseEnd(r, j, words.Counter) > j:
			p.n, p.to = -abs(p.n), phraseEnd(r, j, words.Counter)
		case r.is(of, words.Band):
			p.n, p.m, p.to = -abs(p.n), 1, of+1
		case r.is(of, words.Load):
			p.to = of + 1
		}
	}
}

// phraseEnd returns the token behind a phrase of the class that begins at token
// i; i for none.
func phraseEnd(r *reader, i int, of words.Class) int {
	next, _ := words.Phrase(r.t, i, of)
	return next
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}

// loadWords reads a load that begins with a word: weighted +5kg, bw, vest 5 kg,
// counterweight 10kg. The body's own weight is no load.
func (r *reader) loadWords(i int) (phrase, bool) {
	j, body, counter := r.loadLead(i)
	if p, ok := r.loadPhrase(j); ok {
		if body && p.kind == load && !r.t.Is(j-1, '+') && p.n >= person {
			p.kind = figure
		}
		if counter {
			p.n = -abs(p.n)
		}
		if p.from = i; r.t.Is(p.to, ')') && r.opensWithin(p) {
			p.to++
		}
		return p, true
	}
	if n, next, ok := r.number(j); ok && body {
		switch {
		case r.t.Is(j-1, '+') && (r.ends(next) || r.t.Is(next, '@')): // bw+5
			r.guess("unit", "kilograms")
			return phrase{kind: load, n: int(min(n.milli/100, text.NumberCap)), from: i, to: next}, true
		case n.int() >= person/10 && r.ends(next): // bw 72
			return figureFrom(i, next)
		}
	}
	return one(filler, i), r.is(i, words.Body)
}

// loadSmall are words that may stand before a weight, in addition to those for
// the body's own weight and for a counterweight.
var loadSmall = words.OfClasses(words.Load, words.With, words.Article, words.Of)

// loadLead passes words and signs before a weight and returns the token behind
// them. body and counter say whether the body's own weight or a counterweight
// is named there.
func (r *reader) loadLead(i int) (next int, body, counter bool) {
	next = i
	for step := 0; step < 5; step++ {
		switch {
		case r.is(next, words.Body):
			body = true
			next++
		case r.is(next, words.Counter) && !r.is(next, words.Assisted):
			counter = true
			next++
		case r.any(next, loadSmall), next > i && r.t.OneOf(next, "+:("):
			next++
		}
	}
	return next, body, counter
}

// What made a set easier: values of a phrase's word.
const (
	byBand    = "band"
	byToes    = "toes"
	byPartner = "partner"
	byAssist  = "assist"
	byKip     = "kip"

	without = "without" // there was neither help nor load: no band, without weight
)

// helpLead are words that may stand before the word for what helped.
var helpLead = words.OfClasses(words.With, words.BandKind, words.Article, words.The, words.My, words.Only, words.By, words.Of)

// helps are words for what helped.
var helps = words.OfClasses(words.Toes, words.Band, words.Partner, words.Assisted, words.Kip)

// helpPhrase reads what made a set easier: a band, toes on the floor, a partner.
func (r *reader) helpPhrase(i int) (phrase, bool) {
	if p, ok := r.heldBy(i); ok {
		return p, true
	}
	j := i
	for step := 0; step < 4 && r.any(j, helpLead) && !r.any(j, helps); step++ {
		j++
	}
	with := r.is(i, words.With)
	p := phrase{kind: help, from: i, to: j + 1}
	switch {
	case r.is(j, words.Band):
		p.word, p.to = byBand, r.assistedTail(j+1)
	case r.is(j, words.Toes):
		next, ok := r.footing(j+1, with || r.is(j-1, words.On))
		p.word, p.to = byToes, next
		return p, ok || r.t.Is(j-1, '(') && r.t.Is(j+1, ')')
	case r.is(j, words.Kip):
		p.word = byKip
	case r.is(j, words.Partner):
		p.word, p.to = byPartner, r.assistedTail(j+1)
		return p, with || p.to > j+1 || r.spots(j)
	case r.is(j, words.Assisted):
		p.word = byAssist
		if r.is(j+1, words.By) || r.is(j+1, words.With) || r.is(j+1, words.From) {
			if by, ok := r.helpPhrase(j + 2); ok {
				p.word, p.to = by.word, by.to
			}
		}
	default:
		return phrase{}, false
	}
	return p, true
}

// heldBy reads that somebody held or pushed, with what they held: held my feet,
// gave me a push. If somebody's things were held, it returns a doubt.
func (r *reader) heldBy(i int) (phrase, bool) {
	next, ok := words.Phrase(r.t, i, words.Partner)
	if r.is(next-1, words.My) && !r.any(next, limbs) && !words.Plural(r.t.Word(next)) { // holding my mum's bags
		return phrase{kind: doubtful, from: i, to: next}, ok
	}
	for end := next + 4; next < end && r.t.Kind(next) == text.Word && !r.any(next, aboutWhich) && !r.named(next); next++ {
	}
	return phrase{kind: help, word: byPartner, m: 1, from: i, to: next}, ok
}

// limbs are words for what a helper may hold.
var limbs = words.OfClasses(words.Toes, words.Limb, words.Load)

// aboutWhich are words that speak of sets again behind who held what: held my
// feet for the last set.
var aboutWhich = words.OfClasses(words.Set, words.Round, words.On, words.For, words.Last, words.Ordinal, words.Each, words.Every,
	words.All, words.And, words.Then, words.Ones, words.Rep, words.In)

// oneFoot reads one foot as help: 1 foot down.
func (r *reader) oneFoot(i int) (phrase, bool) {
	n, next, ok := r.number(i)
	if !ok || n.milli != 1000 || !r.is(next, words.Toes) {
		return phrase{}, false
	}
	p, ok := r.helpPhrase(next)
	p.from = i
	return p, ok
}

// spots reports whether the word at token i says by itself that somebody
// helped: spotted, spotter.
func (r *reader) spots(i int) bool { return r.is(i, words.Partner) && r.value(i) == 1 }

// assistedTail passes the rest of band-assisted, behind band.
func (r *reader) assistedTail(i int) int {
	if j := r.hyphenTo(i); r.is(j, words.Assisted) {
		return j + 1
	}
	return i
}

// footSmall are words that may stand between feet and where they are.
var footSmall = words.OfClasses(words.On, words.The, words.Only, words.Article, words.Was, words.Both, words.For, words.Harmless,
	words.My, words.In)

// footing reads where toes or feet are, from the token behind them on, and
// returns the token behind that. helped reports whether they helped. Feet that
// are up, off the floor or on a seat are no help. with says that a with or an
// on stands before the feet: then they help even if no place is named, if no
// word follows.
func (r *reader) footing(i int, with bool) (next int, helped bool) {
	i = r.hyphenTo(i)
	for step := 0; step < 4; step++ {
		switch {
		case r.is(i, words.Floor):
			if _, _, named := r.names.At(r.t, i); named && helped {
				return i, true
			}
			i, helped = i+1, true
		case r.any(i, footSmall) && !r.is(i, words.Set):
			if _, sets := r.whichSets(i); sets { // toes down for the last
				return i, helped
			}
			i++
		}
	}
	return i, helped || with && (r.ends(i) || r.t.Kind(i) == text.Number)
}

// negated are words that, behind a no, change nothing of a set.
var negated = words.OfClasses(words.Toes, words.Load, words.Body, words.Rest)

// easedBy returns the token behind the words in which the no at token i denies
// help or load; i for none. The help or load stands at token j or, if token i
// is a without at the end of its clause, was told before.
func (r *reader) easedBy(i, j int) int {
	p, ok := r.helpPhrase(j)
	switch {
	case ok && p.kind == help:
		return p.to
	case r.any(j, eases):
		return j + 1
	case r.is(i, words.Without) && r.ends(i+1) && (r.lastOf(help) != nil || r.lastOf(load) != nil):
		return i + 1
	}
	return i
}

// eases are words for what makes a set easier or heavier.
var eases = words.OfClasses(words.Toes, words.Load)

// alone reads words that say that a set was done without help or load: on my
// own, vest off.
func (r *reader) alone(i int) (phrase, bool) {
	next, ok := words.Phrase(r.t, i, words.Unaided)
	return phrase{kind: filler, word: without, from: i, to: next}, ok
}

// negation reads a no together with what it denies: help or load (no band,
// without kipping), something that changes nothing of a set (not bad), a size
// that was not done (not 3x20s), or something without which the set is in doubt
// (no lockout).
func (r *reader) negation(i int) (phrase, bool) {
	if r.is(i+1, words.Made) { // none made it
		return phrase{}, false
	}
	if to, ok := words.Phrase(r.t, i, words.Doubtful); ok { // no lockout
		return phrase{kind: doubtful, from: i, to: to}, true
	}
	j := r.pastNegatedSmall(i + 1)
	if to := r.easedBy(i, j); to > i {
		return phrase{kind: filler, word: without, from: i, to: to}, true
	}
	switch {
	case r.any(j, negated):
		return phrase{kind: filler, from: i, to: j + 1}, true
	case j > i+1 && !r.is(i+1, words.Did) && (r.ends(j) || r.is(j, words.And)): // not bad, no chalk
		return phrase{kind: filler, from: i, to: j}, !r.is(i+1, words.Full)
	case r.is(i, words.Not) && (r.t.Kind(i+1) == text.Number || r.is(i+1, words.Ones) && !r.is(i, words.None)): // not 3x20s
		if p, ok := r.sizePhrase(i + 1); ok && (p.kind == sized || p.kind == counted) && !r.is(p.to, words.Suffix) {
			return figureFrom(i, p.to)
		}
	}
	if r.is(i, words.None) && r.unknown(i+1) && !r.skillSoon(i+1) { // no pain
		return one(filler, i), true
	}
	return phrase{}, false
}

// pastNegatedSmall passes words that may stand between a no and what it denies.
func (r *reader) pastNegatedSmall(i int) int {
	for {
		lead := r.any(i, helpLead) && !r.is(i, words.Band)
		nothing := r.is(i, words.Harmless) && !r.is(i, words.Plain)
		if !lead && !nothing && !r.is(i, words.Full) {
			return i
		}
		i++
	}
}

// sidePhrase reads left, right, each side, per arm, both sides.
func (r *reader) sidePhrase(i int) (phrase, bool) {
	p := phrase{kind: side, from: i, to: i + 1}
	switch {
	case r.t.Is(i+1, '/') && r.any(i+2, oneSide): // L/R 12s/10s
		return phrase{kind: doubtful, from: i, to: i + 3}, true
	case r.is(i, words.Left):
		if kept, ok := r.numberedEffort(i + 1); ok { // left two in the tank
			kept.from = i
			return kept, true
		}
		p.word = string(training.Left)
	case r.is(i, words.Right):
		if rest, ok := r.shortRest(i); ok {
			return rest, true
		}
		p.word = string(training.Right)
	default:
		return r.eachSide(i)
	}
	if !r.ends(i+1) && !r.any(i+1, besideSide) && !(r.t.Glued(i) && len(r.t.Word(i)) == 1) { // right after
		return phrase{}, false
	}
	if r.is(p.to, words.Limb) {
		p.to++
	}
	if r.t.Is(p.to, ':') {
		p.to++
	}
	return p, true
}

// oneSide are words for one side.
var oneSide = words.OfClasses(words.Left, words.Right)

// besideSide are words that may stand right behind a side.
var besideSide = words.OfClasses(words.Limb, words.And, words.Then, words.With, words.Left, words.Right, words.Times, words.Often,
	words.Rest, words.Ones)

// eachSide reads each side, per arm. The word each alone says that a size is
// the size of every set.
func (r *reader) eachSide(i int) (phrase, bool) {
	j := i + 1
	for r.is(j, words.Of) || r.is(j, words.The) {
		j++
	}
	if r.is(j, words.Limb) {
		return phrase{kind: side, word: string(training.Each), from: i, to: j + 1}, true
	}
	number := r.t.Kind(i+1) == text.Number || r.numberWord(i+1)
	return one(each, i), r.is(i, words.Each) && (number || r.value(i) == 0) // je 7, and not je me repose
}

// withIt reads "with it" and "without it" if help, or that there was none, was
// told before: 4 without the band, 2x8 with it. It is a doubt.
func (r *reader) withIt(i int) (phrase, bool) {
	told := func(p phrase) bool { return p.kind == help || r.saysUnaided(&p) }
	return phrase{kind: doubtful, from: i, to: i + 2}, r.is(i+1, words.Those) && r.ends(i+2) && slices.ContainsFunc(r.phrases, told)
}
