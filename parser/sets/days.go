package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// A day belongs to sets by its place: at their head, right behind them, or beside
// the verb of doing. A day in another clause is none of the log's.

// mark is a day that belongs to sets.
type mark struct {
	*phrase
	segment int
	heads   bool // it stands before its sets; else behind them
	entries int  // how many it governs
}

// marks finds the days that belong to sets, in the order typed.
func (r *reader) marks() []mark {
	var out []mark
	for at := range r.segments {
		s := &r.segments[at]
		for i := s.from; i < s.to; i++ {
			if p := &r.phrases[i]; p.kind == dayNamed && r.ofSets(s, i) {
				out = append(out, mark{phrase: p, segment: at, heads: r.heads(p, s)})
			}
		}
	}
	return out
}

// ofSets reports whether the day at phrase i belongs to sets by its place.
func (r *reader) ofSets(s *segment, i int) bool {
	p := &r.phrases[i]
	before := p.from - 1
	for before >= 0 && (r.is(before, words.Article) || r.is(before, words.The)) {
		before--
	}
	switch {
	case r.judged(p), r.owns(p), r.compared(p, before):
		return false
	case r.is(p.from, words.From) && r.is(before, words.Harmless) && !r.any(before, dayHeader): // tired from yesterday
		return false
	case !s.gives:
		return r.pureDay(s)
	case i > s.from && r.unknown(p.to): // the monday crew
		return false
	}
	return r.beside(s, i)
}

// judged reports whether a day is spoken of, and no set of it told behind the verb:
// monday was hard.
func (r *reader) judged(p *phrase) bool {
	if !r.is(p.to, words.Was) {
		return false
	}
	_, told := r.amount(p.to + 1)
	return !told && !r.named(p.to+1)
}

// owns reports whether a day owns a thing that nothing is known of: monday's plan.
func (r *reader) owns(p *phrase) bool { return r.t.Tokens[p.to-1].Owner && r.unknown(p.to) }

// compared reports whether a day is one that sets are held against, or the end of a
// time: than last week, until monday. A word such as vor is no such word where it says
// that its span is ago.
func (r *reader) compared(p *phrase, before int) bool {
	if r.is(before, words.Against) {
		return true
	}
	return r.is(p.from, words.Against) && !r.is(p.from, words.Hence) && !r.is(p.from, words.Ago)
}

// beside reports whether nothing but harmless words stands between the day at phrase
// i and the nearest size or skill of its segment.
func (r *reader) beside(s *segment, i int) bool {
	for _, step := range [...]int{1, -1} {
		for j := i + step; j >= s.from && j < s.to; j += step {
			switch r.phrases[j].kind {
			case talk, hedge, doubtful:
			case filler:
				if !r.is(r.phrases[j].from, words.Against) {
					continue
				}
			case dayNamed:
				continue
			default:
				return true
			}
			break
		}
	}
	return false
}

// dayHeader are words that may stand with a day in a clause of their own.
var dayHeader = words.OfClasses(words.Header, words.Did, words.DayPart, words.On, words.From, words.The, words.This, words.My,
	words.Article, words.In, words.At, words.To, words.For, words.Was, words.Only, words.Approx)

// pureDay reports whether a segment without sets holds a day and nothing else but
// what may head or follow sets: yesterday's session, did this on Monday.
func (r *reader) pureDay(s *segment) bool {
	for i := s.from; i < s.to; i++ {
		if p := &r.phrases[i]; p.kind != dayNamed && !r.headsDay(p) {
			return false
		}
	}
	return !r.t.Is(r.phrases[s.to-1].to, '?')
}

// headsDay reports whether a phrase may stand with a day in a clause of their own: a
// sign other than the @ of an address, or a word of a header.
func (r *reader) headsDay(p *phrase) bool {
	switch p.kind {
	case filler, talk:
		if r.t.Kind(p.from) != text.Word {
			return p.kind == filler || !r.t.Is(p.from, '@')
		}
	case failed, hedge:
	default:
		return false
	}
	return r.any(p.from, dayHeader)
}

// heads reports whether a day stands before its sets: first in its line or segment
// with sets behind it, or with a colon.
func (r *reader) heads(p *phrase, s *segment) bool {
	if s.next == ':' && !s.gives {
		return true
	}
	before, behind := false, false
	first, end := r.phrases[s.from].from, r.phrases[s.to-1].to
	for _, e := range r.entries {
		start := e.start()
		if len(e.bouts) == 0 || s.gives && (start < first || start >= end) {
			continue
		}
		before = before || start < p.from
		behind = behind || start > p.from
	}
	if s.gives {
		return behind && !before
	}
	opens := s.sign == '\n' || s.sign == 0 || sentenceEnds(s.sign)
	return behind && (!before || opens)
}

// giveDays gives every entry the mark it belongs to.
func (r *reader) giveDays(marks []mark) {
	for i := range marks {
		m := &marks[i]
		if m.heads {
			r.governAhead(marks, i)
		}
	}
	for i := range marks {
		if !marks[i].heads {
			r.governBehind(marks, i)
		}
	}
}

// governAhead gives the entries behind a day to it, up to the next one that heads.
func (r *reader) governAhead(marks []mark, i int) {
	end := len(r.t.Tokens)
	for j := i + 1; j < len(marks); j++ {
		if marks[j].heads {
			end = marks[j].from
			break
		}
	}
	for _, e := range r.entries {
		if at := e.start(); at > marks[i].from && at < end {
			e.day = i
			marks[i].entries++
		}
	}
}

// governBehind gives the entries before a day to it, back to the day before it or
// to the line or sentence that another day heads.
func (r *reader) governBehind(marks []mark, i int) {
	begin := -1
	if i > 0 {
		begin = marks[i-1].from
	}
	for _, e := range r.entries {
		if at := e.start(); at > begin && at < marks[i].from {
			if e.day >= 0 && !sameDay(&marks[e.day], &marks[i]) {
				r.twoDays(&marks[e.day], &marks[i])
			}
			e.day = i
			marks[i].entries++
		}
	}
	if i < len(marks)-1 || marks[i].day.day == r.today {
		return
	}
	for _, e := range r.entries { // sets behind a day that closed the ones before
		if e.day < 0 && len(e.bouts) > 0 && !e.other && e.start() > marks[i].from {
			r.doubt(WhichDay, marks[i].from, marks[i].to)
			e.day = i
		}
	}
}

// sameDay reports whether two marks name one day.
func sameDay(a, b *mark) bool { return a.day.day == b.day.day && a.fault == b.fault }

// twoDays notes that two days are said of the same sets.
func (r *reader) twoDays(a, b *mark) {
	r.doubt(ConflictingDates, a.from, a.to).Day = b.day.day
}

// oneOf drops the one of two days in a row, with no sets between, that gives way:
// the looser of a weekday and a date, today beside another day. It returns what is
// left, and doubts where both stand.
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
		joined := (sign == '&' || sign == '/') && m.segment > was.segment // yesterday and Monday, Mon/Tue
		switch {
		case sameDay(was, &m):
		case was.day.ahead && (m.day.ahead || m.day.day > r.today):
		case joined:
			r.twoDays(was, &m)
		case was.day.loose && (!m.day.loose || was.day.day == r.today):
			out[n-1] = m
		case m.day.loose && (!was.day.loose || m.day.day == r.today):
		default:
			r.twoDays(was, &m)
		}
	}
	return out
}

// setsBetween reports whether an entry begins between two tokens.
func (r *reader) setsBetween(from, to int) bool {
	for _, e := range r.entries {
		if at := e.start(); len(e.bouts) > 0 && at >= from && at < to {
			return true
		}
	}
	return false
}

// dayFor returns the day of an entry's mark, and whether its sets may be stored: a
// day that is wrong or to come is doubted.
func (r *reader) dayFor(e *entry, marks []mark) (day training.Day, stated, ok bool) {
	if e.day < 0 {
		return r.today, false, true
	}
	m := &marks[e.day]
	switch {
	case m.fault != "":
		r.doubtOnce(m.fault, m.from, m.to)
		return r.today, false, m.fault != FutureDay
	case m.day.ahead || m.day.day > r.today:
		r.doubtOnce(FutureDay, m.from, m.to)
		return 0, false, false
	}
	if m.day.day != r.today && m.day.loose {
		r.guess("day", DayName(m.day.day))
	}
	return m.day.day, true, true
}

// doubtOnce notes a doubt unless it is noted already.
func (r *reader) doubtOnce(code Code, from, to int) {
	for _, d := range r.out.Doubts {
		if d.Code == code && d.From == from {
			return
		}
	}
	r.doubt(code, from, to)
}
