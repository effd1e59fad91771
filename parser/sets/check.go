package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// check doubts slips in how the sizes are written, before bare sizes get units.
// It reports false where there is a doubt.
func (r *reader) check(e *entry, bouts []bout) bool {
	if e.outer != nil && e.outer.fault != "" {
		r.doubt(e.outer.fault, e.outer.from, e.outer.to)
		return false
	}
	if len(bouts) == 0 {
		return r.unsized(e)
	}
	for i := range bouts {
		if code := r.slipOf(e, bouts, i); code != "" {
			place := r.placeOf(code, bouts, i)
			r.doubt(code, place.From, place.To).Rung = e.rung
			return false
		}
	}
	return r.unitClear(e, bouts) && r.closed(max(e.name.To, bouts[len(bouts)-1].To))
}

// placeOf returns the tokens of the slip that was found at size i.
func (r *reader) placeOf(code Code, bouts []bout, i int) Span {
	place := bouts[i].Span
	switch {
	case code == AmbiguousList:
		place = Span{bouts[0].From, bouts[1].To}
	case code == LeftOver && bouts[i].fault == "": // the number before is what is left over
		place = bouts[i-1].Span
	case bouts[i].fault == "" && (code == BadUnit || code == LetterForDigit):
		place.To++
	}
	return place
}

// closed doubts a plus at the end of the message, behind which something is
// missing.
func (r *reader) closed(end int) bool {
	if !r.t.Is(end, '+') || r.t.Kind(end+1) != text.End {
		return true
	}
	r.doubt(Dangling, end, end+1)
	return false
}

// unsized looks at a skill without sizes. Attempts need none; of any other
// skill it doubts what stands where the size should.
func (r *reader) unsized(e *entry) bool {
	rung := &r.names.Rungs[e.rung]
	if rung.Unit == training.Tried {
		return true
	}
	from, to := e.name.From, e.name.To
	if e.outer != nil && !e.outer.size.loud && !e.circuit {
		from, to = e.outer.from, e.outer.to
	}
	if e.said.load != nil {
		from, to = e.said.load.to-1, e.said.load.to
		r.doubt(UnitMismatch, from, to).Rung = e.rung
		return false
	}
	if r.orName(e) || r.totalled(e) {
		return false
	}
	r.doubt(MissingSize, from, to).Rung = e.rung
	return false
}

// orName doubts which of two skills with an or between them was meant: deep
// hang or mid hang.
func (r *reader) orName(e *entry) bool {
	if !r.is(e.name.From-1, words.Or) {
		return false
	}
	for i, other := range r.entries {
		if i+1 < len(r.entries) && r.entries[i+1] == e && !other.other && other.name.To == e.name.From-1 {
			d := r.doubt(AmbiguousSkill, other.name.From, e.name.To)
			d.Names = []string{r.names.Rungs[other.rung].Name, r.names.Rungs[e.rung].Name}
			return true
		}
	}
	return false
}

// totalled doubts a total that was told in the place of each set's size: 25
// total in 5 sets.
func (r *reader) totalled(e *entry) bool {
	for i := e.name.To; i < e.name.To+4 && e.outer != nil; i++ {
		if r.t.Kind(i) == text.Number && r.is(i+1, words.Total) {
			r.doubt(TotalSize, i, max(e.outer.to, i+1)).Rung = e.rung
			return true
		}
	}
	return false
}
