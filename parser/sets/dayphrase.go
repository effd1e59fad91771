package sets

import (
	"fmt"

	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// dayPhrase reads a day at token i, with the small words before it and the part
// of the day and the time behind it.
func (r *reader) dayPhrase(i int) (phrase, bool) {
	j := i
	for step := 0; step < 3 && r.any(j, dayLead); step++ {
		if _, ok := r.dayOf(j); ok {
			break
		}
		j++
	}
	d, ok := r.dayOf(j)
	if !ok {
		return phrase{}, false
	}
	p := phrase{kind: dayNamed, day: d, fault: d.fault, from: i, to: d.next}
	if r.t.GluedSign(p.to, '-') && r.is(p.to+1, words.DayPart) { // segunda-feira
		p.to += 2
	}
	for step := 0; step < 2; step++ {
		if r.is(p.to, words.DayPart) || r.t.Tokens[p.to-1].Owner && r.is(p.to, words.Harmless) {
			p.to++
		}
	}
	p.to = r.hourBehind(p.to)
	p.day.day = r.onClock(p.day.day)
	return p, true
}

// dayLead are words that may stand before a day.
var dayLead = words.OfClasses(words.On, words.From, words.Of, words.For, words.The, words.Hence)

// hourBehind passes a time of day behind a day: yesterday at 7, today 18:30.
func (r *reader) hourBehind(i int) int {
	j := i
	if r.is(j, words.At) || r.is(j, words.Doubtful) && r.t.Kind(j+1) == text.Number {
		j++
	}
	if to := r.timeOfDay(j); to > j {
		return to
	}
	n, ok := r.num(j)
	if !ok || n > 24 {
		return i
	}
	end, at := j+1, j > i
	if a, ok := r.clock(j); ok && a.fault == "" && n < 24 {
		end, at = a.to, at || n > 4
	}
	closed := r.endsLine(end) || r.t.Kind(end) == text.Number || r.t.OneOf(end, ",:")
	if at && closed {
		return end
	}
	return i
}

// onClock takes the civil date after midnight for the training day that runs.
func (r *reader) onClock(d training.Day) training.Day {
	if r.afterMidnight && d == r.today+1 {
		return r.today
	}
	return d
}

// Day reads a day phrase that stands alone: "yesterday", "last Friday", "23.11.",
// "2 days ago". The day may be one to come, where its words say so ("12 Dec");
// callers that want none refuse it. ok is false for anything else.
func (r *Reader) Day(t *text.Text, ctx Context) (day training.Day, ok bool) {
	r.begin(t, ctx)
	at := 0
	for t.Kind(at) == text.Sign {
		at++
	}
	first, ok := r.dayPhrase(at)
	if !ok || first.fault != "" {
		return 0, false
	}
	i := first.to
	for t.Kind(i) == text.Sign {
		i++
	}
	if t.Kind(i) == text.End {
		return first.day.day, true
	}
	second, ok := r.dayPhrase(i) // "Tuesday, March 7": they must not say different days
	if !ok || second.fault != "" || t.Kind(second.to) != text.End || !first.day.loose && second.day.day != first.day.day {
		return 0, false
	}
	return second.day.day, true
}

// DayName writes a day for people.
func DayName(d training.Day) string {
	_, month, day := d.Civil()
	return fmt.Sprintf("%s %d %s", d.Weekday(), day, month.String()[:3])
}
