package parser

import (
	"time"

	"rungbook/training"
)

// dated is a day read from the text, or a problem with it.
type dated struct {
	day  training.Day
	next int
	code fault
	vain bool // a bare weekday or a part of today: gives way to an explicit date
}

// dayPhrase reads a day at token i, with the small words before it.
func (r *reader) dayPhrase(i int) (item, bool) {
	j := i
	for step := 0; step < 3 && r.has(j, fLead); step++ {
		j++
	}
	d, ok := r.dayOf(j)
	if !ok {
		return item{}, false
	}
	it := item{k: iDay, n: int32(d.day), code: d.code, from: int32(j), to: int32(d.next)}
	for step := 0; step < 2 && (r.has(int(it.to), fDayPart) || r.toks[it.to-1].owner && r.has(int(it.to), fFill)); step++ {
		it.to++
	}
	it.to = int32(r.timeOfDay(int(it.to)))
	if d.vain {
		it.m = 1
	}
	return it, true
}

// timeOfDay passes a time of day behind a day: yesterday at 7, today 18:30.
func (r *reader) timeOfDay(i int) int {
	j := i
	if r.is(j, "at") || r.is(j, "around") {
		j++
	}
	hour, ok := r.num(j)
	if !ok || hour > 24 {
		return i
	}
	at, end := j > i, j+1
	if q, ok := r.clockTime(j); ok && q.code == 0 {
		at, end = at || hour > 4, q.to
	}
	if r.is(end, "am") || r.is(end, "pm") || r.is(end, "h") || r.is(end, "uhr") {
		at, end = true, end+1
	}
	if at && (r.toks[end].kind == kNum || r.punct(end, ':') && !r.toks[end].glued || r.punct(end, ':') && !r.toks[end+1].glued || r.punct(end, ',') || r.toks[end].kind == kLine) {
		return end
	}
	return i
}

// dayAt reports whether a day with figures of its own begins at token i.
func (r *reader) dayAt(i int) bool {
	d, ok := r.dayOf(i)
	return ok && d.code == 0 && r.toks[i].kind == kNum
}

// dayOf reads one day. The rules are tried in order; an explicit date after a
// weekday wins over it ("Tuesday March 7").
func (r *reader) dayOf(i int) (dated, bool) {
	if r.toks[i].kind == kNum {
		if next := &r.toks[i+1]; next.kind == kWord && r.toks[i].digits < 8 && next.f&(fMonth|fDays|fDayPart|fOf) == 0 && r.ordinalTail(i+1) == i+1 { // 30s, 5 pull-ups
			return dated{}, false
		}
		for _, rule := range [...]func(*reader, int) (dated, bool){(*reader).isoDate, (*reader).compactDate, (*reader).figureDate, (*reader).dayMonth, (*reader).daysAgo, (*reader).dayOfMonth} {
			if d, ok := rule(r, i); ok {
				return d, true
			}
		}
		return dated{}, false
	}
	if r.toks[i].kind != kWord || r.toks[i].f&(fWeekday|fMonth|fToday|fYesterday|fLast|fThis|fOnes|fTens|fCouple|fDays|fOrdinal) == 0 && !r.is(i, "a") && !r.is(i, "an") {
		return dated{}, false
	}
	for _, rule := range [...]func(*reader, int) (dated, bool){(*reader).monthDay, (*reader).dayMonth, (*reader).daysAgo, (*reader).nthWeekday, (*reader).weekday, (*reader).relative, (*reader).dayOfMonth} {
		if d, ok := rule(r, i); ok {
			return d, true
		}
	}
	return dated{}, false
}

func (r *reader) num(i int) (int, bool) {
	if i >= len(r.toks) || r.toks[i].kind != kNum {
		return 0, false
	}
	return int(r.toks[i].n), true
}

// daysAgo reads 2 days ago, 2d ago, a week ago, the day before yesterday.
func (r *reader) daysAgo(i int) (dated, bool) {
	if (r.is(i, "day") || r.is(i, "night")) && r.is(i+1, "before") {
		if r.has(i+2, fYesterday) || r.has(i+2, fLast) {
			return dated{day: r.back(2), next: i + 3}, true
		}
		return dated{day: r.back(1), next: i + 2}, r.is(i, "day")
	}
	n, next, ok := r.number(i)
	few := r.is(i, "few") || r.is(i, "a") && r.is(i+1, "few")
	if few { // a few: three (duckling, chrono)
		n, next, ok = number{milli: 3000, whole: true}, i+1, true
		if r.is(i, "a") {
			next++
		}
	}
	if !ok && r.is(i, "week") && r.has(i+1, fAgo) {
		n, next, ok = number{milli: 1000, whole: true}, i, true
	}
	if !ok && (r.is(i, "a") || r.is(i, "an") || r.is(i, "one")) {
		n, next, ok = number{milli: 1000, whole: true}, i+1, true
	}
	if ok && r.has(next, fDayPart) && r.has(next+1, fAgo) { // 5 mornings ago
		return dated{day: r.back(n.int()), next: next + 2}, n.whole && n.int() <= 400
	}
	if !ok || !n.whole || !r.has(next, fDays) || r.is(next, "night") || n.int() > 400 {
		return dated{}, false
	}
	span := int(r.toks[next].n)
	if more, ok := r.daysMore(next + 1); ok && span > 1 { // 2 weeks and 2 days ago
		return r.longAfter(n.int(), span, more)
	}
	if next++; r.has(next, fAgo) || r.is(next, "since") {
		next++
	} else if !r.agoBefore(i) {
		return dated{}, false
	}
	if span == monthDays {
		return r.monthsAgo(n.int(), next)
	}
	if span == 7 && r.is(next, "on") && r.has(next+1, fWeekday) { // three weeks ago on Friday
		return dated{day: r.weekBefore(next+1) - training.Day(7*(n.int()-1)), next: next + 2}, true
	}
	if span == 7 && r.is(next-1, "ago") && r.has(next, fToday|fYesterday|fWeekday) { // a week ago Monday
		if d, ok := r.dayOf(next); ok && d.code == 0 {
			d.day -= training.Day(7 * n.int())
			d.vain = false
			return d, true
		}
	}
	if r.is(next-1, "before") && r.has(next, fYesterday) { // 2 days before yesterday
		return dated{day: r.back(n.int()*span + int(r.toks[next].n)), next: next + 1}, true
	}
	return dated{day: r.back(n.int() * span), next: next, vain: few}, true
}

// daysMore reads days that a longer span goes on with, and that it is long ago: and
// 2 days ago, 21 days ago.
func (r *reader) daysMore(i int) (d dated, ok bool) {
	if r.has(i, fAnd) || r.punct(i, ',') {
		i++
	}
	n, next, ok := r.number(i)
	if !ok || !n.whole || n.int() > 400 || !r.has(next, fDays) || r.toks[next].n != 1 || !r.has(next+1, fAgo) {
		return d, false
	}
	return dated{day: r.back(n.int()), next: next + 2}, true
}

// longAfter returns the day so many spans before another one.
func (r *reader) longAfter(n, span int, after dated) (dated, bool) {
	if span != monthDays {
		after.day -= training.Day(n * span)
		return after, true
	}
	d, ok := r.monthsAgo(n, after.next)
	d.day -= r.ctx.Today - after.day
	return d, ok
}

// agoBefore reports whether ago stands before token i, as other languages have
// it: hace 3 dias, vor 3 Tagen, il y a 3 jours.
func (r *reader) agoBefore(i int) bool {
	return r.is(i-1, "hace") || r.is(i-1, "vor") || r.is(i-1, "ha") || r.is(i-1, "a") && r.is(i-2, "y") && r.is(i-3, "il")
}

// monthsAgo returns the same day of an earlier month, or the last day of one
// that is shorter.
func (r *reader) monthsAgo(n, next int) (dated, bool) {
	_, _, day := r.ctx.Today.Civil()
	d := r.inMonthBefore(n, day, next)
	for ; d.code != 0; day-- {
		d = r.inMonthBefore(n, day-1, next)
	}
	return d, true
}

// inMonthBefore returns a day of the month so many before this one.
func (r *reader) inMonthBefore(months, day, next int) dated {
	year, month, _ := r.ctx.Today.Civil()
	at := year*12 + int(month) - 1 - months
	return r.checked(at/12, at%12+1, day, next)
}

// back counts days back from the training day now running; after midnight,
// yesterday is that day itself.
func (r *reader) back(days int) training.Day {
	if r.ctx.AfterMidnight && days == 1 {
		return r.ctx.Today
	}
	return r.ctx.Today - training.Day(days)
}

// civilToday is the date on the member's clock.
func (r *reader) civilToday() training.Day {
	if r.ctx.AfterMidnight {
		return r.ctx.Today + 1
	}
	return r.ctx.Today
}

// weekday reads Monday, last Friday, this past Wednesday. The latest such day
// not after today is meant; "last" means one before today.
func (r *reader) weekday(i int) (dated, bool) {
	j, last := i, false
	for step := 0; step < 3 && r.has(j, fLast|fThis) && !r.has(j, fWeekday); step++ {
		last = last || r.has(j, fLast)
		j++
	}
	if last && r.is(j, "week") || r.is(j, "week's") || last && r.toks[j].owner { // last week's Monday
		if r.is(j+1, "on") || r.punct(j+1, '-') || r.punct(j+1, ',') {
			j++
		}
		if r.has(j+1, fWeekday) {
			return dated{day: r.weekBefore(j + 1), next: j + 2}, true
		}
	}
	if last && (r.is(j, "week") || r.is(j, "weekend") || r.is(j, "month")) && !r.heldAgainst(i-1) {
		return dated{next: j + 1, code: faultVagueDay}, true
	}
	if !r.has(j, fWeekday) || (r.is(j, "sat") || r.is(j, "sun")) && !r.toks[j].capital && !r.sepAt(j+1) && !r.digitNext(j+1) {
		return dated{}, false
	}
	next := j + 1
	if r.punct(next, '.') && r.toks[next].glued && r.toks[next+1].kind != kEnd {
		next++
	}
	if exact, ok := r.dateBehind(next, time.Weekday(r.toks[j].n)); ok {
		return exact, true
	}
	k := r.pastOf(next)
	if r.is(k, "from") {
		k++
	}
	if r.has(k, fLast) && r.is(k+1, "week") { // Monday of last week
		return dated{day: r.weekBefore(j), next: k + 2}, true
	}
	today := r.ctx.Today
	want := time.Weekday(r.toks[j].n)
	gap := (int(today.Weekday()) - int(want) + 7) % 7
	if r.ctx.AfterMidnight && want == (today+1).Weekday() {
		gap = 0
	} else if last && gap == 0 {
		gap = 7
	}
	return dated{day: today - training.Day(gap), next: next, vain: true}, true
}

// nthWeekday reads the second Sunday: of this month, or of the last where it is yet
// to come.
func (r *reader) nthWeekday(i int) (dated, bool) {
	if !r.has(i, fOrdinal) || r.has(i, fLast) || r.toks[i].n < 1 || r.toks[i].n > 4 || !r.has(i+1, fWeekday) {
		return dated{}, false
	}
	for back := range 2 {
		first := r.inMonthBefore(back, 1, i+2)
		gap := (int(r.toks[i+1].n) - int(first.day.Weekday()) + 7) % 7
		first.day += training.Day(gap + 7*(int(r.toks[i].n)-1))
		if first.day <= r.ctx.Today {
			return first, true
		}
	}
	return dated{}, false
}

// heldAgainst reports whether the word at token i compares with what comes behind
// it: more than last week.
func (r *reader) heldAgainst(i int) bool {
	switch string(r.wordOr(max(i, 0))) {
	case "than", "as", "like", "from", "vs", "since", "of", "to":
		return i >= 0
	}
	return false
}

// weekBefore returns the weekday at token i in the week, from Monday on, before
// this one.
func (r *reader) weekBefore(i int) training.Day {
	monday := r.ctx.Today - training.Day((int(r.ctx.Today.Weekday())+6)%7)
	return monday - 7 + training.Day((r.toks[i].n+6)%7)
}

func (r *reader) digitNext(i int) bool { return r.toks[i].kind == kNum }

// dateBehind reads an explicit date right behind a weekday.
func (r *reader) dateBehind(i int, named time.Weekday) (dated, bool) {
	j := i
	if r.punct(j, ',') || r.is(j, "the") {
		j++
	}
	for _, rule := range [...]func(*reader, int) (dated, bool){(*reader).isoDate, (*reader).figureDate, (*reader).dayMonth} {
		if r.toks[j].kind == kNum {
			if d, ok := rule(r, j); ok {
				return r.onWeekday(d, j, named), true
			}
		}
	}
	if n, ok := r.num(j); ok && n > 12 && n <= 31 && r.punct(j+1, ':') && !r.toks[j+2].glued { // Monday 21:
		if d := r.namedDay(n, j+1, named); d.code == 0 && d.day.Weekday() == named {
			return d, true
		}
	}
	if d, ok := r.monthDay(j); ok {
		return d, true
	}
	if n, next, ok := r.ordinal(j); ok && n > 0 && n <= 31 && (r.toks[j].kind == kNum || r.is(j-1, "the")) { // Monday the 23rd
		return r.namedDay(n, next, named), true
	}
	if n, next, ok := r.spelled(j); ok && r.is(j-1, "the") && n.whole && n.int() <= 31 && n.int() > 0 { // Friday the fifteen
		return r.namedDay(n.int(), next, named), true
	}
	return dated{}, false
}

// onWeekday takes a date in figures the other way about where only that falls on
// the weekday it stands behind: Friday 7/6.
func (r *reader) onWeekday(d dated, i int, named time.Weekday) dated {
	a, ok := r.num(i)
	b, ok2 := r.num(i + 2)
	if !ok || !ok2 || a > 12 || b > 12 || d.next != i+3 || d.code == 0 && d.day.Weekday() == named {
		return d
	}
	if other := r.latest(a, b, d.next); other.code == 0 && other.day.Weekday() == named {
		return other
	}
	return d
}

// namedDay returns the n-th of this month or of one of the two before, whichever
// falls on the weekday named with it; this month's where none does.
func (r *reader) namedDay(n, next int, named time.Weekday) dated {
	for back := range 3 {
		if d := r.inMonthBefore(back, n, next); d.code == 0 && d.day.Weekday() == named {
			return d
		}
	}
	_, month, _ := r.ctx.Today.Civil()
	return r.latest(int(month), n, next)
}

// relative reads today, yesterday, last night, this morning.
func (r *reader) relative(i int) (dated, bool) {
	switch {
	case r.has(i, fToday):
		return dated{day: r.ctx.Today, next: i + 1, vain: true}, true
	case r.is(i, "avant"), r.is(i, "l'altro"), r.is(i, "altro"): // the day before
		j := r.hyphenTo(i + 1)
		return dated{day: r.back(2), next: j + 1}, r.has(j, fYesterday)
	case r.has(i, fYesterday):
		return dated{day: r.back(int(r.toks[i].n)), next: i + 1}, true
	case r.has(i, fLast) && (r.is(i+1, "night") || r.is(i+1, "evening")):
		return dated{day: r.back(1), next: i + 2}, true
	case r.has(i, fThis) && r.has(i+1, fDayPart) && !r.is(i+1, "session"):
		return dated{day: r.ctx.Today, next: i + 2, vain: true}, true
	}
	return dated{}, false
}
