package sets

import "rungbook/parser/text"

// correct puts what stands behind a correction in the place of the last thing of
// its kind: a size, a skill, or the whole entry. It reports false where nothing
// was there to be corrected.
func (a *assembler) correct(p *part) bool {
	e := a.open
	if e == nil || len(e.bouts) == 0 && p.name == nil {
		return false
	}
	if len(p.bouts) > 0 && allCorrect(p.bouts) { // sorry, last one 28
		for i := range p.bouts {
			p.bouts[i].late = false
		}
		a.add(e, p.bouts, p)
		return true
	}
	switch named := p.name != nil; {
	case named && len(p.bouts) == 0:
		e.call(p.name)
		e.last = a.at
		return true
	case named:
		a.replaceEntry(e, p)
		return true
	case len(p.bouts) == 0:
		return false
	}
	a.replaceSizes(e, p)
	return true
}

// replaceEntry puts a whole entry in the place of the last, where it is of the same
// skill or has the same sizes; else it can't be told which was meant.
func (a *assembler) replaceEntry(e *entry, p *part) {
	same := e.rung == p.name.at && !e.other
	arrow := a.t.Kind(a.phrases[p.from].from-1) == text.Sign
	if !same && arrow { // 3x5 pull-ups -> 3x3 ring dips
		a.whole(p)
		return
	}
	if !same && !sameSizes(e.bouts, p.bouts) {
		a.doubt(Correction, p.bouts[0].From, p.name.to)
	}
	bouts := p.bouts
	outer := e.outer
	if bouts[0].count > 0 || p.count != nil {
		outer = nil
	}
	*e = entry{segment: e.segment, line: e.line, first: p.first, outer: outer, purely: true, day: -1}
	e.call(p.name)
	a.add(e, bouts, p)
}

// nearCount reports whether a bare number may correct the count of sets as well as
// their size.
func (b *bout) nearCount(was *bout) bool {
	return was.count > 1 && b.unit == unsaid && b.milli/1000 <= int64(was.count)+2 && b.milli < was.milli
}

// sameSizes reports whether two lists of sizes are alike in number, count and amount.
func sameSizes(was, now []bout) bool {
	if len(was) != len(now) {
		return false
	}
	for i := range was {
		if was[i].milli != now[i].milli || was[i].count != now[i].count {
			return false
		}
	}
	return true
}

// replaceSizes puts sizes in the place of the entry's: of all where a count stands
// with them or there is but one, of the last of a list where one stands alone.
func (a *assembler) replaceSizes(e *entry, p *part) {
	first := &p.bouts[0]
	was := &e.bouts[len(e.bouts)-1]
	one := len(p.bouts) == 1 && first.count == 0
	switch {
	case one && len(e.bouts) > 1: // 30/30/28, no 29
		keepUnit(first, was)
		first.said.fill(was.said)
		e.bouts = e.bouts[:len(e.bouts)-1]
	case one && first.nearCount(was): // 3x30s, no 2
		a.doubt(Correction, first.From, first.To)
		return
	case one: // 3x30s, sorry 25s: three of 25
		keepUnit(first, was)
		first.count = was.count
		first.said.fill(was.said)
		e.bouts = nil
	case len(p.bouts) == 1:
		keepUnit(first, was)
		first.said.fill(was.said)
		e.bouts, e.outer = nil, nil
	default:
		for i := range p.bouts {
			keepUnit(&p.bouts[i], was)
		}
		e.bouts, e.outer = nil, nil
	}
	a.add(e, p.bouts, p)
}
