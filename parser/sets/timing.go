package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// Times that are no sizes: a time of day, how long something else took, how
// long a part of each rep took, and how often a set was begun.

// longTime reads a length of time that is no size: hours, or the time of
// another activity.
func (r *reader) longTime(i int) (phrase, bool) {
	a, ok := r.amount(i)
	if !ok || a.unit != seconds || a.fault != "" {
		return phrase{}, false
	}
	for j := i; j < a.to; j++ {
		named := len(r.phrases) > 0 && r.phrases[len(r.phrases)-1].kind == skill
		if r.is(j, words.Hour) && a.milli >= 3_600_000 && !named {
			return figureFrom(i, a.to)
		}
	}
	j := r.pastOf(r.hyphenTo(a.to))
	if end, ok := words.Phrase(r.t, j, words.Activity); ok {
		return figureFrom(i, end)
	}
	if r.is(j, words.Activity) && a.milli >= 60_000 {
		return figureFrom(i, j+1)
	}
	return phrase{}, false
}

// timeOfDay returns the token behind a time of day at token i: 7pm, 18h, 19h30,
// 18-19h. It takes 18:30 for one if that opens a line or if am or pm follows.
// It returns i for none.
func (r *reader) timeOfDay(i int) int {
	n, ok := r.num(i)
	if !ok || n > 24 {
		return i
	}
	j := i + 1
	if second, ok := r.num(i + 2); ok && r.t.GluedSign(i+1, '-') && second <= 24 { // 18-19h
		j = i + 3
	}
	if a, ok := r.clock(i); ok && a.to == i+3 && a.fault == "" && n < 24 {
		j = a.to
		if r.headsLine(i, j) && n >= 5 {
			return j
		}
	}
	switch {
	case r.is(j, words.Noon):
		return j + 1
	case r.is(j, words.Hour) && r.t.Glued(j) && len(r.t.Word(j)) == 1 && n >= 5:
		if r.t.Kind(j+1) == text.Number && r.t.Glued(j+1) && r.digits(j+1) == 2 {
			return j + 2
		}
		return j + 1
	}
	return i
}

// pastHour reads a time of day in words: half past ten, quarter to 8.
func (r *reader) pastHour(i int) (phrase, bool) {
	_, next, ok := r.number(i + 2)
	return phrase{kind: figure, from: i, to: next}, ok && (r.is(i+1, words.Last) || r.quarterAt(i) && r.is(i+1, words.To))
}

// dottedClock reports whether a time of day with a dot stands at token i: it
// opens a line, and a skill follows: 8.00 deep hang 30s. If its minutes may be
// a month, a line before it must have begun with a time whose minutes may not.
func (r *reader) dottedClock(i int) bool {
	n, _ := r.num(i)
	minutes, ok := r.num(i + 2)
	dotted := ok && r.t.GluedSign(i+1, '.') && r.digits(i+2) == 2 && n < 24 && minutes < 60
	if !dotted || !r.opensLine(i) || !r.named(i+3) {
		return false
	}
	r.seen.clocks = r.seen.clocks || minutes == 0 || minutes > 12
	return r.seen.clocks
}

// headsLine reports whether token i opens a line, and no unit, count or slash
// stands at token j.
func (r *reader) headsLine(i, j int) bool {
	return r.opensLine(i) && !r.any(j, goesOn) && !r.t.Is(j, '/')
}

// tempo returns the end of a tempo, the seconds of each part of a rep: tempo
// 3-1-1, 3-0-3-0 tempo, @31X1. It returns i where none stands there.
func (r *reader) tempo(i int) int {
	j, parts := i, 0
	for r.digits(j) == 1 && parts < 4 {
		if j, parts = j+1, parts+1; !r.t.GluedSign(j, '-') || r.t.Kind(j+1) != text.Number {
			break
		}
		j++
	}
	said := r.is(i-1, words.Tempo) || r.t.Is(i-1, ':') && r.is(i-2, words.Tempo)
	switch {
	case parts >= 3 && (said || r.is(j, words.Tempo)):
	case r.digits(i) == 4 && (said || r.is(i+1, words.Tempo)):
		j = i + 1
	case r.digits(i) == 2 && r.is(i+1, words.Times) && r.t.Glued(i+1) && r.digits(i+2) == 1 && (said || r.t.Is(i-1, '@')):
		j = i + 3
	default:
		return i
	}
	if r.is(j, words.Tempo) {
		j++
	}
	return j
}

// scheme reads a word for how sets follow one another, with the number it goes
// to or comes from, or with how long it went on: a ladder up to 6, a countdown
// from 30, emom 10 min.
func (r *reader) scheme(i int) (phrase, bool) {
	if next, ok := words.Phrase(r.t, i, words.Scheme); ok || !r.is(i, words.Scheme) { // several sets
		return phrase{kind: hedge, from: i, to: next}, ok
	}
	j := i + 1
	for r.is(j, words.For) || r.is(j, words.To) || r.is(j, words.From) || r.is(j, words.Phase) || string(r.t.Word(j)) == "up" {
		j++
	}
	if a, ok := r.amount(j); ok && (a.unit == seconds || r.is(j-1, words.To) || r.is(j-1, words.From)) {
		return r.setsIn(i, a, r.value(i)), true
	}
	return one(hedge, i), true
}

// setsIn returns the count of sets in a time when one begins every so many
// seconds. If they do not fill the time, or are too few or too many, it returns
// words that may change what was done. The phrase begins at token i.
func (r *reader) setsIn(i int, all amount, every int) phrase {
	p := phrase{kind: counted, size: size{count: int(all.milli/1000) / max(every, 1), loud: true}, from: i, to: all.to}
	if n := p.size.count; n < 2 || n > mostSets || int64(n*every)*1000 != all.milli {
		if p.kind = hedge; !r.is(i, words.Scheme) {
			p.kind = doubtful
		}
	}
	return p
}

// timeOfActivity reads how long something else took: warm-up 10 min, took me 25
// minutes. The phrase begins at token i, and what follows the activity at token
// j.
func (r *reader) timeOfActivity(i, j int) (phrase, bool) {
	for step := 0; step < 3 && (r.any(j, tookSmall) || r.t.Is(j, ':')); step++ {
		j++
	}
	a, ok := r.amount(j)
	if !ok || a.unit != seconds || a.milli < 120_000 || a.fault != "" {
		return phrase{}, false
	}
	k := r.pastOf(a.to)
	if _, rests := r.timedRest(j); rests || r.named(k) || r.any(a.to, countWords) {
		return phrase{}, false
	}
	return figureFrom(i, a.to)
}

// tookSmall are words that may stand between an activity and how long it took.
var tookSmall = words.OfClasses(words.Was, words.Only, words.The, words.My, words.Article, words.Correct, words.This, words.Harmless,
	words.For, words.Of, words.Approx)

// atTime reads a time of day at token j behind an at, by, from or until at
// token i. Behind an at it also reads a height: rings at 1.2m.
func (r *reader) atTime(i, j int) (phrase, bool) {
	if to := r.timeOfDay(j); to > j {
		return figureFrom(i, to)
	}
	if a, ok := r.clock(j); ok && a.fault == "" && a.to == j+3 {
		if !r.named(a.to) {
			return figureFrom(i, a.to)
		}
	}
	if a, ok := r.amount(j); ok && !a.whole && r.is(i, words.At) { // rings at 1.2m
		return figureFrom(i, a.to)
	}
	return phrase{}, false
}

// atClock reads a time of day at token j behind a verb at token i: finished
// 20:10.
func (r *reader) atClock(i, j int) (phrase, bool) {
	a, ok := r.clock(j)
	if !ok || a.fault != "" || a.milli < 300_000 || a.milli >= 24*60_000 {
		return phrase{}, false
	}
	return phrase{kind: figure, from: i, to: a.to}, !r.named(a.to)
}

// inTime reads how long it all took, behind the in at token i: in 40 min, 20
// transitions in 1 min. The total of several sets is a fault: 25 in sets of 5.
func (r *reader) inTime(i, j int) (phrase, bool) {
	if n, next, ok := r.number(j + 2); ok && r.is(j, words.Set) && r.is(j+1, words.Of) {
		sets := size{count: max(n.int(), 1), loud: true}
		return phrase{kind: counted, fault: TotalSize, size: sets, from: i, to: next}, true
	}
	a, ok := r.amount(j)
	if !ok || a.unit != seconds || a.milli < 300_000 && !r.sized {
		return phrase{}, false
	}
	return figureFrom(i, a.to)
}

// partOfRep reads how long a part of each rep took, which is not the time of
// the set: five seconds each way down, a 3 second pause at the top.
func (r *reader) partOfRep(i int) (phrase, bool) {
	a, ok := r.longer(i)
	if !ok || a.unit != seconds || a.milli > maxRepS*1000 {
		return phrase{}, false
	}
	for j := a.to; j < a.to+5; j++ {
		if next, ok := r.phaseAt(j); ok {
			return phrase{kind: filler, from: i, to: r.pass(next, phaseTail)}, r.repsNamed(j, next)
		}
		if !r.any(j, phaseSmall) {
			break
		}
	}
	return phrase{}, false
}

// lowering reads how long a part of each rep took where the word for that part
// stands first: lowering about five seconds each.
func (r *reader) lowering(i int) (phrase, bool) {
	next, ok := r.phaseAt(i)
	next = r.pass(next, phaseSmall)
	a, timed := r.longer(next)
	short := timed && a.unit == seconds && a.milli <= maxRepS*1000
	return phrase{kind: filler, from: i, to: r.pass(a.to, phaseTail)}, ok && short && !r.is(i, words.Floor) && r.repsNamed(i, a.to)
}

// phaseAt passes the words for a part of a rep at token i. ok is false if there
// are none.
func (r *reader) phaseAt(i int) (next int, ok bool) {
	if next, ok := words.Phrase(r.t, i, words.Phase); ok {
		return next, true
	}
	return i + 1, r.is(i, words.Phase)
}

// repsNamed reports whether the skill that was named last is counted in reps.
// If none was named yet, it reports whether neither the word for the part of a
// rep, at token word, nor those from token behind on name one: 5s lowering.
func (r *reader) repsNamed(word, behind int) bool {
	if p := r.lastOf(skill); p != nil {
		return r.names.Rungs[p.at].Unit == training.Counted
	}
	return !r.named(word) && !r.skillSoon(behind)
}

// phaseSmall are words that may stand between the time of a part of a rep and
// the word for the part. phaseTail are words that may stand behind both.
var (
	phaseSmall = words.OfClasses(words.Each, words.Every, words.On, words.The, words.In, words.For, words.Rest, words.Harmless,
		words.Approx)
	phaseTail = words.OfClasses(words.Each, words.Every, words.Rep, words.Of, words.Approx)
)

// cadence reads how often a set was begun and, if it is said, for how long:
// every 2 min, every minute for 10 minutes.
func (r *reader) cadence(i int) (phrase, bool) {
	to, every := i+1, 0
	if a, ok := r.amount(to); ok && a.unit == seconds && r.is(i, words.Every) {
		to, every = a.to, int(a.milli/1000)
	} else if to++; !r.any(i+1, timeUnit) {
		return phrase{}, false
	} else if r.is(i+1, words.Minute) {
		every = 60
	}
	if a, ok := r.amount(to + 1); ok && r.is(to, words.For) && a.unit == seconds {
		return r.setsIn(i, a, every), true
	}
	return phrase{kind: filler, from: i, to: to}, true
}
