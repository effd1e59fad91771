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
	if d.vain {
		it.m = 1
	}
	return it, true
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
		if r.has(i+1, fSec|fRep) && r.toks[i+1].glued { // 30s
			return dated{}, false
		}
		for _, rule := range [...]func(*reader, int) (dated, bool){(*reader).isoDate, (*reader).figureDate, (*reader).dayMonth, (*reader).daysAgo} {
			if d, ok := rule(r, i); ok {
				return d, true
			}
		}
		return dated{}, false
	}
	if r.toks[i].kind != kWord || r.toks[i].f&(fWeekday|fMonth|fToday|fYesterday|fLast|fThis|fOnes|fCouple|fDays) == 0 && !r.is(i, "a") && !r.is(i, "an") && !r.is(i, "day") {
		return dated{}, false
	}
	for _, rule := range [...]func(*reader, int) (dated, bool){(*reader).monthDay, (*reader).daysAgo, (*reader).weekday, (*reader).relative} {
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

// isoDate reads 2026-11-23.
func (r *reader) isoDate(i int) (dated, bool) {
	if r.toks[i].digits != 4 || !r.punct(i+1, '-') && !r.punct(i+1, '/') && !r.punct(i+1, '.') || !r.toks[i+1].glued {
		return dated{}, false
	}
	month, ok := r.num(i + 2)
	if !ok || r.toks[i+3].n != r.toks[i+1].n || !r.toks[i+3].glued {
		return dated{}, false
	}
	day, ok := r.num(i + 4)
	if !ok {
		return dated{}, false
	}
	return r.checked(int(r.toks[i].n), month, day, i+5), true
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
		if second > 12 {
			first, second = second, first
		}
		return r.checked(year, second, first, i+5), true
	}
	return r.shortDate(i, first, second)
}

// shortDate reads a figure date without a year, where nothing else it might be
// (a list, a ratio, a decimal) is likelier.
func (r *reader) shortDate(i, first, second int) (dated, bool) {
	sign, next := r.toks[i+1].n, i+3
	on := i > 0 && (r.is(i-1, "on") || r.is(i-1, "from") || r.has(i-1, fWeekday) || r.has(i-1, fDays))
	opens := i == 0 || r.toks[i-1].kind == kLine || r.toks[i-1].kind == kPunct && !r.toks[i].glued && (r.toks[i-1].n == ',' || r.toks[i-1].n == '(') && i == 1
	switch {
	case r.punct(next, sign) && r.toks[next].glued && r.toks[next+1].glued && r.toks[next+1].kind == kNum: // a longer list
		return dated{}, false
	case r.glueUnit(next) && !(r.punct(next, ':')) || r.has(next, fTimes|fSet|fRound|fEffort):
		return dated{}, false
	case sign == '.':
		if r.toks[i+2].digits != 2 || !(opens || on || r.punct(next, '.')) {
			return dated{}, false
		}
		if r.punct(next, '.') && r.toks[next].glued {
			next++
		}
	case sign == '-' && !on:
		return dated{}, false
	case !on && !(opens && (r.toks[i].digits == 2 || r.toks[i+2].digits == 2) && !r.nameNext(next) || opens && r.punct(next, ':')):
		return dated{}, false
	}
	swap := second > 12
	if swap {
		first, second = second, first
	}
	d := r.latest(second, first, next)
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

// dayMonth reads 23 Nov, 23rd of November 2026.
func (r *reader) dayMonth(i int) (dated, bool) {
	day, j := int(r.toks[i].n), r.ordinalTail(i+1)
	if r.has(j, fOf) {
		j++
	}
	if r.punct(j, '.') && r.toks[j].glued || r.punct(j, '-') && r.toks[j].glued || r.punct(j, '/') && r.toks[j].glued {
		j++
	}
	if !r.has(j, fMonth) || r.toks[j].b-r.toks[j].a < 3 || r.is(j, "may") && !r.toks[j].capital {
		return dated{}, false
	}
	return r.withYear(int(r.toks[j].n), day, j+1), true
}

// ordinalTail passes st, nd, rd, th.
func (r *reader) ordinalTail(i int) int {
	if r.toks[i].kind == kWord && r.toks[i].glued && (r.is(i, "st") || r.is(i, "nd") || r.is(i, "rd") || r.is(i, "th")) {
		return i + 1
	}
	return i
}

// monthDay reads Nov 23, November 23rd, Nov. 23, Nov/2.
func (r *reader) monthDay(i int) (dated, bool) {
	if !r.has(i, fMonth) {
		return dated{}, false
	}
	j := i + 1
	if r.punct(j, '.') && r.toks[j].glued || r.punct(j, '/') && r.toks[j].glued || r.punct(j, '-') && r.toks[j].glued || r.is(j, "the") {
		j++
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
	if r.punct(j, ',') || r.punct(j, '.') && r.toks[j].glued {
		j++
	}
	if year, ok := r.num(j); ok && r.toks[j].digits == 4 && year >= 2000 && year <= 2100 && !r.has(j+1, fTimes) {
		return r.checked(year, month, day, j+1)
	}
	if j > i && r.toks[i].n == '.' {
		i++
	}
	return r.latest(month, day, i)
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

// daysAgo reads 2 days ago, 2d ago, a week ago, the day before yesterday.
func (r *reader) daysAgo(i int) (dated, bool) {
	if r.is(i, "day") && r.is(i+1, "before") {
		if r.has(i+2, fYesterday) {
			return dated{day: r.back(2), next: i + 3}, true
		}
		return dated{day: r.back(1), next: i + 2}, true
	}
	n, next, ok := r.number(i)
	if !ok && (r.is(i, "a") || r.is(i, "an") || r.is(i, "one")) {
		n, next, ok = number{milli: 1000, whole: true}, i+1, true
	}
	if !ok || !n.whole || !r.has(next, fDays) || r.is(next, "night") || n.int() > 400 {
		return dated{}, false
	}
	if !r.has(next+1, fAgo) && !r.is(next+1, "since") {
		return dated{}, false
	}
	return dated{day: r.back(n.int() * int(r.toks[next].n)), next: next + 2}, true
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
	if !r.has(j, fWeekday) || (r.is(j, "sat") || r.is(j, "sun")) && !r.toks[j].capital && !r.sepAt(j+1) && !r.digitNext(j+1) {
		return dated{}, false
	}
	next := j + 1
	if r.punct(next, '.') && r.toks[next].glued && r.toks[next+1].kind != kEnd {
		next++
	}
	if exact, ok := r.dateBehind(next); ok {
		return exact, true
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

func (r *reader) digitNext(i int) bool { return r.toks[i].kind == kNum }

// dateBehind reads an explicit date right behind a weekday.
func (r *reader) dateBehind(i int) (dated, bool) {
	j := i
	if r.punct(j, ',') || r.is(j, "the") {
		j++
	}
	for _, rule := range [...]func(*reader, int) (dated, bool){(*reader).isoDate, (*reader).figureDate, (*reader).dayMonth} {
		if r.toks[j].kind == kNum {
			if d, ok := rule(r, j); ok {
				return d, true
			}
		}
	}
	if d, ok := r.monthDay(j); ok {
		return d, true
	}
	if r.toks[j].kind == kNum && r.ordinalTail(j+1) > j+1 { // Monday the 23rd
		_, month, _ := r.ctx.Today.Civil()
		return r.latest(int(month), int(r.toks[j].n), j+2), true
	}
	return dated{}, false
}

// relative reads today, yesterday, last night, this morning.
func (r *reader) relative(i int) (dated, bool) {
	switch {
	case r.has(i, fToday):
		return dated{day: r.ctx.Today, next: i + 1, vain: true}, true
	case r.has(i, fYesterday):
		return dated{day: r.back(int(r.toks[i].n)), next: i + 1}, true
	case r.has(i, fLast) && (r.is(i+1, "night") || r.is(i+1, "evening")):
		return dated{day: r.back(1), next: i + 2}, true
	case r.has(i, fThis) && r.has(i+1, fDayPart) && !r.is(i+1, "session"):
		return dated{day: r.ctx.Today, next: i + 2, vain: true}, true
	}
	return dated{}, false
}
