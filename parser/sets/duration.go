package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
)

// unit is what an amount is counted in.
type unit uint8

const (
	unsaid unit = iota
	seconds
	reps
)

// amount is one number with what it is of.
type amount struct {
	milli int64 // thousandths of a second or of a rep
	unit  unit
	whole bool
	fault Code // what is wrong with the unit or the clock; "" for nothing
	from  int  // from and to are tokens, half-open
	to    int
}

// amount reads a number with its unit, if it has one, at token i.
func (r *reader) amount(i int) (a amount, ok bool) {
	if r.isPeriod(i) { // PT1M30S
		a, ok = r.amount(i + 1)
		a.from = i
		return a, ok && a.unit == seconds
	}
	if a, ok := r.clock(i); ok {
		return a, true
	}
	if r.minuteAndHalf(i) {
		return amount{milli: 90_000, unit: seconds, from: i, to: i + 4}, true
	}
	n, next, ok := r.number(i)
	if !ok {
		return a, false
	}
	a = amount{milli: n.milli, whole: n.whole, from: i, to: next}
	if r.is(next, words.Full) && r.any(next+1, timeUnit) && len(r.t.Word(next+1)) > 2 { // one full minute
		next++
	}
	at := r.hyphenTo(next)
	if r.t.GluedSign(at, '.') && r.is(at+1, words.Second) || r.t.GluedSign(at, '+') && r.any(at+1, timeUnit) { // 5.s, 30+s
		at++
	}
	return r.unitOf(a, at), true
}

// unitOf reads the unit of a number at token at, with the dot of a shortened one.
func (r *reader) unitOf(a amount, at int) amount {
	switch {
	case r.t.Is(at, '"') && r.t.Glued(at) && r.unitMark(at):
		a.unit, a.to = seconds, at+1
	case r.t.Is(at, '\'') && r.t.Glued(at):
		return r.primes(a, at)
	case r.is(at, words.Second) && r.unitStands(at):
		a.unit, a.to = seconds, at+1
	case r.any(at, longUnit) && r.unitStands(at):
		return r.minutes(a, at)
	case r.is(at, words.Rep) && r.repStands(at):
		a.unit, a.to = reps, at+1
	case r.unknown(at) && r.t.Glued(at):
		return r.slip(a, at)
	case r.unknown(at):
		return r.misspeltUnit(a, at)
	}
	if r.t.GluedSign(a.to, '.') || r.abbreviates(a.to) {
		a.to++
	}
	return a
}

// abbreviates reports whether the dot at token i belongs to a shortened unit
// before it and no sentence begins behind it: 30 sec. deep hang. Behind 30s it
// ends one.
func (r *reader) abbreviates(i int) bool {
	short := len(r.t.Word(i-1)) > 1 || !r.t.Glued(i-1)
	shortens := short && r.t.Is(i, '.') && r.t.Glued(i) && r.any(i-1, timeUnit)
	return shortens && r.t.Kind(i+1) == text.Word && !r.t.Tokens[i+1].Capital
}

// minuteAndHalf reports whether "minute and a half" stands at token i.
func (r *reader) minuteAndHalf(i int) bool {
	return r.is(i, words.Minute) && len(r.t.Word(i)) > 3 && r.is(i+1, words.And) && r.is(i+2, words.Article) && r.is(i+3, words.Part)
}

// isPeriod reports whether a time in ISO 8601 begins at token i: PT1M30S.
func (r *reader) isPeriod(i int) bool {
	return string(r.t.Word(i)) == "pt" && r.t.Kind(i+1) == text.Number && r.t.Glued(i+1)
}

// unitStands reports whether the unit at token i stands for itself: a lone letter
// behind a blank must have nothing glued to it.
func (r *reader) unitStands(i int) bool {
	next := r.t.Kind(i + 1)
	tight := r.t.Glued(i+1) && (next == text.Word || next == text.Number || r.t.Is(i+1, '\''))
	return r.t.Glued(i) || len(r.t.Word(i)) > 1 || !tight
}

// repStands tells r for reps from r for right: "20 r wrist" and "10r, 8l" count
// no reps.
func (r *reader) repStands(i int) bool {
	if len(r.t.Word(i)) > 1 {
		return true
	}
	return !r.is(i+1, words.Limb) && !r.near(i, words.Left) && r.t.Glued(i)
}

// near reports whether a word of a class stands a few tokens before or behind
// token i.
func (r *reader) near(i int, class words.Class) bool {
	for j := max(i-6, 0); j < i+6; j++ {
		if j != i && r.is(j, class) && j < len(r.t.Tokens) {
			return true
		}
	}
	return false
}

// unitMark reports whether the quote at i is a unit: no quotation is open.
func (r *reader) unitMark(i int) bool {
	open := false
	for j := i - 1; j >= 0 && i-j < 24 && r.t.Kind(j) != text.Line; j-- {
		if r.t.Is(j, '"') && !(r.t.Glued(j) && r.t.Kind(j-1) == text.Number) {
			open = !open
		}
	}
	return !open
}

// primes reads 1', 1'30, 1'30" and 30”.
func (r *reader) primes(a amount, at int) amount {
	a.unit = seconds
	if r.t.Is(at+1, '\'') && r.t.Glued(at+1) {
		a.to = at + 2
		return a
	}
	a.milli, a.to = a.milli*60, at+1
	if n, ok := r.num(a.to); ok && r.t.Glued(a.to) && n < 60 {
		a.milli, a.to = a.milli+int64(n)*1000, a.to+1
		for r.t.Glued(a.to) && (r.t.Is(a.to, '"') || r.t.Is(a.to, '\'') || r.is(a.to, words.Second)) {
			a.to++
		}
	}
	return a
}

// minutes reads the rest of 1 min, 1m30, 1 min 30 sec, 1 minute and 30 seconds,
// 1h 2m 3s: each unit smaller than the one before. at is the first unit.
func (r *reader) minutes(a amount, at int) amount {
	per := int64(60)
	if r.is(at, words.Hour) {
		per = 3600
	}
	a.milli, a.unit, a.to = a.milli*per, seconds, at+1
	if r.is(a.to, words.And) && r.is(a.to+1, words.Article) && r.is(a.to+2, words.Part) { // a minute and a half
		a.milli, a.to = a.milli+per*500, a.to+3
		return a
	}
	for a.whole || r.t.Glued(a.to) { // 1.5m30s
		more, smaller := r.smallerUnit(a, at, per)
		if smaller == 0 {
			break
		}
		a.milli, at, a.to = a.milli+more.milli, more.to-1, more.to
		per = smaller
	}
	return a
}

// smallerUnit reads one more part of a length of time, behind the unit of per
// seconds at token at. It returns that part and the seconds of its unit, 0 where
// there is none.
func (r *reader) smallerUnit(a amount, at int, per int64) (amount, int64) {
	j, ok := r.joinsUnits(a, at)
	n, next, isNumber := r.number(j)
	if !ok || !isNumber || n.milli >= 60_000 || per == 1 {
		return a, 0
	}
	unit := r.hyphenTo(next)
	if r.t.Is(a.to, ',') && r.commaLists(a, unit, n) {
		return a, 0
	}
	part := amount{milli: n.milli, to: unit + 1}
	switch {
	case r.is(unit, words.Second):
		return part, 1
	case r.is(unit, words.Minute) && per == 3600:
		part.milli *= 60
		return part, 60
	case per == 60 && j == a.to && n.milli >= 5_000 && r.bareSeconds(a, at, next):
		part.to = next
		return part, 1
	}
	return a, 0
}

// bareSeconds reports whether the number that ends before token next is the
// seconds behind the minutes of a, whose unit stands at token at: 1m30, 1 min
// 30. Behind a lone letter and a blank it is not, nor where a time stood before
// it.
func (r *reader) bareSeconds(a amount, at, next int) bool {
	near := r.t.Glued(a.to) || r.t.Glued(at) || len(r.t.Word(at)) > 1
	return near && r.plainEnd(next) && !r.any(a.from-1, timeUnit)
}

// joinsUnits passes what may stand between two parts of a length of time: and,
// a comma, a dot behind a shortened unit. An and behind a list's comma joins
// its last item.
func (r *reader) joinsUnits(a amount, at int) (next int, ok bool) {
	j := a.to
	switch {
	case r.is(j, words.And), r.t.Is(j, '&'):
		return j + 1, !(r.t.Is(a.from-1, ',') && r.any(a.from-2, timeUnit))
	case r.t.Is(j, ','), r.t.Is(j, ':') && r.t.Glued(j), r.t.Is(j, '.') && r.t.Glued(j) && len(r.t.Word(at)) > 2:
		return j + 1, true
	}
	return j, true
}

// commaLists reports whether the comma behind a time begins the next of a list:
// 1min, 55s and 40s.
func (r *reader) commaLists(a amount, unit int, n number) bool {
	tight := r.t.GluedSign(a.to, ',')
	if r.t.Is(a.from-1, ',') && r.any(a.from-2, timeUnit) { // 1 min, 1 min, 45 sec
		return true
	}
	return !tight && len(r.t.Word(unit)) < 3 && n.milli >= 10_000 || r.listGoesOn(unit+1)
}

// listGoesOn reports whether a separator and another number stand at token i.
func (r *reader) listGoesOn(i int) bool {
	if !r.t.OneOf(i, ",/+&") && !r.is(i, words.And) && !r.is(i, words.Then) {
		return false
	}
	_, _, ok := r.number(i + 1)
	return ok
}

// goesOn are words that show a bare number before them not to be seconds behind a
// minute.
var goesOn = words.OfClasses(words.Second, words.Minute, words.Hour, words.Rep, words.Kilogram, words.Pound, words.Set, words.Round,
	words.Times, words.Span, words.On, words.Off, words.Rest)

// plainEnd reports whether a bare number may end before token i: no unit, count
// or ratio goes on.
func (r *reader) plainEnd(i int) bool {
	switch r.t.Kind(i) {
	case text.Number, text.Fraction:
		return false
	case text.Sign:
		return !r.t.Glued(i) || !r.t.OneOf(i, "/:%") && !r.t.GluedSign(i, '.')
	}
	return !r.any(i, goesOn)
}

// clock reads m:ss and h:mm:ss.
func (r *reader) clock(i int) (a amount, ok bool) {
	if r.t.Kind(i) != text.Number || !r.t.GluedSign(i+1, ':') || r.digits(i+2) != 2 {
		return a, false
	}
	left, right := int64(r.t.Tokens[i].N), int64(r.t.Tokens[i+2].N)
	a = amount{milli: (left*60 + right) * 1000, unit: seconds, whole: true, from: i, to: i + 3}
	if right >= 60 {
		a.fault = BadClock
	}
	if r.t.GluedSign(i+3, ':') && r.digits(i+4) == 2 {
		a.milli, a.to = a.milli*60+int64(r.t.Tokens[i+4].N)*1000, i+5
	}
	if r.t.GluedSign(a.to, '.') && r.t.Kind(a.to+1) == text.Number { // 1:20.5
		a.milli, a.to = a.milli+decimals(&r.t.Tokens[a.to+1]), a.to+2
	}
	if r.is(a.to, words.Minute) || r.is(a.to, words.Second) {
		a.to++
	}
	return a, true
}

// digitLetters are the letters that are typed for a digit.
var digitLetters = map[byte]int64{'o': 0, 'l': 1}

// slip reads a number with unknown letters glued to it: a zero typed as o, or a
// unit misspelt. Other letters are no part of the number.
func (r *reader) slip(a amount, at int) amount {
	word := r.t.Word(at)
	digit, isDigit := digitLetters[word[0]]
	of, stands := unitSpelled(word[1:])
	if !isDigit || !stands && !(len(word) == 1 && digit == 0) { // 3o, 3os, but not 3l
		return r.misspeltUnit(a, at)
	}
	a.milli = a.milli*10 + digit*1000
	a.fault, a.to, a.unit = LetterForDigit, at+1, of
	return a
}

// unitSpelled returns the unit that letters spell; seconds where they spell
// none or one of a weight.
func unitSpelled(letters []byte) (of unit, ok bool) {
	word := words.Find(letters)
	switch {
	case word == nil:
		return seconds, false
	case word.Classes.Has(words.Rep):
		return reps, true
	}
	return seconds, word.Classes.Any(anyUnit)
}

// misspeltUnit reads 30 secodns: a unit of time with one letter wrong.
func (r *reader) misspeltUnit(a amount, at int) amount {
	switch class, ok := words.NearUnit(r.t.Word(at)); {
	case !ok:
	case class == words.Second:
		a.unit, a.to = seconds, at+1
	case class == words.Minute:
		return r.minutes(a, at)
	case class == words.Rep:
		a.unit, a.to = reps, at+1
	}
	return a
}
