package sets

import "rungbook/parser/words"

// assembler makes entries of parts, one part after the other.
type assembler struct {
	*reader
	at         int     // the index of the segment being read
	open       *entry  // the entry that sizes without a skill go to; nil for none
	pending    []bout  // sizes that wait for a skill
	pendingAt  int     // the index of the segment where the pending sizes begin
	early      []bout  // what was said of some sets before any were told: band only for set three. 4, 4, 4
	each       bool    // "each" was said of the pending sizes
	lead       aside   // what was said before there was an entry
	all        aside   // what was said of all entries to come
	ahead      aside   // what was said of the next size alone: a side
	circuit    *phrase // the rounds that entries of this line are part of; nil for none
	alone      bool    // the circuit was announced on a line of its own
	loose      bool    // the circuit was announced by the size of its first skill: 2 rounds of 15s high hold + ...
	planned    bool    // a heading says that what stands under it was not done
	plannedBy  int     // the line of that heading
	lost       int     // the last segment whose sizes found no skill because of the words beside them
	correcting bool    // a correction stands before this segment
	far        bool    // words stand between that correction and this segment
	recast     bool    // the entries from here on replace entries of their skills that were told before
	about      *phrase // sets that were named, and whose size is still to come; nil for none
	aboutAt    int     // the index of the segment that names them
	late       []bout  // sizes whose sentence ended before there was a skill
	spoken     *phrase // a skill that this sentence named in talk, without sizes; nil for none
	nth        int     // which attempt was done, told before its skill; 0 for none
}

// assemble makes entries of the phrases, segment by segment.
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
	a.nameLate()
	a.drop()
	a.adopt()
	a.sayEarly()
	for _, e := range r.entries {
		for at := e.segment; at <= e.last && r.tells(e); at++ {
			r.segments[at].gives = true
		}
	}
}

// sayEarly gives the first entry what was said of some sets before any were told.
func (a *assembler) sayEarly() {
	for _, e := range a.entries {
		if !e.other && len(e.bouts) > 0 {
			e.bouts = append(e.bouts, a.early...)
			return
		}
	}
}

// enter takes note of the separator before a segment. The end of a sentence or a
// line ends what is pending.
func (a *assembler) enter(s *segment) {
	a.far = a.correcting && s.sign != corrected && s.sign != '\n'
	a.correcting = s.sign == corrected || a.far || a.endsCorrecting(s)
	a.recast = a.recast && !sentenceEnds(s.sign) && s.sign != '\n'
	if s.opens() {
		a.spoken = nil
	}
	if a.at > 0 && s.line > a.segments[a.at-1].line {
		if !a.alone || s.line > a.segments[a.at-1].line+1 {
			a.circuit = nil
		}
		a.loose = false
		numbered := len(a.pending) > 0 && a.pending[0].of != nil && s.talk == 0 // set 1: 8, and on the next line set 2: 7
		if !numbered && (s.skills == 0 || s.sizes > 0 || s.talk > 0) {          // sizes on a line, their skill alone on the next
			a.drop()
		}
	}
	a.plans(s)
	if sentenceEnds(s.sign) || s.sign == ')' {
		a.endSentence(s.sign)
	}
}

// endSentence ends a loose circuit and, unless a bracket was closed, gives up
// what is pending.
func (a *assembler) endSentence(sign rune) {
	if a.loose {
		a.circuit, a.loose = nil, false
	}
	if sign == ')' {
		return
	}
	if len(a.entries) == 0 && len(a.strays) == 0 {
		a.late = append(a.late, a.pending...)
	}
	a.drop()
}

// plans takes note of a heading that says that what stands under it was not done:
// goal: 3x30s deep hang. It holds for the rest of its line or, if it has a line of
// its own, for the lines behind it up to an empty one.
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

// saysPlanned reports whether a word of a segment says that something is planned.
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
		if b := &a.pending[i]; b.only {
			a.early = append(a.early, *b)
		} else {
			a.stray(b)
		}
	}
	a.pending, a.each = nil, false
}

// stray keeps a size that found no skill as a stray, unless it is no size at
// all but how long everything took, or an hour of the day.
func (a *assembler) stray(b *bout) {
	if b.none || b.tookAll() || a.isHour(b) || a.saidAgain(b) {
		return
	}
	a.strays = append(a.strays, *b)
}

// isHour reports whether a bare number in talk is an hour of the day: see you
// at 6.
func (a *assembler) isHour(b *bout) bool {
	return b.bare() && b.milli <= 24_000 && a.is(b.From-1, words.At) && a.segments[a.at].talk > 0
}

// take reads a part. It passes over what stands under a heading that plans.
func (a *assembler) take(p *part) {
	if a.planned && (p.name != nil || len(p.bouts) > 0) && !a.endsToday(p) || a.toCome(p) {
		return
	}
	if !a.amended(p) && (p.gone == nil || p.name != nil || len(p.bouts) > 0) {
		a.tell(p)
	}
	if p.gone != nil {
		a.takeBack(p.gone)
	}
}

// amended reads a part that tells something anew, because it stands behind a
// correction or says what the sets of a skill were. It reports false, and has read
// nothing, for any other part.
func (a *assembler) amended(p *part) bool {
	if a.correcting && a.correct(p) {
		a.correcting = false
		return true
	}
	said := p.name != nil || len(p.bouts) > 0 || p.about != nil || p.count != nil
	a.correcting = a.correcting && !said // the correction is still to come
	return p.name != nil && len(p.bouts) > 0 && (a.recast || a.retold(p)) && a.replaceTold(p)
}

// tell reads a part by what it holds: a skill, sizes, both or neither.
func (a *assembler) tell(p *part) {
	switch named := p.name != nil; {
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
}

// endsToday reports whether "today" stands behind the sets of a part. Then what a
// heading plans was done.
func (a *assembler) endsToday(p *part) bool {
	last := &a.phrases[p.segment.to-1]
	return last.kind == dayNamed && last.fault == "" && last.day.day == a.today && a.is(last.from, words.Today)
}

// toCome reports whether sizes without a skill are of a day to come: behind
// sets that were done such a day stands before them, as in 3x8 rows, on Friday
// I'll go for 4x8.
func (a *assembler) toCome(p *part) bool {
	if p.name != nil || len(p.bouts) == 0 || !a.open.hasSizes() {
		return false
	}
	for i := p.segment.from; i < p.to && a.phrases[i].from < p.bouts[0].From; i++ {
		if q := &a.phrases[i]; q.kind == dayNamed && q.day.ahead {
			return true
		}
	}
	return false
}

// begin opens an entry for the part's name.
func (a *assembler) begin(p *part) *entry {
	e := &entry{segment: a.at, last: a.at, line: p.segment.line, first: p.first, each: a.each || p.each, tried: p.tried, made: p.made,
		purely: p.segment.talk == 0, day: -1}
	e.call(p.name)
	if o := a.open; o.hasSizes() && o.rung == e.rung && o.other == e.other {
		e.lists = o.last >= a.at-1
	}
	if a.circuit != nil {
		e.outer, e.circuit = a.circuit, true
	}
	if len(a.pending) > 0 && !p.first {
		e.segment = a.pendingAt
	}
	e.said = a.all
	e.said.take(a.lead)
	e.nth = max(p.nth, a.nth)
	a.lead, a.each, a.about, a.nth = aside{}, false, nil, 0
	a.entries, a.open = append(a.entries, e), e
	return e
}

// whole reads a part with a skill and sizes.
func (a *assembler) whole(p *part) {
	before := a.open
	if p.first {
		a.drop()
	}
	if len(a.pending) > 0 && a.dayHeads(p) { // Monday 3x4, today 3x5 pull-ups
		at := a.pending[0].From
		was := a.begin(p)
		was.name = Span{at, at}
		a.add(was, a.pending, &part{segment: p.segment})
		a.pending = nil
	}
	e := a.begin(p)
	a.link(before, p, e)
	if p.split || p.name.kind == skill {
		unnumber(p.bouts)
	}
	a.sideOf(p)
	a.dropLone(p)
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

// dropLone gives up a pending bare number that stands alone in its clause, when
// the part has counted sizes and their skill: my sister, 19, saw 3x5 pull-ups.
func (a *assembler) dropLone(p *part) {
	if len(a.pending) == 1 && a.pending[0].isNumber() && a.pending[0].of == nil && (p.bouts[0].count > 0 || p.count != nil) {
		a.drop()
	}
}

// unnumber takes from sizes which set they are of, where that stands with their
// skill: set 2: 30s deep hang. It is no correction of set 2.
func unnumber(bouts []bout) {
	if len(bouts) > 0 && bouts[0].of != nil && bouts[0].of.first > 0 && !bouts[0].late && !bouts[0].only {
		bouts[0].of, bouts[0].place = nil, bouts[0].of
	}
}

// sideOf gives the part's first size what was said ahead of it.
func (a *assembler) sideOf(p *part) {
	if !a.ahead.empty() && len(p.bouts) > 0 {
		p.bouts[0].said.fill(a.ahead)
		a.ahead = aside{}
	}
}

// add gives an entry sizes, and what the part says beside them.
func (a *assembler) add(e *entry, bouts []bout, p *part) {
	if len(bouts) > 0 && bouts[0].count > 0 && len(e.bouts) == 1 && e.bouts[0].single() && e.outer != nil && !e.outer.size.rounds {
		e.bouts[0].count, e.outer = e.outer.size.count, nil // it is the count of the first size: twice the support for 30s, and once for 20
	}
	for i := range bouts {
		e.counted = e.counted || bouts[i].count > 0
	}
	if len(e.bouts) == 0 {
		e.bouts = bouts
	} else {
		e.bouts = append(e.bouts, bouts...)
	}
	e.last = a.at
	e.each, e.tried, e.nth = e.each || p.each, e.tried || p.tried, max(e.nth, p.nth)
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
