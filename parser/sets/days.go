package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// A day belongs to sets if it stands at their head, right behind them, or
// beside the verb of doing. A day in another clause does not.

// mark is a day that belongs to sets.
type mark struct {
	*phrase
	segment int
	heads   bool           // it stands before its sets; else behind them
	also    []training.Day // more days on which the same was done: Mon and Tue, 3x8 dips each day
	entries int            // how many entries have it as their day
}

// marks finds the days that belong to sets, in the order typed.
func (r *reader) marks() []mark {
	var out []mark
	for at := range r.segments {
		s := &r.segments[at]
		for i := s.from; i < s.to; i++ {
			if p := &r.phrases[i]; p.kind == dayNamed && (r.ofSets(s, i) || r.listsDay(out, at, i)) {
				out = append(out, mark{phrase: p, segment: at, heads: r.heads(p, s) && (s.next == ':' || !r.pointed(s, p))})
			}
		}
	}
	return out
}

// listsDay reports whether the day at phrase i goes on with a list of days that
// belong to sets: Mon + Tue the same.
func (r *reader) listsDay(marks []mark, at, i int) bool {
	s, p := &r.segments[at], &r.phrases[i]
	if len(marks) == 0 || marks[len(marks)-1].phrase != &r.phrases[max(s.from-2, 0)] || i != s.from || p.day.ahead {
		return false
	}
	return joinsDays(s.sign) && (s.sign != ',' || r.saysBoth(p.to))
}

// joinsDays reports whether a separator joins days that are of the same sets.
func joinsDays(c rune) bool { return c == '&' || c == '/' || c == '+' || c == ',' || c == '|' }

// ofSets reports whether the day at phrase i belongs to sets by its place.
func (r *reader) ofSets(s *segment, i int) bool {
	p := &r.phrases[i]
	before := p.from - 1
	for before >= 0 && (r.is(before, words.Article) || r.is(before, words.The) || r.is(before, words.My)) {
		before--
	}
	switch {
	case r.judged(p), r.owns(p), r.compared(p, before), r.ofAThing(s, i):
		return false
	case r.pointed(s, p):
		return true
	case !s.gives:
		return r.pureDay(s) || s.next == ':' && i == s.to-1 || r.opensSentence(s, p)
	case i > s.from && r.unknown(p.to): // the monday crew
		return false
	}
	return r.beside(s, i) || r.firstSaid(s) == p && (p.fault != "" || !r.dayWithin(i+1, s.to))
}

// dayWithin reports whether a day is named within phrases.
func (r *reader) dayWithin(from, to int) bool {
	for i := from; i < to; i++ {
		if r.phrases[i].kind == dayNamed {
			return true
		}
	}
	return false
}

// ofAThing reports whether a day with from before it is that of a thing or a
// state: his plan from Tuesday, tired from yesterday. It is the day of sets if
// it stands first, or behind a skill or a word that may head sets.
func (r *reader) ofAThing(s *segment, i int) bool {
	p := &r.phrases[i]
	if !r.is(p.from, words.From) || i == s.from {
		return false
	}
	was := &r.phrases[i-1]
	return (was.kind == talk || was.kind == filler || was.kind == figure) && !r.any(was.to-1, dayHeader)
}

// pointed reports whether the words before a day in its segment mean the sets told
// before: that was yesterday, all of it was on Monday.
func (r *reader) pointed(s *segment, p *phrase) bool {
	i := p.from - 1
	for r.is(i, words.Only) || r.is(i, words.All) || r.is(i, words.Approx) {
		i--
	}
	first := r.phrases[s.from].from
	return r.is(i, words.Was) && i >= first && (i == first || r.any(i-1, pointing) && i-3 < first)
}

// pointing are words that stand for sets told before.
var pointing = words.OfClasses(words.This, words.Those, words.All)

// judged reports whether something is said of the day itself, as in monday was
// hard, and no sets follow the verb.
func (r *reader) judged(p *phrase) bool {
	to := p.to
	for step := 0; step < 6 && r.t.OneOf(to, "/,+&"); step++ { // Tue/Thu is my rhythm
		next, ok := r.dayPhrase(to + 1)
		if !ok {
			break
		}
		to = next.to
	}
	if !r.is(to, words.Was) || r.t.Is(to+1, ':') {
		return false
	}
	_, told := r.amount(to + 1)
	return !told && !r.named(to+1)
}

// owns reports whether a day ends in 's and has an unknown word behind it:
// monday's plan.
func (r *reader) owns(p *phrase) bool { return r.t.Tokens[p.to-1].Owner && r.unknown(p.to) }

// compared reports whether a day is only compared with, or ends a time: than
// last week, until monday. A word such as vor, which can also say how long ago
// a day is, does not count where it does.
func (r *reader) compared(p *phrase, before int) bool {
	if r.is(before, words.Against) || r.is(before, words.Not) { // Monday, not Tuesday
		return true
	}
	return r.is(p.from, words.Against) && !r.is(p.from, words.Hence) && !r.is(p.from, words.Ago) && !p.day.ahead
}

// beside reports whether nothing but harmless words stands between the day at
// phrase i and the nearest size or skill of its segment.
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

// headsDay reports whether a phrase may stand with a day in a clause of their
// own: a sign other than the @ of an address, or a word of a header.
func (r *reader) headsDay(p *phrase) bool {
	switch p.kind {
	case filler, talk:
		if r.t.Kind(p.from) != text.Word {
			return p.kind == filler || !r.t.Is(p.from, '@')
		}
	case failed, hedge, each:
	default:
		return false
	}
	return r.any(p.from, dayHeader)
}

// tells reports whether an entry has sizes, or is of attempts, which need none.
func (r *reader) tells(e *entry) bool {
	tries := !e.other && r.isTried(e.rung) && (e.outer != nil || e.tried || e.made != nil)
	return tries || len(e.bouts) > 0
}

// heads reports whether a day stands at the head of sets: it is the first of
// its line or segment and sets stand behind it, or it has a colon.
func (r *reader) heads(p *phrase, s *segment) bool {
	if s.next == ':' && !s.gives {
		return true
	}
	before, behind := false, false
	first, end := r.phrases[s.from].from, r.phrases[s.to-1].to
	for _, e := range r.entries {
		start := e.start()
		if !r.tells(e) || s.gives && (start < first || start >= end) {
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

// giveDays gives every entry its mark.
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

// governAhead makes a day that of the entries behind it, up to the next day that
// heads.
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

// governBehind makes a day that of the entries before it, back to the day
// before it or to a line or sentence that another day heads.
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
		if e.day < 0 && r.tells(e) && !e.other && e.start() > marks[i].from {
			r.doubt(WhichDay, marks[i].from, marks[i].to)
			e.day = i
		}
	}
}

// setsBetween reports whether an entry begins between two tokens.
func (r *reader) setsBetween(from, to int) bool {
	for _, e := range r.entries {
		if at := e.start(); r.tells(e) && at >= from && at < to {
			return true
		}
	}
	return false
}

// dayFor returns the day of an entry, Today where it has no mark, and whether
// its sets may be stored. They may not where the day is wrong or to come, which
// is doubted.
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
		if !r.doneBeside(marks) {
			r.doubtOnce(FutureDay, m.from, m.to)
		}
		return 0, false, false
	}
	if m.day.day != r.today && m.day.loose {
		r.guess("day", DayName(m.day.day))
	}
	return m.day.day, true, true
}

// doneBeside reports whether sets of a day that is not to come are told too.
// Beside them nobody need be asked about what is planned for tomorrow.
func (r *reader) doneBeside(marks []mark) bool {
	for _, e := range r.entries {
		if r.tells(e) && !e.other && (e.day < 0 || !marks[e.day].day.ahead && marks[e.day].day.day <= r.today) {
			return true
		}
	}
	return false
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
