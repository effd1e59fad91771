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
	case sep.n == ',' && frac.digits == 3 && r.toks[i].digits <= 2 && r.has(i+3, fSec): // 1,200 s
		return number{milli: n.milli*1000 + int64(frac.n)*1000, whole: true}, i + 3, true
	case sep.n == '.' && !r.dotted(i+2), sep.n == ',' && frac.digits <= 2 && r.decimalComma(i):
		return number{milli: n.milli + decimals(frac), whole: frac.n == 0}, i + 3, true
	}
	if sep.kind != kWord {
		return n, i + 1, true
	}
	if r.has(i+1, fHundred) || r.dozenAt(i+1) { // 2 hundred
		return number{milli: n.milli * int64(sep.n), whole: true}, r.pastOf(i + 2), true
	}
	return r.andAHalf(n, i+1)
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
	switch {
	case r.quarterAt(i):
		return r.quarters(1, i)
	case t.f&fHalf != 0:
		return r.half(i)
	case r.is(i, "a") || r.is(i, "an"):
		return r.article(i)
	case t.f&fCouple != 0:
		return r.couple(i)
	case t.f&(fOnes|fTens|fHundred) != 0:
		n, next, ok = r.hundreds(i)
	default:
		return n, i, false
	}
	if j := r.hyphenTo(next); ok && r.quarterAt(j) {
		return r.quarters(n.milli/1000, j)
	}
	if ok && r.dozenAt(next) {
		return number{milli: n.milli * 12, whole: true, words: true}, r.pastOf(next + 1), true
	}
	return r.andAHalf(n, next)
}

// half reads half, half a, half a dozen; but for the dozen a unit must follow.
func (r *reader) half(i int) (number, int, bool) {
	n, next := number{milli: int64(r.toks[i].n), words: true}, r.hyphenTo(i+1)
	if r.is(next, "a") || r.is(next, "an") {
		next++
	}
	if r.dozenAt(next) {
		return number{milli: 6000, whole: true, words: true}, r.pastOf(next + 1), true
	}
	return n, next, r.unitAt(next)
}

// article reads what "a" begins: a minute, a couple, a hundred and ten, a half
// dozen, a single.
func (r *reader) article(i int) (n number, next int, ok bool) {
	switch next = i + 1; {
	case r.has(next, fCouple):
		return r.couple(next)
	case r.has(next, fHundred):
		return r.hundreds(next)
	case r.has(next, fHalf) && r.dozenAt(next+1):
		return r.half(next)
	case r.quarterAt(next):
		return r.quarters(1, next)
	case r.is(next, "single"):
		return number{milli: 1000, whole: true, words: true}, next + 1, r.toks[next+1].kind == kWord
	}
	if r.is(next, "full") || r.is(next, "whole") || r.is(next, "solid") {
		next++
	}
	return number{milli: 1000, whole: true, words: true}, next, r.has(next, fSec|fMin|fHour) && r.toks[next].b-r.toks[next].a > 1
}

// hundreds reads twenty-five, two hundred and ten.
func (r *reader) hundreds(i int) (n number, next int, ok bool) {
	n = number{milli: 1000, whole: true, words: true}
	next = i
	if !r.has(i, fHundred) {
		n.milli, next = r.belowHundred(i)
	}
	if next = r.hyphenToHundred(next); !r.has(next, fHundred) {
		return n, next, true
	}
	n.milli, next = n.milli*100, next+1
	j := next
	if r.has(j, fAnd) {
		j++
	}
	if r.has(j, fOnes|fTens) && (j == next || !r.is(j+1, "x")) {
		rest, end := r.belowHundred(j)
		n.milli, next = n.milli+rest, end
	}
	return n, next, true
}

// hyphenToHundred passes the hyphen of two-hundred.
func (r *reader) hyphenToHundred(i int) int {
	if j := r.hyphenTo(i); r.has(j, fHundred) {
		return j
	}
	return i
}

func (r *reader) belowHundred(i int) (milli int64, next int) {
	milli, next = int64(r.toks[i].n)*1000, i+1
	if r.toks[i].f&fTens == 0 {
		return milli, next
	}
	j := r.hyphenTo(next)
	if r.punct(next, '-') { // fifty - two
		j = next + 1
	}
	if r.has(j, fOnes) && r.toks[j].n > 0 && r.toks[j].n < 10 {
		milli, next = milli+int64(r.toks[j].n)*1000, j+1
	}
	return milli, next
}

// quarters reads quarters of a minute or an hour at token i.
func (r *reader) quarters(n int64, i int) (number, int, bool) {
	next := r.pastOf(i + 1)
	if r.is(next, "a") || r.is(next, "an") {
		next++
	}
	return number{milli: 250 * n, words: true}, next, r.partOfUnit(next)
}

func (r *reader) quarterAt(i int) bool { return r.has(i, fHalf) && r.toks[i].n == 250 }

func (r *reader) dozenAt(i int) bool { return r.has(i, fCouple) && r.toks[i].n == 12 }

// pastOf passes an "of".
func (r *reader) pastOf(i int) int {
	if r.has(i, fOf) {
		return i + 1
	}
	return i
}

// hyphenTo skips a glued hyphen.
func (r *reader) hyphenTo(i int) int {
	if r.punct(i, '-') && r.toks[i].glued && r.toks[i+1].glued {
		return i + 1
	}
	return i
}

func (r *reader) couple(i int) (number, int, bool) {
	next := r.pastOf(i + 1)
	return number{milli: int64(r.toks[i].n) * 1000, whole: true, words: true}, next, r.toks[next].kind == kWord || r.toks[next].kind == kNum && r.has(next+1, fSec|fMin) // of 30s hangs
}

// andAHalf reads what follows a number before a unit: two and a half, 2 and 1/2.
func (r *reader) andAHalf(n number, next int) (number, int, bool) {
	if !r.has(next, fAnd) {
		return n, next, true
	}
	half, end := int64(0), next+1
	switch {
	case (r.is(end, "a") || r.is(end, "an")) && r.has(end+1, fHalf):
		half, end = int64(r.toks[end+1].n), end+2
	case r.has(end, fHalf):
		half, end = int64(r.toks[end].n), end+1
	case r.has(end, fOnes) && r.quarterAt(end+1): // two and three quarters
		half, end = int64(r.toks[end].n)*250, end+2
	case r.toks[end].kind == kFrac:
		half, end = int64(r.toks[end].n), end+1
	case r.toks[end].kind == kNum && r.slashed(end):
		if part, ok := r.ratio(end); ok && part < 1000 {
			half, end = part, end+3
		}
	}
	if half == 0 || !r.unitAt(end) {
		return n, next, true
	}
	return number{milli: n.milli + half, words: true}, end, true
}
