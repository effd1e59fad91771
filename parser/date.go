package parser

import (
	"time"

	"rungbook/training"
)

// Dates of the calendar, in figures and in words. Each rule returns the day read
// at a token, or what is wrong with it.

// isoDate reads 2026-11-23, 2026-nov-23, 2026 11 23.
func (r *reader) isoDate(i int) (dated, bool) {
	if d, ok := r.spacedDate(i); ok {
		return d, true
	}
	if r.toks[i].digits != 4 || !r.punct(i+1, '-') && !r.punct(i+1, '/') && !r.punct(i+1, '.') || !r.toks[i+1].glued {
		return dated{}, false
	}
	month, ok := r.num(i + 2)
	if r.has(i+2, fMonth) {
		month, ok = int(r.toks[i+2].n), true
	}
	if !ok || r.toks[i+3].n != r.toks[i+1].n || !r.toks[i+3].glued {
		return dated{}, false
	}
	day, ok := r.num(i + 4)
	if !ok {
		return dated{}, false
	}
	return r.checked(int(r.toks[i].n), month, day, i+5), true
}

func (r *reader) spacedDate(i int) (dated, bool) {
	year, _ := r.num(i)
	month, ok := r.num(i + 1)
	day, ok2 := r.num(i + 2)
	if !ok || !ok2 || r.toks[i].digits != 4 || r.toks[i+1].digits != 2 || r.toks[i+2].digits != 2 || year < 2000 || year > 2100 || r.unitAt(i+3) || r.has(i+3, fTimes) {
		return dated{}, false
	}
	d := r.checked(year, month, day, i+3)
	return d, d.code == 0
}

// figureDate reads 23.11., 23/11, 23.11.2026, 23/11/26, 23-11-2026. The day
// stands first; where only the other order can be meant it is taken.
func (r *reader) figureDate(i int) (dated, bool) {
	sign := &r.toks[i+1]
	second, ok := r.num(i + 2)
	if !ok || sign.kind != kPunct || !sign.glued || !r.toks[i+2].glued || sign.n != '.' && sign.n != '/' && sign.n != '-' {
		return dated{}, false
	}
	first := int(r.toks[i].n)
	if first > 31 && r.toks[i].digits == 2 && second >= 1 && second <= 12 && sign.n == '.' && r.punct(i+3, '.') && r.toks[i+3].glued && !r.toks[i+4].glued && (i == 0 || r.toks[i-1].kind == kLine) { // 32.11.
		return dated{next: i + 4, code: faultDate}, true
	}
	if first < 1 || second < 1 || first > 31 || second > 31 || first > 12 && second > 12 {
		return dated{}, false
	}
	if year, ok := r.num(i + 4); ok && r.punct(i+3, sign.n) && r.toks[i+3].glued && r.toks[i+4].glued && (r.toks[i+4].digits == 4 || r.toks[i+4].digits == 2 && year > 12 && !(sign.n == '/' && r.toks[i].digits < 2 && year > 31)) {
		if r.toks[i+4].digits == 2 {
			year += 2000
		}
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
	return r.shortDate(i, first, second)
}

// timesBefore reports whether sets times a size stand before token i.
func (r *reader) timesBefore(i int) bool {
	for j := range i {
		if r.has(j, fTimes) && r.toks[j+1].kind == kNum {
			return true
		}
	}
	return false
}

// stale is the age in days from which a date in figures is read the month first, if
// that makes it younger: sets so old are nobody's.
const stale = 60

// shortDate reads a figure date without a year, where nothing else it might be
// (a list, a ratio, a decimal) is likelier.
func (r *reader) shortDate(i, first, second int) (dated, bool) {
	sign, next := r.toks[i+1].n, i+3
	on := i > 0 && (r.is(i-1, "on") || r.is(i-1, "from") || r.is(i-1, "this") || r.punct(i-1, '(') && r.has(i-2, fToday|fYesterday|fWeekday) || r.has(i-1, fWeekday) || r.has(i-1, fDays))
	opens := i == 0 || r.toks[i-1].kind == kLine || r.toks[i-1].kind == kPunct && !r.toks[i].glued && (r.toks[i-1].n == ',' || r.toks[i-1].n == '(') && i == 1
	switch {
	case r.punct(next, sign) && r.toks[next].glued && r.toks[next+1].glued && r.toks[next+1].kind == kNum: // a longer list
		return dated{}, false
	case r.glueUnit(next) && !(r.punct(next, ':')) || r.has(next, fTimes|fSet|fRound|fEffort):
		return dated{}, false
	case sign == '.':
		if r.toks[i+2].digits != 2 && !r.has(i-1, fWeekday) || !(opens || on || r.punct(next, '.')) {
			return dated{}, false
		}
		if r.punct(next, '.') && r.toks[next].glued {
			next++
		}
	case sign == '-' && opens && first > 12 && r.toks[next].kind == kNum && !r.toks[next].glued: // 22-11 3x30s
	case sign == '-' && !on:
		return dated{}, false
	case sign == '/' && r.toks[next].kind == kEnd && first > 12 && i > 0 && r.partOfAName(i-1) && r.timesBefore(i): // 3x20s mid hang 21/11
	case sign == '/' && r.toks[next].kind == kEnd && r.punct(i-1, ',') && r.has(i-2, fSec|fMin) && first > 12: // mid hang 3x20s, 21/11
	case !on && !(opens && (r.toks[i].digits == 2 || r.toks[i+2].digits == 2) && !r.nameNext(next) || opens && r.punct(next, ':')):
		return dated{}, false
	}
	swap := second > 12
	if swap {
		first, second = second, first
	}
	d := r.latest(second, first, next)
	if other := r.latest(first, second, next); !swap && first <= 12 && d.code == 0 && other.code == 0 && d.day < r.civilToday()-stale && other.day >= r.civilToday()-stale && other.day <= r.civilToday() {
		return other, true
	}
	if d.code != 0 || swap || first > 12 || sign == '.' || first == second {
		return d, true
	}
	// Day first is the rule; a day first that is yet to come gives way.
	if d.day > r.civilToday() {
		d.code = faultTwoDates
	}
	return d, true
}

// nameNext reports whether a skill follows: then 10/10 is a list of reps, unless
// a size follows it.
func (r *reader) nameNext(i int) bool {
	_, next, ok := r.name(i)
	if !ok {
		return false
	}
	_, sized := r.quantity(next)
	return !sized
}

// compactDate reads 20261123.
func (r *reader) compactDate(i int) (dated, bool) {
	n := int(r.toks[i].n)
	if r.toks[i].digits != 8 || n < 2000_00_00 || n > 2100_00_00 || r.glueUnit(i+1) && !r.punct(i+1, ':') {
		return dated{}, false
	}
	return r.checked(n/10000, n/100%100, n%100, i+1), true
}

// dayMonth reads 23 Nov, 23rd of November 2026, the second of November.
func (r *reader) dayMonth(i int) (dated, bool) {
	day, j, _ := r.ordinal(i)
	if r.toks[i].kind == kNum {
		day, j = int(r.toks[i].n), r.ordinalTail(i+1)
	} else if day == 0 {
		return dated{}, false
	}
	of := r.has(j, fOf)
	if of {
		j++
	}
	if r.punct(j, '.') && r.toks[j].glued || r.punct(j, '-') && r.toks[j].glued || r.punct(j, '/') && r.toks[j].glued {
		j++
	}
	if !r.has(j, fMonth) || r.toks[j].b-r.toks[j].a < 3 || r.is(j, "may") && !r.toks[j].capital && !of && !(r.toks[i].kind == kNum && r.toks[j+1].kind == kNum) {
		return dated{}, false
	}
	return r.withYear(int(r.toks[j].n), day, j+1), true
}

// ordinal reads 23rd, third, twenty-third at token i. It returns 0 where there
// is none.
func (r *reader) ordinal(i int) (n, next int, ok bool) {
	t := &r.toks[i]
	switch {
	case t.kind == kNum && r.ordinalTail(i+1) > i+1:
		return int(t.n), i + 2, true
	case r.has(i, fOrdinal):
		return int(t.n), i + 1, true
	case r.has(i, fTens):
		if j := r.hyphenTo(i + 1); r.has(j, fOrdinal) && r.toks[j].n < 10 {
			return int(t.n + r.toks[j].n), j + 1, true
		}
	}
	return 0, i, false
}

// dayOfMonth reads a day without its month: on the 23rd, 23rd: ... The latest
// such day is meant. Of a set or a try an ordinal is no day.
func (r *reader) dayOfMonth(i int) (dated, bool) {
	n, next, ok := r.ordinal(i)
	bare := !ok && r.toks[i].kind == kNum && r.toks[i].n > 12 && r.punct(i+1, ':') && r.toks[i+1].glued && !r.toks[i+2].glued // 15: ...
	if bare {
		n, next, ok = int(r.toks[i].n), i+1, true
	}
	if !ok || n > 31 || n == 0 {
		return dated{}, false
	}
	if r.toks[i].kind == kWord && n <= 6 && r.is(i-1, "the") && i > 2 && (r.has(i-3, fSec|fMin|fRep) || r.toks[i-3].kind == kNum) { // 14s on the third
		return dated{}, false
	}
	said := r.is(i-1, "the") && (n > 6 || r.is(i-2, "on") || r.is(i-2, "of") || r.is(i-2, "from") || r.has(i-2, fWeekday)) || r.is(i-1, "on")
	opens := i == 0 || r.toks[i-1].kind == kLine || r.is(i-1, "the") && (i == 1 || r.toks[i-2].kind == kLine)
	if !said && !(opens && (r.toks[i].kind == kNum || r.is(i-1, "the") && r.punct(next, ':'))) {
		return dated{}, false
	}
	if !r.sepAt(next) && !(said && (r.toks[next].kind == kNum || r.has(next, fFill|fOnes))) || r.is(next, "one") || r.has(next, fSet|fRep|fTry) || r.punct(next, '/') {
		return dated{}, false
	}
	year, month, today := r.civilToday().Civil()
	for n > today || r.checked(year, int(month), n, next).code != 0 {
		if today, month = 31, month-1; month == 0 {
			year, month = year-1, time.December
		}
	}
	return r.checked(year, int(month), n, next), true
}

// ordinalTail passes st, nd, rd, th.
func (r *reader) ordinalTail(i int) int {
	if r.toks[i].kind == kWord && r.toks[i].glued && (r.is(i, "st") || r.is(i, "nd") || r.is(i, "rd") || r.is(i, "th")) {
		return i + 1
	}
	return i
}

// monthDay reads Nov 23, November 23rd, Nov. 23, Nov/2, November first.
func (r *reader) monthDay(i int) (dated, bool) {
	if !r.has(i, fMonth) {
		return dated{}, false
	}
	j := i + 1
	if r.punct(j, '.') && r.toks[j].glued || r.punct(j, '/') && r.toks[j].glued || r.punct(j, '-') && r.toks[j].glued || r.is(j, "the") {
		j++
	}
	if n, next, ok := r.ordinal(j); ok && r.toks[j].kind == kWord && n > 0 && !r.has(next, fSet|fTry) {
		return r.withYear(int(r.toks[i].n), n, next), true
	}
	day, ok := r.num(j)
	if !ok || day > 31 || day < 1 || r.has(j+1, fTimes|fSet|fRound|fSec|fMin|fRep) && !r.has(j+1, fDays) || r.punct(j+1, '/') && r.toks[j+1].glued {
		return dated{}, false
	}
	return r.withYear(int(r.toks[i].n), day, r.ordinalTail(j+1)), true
}

// withYear reads a year at token i, if one stands there.
func (r *reader) withYear(month, day, i int) dated {
	j := i
	if r.punct(j, ',') || (r.punct(j, '.') || r.punct(j, '-') || r.punct(j, '/')) && r.toks[j].glued {
		j++
	}
	if year, ok := r.num(j); ok && j == i && r.toks[j].digits == 2 && r.toks[j+1].kind == kNum && r.thisCentury(year) { // 22 Nov 26 3x30s
		return r.checked(2000+year, month, day, j+1)
	}
	if year, ok := r.num(j); ok && r.toks[j].digits == 4 && year >= 2000 && year <= 2100 && !r.has(j+1, fTimes) {
		return r.checked(year, month, day, j+1)
	}
	if j > i && r.toks[i].n == '.' {
		i++
	}
	return r.latest(month, day, i)
}

// thisCentury reports whether two figures are those of this year or the last.
func (r *reader) thisCentury(n int) bool {
	year, _, _ := r.ctx.Today.Civil()
	return n == year%100 || n == (year-1)%100
}

// checked returns the day, or why the calendar has no such day.
func (r *reader) checked(year, month, day, next int) dated {
	if month < 1 || month > 12 || day < 1 {
		return dated{next: next, code: faultDate}
	}
	d := training.Date(year, time.Month(month), day)
	if _, m, _ := d.Civil(); int(m) != month {
		return dated{next: next, code: faultDate}
	}
	return dated{day: d, next: next}
}

// latest returns the latest such day of a year not after today; one that is less
// than half a year ahead is taken for the coming one.
func (r *reader) latest(month, day, next int) dated {
	year, _, _ := r.ctx.Today.Civil()
	d := r.checked(year, month, day, next)
	if d.code != 0 && month == 2 && day == 29 { // a leap day of an earlier year
		for y := year - 1; y > year-5 && d.code != 0; y-- {
			d = r.checked(y, month, day, next)
		}
		return d
	}
	if d.code == 0 && d.day > r.ctx.Today+182 {
		d = r.checked(year-1, month, day, next)
	}
	return d
}
