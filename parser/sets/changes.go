package sets

import (
	"slices"

	"rungbook/parser/words"
)

// changes doubts words that may change what was done. Some are doubted wherever
// they stand beside sets; hedges only in the clause of the sets, in a clause of
// their own, or where they name a set.
func (r *reader) changes() {
	for at := range r.segments {
		s := &r.segments[at]
		about := r.aboutSets(s)
		for i := s.from; i < s.to; i++ {
			changes := false
			switch p := &r.phrases[i]; {
			case p.kind == doubtful:
				told := r.told()
				changes = (about || r.gives(at)) && !r.ofNone(s, told) && (p.n == 0 || p.n != told)
			case p.kind == counted && r.any(p.from, schemes):
				changes = p.size.count != r.told() || r.countsBehind(i)
			case p.kind == help && p.word == byKip:
				changes = about || r.gives(at)
			case p.kind == hedge:
				changes = r.hedges(at, i, about)
			}
			if changes {
				r.doubt(Changed, r.phrases[i].from, r.phrases[i].to)
				return
			}
		}
	}
}

// schemes are classes of words that say how sets follow one another. They are
// doubted unless all the sets are told.
var schemes = words.OfClasses(words.Scheme, words.Every, words.Each)

// countsBehind reports whether a count or another number stands behind phrase
// i: emom 10 min, 3 dips, quit after 6 minutes.
func (r *reader) countsBehind(i int) bool {
	return slices.ContainsFunc(r.phrases[i+1:], func(p phrase) bool {
		return p.kind == counted || p.kind == figure || p.kind == doubtful || p.kind == failed && p.size.milli > 0
	})
}

// gives reports whether a segment gives sets, or one before it or right behind it.
func (r *reader) gives(at int) bool {
	return r.segments[at].gives || r.neighbourGives(at) || at > 1 && r.segments[at-2].gives
}

// hedges reports whether the hedge at phrase i of a segment is said of sets.
// One that only says how sets follow one another is not, if all of them are
// told.
func (r *reader) hedges(at, i int, about bool) bool {
	s, p := &r.segments[at], &r.phrases[i]
	_, vague := words.Phrase(r.t, p.from, words.Scheme) // several sets
	untimed := r.value(p.from) == 1 && p.to == p.from+1 // amrap
	if (vague || r.is(p.from, words.Scheme)) && (r.told() > 2 || untimed && !vague) {
		return false
	}
	return about || s.gives && r.ofTheSets(s, i) || r.onlyHedges(s) && r.neighbourGives(at) || r.ofNamedSets(s, p)
}

// told is how many sets were read.
func (r *reader) told() (n int) {
	for _, day := range r.out.Days {
		n += len(day.Sets)
	}
	return n
}

// ofNone reports whether a segment speaks of a set that was not told: of two
// sets, the third doesn't count.
func (r *reader) ofNone(s *segment, told int) bool {
	for i := r.phrases[s.from].from; i < r.phrases[s.to-1].to; i++ {
		if r.is(i, words.Ordinal) && !r.is(i, words.Second) && r.value(i) > told {
			return true
		}
	}
	return false
}

// ofTheSets reports whether the hedge at phrase i is said of the sets of its
// segment: nothing but small words stands between it and them, or between it
// and the end.
func (r *reader) ofTheSets(s *segment, i int) bool {
	word := r.phrases[i].from
	instead := r.is(word, words.Doubtful) && r.is(word, words.Planned) && i == s.to-1 && r.sizeFirst(s)
	if r.is(word, words.Without) || instead { // without my brother, did 3x4 instead
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

// aboutSets reports whether a segment speaks of a set told elsewhere: the
// third, my last set.
func (r *reader) aboutSets(s *segment) bool {
	for i := r.phrases[s.from].from; i < r.phrases[s.to-1].to; i++ {
		the := r.is(i-1, words.The) || r.is(i-1, words.My)
		_, _, nth := r.ordinal(i)
		if the && (r.is(i, words.Last) || nth) || r.is(i, words.Set) {
			return true
		}
	}
	return false
}

// ofNamedSets reports whether a hedge says how sets were done that are named
// beside it: last one was cheated. A hedge that begins with no does not count,
// for it is as often said of something else.
func (r *reader) ofNamedSets(s *segment, hedged *phrase) bool {
	if r.is(hedged.from, words.Negative) {
		return false
	}
	for i := s.from; i < s.to; i++ {
		if p := &r.phrases[i]; p.kind == which && p.from < hedged.from {
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
