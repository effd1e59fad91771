package sets

import (
	"time"

	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// dayOf reads one day at token i, without the small words before it. The rules
// are tried in order; an explicit date behind a weekday wins over it.
func (r *reader) dayOf(i int) (dated, bool) {
	rules := r.dayRules(i)
	for _, rule := range rules {
		if d, ok := rule(r, i); ok {
			return d, true
		}
	}
	return dated{}, false
}

type dayRule func(*reader, int) (dated, bool)

var (
	figureRules = []dayRule{(*reader).isoDate, (*reader).compactDate, (*reader).figureDate, (*reader).dayMonth, (*reader).daysAgo, (*reader).dayOfMonth}
	spelledDay  = []dayRule{(*reader).monthDay, (*reader).dayMonth, (*reader).daysAgo, (*reader).nthWeekday, (*reader).toCome, (*reader).weekday,
		(*reader).relative, (*reader).dayOfMonth}
	opensDay = words.OfClasses(words.Weekday, words.Month, words.Today, words.Yesterday, words.Last, words.This, words.Ones, words.Tens,
		words.Couple, words.Few, words.Span, words.Ordinal, words.Ahead, words.Article, words.The, words.Ago)
	figureTails = words.OfClasses(words.Month, words.Span, words.DayPart, words.Of, words.Suffix, words.Set, words.Few)
)

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
			return spelledDay
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

// daysMore reads days that a longer span goes on with, and that it is long ago: and
// 2 days ago, 21 days ago.
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

// toCome reads tomorrow, next Monday, Monday next week.
func (r *reader) toCome(i int) (dated, bool) {
	if !r.is(i, words.Ahead) && !(r.is(i, words.This) && r.is(i+1, words.Ahead)) {
		return dated{}, false
	}
	if r.is(i, words.This) {
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

// weekday reads Monday, last Friday, this past Wednesday. The latest such day
// not after today is meant; "last" means one before today.
func (r *reader) weekday(i int) (dated, bool) {
	j, last := i, false
	for step := 0; step < 3 && (r.is(j, words.Last) || r.is(j, words.This)); step++ {
		last = last || r.is(j, words.Last)
		j++
	}
	if d, ok := r.lastWeek(j, last); ok {
		return d, true
	}
	if !r.is(j, words.Weekday) || r.otherMeaning(j) {
		return dated{}, false
	}
	next := j + 1
	if r.t.Is(next, '.') && r.t.Glued(next) && r.t.Kind(next+1) != text.End || r.is(next, words.Last) && r.ends(next+1) { // Sunday past
		next++
	}
	if r.is(next, words.Ahead) && r.is(next+1, words.Calendar) { // Monday next week
		return dated{day: r.today + 7, next: next + 2, ahead: true}, true
	}
	if exact, ok := r.dateBehind(next, time.Weekday(r.value(j))); ok {
		return exact, true
	}
	k := r.pastOf(next)
	if r.is(k, words.From) {
		k++
	}
	if r.is(k, words.This) && r.is(k+1, words.Calendar) { // Monday of this week
		return dated{day: r.latestWeekday(j, last), next: k + 2, loose: true}, true
	}
	if r.is(k, words.Last) && r.is(k+1, words.Calendar) { // Monday of last week
		return dated{day: r.weekBefore(j), next: k + 2}, true
	}
	return dated{day: r.latestWeekday(j, last), next: next, loose: true, weekday: !last && j == i}, true
}

// lastWeek reads last week's Monday, and last week alone, which is no one day.
func (r *reader) lastWeek(j int, last bool) (dated, bool) {
	if !last || !r.is(j, words.Calendar) {
		return dated{}, false
	}
	k := j + 1
	if r.is(k, words.On) || r.t.Is(k, '-') || r.t.Is(k, ',') {
		k++
	}
	if r.is(k, words.Weekday) {
		return dated{day: r.weekBefore(k), next: k + 1}, true
	}
	return dated{next: j + 1, fault: VagueDay}, true
}

// latestWeekday returns the latest day of the weekday at token j.
func (r *reader) latestWeekday(j int, last bool) training.Day {
	want := time.Weekday(r.value(j))
	gap := (int(r.today.Weekday()) - int(want) + 7) % 7
	if r.afterMidnight && want == (r.today+1).Weekday() {
		gap = 0
	} else if last && gap == 0 {
		gap = 7
	}
	return r.today - training.Day(gap)
}

// otherMeaning reports whether a word that may be a weekday is likelier another:
// sat and sun in lower case, but where the clause ends or a number follows.
func (r *reader) otherMeaning(i int) bool {
	if len(r.t.Word(i)) > 3 || r.t.Tokens[i].Capital || r.value(i) != 0 && r.value(i) != 6 {
		return false
	}
	return r.t.Kind(i+1) == text.Word
}

// nthWeekday reads the second Sunday: of this month, or of the last where it is yet
// to come.
func (r *reader) nthWeekday(i int) (dated, bool) {
	if !r.is(i, words.Ordinal) || r.value(i) > 4 || !r.is(i+1, words.Weekday) {
		return dated{}, false
	}
	for back := range 2 {
		first := r.inMonthBefore(back, 1, i+2)
		gap := (r.value(i+1) - int(first.day.Weekday()) + 7) % 7
		first.day += training.Day(gap + 7*(r.value(i)-1))
		if first.day <= r.today {
			return first, true
		}
	}
	return dated{}, false
}

// weekBefore returns the weekday at token i in the week, from Monday on, before
// this one.
func (r *reader) weekBefore(i int) training.Day {
	monday := r.today - training.Day((int(r.today.Weekday())+6)%7)
	return monday - 7 + training.Day((r.value(i)+6)%7)
}

// dateBehind reads an explicit date right behind a weekday.
func (r *reader) dateBehind(i int, named time.Weekday) (dated, bool) {
	j := i
	if r.t.Is(j, ',') || r.is(j, words.The) {
		j++
	}
	if r.t.Kind(j) == text.Number {
		for _, rule := range [...]dayRule{(*reader).isoDate, (*reader).figureDate, (*reader).dayMonth} {
			if d, ok := rule(r, j); ok {
				return r.onWeekday(d, j, named), true
			}
		}
	}
	if n, ok := r.num(j); ok && n > 12 && n <= 31 && r.t.Is(j+1, ':') && !r.t.Glued(j+2) { // Monday 21:
		if d := r.namedDay(n, j+1, named); d.fault == "" && d.day.Weekday() == named {
			return d, true
		}
	}
	if d, ok := r.monthDay(j); ok {
		return d, true
	}
	the := r.is(j-1, words.The)
	if n, next, ok := r.ordinal(j); ok && n > 0 && n <= 31 && (r.t.Kind(j) == text.Number || the) { // Monday the 23rd
		return r.namedDay(n, next, named), true
	}
	if n, next, ok := r.number(j); ok && the && n.whole && n.int() <= 31 && n.int() > 0 { // Friday the fifteen
		return r.namedDay(n.int(), next, named), true
	}
	return dated{}, false
}

// onWeekday takes a date in figures the other way about where only that falls on
// the weekday it stands behind: Friday 7/6.
func (r *reader) onWeekday(d dated, i int, named time.Weekday) dated {
	a, ok := r.num(i)
	b, bOK := r.num(i + 2)
	if !ok || !bOK || a > 12 || b > 12 || d.next != i+3 || d.fault == "" && d.day.Weekday() == named {
		return d
	}
	if other := r.latest(a, b, d.next); other.fault == "" && other.day.Weekday() == named {
		return other
	}
	return d
}

// namedDay returns the n-th of this month or of one of the two before, whichever
// falls on the weekday named with it; this month's where none does.
func (r *reader) namedDay(n, next int, named time.Weekday) dated {
	for back := range 3 {
		if d := r.inMonthBefore(back, n, next); d.fault == "" && d.day.Weekday() == named {
			return d
		}
	}
	_, month, _ := r.today.Civil()
	return r.latest(int(month), n, next)
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
