package sets

import (
	"time"

	"rungbook/parser/text"
	"rungbook/parser/words"
)

// Dates of the calendar in words: a month's name, a day's number alone.

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
	if _, joined := r.dateSign(j); joined || r.t.Is(j, '.') && r.t.Glued(j) {
		j++
	}
	if !r.is(j, words.Month) || len(r.t.Word(j)) < 3 {
		return dated{}, false
	}
	if !of && r.verbMay(j) {
		return dated{}, false
	}
	return r.withYear(r.value(j), day, j+1), true
}

// verbMay reports whether the month at token j is likelier the verb: you may.
func (r *reader) verbMay(j int) bool {
	if time.Month(r.value(j)) != time.May || r.t.Tokens[j].Capital {
		return false
	}
	next := r.t.Kind(j + 1)
	return next != text.Number && next != text.End && !r.t.Is(j+1, ':')
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
	n, next, ok := r.dayNumber(i)
	if !ok || !ofMonth(n) || r.any(next, ofASet) || r.t.Is(next, '/') {
		return dated{}, false
	}
	colon, figures := r.t.Is(next, ':'), r.t.Kind(i) == text.Number
	lead, the := i-1, r.is(i-1, words.The)
	if the {
		lead--
	}
	if !figures && n <= 6 && !colon && !r.is(lead, words.Weekday) { // on the third
		return dated{}, false
	}
	said := r.any(lead, beforeDay) || the && n > 6
	heads := r.opensLine(lead+1) && r.ends(next) && (figures || the && colon)
	return r.latestOf(n, next), said || heads
}

// dayNumber reads what a day without its month may be called: 23rd, the second,
// 15: at the head of what was done.
func (r *reader) dayNumber(i int) (n, next int, ok bool) {
	if n, next, ok := r.ordinal(i); ok {
		return n, next, true
	}
	n, ok = r.num(i)
	colon := r.t.Is(i+1, ':') && r.t.Glued(i+1) && !r.t.Glued(i+2)
	return n, i + 1, ok && n > 12 && colon
}

// beforeDay are words that show a number behind them to be a day's.
var beforeDay = words.OfClasses(words.On, words.From, words.Weekday)

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
	if r.t.Glued(j) && r.t.OneOf(j, "./-") || r.is(j, words.The) {
		j++
	}
	if n, next, ok := r.ordinal(j); ok && ofMonth(n) && !r.any(next, ofASet) {
		return r.withYear(r.value(i), n, next), true
	}
	day, ok := r.num(j)
	if !ok || !ofMonth(day) || r.any(j+1, goesOn) && !r.is(j+1, words.Span) || r.t.GluedSign(j+1, '/') {
		return dated{}, false
	}
	return r.withYear(r.value(i), day, j+1), true
}

// withYear reads a year at token i, if one stands there.
func (r *reader) withYear(month, day, i int) dated {
	j := i
	if r.t.Is(j, ',') || r.t.Glued(j) && r.t.OneOf(j, ".-/") {
		j++
	}
	year, ok := r.num(j)
	switch {
	case ok && j == i && r.shortYear(j): // 22 Nov 26 3x30s
		return r.checked(2000+year, month, day, j+1)
	case ok && r.digits(j) == 4 && year >= 2000 && year <= 2100 && !r.is(j+1, words.Times):
		return r.checked(year, month, day, j+1)
	}
	if j > i && r.t.Is(i, '.') {
		i++
	}
	return r.latest(month, day, i)
}

// shortYear reports whether the number at token i is this year or the last in two
// figures, with another number behind it.
func (r *reader) shortYear(i int) bool {
	year, _ := r.num(i)
	this, _, _ := r.today.Civil()
	return r.digits(i) == 2 && r.t.Kind(i+1) == text.Number && (year == this%100 || year == (this-1)%100)
}
