package parser

// A range, as in 2-3 sets or 20-25s, says what was meant to be done and not what
// was: which number it was must be asked.

// rangeTo returns the upper end of a range whose lower end was read: a hyphen with
// no blanks, or "to", and a larger number. Three numbers or more are a list.
func (r *reader) rangeTo(low quantity) (high quantity, ok bool) {
	at := low.to
	dash := r.punct(at, '-') && r.toks[at].glued && r.toks[at+1].kind == kNum && r.toks[at+1].glued
	if !dash && !(r.is(at, "to") && (r.toks[at+1].kind == kNum || r.has(at+1, fOnes|fTens))) || low.code != 0 {
		return high, false
	}
	high, ok = r.quantity(at + 1)
	switch {
	case !ok || high.code != 0 || high.milli <= low.milli && low.unit == high.unit:
		return high, false
	case low.unit == uNone && high.unit == uSec && r.toks[low.from].n >= r.toks[high.from].n, low.unit != uNone && high.unit != low.unit:
		return high, false
	case r.punct(low.from-1, '-') || r.punct(low.from-1, '/') || r.punct(low.from-1, ',') && r.toks[max(low.from-2, 0)].kind == kNum:
		return high, false
	}
	more := &r.toks[high.to]
	list := more.kind == kPunct && (more.n == '-' || more.n == '/' || more.n == ',' || more.n == '+') && r.toks[high.to+1].kind == kNum
	return high, !list
}

// hoursAt returns the end of a range of hours of the day, 0 where it is none.
func (r *reader) hoursAt(high quantity) int {
	switch {
	case r.is(high.to, "am"), r.is(high.to, "pm"), r.is(high.to, "uhr"), r.is(high.to, "o'clock"):
		return high.to + 1
	case r.has(high.to-1, fHour):
		return high.to
	}
	return 0
}

// spans reports whether what may join the ends of a range stands at token i.
func (r *reader) spans(i int) bool {
	t := &r.toks[i]
	return t.kind == kPunct && t.n == '-' || t.kind == kWord && t.b-t.a == 2
}

// span reads what a range is of.
func (r *reader) span(low quantity) (item, bool) {
	high, ok := r.rangeTo(low)
	if !ok {
		return item{}, false
	}
	if end := r.hoursAt(high); end > 0 { // 6-7pm, 18-19h
		return item{k: iStray, from: int32(low.from), to: int32(end)}, true
	}
	return r.ranged(low.from, high), true
}

// ranged reads on from the upper end of a range that began at token from.
func (r *reader) ranged(from int, high quantity) item {
	it := sized(high)
	if high.unit == uNone {
		if count, ok := r.counted(high.from, high); ok {
			it = count
		}
	}
	it.from, it.code = int32(from), faultRange
	return it
}

// rangeIn finds the range in an item.
func (r *reader) rangeIn(it item) (low, high quantity, ok bool) {
	for i := it.from; i < it.to; i++ {
		if low, ok = r.quantity(int(i)); !ok {
			continue
		}
		if high, ok = r.rangeTo(low); ok {
			return low, high, true
		}
	}
	return low, high, false
}

// ends offers the upper end of a range, the lower, and both as two sets.
func (r *reader) ends(it item) []change {
	low, high, ok := r.rangeIn(it)
	if !ok {
		return nil
	}
	from, to := int32(low.from), int32(high.to)
	lower, upper := r.written(low.from, low.to), r.written(high.from, high.to)
	if _, figures, _ := r.number(high.from); low.unit == uNone { // the unit, with the blank before it
		lower += r.text[r.toks[figures-1].to:r.toks[high.to-1].to]
	}
	out := []change{{from, to, upper}, {from, to, lower}}
	if _, how := r.countWord(high.to); how == 0 && !r.has(low.from-1, fTimes) && !r.has(high.to, fKg|fLb) {
		out = append(out, change{from, to, lower + ", " + upper})
	}
	return out
}
