package sets

import "rungbook/parser/words"

// goneSets completes p, a phrase that takes sets back and does not say which,
// with the sets that about names right before it: the last one doesn't count.
// about is nil for none. It returns p.
func (r *reader) goneSets(p, about *phrase) *phrase {
	if about != nil && about.to == p.from && p.set.count == 0 && p.word == "" {
		p.set, p.from = about.set, about.from
	}
	return p
}

// takeBack takes back sets that were told: some of the open entry's, those of
// one size, or all of a skill. If it is open which sets are meant, it doubts
// the phrase.
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

// countsSize reports whether sets of n seconds or reps were told with a count
// above one, so that it is open which of them are meant.
func (e *entry) countsSize(n int) bool {
	for i := range e.bouts {
		if b := &e.bouts[i]; n > 0 && b.milli == int64(n)*1000 && b.count > 1 {
			return true
		}
	}
	return false
}

// saidAgain reports whether a size only repeats the one size of the open entry:
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

// tellsAbout takes a lone size for the size of sets that were named before it
// without one: the second is wrong, it was 16. It reports false if there are no
// such sets or the part says more.
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

// passDay turns the day of sets that were taken back into filler, so that it
// dates no other sets: forget the dips, that was yesterday.
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
