package sets

import (
	"fmt"

	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// seen is what the days and times read so far tell of how later ones are meant.
type seen struct {
	last   dated // the last day; its next is 0 where there was none
	today  bool  // today was named
	sign   rune  // the sign between the figures of the last date; 0 for none
	clocks bool  // lines begin with the time of day, written with a dot: 8.05
}

// see notes a day.
func (r *reader) see(p *phrase) {
	r.seen.last = p.day
	r.seen.today = r.seen.today || p.fault == "" && p.day.day == r.today
	if sign, ok := r.dateSign(p.from + 1); ok && r.t.Kind(p.from) == text.Number {
		r.seen.sign = sign
	}
}

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
		return r.vagueDay(i)
	}
	p := phrase{kind: dayNamed, day: d, fault: d.fault, from: i, to: d.next}
	if r.t.GluedSign(p.to, '-') && r.is(p.to+1, words.DayPart) { // segunda-feira
		p.to += 2
	}
	for step := 0; step < 2; step++ {
		p.to = r.partBehind(p.to)
		if r.t.Tokens[p.to-1].Owner && r.is(p.to, words.Harmless) {
			p.to++
		}
	}
	p.to = r.partBehind(r.hourBehind(p.to))
	p.day.ahead = p.day.ahead || p.day.weekday && r.willBe(p.to)
	p.day.day = r.onClock(p.day.day)
	return p, true
}

// dayLead are words that may stand before a day.
var dayLead = words.OfClasses(words.On, words.From, words.Of, words.For, words.The, words.Hence)

// vagueDay reads words that name a time and no one day: the other day, at the
// weekend, every morning, between Sat and Tue. Now is today where another day
// was told before.
func (r *reader) vagueDay(i int) (phrase, bool) {
	if r.is(i, words.Now) && r.seen.last.next > 0 && r.seen.last.day < r.today {
		return phrase{kind: dayNamed, day: dated{day: r.today, next: i + 1, loose: true}, from: i, to: i + 1}, true
	}
	to, ok := words.Phrase(r.t, i, words.Vague)
	if r.is(i, words.Between) && !ok {
		if first, day := r.dayOf(i + 1); day && r.is(first.next, words.And) {
			if second, day := r.dayOf(first.next + 1); day {
				to, ok = second.next, true
			}
		}
	}
	return phrase{kind: dayNamed, day: dated{next: to, fault: VagueDay}, fault: VagueDay, from: i, to: to}, ok
}

// willBe reports whether words behind a weekday say that it is to come: Friday
// I'll do more.
func (r *reader) willBe(i int) bool {
	if r.is(i, words.Will) || r.is(i+1, words.Will) {
		return true
	}
	_, ok := words.Phrase(r.t, i, words.Will)
	return ok
}

// partBehind passes a part of the day, with small words before it: in the
// morning, por la tarde.
func (r *reader) partBehind(i int) int {
	if j := r.pass(i, partLead); j < i+4 && r.is(j, words.DayPart) {
		return j + 1
	}
	return i
}

// partLead are words that may stand before a part of the day.
var partLead = words.OfClasses(words.In, words.At, words.Of, words.For, words.The, words.Article, words.On)

// hourBehind passes a time of day behind a day: yesterday at 7, today 18:30.
func (r *reader) hourBehind(i int) int {
	j := r.pastHourLead(i)
	if to := r.timeOfDay(j); to > j {
		return to
	}
	n, end, ok := r.number(j)
	if !ok || n.int() > 24 {
		return i
	}
	at := j > i
	if a, ok := r.clock(j); ok && a.fault == "" && n.int() < 24 {
		end, at = a.to, at || n.int() > 4
	}
	if at && (r.hourEnds(end) || r.partBehind(end) > end) {
		return end
	}
	return i
}

// pastHourLead passes what stands before an hour: at, at about, a las.
func (r *reader) pastHourLead(i int) int {
	j := i
	if r.is(j, words.Article) && (r.is(j+1, words.At) || r.digits(j+1) > 0) {
		j++
	}
	if r.is(j, words.At) {
		j++
	}
	if j > i && r.is(j, words.Part) { // um halb 7, at half past 6
		if j++; r.is(j, words.Last) || r.is(j, words.To) {
			j++
		}
	}
	if r.any(j, hourLead) && (j > i || r.t.Kind(j+1) == text.Number) {
		j++
	}
	return j
}

// hourEnds reports whether what stands at token i closes an hour: the end of
// its line, a sign, another number, or the words of a clause.
func (r *reader) hourEnds(i int) bool {
	if r.endsLine(i) || r.t.Kind(i) == text.Number || r.t.OneOf(i, ",:") {
		return true
	}
	return r.any(i, beginsClause) && !r.any(i, countWords) && !r.unitNext(i)
}

// What may stand before an hour, and the words of a clause behind it.
var (
	hourLead     = words.OfClasses(words.Doubtful, words.Approx, words.Against)
	beginsClause = words.OfClasses(words.Did, words.Harmless, words.And, words.Then)
)

// onClock returns the training day that a date means: after midnight the civil
// date means the training day that still runs.
func (r *reader) onClock(d training.Day) training.Day {
	if r.afterMidnight && d == r.today+1 {
		return r.today
	}
	return d
}

// Day reads a day phrase that stands alone: "yesterday", "last Friday", "23.11.",
// "2 days ago". ok is false for any other text. The day lies after Today where
// the phrase says so ("12 Dec"): a caller that wants no such day must refuse it.
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
