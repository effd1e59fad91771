package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// dayOf reads one day at token i, without the small words before it. The rules
// are tried in order; an explicit date behind a weekday wins over it.
func (r *reader) dayOf(i int) (dated, bool) {
	for _, rule := range r.dayRules(i) {
		if d, ok := rule(r, i); ok {
			return d, true
		}
	}
	return dated{}, false
}

type dayRule func(*reader, int) (dated, bool)

// The rules for days, in the order in which they are tried.
var (
	figureRules = []dayRule{
		(*reader).isoDate, (*reader).compactDate, (*reader).figureDate,
		(*reader).dayMonth, (*reader).daysAgo, (*reader).dayOfMonth,
	}
	spelledRules = []dayRule{
		(*reader).monthDay, (*reader).dayMonth, (*reader).daysAgo, (*reader).nthWeekday,
		(*reader).toCome, (*reader).weekday, (*reader).relative, (*reader).dayOfMonth,
	}
)

// opensDay are words that a day may begin with.
var opensDay = words.OfClasses(words.Weekday, words.ShortDay, words.Month, words.Today, words.Yesterday, words.Last, words.This,
	words.Ones, words.Tens, words.Couple, words.Few, words.Span, words.Ordinal, words.Ahead, words.Article, words.The, words.Ago)

// figureTails are words behind figures with which they may be a day.
var figureTails = words.OfClasses(words.Month, words.Span, words.DayPart, words.Of, words.Suffix, words.Set, words.Few)

// dayRules are those worth trying at token i.
func (r *reader) dayRules(i int) []dayRule {
	switch r.t.Kind(i) {
	case text.Number:
		if r.t.Kind(i+1) == text.Word && r.digits(i) < 8 && !r.any(i+1, figureTails) { // 30s, 5 pull-ups
			return nil
		}
		return figureRules
	case text.Word:
		if r.any(i, opensDay) {
			return spelledRules
		}
	}
	return nil
}

// daysAgo reads 2 days ago, 2d ago, a week ago, the day before yesterday.
func (r *reader) daysAgo(i int) (dated, bool) {
	if d, ok := r.dayBefore(i); ok {
		return d, true
	}
	n, next, ok := r.howMany(i)
	if !ok || n > 400 {
		return dated{}, false
	}
	if r.is(next, words.DayPart) && r.is(next+1, words.Ago) { // 5 mornings ago
		return dated{day: r.back(n), next: next + 2}, true
	}
	if !r.is(next, words.Span) {
		return dated{}, false
	}
	span := r.value(next)
	if more, ok := r.daysMore(next + 1); ok && span > 1 { // 2 weeks and 2 days ago
		return r.longAfter(n, span, more), true
	}
	next++
	switch {
	case r.is(next, words.Ago):
		next++
	case !r.is(i-1, words.Hence) && !r.hencePhrase(i):
		return dated{}, false
	}
	return r.spanBack(n, span, next), true
}

// hencePhrase reports whether "il y a" stands before token i.
func (r *reader) hencePhrase(i int) bool {
	next, ok := words.Phrase(r.t, i-3, words.Hence)
	return ok && next == i
}

// dayBefore reads the day before yesterday, and the day before alone.
func (r *reader) dayBefore(i int) (dated, bool) {
	if r.is(i, words.The) {
		i++
	}
	if !r.is(i, words.Span) || r.value(i) != 1 || !r.is(i+1, words.Ago) || len(r.t.Word(i)) < 3 {
		return dated{}, false
	}
	switch {
	case r.is(i+2, words.Yesterday):
		return dated{day: r.back(2), next: i + 3}, true
	case r.is(i+2, words.Last):
		return dated{day: r.back(2), next: i + 3}, true
	case r.t.Is(i+2, ':'):
		return dated{day: r.back(1), next: i + 2}, true
	case r.seen.last.next > 0 && r.seen.last.fault == "": // the day before that
		if r.any(i+2, pointing) {
			i++
		}
		return dated{day: r.seen.last.day - 1, next: i + 2}, true
	}
	return dated{}, false
}

// howMany reads the number of a span: 2, a, a few, a couple of, none before week
// ago.
func (r *reader) howMany(i int) (n, next int, ok bool) {
	if value, next, ok := r.number(i); ok {
		return value.int(), next, value.whole
	}
	j := i
	if r.is(j, words.Article) {
		j++
	}
	switch {
	case r.is(j, words.Few) && r.value(j) > 0: // a few: three (duckling, chrono)
		return r.value(j), j + 1, true
	case j > i && r.is(j, words.Span), r.is(j, words.Span) && r.value(j) == 7 && r.is(j+1, words.Ago):
		return 1, j, true
	}
	return 0, i, false
}

// spanBack returns the day so many spans back; a weekday or another day behind
// ago is counted from there.
func (r *reader) spanBack(n, span, next int) dated {
	if span == monthDays {
		return r.monthsAgo(n, next)
	}
	j := next
	if r.is(j, words.On) {
		j++
	}
	if span == 7 && r.is(j, words.Weekday) { // a week ago on Friday
		if j > next {
			return dated{day: r.weekBefore(j) - training.Day(7*(n-1)), next: j + 1}
		}
		if d, ok := r.weekday(j); ok {
			return dated{day: d.day - training.Day(7*n), next: d.next}
		}
	}
	if r.is(next, words.Yesterday) { // 2 days before yesterday
		return dated{day: r.back(n*span + r.value(next)), next: next + 1}
	}
	if span == 7 && r.is(next, words.Today) {
		next++
	}
	return dated{day: r.back(n * span), next: next}
}

// monthDays stands for a month where spans are counted in days: 2 months ago is
// the same day of the month before last.
const monthDays = 30

// daysMore reads days that a longer span goes on with, and that it is long ago:
// and 2 days ago, 21 days ago.
func (r *reader) daysMore(i int) (d dated, ok bool) {
	if r.is(i, words.And) || r.t.Is(i, ',') {
		i++
	}
	n, next, ok := r.number(i)
	if !ok || !n.whole || n.int() > 400 || !r.is(next, words.Span) || r.value(next) != 1 || !r.is(next+1, words.Ago) {
		return d, false
	}
	return dated{day: r.back(n.int()), next: next + 2}, true
}

// longAfter returns the day so many spans before another one.
func (r *reader) longAfter(n, span int, after dated) dated {
	if span != monthDays {
		after.day -= training.Day(n * span)
		return after
	}
	d := r.monthsAgo(n, after.next)
	d.day -= r.today - after.day
	return d
}

// monthsAgo returns the same day of an earlier month, or the last day of one
// that is shorter.
func (r *reader) monthsAgo(n, next int) dated {
	_, _, day := r.today.Civil()
	d := r.inMonthBefore(n, day, next)
	for ; d.fault != ""; day-- {
		d = r.inMonthBefore(n, day-1, next)
	}
	return d
}

// inMonthBefore returns a day of the month so many before this one.
func (r *reader) inMonthBefore(months, day, next int) dated {
	year, month, _ := r.today.Civil()
	at := year*12 + int(month) - 1 - months
	return r.checked(at/12, at%12+1, day, next)
}

// back counts days back from the training day now running; after midnight,
// yesterday is that day itself.
func (r *reader) back(days int) training.Day {
	if r.afterMidnight && days == 1 {
		return r.today
	}
	return r.today - training.Day(days)
}

// civilToday is the date on the member's clock.
func (r *reader) civilToday() training.Day {
	if r.afterMidnight {
		return r.today + 1
	}
	return r.today
}

// toCome reads tomorrow, next Monday.
func (r *reader) toCome(i int) (dated, bool) {
	if !r.is(i, words.Ahead) && !(r.is(i, words.This) && r.is(i+1, words.Ahead)) {
		return dated{}, false
	}
	if r.is(i, words.This) {
		if r.is(i+1, words.DayPart) { // esta mañana
			return dated{}, false
		}
		i++
	}
	if r.value(i) == 1 {
		return dated{day: r.civilToday() + 1, next: i + 1, ahead: true}, true
	}
	if !r.is(i+1, words.Weekday) && !r.is(i+1, words.Calendar) && !r.is(i+1, words.Span) {
		return dated{}, false
	}
	return dated{day: r.today + 7, next: i + 2, ahead: true}, true
}

// relative reads today, yesterday, last night, this morning.
func (r *reader) relative(i int) (dated, bool) {
	if j := r.hyphenTo(i + 1); r.is(i, words.Ago) && r.is(j, words.Yesterday) { // avant-hier
		return dated{day: r.back(2), next: j + 1}, true
	}
	night := r.is(i+1, words.Span) || r.is(i+1, words.DayPart)
	switch {
	case r.is(i, words.Today):
		return dated{day: r.today, next: i + 1, loose: true}, true
	case r.is(i, words.Yesterday):
		return dated{day: r.back(r.value(i)), next: i + 1}, true
	case r.is(i, words.Last) && night && r.value(i+1) <= 1 && !r.is(i+1, words.Calendar):
		return dated{day: r.back(1), next: i + 2}, true
	case r.is(i, words.This) && r.is(i+1, words.DayPart):
		return dated{day: r.today, next: i + 2, loose: true}, true
	}
	return dated{}, false
}
