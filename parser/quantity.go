package parser

// unit is what a quantity is counted in.
type unit uint8

const (
	uNone unit = iota
	uSec
	uRep
)

// quantity is one number with what it is of: seconds, reps or unsaid.
type quantity struct {
	milli int64 // thousandths of a second or of a rep
	unit  unit
	whole bool
	words bool
	code  fault // a slip in the unit or the clock: the problem's code
	from  int   // tokens, half-open
	to    int
}

// quantity reads a number with its unit, if it has one, at token i.
func (r *reader) quantity(i int) (q quantity, ok bool) {
	if i >= len(r.toks)-1 {
		return q, false
	}
	if t := &r.toks[i]; t.kind == kWord && t.f == 0 && r.toks[i+1].glued && r.isPeriod(i) { // PT1M30S
		q, ok = r.quantity(i + 1)
		q.from = i
		return q, ok && q.unit == uSec
	}
	if q, ok := r.clockTime(i); ok {
		return q, true
	}
	if r.toks[i].f&fMin != 0 && r.minuteAndHalf(i) {
		return quantity{milli: 90_000, unit: uSec, words: true, from: i, to: i + 4}, true
	}
	n, next, ok := r.number(i)
	if !ok {
		return q, false
	}
	if t := &r.toks[next]; t.kind == kWord && t.f&(fSec|fMin|fRep|fTimes) == 0 && r.padding(next) { // 40ish seconds, one full minute
		next++
	}
	q = quantity{milli: n.milli, whole: n.whole, words: n.words, from: i, to: next}
	at := r.hyphenTo(next)
	if r.punct(at, '.') && r.toks[at].glued && r.has(at+1, fSec) && r.toks[at+1].glued { // 5.s
		at++
	}
	if r.punct(at, '+') && r.toks[at].glued && r.has(at+1, fSec|fMin) && r.toks[at+1].glued { // 30+s
		at++
	}
	if r.toks[at].used {
		return q, true
	}
	switch t := &r.toks[at]; {
	case r.punct(at, '"') && t.glued && r.inchMark(at):
		q.unit, q.to = uSec, at+1
	case r.punct(at, '\'') && t.glued:
		return r.primes(q, at), true
	case r.has(at, fSec) && r.unitWord(at):
		q.unit, q.to = uSec, at+1
	case r.has(at, fMin|fHour) && r.unitWord(at):
		return r.minutes(q, at), true
	case r.has(at, fRep) && !(t.b-t.a == 1 && (!t.glued && r.sideFollows(at) || r.has(at, fRight) && r.leftNear(at))):
		q.unit, q.to = uRep, at+1
	case t.kind == kWord && t.glued && t.f == 0:
		return r.slip(q, at)
	case t.kind == kWord && t.f == 0 && t.m == 0 && t.b-t.a > 5: // 30 secodns
		switch nearUnit(r.word(at)) {
		case "second", "seconds":
			q.unit, q.to = uSec, at+1
		case "minute", "minutes":
			return r.minutes(q, at), true
		}
	}
	return q, true
}

// padding reports whether a word between a number and its unit adds nothing to
// them: 2 more minutes.
func (r *reader) padding(i int) bool {
	switch string(r.wordOr(i)) {
	case "ish":
		return true
	case "full", "whole", "more", "extra", "additional", "solid", "good", "long", "straight", "clean", "less", "fewer":
		return r.has(i+1, fSec|fMin|fHour) && r.toks[i+1].b-r.toks[i+1].a > 2
	}
	return false
}

// minuteAndHalf reports whether "minute and a half" stands at token i.
func (r *reader) minuteAndHalf(i int) bool {
	return r.is(i, "minute") && r.has(i+1, fAnd) && r.is(i+2, "a") && r.has(i+3, fHalf)
}

// isPeriod reports whether a time in ISO 8601 begins at token i: PT1M30S.
func (r *reader) isPeriod(i int) bool {
	return r.is(i, "pt") && r.toks[i+1].kind == kNum && r.toks[i+1].glued
}

// unitWord reports whether the unit at token i stands for itself: a lone letter
// behind a blank must have nothing glued to it.
func (r *reader) unitWord(i int) bool {
	t, next := &r.toks[i], &r.toks[i+1]
	return t.glued || t.b-t.a > 1 || !next.glued || next.kind != kWord && next.kind != kNum && !(next.kind == kPunct && next.n == '\'')
}

// sideFollows tells r for right from r for reps: "20 r wrist" is no count.
func (r *reader) sideFollows(at int) bool { return r.has(at+1, fLimb) }

// inchMark reports whether the quote at i is a unit: no quotation is open.
func (r *reader) inchMark(i int) bool {
	open := false
	for j := i - 1; j >= 0 && i-j < 24 && r.toks[j].kind != kLine; j-- {
		if r.punct(j, '"') && !(r.toks[j].glued && r.toks[j-1].kind == kNum) {
			open = !open
		}
	}
	return !open
}

// primes reads 1', 1'30, 1'30" and 30”.
func (r *reader) primes(q quantity, at int) quantity {
	if r.punct(at+1, '\'') && r.toks[at+1].glued {
		q.unit, q.to = uSec, at+2
		return q
	}
	q.milli, q.unit, q.to = q.milli*60, uSec, at+1
	if t := &r.toks[q.to]; t.kind == kNum && t.glued && t.n < 60 {
		q.milli, q.to = q.milli+int64(t.n)*1000, q.to+1
		for r.punct(q.to, '"') && r.toks[q.to].glued || r.punct(q.to, '\'') && r.toks[q.to].glued || r.has(q.to, fSec) && r.toks[q.to].glued {
			q.to++
		}
	}
	return q
}

// minutes reads the rest of 1 min, 1m30, 1 min 30 sec, 1 minute and 30 seconds,
// 1h 2m 3s: each unit smaller than the one before.
func (r *reader) minutes(q quantity, at int) quantity {
	per := int64(60)
	if r.has(at, fHour) {
		per = 3600
	}
	q.milli, q.unit, q.to = q.milli*per, uSec, at+1
	if j := q.to + 1; r.has(q.to, fAnd) && r.is(j, "a") && r.has(j+1, fHalf) { // a minute and a half
		q.milli, q.to = q.milli+per*500, j+2
		return q
	}
	for q.whole || r.toks[q.to].glued { // 1.5m30s
		more, smaller := r.smallerUnit(q, at, per)
		if smaller == 0 {
			break
		}
		q.milli, at, q.to = q.milli+more.milli, more.to-1, more.to
		per = smaller
	}
	return q
}

// smallerUnit reads one more part of a length of time, behind the unit of per
// seconds at token at. It returns that part and the seconds of its unit, 0 where
// there is none.
func (r *reader) smallerUnit(q quantity, at int, per int64) (quantity, int64) {
	j := q.to
	spaced := r.has(j, fAnd) || r.punct(j, '&')
	tight := r.punct(j, ',') && r.toks[j].glued && r.toks[j+1].glued // 1m,24s
	comma := r.punct(j, ',')
	dot := r.punct(j, '.') && r.toks[j].glued && r.toks[at].b-r.toks[at].a > 2
	if dot || spaced || comma || r.punct(j, ':') && r.toks[j].glued {
		j++
	}
	n, next, ok := r.number(j)
	if !ok || n.milli >= 60_000 || per == 1 || spaced && r.punct(q.from-1, ',') && r.has(q.from-2, fSec|fMin) { // 1 min, 1 min and 45s: a list
		return q, 0
	}
	unit := r.hyphenTo(next)
	if comma && (!tight && r.toks[unit].b-r.toks[unit].a < 3 && n.milli >= 10_000 || r.listGoesOn(unit+1)) { // 1min, 55s and 40s: a list
		return q, 0
	}
	part := quantity{milli: n.milli, to: unit + 1}
	switch {
	case r.has(unit, fSec) && per > 1:
		return part, 1
	case r.has(unit, fMin) && per == 3600:
		part.milli *= 60
		return part, 60
	case per == 60 && j == q.to && n.milli >= 5_000 && r.plainEnd(next) && (r.toks[j].glued || r.toks[at].glued || r.toks[at].b-r.toks[at].a > 1):
		part.to = next
		return part, 1
	}
	return q, 0
}

// listGoesOn reports whether a separator and another number stand at token i.
func (r *reader) listGoesOn(i int) bool {
	if !r.punct(i, ',') && !r.punct(i, '/') && !r.punct(i, '+') && !r.punct(i, '&') && !r.has(i, fAnd|fThen) {
		return false
	}
	_, _, ok := r.number(i + 1)
	return ok
}

// plainEnd reports whether a bare number may end before token i: no unit, count
// or ratio goes on.
func (r *reader) plainEnd(i int) bool {
	t := &r.toks[i]
	if t.kind == kNum || t.kind == kFrac || t.kind == kPunct && t.glued && (t.n == '/' || t.n == ':' || t.n == '.' && r.toks[i+1].glued || t.n == '%') {
		return false
	}
	return !r.has(i, fSec|fMin|fHour|fRep|fKg|fLb|fSet|fRound|fTimes|fDays|fOn|fOff|fRest)
}

// clockTime reads m:ss and h:mm:ss.
func (r *reader) clockTime(i int) (q quantity, ok bool) {
	if r.toks[i].kind != kNum || r.toks[i].used || !r.punct(i+1, ':') || !r.toks[i+1].glued || r.toks[i+2].kind != kNum || !r.toks[i+2].glued || r.toks[i+2].digits != 2 {
		return q, false
	}
	a, b := int64(r.toks[i].n), int64(r.toks[i+2].n)
	q = quantity{milli: (a*60 + b) * 1000, unit: uSec, whole: true, from: i, to: i + 3}
	if b >= 60 {
		q.code = faultClock
	}
	if r.punct(i+3, ':') && r.toks[i+3].glued && r.toks[i+4].kind == kNum && r.toks[i+4].digits == 2 {
		q.milli, q.to = q.milli*60+int64(r.toks[i+4].n)*1000, i+5
	}
	if part := q.to + 1; r.punct(q.to, '.') && r.toks[q.to].glued && r.toks[part].kind == kNum && r.toks[part].glued { // 1:20.5
		q.milli, q.to = q.milli+decimals(&r.toks[part]), part+1
	}
	if r.has(q.to, fMin|fSec) {
		q.to++
	}
	return q, true
}

// slip reads a number with unknown letters glued to it: a zero typed as o, or a
// unit misspelt. Other letters are no part of the number.
func (r *reader) slip(q quantity, at int) (quantity, bool) {
	word := r.word(at)
	if word[0] == 'o' || word[0] == 'l' {
		rest := word[1:]
		w, known := language[string(rest)]
		if len(rest) == 0 && word[0] == 'o' || known && w.f&(fSec|fMin|fRep|fKg) != 0 {
			digit := int64(0)
			if word[0] == 'l' {
				digit = 1
			}
			q.milli = q.milli*10 + digit*1000
			q.code, q.to, q.unit = faultLetter, at+1, uSec
			if w.f&fRep != 0 {
				q.unit = uRep
			}
			return q, true
		}
	}
	if near := nearUnit(word); near != "" {
		q.code, q.to, q.unit = faultUnit, at+1, uSec
	}
	return q, true
}

// nearUnit returns the unit of time that an unknown word is one slip away from.
func nearUnit(word []byte) string {
	if len(word) < 2 {
		return ""
	}
	for _, unit := range [...]string{"sec", "secs", "second", "seconds", "min", "mins", "minute", "minutes"} {
		if string(word) != unit && edits(string(word), unit, 1) <= 1 {
			return unit
		}
	}
	return ""
}
