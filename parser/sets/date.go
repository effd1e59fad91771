package sets

import (
	"time"

	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// Dates of the calendar in figures. Each rule returns the day that it reads at a
// token, or what is wrong with it.

// dated is a day read from the text, or a problem with it.
type dated struct {
	day   training.Day
	next  int
	fault Code
	loose bool // it is a weekday or a part of today: an explicit date beside it counts instead
	ahead bool // its words say that it is to come

	weekday bool // it is a weekday's name alone
}

// isoDate reads 2026-11-23, 2026-nov-23, 2026 11 23.
func (r *reader) isoDate(i int) (dated, bool) {
	if d, ok := r.spacedDate(i); ok {
		return d, true
	}
	if r.digits(i) != 4 || !r.t.OneOf(i+1, "-/.") || !r.t.Glued(i+1) {
		return dated{}, false
	}
	month, ok := r.num(i + 2)
	if r.is(i+2, words.Month) {
		month, ok = r.value(i+2), true
	}
	day, dayOK := r.num(i + 4)
	if !ok || !dayOK || !r.t.GluedSign(i+3, r.t.Tokens[i+1].N) {
		return dated{}, false
	}
	return r.checked(int(r.t.Tokens[i].N), month, day, i+5), true
}

// spacedDate reads 2026 11 23.
func (r *reader) spacedDate(i int) (dated, bool) {
	year, _ := r.num(i)
	month, ok := r.num(i + 1)
	day, dayOK := r.num(i + 2)
	if !ok || !dayOK || r.digits(i) != 4 || year < 2000 || year > 2100 {
		return dated{}, false
	}
	if r.digits(i+1) != 2 || r.digits(i+2) != 2 || r.any(i+3, anyUnit) || r.is(i+3, words.Times) {
		return dated{}, false
	}
	d := r.checked(year, month, day, i+3)
	return d, d.fault == ""
}

// figureDate reads 23.11., 23/11, 23.11.2026, 23/11/26, 23-11-2026. The day
// stands first; where only the other order can be meant it is taken.
func (r *reader) figureDate(i int) (dated, bool) {
	first, _ := r.num(i)
	second, ok := r.num(i + 2)
	sign, signed := r.dateSign(i + 1)
	if !ok || !signed || r.dottedClock(i) {
		return dated{}, false
	}
	if sign == '.' && r.opensLine(i) && r.pastMonthsEnd(i) {
		return dated{next: i + 4, fault: BadDate}, true
	}
	if !ofMonth(first) || !ofMonth(second) || first > 12 && second > 12 {
		return dated{}, false
	}
	if year, ok := r.yearBehind(i, sign); ok {
		return r.wholeDate(i, first, second, year)
	}
	return r.shortDate(i, first, second)
}

// pastMonthsEnd reports whether a day that no month has stands at token i, with
// its month and a dot behind it: 32.11.
func (r *reader) pastMonthsEnd(i int) bool {
	month, _ := r.num(i + 2)
	day, _ := r.num(i)
	ends := r.t.Is(i+3, '.') && !r.t.GluedSign(i+3, '.')
	return ends && r.digits(i) == 2 && day > 31 && month >= 1 && month <= 12
}

// ofMonth reports whether some month has a day so numbered.
func ofMonth(day int) bool { return day >= 1 && day <= 31 }

// dateSign returns the sign that joins the parts of a date at token i.
func (r *reader) dateSign(i int) (rune, bool) {
	for _, sign := range [...]rune{'.', '/', '-'} {
		if r.t.GluedSign(i, sign) {
			return sign, true
		}
	}
	return 0, false
}

// yearBehind reads the year of a date in figures that begins at token i.
func (r *reader) yearBehind(i int, sign rune) (int, bool) {
	year, ok := r.num(i + 4)
	if !ok || !r.t.GluedSign(i+3, sign) {
		return 0, false
	}
	switch r.digits(i + 4) {
	case 4:
		return year, true
	case 2:
		return 2000 + year, year > 12 && !(sign == '/' && r.digits(i) < 2 && year > 31)
	}
	return 0, false
}

// wholeDate reads a date in figures with its year.
func (r *reader) wholeDate(i, first, second, year int) (dated, bool) {
	if year < 2000 || year > 2100 {
		return dated{}, false
	}
	d := r.checked(year, second, first, i+5)
	if second > 12 || first <= 12 && d.day > r.civilToday() { // the month first, where only that can be past
		if swapped := r.checked(year, first, second, i+5); second > 12 || swapped.day <= r.civilToday() {
			return swapped, true
		}
	}
	return d, true
}

// stale is from how many days ago on nobody tells of sets. A date in figures so
// old is read with the month first, if that makes it younger.
const stale = 60

// shortDate reads a date in figures without a year, if it is not likelier a
// list, a ratio or a decimal.
func (r *reader) shortDate(i, first, second int) (dated, bool) {
	next, ok := r.shortDateEnd(i, first)
	if !ok {
		return dated{}, false
	}
	swap := second > 12
	if swap {
		first, second = second, first
	}
	d := r.latest(second, first, next)
	if other := r.latest(first, second, next); !swap && first <= 12 && r.isStale(d) && r.isFresh(other) {
		return other, true
	}
	if d.fault != "" || swap || first > 12 || r.t.Is(i+1, '.') || first == second {
		return d, true
	}
	if d.day > r.civilToday() { // with the day first it is still to come: the other order is tried
		d.fault = TwoDates
	}
	return d, true
}

// isStale reports whether a date is too long ago for sets to be told of it.
func (r *reader) isStale(d dated) bool { return d.fault == "" && d.day < r.civilToday()-stale }

// isFresh reports whether a date is past, and not stale.
func (r *reader) isFresh(d dated) bool {
	return d.fault == "" && !r.isStale(d) && d.day <= r.civilToday()
}

// shortDateEnd returns the token behind a figure date without a year, if one
// stands at token i.
func (r *reader) shortDateEnd(i, first int) (next int, ok bool) {
	sign, next := r.t.Tokens[i+1].N, i+3
	if r.isSize(next, sign) {
		return next, false
	}
	said, opens := r.dateSaid(i), r.opensLine(i) || i == 1 && r.t.Is(0, '(')
	switch sign {
	case '.':
		return r.dottedDateEnd(i, said || opens)
	case '-':
		apart := r.t.Kind(next) == text.Number && !r.t.Glued(next)
		return next, said || opens && first > 12 && apart
	}
	if first > 12 && r.dateLikely(sign, next) {
		return next, true
	}
	twoFigures := r.digits(i) == 2 || r.digits(i+2) == 2
	return next, said || opens && (r.t.Is(next, ':') || twoFigures && !r.nameNext(next))
}

// dateLikely reports whether two figures before token i are a date though no
// word says so: they stand behind a size at the end of its line, as in 3x20s
// mid hang 21/11, or an earlier date was written with the same sign.
func (r *reader) dateLikely(sign rune, i int) bool {
	return r.sized && r.endsLine(i) || r.seen.sign == sign
}

// isSize reports whether what stands at token i shows that two figures before
// it, with a sign between them, are no date: a longer list, a unit, sets, an
// effort.
func (r *reader) isSize(i int, sign rune) bool {
	if r.t.GluedSign(i, sign) && r.t.Kind(i+1) == text.Number {
		return true
	}
	return r.unitNext(i) && !r.t.Is(i, ':') || r.any(i, countWords) || r.is(i, words.Effort)
}

// What stands before a date in figures, or before the bracket about one.
var (
	beforeDate    = words.OfClasses(words.On, words.From, words.This, words.Weekday, words.Span)
	beforeBracket = words.OfClasses(words.Today, words.Weekday, words.Yesterday)
)

// dateSaid reports whether what stands before token i shows figures there to be a
// date: on 23/11, today (23/11).
func (r *reader) dateSaid(i int) bool {
	return r.any(i-1, beforeDate) || r.t.Is(i-1, '(') && r.any(i-2, beforeBracket)
}

// dottedDateEnd returns the token behind 23.11 or 23.11. at token i. led says
// that what stands before shows it to be a date; without that a dot must close
// it, since 5.5 is likelier a decimal.
func (r *reader) dottedDateEnd(i int, led bool) (next int, ok bool) {
	next = i + 3
	closed := r.t.Is(next, '.')
	if r.digits(i+2) != 2 && !r.is(i-1, words.Weekday) || !led && !closed {
		return next, false
	}
	if closed && r.t.Glued(next) {
		next++
	}
	return next, true
}

// countWords show a number before them to be a count.
var countWords = words.OfClasses(words.Times, words.Set, words.Round)

// nameNext reports whether a skill follows: then 10/10 is a list of reps, unless
// a size follows it.
func (r *reader) nameNext(i int) bool {
	_, next, ok := r.names.At(r.t, i)
	if !ok {
		return false
	}
	_, sized := r.amount(next)
	return !sized
}

// unitNext reports whether a unit follows the number before token i.
func (r *reader) unitNext(i int) bool {
	if r.any(i, anyUnit) || r.is(i, words.Rep) {
		return true
	}
	switch r.t.Kind(i) {
	case text.Word:
		return r.t.Glued(i)
	case text.Sign:
		tight := r.t.Glued(i) && r.t.OneOf(i, "\"':")
		return tight || r.t.GluedSign(i, '.') && r.t.Kind(i+1) == text.Number
	}
	return false
}

// compactDate reads 20261123.
func (r *reader) compactDate(i int) (dated, bool) {
	n, _ := r.num(i)
	if r.digits(i) != 8 || n < 2000_00_00 || n > 2100_00_00 || r.unitNext(i+1) && !r.t.Is(i+1, ':') {
		return dated{}, false
	}
	return r.checked(n/10000, n/100%100, n%100, i+1), true
}

// checked returns the day, or why the calendar has no such day.
func (r *reader) checked(year, month, day, next int) dated {
	if month < 1 || month > 12 || day < 1 {
		return dated{next: next, fault: BadDate}
	}
	d := training.Date(year, time.Month(month), day)
	if _, m, _ := d.Civil(); int(m) != month {
		return dated{next: next, fault: BadDate}
	}
	return dated{day: d, next: next}
}

// latest returns the latest day of that date that is not to come. But if it
// will come within half a year it returns that one.
func (r *reader) latest(month, day, next int) dated {
	year, _, _ := r.today.Civil()
	d := r.checked(year, month, day, next)
	if d.fault != "" && month == 2 && day == 29 { // a leap day of an earlier year
		for y := year - 1; y > year-5 && d.fault != ""; y-- {
			d = r.checked(y, month, day, next)
		}
		return d
	}
	if d.fault == "" && d.day > r.today+182 {
		d = r.checked(year-1, month, day, next)
	}
	return d
}
