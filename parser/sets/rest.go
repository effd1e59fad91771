package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
)

// makesRest are words that make a length of time beside them a rest.
var makesRest = words.OfClasses(words.Rest, words.Off, words.Between)

// timedRest reads a length of time with a word behind it that makes it a rest:
// 60s rest, 60 s between sets, 1 min off.
func (r *reader) timedRest(i int) (phrase, bool) {
	a, ok := r.longer(i)
	if !ok || a.unit == reps || a.fault != "" {
		return phrase{}, false
	}
	j := r.restWord(a.to)
	_, after := words.Phrase(r.t, j, words.Between)
	if !after && !r.any(j, makesRest) || r.restBehind(j+1) || a.unit == unsaid && !r.bareRest(a, j) {
		return phrase{}, false
	}
	if r.is(j, words.Rest) && r.is(j+1, words.Span) || r.is(j, words.Off) && r.is(j+1, words.The) { // two rest days, 30s off the bar
		return phrase{}, false
	}
	return r.restPhrase(a, i, j+1)
}

// restPhrase makes a rest of a length of time. The phrase begins at token from,
// and its words behind the length at token tail. The rest is of all sets if one
// of its words says so: each, all, between sets, or rest in the plural. A long
// wait before any skill is named is no rest.
func (r *reader) restPhrase(a amount, from, tail int) (phrase, bool) {
	p := phrase{kind: rested, n: restSeconds(a), from: from, to: r.restTail(tail)}
	if p.n >= longWait && r.lastOf(skill) == nil { // waited 50 min
		p.kind = figure
	}
	for i := from; i < p.to || i == p.to && r.is(i, words.All); i++ { // rest 2 min all along
		several := r.is(i, words.Rest) && words.Plural(r.t.Word(i)) // two minute breaks
		if _, after := words.Phrase(r.t, i, words.Between); after || several || r.any(i, ofAll) {
			p.m = 1
		}
	}
	return p, true
}

// longWait is how many seconds a wait must last, before any skill is named, to
// be no rest between sets.
const longWait = 600

// ofAll are words that say that a rest is of all sets.
var ofAll = words.OfClasses(words.Each, words.Between, words.All, words.Every)

// restWord passes what may stand between a length of time and the word that
// makes it a rest: 60 seconds' rest, 60s full rest, 60s in between.
func (r *reader) restWord(i int) int {
	i = r.pastOf(r.hyphenTo(i))
	if r.t.Is(i, '\'') {
		i++
	}
	for r.is(i, words.Full) || r.is(i, words.In) && r.is(i+1, words.Between) {
		i++
	}
	return i
}

// restBehind reports whether a length of time stands at token i, so that the
// word for a rest before token i belongs to that time and not to one before the
// word: 16s rest 60s.
func (r *reader) restBehind(i int) bool {
	for r.t.OneOf(i, ":=") || r.any(i, restSmall) {
		i++
	}
	a, ok := r.longer(i)
	return ok && (a.unit == seconds || r.ends(a.to)) && !r.counts(a)
}

// bareRest reports whether a number without a unit may be the length of a rest,
// when the word at token i stands behind it: 60 rest, 30 off, but not 5
// between, 3 off the box.
func (r *reader) bareRest(a amount, i int) bool {
	switch {
	case r.is(i, words.Between):
		return false
	case r.is(i, words.Off):
		return r.ends(i+1) || r.is(i+1, words.Times)
	}
	return a.milli >= 15_000 || r.is(i+1, words.Between)
}

// counts reports whether an amount is a count: it has no unit, and a word
// behind it says what it counts.
func (r *reader) counts(a amount) bool {
	_, by := r.countWord(a.to)
	return a.unit == unsaid && by != none
}

// longer reads an amount; of a range it reads the larger one: 60-90s.
func (r *reader) longer(i int) (amount, bool) {
	a, ok := r.amount(i)
	if !ok {
		return a, false
	}
	if high, isRange := r.rangeTo(a); isRange {
		return high, true
	}
	return a, true
}

// restSeconds returns the length of a rest in seconds. A number without a unit
// is taken for minutes up to five, above that for seconds.
func restSeconds(a amount) int {
	if a.unit == unsaid {
		a.milli = bareTime(a.milli)
	}
	return int(min(a.milli/1000, text.NumberCap))
}

// restSmall are words that may stand between the word rest and its length.
var restSmall = words.OfClasses(words.Of, words.Feel, words.Set, words.Between, words.Was, words.For, words.The, words.Each, words.My,
	words.Only, words.Full, words.In, words.Approx, words.From)

// rest reads a rest that begins with the word for it: rest 60s, rest: 1:30, off
// 60s, rested 2-3 min between sets.
func (r *reader) rest(i int) (phrase, bool) {
	behind, phrased := words.Phrase(r.t, i, words.Between)
	if !phrased && !r.any(i, makesRest) {
		return phrase{}, false
	}
	a, ok := r.longer(r.pastRestSmall(max(behind, i+1)))
	if r.is(i, words.Off) && r.is(i-1, words.Did) && !(ok && a.unit == seconds) { // knocked off 5 dips
		return one(filler, i), true
	}
	if !ok || a.unit == reps || a.fault != "" {
		return r.restAlone(i)
	}
	bare := a.unit == unsaid && (!r.is(i, words.Rest) || r.any(a.to, countsBare))
	if r.is(a.to, words.Span) || bare {
		return phrase{}, false
	}
	return r.restPhrase(a, i, a.to)
}

// countsBare are words behind a number without a unit that show that it is no
// length of a rest.
var countsBare = words.OfClasses(words.Times, words.Rep, words.Set)

// pastRestSmall passes words and signs that may stand between the word rest and
// its length.
func (r *reader) pastRestSmall(i int) int {
	for step := 0; step < 5; step++ {
		article := r.is(i, words.Article) && !r.any(i+1, timeUnit)
		if article || r.t.OneOf(i, ":=~-") || r.any(i, restSmall) {
			i++
		}
	}
	return i
}

// restAlone reads the word rest that stands alone in its clause: a rest without
// a length. If another clause follows, it is filler: 25s, rest, 25s.
func (r *reader) restAlone(i int) (phrase, bool) {
	alone := r.ends(i+1) && (i == 0 || r.ends(i-1) || r.is(i-1, words.With))
	if alone && r.t.OneOf(i+1, ",.;=") && r.t.Kind(i+2) != text.End { // 25s, rest, 25s
		return one(filler, i), true
	}
	return phrase{kind: rested, n: -1, from: i, to: i + 1}, alone && r.is(i, words.Rest)
}

// shortRest reads a rest whose word is the letter r: r60, r: 60s. With a left
// near it, an r is a right.
func (r *reader) shortRest(i int) (phrase, bool) {
	word := r.t.Word(i)
	if len(word) != 1 || word[0] != 'r' || r.near(i, words.Left) {
		return phrase{}, false
	}
	j := i + 1
	if r.t.Is(j, ':') {
		j++
	}
	a, ok := r.amount(j)
	apart := j == i+1 && !r.t.Glued(j)
	closed := r.t.Is(i-1, ',') && r.ends(a.to) && a.milli >= 45_000
	if r.t.Kind(j) != text.Number || apart && a.unit != seconds && !closed {
		return phrase{}, false
	}
	return phrase{kind: rested, n: restSeconds(a), from: i, to: a.to}, ok && a.unit != reps && a.milli >= 20_000
}

// restTail passes the words of a rest that stand behind its length: rest
// between each set.
func (r *reader) restTail(i int) int {
	for step := 0; step < 6; step++ {
		if next, ok := words.Phrase(r.t, i, words.Between); ok {
			i = next
			continue
		}
		switch {
		case r.is(i, words.Rest), r.is(i, words.Between), r.is(i, words.Each) && !r.is(i+1, words.Limb):
			i++
		case step > 0 && (r.is(i, words.Set) || r.is(i, words.Round) || r.is(i, words.Try) || r.is(i, words.Goes)):
			i++
		case r.is(i, words.In) && r.is(i+1, words.Between), r.is(i, words.The) && r.is(i+1, words.Set):
			i++
		default:
			return i
		}
	}
	return i
}
