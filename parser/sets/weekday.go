package sets

import (
	"time"

	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// Weekdays, with what says which of them is meant: a word before, a date or a week
// behind.

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
	if !r.shortDay(j) && (!r.is(j, words.Weekday) || r.otherMeaning(j)) {
		return dated{}, false
	}
	named := time.Weekday(r.value(j))
	next := r.weekdayEnd(j)
	if r.is(next, words.Ahead) && r.is(next+1, words.Calendar) { // Monday next week
		return dated{day: r.today + 7, next: next + 2, ahead: true}, true
	}
	if j > i && !last && fromMonday(named) > fromMonday(r.today.Weekday()) { // this Saturday
		return dated{day: r.today + 7, next: next, ahead: true}, true
	}
	if exact, ok := r.dateBehind(next, named); ok {
		return r.mustBeOn(exact, named), true
	}
	if d, ok := r.ofWeek(j, next, last); ok {
		return d, true
	}
	return dated{day: r.latestWeekday(j, last), next: next, loose: true, weekday: !last && j == i}, true
}

// shortDay reports whether a weekday in two or three letters heads sets at
// token i: Mo: 3x8.
func (r *reader) shortDay(i int) bool {
	return r.is(i, words.ShortDay) && r.t.Is(i+1, ':') && r.t.Kind(i-1) != text.Word
}

// weekdayEnd returns the token behind the weekday at token i, with the dot of a
// shortened one and a last that stands behind it: Sunday past.
func (r *reader) weekdayEnd(i int) int {
	next := i + 1
	dot := r.t.Is(next, '.') && r.t.Glued(next) && r.t.Kind(next+1) != text.End
	if dot || r.is(next, words.Last) && r.ends(next+1) {
		return next + 1
	}
	return next
}

// fromMonday returns the number of a weekday from Monday, 0, on. So weeks are
// counted where people speak of this week and the last.
func fromMonday(day time.Weekday) int { return (int(day) + 6) % 7 }

// ofWeek reads the week that is named behind the weekday at token day: Monday
// of this week, Monday of last week.
func (r *reader) ofWeek(day, i int, last bool) (dated, bool) {
	i = r.pastOf(i)
	if r.is(i, words.From) {
		i++
	}
	switch {
	case !r.is(i+1, words.Calendar):
	case r.is(i, words.This):
		return dated{day: r.latestWeekday(day, last), next: i + 2, loose: true}, true
	case r.is(i, words.Last):
		return dated{day: r.weekBefore(day), next: i + 2}, true
	}
	return dated{}, false
}

// lastWeek reads last week's Monday, and last week alone, which is no one day.
func (r *reader) lastWeek(j int, last bool) (dated, bool) {
	if !last || !r.is(j, words.Calendar) {
		return dated{}, false
	}
	k := j + 1
	if r.is(k, words.On) || r.t.OneOf(k, "-,") {
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
	return r.t.Kind(i+1) == text.Word && !r.is(i+1, words.DayPart) && !r.named(i+1)
}

// nthWeekday reads the second Sunday: of this month, or of the last where it is
// yet to come.
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
	monday := r.today - training.Day(fromMonday(r.today.Weekday()))
	return monday - 7 + training.Day(fromMonday(time.Weekday(r.value(i))))
}

// dateBehind reads an explicit date right behind a weekday.
func (r *reader) dateBehind(i int, named time.Weekday) (dated, bool) {
	j := i
	if r.t.Is(j, ',') || r.is(j, words.The) {
		j++
	}
	if d, ok := r.figuresBehind(j, named); ok {
		return d, true
	}
	if d, ok := r.monthDay(j); ok {
		return d, true
	}
	the := r.is(j-1, words.The)
	if n, next, ok := r.ordinal(j); ok && ofMonth(n) && (the || r.t.Kind(j) == text.Number) { // Monday the 23rd
		return r.namedDay(n, next, named), true
	}
	if n, next, ok := r.number(j); ok && the && n.whole && ofMonth(n.int()) { // Friday the fifteen
		return r.namedDay(n.int(), next, named), true
	}
	return dated{}, false
}

// figuresBehind reads a date that begins with figures right behind a weekday.
func (r *reader) figuresBehind(i int, named time.Weekday) (dated, bool) {
	n, ok := r.num(i)
	if !ok {
		return dated{}, false
	}
	for _, rule := range [...]dayRule{(*reader).isoDate, (*reader).figureDate, (*reader).dayMonth} {
		if d, ok := rule(r, i); ok {
			return r.onWeekday(d, i, named), true
		}
	}
	if n <= 12 || n > 31 || !r.t.Is(i+1, ':') || r.t.Glued(i+2) {
		return dated{}, false
	}
	d := r.namedDay(n, i+1, named) // Monday 21:
	return d, d.on(named)
}

// on reports whether a date falls on a weekday.
func (d dated) on(named time.Weekday) bool { return d.fault == "" && d.day.Weekday() == named }

// mustBeOn returns the date with a fault if it is past and not on the weekday
// before it: Friday 21 Nov, which is a Saturday.
func (r *reader) mustBeOn(d dated, named time.Weekday) dated {
	if d.fault == "" && d.day <= r.civilToday() && !d.on(named) {
		d.fault = WrongWeekday
	}
	return d
}

// onWeekday reads a date in figures with day and month swapped if only so it
// falls on the weekday before it: Friday 7/6.
func (r *reader) onWeekday(d dated, i int, named time.Weekday) dated {
	a, ok := r.num(i)
	b, bOK := r.num(i + 2)
	if d.on(named) || !ok || !bOK || max(a, b) > 12 || d.next != i+3 {
		return d
	}
	if other := r.latest(a, b, d.next); other.on(named) {
		return other
	}
	return d
}

// namedDay returns the n-th of this month or of one of the two before,
// whichever falls on the weekday named with it. Where none does the calendar
// has no such day.
func (r *reader) namedDay(n, next int, named time.Weekday) dated {
	for back := range 3 {
		if d := r.inMonthBefore(back, n, next); d.on(named) {
			return d
		}
	}
	_, month, _ := r.today.Civil()
	return r.mustBeOn(r.latest(int(month), n, next), named)
}
