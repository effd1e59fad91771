package sets

import (
	"rungbook/parser/words"
	"rungbook/training"
)

// bare reads sizes without a skill.
func (a *assembler) bare(p *part) {
	switch e := a.open; {
	case p.ladder != nil: // 3x8 pulls
		a.ofLadder(p)
	case len(p.bouts) == 1 && p.bouts[0].tookAll() && (e == nil || e.hasSizes()): // how long it all took
	case e.hasSizes() && (allCorrect(p.bouts) || a.tellsAbout(p)):
		a.add(e, p.bouts, p)
	case a.sumsAnew(p):
		a.sumAnew(e, p)
	case p.each && len(p.bouts) == 1 && a.saidAgain(&p.bouts[0]): // still, 30 each
	case a.restsSoLong(p):
		a.sayMore(e, aside{rest: &phrase{kind: rested, n: int(p.bouts[0].milli / 1000), from: p.bouts[0].From, to: p.bouts[0].To}}, p.sign)
	case a.mayEndThose(p):
		a.endsThose(p)
	case p.each && (a.tellsSets(p) || a.sharesOut(p)):
	case a.ofNone(p):
		a.lost = a.at
		for i := range p.bouts {
			a.stray(&p.bouts[i])
		}
	default:
		a.sideOf(p)
		a.place(p)
	}
}

// ofNone reports whether sizes are of no known skill: they are of an unknown
// one, go on with the list of an unknown one, or stand in talk.
func (a *assembler) ofNone(p *part) bool {
	if a.open.hasSizes() && !a.open.other && a.foreign(p) {
		return true
	}
	if a.open.hasSizes() && (a.is(p.bouts[0].From-1, words.More) || a.dayHeads(p)) { // and another 2x25s because I could
		return false
	}
	if listed(p.sign) && p.sign != 0 && a.lost > 0 && a.lost == a.at-1 {
		return true
	}
	return p.segment.talk > 0 && !a.listStands(p) || a.headedByTalk(p)
}

// headedByTalk reports whether the sizes stand on a later line than the open
// entry, headed by words that are no skill: rows 3x12, and on the next line
// hang (deep) - 30.
func (a *assembler) headedByTalk(p *part) bool {
	if !a.open.hasSizes() || a.open.line >= p.segment.line || p.sign != '-' && p.sign != ':' && p.sign != ')' {
		return false
	}
	for at := a.at - 1; at >= 0 && a.segments[at].line == p.segment.line; at-- {
		s := &a.segments[at]
		words := Span{a.phrases[s.from].from, a.phrases[s.to-1].to}
		if s.sizes+s.skills == 0 && (s.talk > 0 || a.namePart(words)) {
			return true
		}
	}
	return false
}

// place gives sizes to the open entry, or opens one of the same skill for
// another day; if neither may be, they wait for a skill.
func (a *assembler) place(p *part) {
	switch {
	case a.open.hasSizes() && a.fits(p, a.open) && a.dayHeads(p): // and on Thursday 3x27s
		a.onOtherDay(p)
	case a.tellsSets(p):
	case a.ofSpoken(p):
		p.name, p.first = a.spoken, true
		a.whole(p)
	case a.goesOn(p):
		a.drop()
		a.add(a.open, p.bouts, p)
	default:
		a.wait(p)
	}
}

// ofSpoken reports whether sizes are of the only skill that their sentence
// named in talk: some support work, toes down, 30s 30s. A single bare number is
// not taken for that.
func (a *assembler) ofSpoken(p *part) bool {
	if a.open != nil || a.spoken == nil || len(a.pending) > 0 {
		return false
	}
	if next := a.at + 1; next < len(a.segments) && a.segments[next].skills > 0 && a.segments[next].sizes == 0 {
		return false
	}
	timed := a.names.Rungs[a.spoken.at].Unit == training.Timed
	return suit(p.bouts, timed) && (timed || p.bouts[0].count > 0 || len(p.bouts) > 1 || a.circuit != nil)
}

// onOtherDay opens an entry for the skill of the open one.
func (a *assembler) onOtherDay(p *part) {
	at := p.bouts[0].From
	e := &entry{rung: a.open.rung, other: a.open.other, name: Span{at, at}, segment: a.at, line: p.segment.line, first: a.open.first,
		purely: true, day: -1}
	a.entries, a.open = append(a.entries, e), e
	a.add(e, p.bouts, p)
}

// wait keeps sizes, and what was said with them, for a skill behind them.
func (a *assembler) wait(p *part) {
	if len(a.pending) == 0 {
		a.pendingAt = a.at
	}
	a.lead.take(p.said)
	a.each = a.each || p.each
	a.pending = append(a.pending, p.bouts...)
}

// foreign reports whether a word beside the sizes stands in names of skills,
// but in none of the open entry's: 3x30s deep hang, 3x20s hold.
func (a *assembler) foreign(p *part) bool {
	beside, ok := a.unknownBeside(p.bouts[0].Span)
	if !ok || p.bouts[0].count == 0 {
		return false
	}
	for i := beside.From; i < beside.To; i++ {
		for _, named := range a.names.With(a.t.Word(i)) {
			if named.At == a.open.rung {
				return false
			}
		}
	}
	return a.namePart(beside)
}

// ofLadder asks of which rung of the named ladder the sizes are.
func (a *assembler) ofLadder(p *part) {
	unit := training.Counted
	if p.bouts[0].unit == seconds {
		unit = training.Timed
	}
	d := a.doubt(AmbiguousSkill, p.ladder.from, p.ladder.to)
	for i := range a.names.Rungs {
		if rung := &a.names.Rungs[i]; rung.Ladder == p.ladder.at && rung.Unit == unit {
			d.Names = append(d.Names, rung.Name)
		}
	}
}

// listStands reports whether sizes stand at the head of their segment, before
// its words. Then they go on with a list: "30, 28, 25 what a day".
func (a *assembler) listStands(p *part) bool {
	first := &a.phrases[p.from]
	heads := first.kind == sized && first.size.count == 0 && (len(p.bouts) == 1 || first.size.unit != unsaid)
	if a.is(p.bouts[0].From-1, words.More) { // this evening another 2x25s
		heads, first = true, &phrase{from: p.bouts[0].From, to: p.bouts[0].To}
	}
	joins := listed(p.sign) && p.sign != 0 || p.sign == '>' || p.sign == '&'
	if joins && a.open.hasSizes() && p.sign != ',' && a.oneMore(p) {
		return true
	}
	if !heads || !joins || a.open == nil {
		return false
	}
	beside, named := a.unknownBeside(Span{first.from, first.to})
	return !named || !a.resembles(beside) && !(first.size.unit == unsaid && a.namePart(beside))
}

// oneMore reports whether a segment is one more size with a word before it:
// 2x15, then a sad 9.
func (a *assembler) oneMore(p *part) bool {
	s := p.segment
	first, last := &a.phrases[s.from], &a.phrases[s.to-1]
	return s.talk == 1 && last.kind == sized && last.size.count == 0 && a.is(first.from, words.Article) && s.to-s.from <= 3
}

// goesOn reports whether sizes without a skill belong to the open entry.
func (a *assembler) goesOn(p *part) bool {
	e := a.open
	if e == nil || len(a.pending) > 0 {
		return false
	}
	if a.leaves(p, e) {
		return len(e.bouts) == 0 || p.sharesOut(e)
	}
	return len(e.bouts) == 0 || a.fits(p, e) && !a.skillComes(p, e)
}

// sharesOut reports whether a sentence behind an entry of one size only says in
// which sets that was done: 30 pull-ups over the evening. 6x5.
func (p *part) sharesOut(e *entry) bool {
	if len(e.bouts) != 1 || len(p.bouts) != 1 || !e.bouts[0].single() {
		return false
	}
	b := &p.bouts[0]
	return b.count > 1 && b.of == nil && int64(b.count)*b.milli == e.bouts[0].milli
}

// leaves reports whether a sentence or a line ended between an entry and the
// sizes of a part. A full stop within a list ends no sentence: deep hang 30s.
// 28s; rows. 12. 10.
func (a *assembler) leaves(p *part, e *entry) bool {
	if p.sign == '.' && e.first && !e.counted && a.lone(p) {
		return len(e.bouts) > 0 && p.bouts[0].bare() && !e.bouts[len(e.bouts)-1].isNumber()
	}
	return sentenceEnds(p.sign) || p.sign == '\n' && !e.first
}

// lone reports whether a part is one size and nothing else but words that add:
// 28s; again 28s.
func (a *assembler) lone(p *part) bool {
	for i := p.from; i < p.to; i++ {
		if q := &a.phrases[i]; q.kind != sized && !(q.kind == filler && a.addsAt(q)) {
			return false
		}
	}
	return len(p.bouts) == 1 && p.bouts[0].count == 0
}

// fits reports whether the part's sizes may be of the entry's skill, by their
// unit.
func (a *assembler) fits(p *part, e *entry) bool {
	have := unsaid
	for i := range e.bouts {
		if e.bouts[i].unit != unsaid {
			have = e.bouts[i].unit
		}
	}
	if have == unsaid && (e.other || a.names.Rungs[e.rung].Unit != training.Timed) {
		have = reps
	}
	for i := range p.bouts {
		b := &p.bouts[i]
		ofEach := p.each && b.milli <= maxRepS*1000
		if b.unit != unsaid && have != unsaid && b.unit != have && !ofEach {
			return false
		}
	}
	return true
}

// skillComes reports whether the part's sizes begin a list that belongs to a skill
// behind it: 5/5/4 pull-ups.
func (a *assembler) skillComes(p *part, e *entry) bool {
	if p.split {
		return false
	}
	tight := true // nothing stands between the sizes but signs of a list
	for at := a.at + 1; at < len(a.segments) && at < a.at+maxAhead; at++ {
		s := &a.segments[at]
		if s.endsList() {
			return false
		}
		tight = tight && (s.sign == '/' || p.sign != '/' && (s.sign == '+' || s.sign == '-')) // 20/18/15s + 5 pull-ups is two lists
		size := a.firstSize(s)
		switch uncounted := size != nil && size.size.count == 0; {
		case s.skills > 0:
			return uncounted && (tight || !e.first && e.counted)
		case !uncounted:
			return false
		}
	}
	return false
}

// maxAhead bounds how many segments ahead the skill of a list is looked for, so
// that the cost stays linear in the text.
const maxAhead = 20

// endsList reports whether a list of sizes ends before a segment: at a stop, or at
// words with no skill among them.
func (s *segment) endsList() bool {
	stop := sentenceEnds(s.sign) || s.sign == '\n' || s.sign == ';' || s.sign == ':'
	return stop || s.talk > 0 && s.skills == 0
}

// firstSize returns the first size of a segment if it stands before its skill.
func (a *assembler) firstSize(s *segment) *phrase {
	for i := s.from; i < s.to; i++ {
		switch p := &a.phrases[i]; p.kind {
		case sized:
			return p
		case skill, exercise:
			return nil
		}
	}
	return nil
}

// dayHeads reports whether a day stands before the first size of a part, or
// alone in the segment before it: Monday: 3x8. A day behind the sizes will do
// if the sizes before them have their own: 3x8 yesterday, 2x8 today.
func (a *assembler) dayHeads(p *part) bool {
	if a.open.hasSizes() && a.open.last < a.at && a.dayWithin(p.from, p.to) {
		if was := &a.segments[a.open.last]; a.phrases[was.to-1].kind == dayNamed {
			return true
		}
	}
	if a.at > 0 && p.sign != '.' && p.sign != 0 {
		was := &a.segments[a.at-1]
		if was.sizes+was.skills == 0 && a.dayWithin(was.from, was.to) {
			return true
		}
	}
	for i := p.from; i < p.to; i++ {
		switch a.phrases[i].kind {
		case dayNamed:
			return true
		case sized, ratio:
			return false
		}
	}
	return false
}
