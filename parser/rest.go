package parser

// timedRest reads a length of time that a word behind it makes a rest: 60s
// rest, 60 s between sets, 1 min off.
func (r *reader) timedRest(i int) (item, bool) {
	q, ok := r.longer(i)
	if !ok || q.unit == uRep || q.code != 0 {
		return item{}, false
	}
	j := r.hyphenTo(q.to)
	if r.has(j, fOf) {
		j++
	}
	if r.is(j, "complete") || r.is(j, "full") {
		j++
	}
	if q2, ok := r.longer(j + 1); ok && r.has(j, fRest) && (q2.unit == uSec || r.sepAt(q2.to)) { // 16s rest 60s
		return item{}, false
	}
	if r.is(j, "in") && r.has(j+1, fBetween) {
		j++
	}
	switch {
	case r.has(j, fRest) && !(r.has(j+1, fDays) || r.is(j+1, "day")), r.has(j, fOff), r.has(j, fBetween) && !r.is(j, "after"):
		if q.unit == uNone && r.is(j, "off") && r.toks[j+1].kind != kEnd && !r.sepAt(j+1) {
			return item{}, false
		}
	default:
		return item{}, false
	}
	return item{k: iRest, n: restSeconds(q), from: int32(i), to: int32(r.restTail(j + 1))}, true
}

// longer reads a length of time, of a range the longer one: 60-90s.
func (r *reader) longer(i int) (quantity, bool) {
	q, ok := r.quantity(i)
	if high, isRange := r.rangeTo(q); ok && isRange {
		return high, true
	}
	return q, ok
}

// restSeconds takes a bare rest up to five for minutes, a longer one for
// seconds.
func restSeconds(q quantity) int32 {
	if q.unit == uNone && q.milli <= 5000 {
		return int32(q.milli / 1000 * 60)
	}
	return int32(min(q.milli/1000, numCap))
}

// rest reads a rest that begins with its word: rest 60s, rest: 1:30, off 60s,
// rested 2-3 min between sets. Alone in its clause it is a rest without a
// length.
func (r *reader) rest(i int) (item, bool) {
	j := i + 1
	for step := 0; step < 4; step++ {
		if r.punct(j, ':') || r.punct(j, '=') || r.punct(j, '~') || r.punct(j, '-') || r.has(j, fOf|fFeel|fSet|fBetween) || r.is(j, "was") || r.is(j, "for") || r.is(j, "a") && !r.unitAt(j+1) || r.is(j, "is") || r.is(j, "the") || r.is(j, "time") || r.is(j, "times") || r.is(j, "each") {
			j++
		}
	}
	if r.is(j, "the") {
		j++
	}
	q, ok := r.longer(j)
	if r.is(i, "off") && r.hasMood(i-1, mDid) && !(ok && q.unit == uSec) { // knocked off 5 dips
		return one(iFill, i), true
	}
	if !ok || q.unit == uRep || q.code != 0 {
		if r.has(i, fOff) && !r.is(i, "rest") || !r.sepAt(i+1) || !(i == 0 || r.sepAt(i-1) || r.has(i-1, fWith)) {
			return item{}, false
		}
		return item{k: iRest, n: -1, from: int32(i), to: int32(i + 1)}, true
	}
	if r.has(q.to, fDays) || q.unit == uNone && r.has(q.to, fTimes) {
		return item{}, false
	}
	return item{k: iRest, n: restSeconds(q), from: int32(i), to: int32(r.restTail(q.to))}, true
}

// shortRest reads r60: the letter glued to its seconds, where no left stands
// beside it.
func (r *reader) shortRest(i int) (item, bool) {
	colon := r.punct(i+1, ':') && r.toks[i+2].kind == kNum // r: 60s
	if !r.is(i, "r") || !r.toks[i+1].glued || r.toks[i+1].kind != kNum && !colon {
		return item{}, false
	}
	for j := max(0, i-5); j < i; j++ {
		if r.has(j, fLeft) {
			return item{}, false
		}
	}
	from := i
	if colon {
		i++
	}
	q, ok := r.quantity(i + 1)
	if !ok || q.unit == uRep || q.milli < 20_000 {
		return item{}, false
	}
	return item{k: iRest, n: restSeconds(q), from: int32(from), to: int32(q.to)}, true
}

// restTail passes "rest between each set".
func (r *reader) restTail(i int) int {
	for step := 0; step < 5; step++ {
		switch {
		case r.has(i, fRest|fBetween), r.has(i, fEach) && !r.has(i+1, fLimb), step > 0 && r.has(i, fSet|fRound|fTry), r.is(i, "them"), r.is(i, "efforts"), r.is(i, "the") && r.has(i+1, fSet):
			i++
		case r.is(i, "in") && r.has(i+1, fBetween):
			i += 2
		default:
			return i
		}
	}
	return i
}

// sepAt reports whether a clause ends before token i.
func (r *reader) sepAt(i int) bool {
	t := &r.toks[i]
	return t.kind == kEnd || t.kind == kLine || t.kind == kPunct && t.n != '@' && t.n != '~' && t.n != '\'' && t.n != '-' || t.kind == kSign
}

// onOff reads work and rest by turns: 30s on, 30s off; 30 on 30 off; 1 min on
// / 1 min off. It yields the size; the rest follows as an item of its own.
func (r *reader) onOff(i int) (item, bool) {
	on, ok := r.quantity(i)
	if !ok || on.unit == uRep || on.code != 0 {
		return item{}, false
	}
	j := on.to
	if !r.has(j, fOn) {
		return item{}, false
	}
	j++
	for r.punct(j, ',') || r.punct(j, '/') || r.punct(j, '-') || r.has(j, fAnd) {
		j++
	}
	off, ok := r.quantity(j)
	if !ok || off.unit == uRep || off.code != 0 || !r.has(off.to, fOff) {
		return item{}, false
	}
	it := sized(on)
	if it.unit == uNone {
		it.unit = uSec
		if it.milli <= 5000 {
			it.milli *= 60
		}
	}
	it.to = int32(on.to + 1)
	return it, true
}
