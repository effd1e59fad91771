package sets

// Several skills may share sizes: those of one of them are told, and the others
// are joined to it or stand in a list with it.

// link notes that the skill before, which has no sizes, stands in one list with
// this one.
func (a *assembler) link(before *entry, p *part, e *entry) {
	if before == nil || len(before.bouts) > 0 || before.line != e.line || before.other || e.other {
		return
	}
	before.joined = a.shareForward(before, p, e)
	before.shares = before.joined || p.sign == ',' || p.sign == '/' || p.sign == '&'
}

// shareForward reports whether a name without sizes takes those of the skill
// behind it: high hold and toe support 3x20s each.
func (a *assembler) shareForward(before *entry, p *part, e *entry) bool {
	joined := p.sign == '&' || p.sign == '/' || p.sign == '+' || p.sign == ',' && p.each
	if !joined {
		return false
	}
	return p.each || p.first && a.names.Rungs[before.rung].Unit == a.names.Rungs[e.rung].Unit
}

// sharesBack reports whether a name alone takes the sizes of the entry before:
// 3x20s deep hang and support.
func (a *assembler) sharesBack(p *part, before *entry) bool {
	if p.same {
		return true
	}
	joined := p.sign == '&' || p.sign == '+' || p.sign == '/' || p.sign == ',' && before.each
	if !joined || before.first && !before.each || before.other || p.name.kind == exercise || p.count != nil {
		return false
	}
	if p.headsList() || a.phrases[p.from].kind != skill || before.line != p.segment.line || p.segment.talk > 0 {
		return false
	}
	return a.names.Rungs[before.rung].Unit == a.names.Rungs[p.name.at].Unit
}

// headsList reports whether a sign behind a name says that its own sizes follow.
func (p *part) headsList() bool {
	next := p.segment.next
	return next == ':' || next == '-' || next == '='
}

// giveBack gives an entry's sizes to the skills before it that share them. All
// of them get all sizes if an and joins them or "each" was said; in a list of
// skills with as many sizes behind it each gets one.
func (a *assembler) giveBack(e *entry) {
	n := len(a.entries) - 1
	for n > 0 && a.entries[n] != e {
		n--
	}
	from := n
	for from > 0 && a.entries[from-1].shares && (len(a.entries[from-1].bouts) == 0 || a.entries[from-1].copied) {
		from--
	}
	if from == n {
		return
	}
	if listed := e.bouts; !e.each && len(listed) == n-from+1 && n-from > 1 && !e.counted {
		for i := range listed {
			a.entries[from+i].bouts = []bout{listed[i]}
		}
		return
	}
	for i := from; i < n; i++ {
		if e.each || a.entries[i].joined {
			a.entries[i].copyFrom(e)
		}
	}
}

// copyFrom gives an entry another's sizes.
func (e *entry) copyFrom(from *entry) {
	e.bouts, e.said, e.copied = append([]bout{}, from.bouts...), from.said, true
	if e.outer == nil {
		e.outer = from.outer
	}
}
