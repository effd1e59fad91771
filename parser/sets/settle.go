package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// settle makes sets of the entries, day by day, and accounts for what is left over.
func (r *reader) settle() {
	marks := r.oneOf(r.marks())
	r.giveDays(marks)
	for _, e := range r.entries {
		r.settleEntry(e, marks)
	}
	if len(r.out.Days) > 0 || len(r.out.Doubts) > 0 {
		r.changes()
	}
	r.tooMany()
	r.leftOver()
	r.unread()
}

// tooMany doubts a message of more sets than anybody does.
func (r *reader) tooMany() {
	n := 0
	for _, day := range r.out.Days {
		if n += len(day.Sets); n > maxSets {
			e := r.entries[len(r.entries)-1]
			r.doubt(TooManySets, e.start(), e.name.To)
			return
		}
	}
}

// settleEntry adds the sets of one entry to its day.
func (r *reader) settleEntry(e *entry, marks []mark) {
	switch {
	case e.other && len(e.bouts) > 0:
		last := e.bouts[len(e.bouts)-1].Span
		r.out.Others = append(r.out.Others, Span{e.start(), max(e.name.To, last.To)})
		return
	case e.other:
		return
	case len(e.bouts) == 0 && !r.claims(e):
		r.out.Skills = append(r.out.Skills, Mention{e.name, e.rung})
		return
	}
	r.out.Skills = append(r.out.Skills, Mention{e.name, e.rung})
	if r.everyday(e) {
		return
	}
	day, stated, ok := r.dayFor(e, marks)
	if !ok {
		return
	}
	sets, ok := r.expand(e)
	if !ok || len(sets) == 0 {
		return
	}
	if e.tried && r.names.Rungs[e.rung].Unit != training.Tried {
		r.doubt(Changed, e.name.From, e.name.To)
	}
	r.segments[e.segment].gives = true
	for i := range r.out.Days {
		if r.out.Days[i].Day == day {
			r.out.Days[i].Sets = append(r.out.Days[i].Sets, sets...)
			r.out.Days[i].Stated = r.out.Days[i].Stated || stated
			return
		}
	}
	r.out.Days = append(r.out.Days, Day{Day: day, Stated: stated, Sets: sets})
}

// claims reports whether a skill without sizes says that something was done: a count
// of sets, a count of reps behind the name, a muscle-up that came off. Of another
// one that stands alone in its clause the size is asked for.
func (r *reader) claims(e *entry) bool {
	rung := &r.names.Rungs[e.rung]
	switch {
	case e.outer != nil && !e.circuit:
		if rung.Unit == training.Counted && e.outer.size.behind && !e.outer.size.loud && !e.outer.size.rounds { // dips x8
			p := e.outer
			e.bouts = []bout{{size: size{amount: amount{milli: int64(p.size.count) * 1000, whole: true}}, Span: Span{p.from, p.to}}}
			e.outer = nil
		}
		return true
	case rung.Unit == training.Tried:
		return e.made != nil || e.tried || r.claimed(e)
	}
	return e.purely && r.sized && r.otherSets(e) && !r.namesDay(e)
}

// namesDay reports whether a day is named in the segment of a skill: support
// tomorrow.
func (r *reader) namesDay(e *entry) bool {
	s := &r.segments[e.segment]
	for i := s.from; i < s.to; i++ {
		if r.phrases[i].kind == dayNamed {
			return true
		}
	}
	return false
}

// claimed reports whether words around a skill say that it came off.
func (r *reader) claimed(e *entry) bool {
	for i := range r.phrases {
		if p := &r.phrases[i]; p.kind == skill && p.from == e.name.From {
			return r.cameOffSoon(i)
		}
	}
	return false
}

// otherSets reports whether another entry has sizes.
func (r *reader) otherSets(e *entry) bool {
	for _, other := range r.entries {
		if other != e && len(other.bouts) > 0 {
			return true
		}
	}
	return false
}

// everyday reports whether a skill's word stands there in its everyday sense: a
// bare number beside one short common word, with an unknown word right behind: 6
// pull-up bars, rows 5-8 are free, 3 rows of seats.
func (r *reader) everyday(e *entry) bool {
	if len(e.bouts) != 1 || e.outer != nil || e.circuit {
		return false
	}
	b := &e.bouts[0]
	bare := b.unit == unsaid && b.count == 0 && !b.failed && b.ratio == nil
	if bare && b.milli == 0 { // 0 pull-ups: none were done
		return true
	}
	if !bare && b.fault != Range {
		return false
	}
	after := max(e.name.To, b.To)
	if r.is(after, words.Of) {
		after++
	}
	singular := !words.Plural(r.t.Word(e.name.To - 1))
	noun := r.t.Kind(after) == text.Word && r.words[after] == nil
	single := e.name.To == e.name.From+1
	return noun && (single || singular) || single && singular && b.From > e.name.From && len(r.t.Word(e.name.From)) <= 5
}

// changes doubts words that may change what was done: some wherever they stand
// beside sets, others only in the clause of the sets, in one of their own, or of a
// set that they name.
func (r *reader) changes() {
	for at := range r.segments {
		s := &r.segments[at]
		about := r.aboutSets(s)
		for i := s.from; i < s.to; i++ {
			p := &r.phrases[i]
			strong := (p.kind == doubtful || p.kind == help && p.word == byKip) && (s.gives || about || r.neighbourGives(at))
			weak := p.kind == hedge && (s.gives || about || r.onlyHedges(s) && r.neighbourGives(at))
			if strong || weak {
				r.doubt(Changed, p.from, p.to)
				return
			}
		}
	}
}

// aboutSets reports whether a segment speaks of a set told elsewhere: the third, my
// last set.
func (r *reader) aboutSets(s *segment) bool {
	for i := r.phrases[s.from].from; i < r.phrases[s.to-1].to; i++ {
		the := r.is(i-1, words.The) || r.is(i-1, words.My)
		if the && (r.is(i, words.Last) || r.is(i, words.Ordinal)) || r.is(i, words.Set) {
			return true
		}
	}
	return false
}

// onlyHedges reports whether a segment is nothing but words that change and small
// ones.
func (r *reader) onlyHedges(s *segment) bool {
	for i := s.from; i < s.to; i++ {
		p := &r.phrases[i]
		if p.kind != hedge && p.kind != filler && p.kind != dayNamed || p.kind == hedge && r.is(p.from, words.None) && s.to > s.from+1 {
			return false
		}
	}
	return true
}

// neighbourGives reports whether sets came of the segment before or behind.
func (r *reader) neighbourGives(at int) bool {
	return at > 0 && r.segments[at-1].gives || at+1 < len(r.segments) && r.segments[at+1].gives
}

// leftOver doubts sizes that found no skill: beside words that name none, or alone.
func (r *reader) leftOver() {
	r.namesJoined()
	for _, span := range r.strays {
		beside, near := r.unknownBeside(span)
		single := span.To == span.From+1 && r.t.Kind(span.From) == text.Number && r.t.Tokens[span.From].N <= 10 && len(r.strays) == 1
		switch {
		case near && single && !r.resembles(beside): // wrist 4
		case near && r.ambiguous(beside):
		case near:
			r.doubt(UnknownSkill, beside.From, beside.To)
		case len(r.out.Days) == 0 && len(r.out.Skills) == 0:
			r.doubt(MissingSkill, span.From, span.To)
		default:
			r.doubt(LeftOver, span.From, span.To)
		}
	}
}

// ambiguous doubts which skill one word is meant for that is part of several names. It
// reports false where the words are no such word.
func (r *reader) ambiguous(s Span) bool {
	if s.To != s.From+1 {
		return false
	}
	with := r.names.With(r.t.Word(s.From))
	if len(with) < 2 {
		return false
	}
	d := r.doubt(AmbiguousSkill, s.From, s.To)
	for _, named := range with[:min(len(with), 4)] {
		d.Names = append(d.Names, named.Name)
	}
	return true
}

// namesJoined doubts a word that nothing is known of and that a slash or a plus joins
// to sets: it may be a skill's name, as in hh/mh/dh.
func (r *reader) namesJoined() {
	for at := 0; at+1 < len(r.segments); at++ {
		s, next := &r.segments[at], &r.segments[at+1]
		lone := s.to == s.from+1 && s.talk == 1 && !s.gives && (next.sign == '/' || next.sign == '+')
		if p := &r.phrases[s.from]; lone && next.gives && r.t.Kind(p.from) == text.Word && r.words[p.from] == nil {
			r.doubt(UnknownSkill, p.from, p.to)
		}
	}
}

// resembles reports whether a word that nothing is known of may be a skill's name
// written badly, so that it is asked about rather than passed by.
func (r *reader) resembles(span Span) bool {
	for i := span.From; i < span.To; i++ {
		if r.names.Resembles(string(r.t.Word(i))) {
			return true
		}
	}
	return false
}

// unknownBeside returns the unknown words right behind a size, or right before it.
func (r *reader) unknownBeside(span Span) (Span, bool) {
	to := span.To
	for to < span.To+4 && r.mayName(to) {
		to++
	}
	if to > span.To {
		return Span{span.To, to}, true
	}
	from := span.From
	for from > span.From-4 && r.mayName(from-1) {
		from--
	}
	return Span{from, span.From}, from < span.From
}

// besideNear reports whether a misspelt skill stands right beside phrase i.
func (r *reader) besideNear(i int) bool {
	return i > 0 && r.phrases[i-1].near && r.phrases[i-1].kind == skill || i+1 < len(r.phrases) && r.phrases[i+1].near && r.phrases[i+1].kind == skill
}

// mayName reports whether the word at token i may be of a name: one that nothing is
// known of, or that says nothing beside sets.
func (r *reader) mayName(i int) bool {
	if r.t.Kind(i) != text.Word {
		return false
	}
	return r.words[i] == nil || r.names.Part(r.t.Word(i)) || r.words[i].Classes.Has(words.Everyday) || r.words[i].Classes.Has(words.Exercise)
}

// unread notes the words beside sets that nothing is known of.
func (r *reader) unread() {
	for at := range r.segments {
		s := &r.segments[at]
		if !s.gives {
			continue
		}
		for i := s.from; i < s.to; i++ {
			p := &r.phrases[i]
			if p.kind != talk || r.t.Kind(p.from) != text.Word || r.words[p.from] != nil {
				continue
			}
			if r.besideNear(i) { // trnasiton hnag
				r.doubt(UnknownSkill, p.from, p.to)
			}
			if n := len(r.out.Unread); n > 0 && r.out.Unread[n-1].To == p.from {
				r.out.Unread[n-1].To = p.to
				continue
			}
			r.out.Unread = append(r.out.Unread, Span{p.from, p.to})
		}
	}
}
