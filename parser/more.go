package parser

import "rungbook/training"

// mods reads a run without sizes that belongs to the open entry.
func (a *assembler) mods(u run) {
	f := filler{assembler: a, first: len(a.reader.sizes), start: len(a.reader.sizes), entry: &a.entries[a.open]}
	for i := u.from; i < u.to; i++ {
		f.item(i, u)
	}
	f.finish()
}

// more reads a run with neither name nor size: it says more of the entry
// before it, or of the one to come.
func (a *assembler) more(u run) {
	if a.ofSome(u) {
		a.fill(u, int(a.entries[a.open].from))
		a.end()
		return
	}
	for i := u.from; i < u.to; i++ {
		it := &a.items[i]
		if u.noisy() && !(it.k == iEffort && it.loud || it.k == iRest && it.n >= 0 || it.k == iDay) {
			continue
		}
		switch it.k {
		case iCount:
			a.moreCount(it, i, u)
		case iEffort, iRest, iLoad, iHelp:
			a.moreSaid(it, u)
		case iSide:
			a.moreSide(it, u)
		case iTry:
			if a.open >= 0 {
				a.entries[a.open].tried = true
			}
		case iMade:
			if a.open >= 0 && it.n >= 0 {
				a.entries[a.open].done, a.entries[a.open].doneSaid = it.n, true
			}
		case iFill:
			if it.n == 1 && a.open >= 0 {
				a.entries[a.open].each = true
			}
		}
	}
}

// ofSome reports whether a run says more of some of the sets before it only: last
// two with a band.
func (a *assembler) ofSome(u run) bool {
	if a.open < 0 || a.entries[a.open].from == a.entries[a.open].to || a.pend < len(a.reader.sizes) || a.rungOf(&a.entries[a.open]).unit == training.Tried {
		return false
	}
	which, said := false, false
	for i := u.from; i < u.to; i++ {
		switch a.items[i].k {
		case iWhich:
			which = true
		case iHelp, iLoad, iEffort, iRest:
			said = true
		}
	}
	return which && said
}

func (a *assembler) moreCount(it *item, i int, u run) {
	next := rune(0)
	if u.to < len(a.items) && a.items[u.to].k == iSep {
		next = a.items[u.to].n
	}
	if next == ':' || a.open < 0 || it.round && next == '\n' && u.sign == '\n' {
		a.circuit, a.alone = it.n, next == '\n' || next == ':' && u.to+1 < len(a.items) && a.items[u.to+1].k == iSep && a.items[u.to+1].n == '\n'
		a.leadCount = *it
		return
	}
	whole := it.round || u.sign == ')' || u.sign == ']' || u.sign == ','
	last := u.sign == '\n' && next == 0 // on a line of its own, at the end: of all
	for j := len(a.entries) - 1; j >= 0; j-- {
		e := &a.entries[j]
		if j != a.open && (!whole && !last || !last && e.line != a.entries[a.open].line || e.counted || e.outer != 0) {
			break
		}
		if e.outer == 0 {
			e.outer, e.outerAt = it.n, *it
		}
	}
}

// moreSaid puts a particular to the last size before it; on a line or in a
// sentence of its own an effort or a rest is said of all that has none.
func (a *assembler) moreSaid(it *item, u run) {
	if a.pend < len(a.reader.sizes) {
		a.reader.sizes[len(a.reader.sizes)-1].say(it)
		return
	}
	if a.open < 0 {
		a.lead.say(it)
		return
	}
	e := &a.entries[a.open]
	if e.from == e.to {
		e.pre.say(it)
		return
	}
	at := e.to - 1
	for at > e.from && a.reader.sizes[at].k == iWhich { // that was of some sets only
		at--
	}
	a.reader.sizes[at].say(it)
	if (it.k == iEffort || it.k == iRest) && (u.sign == '\n' || u.sign == '.' || u.sign == '!') {
		for j := range a.entries[:a.open] {
			a.spreadBack(&a.entries[j], it)
		}
	}
}

func (a *assembler) spreadBack(e *entry, it *item) {
	for i := e.from; i < e.to; i++ {
		s := &a.reader.sizes[i]
		if it.k == iEffort && s.has&saidEffort == 0 || it.k == iRest && s.has&saidRest == 0 {
			s.say(it)
		}
	}
}

func (a *assembler) moreSide(it *item, u run) {
	if a.pend < len(a.reader.sizes) || a.open >= 0 && a.entries[a.open].to > a.entries[a.open].from {
		if a.open >= 0 && a.pend == len(a.reader.sizes) && a.reader.sizes[a.pend-1].side != 0 && u.sign == '(' && a.sizeBehind(u.to) { // (L) 10s (R) 8s
			a.entries[a.open].pre.side, a.entries[a.open].pre.sideAt = int8(it.n+1), *it
			return
		}
		s := &a.reader.sizes[len(a.reader.sizes)-1]
		switch side := int8(it.n + 1); {
		case s.side == 0:
			s.side, s.sideAt = side, *it
		case s.side != side && (u.sign == '&' || u.sign == '/'):
			s.side = 3
		case s.side != side:
			s.twice, s.sideAt = true, *it
		}
		return
	}
	if a.open >= 0 {
		a.entries[a.open].pre.side, a.entries[a.open].pre.sideAt = int8(it.n+1), *it
		return
	}
	a.lead.side, a.lead.sideAt = int8(it.n+1), *it
}
