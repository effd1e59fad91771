package sets

import (
	"rungbook/parser/words"
	"rungbook/training"
)

// settle makes sets of the entries, day by day, and accounts for what is left
// over.
func (r *reader) settle() {
	marks := r.oneOf(r.marks())
	r.giveDays(marks)
	r.clashes()
	for _, e := range r.entries {
		r.settleEntry(e, marks)
	}
	if len(r.out.Days) > 0 || len(r.out.Doubts) > 0 {
		r.changes()
	}
	r.tooMany()
	r.lostDay(marks)
	r.leftOver()
	r.countsUnread()
	r.setsUnread()
	r.numbersUnread()
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
	if r.heldAgainst(e, marks) {
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
	r.store(day, stated, sets)
	if e.day >= 0 {
		for _, other := range marks[e.day].also {
			r.store(other, true, sets)
		}
	}
}

// store adds sets to a day.
func (r *reader) store(day training.Day, stated bool, sets []training.Set) {
	for i := range r.out.Days {
		if r.out.Days[i].Day == day {
			r.out.Days[i].Sets = append(r.out.Days[i].Sets, sets...)
			r.out.Days[i].Stated = r.out.Days[i].Stated || stated
			return
		}
	}
	r.out.Days = append(r.out.Days, Day{Day: day, Stated: stated, Sets: sets})
}

// claims reports whether a skill without sizes says that something was done: a
// count of sets, a count of reps behind the name, a muscle-up that came off. Of
// another one that stands alone in its clause the size is asked for.
func (r *reader) claims(e *entry) bool {
	rung := &r.names.Rungs[e.rung]
	switch {
	case e.outer != nil && !e.circuit:
		r.repsOfCount(e)
		return true
	case rung.Unit == training.Tried:
		return e.made != nil || e.tried || e.nth > 0 || r.claimed(e)
	}
	return e.purely && r.sized && r.otherSets(e) && !r.namesDay(e)
}

// namesDay reports whether a day is named in the segment of a skill: support
// tomorrow.
func (r *reader) namesDay(e *entry) bool {
	s := &r.segments[e.segment]
	return r.dayWithin(s.from, s.to)
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

// otherSets reports whether another entry has sizes, and none of the same skill
// has.
func (r *reader) otherSets(e *entry) bool {
	others := false
	for _, other := range r.entries {
		if other == e || len(other.bouts) == 0 {
			continue
		}
		if other.rung == e.rung && !other.other { // dips 3x8 (dips on the bars)
			return false
		}
		others = true
	}
	return others
}

// everyday reports whether a skill's word beside a bare number or a range is
// meant in its everyday sense: 6 pull-up bars, rows 5-8 are free, pull up at 6.
// It reports true for 0 pull-ups too, of which none were done.
func (r *reader) everyday(e *entry) bool {
	if len(e.bouts) != 1 || e.outer != nil || e.circuit || e.tried {
		return false
	}
	b := &e.bouts[0]
	switch number := b.isNumber(); {
	case number && b.milli == 0: // 0 pull-ups: none were done
		return true
	case !number && b.fault != Range:
		return false
	case number && r.is(b.From-1, words.At): // pull up at 6
		return true
	}
	return r.namesThing(e, b) && !(r.fillsLine(e) && len(r.entries) > 1) && !e.lists
}

// fillsLine reports whether an entry is all that its line tells: row 8.
func (r *reader) fillsLine(e *entry) bool {
	s := &r.segments[e.segment]
	return e.purely && s.skills == 1 && (s.sign == '\n' || s.sign == 0) && (s.next == '\n' || s.next == 0)
}

// namesThing reports whether a skill's one word, or its word in the singular,
// goes on as the name of a thing: 6 pull-up bars, 3 rows of seats. A short one
// before its number needs no more than that: row 5-8.
func (r *reader) namesThing(e *entry, b *bout) bool {
	oneWord := e.name.To == e.name.From+1
	singular := !words.Plural(r.t.Word(e.name.To - 1))
	after := max(e.name.To, b.To)
	if r.is(after, words.Of) {
		after++
	}
	if (oneWord || singular) && r.unknown(after) && !r.t.Glued(after) { // 30sc is no 30 of a thing
		return true
	}
	return oneWord && singular && b.From > e.name.From && len(r.t.Word(e.name.From)) <= 5
}
