package sets

import "rungbook/training"

// list returns the entry's sizes, with the sizes that ratios mean in their
// place, and without a count that only says how many sizes are told one by one.
func (r *reader) list(e *entry) ([]bout, bool) {
	bouts := r.openRatios(e)
	if placed, ok := byPlace(bouts); ok {
		return placed, true
	}
	bouts = r.withoutTotal(e, bouts)
	inTurn(bouts)
	if r.toldAgain(bouts) || r.toldOneByOne(e, bouts) {
		bouts[1].said.fill(bouts[0].said)
		for i := range bouts[1:] {
			keepUnit(&bouts[i+1], &bouts[0])
		}
		return bouts[1:], true
	}
	for i := range bouts {
		n := slashed(bouts[i:])
		if i == 0 && r.countsAll(bouts) {
			n = len(bouts)
		}
		switch {
		case bouts[i].count <= 1 || n == 1:
		case n == bouts[i].count:
			bouts[i].count, bouts[i].loud = 0, false
		default:
			d := r.doubt(CountMismatch, bouts[i].From, bouts[i+n-1].To)
			d.Count, d.Sizes = bouts[i].count, n
			return nil, false
		}
	}
	return bouts, true
}

// countsAll reports whether the first size's count is of all of the list, which
// a bracket or a colon opens, or that goes on with commas alone: 3 sets (7, 6,
// 5); 3 sets: 7, 6, 5.
func (r *reader) countsAll(bouts []bout) bool {
	first := &bouts[0]
	if first.count == len(bouts) && r.opensWithin(phrase{from: first.From, to: first.To}) {
		return true
	}
	if len(bouts) < 2 || !first.loud || first.behind || !allSingle(bouts[1:]) {
		return false
	}
	commas := len(bouts) > 2 // 4 sets 12, 12, 12, 14
	for i := range bouts[1:] {
		commas = commas && bouts[i+1].sign == ',' && bouts[i+1].From == bouts[i].To+1
	}
	return commas || first.count == len(bouts) && r.colonWithin(first.Span)
}

// colonWithin reports whether a colon stands between a count and its size.
func (r *reader) colonWithin(s Span) bool {
	for i := s.From; i < s.To; i++ {
		if r.t.Is(i, ':') && !r.t.GluedSign(i, ':') {
			return true
		}
	}
	return false
}

// slashed counts the sizes at the front that slashes join.
func slashed(bouts []bout) int {
	n := 1
	for n < len(bouts) && bouts[n].sign == '/' {
		n++
	}
	return n
}

// toldAgain reports whether the sets of a count are told one by one behind it, in
// brackets or behind a colon: 3x30s deep hang (30, 28, 25).
func (r *reader) toldAgain(bouts []bout) bool {
	if len(bouts) < 3 || bouts[0].count != len(bouts)-1 || !allSingle(bouts[1:]) {
		return false
	}
	c := bouts[1].sign
	return c == '(' || c == '[' || c == ':' || c == '='
}

// toldOneByOne reports whether a bare number before the skill says how many
// sets there were, and what stands behind it tells each: 3 deep hangs, 30 29
// and 27 seconds.
func (r *reader) toldOneByOne(e *entry, bouts []bout) bool {
	if len(bouts) < 2 || e.copied || !bouts[0].single() || bouts[0].To > e.name.From {
		return false
	}
	timed := r.names.Rungs[e.rung].Unit == training.Timed
	inTime := bouts[1].unit == seconds || bouts[len(bouts)-1].unit == seconds
	return timed && bouts[0].milli == int64(len(bouts)-1)*1000 && inTime
}

// byPlace puts sizes in order if every one says which sets it is of: the third
// 4, the first two 6. It reports false if one does not, or a set is left out.
func byPlace(bouts []bout) ([]bout, bool) {
	all := 0
	for i := range bouts {
		b := &bouts[i]
		if b.place == nil && b.of != nil {
			b.place = b.of
		}
		corrects := b.of != nil && b.of.first == 0 && !b.late // told by a correction, or apart
		if b.place == nil || corrects || b.only || b.milli == 0 || b.count > 0 {
			return nil, false
		}
		all += b.place.count
	}
	if len(bouts) < 2 || all > maxSets {
		return nil, false
	}
	placed, filled := make([]bout, all), make([]bool, all)
	for i := range bouts {
		from, n := bouts[i].place.first-1, bouts[i].place.count
		if from < 0 {
			from = all - n
		}
		for at := from; at < from+n; at++ {
			if at >= all || filled[at] {
				return nil, false
			}
			placed[at], filled[at] = bouts[i], true
			placed[at].of = nil
		}
	}
	return placed, true
}

// inTurn makes sizes of their own of those that name the set that comes next,
// as in set 1 30s, set 2 28s: they correct nothing.
func inTurn(bouts []bout) {
	told := 0
	for i := range bouts {
		b := &bouts[i]
		if b.sizesOneSet() {
			next := b.of.first == told+1
			last := b.of.first == 0 && b.late && i > 1 && told == i && !b.none && bouts[i-1].sign != '/' // 20s, 20s, 14s on the last one
			if next || last {
				b.of = nil
			}
		}
		if b.of == nil {
			told += max(b.count, 1)
		}
	}
}

// sizesOneSet reports whether a size is of one of the sets told, named by its
// place.
func (b *bout) sizesOneSet() bool {
	placed := b.of != nil && b.of.like == 0
	return placed && !b.only && (b.milli > 0 || b.failed) && b.of.count == 1 && b.count == 0
}

// openRatios turns 8/10 behind other sizes into an effort, else a ratio into a
// list of two.
func (r *reader) openRatios(e *entry) []bout {
	if r.names.Rungs[e.rung].Unit == training.Tried || !anyRatio(e.bouts) {
		return e.bouts
	}
	out := make([]bout, 0, len(e.bouts)+2)
	for _, b := range e.bouts {
		switch {
		case b.ratio == nil:
			out = append(out, b)
		case b.ratio.m == 10 && len(out) > 0 && b.of == nil:
			out[len(out)-1].said.say(&phrase{kind: effort, levels: []int{b.ratio.n * 10}, from: b.From, to: b.To})
		case b.ratio.setsOf(): // one set of 7, one of 5
			b.count = 0
			if b.ratio.n > 1 {
				b.count = b.ratio.n
			}
			b.amount, b.ratio = whole(b.ratio.m), nil
			out = append(out, b)
		case b.ratio.word == "/":
			first, second := b, b
			first.ratio, second.ratio = nil, nil
			first.amount, second.amount = whole(b.ratio.n), whole(b.ratio.m)
			first.To, second.From, second.sign = b.From+1, b.To-1, '/'
			out = append(out, first, second)
		default:
			r.doubt(LeftOver, b.From, b.To)
		}
	}
	return out
}

// setsOf reports whether a ratio is a count of sets and their size: two of 20;
// not four of 5, nor two out of 20.
func (p *phrase) setsOf() bool {
	return p.n == 1 && p.word != "/" || p.word == byOf && p.n <= 6 && p.m >= 6 && p.m >= 2*p.n
}

// whole is a bare number without a fraction.
func whole(n int) amount { return amount{milli: int64(n) * 1000, whole: true} }
