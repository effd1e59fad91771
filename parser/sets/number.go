package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
)

// number is a value read from figures or words, in thousandths.
type number struct {
	milli int64
	whole bool // it is written without a fraction
	words bool // it is written in words
}

func (n number) int() int { return int(n.milli / 1000) }

// Classes of units by what they measure. longUnit are those of time of which
// people say halves and quarters.
var (
	anyUnit    = words.OfClasses(words.Second, words.Minute, words.Hour, words.Kilogram, words.Pound)
	longUnit   = words.OfClasses(words.Minute, words.Hour)
	timeUnit   = words.OfClasses(words.Second, words.Minute, words.Hour)
	weightUnit = words.OfClasses(words.Kilogram, words.Pound)
)

// number reads figures (30, 1.5, 1,5, .5, ½, 1½, 1/2 before a unit) or words
// (twenty-five, half a, one and a half) at token i.
func (r *reader) number(i int) (n number, next int, ok bool) {
	switch r.t.Kind(i) {
	case text.Number:
		n, next = r.figures(i)
		return n, next, true
	case text.Fraction:
		return number{milli: int64(r.t.Tokens[i].N)}, i + 1, true
	case text.Sign:
		if r.t.Is(i, '.') && r.t.Kind(i+1) == text.Number && r.t.Glued(i+1) && (!r.t.Glued(i) || r.is(i-1, words.Times)) { // .5
			return number{milli: decimals(&r.t.Tokens[i+1])}, i + 2, true
		}
	case text.Mark:
		return number{milli: 10_000, whole: true}, i + 1, keycapTen.has(r.t.Bytes(i))
	case text.Word:
		return r.spelled(i)
	}
	return n, i, false
}

// figures reads a number that begins with digits.
func (r *reader) figures(i int) (number, int) {
	n := number{milli: int64(r.t.Tokens[i].N) * 1000, whole: true}
	switch r.t.Kind(i + 1) {
	case text.Fraction:
		if r.t.Glued(i+1) || r.any(i+2, anyUnit) {
			return number{milli: n.milli + int64(r.t.Tokens[i+1].N)}, i + 2
		}
	case text.Number:
		if half, ok := r.ratio(i + 1); ok && r.any(i+4, anyUnit) { // 1 1/2 min
			return number{milli: n.milli + half}, i + 4
		}
	case text.Sign:
		if end, next, ok := r.fractional(i); ok {
			return end, next
		}
	case text.Word:
		if r.is(i+1, words.Hundred) || r.dozenAt(i+1) { // 2 hundred
			return number{milli: n.milli * int64(r.value(i+1)), whole: true}, r.pastOf(i + 2)
		}
		return r.andAHalf(n, i+1)
	}
	return n, i + 1
}

// fractional reads what a sign joins to figures: 1.5, 1,5, 1,200, 1/2 min.
func (r *reader) fractional(i int) (number, int, bool) {
	whole := int64(r.t.Tokens[i].N) * 1000
	part, ok := r.num(i + 2)
	if !ok || !r.t.Glued(i+1) || !r.t.Glued(i+2) {
		return number{}, i, false
	}
	frac := &r.t.Tokens[i+2]
	switch {
	case r.t.Is(i+1, '/'):
		milli, ok := r.ratio(i)
		return number{milli: milli}, i + 3, ok && milli < 1000 && r.any(i+3, longUnit)
	case r.t.Is(i+1, ',') && frac.Digits == 3 && r.digits(i) <= 2 && r.any(i+3, secondOrUnit): // 1,200 s, 14,000 steps
		return number{milli: whole*1000 + int64(part)*1000, whole: true}, i + 3, true
	case r.t.Is(i+1, '.') && !r.dotted(i+2) && !r.dotted(i-2),
		r.t.Is(i+1, ',') && frac.Digits <= 2 && r.decimalComma(i):
		return number{milli: whole + decimals(frac), whole: part == 0}, i + 3, true
	}
	return number{}, i, false
}

var secondOrUnit = words.OfClasses(words.Second, words.Unit)

// dotted reports whether another dotted number follows: 23.11.2026, 8.8.6.
func (r *reader) dotted(i int) bool { return r.t.GluedSign(i+1, '.') && r.t.Kind(i+2) == text.Number }

// decimalComma reports whether the comma at i+1 is a decimal one: a unit next, and
// no other list of numbers about it.
func (r *reader) decimalComma(i int) bool {
	listed := r.t.Is(i-1, ',') && r.t.Kind(i-2) == text.Number
	unit := r.any(i+3, longUnit) || r.any(i+3, weightUnit) || r.is(i+3, words.Second) && r.digits(i+2) == 1
	return !listed && unit && r.t.Tokens[i].N < 300
}

// decimals returns digits behind a point in thousandths.
func decimals(t *text.Token) int64 {
	v := int64(t.N)
	for d := int(t.Digits); d < 3; d++ {
		v *= 10
	}
	for d := int(t.Digits); d > 3; d-- {
		v /= 10
	}
	return v
}

// ratio reads 1/2, 3/4 in thousandths.
func (r *reader) ratio(i int) (int64, bool) {
	if !r.slashed(i) {
		return 0, false
	}
	over := int64(r.t.Tokens[i+2].N)
	if over == 0 || over > 4 {
		return 0, false
	}
	return int64(r.t.Tokens[i].N) * 1000 / over, true
}

// spelled reads a number in words.
func (r *reader) spelled(i int) (n number, next int, ok bool) {
	switch {
	case r.quarterAt(i):
		return r.quarters(1, i)
	case r.is(i, words.Part):
		return r.half(i)
	case r.is(i, words.Article), r.is(i, words.The) && r.is(i+1, words.Full):
		return r.article(i)
	case r.is(i, words.Couple):
		return r.couple(i)
	case r.is(i, words.Ones), r.is(i, words.Tens), r.is(i, words.Hundred):
		n, next = r.hundreds(i)
	default:
		return n, i, false
	}
	if j := r.hyphenTo(next); r.quarterAt(j) {
		return r.quarters(n.milli/1000, j)
	}
	if r.dozenAt(next) {
		return number{milli: n.milli * 12, whole: true, words: true}, r.pastOf(next + 1), true
	}
	n, next = r.andAHalf(n, next)
	return n, next, true
}

// half reads half, half a, half a dozen; but for the dozen a unit must follow.
func (r *reader) half(i int) (number, int, bool) {
	next := r.hyphenTo(i + 1)
	if r.is(next, words.Article) {
		next++
	}
	if r.dozenAt(next) {
		return number{milli: 6000, whole: true, words: true}, r.pastOf(next + 1), true
	}
	return number{milli: int64(r.value(i)), words: true}, next, r.any(next, longUnit)
}

// article reads what "a" begins: a minute, a couple, a hundred and ten, a half
// dozen.
func (r *reader) article(i int) (n number, next int, ok bool) {
	switch next = i + 1; {
	case r.is(next, words.Couple):
		return r.couple(next)
	case r.is(next, words.Hundred):
		n, next = r.hundreds(next)
		return n, next, true
	case r.quarterAt(next):
		return r.quarters(1, next)
	case r.is(next, words.Part) && r.dozenAt(next+1):
		return r.half(next)
	}
	if r.is(next, words.Full) {
		next++
	}
	unit := r.any(next, timeUnit) && len(r.t.Word(next)) > 1
	another := r.is(next, words.Ordinal) && (r.any(next+1, setWords) || r.oneOrOnes(next+1)) // a second set
	return number{milli: 1000, whole: true, words: true}, next, unit && !another
}

// hundreds reads twenty-five, two hundred and ten.
func (r *reader) hundreds(i int) (n number, next int) {
	n, next = number{milli: 1000, whole: true, words: true}, i
	if !r.is(i, words.Hundred) {
		n.milli, next = r.belowHundred(i)
	}
	if j := r.hyphenTo(next); r.is(j, words.Hundred) {
		next = j
	}
	if !r.is(next, words.Hundred) {
		return n, next
	}
	n.milli, next = n.milli*100, next+1
	j := next
	if r.is(j, words.And) {
		j++
	}
	if r.numberWord(j) && (j == next || !r.is(j+1, words.Times)) {
		rest, end := r.belowHundred(j)
		n.milli, next = n.milli+rest, end
	}
	return n, next
}

func (r *reader) belowHundred(i int) (milli int64, next int) {
	milli, next = int64(r.value(i))*1000, i+1
	if !r.is(i, words.Tens) {
		return milli, next
	}
	j := next
	if r.t.Is(j, '-') {
		j++
	}
	if r.is(j, words.Ones) && r.value(j) > 0 && r.value(j) < 10 {
		milli, next = milli+int64(r.value(j))*1000, j+1
	}
	return milli, next
}

// quarters reads quarters of a minute or an hour at token i.
func (r *reader) quarters(n int64, i int) (number, int, bool) {
	next := r.pastOf(i + 1)
	if r.is(next, words.Article) {
		next++
	}
	return number{milli: 250 * n, words: true}, next, r.any(next, longUnit)
}

func (r *reader) quarterAt(i int) bool { return r.is(i, words.Part) && r.value(i) == 250 }

func (r *reader) dozenAt(i int) bool { return r.is(i, words.Couple) && r.value(i) == 12 }

// couple reads a couple, of sets or of what a name says.
func (r *reader) couple(i int) (number, int, bool) {
	next := r.pastOf(i + 1)
	timed := r.t.Kind(next) == text.Number && r.any(next+1, timeUnit)
	return number{milli: int64(r.value(i)) * 1000, whole: true, words: true}, next, r.t.Kind(next) == text.Word || timed
}

// andAHalf reads what follows a number before a unit: two and a half, 2 and 1/2.
func (r *reader) andAHalf(n number, next int) (number, int) {
	if !r.is(next, words.And) {
		return n, next
	}
	half, end := int64(0), next+1
	if r.is(end, words.Article) {
		end++
	}
	switch {
	case r.is(end, words.Part):
		half, end = int64(r.value(end)), end+1
	case r.is(end, words.Ones) && r.quarterAt(end+1): // two and three quarters
		half, end = int64(r.value(end))*250, end+2
	case r.t.Kind(end) == text.Fraction:
		half, end = int64(r.t.Tokens[end].N), end+1
	case r.slashed(end):
		if part, ok := r.ratio(end); ok && part < 1000 {
			half, end = part, end+3
		}
	}
	if half == 0 || !r.any(end, anyUnit) && !r.named(end) && !r.is(end, words.Rep) { // of reps a half is asked about
		return n, next
	}
	return number{milli: n.milli + half, words: true}, end
}
