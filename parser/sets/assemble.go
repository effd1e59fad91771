package sets

import "rungbook/parser/words"

// assembler puts parts together to entries.
type assembler struct {
	*reader
	at         int     // the segment being read
	open       *entry  // sizes without a skill go to it; nil for none
	pending    []bout  // sizes that wait for a skill
	pendingAt  int     // the segment where they begin
	each       bool    // "each" was said of the pending sizes
	lead       aside   // said before there was an entry
	all        aside   // said of all entries to come
	ahead      aside   // said of the next size alone: a side
	circuit    *phrase // rounds that entries of this line are part of
	alone      bool    // the circuit was announced on a line of its own
	loose      bool    // ... by a size of its own: 2 rounds of 15s high hold + ...
	planned    bool    // a heading says that what stands under it is not done
	plannedBy  int     // the line of that heading
	lost       int     // the last segment whose sizes found no skill for the words beside them
	correcting bool    // a correction stood before this segment
}

// assemble makes entries of the phrases.
func (r *reader) assemble() {
	r.cut()
	a := &assembler{reader: r}
	var parts []part
	for at := range r.segments {
		s := &r.segments[at]
		a.at = at
		a.enter(s)
		parts = r.parts(s, parts[:0])
		for i := range parts {
			r.gather(&parts[i])
			a.take(&parts[i])
		}
	}
	a.drop()
	for _, e := range r.entries {
		for at := e.segment; at <= e.last && len(e.bouts) > 0; at++ {
			r.segments[at].gives = true
		}
	}
}

// enter notes the separator before a segment: a sentence's end or a line's closes
// what is pending.
func (a *assembler) enter(s *segment) {
	a.correcting = s.sign == corrected
	if a.at > 0 && s.line > a.segments[a.at-1].line {
		if !a.alone || s.line > a.segments[a.at-1].line+1 {
			a.circuit = nil
		}
		a.loose = false
		if s.skills == 0 || s.sizes > 0 || s.talk > 0 { // sizes on a line, their skill alone on the next
			a.drop()
		}
	}
	a.plans(s)
	if sentenceEnds(s.sign) || s.sign == ')' {
		if a.loose {
			a.circuit, a.loose = nil, false
		}
		if s.sign != ')' {
			a.drop()
		}
	}
}

// plans notes a heading that says what stands under it is not done: goal: 3x30s deep
// hang. It holds for its line, or where it stands on a line of its own for those
// behind, up to an empty one.
func (a *assembler) plans(s *segment) {
	if a.at == 0 {
		return
	}
	was := &a.segments[a.at-1]
	newLine := s.line > was.line
	if newLine && (s.line > was.line+1 || was.skills > 0 && a.plannedBy < was.line) {
		a.planned = false
	}
	heads := was.sizes == 0 && was.skills == 0 && (was.next == ':' || newLine && (was.sign == '\n' || was.sign == 0))
	if heads && a.saysPlanned(was) {
		a.planned, a.plannedBy = true, was.line
	}
}

// saysPlanned reports whether a word of a segment says that something is meant to be
// done.
func (a *assembler) saysPlanned(s *segment) bool {
	for i := a.phrases[s.from].from; i < a.phrases[s.to-1].to; i++ {
		if a.is(i, words.Planned) && !a.is(i, words.Was) {
			return true
		}
	}
	return false
}

// drop gives up sizes that found no skill.
func (a *assembler) drop() {
	for i := range a.pending {
		a.stray(&a.pending[i])
	}
	a.pending, a.each = nil, false
}

// stray notes a size without a skill, unless it is no size at all: how long it all
// took, or the hour of a day.
func (a *assembler) stray(b *bout) {
	if b.none || b.tookAll() || a.isHour(b) {
		return
	}
	a.strays = append(a.strays, b.Span)
}

// isHour reports whether a bare number in talk is an hour of the day: see you at 6.
func (a *assembler) isHour(b *bout) bool {
	return b.bare() && b.milli <= 24_000 && a.is(b.From-1, words.At) && a.segments[a.at].talk > 0
}

// take reads a part by what it holds: a skill, sizes, both or neither. What a heading
// plans is passed by.
func (a *assembler) take(p *part) {
	if a.planned && (p.name != nil || len(p.bouts) > 0) {
		return
	}
	switch named := p.name != nil; {
	case a.correcting && a.correct(p):
	case named && len(p.bouts) > 0:
		a.whole(p)
	case named:
		a.heading(p)
	case p.ladder != nil && len(p.bouts) == 0:
		a.drop()
	case len(p.bouts) > 0:
		a.bare(p)
	default:
		a.more(p)
	}
	a.correcting = false
}

// begin opens an entry for the part's name.
func (a *assembler) begin(p *part) *entry {
	e := &entry{segment: a.at, last: a.at, line: p.segment.line, first: p.first, each: a.each || p.each, tried: p.tried, made: p.made,
		purely: p.segment.talk == 0, day: -1}
	e.call(p.name)
	if a.circuit != nil {
		e.outer, e.circuit = a.circuit, true
	}
	if len(a.pending) > 0 && !p.first {
		e.segment = a.pendingAt
	}
	e.said = a.all
	e.said.take(a.lead)
	a.lead, a.each = aside{}, false
	a.entries, a.open = append(a.entries, e), e
	return e
}

// whole reads a part with a skill and sizes.
func (a *assembler) whole(p *part) {
	before := a.open
	if p.first {
		a.drop()
	}
	e := a.begin(p)
	a.link(before, p, e)
	if p.split || p.name.kind == skill {
		unnumber(p.bouts)
	}
	a.sideOf(p)
	bouts := p.bouts
	if len(a.pending) > 0 {
		bouts = append(a.pending, p.bouts...)
	}
	a.add(e, bouts, p)
	a.pending = nil
	a.announce(p)
	if a.loose && e.circuit && e.counted { // it has a count of its own
		e.outer, e.circuit = nil, false
	}
}

// unnumber drops the numbers of sets that are told with their skill: set 2: 30s deep
// hang.
func unnumber(bouts []bout) {
	if len(bouts) > 0 && bouts[0].of != nil && bouts[0].of.first > 0 && !bouts[0].late && !bouts[0].only {
		bouts[0].of = nil
	}
}

// sideOf gives what was said ahead to the part's first size.
func (a *assembler) sideOf(p *part) {
	if !a.ahead.empty() && len(p.bouts) > 0 {
		p.bouts[0].said.fill(a.ahead)
		a.ahead = aside{}
	}
}

// add puts sizes to an entry, and what the part says besides.
func (a *assembler) add(e *entry, bouts []bout, p *part) {
	for i := range bouts {
		e.counted = e.counted || bouts[i].count > 0
	}
	if len(e.bouts) == 0 {
		e.bouts = bouts
	} else {
		e.bouts = append(e.bouts, bouts...)
	}
	e.last = a.at
	e.each, e.tried = e.each || p.each, e.tried || p.tried
	if p.made != nil {
		e.made = p.made
	}
	if n := len(e.bouts); n > 0 && !p.said.empty() {
		if p.first || len(p.bouts) == 0 {
			e.said.take(p.said)
		} else {
			e.bouts[n-1].said.take(p.said)
		}
	}
	if p.failed != nil {
		a.failedOf(e, p)
	}
	if p.count != nil {
		a.countOf(e, p)
	}
	a.giveBack(e)
}
