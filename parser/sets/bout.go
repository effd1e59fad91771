package sets

// bout is one size of an entry with what was said of it.
type bout struct {
	size
	Span
	sign   rune    // the separator before it, where it is the first of its segment
	ratio  *phrase // n out of m
	failed bool
	none   bool // failed without a size
	of     *nth // the sets that it corrects; nil where it is one of its own
	place  *nth // the sets that it is of, where it stood with its skill and corrects none
	only   bool // says something of those sets, and is no size
	gone   bool // ... and takes them back
	late   bool // the sets that it corrects are named behind it: 24s on the last
	fault  Code
	said   aside
}

// tookAll reports whether a size is so long, of five minutes or more, that without a
// skill it is how long it all took: (27 min).
func (b *bout) tookAll() bool { return b.count == 0 && b.unit == seconds && b.milli >= 300_000 }

// bare reports whether a size is a number with neither a unit nor a count.
func (b *bout) bare() bool { return b.unit == unsaid && b.count == 0 }

// isNumber reports whether a size is a bare number and nothing else: no share of
// tries, no failure.
func (b *bout) isNumber() bool { return b.bare() && b.ratio == nil && !b.failed }

// single reports whether a size is one of its own that nothing counts: no share of
// tries, no failure without a size.
func (b *bout) single() bool { return b.count == 0 && b.of == nil && b.ratio == nil && !b.none }

// asRounds is the count of a size as a count of rounds that stands apart.
func (b *bout) asRounds() *phrase {
	return &phrase{kind: counted, size: size{count: b.count, rounds: true}, from: b.From, to: b.To}
}

// keepUnit gives a bare size the unit of the one it replaces.
func keepUnit(b, was *bout) {
	if b.unit == unsaid && b.ratio == nil {
		b.unit = was.unit
	}
}

// allSingle reports whether there are sizes, and every one is single.
func allSingle(bouts []bout) bool {
	for i := range bouts {
		if !bouts[i].single() {
			return false
		}
	}
	return len(bouts) > 0
}

// suit reports whether sizes are of sets of their own, and all timed or none.
func suit(bouts []bout, timed bool) bool {
	for i := range bouts {
		if b := &bouts[i]; b.of != nil || b.ratio != nil || b.none || timed != (b.unit == seconds) {
			return false
		}
	}
	return len(bouts) > 0
}

// allCorrect reports whether every size corrects sets told before.
func allCorrect(bouts []bout) bool {
	for i := range bouts {
		if bouts[i].of == nil {
			return false
		}
	}
	return true
}

// anyRatio reports whether one of the sizes is n out of m.
func anyRatio(bouts []bout) bool {
	for i := range bouts {
		if bouts[i].ratio != nil {
			return true
		}
	}
	return false
}
