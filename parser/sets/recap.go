package sets

// sumsAnew reports whether a sentence that opens with so is nothing but the
// sets of the one skill told, as they were after all: rows 4x10. The first was
// warm-up. So 3x10. Within a sentence they must be as many: 5, 5, 5, so 3x5.
func (a *assembler) sumsAnew(p *part) bool {
	e, first := a.open, a.phrases[p.segment.from].from
	if !e.hasSizes() || len(a.entries) > 1 || string(a.t.Word(first)) != "so" || !a.fits(p, e) {
		return false
	}
	sets := 0
	for at := a.at; at < len(a.segments) && (at == a.at || !a.segments[at].opens()); at++ {
		for i := a.segments[at].from; i < a.segments[at].to; i++ {
			switch q := &a.phrases[i]; {
			case !sums.has(q.kind) || a.addsAt(q):
				return false
			case q.kind == sized:
				sets += max(q.size.count, 1)
			}
		}
	}
	return sentenceEnds(p.sign) || sets > 1 && sets == e.told()
}

// sums are what such a sentence holds.
var sums = kindsOf(filler, sized, rested, effort)

// sumAnew puts the sets that a sentence tells anew in the place of an entry's.
// Of one number behind several sizes it can't be told which it is.
func (a *assembler) sumAnew(e *entry, p *part) {
	first := &p.bouts[0]
	lists := a.at+1 < len(a.segments) && a.segments[a.at+1].sizes > 0 && !a.segments[a.at+1].opens()
	if a.strays = nil; len(p.bouts) == 1 && first.count == 0 && !lists { // those led to it
		if len(e.bouts) > 1 {
			a.doubt(LeftOver, first.From, first.To)
		}
		a.replaceSizes(e, p)
		return
	}
	keepUnit(first, &e.bouts[0])
	e.bouts, e.outer = nil, nil
	a.add(e, p.bouts, p)
}
