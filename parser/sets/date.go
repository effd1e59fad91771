package sets

import (
	"time"

	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// Dates of the calendar, in figures and in words. Each rule returns the day read
// at a token, or what is wrong with it.

// dated is a day read from the text, or a problem with it.
type dated struct {
	day   training.Day
	next  int
	fault Code
	loose bool // a bare weekday or a part of today: gives way to an explicit date
	ahead bool // said to be a day to come

	weekday bool // a weekday's name alone
}

// isoDate reads 2026-11-23, 2026-nov-23, 2026 11 23.
func (r *reader) isoDate(i int) (dated, bool) {
	if d, ok := r.spacedDate(i); ok {
		return d, true
	}
	sign := r.t.Is(i+1, '-') || r.t.Is(i+1, '/') || r.t.Is(i+1, '.')
	if r.digits(i) != 4 || !sign || !r.t.Glued(i+1) {
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
	if !ok || !signed {
		return dated{}, false
	}
	if impossible := first > 31 && second >= 1 && second <= 12 && r.digits(i) == 2; impossible && sign == '.' && r.t.GluedSign(i+3, '.') == false &&
		r.t.Is(i+3, '.') && r.opensLine(i) { // 32.11.
		return dated{next: i + 4, fault: BadDate}, true
	}
	if first < 1 || second < 1 || first > 31 || second > 31 || first > 12 && second > 12 {
		return dated{}, false
	}
	if year, ok := r.yearBehind(i, sign); ok {
		return r.wholeDate(i, first, second, year)
	}
	return r.shortDate(i, first, second)
}

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

// stale is the age in days from which a date in figures is read the month first, if
// that makes it younger: sets so old are nobody's.
const stale = 60

// shortDate reads a figure date without a year, where nothing else it might be
// (a list, a ratio, a decimal) is likelier.
func (r *reader) shortDate(i, first, second int) (dated, bool) {
	next, ok := r.shortDateEnd(i, first, second)
	if !ok {
		return dated{}, false
	}
	swap := second > 12
	if swap {
		first, second = second, first
	}
	d := r.latest(second, first, next)
	today := r.civilToday()
	other := r.latest(first, second, next)
	if both := !swap && first <= 12 && d.fault == "" && other.fault == ""; both && d.day < today-stale && other.day >= today-stale && other.day <= today {
		return other, true
	}
	if d.fault != "" || swap || first > 12 || r.t.Is(i+1, '.') || first == second {
		return d, true
	}
	if d.day > today { // a day first that is yet to come gives way
		d.fault = TwoDates
	}
	return d, true
}

// shortDateEnd returns the token behind a figure date without a year, if one
// stands at token i.
func (r *reader) shortDateEnd(i, first, second int) (next int, ok bool) {
	sign, next := r.t.Tokens[i+1].N, i+3
	if r.t.GluedSign(next, sign) && r.t.Kind(next+1) == text.Number { // a longer list
		return next, false
	}
	if r.unitNext(next) && !r.t.Is(next, ':') || r.any(next, countWords) || r.is(next, words.Effort) {
		return next, false
	}
	dayBefore := r.t.Is(i-1, '(') && (r.is(i-2, words.Today) || r.is(i-2, words.Weekday) || r.is(i-2, words.Yesterday))
	said := dayBefore || r.is(i-1, words.On) || r.is(i-1, words.From) || r.is(i-1, words.This) || r.is(i-1, words.Weekday) || r.is(i-1, words.Span)
	opens := r.opensLine(i) || i == 1 && r.t.Is(0, '(')
	ends := r.t.Kind(next) == text.End || r.t.Kind(next) == text.Line
	twoFigures := r.digits(i) == 2 || r.digits(i+2) == 2
	switch sign {
	case '.':
		dot := r.t.Is(next, '.')
		if r.digits(i+2) != 2 && !r.is(i-1, words.Weekday) || !opens && !said && !dot {
			return next, false
		}
		if dot && r.t.Glued(next) {
			next++
		}
		return next, true
	case '-':
		return next, said || opens && first > 12 && r.t.Kind(next) == text.Number && !r.t.Glued(next)
	}
	if ends && first > 12 && r.sized { // 3x20s mid hang 21/11
		return next, true
	}
	return next, said || opens && (r.t.Is(next, ':') || twoFigures && !r.nameNext(next))
}

// countWords show a number before them to be a count.
var countWords = words.OfClasses(words.Times, words.Set, words.Round)

// opensLine reports whether token i is the first of its line.
func (r *reader) opensLine(i int) bool { return i == 0 || r.t.Kind(i-1) == text.Line }

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
		tight := r.t.Glued(i) && (r.t.Is(i, '"') || r.t.Is(i, '\'') || r.t.Is(i, ':'))
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

// dayMonth reads 23 Nov, 23rd of November 2026, the second of November.
func (r *reader) dayMonth(i int) (dated, bool) {
	day, j, ok := r.ordinal(i)
	if n, figures := r.num(i); figures && !ok {
		day, j, ok = n, i+1, true
	}
	if !ok {
		return dated{}, false
	}
	of := r.is(j, words.Of)
	if of {
		j++
	}
	if r.t.GluedSign(j, '.') || r.t.GluedSign(j, '-') || r.t.GluedSign(j, '/') || r.t.Is(j, '.') && r.t.Glued(j) {
		j++
	}
	if !r.is(j, words.Month) || len(r.t.Word(j)) < 3 {
		return dated{}, false
	}
	if verb := r.value(j) == 5 && !r.t.Tokens[j].Capital && !of; verb && r.t.Kind(j+1) != text.Number && !r.t.Is(j+1, ':') && r.t.Kind(j+1) != text.End { // you may
		return dated{}, false
	}
	return r.withYear(r.value(j), day, j+1), true
}

// ordinal reads 23rd, third, twenty-third at token i.
func (r *reader) ordinal(i int) (n, next int, ok bool) {
	if n, figures := r.num(i); figures && r.is(i+1, words.Suffix) && r.t.Glued(i+1) {
		return n, i + 2, true
	}
	if r.is(i, words.Ordinal) {
		return r.value(i), i + 1, true
	}
	if j := r.hyphenTo(i + 1); r.is(i, words.Tens) && r.is(j, words.Ordinal) && r.value(j) < 10 {
		return r.value(i) + r.value(j), j + 1, true
	}
	return 0, i, false
}

// dayOfMonth reads a day without its month: on the 23rd, 23rd: ... The latest
// such day is meant. Of a set or a try an ordinal is no day.
func (r *reader) dayOfMonth(i int) (dated, bool) {
	n, next, ok := r.ordinal(i)
	if figures, isNumber := r.num(i); isNumber && !ok { // 15: ...
		n, next, ok = figures, i+1, figures > 12 && r.t.Is(i+1, ':') && r.t.Glued(i+1) && !r.t.Glued(i+2)
	}
	if !ok || n > 31 || n == 0 {
		return dated{}, false
	}
	the := r.is(i-1, words.The)
	lead := i - 1
	if the {
		lead--
	}
	said := r.is(lead, words.On) || r.is(lead, words.From) || r.is(lead, words.Weekday) || the && n > 6
	opens := r.opensLine(lead + 1)
	figures := r.t.Kind(i) == text.Number
	if !said && !(opens && (figures || the && r.t.Is(next, ':'))) {
		return dated{}, false
	}
	if r.any(next, ofASet) || !figures && n <= 6 && !r.t.Is(next, ':') && !r.is(lead, words.Weekday) { // on the third
		return dated{}, false
	}
	if r.t.Kind(next) == text.Word && !said || r.t.Is(next, '/') {
		return dated{}, false
	}
	return r.latestOf(n, next), true
}

// ofASet are words behind an ordinal that make it count sets.
var ofASet = words.OfClasses(words.Set, words.Rep, words.Try, words.Round, words.Ones, words.Span, words.Often)

// latestOf returns the latest day so numbered that is not to come.
func (r *reader) latestOf(n, next int) dated {
	year, month, today := r.civilToday().Civil()
	for n > today || r.checked(year, int(month), n, next).fault != "" {
		if today, month = 31, month-1; month == 0 {
			year, month = year-1, time.December
		}
	}
	return r.checked(year, int(month), n, next)
}

// monthDay reads Nov 23, November 23rd, Nov. 23, Nov/2, November first.
func (r *reader) monthDay(i int) (dated, bool) {
	if !r.is(i, words.Month) {
		return dated{}, false
	}
	j := i + 1
	if r.t.Glued(j) && (r.t.Is(j, '.') || r.t.Is(j, '/') || r.t.Is(j, '-')) || r.is(j, words.The) {
		j++
	}
	if n, next, ok := r.ordinal(j); ok && n > 0 && n <= 31 && !r.any(next, ofASet) {
		return r.withYear(r.value(i), n, next), true
	}
	day, ok := r.num(j)
	if !ok || day > 31 || day < 1 || r.any(j+1, goesOn) && !r.is(j+1, words.Span) || r.t.GluedSign(j+1, '/') {
		return dated{}, false
	}
	return r.withYear(r.value(i), day, j+1), true
}

// withYear reads a year at token i, if one stands there.
func (r *reader) withYear(month, day, i int) dated {
	j := i
	if r.t.Is(j, ',') || r.t.Glued(j) && (r.t.Is(j, '.') || r.t.Is(j, '-') || r.t.Is(j, '/')) {
		j++
	}
	year, ok := r.num(j)
	this, _, _ := r.today.Civil()
	short := j == i && r.digits(j) == 2 && r.t.Kind(j+1) == text.Number && (year == this%100 || year == (this-1)%100) // 22 Nov 26 3x30s
	switch {
	case ok && short:
		return r.checked(2000+year, month, day, j+1)
	case ok && r.digits(j) == 4 && year >= 2000 && year <= 2100 && !r.is(j+1, words.Times):
		return r.checked(year, month, day, j+1)
	}
	if j > i && r.t.Is(i, '.') {
		i++
	}
	return r.latest(month, day, i)
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

// latest returns the latest such day of a year not after today; one that is less
// than half a year ahead is taken for the coming one.
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
