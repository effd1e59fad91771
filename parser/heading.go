package parser

// heading reads a name without sizes.
func (a *assembler) heading(u run) {
	next := rune(0)
	if u.to < len(a.items) && a.items[u.to].k == iSep {
		next = a.items[u.to].n
	}
	last := a.open
	if a.pend < len(a.reader.sizes) && !u.before && (u.sign != '\n' || next != ':' && !a.sizeBehind(u.to)) { // 30s - deep hang
		each := a.each
		e := a.begin(u)
		e.each = each
		a.mods(u)
		a.reader.sizes[len(a.reader.sizes)-1].take(&a.entries[a.open].pre)
		a.end()
		return
	}
	if u.after || u.before && next != ':' && next != '\n' {
		if a.mention.to == 0 {
			a.mention = a.items[a.nameAt(u)]
		}
		return
	}
	if last >= 0 && a.shares(u, last, next) {
		from := a.entries[last]
		e := a.begin(u)
		e.from, e.to, e.outer, e.pre, e.copied = from.from, from.to, from.outer, from.pre, true
		return
	}
	if last >= 0 && a.entries[last].from == a.entries[last].to && (u.sign == '&' || u.sign == '+' || u.sign == '/' || u.sign == ',') && a.entries[last].line == a.line {
		a.entries[last].share = true
	}
	a.dropPending()
	e := a.begin(u)
	e.first = true
	a.mods(u)
	if len(a.reader.sizes) > a.pend { // dips x8
		a.end()
		return
	}
	e.from, e.to = int32(a.pend), int32(a.pend)
}

// sizeBehind reports whether a size opens what follows item i.
func (a *assembler) sizeBehind(i int) bool {
	for i < len(a.items) && (a.items[i].k == iSep || a.items[i].k == iFill) {
		i++
	}
	return i < len(a.items) && (a.items[i].k == iSize || a.items[i].k == iFrac)
}

// shares reports whether a name alone takes the sizes of the entry before: 3x20s
// deep hang and support.
func (a *assembler) shares(u run, last int, next rune) bool {
	e := &a.entries[last]
	if tok := a.items[u.from].from; e.from < e.to && (a.is(int(tok), "same") || a.is(int(tok), "ditto")) && u.to <= u.from+4 {
		return true
	}
	if e.from == e.to || e.first && !e.each || u.sign != '&' && u.sign != '+' && u.sign != '/' && !(u.sign == ',' && e.each) || next == ':' || next == '-' || next == '=' {
		return false
	}
	if a.rungOf(e).unit != a.p.names.rungs[a.items[a.nameAt(u)].n].unit || a.items[u.from].k != iName {
		return false
	}
	return e.line == a.line
}

// dropPending gives up sizes that found no name.
func (a *assembler) dropPending() {
	for i := a.pend; i < len(a.reader.sizes); i++ {
		a.strays = append(a.strays, a.reader.sizes[i].item)
	}
	if a.pend < len(a.reader.sizes) {
		a.reader.sizes = a.reader.sizes[:a.pend]
	}
	a.each = false
}

func (a *assembler) strayAt(u run) {
	it := a.items[a.sizeAt(u)]
	if it.k != iFail {
		a.strays = append(a.strays, it)
	}
}

func (r *reader) rungOf(e *entry) *rung { return &r.p.names.rungs[e.rung] }
