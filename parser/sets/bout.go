package sets

// bout is one size of an entry, with what was said of it.
type bout struct {
	size
	Span
	sign   rune    // the separator before it, if it is the first of its segment; else 0
	ratio  *phrase // n out of m, in place of an amount; nil for none
	failed bool
	none   bool // it failed, and no size was said
	of     *nth // which sets told before it is about; nil if it stands for sets of its own
	place  *nth // which sets it is, said with its skill, so that it corrects none; nil where unsaid
	only   bool // it is no size: it only says something of the sets of
	gone   bool // it is no size: it takes the sets of back
	late   bool // the sets of are named behind it: 24s on the last
	fault  Code // what is wrong with it; "" for nothing
	said   aside
}

// tookAll reports whether a size without a skill is how long everything took:
// it is one time of five minutes or more.
func (b *bout) tookAll() bool { return b.count == 0 && b.unit == seconds && b.milli >= 300_000 }

// bare reports whether a size is a number with neither a unit nor a count.
func (b *bout) bare() bool { return b.unit == unsaid && b.count == 0 }

// isNumber reports whether a size is a bare number: no n out of m, no failure.
func (b *bout) isNumber() bool { return b.bare() && b.ratio == nil && !b.failed }

// single reports whether a size stands for one set of its own: it has no count and
// corrects no other, and is neither n out of m nor a failure without a size.
func (b *bout) single() bool { return b.count == 0 && b.of == nil && b.ratio == nil && !b.none }

// asRounds returns the count of a size as if it were a count of rounds that stands
// apart from sizes.
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

// suit reports whether there are sizes, every one stands for sets of its own,
// and all are of seconds if timed is true, else none.
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
