package parser

import "rungbook/training"

// sides is what iSide.n points into.
var sides = [...]training.Side{training.Left, training.Right, training.Each}

// signed reads what an @ or a plus makes of a number: @8, @7/8/9, @5kg, @hard,
// +5kg. A plus with blanks on both sides, or on none, is a separator.
func (r *reader) signed(i int) (item, bool) {
	j := i + 1
	if r.toks[i].n == '@' && r.has(j+1, fRIR|fRep|fLead|fFill) { // @ 2 RIR
		if it, ok := r.numberedEffort(j); ok && it.m == 1 {
			it.from = int32(i)
			return it, true
		}
	}
	if end := r.tempo(j); end > j && r.toks[i].n == '@' {
		return item{k: iFill, from: int32(i), to: int32(end)}, true
	}
	if r.has(j, fEffort|fRIR) { // @RPE 8
		it, ok := r.effort(j)
		it.from = int32(i)
		if ok {
			return it, true
		}
	}
	if it, ok := r.load(j); ok && (r.toks[i].n == '@' || !r.toks[i].glued || !r.toks[j].glued) {
		it.from = int32(i)
		return it, true
	}
	if r.toks[i].n == '+' {
		return r.plus(i)
	}
	if r.toks[j].kind == kWord && r.toks[j].glued && r.has(j, fLevel) {
		return item{k: iEffort, code: faultEffortWord, from: int32(i), to: int32(j + 1)}, true
	}
	q, ok := r.quantity(j)
	if !ok || q.unit != uNone || r.has(q.to, fTimes|fSet) {
		return item{}, false
	}
	it, ok := r.level(i, j)
	it.loud = true
	return it, ok
}

// plus reads +5, a load that lacks its unit.
func (r *reader) plus(i int) (item, bool) {
	j := i + 1
	n, next, ok := r.number(j)
	if !ok || r.toks[i].glued && !r.punct(i-1, '(') || !r.toks[j].glued || n.words {
		return item{}, false
	}
	if !r.sepAt(next) && !(r.has(next, fOn|fAt|fWith)) {
		return item{}, false
	}
	return item{k: iLoad, code: faultLoadUnit, n: int32(n.milli / 100), from: int32(i), to: int32(next)}, true
}

// level reads the number of an effort at token j: 8, 7.5, 8/10, 8 out of 10.
func (r *reader) level(from, j int) (item, bool) {
	n, next, ok := r.number(j)
	if !ok {
		return item{}, false
	}
	it := item{k: iEffort, n: int32(min(n.milli/100, numCap)), from: int32(from), to: int32(next)}
	if r.levels(&it, j) {
		return it, true
	}
	if high, ok := r.rangeTo(quantity{milli: n.milli, from: j, to: next}); ok && high.unit == uNone && high.milli <= 10_000 { // 7-8: the harder one
		j, next = high.from, high.to
		it.n, it.to = int32(high.milli/100), int32(next)
	}
	if r.slashed(j) && r.toks[j+2].n == 10 {
		it.to = int32(j + 3)
	} else if r.punct(next, '/') && r.toks[next+1].kind == kNum && r.toks[next+1].n == 10 && !r.punct(next+2, '/') {
		it.to = int32(next + 2)
	} else if to, over := r.outOfTen(next); over == 10 {
		it.to = int32(to)
	} else if r.punct(next, '+') && r.toks[next].glued && r.sepAt(next+1) {
		it.to++
	}
	return it, true
}

// levels reads a list of efforts, one a set: 7/8/9. They are packed by bytes.
func (r *reader) levels(it *item, j int) bool {
	if !r.slashed(j) || r.toks[j+2].n == 10 && !r.punct(j+3, '/') {
		return false
	}
	n, packed := 0, int64(0)
	for at := j; n < 8; at += 2 {
		if r.toks[at].kind != kNum || r.toks[at].n > 10 {
			return false
		}
		packed |= int64(r.toks[at].n) << (8 * n)
		n++
		it.to = int32(at + 1)
		if !r.punct(at+1, '/') || !r.toks[at+1].glued || r.toks[at+2].kind != kNum {
			break
		}
	}
	it.reps, it.milli = int32(n), packed
	return true
}

// addLevel makes a list of an effort and one more: @6 @7 @9.
func (it *item) addLevel(more *item) {
	if it.code != 0 || more.code != 0 || it.m != 0 || more.reps != 0 || more.n > 100 || it.n > 100 || it.reps >= 8 {
		*it = *more
		return
	}
	if it.reps == 0 {
		it.reps, it.milli = 1, int64(it.n+5)/10
	}
	it.milli |= int64(more.n+5) / 10 << (8 * it.reps)
	it.reps, it.to = it.reps+1, more.to
}

// outOfTen reads "out of 10" or "of 10" at token i.
func (r *reader) outOfTen(i int) (next int, over int) {
	j := i
	if r.is(j, "out") {
		j++
	}
	if !r.has(j, fOf) {
		return i, 0
	}
	n, next, ok := r.number(j + 1)
	if !ok || !n.whole {
		return i, 0
	}
	return next, n.int()
}

// numberedEffort reads an effort that begins with its number: 8/10 effort, 2
// RIR, 2 reps in reserve, 2 left in the tank.
func (r *reader) numberedEffort(i int) (item, bool) {
	n, next, ok := r.number(i)
	if !ok {
		return item{}, false
	}
	j := next
	if high, ok := r.rangeTo(quantity{milli: n.milli, from: i, to: next}); ok && high.unit != uSec { // 1-2 RIR: the harder one
		j = high.to
		if high.unit == uRep {
			j--
		}
	}
	if r.has(j, fRep) {
		if j++; r.is(j, "left") && r.sepAt(j+1) && r.has(i-1, fWith) { // with 3 reps left
			return item{k: iEffort, n: int32(100 - min(n.milli/100, 1000)), m: 1, loud: true, from: int32(i), to: int32(j + 1)}, true
		}
	}
	if j2 := r.reserve(j); j2 > j {
		return item{k: iEffort, n: int32(100 - min(n.milli/100, 1000)), m: 1, loud: true, from: int32(i), to: int32(j2)}, true
	}
	it, ok := r.level(i, i)
	if !ok {
		return item{}, false
	}
	if r.has(int(it.to), fEffort) {
		it.to++
		it.loud = true
		return it, true
	}
	return item{}, false
}

// reserve passes "RIR", "in reserve", "left in the tank".
func (r *reader) reserve(i int) int {
	j := i
	for step := 0; step < 5; step++ {
		switch {
		case r.has(j, fRIR):
			return j + 1
		case r.is(j, "in"), r.is(j, "the"), r.is(j, "left"), r.is(j, "more"), r.is(j, "still"):
			j++
		}
	}
	return i
}

// effort reads an effort that begins with its word: RPE 8, RIR 2, effort: 8 out
// of 10, felt like an 8, hard 8/10, rpe 7/8/9.
func (r *reader) effort(i int) (item, bool) {
	j := i
	for step := 0; step < 5 && r.has(j, fFeel|fFill|fWith) && !r.has(j, fEffort|fRIR); step++ {
		j++
	}
	marked := r.has(j, fEffort|fRIR)
	reserve := r.has(j, fRIR)
	if marked {
		j++
	} else if !r.has(i, fFeel) {
		return item{}, false
	}
	for r.punct(j, ':') || r.punct(j, '=') || r.punct(j, '~') || r.has(j, fOf) || r.is(j, "was") || r.is(j, "is") || r.is(j, "a") || r.is(j, "an") || r.is(j, "about") || r.is(j, "like") || r.punct(j, '@') {
		j++
	}
	q, ok := r.quantity(j)
	if !ok || q.unit != uNone {
		if marked && !reserve && r.has(j, fLevel) && r.sepAt(j+1) {
			return item{k: iEffort, code: faultEffortWord, loud: true, from: int32(i), to: int32(j + 1)}, true
		}
		return item{}, false
	}
	it, ok := r.level(i, j)
	if !ok || !marked && int(it.to) == q.to && !r.sepAt(q.to) {
		return item{}, false
	}
	if !marked && (int(it.to) == q.to || it.n > 100) { // "felt like 8": only a scale or the end makes it one
		if it.n < 50 || it.n > 100 || r.toks[q.to].kind == kPunct && r.punct(q.to, '/') {
			return item{}, false
		}
	}
	it.loud = true
	if reserve {
		it.n, it.m = 100-int32(min(q.milli/100, 1000)), 1
	}
	return it, true
}

// load reads a weight: 5kg, 10 lb, 12.5 kg vest, 10kg counterweight.
func (r *reader) load(i int) (item, bool) {
	n, next, ok := r.number(i)
	if !ok {
		return item{}, false
	}
	j := r.hyphenTo(next)
	it := item{k: iLoad, from: int32(i), to: int32(j + 1)}
	if high, ok := r.rangeTo(quantity{milli: n.milli, from: i, to: next}); ok && r.has(high.to, fKg|fLb) {
		it.code, it.to = faultRange, int32(high.to+1)
		return it, true
	}
	switch {
	case r.has(j, fKg):
		it.n = int32((min(n.milli, numCap) + 50) / 100)
	case r.has(j, fLb) || r.punct(j, '#') && r.toks[j].glued:
		it.n = int32((min(n.milli, numCap)*45359237/100_000_000 + 50) / 100)
	default:
		return item{}, false
	}
	if r.has(j+1, fBody) && it.n >= 400 { // what somebody weighs
		return item{k: iFill, from: int32(i), to: int32(j + 2)}, true
	}
	for step := 0; step < 4; step++ {
		j = int(it.to)
		switch {
		case r.has(j, fCounter), r.is(j, "off"), r.is(j, "less"), r.has(j, fHelped):
			it.n, it.to = -abs(it.n), it.to+1
		case r.has(j, fBand):
			it.n, it.m, it.to = -abs(it.n), 1, it.to+1
		case r.is(j, "of") && r.has(j+1, fCounter|fHelped|fBand), r.has(j, fLoad), r.is(j, "on"), r.is(j, "plate"), r.is(j, "in") && r.has(j+1, fLoad):
			it.to++
		}
	}
	return it, true
}

func abs(n int32) int32 {
	if n < 0 {
		return -n
	}
	return n
}

// wordLoad reads a load that begins with a word: weighted +5kg, bw, vest 5 kg,
// counterweight 10kg.
func (r *reader) wordLoad(i int) (item, bool) {
	j, counter, body := i, false, false
	for step := 0; step < 5; step++ {
		switch {
		case r.has(j, fCounter) && !r.has(j, fHelped):
			counter = true
			j++
		case r.has(j, fBody):
			body = true
			j++
		case r.has(j, fLoad|fWith), r.is(j, "a"), r.is(j, "of"), j > i && (r.punct(j, '+') || r.punct(j, ':') || r.punct(j, '(')):
			j++
		}
	}
	if it, ok := r.load(j); ok {
		if body && it.n >= 400 && !r.punct(j-1, '+') { // what somebody weighs
			return item{k: iFill, from: int32(i), to: it.to}, true
		}
		if counter {
			it.n = -abs(it.n)
		}
		it.from = int32(i)
		if r.punct(int(it.to), ')') && r.openBefore(it) {
			it.to++
		}
		return it, true
	}
	if n, next, ok := r.number(j); ok && body && r.punct(j-1, '+') && (r.sepAt(next) || r.punct(next, '@')) { // bw+5
		if !r.deep {
			r.guess("unit", "kilograms")
		}
		return item{k: iLoad, n: int32(min(n.milli/100, numCap)), from: int32(i), to: int32(next)}, true
	}
	if body {
		end := i
		for r.has(end, fBody) {
			end++
		}
		if end > i {
			return item{k: iFill, from: int32(i), to: int32(end)}, true
		}
	}
	return item{}, false
}

// outOf reads n/m and n out of m: attempts that came off, or an effort.
func (r *reader) outOf(i int) (item, bool) {
	if r.punct(i+1, '-') && r.toks[i+1].glued && r.slashed(i+2) && r.toks[i+4].n == 10 && r.toks[i].n < r.toks[i+2].n { // 7-8/10: the harder one
		it, ok := r.outOf(i + 2)
		it.from = int32(i)
		return it, ok
	}
	if r.slashed(i) && !(r.punct(i+3, '/') && r.toks[i+3].glued) && !(i > 0 && r.punct(i-1, '/') && r.toks[i].glued) && !r.glueUnit(i+3) {
		return item{k: iFrac, n: r.toks[i].n, m: r.toks[i+2].n, from: int32(i), to: int32(i + 3)}, true
	}
	n, next, ok := r.number(i)
	if !ok || !n.whole {
		return item{}, false
	}
	if to, over := r.outOfTen(next); over > 0 && !r.has(to, fSec|fMin|fRep) {
		return item{k: iOf, n: int32(n.int()), m: int32(over), from: int32(i), to: int32(to)}, true
	}
	if r.is(next, "for") { // muscle-up 1 for 4, 0 for 3 on muscle-ups
		if m, to, ok := r.number(next + 1); ok && m.whole && (r.behindTried() || r.beforeTried(to)) && !r.has(to, fSec|fMin|fHour|fRep|fKg|fLb) {
			return item{k: iFrac, n: int32(n.int()), m: int32(m.int()), from: int32(i), to: int32(to)}, true
		}
	}
	return item{}, false
}

// beforeTried reports whether "on" and the name of what is tried stand at token i.
func (r *reader) beforeTried(i int) bool {
	if !r.is(i, "on") && !r.is(i, "at") {
		return false
	}
	if i++; r.is(i, "the") || r.is(i, "my") {
		i++
	}
	at, _, ok := r.name(i)
	if ok && at >= ladderBase {
		ladder := &r.p.programme.Ladders[at-ladderBase]
		return ladder.Tries
	}
	return ok && r.p.names.rungs[at].unit == training.Tried
}

// behindTried reports whether what was read last is the name of what is tried.
func (r *reader) behindTried() bool {
	n := len(r.items)
	if n > 1 && r.items[n-1].k == iTry {
		n--
	}
	return n > 0 && r.items[n-1].k == iName && r.p.names.rungs[r.items[n-1].n].unit == training.Tried
}

// glueUnit reports whether a unit follows the number before token i.
func (r *reader) glueUnit(i int) bool {
	t := &r.toks[i]
	return r.has(i, fSec|fMin|fHour|fRep|fKg|fLb) || t.kind == kPunct && t.glued && (t.n == '"' || t.n == '\'' || t.n == ':') || t.kind == kWord && t.glued || t.kind == kPunct && t.n == '.' && r.toks[i+1].glued && r.toks[i+1].kind == kNum
}
