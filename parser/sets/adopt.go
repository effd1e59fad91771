package sets

// adopt gives sizes that found no skill to the only skill that the message
// names, if no entry has sizes: only hangs today, deep ones. 3x15s. Sizes that
// stand apart from the first ones, and what is said elsewhere and may be of
// them, are asked about.
func (a *assembler) adopt() {
	name, e := a.onlySkill()
	if name == nil || len(a.strays) == 0 || !a.adoptable() {
		return
	}
	from := a.segmentOf(a.strays[0].From, 0)
	if e == nil {
		e = &entry{first: name.from < a.strays[0].From, day: -1, said: a.all}
		e.call(name)
		e.segment, e.line = from, a.segments[from].line
		a.entries = append(a.entries, e)
	}
	e.last = from
	for i := range a.strays {
		b := &a.strays[i]
		at := a.segmentOf(b.From, e.last)
		s := &a.segments[at]
		talks := s.talk > 0 || s.opens() || b.count > 0 && s.to > s.from+1
		if at > e.last+1 || at > e.last && talks {
			a.doubt(LeftOver, b.From, b.To)
		}
		e.counted, e.last = e.counted || b.count > 0, at
	}
	a.saidApart(from, e.last)
	e.bouts, a.strays = a.strays, nil
}

// segmentOf returns the index of the token's segment. It looks from segment at
// on, which must not stand behind the token.
func (a *assembler) segmentOf(token, at int) int {
	for at+1 < len(a.segments) && a.phrases[a.segments[at+1].from].from <= token {
		at++
	}
	return at
}

// adoptable reports whether the sizes may be of a skill that is named
// elsewhere: they are no bare number in talk and in no question, and no other
// name stands beside them.
func (a *assembler) adoptable() bool {
	at := 0
	for i := range a.strays {
		b := &a.strays[i]
		at = a.segmentOf(b.From, at)
		beside, _ := a.unknownBeside(b.Span)
		if s := &a.segments[at]; b.bare() && s.talk > 0 || s.next == '?' || a.namePart(beside) {
			return false
		}
	}
	return true
}

// saidApart doubts a help, a load or a side that stands in another segment than
// the sizes: it may be of some of them only.
func (a *assembler) saidApart(from, to int) {
	for at := range a.segments {
		s := &a.segments[at]
		for i := s.from; i < s.to && (at < from || at > to); i++ {
			if p := &a.phrases[i]; p.kind == help || p.kind == load || p.kind == side {
				a.doubt(Changed, p.from, p.to)
				return
			}
		}
	}
}

// onlySkill returns the only skill that is named, with its entry where it has
// one; nil where several are, or where something has sizes.
func (a *assembler) onlySkill() (name *phrase, of *entry) {
	for _, e := range a.entries {
		if e.other || a.tells(e) || of != nil && of.rung != e.rung {
			return nil, nil
		}
		of = e
	}
	for i := range a.phrases {
		p := &a.phrases[i]
		if p.kind == exercise || p.kind == skill && name != nil && name.at != p.at {
			return nil, nil
		}
		if p.kind == skill && name == nil {
			name = p
		}
	}
	return name, of
}
