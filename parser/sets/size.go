package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
)

// numberPhrase reads what begins with a number.
func (r *reader) numberPhrase(i int) (phrase, bool) {
	if r.digits(i) > 0 && r.is(i+1, words.Times) && r.t.Kind(i+2) == text.Number && !r.is(i-1, words.Tempo) && !r.t.Is(i-1, '@') { // 3x30: nearly all
		return r.sizePhrase(i)
	}
	return r.firstOf(numberRules, i)
}

// spelledNumber reads a size or a count that begins with a word: thirty seconds, a
// minute, two sets.
func (r *reader) spelledNumber(i int) (phrase, bool) {
	a, ok := r.amount(i)
	if !ok || r.is(a.to, words.Limb) && !r.t.Is(a.to, ':') {
		return phrase{}, false
	}
	p, ok := r.firstOf(numberRules[3:], i)
	lone := ok && p.kind == sized && a.unit == unsaid && p.size.count == 0
	if lone && !r.counting(i, a) { // a word such as one counts nothing by itself
		return phrase{}, false
	}
	return p, ok
}

// counting reports whether a lone number in words tells a size: a skill or another
// number stands beside it.
func (r *reader) counting(i int, a amount) bool {
	_, another := r.amount(a.to)
	if a.milli <= 1000 {
		_, _, named := r.names.At(r.t, a.to)
		for j := a.to; !named && j < a.to+3 && r.any(j, sayNothing); j++ {
			_, _, named = r.names.At(r.t, j+1)
		}
		return named && !another && r.words[i].Value == 1 && r.is(i, words.Ones) && len(r.t.Word(i)) == 3
	}
	if r.skillSoon(a.to) || another {
		return true
	}
	n := len(r.phrases) - 1
	for n > 0 && n >= len(r.phrases)-4 && r.phrases[n].kind == separator {
		n--
	}
	return n >= 0 && (r.phrases[n].kind == sized || r.phrases[n].kind == skill || r.phrases[n].kind == ladder)
}

// ends reports whether no word goes on at token i.
func (r *reader) ends(i int) bool { return r.t.Kind(i) != text.Word }

// sizePhrase reads one size at a number: 3x30s, 3 sets of 30 s, 30s x 3, 5 reps,
// 3x5x10s, or a bare number. A number that counts sets or rounds without a size
// behind it is a count.
func (r *reader) sizePhrase(i int) (phrase, bool) {
	a, ok := r.amount(i)
	if !ok {
		return phrase{}, false
	}
	if p, ok := r.rangePhrase(a); ok {
		return p, true
	}
	if a.unit == unsaid && a.fault == "" {
		if p, ok := r.counted(a); ok {
			return p, true
		}
	}
	p := ofAmount(a)
	if a.unit == reps {
		r.secondsOfReps(&p)
	}
	r.countBehind(&p)
	return p, true
}

func ofAmount(a amount) phrase {
	return phrase{kind: sized, size: size{amount: a}, from: a.from, to: a.to, fault: a.fault}
}

// rangePhrase reads a range, as in 2-3 sets or 20-25s: it says what was meant to be
// done and not what was.
func (r *reader) rangePhrase(low amount) (phrase, bool) {
	high, ok := r.rangeTo(low)
	if !ok {
		return phrase{}, false
	}
	p := ofAmount(high)
	if high.unit == unsaid {
		if count, ok := r.counted(high); ok {
			p = count
		}
	}
	p.from, p.fault = low.from, Range
	return p, true
}

// rangeTo returns the upper end of a range whose lower end was read: a hyphen with
// no blanks, or "to", and a larger number. Three numbers or more are a list.
func (r *reader) rangeTo(low amount) (high amount, ok bool) {
	at := low.to
	dash := r.t.GluedSign(at, '-') && r.t.Kind(at+1) == text.Number
	if !dash && !(r.is(at, words.To) && len(r.t.Word(at)) == 2) || low.fault != "" {
		return high, false
	}
	high, ok = r.amount(at + 1)
	switch {
	case !ok || high.fault != "" || high.milli <= low.milli && low.unit == high.unit:
		return high, false
	case low.unit == unsaid && high.unit == seconds && r.t.Tokens[low.from].N >= r.t.Tokens[high.from].N, low.unit != unsaid && high.unit != low.unit:
		return high, false
	case r.t.Is(low.from-1, '-') || r.t.Is(low.from-1, '/') || r.t.Is(low.from-1, ',') && r.t.Kind(low.from-2) == text.Number:
		return high, false
	}
	more := r.t.Is(high.to, '-') || r.t.Is(high.to, '/') || r.t.Is(high.to, ',') || r.t.Is(high.to, '+')
	return high, !(more && r.t.Kind(high.to+1) == text.Number)
}

// counted reads a count and what it is of.
func (r *reader) counted(a amount) (phrase, bool) {
	n := int(min(a.milli/1000, text.NumberCap))
	j, how := r.countWord(a.to)
	joined := r.t.Is(a.from-1, '+') || r.is(a.from-1, words.And)
	if how == none && joined && r.is(a.to, words.Fail) && r.ends(a.to+1) && a.whole && n <= 20 { // + 1 failed
		return phrase{kind: failed, size: size{count: n}, from: a.from, to: a.to + 1}, true
	}
	if how == none {
		return r.timedCount(a, n)
	}
	p := phrase{kind: counted, size: size{amount: a, count: n, rounds: how == byRound, loud: how != byTimes}, from: a.from, to: j}
	if !a.whole {
		p.fault = FractionalCount
	}
	of := r.pastCountSmall(j)
	bracket := r.t.Is(j, '(') || r.t.Is(j, ':')
	if bracket && r.severalSkills(j) { // 3x(30s deep hang + 20s support)
		p.size.rounds = true
		return p, true
	}
	_, day := r.dayPhrase(of)
	_, rests := r.timedRest(of)
	if sub, ok := r.amount(of); ok && !day && !rests && !(how == byRound && r.t.Is(j, ':')) {
		p = r.countedSize(p, sub)
	} else if r.is(of, words.Fail) {
		p = phrase{kind: failed, size: size{count: n}, from: a.from, to: of + 1}
	}
	if n == 0 && a.whole {
		p.fault = ZeroSize
	}
	return p, true
}

// timedCount reads a count with its time right behind it and nothing between: 3
// 30s.
func (r *reader) timedCount(a amount, n int) (phrase, bool) {
	next, ok := r.amount(a.to)
	timed := ok && next.unit == seconds && next.fault == "" && !r.t.Glued(a.to)
	if !timed || n > 20 || n == 0 || !a.whole || r.t.Kind(a.from-1) == text.Number {
		return phrase{}, false
	}
	if _, rests := r.timedRest(a.to); rests { // 5, 5, 4 60s rest
		return phrase{}, false
	}
	p := ofAmount(next)
	p.size.count, p.from = n, a.from
	return p, true
}

// how a number is said to be a count.
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
	case r.is(i, words.Set):
		if r.is(i+1, words.Times) {
			return i + 2, bySet
		}
		return i + 1, bySet
	case r.is(i, words.Times) && r.is(i+1, words.Round): // 3 times through
		return i + 2, byRound
	case r.is(i, words.Times):
		if r.is(i+1, words.Times) {
			i++
		}
		if len(r.t.Word(i)) == 1 && !r.t.Glued(i) && r.ends(i+1) && r.t.Kind(i+1) != text.Number && !r.t.Is(i+1, '(') && !r.t.Is(i+1, ':') { // 30 30 x
			return i, none
		}
		return i + 1, byTimes
	case r.is(i, words.Goes) && r.is(i+1, words.Of):
		if a, ok := r.amount(i + 2); ok && a.unit == seconds {
			return i + 1, bySet
		}
	case r.countedSets(i) > i: // 3 good sets, 2 warm-up sets
		return r.countedSets(i), bySet
	case r.is(i, words.Of) && r.t.Kind(i+1) == text.Number: // 3 of 25s
		if a, ok := r.amount(i + 1); ok && a.unit == seconds {
			return i, bySet
		}
	}
	return i, none
}

// countedSets returns the token behind "good sets" or "warm-up sets" at token i, or
// i where no sets are counted.
func (r *reader) countedSets(i int) int {
	for j := i; j < i+3; j++ {
		switch {
		case j > i && r.is(j, words.Set):
			return j + 1
		case r.is(j, words.Of), r.is(j, words.For), r.is(j, words.Last), r.is(j, words.Ordinal), !r.any(j, sayNothing) && !r.is(j, words.Activity) && !r.t.Is(j, '-') && !r.endsActivity(j):
			return i
		}
	}
	return i
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
		case r.t.Kind(i+1) == text.Number && (r.t.Is(i, '@') || r.t.Is(i, ':') || r.t.Is(i, '(') || r.t.Is(i, '=')):
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
	for j := i + 1; j < i+40 && !r.t.Is(j, ')') && !(r.t.Is(j, '.') && !r.t.GluedSign(j, '.')) && !r.t.Is(j, ';') && r.t.Kind(j) != text.Line && r.t.Kind(j) != text.End; j++ {
		switch _, next, ok := r.names.At(r.t, j); {
		case ok:
			names++
			j = next - 1
		case r.t.Kind(j) == text.Word && r.words[j] == nil && r.t.Kind(j-1) != text.Number: // perhaps one misspelt
			names++
		case r.is(j, words.Set) || r.is(j, words.Round):
			return names > 1
		}
	}
	return names > 1
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
	case a.unit == unsaid && (r.is(a.to, words.Kilogram) || r.is(a.to, words.Pound)) && r.t.Glued(a.to): // 3x30kg
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

// opensWithin reports whether a bracket opened inside the phrase.
func (r *reader) opensWithin(p phrase) bool {
	for j := p.from; j < p.to; j++ {
		if r.t.Is(j, '(') {
			return true
		}
	}
	return false
}

// secondsOfReps reads the seconds of each rep: 5 reps of 3s, 5 reps x 3s.
func (r *reader) secondsOfReps(p *phrase) {
	j := p.to
	if !r.is(j, words.Of) && !r.is(j, words.Times) && !r.is(j, words.At) && !r.t.Is(j, '@') {
		return
	}
	if a, ok := r.amount(j + 1); ok && a.unit == seconds {
		p.size.reps = int(min(p.size.milli/1000, text.NumberCap))
		p.size.milli, p.size.unit, p.to = a.milli, seconds, a.to
	}
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
	end, by := r.countWord(next)
	switch {
	case by == bySet || by == byRound:
	case times && by == none && !r.any(r.hyphenTo(next), anyUnit):
		end = next
	case k == j && by == byTimes && len(r.t.Word(end-1)) > 1: // 30s three times
	default:
		return
	}
	if sub, ok := r.amount(r.pastCountSmall(end)); ok && by != none && sub.unit != unsaid {
		return // the count belongs to the size behind it
	}
	p.size.count, p.size.loud, p.size.behind, p.size.rounds, p.to = n.int(), true, true, by == byRound, end
}

// timesAlone reads a count that stands alone: x3, twice, times three.
func (r *reader) timesAlone(i int) (phrase, bool) {
	if r.is(i, words.Often) {
		return phrase{kind: counted, size: size{count: r.value(i)}, from: i, to: i + 1}, true
	}
	if p, ok := r.loadPhrase(i + 1); ok && r.t.Glued(i) { // 3x6x10kg
		return p, true
	}
	n, next, ok := r.number(i + 1)
	if !ok || !n.whole {
		return phrase{}, false
	}
	p := phrase{kind: counted, size: size{count: n.int(), behind: true}, from: i, to: next}
	if end, by := r.countWord(next); by != none {
		p.to, p.size.rounds = end, by == byRound
	}
	return p, true
}

// onOff reads work and rest by turns: 30s on, 30s off; 30 on 30 off; 1 min on
// / 1 min off. It yields the size; the rest follows as a phrase of its own.
func (r *reader) onOff(i int) (phrase, bool) {
	on, ok := r.amount(i)
	if !ok || on.unit == reps || on.fault != "" || !r.is(on.to, words.On) {
		return phrase{}, false
	}
	j := on.to + 1
	for r.t.Is(j, ',') || r.t.Is(j, '/') || r.t.Is(j, '-') || r.is(j, words.And) {
		j++
	}
	off, ok := r.amount(j)
	if !ok || off.unit == reps || off.fault != "" || !r.is(off.to, words.Off) {
		return phrase{}, false
	}
	p := ofAmount(on)
	if on.unit == unsaid {
		p.size.unit, p.size.milli = seconds, bareTime(on.milli)
	}
	p.to = on.to + 1
	return p, true
}

// bareTime takes a bare time up to five for minutes, a longer one for seconds.
func bareTime(milli int64) int64 {
	if milli <= 5000 {
		return milli * 60
	}
	return milli
}
