package sets

// aside is what is said beside a size; each is nil where it is unsaid.
type aside struct {
	rest, effort, load, help, side *phrase
	unaided                        *phrase // that there was no help or load: strict, no band
	otherSide                      *phrase // a second side that differs from side
}

// take adds what is said in another place. It replaces what was said here of
// the same kind; but a second side that differs from the first is kept beside
// it.
func (a *aside) take(more aside) {
	for _, pair := range [...]struct {
		to   **phrase
		from *phrase
	}{
		{&a.rest, more.rest}, {&a.effort, more.effort}, {&a.load, more.load}, {&a.help, more.help}, {&a.otherSide, more.otherSide},
		{&a.unaided, more.unaided},
	} {
		if pair.from != nil {
			*pair.to = pair.from
		}
	}
	if more.side == nil {
		return
	}
	if a.side != nil && a.side.word != more.side.word {
		a.otherSide = more.side
		return
	}
	a.side = more.side
}

// say adds one phrase.
func (a *aside) say(p *phrase) {
	var more aside
	switch p.kind {
	case rested:
		more.rest = p
	case effort:
		more.effort = p
		if a.effort != nil && a.effort.listsLevels() && p.listsLevels() { // @6 @7 @9
			all := *a.effort
			all.levels, all.to = append(append([]int{}, a.effort.levels...), p.levels...), p.to
			more.effort = &all
		}
	case load:
		more.load = p
	case help:
		more.help = p
	case side:
		more.side = p
	case filler:
		more.unaided = p
	}
	a.take(more)
}

// listsLevels reports whether an effort may be one of a list of efforts: it is a
// number, and not told by reps in reserve.
func (p *phrase) listsLevels() bool { return len(p.levels) > 0 && p.m == 0 }

// empty reports whether nothing was said.
func (a *aside) empty() bool { return *a == aside{} }

// fill takes over, of each kind of which nothing is said here, what was said of
// the thing that this one replaces.
func (a *aside) fill(was aside) {
	more := *a
	*a = was
	a.take(more)
}
