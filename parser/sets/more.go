package sets

import "rungbook/training"

// more reads a part with neither a skill nor sizes, which says more of the
// entry before it or of the next one.
func (a *assembler) more(p *part) {
	noisy := p.segment.talk > 0
	if p.about != nil {
		a.about, a.aboutAt = p.about, a.at
	}
	said := a.moreSaid(p)
	e := a.open
	if a.tellsOfThose(p, &said) {
		return
	}
	if p.same && e.hasSizes() && p.segment.talk == 0 && e.bouts[len(e.bouts)-1].of == nil { // the same again
		e.bouts, e.last = append(e.bouts, e.bouts[len(e.bouts)-1]), a.at
	}
	if e != nil && a.isTried(e.rung) {
		e.nth = max(e.nth, p.nth)
	} else {
		a.nth = max(a.nth, p.nth)
	}
	if !said.empty() || p.each {
		a.sayOf(p, said)
	}
	if e != nil && (!noisy || p.made != nil) {
		a.outcomeOf(e, p, noisy)
	}
}

// tellsOfThose gives an effort, a help or a load to the sets that the clause
// before named: last set to the limit, effort 10.
func (a *assembler) tellsOfThose(p *part, said *aside) bool {
	of := aside{effort: said.effort, help: said.help, load: said.load}
	if a.about == nil || a.at != a.aboutAt+1 || p.sign != ',' || !a.open.hasSizes() || of.empty() || a.about.kind != which {
		return false
	}
	set := a.about.set
	a.open.bouts = append(a.open.bouts, bout{Span: Span{a.about.from, a.about.to}, of: &set, only: true, said: of})
	a.open.last, a.about = a.at, nil
	return true
}

// moreSaid returns what a part says of the sets told before it. It leaves out
// what the part says of sets to come, and what may mean something else among
// its words. The part's count is given to the sets that it counts.
func (a *assembler) moreSaid(p *part) aside {
	said, plain := p.said, true
	if p.segment.talk > 0 || p.sign == '(' && a.open == nil && a.at > 0 && a.segments[a.at-1].talk > 0 { // a pram of 25 kg
		said, plain = a.amongWords(p), false
	}
	if p.count != nil && (plain || p.segment.next == ':' && a.open == nil) { // 3 rounds before the rain:
		a.moreCount(p)
	}
	if said.side != nil && a.sideOfNext(p) {
		a.ahead.side, said.side = said.side, nil
	}
	if p.segment.next == ':' && a.sizesFollow() { // vest off: one of 12
		a.ahead.take(said)
		said = aside{}
	}
	if p.leads() { // one day without the toes
		said.unaided = nil
	}
	return said
}

// leads reports whether a part stands apart from the sizes before it, or heads
// those behind it.
func (p *part) leads() bool {
	return sentenceEnds(p.sign) || p.sign == '\n' || p.sign == '>' || p.segment.next == ':'
}

// sizesFollow reports whether sizes of the open entry follow in the next segment.
func (a *assembler) sizesFollow() bool {
	if !a.open.hasSizes() || a.at+1 >= len(a.segments) {
		return false
	}
	next := &a.segments[a.at+1]
	return next.skills == 0 && next.line == a.segments[a.at].line && a.sizeFirst(next)
}

// doubtHelp doubts a help or a load among other words behind a skill: it may be
// of the skill's sets or not.
func (a *assembler) doubtHelp(said *aside) {
	p := said.help
	if p == nil {
		p = said.load
	}
	if p != nil && (a.open != nil || p.kind == load) {
		a.doubt(Changed, p.from, p.to)
	}
}

// amongWords returns what a part says of sets although other words stand in it:
// what plainly returns, and that somebody held or pushed, unless it is said of
// which sets.
func (a *assembler) amongWords(p *part) aside {
	said := p.said.plainly()
	if held := p.said.help; held != nil && held.m == 1 && a.open != nil && !a.ordinalWithin(p) {
		said.help = held
		return said
	}
	a.doubtHelp(&p.said)
	return said
}

// plainly returns what can mean nothing else even among other words: an effort,
// and a rest with its length.
func (a *aside) plainly() aside {
	said := aside{effort: a.effort, rest: a.rest}
	if said.rest != nil && said.rest.n < 0 {
		said.rest = nil
	}
	return said
}

// sayOf gives what a part says to the sizes that wait for a skill, to the
// entries to come or to the open entry.
func (a *assembler) sayOf(p *part, said aside) {
	switch e := a.open; {
	case len(a.pending) > 0:
		a.pending[len(a.pending)-1].said.take(said)
		a.each = a.each || p.each
	case e == nil && p.segment.next == ':':
		a.all.take(said)
	case e == nil:
		a.lead.take(said)
	case len(e.bouts) == 0:
		e.said.take(said)
	default:
		a.sayMore(e, said, p.sign)
	}
}

// outcomeOf gives what a part says of how the open entry's sets came off to it;
// among other words nothing is said to have failed.
func (a *assembler) outcomeOf(e *entry, p *part, noisy bool) {
	e.each, e.tried = e.each || p.each, e.tried || p.tried
	if p.made != nil && (p.made.n >= 0 || a.names.Rungs[e.rung].Unit == training.Tried) {
		e.made = p.made
	}
	if p.failed != nil && len(e.bouts) > 0 && !noisy {
		a.failedOf(e, p)
	}
}

// sideOfNext reports whether a side alone in its clause is of the size behind
// it: (L) 10s (R) 8s.
func (a *assembler) sideOfNext(p *part) bool {
	if !a.open.hasSizes() {
		return true
	}
	last := &a.open.bouts[len(a.open.bouts)-1]
	if last.said.side == nil || a.at+1 >= len(a.segments) {
		return false
	}
	return a.firstSize(&a.segments[a.at+1]) != nil
}

// failedOf says a failure of the last set, or of all sets where that is said.
func (a *assembler) failedOf(e *entry, p *part) {
	from := len(e.bouts) - 1
	if p.all {
		from = 0
	}
	for i := max(from, 0); i < len(e.bouts); i++ {
		e.bouts[i].failed = true
	}
}

// restOfRound gives the rest behind a round that ends in another exercise to
// the last skill of it that counts.
func (a *assembler) restOfRound(e *entry, rest *phrase) {
	for i := len(a.entries) - 1; i >= 0 && a.entries[i].line == e.line; i-- {
		if o := a.entries[i]; !o.other && len(o.bouts) > 0 {
			o.bouts[len(o.bouts)-1].said.take(aside{rest: rest})
			return
		}
	}
}

// restOfList gives a rest to the entries before the last that it goes on with:
// 14 rows, 13 rows, 2 min rest.
func (a *assembler) restOfList(rest *phrase) {
	for i := len(a.entries) - 1; i > 0 && a.entries[i].lists; i-- {
		bouts := a.entries[i-1].bouts
		bouts[len(bouts)-1].said.fill(aside{rest: rest})
	}
}

// sayMore gives the entry's last size what is said. An effort or a rest in a
// sentence or on a line of its own is given to all sizes that have none, and so
// is a rest at the end that is said to be of each.
func (a *assembler) sayMore(e *entry, said aside, sign rune) {
	at := len(e.bouts) - 1
	for at > 0 && e.bouts[at].only { // that was of some sets only
		at--
	}
	e.bouts[at].said.take(said)
	if said != (aside{unaided: said.unaided}) {
		e.last = a.at
	}
	if e.other && e.circuit {
		a.restOfRound(e, said.rest)
	}
	apart := sign == '\n' || sentenceEnds(sign)
	a.restOfList(said.rest)
	if said.rest != nil && (said.rest.m == 0 && !apart || e.circuit || !apart && a.at < len(a.segments)-1) {
		said.rest = nil // of a circuit it stands behind the last skill
	}
	if !apart {
		said.effort = nil
	}
	for _, other := range a.entries {
		for i := range other.bouts {
			b := &other.bouts[i].said
			if b.rest == nil {
				b.rest = said.rest
			}
			if b.effort == nil {
				b.effort = said.effort
			}
		}
	}
}
