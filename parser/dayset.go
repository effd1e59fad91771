package parser

import (
	"fmt"

	"rungbook/training"
)

// settleDay finds the day meant among those said.
func (r *reader) settleDay(out *Result) *trouble {
	day, at := training.Day(0), item{}
	for i := range r.items {
		it := &r.items[i]
		if it.k != iDay || r.killedAt(it.from) {
			continue
		}
		if it.code != "" {
			return r.trouble(it.code, *it)
		}
		d := training.Day(it.n)
		if r.ctx.AfterMidnight && d == r.ctx.Today+1 {
			d = r.ctx.Today
		}
		switch {
		case day == 0 || d == day:
			day, at = d, *it
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
	out.Day, out.DayStated = day, true
	r.day = day
	if day != r.ctx.Today && at.m == 1 {
		r.guess("day", dayName(day))
	}
	return nil
}

// dayName writes a day for people.
func dayName(d training.Day) string {
	_, month, day := d.Civil()
	return fmt.Sprintf("%s %d %s", d.Weekday(), day, month.String()[:3])
}
