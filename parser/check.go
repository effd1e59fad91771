package parser

import "rungbook/training"

// trouble is a problem before it is put into words.
type trouble struct {
	code  string
	it    item // the place
	e     *entry
	size  item          // of words that name no skill: the size beside them
	unit  training.Unit // ... and what it is counted in, empty where unsaid
	names []string      // ... and what they may be meant for
	count int           // sets that a count promised
	sizes int           // sizes that were given
	other item          // the second of two days
	day   training.Day
}

func (r *reader) trouble(code string, it item) *trouble { return &trouble{code: code, it: it} }

// check looks for slips in how the sizes were written, before their units are
// settled.
func (r *reader) check(e *entry, sizes []size) *trouble {
	if e.outerAt.code != 0 {
		return r.trouble(e.outerAt.code.String(), e.outerAt)
	}
	if len(sizes) == 0 && (r.rungOf(e).unit != training.Tried || e.outer == 0) {
		return r.unsized(e)
	}
	if t := r.oneOfTwo(e); t != nil {
		return t
	}
	for i := range sizes {
		s := &sizes[i]
		switch {
		case s.code != 0:
			return r.trouble(s.code.String(), s.item)
		case s.twice:
			return r.trouble("conflicting-side", s.sideAt)
		case s.k == iSize && s.unit != uSec && !s.whole:
			return r.trouble("fractional-reps", s.item)
		case i == 0:
		case s.slash && sizes[i-1].count > 1:
			t := r.trouble("count-mismatch", sizes[i-1].item)
			t.it.to, t.count, t.sizes = s.to, int(sizes[i-1].count), listLength(sizes[i-1:])
			return t
		case s.k == iSize && s.unit == uNone && !s.failed && s.count == 0 && sizes[i-1].unit == uSec && sizes[i-1].count > 1 && s.milli <= bareReps*1000 && sizes[i-1].milli >= 2*s.milli: // 3x30s deep hang, 5
			return r.trouble("missing-unit", s.item)
		case i == 1 && s.k == iSize && s.count == 0 && s.correct.k != iWhich && sizes[0].count > 1 && sizes[0].k == iSize && r.punct(int(s.from)-1, '('): // 3x30s deep hang (60s)
			return r.trouble("in-brackets", s.item)
		case len(sizes) == 2 && s.slash && e.outer > 2 && !e.circuit && !e.outerAt.round && e.outerAt.from >= s.to && r.rungOf(e).unit == training.Timed && s.milli < sizes[0].milli: // 20/10 x 8
			t := r.trouble("count-mismatch", sizes[0].item)
			t.it.to, t.count, t.sizes = s.to, int(e.outer), 2
			return t
		case sizes[i-1].count > 0 && sizes[i-1].unit == uNone && s.unit != uNone && sizes[i-1].to == s.from && s.k == iSize:
			return r.trouble("two-sizes", item{from: e.nameFrom, to: e.nameTo})
		case len(sizes) == 2 && s.slash && sizes[0].unit == uNone && s.unit == uSec && sizes[0].milli <= 10_000 && s.milli >= 3*sizes[0].milli && sizes[0].k == iSize && s.k == iSize:
			return r.trouble("ambiguous-list", sizes[0].item)
		}
	}
	return r.missingUnit(e, sizes)
}

// oneOfTwo asks which of two skills that an "or" joins was done.
func (r *reader) oneOfTwo(e *entry) *trouble {
	if !r.is(int(e.nameTo), "or") {
		return nil
	}
	at, next, ok := r.name(int(e.nameTo) + 1)
	if !ok || at >= ladderBase || at == e.rung {
		return nil
	}
	t := r.trouble("ambiguous-skill", item{from: e.nameFrom, to: int32(next)})
	t.names = []string{r.rungOf(e).name, r.p.names.rungs[at].name}
	return t
}

// unsized tells why an entry with a count has no size.
func (r *reader) unsized(e *entry) *trouble {
	if e.pre.has&saidLoad != 0 && e.pre.load.to > e.pre.load.from {
		it := e.pre.load
		for it.from < it.to-1 && !r.has(int(it.from), fKg|fLb) {
			it.from++
		}
		return r.trouble("unit-mismatch", item{from: it.from, to: it.from + 1})
	}
	if e.outer > 0 && !e.outerAt.loud && e.outerAt.to > e.outerAt.from {
		return r.trouble("missing-size", e.outerAt)
	}
	return r.trouble("missing-size", item{from: e.nameFrom, to: e.nameTo})
}

// listLength counts the sizes that slashes join.
func listLength(sizes []size) int {
	n := 1
	for n < len(sizes) && sizes[n].slash {
		n++
	}
	return n
}

// missingUnit finds a bare number that may be seconds as well as reps.
func (r *reader) missingUnit(e *entry, sizes []size) *trouble {
	if !r.rungOf(e).goes {
		return nil
	}
	var bare *size
	for i := range sizes {
		s := &sizes[i]
		if s.k != iSize || s.failed && s.milli == 0 {
			continue
		}
		if s.unit != uNone {
			return nil
		}
		if s.milli > bareReps*1000 && bare == nil {
			bare = s
		}
	}
	if bare == nil {
		return nil
	}
	return r.trouble("missing-unit", bare.item)
}

// From so many sets on, a size of one figure is taken for a slip: 30x3s.
const (
	oddSeconds = 15
	oddReps    = 25
)

// inRange holds sizes against the limits.
func (r *reader) inRange(e *entry, sizes []size) *trouble {
	for i := range sizes {
		s := &sizes[i]
		outer := int64(max(e.outer, 1))
		count := int64(max(s.count, 1)) * outer
		value := s.milli / 1000
		switch {
		case s.k == iWhich:
		case s.k == iFail || s.failed && s.milli == 0:
			if count > maxCount {
				return r.trouble("count-too-large", s.item)
			}
		case s.count == 0 && s.loud, e.outer < 0, value == 0:
			return r.trouble("zero-size", s.item)
		case s.unit == uSec && s.reps == 0 && s.count >= oddSeconds && value < 10, s.unit == uRep && s.count >= oddReps && value < 10:
			return r.trouble("suspicious-order", s.item)
		case count > maxCount:
			return r.trouble("count-too-large", s.item)
		case s.unit == uRep && value > maxReps || int64(s.reps) > maxReps:
			return r.trouble("size-too-large", s.item)
		case s.unit == uSec && value*count*int64(max(s.reps, 1)) > maxWorkS:
			return r.trouble("size-too-large", s.item)
		case s.unit == uSec && r.rungOf(e).unit != training.Timed && s.reps == 0 && value > 300:
			return r.trouble("size-too-large", s.item)
		}
	}
	return nil
}
