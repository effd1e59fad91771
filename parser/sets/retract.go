package sets

import "rungbook/parser/words"

// goneSets completes a phrase that takes sets back with those that stand before
// it: the last one doesn't count.
func (r *reader) goneSets(p, about *phrase) *phrase {
	if about != nil && about.to == p.from && p.set.count == 0 && p.word == "" {
		p.set, p.from = about.set, about.from
	}
	return p
}

// takeBack takes sets back that were told: some of the open entry's, those of one
// size, or all of a skill.
func (a *assembler) takeBack(gone *phrase) {
	e := a.open
	if !e.hasSizes() {
		return
	}
	a.passDay(gone)
	switch {
	case gone.word != "":
		if e = a.told(&phrase{kind: skill, at: gone.at}); e != nil {
			e.bouts, e.outer, e.other = nil, nil, true
		}
	case gone.set.count > 0 && !e.countsSize(gone.set.like):
		set := gone.set
		e.bouts = append(e.bouts, bout{Span: Span{gone.from, gone.to}, of: &set, only: true, gone: true})
		a.about, a.aboutAt = gone, a.at
	default:
		a.doubt(Changed, gone.from, gone.to)
	}
}

// countsSize reports whether a size is told with its count, so that it can't be
// told how many such sets are meant.
func (e *entry) countsSize(n int) bool {
	for i := range e.bouts {
		if b := &e.bouts[i]; n > 0 && b.milli == int64(n)*1000 && b.count > 1 {
			return true
		}
	}
	return false
}

// saidAgain reports whether a size only says one again that the open entry has:
// 3x5 ring dips, yes 5, I watched the clip.
func (a *assembler) saidAgain(b *bout) bool {
	if !a.open.hasSizes() || len(a.open.bouts) > 1 || b.From < a.open.start() {
		return false
	}
	o := &a.open.bouts[0]
	if o.count < 2 || b.milli != o.milli || !b.bare() && b.count != o.count {
		return false
	}
	for i := b.From - 4; i < b.To+4; i++ {
		if a.any(i, addWords) || a.is(i, words.Set) || a.t.Is(i, '+') {
			return false
		}
	}
	_, near := a.unknownBeside(b.Span) // 3x20s support, 3x20s battle ropes
	return !near
}

// tellsAbout takes a lone size for that of sets that were named before it with
// none: the second is wrong, it was 16.
func (a *assembler) tellsAbout(p *part) bool {
	if a.about == nil || a.at > a.aboutAt+1 || p.sign == '(' || p.segment.talk > 0 || len(p.bouts) != 1 || !p.bouts[0].single() {
		return false
	}
	set := a.about.set
	p.bouts[0].of, a.about = &set, nil
	if e := a.open; e.bouts[len(e.bouts)-1].gone {
		e.bouts = e.bouts[:len(e.bouts)-1]
	}
	return true
}

// passDay passes over a day that is said of sets taken back: forget the dips,
// that was yesterday.
func (a *assembler) passDay(gone *phrase) {
	for at := a.at; at <= a.at+1 && at < len(a.segments); at++ {
		s := &a.segments[at]
		if s.sizes+s.skills > 0 || at > a.at && s.sign != ',' && s.sign != '-' {
			return
		}
		for i := s.from; i < s.to; i++ {
			if p := &a.phrases[i]; p.kind == dayNamed && p.from > gone.to {
				p.kind = filler
			}
		}
	}
}
