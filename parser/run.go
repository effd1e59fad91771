package parser

import "slices"

// A run is a stretch of items without a separator or an unknown word in it. A
// message is read run by run: a run with a size and a name is an entry, one
// with a size alone goes on with the entry before or waits for the name behind,
// one with a name alone heads what follows, one with neither says more of the
// entry before.

// run is items[from:to].
type run struct {
	from, to int
	sign     rune // the separator before it; 0 at the start and behind an unknown word
	before   bool // an unknown word stands right before
	after    bool // or right behind
	sizes    int  // sizes, ratios and failures
	names    int
}

func (u run) noisy() bool { return u.before || u.after }

// assembler turns items into entries.
type assembler struct {
	*reader
	open      int // the entry that sizes without a name go to, -1 for none
	pend      int // r.sizes[pend:] wait for a name
	sign      rune
	noise     bool // an unknown word stands right before
	line      int32
	circuit   int32 // rounds that entries of this line are part of, 0 for none
	alone     bool  // the circuit was announced on a line of its own
	lead      size  // what was said before there was an entry
	each      bool  // "each" was said of the pending sizes
	loose     bool  // ... by a size of its own: 2 rounds of 15s high hold + ...
	mention   item  // the first name that heads nothing
	leadCount item  // a count before there was an entry
}

func (r *reader) assemble() *assembler {
	a := r.asm
	*a = assembler{reader: r, open: -1}
	for at := 0; at < len(r.items); {
		switch it := &r.items[at]; it.k {
		case iSep:
			a.separate(it, at)
			at++
		case iOther, iStray:
			a.noise, a.sign = true, 0
			at++
		case iNote:
			for at < len(r.items) && !(r.items[at].k == iSep && r.items[at].n == '\n') {
				at++
			}
		default:
			u := a.run(at)
			a.take(u)
			a.noise, a.sign = false, 0
			at = u.to
		}
	}
	a.dropPending()
	return a
}

// run finds the run that begins at item at.
func (a *assembler) run(at int) run {
	u := run{from: at, to: at, sign: a.sign, before: a.noise}
	for ; u.to < len(a.items); u.to++ {
		switch a.items[u.to].k {
		case iSep, iNote:
			return u
		case iOther, iStray:
			u.after = true
			return u
		case iSize, iFrac, iOf, iFail:
			u.sizes++
		case iName:
			u.names++
		}
	}
	return u
}

// separate notes a separator; a sentence's end closes what is pending.
func (a *assembler) separate(it *item, at int) {
	a.noise = false
	switch it.n {
	case '\n':
		blank := a.sign == '\n' && at > 0 && a.items[at-1].k == iSep && a.items[at-1].n == '\n'
		a.line++
		a.loose = false
		if !a.alone || blank {
			a.circuit = 0
		}
	case '.', '!', '?', ';', ')':
		if a.loose {
			a.circuit, a.loose = 0, false
		}
		if it.n != ';' && it.n != ')' {
			a.dropPending()
		}
	}
	if a.sign != '\n' || it.n != ';' && it.n != '-' { // a bullet is no separator of its own
		a.sign = it.n
	}
}

// take splits a run that holds several names, and reads its parts.
func (a *assembler) take(u run) {
	if u.names <= 1 {
		a.group(u)
		return
	}
	sizeFirst := false
	for i := u.from; i < u.to; i++ {
		if k := a.items[i].k; k == iSize || k == iFrac || k == iName {
			sizeFirst = k != iName
			break
		}
	}
	start, sizes, names := u.from, 0, 0
	for i := u.from; i < u.to; i++ {
		k := a.items[i].k
		isSize := k == iSize || k == iFrac || k == iCount && !a.items[i].loud
		cut := sizeFirst && isSize && names > 0 && a.nameWithin(i, u.to) || k == iName && names > 0 && (!sizeFirst || sizes == 0)
		if cut {
			a.group(a.part(u, start, i))
			start, sizes, names = i, 0, 0
		}
		if isSize {
			sizes++
		}
		if k == iName {
			names++
		}
	}
	a.group(a.part(u, start, u.to))
}

func (a *assembler) nameWithin(from, to int) bool {
	for i := from; i < to; i++ {
		if a.items[i].k == iName {
			return true
		}
	}
	return false
}

// part returns a stretch of a run as a run.
func (a *assembler) part(u run, from, to int) run {
	p := run{from: from, to: to, sign: u.sign, before: u.before && from == u.from, after: u.after && to == u.to}
	if from > u.from {
		p.sign = 0
	}
	for i := from; i < to; i++ {
		switch a.items[i].k {
		case iSize, iFrac, iOf, iFail:
			p.sizes++
		case iName:
			p.names++
		}
	}
	return p
}

func (a *assembler) group(u run) {
	switch {
	case u.names > 0 && u.sizes > 0:
		a.whole(u)
	case u.sizes > 0:
		a.bare(u)
	case u.names > 0:
		a.heading(u)
	default:
		a.more(u)
	}
}

// whole reads a run with a name and sizes.
func (a *assembler) whole(u run) {
	if a.open >= 0 && a.entries[a.open].from == a.entries[a.open].to && a.joinsNames(u) && a.entries[a.open].line == a.line && (a.eachIn(u) || u.sign == '&' && a.nameAt(u) < a.sizeAt(u) && a.rungOf(&a.entries[a.open]).unit == a.p.names.rungs[a.items[a.nameAt(u)].n].unit) {
		a.entries[a.open].share = true // high hold and toe support 3x20s each
	}
	e := a.begin(u)
	e.first = a.items[a.nameAt(u)].from < a.items[a.sizeAt(u)].from
	if e.first {
		a.dropPending()
		e.from = int32(len(a.reader.sizes))
	}
	a.fill(u, int(e.from))
	if e := &a.entries[a.open]; a.loose && e.circuit && e.counted { // it has a count of its own
		e.outer, e.circuit = 0, false
	}
	a.end()
}

// joinsNames reports whether the sign before a run may join two names.
func (a *assembler) joinsNames(u run) bool {
	return u.sign == '&' || u.sign == '/' || u.sign == '+'
}

func (a *assembler) eachIn(u run) bool {
	for i := u.from; i < u.to; i++ {
		if a.items[i].k == iFill && a.items[i].n == 1 {
			return true
		}
	}
	return false
}

func (a *assembler) nameAt(u run) int {
	for i := u.from; i < u.to; i++ {
		if a.items[i].k == iName {
			return i
		}
	}
	return u.from
}

func (a *assembler) sizeAt(u run) int {
	for i := u.from; i < u.to; i++ {
		if k := a.items[i].k; k == iSize || k == iFrac || k == iOf || k == iFail {
			return i
		}
	}
	return u.from
}

// begin opens an entry for the run's name; it takes the pending sizes.
func (a *assembler) begin(u run) *entry {
	it := &a.items[a.nameAt(u)]
	a.open = len(a.entries)
	a.entries = append(a.entries, entry{})
	e := &a.entries[a.open]
	e.rung, e.near, e.nameFrom, e.nameTo, e.from, e.line = it.n, it.near, it.from, it.to, int32(a.pend), a.line
	e.outer, e.circuit, e.each = a.circuit, a.circuit > 0, a.each
	e.pre.takeAll(&a.lead)
	a.each = false
	return e
}

// end closes the open entry's sizes at the end of all sizes, and gives them to
// the headings that share them.
func (a *assembler) end() {
	a.pend = len(a.reader.sizes)
	e := &a.entries[a.open]
	e.to = int32(a.pend)
	for i := a.open - 1; i >= 0 && a.entries[i].share; i-- {
		a.entries[i].from, a.entries[i].to, a.entries[i].pre = e.from, e.to, e.pre
		if a.entries[i].outer == 0 {
			a.entries[i].outer = e.outer
		}
	}
}

// bare reads sizes without a name.
func (a *assembler) bare(u run) {
	if a.correction(u) {
		return
	}
	if u.noisy() || a.open >= 0 && a.foreign(u, &a.entries[a.open]) {
		a.strayAt(u)
		return
	}
	if a.open >= 0 && (a.tooLong(u, &a.entries[a.open]) || a.killedAt(a.items[a.sizeAt(u)].from) && !a.killedAt(a.entries[a.open].nameFrom)) {
		return
	}
	open := a.open >= 0
	if open && a.entries[a.open].from < a.entries[a.open].to {
		e := &a.entries[a.open]
		open = !a.nameComes(u, e) && (u.sign != '.' || e.first && !e.counted && a.lone(u)) && u.sign != '!' && u.sign != '?' && (u.sign != '\n' || e.first) && a.fits(u, e)
	}
	if !open {
		a.fill(u, len(a.reader.sizes))
		return
	}
	if a.pend < len(a.reader.sizes) {
		a.dropPending()
	}
	a.fill(u, int(a.entries[a.open].from))
	a.end()
}

// lone reports whether a run is one size with its unit and nothing else: 30s. 28s.
func (a *assembler) lone(u run) bool {
	it := &a.items[u.from]
	return u.to == u.from+1 && it.k == iSize && it.unit != uNone && it.count == 0
}

// tooLong reports whether a time without a name is no set of the entry but how
// long it all took: 3x30s deep hang, 45 min in total.
func (a *assembler) tooLong(u run, e *entry) bool {
	it := &a.items[a.sizeAt(u)]
	if it.k != iSize || it.unit != uSec || it.count > 0 || it.milli < 300_000 || e.from == e.to {
		return false
	}
	for i := e.from; i < e.to; i++ {
		if a.reader.sizes[i].milli*4 > it.milli {
			return false
		}
	}
	return true
}

// foreign reports whether a counted size stands beside a word of other names,
// which is none of the entry's: 3x30s deep hang, 3x20s hold.
func (a *assembler) foreign(u run, e *entry) bool {
	if a.items[a.sizeAt(u)].count == 0 {
		return false
	}
	for i := u.from; i < u.to; i++ {
		it := &a.items[i]
		if it.k != iPart && !(it.k == iFill && a.inAName(it)) {
			continue
		}
		word := a.word(int(it.from))
		rungs, ok := a.p.names.parts[string(word[:stemLen(word)])]
		if ok && !slices.Contains(rungs, e.rung) {
			return true
		}
	}
	return false
}

// correction reads "last set 24s": a size for a set of the entry before.
func (a *assembler) correction(u run) bool {
	if a.open < 0 || a.entries[a.open].to == a.entries[a.open].from {
		return false
	}
	sizes := 0
	for i := u.from; i < u.to; i++ {
		switch it := &a.items[i]; {
		case it.k == iWhich && sizes <= 1, it.k == iFail && it.m == 2 && sizes == 0:
			a.fill(u, int(a.entries[a.open].from))
			a.end()
			return true
		case it.k == iSize:
			sizes++
		}
	}
	return false
}

// fits reports whether the run's sizes are of the entry's kind.
func (a *assembler) fits(u run, e *entry) bool {
	have := uNone
	for i := e.from; i < e.to; i++ {
		if a.reader.sizes[i].unit != uNone {
			have = a.reader.sizes[i].unit
		}
	}
	if have == uNone && a.rungOf(e).unit != "seconds" {
		have = uRep
	}
	each := a.eachIn(u)
	for i := u.from; i < u.to; i++ {
		if it := &a.items[i]; it.k == iSize && it.unit != uNone && have != uNone && it.unit != have && !each {
			return false
		}
	}
	return true
}

// nameComes reports whether the run's sizes begin a list that belongs to a name
// behind it: 5/5/4 pull-ups.
func (a *assembler) nameComes(u run, e *entry) bool {
	tight, seps := true, 0
	for i := u.to; i < len(a.items) && i < u.to+40; i++ {
		switch it := &a.items[i]; it.k {
		case iSep:
			seps++
			if it.n == '.' || it.n == '!' || it.n == '?' || it.n == '\n' || it.n == ';' || it.n == ':' {
				return false
			}
			if u.sign == '/' && it.n != '/' { // another list begins
				return false
			}
			tight = tight && (it.n == '/' || it.n == '+' || it.n == '-')
		case iOther, iStray, iNote:
			return false
		case iSize:
			if u.sign == '/' && it.count > 0 {
				return false
			}
		case iName:
			if last := &a.items[i-1]; last.k == iSep || seps == 0 {
				return false
			}
			return tight || !e.first && e.counted
		}
	}
	return false
}
