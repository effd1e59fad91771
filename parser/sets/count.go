package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
)

// Counts: which words make a number one, and which size, behind it or before
// it, it is of.

// mostSets is the most sets of one size that people speak of. A larger number
// right before a time or a failure is no count, and no number of a set. A count
// with x may be larger: see maxCount.
const mostSets = 20

// counted reads a count and what it is of.
func (r *reader) counted(a amount) (phrase, bool) {
	n := int(min(a.milli/1000, text.NumberCap))
	j, how := r.countWord(a.to)
	if how == none {
		return r.countedBare(a, n)
	}
	rounds := how == byRound || r.is(j, words.Of) && (r.is(j+1, words.Both) || r.is(j+1, words.Each)) // 4 sets of both
	p := phrase{kind: counted, size: size{amount: a, count: n, rounds: rounds, loud: how != byTimes}, from: a.from, to: j}
	if !a.whole {
		p.fault = FractionalCount
	}
	if r.t.OneOf(j, "(:") && r.severalSkills(j) { // 3x(30s deep hang + 20s support)
		p.size.rounds = true
		return p, true
	}
	of := r.pastCountSmall(j)
	if sub, ok := r.amount(of); ok && r.ofCount(sub, j, how) {
		p = r.countedSize(p, sub)
	} else if r.is(of, words.Fail) {
		p = phrase{kind: failed, size: size{count: n}, from: a.from, to: of + 1}
	}
	if n == 0 && a.whole {
		p.fault = ZeroSize
	}
	return p, true
}

// countedBare reads a count that no word of its own shows to be one.
func (r *reader) countedBare(a amount, n int) (phrase, bool) {
	few := a.whole && n > 0 && n <= mostSets
	switch {
	case few && r.is(a.to, words.Tally): // three fives
		p := ofAmount(whole(r.value(a.to)))
		p.size.count, p.from, p.to = n, a.from, a.to+1
		return p, true
	case few && r.eachOf(a.from) && r.named(a.to):
		return phrase{kind: counted, size: size{amount: a, count: n, loud: true}, from: a.from, to: a.to}, true
	}
	if p, ok := r.joinedFail(a, n); ok {
		return p, true
	}
	return r.timedCount(a, n)
}

// eachOf reports whether "each of the" ends before token i: 25s in each of the
// 4 high holds.
func (r *reader) eachOf(i int) bool {
	for r.is(i-1, words.The) || r.is(i-1, words.My) || r.is(i-1, words.Of) {
		i--
	}
	return r.is(i-1, words.Each) && r.is(i, words.Of)
}

// joinedFail reads how many more sets failed: + 1 failed, and 2 failed.
func (r *reader) joinedFail(a amount, n int) (phrase, bool) {
	joined := r.t.Is(a.from-1, '+') || r.is(a.from-1, words.And)
	p := phrase{kind: failed, size: size{count: n}, from: a.from, to: a.to + 1}
	return p, joined && r.is(a.to, words.Fail) && r.ends(a.to+1) && a.whole && n <= mostSets
}

// ofCount reports whether an amount is the size of the sets that a count before
// it counts; the count's word ends before token j. A day, a rest and another
// count (2 of 3 sets: 2x30s) are not, nor is what stands behind the colon of
// rounds.
func (r *reader) ofCount(sub amount, j int, how how) bool {
	colon := r.t.Is(j, ':')
	if how == byRound && colon || how != byTimes && colon && r.timesSeconds(sub) {
		return false
	}
	if _, day := r.dayPhrase(sub.from); day {
		return false
	}
	_, rests := r.timedRest(sub.from)
	return !rests
}

// timesSeconds reports whether an amount only counts the seconds behind it: 2x30s.
func (r *reader) timesSeconds(a amount) bool {
	_, by := r.countWord(a.to)
	next, ok := r.amount(a.to + 1)
	return by == byTimes && ok && next.unit == seconds
}

// timedCount reads a count with its time right behind it and nothing between: 3
// 30s.
func (r *reader) timedCount(a amount, n int) (phrase, bool) {
	next, ok := r.amount(a.to)
	timed := ok && next.unit == seconds && next.fault == "" && !r.t.Glued(a.to)
	if !timed || n > mostSets || n == 0 || !a.whole || r.t.Kind(a.from-1) == text.Number {
		return phrase{}, false
	}
	if _, rests := r.timedRest(a.to); rests { // 5, 5, 4 60s rest
		return phrase{}, false
	}
	p := ofAmount(next)
	p.size.count, p.from = n, a.from
	return p, true
}

// how is what makes a number a count.
type how uint8

const (
	none    how = iota
	byTimes     // 3 x
	bySet       // 3 sets
	byRound     // 3 rounds
)

// countWord reads what makes a number a count: x, sets, rounds, times.
func (r *reader) countWord(i int) (next int, by how) {
	i = r.hyphenTo(i)
	switch {
	case r.is(i, words.Times) && r.t.Kind(i+1) == text.Number:
		return i + 1, byTimes
	case r.is(i, words.Round):
		return i + 1, byRound
	case r.numbersSets(i):
	case r.is(i, words.Set):
		if r.is(i+1, words.Times) {
			return i + 2, bySet
		}
		return i + 1, bySet
	case r.is(i, words.Times):
		return r.timesWord(i)
	case r.is(i, words.Goes) && r.is(i+1, words.Of):
		if r.secondsAt(i + 2) {
			return i + 1, bySet
		}
	case r.countedSets(i) > i: // 3 good sets, 2 warm-up sets, 4 full rounds
		if next = r.countedSets(i); r.is(next-1, words.Round) {
			return next, byRound
		}
		return next, bySet
	case r.isTime(i): // 4 time 20 second
		return i + 1, byTimes
	case r.is(i, words.Of) && r.t.Kind(i+1) == text.Number: // 3 of 25s
		if r.secondsAt(i + 1) {
			return i, bySet
		}
	}
	return i, none
}

// isTime reports whether token i is time, said for times: a number stands
// before it and behind it.
func (r *reader) isTime(i int) bool {
	return string(r.t.Word(i)) == "time" && r.t.Kind(i-1) == text.Number && r.t.Kind(i+1) == text.Number
}

// timesWord reads x, times, both (times x), and times through, which counts
// rounds. A lone x at the end is a set that failed: 30 30 x.
func (r *reader) timesWord(i int) (next int, by how) {
	if r.is(i+1, words.Round) {
		return i + 2, byRound
	}
	if r.is(i+1, words.Times) {
		i++
	}
	sizeNext := !r.ends(i+1) || r.t.Kind(i+1) == text.Number || r.t.OneOf(i+1, "(:")
	place := r.is(i, words.By) && r.t.Kind(i+1) == text.Word && !r.numberWord(i+1) // five by the door
	if place || len(r.t.Word(i)) == 1 && !r.t.Glued(i) && !sizeNext {
		return i, none
	}
	return i + 1, byTimes
}

// secondsAt reports whether a time stands at token i.
func (r *reader) secondsAt(i int) bool {
	a, ok := r.amount(i)
	return ok && a.unit == seconds
}

// countedSets returns the token behind "good sets" or "warm-up sets" at token
// i, or i where no sets are counted.
func (r *reader) countedSets(i int) int {
	for j := i; j < i+3; j++ {
		switch {
		case j > i && (r.is(j, words.Set) || r.is(j, words.Round)):
			return j + 1
		case r.any(j, leadsSets) || !r.describesSets(j) || r.named(j):
			return i
		}
	}
	return i
}

// leadsSets are words that, between a number and sets, show the number to be of
// something else: 30 for 3 sets, 5 last set.
var leadsSets = words.OfClasses(words.Of, words.For, words.Last, words.Ordinal, words.And)

// describesSets reports whether token i may stand between a count and its sets.
func (r *reader) describesSets(i int) bool {
	return r.any(i, sayNothing) || r.is(i, words.Activity) || r.t.Is(i, '-') || r.endsActivity(i)
}

// endsActivity reports whether a phrase of an activity ends with token i: warm up.
func (r *reader) endsActivity(i int) bool {
	next, ok := words.Phrase(r.t, i-1, words.Activity)
	return ok && next == i+1
}

// pastCountSmall passes what may stand between a count and its size.
func (r *reader) pastCountSmall(i int) int {
	for step := 0; step < 3; step++ {
		switch {
		case r.t.Kind(i) == text.Number:
			return i
		case r.is(i, words.Of), r.is(i, words.At), r.is(i, words.For), r.is(i, words.Times):
			i++
		case r.t.Kind(i+1) == text.Number && r.t.OneOf(i, "@:(="):
			i++
		default:
			return i
		}
	}
	return i
}

// severalSkills reports whether several skills are named in what a bracket or a
// colon at token i opens.
func (r *reader) severalSkills(i int) bool {
	names := 0
	for j := i + 1; j < i+40 && !r.closesPart(j); j++ {
		switch _, next, ok := r.names.At(r.t, j); {
		case ok:
			names++
			j = next - 1
		case r.unknown(j) && r.t.Kind(j-1) != text.Number: // perhaps one misspelt
			names++
		case r.is(j, words.Set) || r.is(j, words.Round):
			return names > 1
		}
	}
	return names > 1
}

// closesPart reports whether a bracket, a sentence or a line ends at token i.
func (r *reader) closesPart(i int) bool {
	stop := r.t.Is(i, '.') && !r.t.GluedSign(i, '.')
	return stop || r.t.OneOf(i, ");") || r.endsLine(i)
}

// countedSize joins a count with the size behind it, and with a second x:
// 3 x 5 x 10s is three sets of five reps of ten seconds.
func (r *reader) countedSize(count phrase, a amount) phrase {
	if r.is(a.to, words.On) { // 4 rounds of 30s on, 30s off
		if on, ok := r.onOff(a.from); ok {
			on.size.count, on.size.loud, on.from = count.size.count, count.size.loud, count.from
			return on
		}
	}
	p := ofAmount(a)
	p.size.count, p.size.loud, p.size.rounds, p.from = count.size.count, count.size.loud, count.size.rounds, count.from
	if count.fault != "" {
		p.fault = count.fault
	}
	if high, ok := r.rangeTo(a); ok { // 3x20-25s
		p.size.amount, p.fault, p.to = high, Range, high.to
		return p
	}
	if a.unit == unsaid && a.whole && r.repsTimesSeconds(&p) {
		return p
	}
	switch {
	case a.unit == reps:
		r.secondsOfReps(&p)
	case a.unit == unsaid && a.whole && r.is(a.to, words.Set) && !count.size.loud: // 6x4 sets: the sets stand behind
		p.size.count, p.size.milli, p.to = int(a.milli/1000), int64(count.size.count)*1000, a.to+1
	case a.unit == unsaid && r.any(a.to, weightUnit) && r.t.Glued(a.to): // 3x30kg
		p.fault, p.to = UnitMismatch, a.to+1
	}
	if r.t.Is(p.to, ')') && r.opensWithin(p) {
		p.to++
	}
	return p
}

// repsTimesSeconds reads the last part of 3 x 5 x 10s.
func (r *reader) repsTimesSeconds(p *phrase) bool {
	j, by := r.countWord(p.to)
	sub, ok := r.amount(j)
	if by != byTimes || !ok || sub.unit != seconds {
		return false
	}
	p.size.reps = int(min(p.size.milli/1000, text.NumberCap))
	p.size.milli, p.size.unit, p.to = sub.milli, seconds, sub.to
	return true
}

// countBehind reads a count behind its size: 30s x 3, 5 reps for 3 sets, 30s
// three times, 30s twice.
func (r *reader) countBehind(p *phrase) {
	j := p.to
	if r.is(j, words.Each) && r.is(j+1, words.Times) {
		j++
	}
	if r.is(j, words.Often) {
		p.size.count, p.size.behind, p.to = r.value(j), true, j+1
		return
	}
	times := r.is(j, words.Times)
	k := j
	if times || r.is(j, words.For) {
		k++
	}
	n, next, ok := r.number(k)
	if !ok || !n.whole || r.timeOfDay(k) > k { // by 7pm
		return
	}
	if high, ok := r.rangeTo(amount{milli: n.milli, from: k, to: next}); ok && high.unit == unsaid { // 30s x 2-3
		p.fault, p.to = Range, high.to
		return
	}
	end, by, ok := r.countEnd(next, times, k > j)
	if !ok {
		return
	}
	p.size.count, p.size.loud, p.size.behind, p.size.rounds, p.to = n.int(), true, true, by == byRound, end
}

// countEnd reads the words that make the number before token i a count of the
// size before that: 30s x 3, 5 reps for 3 sets, 30s three times. times says
// that an x stands before the number; led, that an x or a for does.
func (r *reader) countEnd(i int, times, led bool) (end int, by how, ok bool) {
	end, by = r.countWord(i)
	switch {
	case by == bySet || by == byRound:
	case times && by == none && !r.any(r.hyphenTo(i), anyUnit):
		return i, none, true
	case !led && by == byTimes && len(r.t.Word(end-1)) > 1:
	default:
		return i, none, false
	}
	sub, another := r.amount(r.pastCountSmall(end))
	return end, by, !another || sub.unit == unsaid // or it is the count of the size behind it
}

// timesAlone reads a count that stands alone: x3, twice, times three.
func (r *reader) timesAlone(i int) (phrase, bool) {
	if r.is(i, words.Often) {
		p := phrase{kind: counted, size: size{count: r.value(i)}, from: i, to: i + 1}
		if p.size.rounds = r.is(p.to, words.Round); p.size.rounds { // twice through
			p.to++
		}
		return p, true
	}
	if p, ok := r.loadPhrase(i + 1); ok && r.t.Glued(i) { // 3x6x10kg
		return p, true
	}
	n, next, ok := r.number(i + 1)
	if !ok || !n.whole {
		return phrase{}, false
	}
	if r.is(i, words.By) && r.t.Kind(i-1) != text.Number { // home by 8
		return figureFrom(i, next)
	}
	p := phrase{kind: counted, size: size{count: n.int(), behind: true}, from: i, to: next}
	if end, by := r.countWord(next); by != none {
		p.to, p.size.rounds = end, by == byRound
	}
	return p, true
}
