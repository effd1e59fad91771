package parser

// number is a value read from figures or words, in thousandths.
type number struct {
	milli int64
	whole bool // written without a fraction
	words bool // written out
}

func (n number) int() int { return int(n.milli / 1000) }

// number reads figures (30, 1.5, 1,5, .5, ½, 1½, 1/2 before a unit) or words
// (twenty-five, half a, one and a half) at token i.
func (r *reader) number(i int) (n number, next int, ok bool) {
	if i >= len(r.toks)-1 {
		return n, i, false
	}
	t := &r.toks[i]
	if t.used {
		return n, i, false
	}
	switch {
	case t.kind == kNum:
		return r.figures(i)
	case t.kind == kFrac:
		return number{milli: int64(t.n)}, i + 1, true
	case t.kind == kPunct && t.n == '.' && r.toks[i+1].kind == kNum && r.toks[i+1].glued && (i == 0 || !t.glued):
		return number{milli: decimals(&r.toks[i+1])}, i + 2, true
	case t.kind == kWord:
		return r.spelled(i)
	}
	return n, i, false
}

func (r *reader) figures(i int) (number, int, bool) {
	n := number{milli: int64(r.toks[i].n) * 1000, whole: true}
	sep, frac := &r.toks[i+1], &r.toks[min(i+2, len(r.toks)-1)]
	switch {
	case sep.kind == kFrac && (sep.glued || r.unitAt(i+2)):
		return number{milli: n.milli + int64(sep.n)}, i + 2, true
	case sep.kind == kNum && r.slashed(i+1) && r.unitAt(i+4): // 1 1/2 min
		if half, ok := r.ratio(i + 1); ok {
			return number{milli: n.milli + half}, i + 4, true
		}
	case sep.kind != kPunct || !sep.glued || frac.kind != kNum || !frac.glued:
	case r.slashed(i) && r.toks[i].n < frac.n && r.partOfUnit(i+3):
		if part, ok := r.ratio(i); ok {
			return number{milli: part}, i + 3, true
		}
	case sep.n == '.' && !r.dotted(i+2), sep.n == ',' && frac.digits <= 2 && r.decimalComma(i):
		return number{milli: n.milli + decimals(frac), whole: frac.n == 0}, i + 3, true
	}
	return n, i + 1, true
}

// dotted reports whether another dotted number follows: 23.11.2026, 8.8.6.
func (r *reader) dotted(i int) bool {
	return r.punct(i+1, '.') && r.toks[i+1].glued && r.toks[i+2].kind == kNum && r.toks[i+2].glued
}

// decimalComma reports whether the comma at i+1 is a decimal one: one digit
// behind it, a unit next, and no other list of numbers about it.
func (r *reader) decimalComma(i int) bool {
	listed := i >= 2 && r.punct(i-1, ',') && r.toks[i-2].kind == kNum
	return !listed && (r.has(i+3, fMin|fHour|fKg|fLb) || r.has(i+3, fSec) && r.toks[i+2].digits == 1) && r.toks[i].n < 300
}

func decimals(t *token) int64 {
	v := int64(t.n)
	for d := int(t.digits); d < 3; d++ {
		v *= 10
	}
	for d := int(t.digits); d > 3; d-- {
		v /= 10
	}
	return v
}

// slashed reports whether tokens i to i+2 are number, slash, number, glued.
func (r *reader) slashed(i int) bool {
	return r.toks[i].kind == kNum && r.punct(i+1, '/') && r.toks[i+1].glued && r.toks[i+2].kind == kNum && r.toks[i+2].glued
}

func (r *reader) ratio(i int) (int64, bool) {
	over := int64(r.toks[i+2].n)
	if over == 0 || over > 4 {
		return 0, false
	}
	return int64(r.toks[i].n) * 1000 / over, true
}

// partOfUnit reports whether a fraction before token i is one of a minute or an
// hour: half of a second is nobody's set.
func (r *reader) partOfUnit(i int) bool { return r.has(i, fMin|fHour) }

func (r *reader) unitAt(i int) bool {
	return i < len(r.toks) && r.has(i, fSec|fMin|fHour|fKg|fLb)
}

// spelled reads a number in words.
func (r *reader) spelled(i int) (n number, next int, ok bool) {
	t := &r.toks[i]
	n = number{whole: true, words: true}
	switch {
	case t.f&fHalf != 0:
		n.milli, n.whole, next = 500, false, i+1
		if r.is(next, "a") || r.is(next, "an") {
			next++
		}
		return n, next, r.unitAt(next)
	case r.is(i, "a") || r.is(i, "an"):
		if r.has(i+1, fCouple) {
			return r.couple(i + 1)
		}
		n.milli, next = 1000, i+1
		return n, next, r.has(next, fSec|fMin|fHour) && r.toks[next].b-r.toks[next].a > 1
	case t.f&fCouple != 0:
		return r.couple(i)
	case t.f&fTens != 0:
		n.milli, next = int64(t.n)*1000, i+1
		if j := r.hyphenTo(next); r.has(j, fOnes) && r.toks[j].n > 0 && r.toks[j].n < 10 {
			n.milli, next = n.milli+int64(r.toks[j].n)*1000, j+1
		}
	case t.f&fOnes != 0:
		n.milli, next = int64(t.n)*1000, i+1
		if r.has(next, fHundred) {
			n.milli, next = n.milli*100, next+1
		}
	default:
		return n, i, false
	}
	return r.andAHalf(n, next)
}

// hyphenTo skips a glued hyphen.
func (r *reader) hyphenTo(i int) int {
	if r.punct(i, '-') && r.toks[i].glued && r.toks[i+1].glued {
		return i + 1
	}
	return i
}

func (r *reader) couple(i int) (number, int, bool) {
	n := number{milli: int64(r.toks[i].n) * 1000, whole: true, words: true}
	if r.has(i+1, fOf) {
		i++
	}
	return n, i + 1, r.toks[i+1].kind == kWord
}

func (r *reader) andAHalf(n number, next int) (number, int, bool) {
	if r.has(next, fAnd) && r.is(next+1, "a") && r.has(next+2, fHalf) && (r.unitAt(next + 3)) {
		return number{milli: n.milli + 500, words: true}, next + 3, true
	}
	return n, next, true
}
