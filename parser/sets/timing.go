package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
)

// Times that are no sizes: of day, of something else, of each part of a rep, and how
// often a set was begun.

// longTime reads a length of time that is no set: hours, or minutes of something
// else.
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

// timeOfDay returns the end of a time of day at token i: 7pm, 18h, 19h30, 18-19h,
// and 18:30 where it heads a line or is said with am. It returns i for none.
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

// headsLine reports whether what stands from token i to j opens a line, with no unit,
// count or slash behind it.
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

// timeOfActivity reads how long something else took: warm-up 10 min, took me 25
// minutes.
func (r *reader) timeOfActivity(i, j int) (phrase, bool) {
	for step := 0; step < 3 && (r.any(j, small) || r.is(j, words.For) || r.is(j, words.Of) || r.t.Is(j, ':')); step++ {
		j++
	}
	a, ok := r.amount(j)
	if !ok || a.unit != seconds || a.milli < 120_000 || a.fault != "" {
		return phrase{}, false
	}
	k := r.pastOf(a.to)
	if r.named(k) || r.any(a.to, countWords) {
		return phrase{}, false
	}
	return figureFrom(i, a.to)
}

// atTime reads a time of day behind at, by, from, until.
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

// atClock reads a time of day behind a verb: finished 20:10.
func (r *reader) atClock(i, j int) (phrase, bool) {
	a, ok := r.clock(j)
	if !ok || a.fault != "" || a.milli < 300_000 || a.milli >= 24*60_000 {
		return phrase{}, false
	}
	return phrase{kind: figure, from: i, to: a.to}, !r.named(a.to)
}

// inTime reads how long it all took: in 40 min, 20 transitions in 1 min. A total in
// sets of some size is asked about.
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

// cadence passes how often a set was begun, with how long that went on: every 2
// min, every minute for 10 minutes.
func (r *reader) cadence(i int) (phrase, bool) {
	to := i + 1
	if a, ok := r.amount(to); ok && a.unit == seconds {
		to = a.to
	} else if to++; !r.any(i+1, timeUnit) {
		return phrase{}, false
	}
	if a, ok := r.amount(to + 1); ok && r.is(to, words.For) && a.unit == seconds { // how many sets that makes is asked
		return phrase{kind: doubtful, from: i, to: a.to}, true
	}
	return phrase{kind: filler, from: i, to: to}, true
}
