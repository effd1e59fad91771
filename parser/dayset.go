package parser

import (
	"fmt"

	"rungbook/training"
)

// settleDay finds the day meant among those said.
func (r *reader) settleDay() *trouble {
	day, at := training.Day(0), item{}
	for i := range r.items {
		it := &r.items[i]
		if it.k != iDay || r.killedAt(it.from) {
			continue
		}
		if it.code != 0 {
			return r.trouble(it.code.String(), *it)
		}
		d := r.onClock(training.Day(it.n))
		if day == 0 && d != r.ctx.Today && r.punct(int(it.to), ':') && r.entryBefore(it.from) {
			return r.trouble("two-days", *it)
		}
		switch {
		case day == 0 || d == day:
			day, at = d, *it
		case (d == r.ctx.Today || day == r.ctx.Today) && (r.entriesAround(at.to, it) || r.entriesApart(&at, it)):
			return r.trouble("two-days", *it)
		case at.to+1 == it.from && r.joinsDays(int(at.to)): // yesterday and today
			t := r.trouble("conflicting-dates", at)
			t.other, t.day = *it, d
			return t
		case at.m == 1 && day == r.ctx.Today:
			day, at = d, *it
		case it.m == 1 && d == r.ctx.Today:
		default:
			t := r.trouble("conflicting-dates", at)
			t.other, t.day = *it, d
			return t
		}
	}
	if day == 0 {
		return nil
	}
	if day > r.ctx.Today {
		return r.trouble("future-day", at)
	}
	r.day, r.stated = day, true
	if day != r.ctx.Today && at.m == 1 {
		r.guess("day", dayName(day))
	}
	return nil
}

// entriesAround reports whether an entry stands between token i and a day, and
// another behind the day: yesterday 3x20s deep hang, today 3x20s support.
func (r *reader) entriesAround(i int32, day *item) bool {
	return r.entryWithin(i, day.from) && r.entryWithin(day.to, int32(len(r.toks)))
}

// entriesApart reports whether one entry stands before a day and another between it
// and a second day: 3x30s deep hang Tuesday and 5 dips today.
func (r *reader) entriesApart(first, second *item) bool {
	return r.entryWithin(0, first.from) && r.entryWithin(first.to, second.from)
}

// entryWithin reports whether an entry begins between two tokens.
func (r *reader) entryWithin(from, to int32) bool {
	for k := range r.entries {
		e := &r.entries[k]
		if e.from == e.to || r.entryKilled(e) {
			continue
		}
		if at := min(e.nameFrom, r.sizes[e.from].from); at >= from && at < to {
			return true
		}
	}
	return false
}

// entryBefore reports whether something was done in a sentence or line before
// token i.
func (r *reader) entryBefore(i int32) bool {
	for k := range r.entries {
		e := &r.entries[k]
		if e.from == e.to || e.nameFrom >= i || r.entryKilled(e) {
			continue
		}
		for j := e.nameFrom; j < i; j++ {
			if r.endsSentence(int(j)) {
				return true
			}
		}
		return false
	}
	return false
}

// joinsDays reports whether an and or its like stands at token i.
func (r *reader) joinsDays(i int) bool {
	return r.has(i, fAnd) || r.punct(i, '/') || r.punct(i, '&') || r.punct(i, '+')
}

// Day reads a day phrase that stands alone: "yesterday", "last Friday", "23.11.",
// "2 days ago". The day may be one to come, where its words say so ("12 Dec");
// callers that want none refuse it. ok is false for anything else.
func (p *Parser) Day(text string, ctx Context) (day training.Day, ok bool) {
	r := readers.Get().(*reader)
	defer readers.Put(r)
	cut, long := cutAt(text, maxDay)
	if long {
		return 0, false
	}
	r.reset(p, text[:cut], ctx)
	r.scan(text)
	at := 0
	for r.sepAt(at) && r.toks[at].kind != kEnd {
		at++
	}
	it, ok := r.dayPhrase(at)
	if !ok || it.code != 0 {
		return 0, false
	}
	for i := int(it.to); r.toks[i].kind != kEnd; i++ {
		if !r.sepAt(i) {
			return r.secondDay(it, i)
		}
	}
	return r.onClock(training.Day(it.n)), true
}

// maxDay bounds a day phrase, in characters.
const maxDay = 60

// secondDay reads an explicit date behind a weekday: "Tuesday, March 7". The two
// must not say different days.
func (r *reader) secondDay(first item, i int) (training.Day, bool) {
	it, ok := r.dayPhrase(i)
	if !ok || it.code != 0 || r.toks[it.to].kind != kEnd || first.m != 1 && it.n != first.n {
		return 0, false
	}
	return r.onClock(training.Day(it.n)), true
}

// onClock takes the civil date after midnight for the training day that runs.
func (r *reader) onClock(d training.Day) training.Day {
	if r.ctx.AfterMidnight && d == r.ctx.Today+1 {
		return r.ctx.Today
	}
	return d
}

// dayName writes a day for people.
func dayName(d training.Day) string {
	_, month, day := d.Civil()
	return fmt.Sprintf("%s %d %s", d.Weekday(), day, month.String()[:3])
}
