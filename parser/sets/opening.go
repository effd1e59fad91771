package sets

import (
	"slices"

	"rungbook/parser/words"
)

// opensSentence reports whether a day opens a clause that says more than the
// day, and sets follow in its sentence: on Saturday I trained alone, 3x12 rows.
// If the clause may say that nothing was done it does not count; see lostDay.
func (r *reader) opensSentence(s *segment, p *phrase) bool {
	next := s.next == ',' || s.next == '-' || s.next == ':'
	if !s.opens() && s.sign != ';' || !next || r.firstSaid(s) != p {
		return false
	}
	today := p.fault == "" && p.day.day == r.today && s.sign == ';' // on Sunday 2x5 dips; today only hangs, deep, 3x20s
	return !r.quiet(s) && (today || r.mayDate(p) && !r.seen.today)
}

// quiet reports whether words of a segment may say that nothing was done.
func (r *reader) quiet(s *segment) bool {
	for i := r.phrases[s.from].from; i < r.phrases[s.to-1].to; i++ {
		if r.any(i, restful) {
			return true
		}
	}
	return false
}

// restful are words of a clause that may say that nothing was done.
var restful = words.OfClasses(words.Rest, words.Off, words.None, words.Negative, words.Was, words.Planned, words.Fail, words.Will)

// lostDay doubts the day of sets that name none, if near them a day is named
// that belongs to no sets: yesterday I rested, 3x12 rows.
func (r *reader) lostDay(marks []mark) {
	for _, e := range r.entries {
		if e.day < 0 && r.tells(e) && !e.other {
			r.segments[e.segment].undated = true
		}
	}
	used := 0
	for at := range r.segments {
		s := &r.segments[at]
		for i := s.from; i < s.to; i++ {
			p := &r.phrases[i]
			if p.kind != dayNamed {
				continue
			}
			for used < len(marks) && marks[used].from < p.from {
				used++
			}
			if r.contradicts(s, i) {
				r.doubt(WhichDay, p.from, p.to)
				return
			}
			owned := used < len(marks) && marks[used].phrase == p || !r.mayDate(p) && s.next != ':'
			if owned || r.ofAThing(s, i) || r.holdsFigure(s) || !r.mayBeOf(s, p) || !r.undatedNear(at) {
				continue
			}
			code := WhichDay
			if p.fault != "" {
				code = p.fault
			}
			r.doubt(code, p.from, p.to)
			return
		}
	}
}

// holdsFigure reports whether a number of a segment is none of the sets: the
// day is its own.
func (r *reader) holdsFigure(s *segment) bool {
	return slices.ContainsFunc(r.phrases[s.from:s.to], func(p phrase) bool { return p.kind == figure })
}

// contradicts reports whether words beside the day at phrase i say that it is
// the day of sets told elsewhere, which have another day: the dips were
// yesterday, today the same again.
func (r *reader) contradicts(s *segment, i int) bool {
	p := &r.phrases[i]
	if s.gives || s.next == ':' {
		return false
	}
	for j := i + 1; j < s.to && j < i+4; j++ {
		if r.is(r.phrases[j].from, words.Same) {
			return true
		}
	}
	return r.is(p.from-1, words.Was) && i >= s.from+2 && r.phrases[i-2].kind == skill
}

// mayBeOf reports whether a day may be that of sets that name none. It may if
// it is said of them. If today is not named it also may if it stands in their
// clause, opens its own, or stands behind a verb of doing: did them yesterday.
// We go again on Friday says nothing of sets.
func (r *reader) mayBeOf(s *segment, p *phrase) bool {
	switch {
	case r.pureDay(s):
		return false
	case r.pointed(s, p):
		return true
	case r.seen.today:
		return false
	case s.gives || r.firstSaid(s) == p || r.is(p.from-1, words.Was) || r.is(p.from-1, words.Correct):
		return true
	}
	for i := max(r.phrases[s.from].from, p.from-5); i < p.from; i++ {
		if r.is(i, words.Did) {
			return true
		}
	}
	return false
}

// opens reports whether a segment opens a message, a line or a sentence.
func (s *segment) opens() bool { return s.sign == 0 || s.sign == '\n' || sentenceEnds(s.sign) }

// firstSaid returns the first phrase of a segment that says something.
func (r *reader) firstSaid(s *segment) *phrase {
	for i := s.from; i < s.to-1; i++ {
		if p := &r.phrases[i]; p.kind != filler {
			return p
		}
	}
	return &r.phrases[s.to-1]
}

// mayDate reports whether a day may be that of sets behind it: a past one that is
// neither spoken of nor held against another.
func (r *reader) mayDate(p *phrase) bool {
	past := !p.day.ahead && (p.fault == "" || p.fault == VagueDay) && p.day.day < r.today
	return past && !r.judged(p) && !r.owns(p) && !r.compared(p, p.from-1)
}

// undatedNear reports whether sets that no day was found for stand in the
// sentence of a segment, in the one before or in the one behind.
func (r *reader) undatedNear(at int) bool {
	ends := 0
	for i := at; i >= 0 && i > at-maxAhead && ends < 2; i-- {
		if r.segments[i].undated {
			return true
		}
		if r.segments[i].opens() {
			ends++
		}
	}
	ends = 0
	for i := at + 1; i < len(r.segments) && i < at+maxAhead; i++ {
		if r.segments[i].opens() {
			ends++
		}
		if ends > 1 {
			return false
		}
		if r.segments[i].undated {
			return true
		}
	}
	return false
}
