package sets

import "rungbook/training"

// more reads a part with neither skill nor size: it says more of the entry before
// it, or of the one to come.
func (a *assembler) more(p *part) {
	noisy := p.segment.talk > 0
	said := p.said
	if noisy {
		a.doubtHelp(&p.said)
		said = said.plainly()
	} else if p.count != nil {
		a.moreCount(p)
	}
	if said.side != nil && a.sideOfNext(p) {
		a.ahead.side, said.side = said.side, nil
	}
	e := a.open
	if e.hasSizes() && p.plain { // 5 @ bw
		e.bouts[len(e.bouts)-1].plain = true
	}
	if !said.empty() || p.each {
		a.sayOf(p, said)
	}
	if e != nil && (!noisy || p.made != nil) {
		a.outcomeOf(e, p, noisy)
	}
}

// doubtHelp doubts a help or a load told among other words behind a skill: it may be
// of its sets.
func (a *assembler) doubtHelp(said *aside) {
	p := said.help
	if p == nil {
		p = said.load
	}
	if p != nil && a.open != nil {
		a.doubt(Changed, p.from, p.to)
	}
}

// plainly returns what holds among other words as well: only what says itself what it
// is, an effort and a rest with its length.
func (a *aside) plainly() aside {
	said := aside{effort: a.effort, rest: a.rest}
	if said.rest != nil && said.rest.n < 0 {
		said.rest = nil
	}
	return said
}

// sayOf gives what a part says to the sizes that wait for a skill, to the entries to
// come or to the open entry.
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

// outcomeOf gives what a part says of how the open entry's sets came off to it; among
// other words nothing is said to have failed.
func (a *assembler) outcomeOf(e *entry, p *part, noisy bool) {
	e.each, e.tried = e.each || p.each, e.tried || p.tried
	if p.made != nil && (p.made.n >= 0 || a.names.Rungs[e.rung].Unit == training.Tried) {
		e.made = p.made
	}
	if p.failed != nil && len(e.bouts) > 0 && !noisy {
		a.failedOf(e, p)
	}
}

// sideOfNext reports whether a side alone in its clause is of the size behind it: (L)
// 10s (R) 8s.
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

// sayMore puts what is said to the last size; on a line or in a sentence of its own
// an effort or a rest is said of all that has none.
func (a *assembler) sayMore(e *entry, said aside, sign rune) {
	at := len(e.bouts) - 1
	for at > 0 && e.bouts[at].only { // that was of some sets only
		at--
	}
	e.bouts[at].said.take(said)
	e.last = a.at
	if sign != '\n' && !sentenceEnds(sign) {
		return
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
