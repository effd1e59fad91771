package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// countOf gives a count that stands apart from sizes to an entry, or if it
// counts rounds to all entries of the line.
func (a *assembler) countOf(e *entry, p *part) {
	if p.count.size.rounds && p.name != nil && p.count.from > p.name.from { // deep hang 30s / 5 pull-ups x 3 rounds
		a.rounds(p.count, e.line)
		return
	}
	if e.outer == nil || !e.circuit {
		e.outer = p.count
	}
	if p.count.size.rounds {
		a.circuit, e.circuit = p.count, true
	}
}

// rounds gives a count of rounds to the entries of a line that have no count of
// their own.
func (a *assembler) rounds(count *phrase, line int) {
	for i := len(a.entries) - 1; i >= 0 && a.entries[i].line == line; i-- {
		if e := a.entries[i]; e.uncounted() {
			e.outer = count
		}
	}
}

// announce notes a circuit that a size of its first skill begins, or one that a
// size of its last skill ends: 12s high hold + toe support 15s x4 rounds.
func (a *assembler) announce(p *part) {
	if len(p.bouts) == 0 || a.circuit != nil {
		return
	}
	if b := &p.bouts[0]; b.rounds && b.count > 0 && !b.behind && !p.first {
		a.circuit, a.loose = b.asRounds(), true
	}
	if last := &p.bouts[len(p.bouts)-1]; last.rounds && last.behind && p.first && a.followsUncounted(p.segment.line) {
		count := last.asRounds()
		e := a.open
		e.bouts[len(e.bouts)-1].count, e.counted = 0, false
		a.rounds(count, e.line)
	}
}

// followsUncounted reports whether the entry before the open one stands on the
// line and has no count.
func (a *assembler) followsUncounted(line int) bool {
	n := len(a.entries)
	return n > 1 && a.entries[n-2].line == line && a.entries[n-2].uncounted()
}

// moreCount reads a count that stands alone: it announces a circuit, or is of the
// entries of its line.
func (a *assembler) moreCount(p *part) {
	if a.countsSome(p) {
		return
	}
	next := p.segment.next
	ownLine := p.sign == '\n' || p.sign == 0
	if next == ':' || a.open == nil || p.count.size.rounds && next == '\n' && ownLine {
		a.circuit, a.alone = p.count, next == '\n' || next == ':' && a.lineEndsBehind()
		return
	}
	atEnd := p.sign == '\n' && next == 0 // on a line of its own, at the end: of all
	ofLine := p.count.size.rounds || p.sign == ')' || p.sign == ']' || p.sign == ','
	for i := len(a.entries) - 1; i >= 0; i-- {
		e := a.entries[i]
		reaches := atEnd || ofLine && e.line == a.open.line
		if e != a.open && !(reaches && e.uncounted()) {
			break
		}
		a.giveCount(e, p.count)
	}
}

// countsSome reports whether a count is of some of the sets that were told, and
// not of all: two of them fine. If something is said of them it is asked which
// ones.
func (a *assembler) countsSome(p *part) bool {
	e := a.open
	if !e.hasSizes() || !a.is(p.count.to-1, words.Those) || !e.counted && len(e.bouts) == 1 {
		return false
	}
	if !p.said.empty() {
		a.doubt(LeftOver, p.count.from, p.count.to)
	}
	return true
}

// giveCount gives a count that stands alone to an entry that has none apart: to
// the open entry's one size, else to its list.
func (a *assembler) giveCount(e *entry, count *phrase) {
	if count.size.loud { // dips x8, three sets
		a.repsOfCount(e)
	}
	switch oneSize := e == a.open && len(e.bouts) == 1 && e.bouts[0].count == 0; {
	case e.outer != nil:
		a.doubt(LeftOver, count.from, count.to)
	case oneSize && !count.size.rounds:
		e.bouts[0].count, e.bouts[0].behind, e.counted = count.size.count, true, true
		e.last = a.at
	default:
		e.outer = count
	}
}

// repsOfCount takes what looks like the count of a skill without sizes for its
// reps: dips x8.
func (r *reader) repsOfCount(e *entry) {
	p := e.outer
	if p == nil || e.circuit || len(e.bouts) > 0 || r.names.Rungs[e.rung].Unit != training.Counted {
		return
	}
	if p.size.behind && !p.size.loud && !p.size.rounds {
		e.bouts, e.outer = []bout{{size: size{amount: whole(p.size.count)}, Span: Span{p.from, p.to}}}, nil
	}
}

// lineEndsBehind reports whether the line ends behind the segment.
func (a *assembler) lineEndsBehind() bool {
	s := &a.segments[a.at]
	if a.at+1 < len(a.segments) && a.segments[a.at+1].line > s.line {
		return true
	}
	return a.t.Kind(a.phrases[s.to-1].to+1) == text.Line
}
