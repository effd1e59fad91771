package sets

import "rungbook/parser/words"

// Two days beside each other: one of them counts, sets are of both, or it is
// asked which is meant.

// sameDay reports whether two marks name one day.
func sameDay(a, b *mark) bool { return a.day.day == b.day.day && a.fault == b.fault }

// heldAgainst reports whether sets of an earlier day are told only to compare
// those of today with: last week 3x4, today 3x5. If words leave that open it is
// asked.
func (r *reader) heldAgainst(e *entry, marks []mark) bool {
	if e.day < 0 {
		return false
	}
	m := &marks[e.day]
	if first := m.from; !r.is(first, words.Last) && !(r.is(first, words.Span) && r.value(first) >= 7) { // week before 3x4
		return false
	}
	if m.fault == "" && m.day.day >= r.today-2 { // last night
		return false
	}
	if !r.toldToday(e, marks) {
		return false
	}
	for i := m.to; i < m.to+4; i++ {
		if r.is(i, words.Only) {
			return true
		}
	}
	if m.fault == "" {
		r.doubtOnce(WhichDay, m.from, m.to)
	}
	return m.fault != ""
}

// toldToday reports whether sets of an entry's skill are told of today as well.
func (r *reader) toldToday(e *entry, marks []mark) bool {
	for _, now := range r.entries {
		if now.rung != e.rung || now.other || !r.tells(now) {
			continue
		}
		if now.day < 0 || marks[now.day].fault == "" && marks[now.day].day.day == r.today {
			return true
		}
	}
	return false
}

// twoDays notes that two days are said of the same sets.
func (r *reader) twoDays(a, b *mark) {
	r.doubt(ConflictingDates, a.from, a.to).Day = b.day.day
}

// oneOf drops one of two days in a row with no sets between them, and returns
// the marks that are left. Of a weekday and a date it keeps the date, of today
// and another day the other day. If neither can be dropped it doubts.
func (r *reader) oneOf(marks []mark) []mark {
	var out []mark
	for _, m := range marks {
		n := len(out)
		if n == 0 || m.heads != out[n-1].heads || r.setsBetween(out[n-1].to, m.from) {
			out = append(out, m)
			continue
		}
		was := &out[n-1]
		sign := r.segments[m.segment].sign
		joined := joinsDays(sign) && m.segment > was.segment // yesterday and Monday, Mon/Tue
		switch {
		case sameDay(was, &m):
		case was.day.ahead && (m.day.ahead || m.day.day > r.today):
		case joined && r.saysBoth(was.from):
			was.also = append(was.also, m.day.day)
		case r.leftOff(was, &m):
			out[n-1] = m
		case joined && sign != ',':
			r.twoDays(was, &m)
		default:
			out[n-1] = r.firmer(was, &m)
		}
	}
	return out
}

// firmer returns which of two days in a row counts: a date rather than a
// weekday, another day rather than today. If neither is so it doubts.
func (r *reader) firmer(was, now *mark) mark {
	switch {
	case was.day.loose && (!now.day.loose || was.day.day == r.today):
		return *now
	case now.day.loose && (!was.day.loose || now.day.day == r.today):
	default:
		r.twoDays(was, now)
	}
	return *was
}

// leftOff reports whether nothing is told of the first of two days in a row:
// Monday - off, and on the next line or in the next sentence Tuesday. Tuesday's
// session today is today's.
func (r *reader) leftOff(was, now *mark) bool {
	s := &r.segments[now.segment]
	bothHead := r.t.OneOf(was.to, ":-") && r.t.OneOf(now.to, ":-") // Mon: off, Tue: 3x8
	ends := bothHead || s.line > r.segments[was.segment].line || now.heads && sentenceEnds(s.sign)
	for i := was.to; i < now.from && !ends; i++ { // Monday, no wait, Tuesday
		_, phrase := words.Phrase(r.t, i, words.Correct)
		ends = phrase || r.is(i, words.Correct)
	}
	return ends || r.t.Tokens[was.to-1].Owner && now.day.day == r.today
}

// saysBoth reports whether words of the line from token i on say that something
// was the same on several days: both days, each time.
func (r *reader) saysBoth(i int) bool {
	for end := i + 24; i < end && !r.endsLine(i); i++ {
		if (r.is(i, words.Both) || r.is(i, words.Each)) && !r.is(i+1, words.Limb) {
			return true
		}
	}
	return false
}
