package sets

import "rungbook/parser/words"

// changes doubts words that may change what was done: some wherever they stand
// beside sets, others only in the clause of the sets, in one of their own, or of a
// set that they name.
func (r *reader) changes() {
	for at := range r.segments {
		s := &r.segments[at]
		about := r.aboutSets(s)
		for i := s.from; i < s.to; i++ {
			p := &r.phrases[i]
			changes := false
			switch {
			case p.kind == doubtful, p.kind == help && p.word == byKip:
				changes = about || s.gives || r.neighbourGives(at)
			case p.kind == hedge:
				changes = about || s.gives && r.ofTheSets(s, i) || r.onlyHedges(s) && r.neighbourGives(at)
			}
			if changes {
				r.doubt(Changed, p.from, p.to)
				return
			}
		}
	}
}

// ofTheSets reports whether the hedge at phrase i is said of the sets of its segment:
// nothing but small words stands between it and them, or between it and the end.
func (r *reader) ofTheSets(s *segment, i int) bool {
	if r.is(r.phrases[i].from, words.Without) { // without my brother
		return false
	}
	for j := i + 1; j < s.to; j++ {
		switch r.phrases[j].kind {
		case filler, dayNamed, hedge:
			continue
		case sized, ratio, counted, skill:
			return true
		}
		return false
	}
	return true
}

// aboutSets reports whether a segment speaks of a set told elsewhere: the third, my
// last set.
func (r *reader) aboutSets(s *segment) bool {
	for i := r.phrases[s.from].from; i < r.phrases[s.to-1].to; i++ {
		the := r.is(i-1, words.The) || r.is(i-1, words.My)
		if the && (r.is(i, words.Last) || r.is(i, words.Ordinal)) || r.is(i, words.Set) {
			return true
		}
	}
	return false
}

// onlyHedges reports whether a segment is nothing but words that change and small
// ones.
func (r *reader) onlyHedges(s *segment) bool {
	for i := s.from; i < s.to; i++ {
		switch p := &r.phrases[i]; p.kind {
		case filler, dayNamed:
		case hedge:
			if r.is(p.from, words.None) && s.to > s.from+1 {
				return false
			}
		default:
			return false
		}
	}
	return true
}

// neighbourGives reports whether sets came of the segment before or behind.
func (r *reader) neighbourGives(at int) bool {
	return at > 0 && r.segments[at-1].gives || at+1 < len(r.segments) && r.segments[at+1].gives
}
