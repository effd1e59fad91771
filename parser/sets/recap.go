package sets

// sumsAnew reports whether a clause that opens with so tells all sets of the
// only skill once more, and nothing else: rows 4x10. The first was warm-up. So
// 3x10. Unless it opens a sentence, it must tell as many sets as before, and
// more than one: 5, 5, 5, so 3x5.
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

// sums are the kinds of phrases that such a clause may hold.
var sums = kindsOf(filler, sized, rested, effort)

// sumAnew puts the sets that such a clause tells in the place of the entry's. A
// single number behind several sizes is doubted, since it may be any of them.
func (a *assembler) sumAnew(e *entry, p *part) {
	first := &p.bouts[0]
	lists := a.at+1 < len(a.segments) && a.segments[a.at+1].sizes > 0 && !a.segments[a.at+1].opens()
	if a.strays = nil; len(p.bouts) == 1 && first.count == 0 && !lists { // the strays led up to this size
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
