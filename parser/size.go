package parser

// size reads one size at a number: 3x30s, 3 sets of 30 s, 30s x 3, 5 reps,
// 3x5x10s, or a bare number. A number that counts sets or rounds without a
// size behind it is an iCount.
func (r *reader) size(i int) (item, bool) {
	q, ok := r.quantity(i)
	if !ok {
		return item{}, false
	}
	if r.spans(q.to) {
		if it, ok := r.span(q); ok {
			return it, true
		}
	}
	if q.unit == uNone && q.code == 0 {
		if it, ok := r.counted(i, q); ok {
			return it, true
		}
		if q.words && q.milli == 1000 && !r.nameSoon(q.to) { // "a decent one": no number
			return item{}, false
		}
		if r.strayNoun(q.to) {
			return item{k: iStray, from: int32(i), to: int32(q.to)}, true
		}
	}
	if q.unit == uSec && (r.has(q.to, fActivity) || r.is(q.to, "total") || r.is(q.to, "overall") || r.is(q.to, "late") || r.is(q.to, "early")) { // 10 min warm-up
		return item{k: iStray, from: int32(i), to: int32(q.to + 1)}, true
	}
	if q.unit == uSec && (r.is(i-1, "in") && (q.milli >= 300_000 || r.sized) || r.compared(i)) { // 20 transitions in 1 min
		return item{k: iStray, from: int32(i), to: int32(q.to)}, true
	}
	it := sized(q)
	if q.unit == uRep {
		r.repsOf(&it)
	}
	r.countBehind(&it)
	return it, true
}

// compared reports whether the size at token i is only what another one is held
// against: up from 40s, not 40s.
func (r *reader) compared(i int) bool {
	return r.sized && (r.is(i-1, "not") || r.is(i-1, "from") && (r.is(i-2, "up") || r.is(i-2, "down") || r.is(i-2, "improved")))
}

func sized(q quantity) item {
	it := item{k: iSize, milli: q.milli, unit: q.unit, whole: q.whole, code: q.code, from: int32(q.from), to: int32(q.to)}
	return it
}

// counted reads a count and what it is of.
func (r *reader) counted(i int, q quantity) (item, bool) {
	n := int32(min(q.milli/1000, numCap))
	j, how := r.countWord(q.to)
	if next, ok := r.quantity(q.to + 1); how == 0 && r.has(q.to, fOf) && ok && next.unit == uSec && q.whole && n > 0 && n <= 20 { // 3 of 25s
		j, how = q.to, 's'
	}
	if how == 0 {
		next, ok := r.quantity(q.to)
		timed := ok && next.unit == uSec && next.code == 0 && !r.toks[q.to].glued
		if !timed || n > 20 || q.whole && n == 0 || !q.whole || r.plainList(i) {
			return item{}, false
		}
		it := sized(next)
		it.count, it.from = n, int32(i)
		return it, true
	}
	it := item{k: iCount, n: n, round: how == 'r' || r.is(i-1, "repeated"), loud: how != 'x', from: int32(i), to: int32(j)}
	if !q.whole {
		it.code = faultPartCount
	}
	of := r.skipCountFill(j)
	if (r.punct(j, '(') || r.punct(j, ':') && (how == 's' || i == 0 || r.sepAt(i-1))) && r.circuitIn(j) { // 3x(30s deep hang + 20s support)
		it.round = true
	}
	if sub, ok := r.quantity(of); ok && !r.dayAt(of) && !(how == 'r' && r.punct(j, ':')) {
		it = r.countedSize(it, sub)
	} else if r.has(of, fFail) {
		it = item{k: iFail, n: n, from: int32(i), to: int32(of + 1)}
	}
	if n == 0 && q.whole && how != 0 {
		it.code = faultNothing
	}
	return it, true
}

// partOfCount reads how many of the sets that were meant: 2/3 sets, 2 of 3 sets.
func (r *reader) partOfCount(i int) (item, bool) {
	if r.toks[i].kind != kNum || !r.has(i+3, fSet|fRound) || r.toks[i+2].kind != kNum || !r.punct(i+1, '/') && !r.has(i+1, fOf) {
		return item{}, false
	}
	if r.punct(i+4, ':') {
		return item{k: iFill, from: int32(i), to: int32(i + 4)}, true
	}
	return r.counted(i, quantity{milli: int64(r.toks[i].n) * 1000, whole: true, from: i, to: i + 3})
}

// nameSoon reports whether a name or a part of one follows, behind filling.
func (r *reader) nameSoon(i int) bool {
	for step := 0; step < 4 && r.toks[i].kind == kWord; step++ {
		if _, _, ok := r.name(i); ok || r.partOfAName(i) && r.toks[i].f == 0 {
			return true
		}
		if r.toks[i].f&(fFill|fOf) == 0 {
			return r.nearName(i)
		}
		i++
	}
	return false
}

// circuitIn reports whether the bracket at token i holds several skills.
func (r *reader) circuitIn(i int) bool {
	names := 0
	for j := i + 1; j < i+40 && j < len(r.toks)-1 && !r.punct(j, ')') && !r.punct(j, '.') && !r.punct(j, ';') && r.toks[j].kind != kLine && !r.has(j, fSet|fRound); j++ {
		if _, next, ok := r.name(j); ok {
			names++
			j = next - 1
		}
	}
	return names > 1
}

// plainList reports whether the number before token i was bare as well: then
// this one is an item of a list, not a count.
func (r *reader) plainList(i int) bool { return i > 0 && r.toks[i-1].kind == kNum }

// countWord reads what makes a number a count: x, sets, rounds, times, lots.
// how is 'x', 's' or 'r', 0 if it is none.
func (r *reader) countWord(i int) (next int, how rune) {
	if t := &r.toks[i]; t.f&fTimes != 0 && r.toks[i+1].kind == kNum { // 3x30: nearly all
		return i + 1, 'x'
	}
	i = r.hyphenTo(i)
	switch {
	case r.has(i, fRound):
		return i + 1, 'r'
	case r.has(i, fSet):
		if r.is(i+1, "x") {
			return i + 2, 's'
		}
		return i + 1, 's'
	case r.has(i, fTimes):
		if r.is(i+1, "through") || r.is(i+1, "round") || r.is(i+1, "over") {
			return i + 2, 'r'
		}
		if r.has(i+1, fTimes) {
			return i + 2, 'x'
		}
		return i + 1, 'x'
	case r.goesOf(i):
		return i + 1, 's'
	case r.is(i, "working") || r.is(i, "work") || r.has(i, fFill) && r.has(i+1, fSet) && !r.has(i, fOf):
		if r.has(i+1, fSet) {
			return i + 2, 's'
		}
	}
	return i, 0
}

// goesOf reports whether goes, holds or efforts of some seconds are counted: 3
// goes of 30s.
func (r *reader) goesOf(i int) bool {
	if !r.has(i+1, fOf) || !r.has(i, fTry) && !r.is(i, "holds") && !r.is(i, "hangs") && !r.is(i, "efforts") && !r.is(i, "repeats") {
		return false
	}
	q, ok := r.quantity(i + 2)
	return ok && q.unit == uSec
}

// skipCountFill passes what may stand between a count and its size.
func (r *reader) skipCountFill(i int) int {
	for step := 0; step < 3; step++ {
		t := &r.toks[i]
		switch {
		case t.kind == kNum:
			return i
		case r.has(i, fOf), r.is(i, "at"), r.is(i, "for"), r.is(i, "x"):
			i++
		case t.kind == kPunct && (t.n == '@' || t.n == ':' || t.n == '(' || t.n == '=') && r.toks[i+1].kind == kNum:
			i++
		default:
			return i
		}
	}
	return i
}

// countedSize joins a count with the size behind it, and with a second x:
// 3 x 5 x 10s is three sets of five reps of ten seconds.
func (r *reader) countedSize(count item, q quantity) item {
	it := sized(q)
	if r.has(q.to, fOn) { // 4 rounds of 30s on, 30s off
		if on, ok := r.onOff(q.from); ok {
			on.count, on.from, on.loud = count.n, count.from, count.loud
			return on
		}
	}
	it.count, it.from, it.loud, it.round = count.n, count.from, count.loud, count.round
	if count.code != 0 {
		it.code = count.code
	}
	if r.spans(q.to) {
		if high, ok := r.rangeTo(q); ok { // 3x20-25s
			it.milli, it.unit, it.code, it.to = high.milli, high.unit, faultRange, int32(high.to)
			return it
		}
	}
	if q.unit == uNone && q.whole {
		if j, how := r.countWord(q.to); how == 'x' {
			if sub, ok := r.quantity(j); ok && sub.unit == uSec {
				it.reps, it.milli, it.unit, it.to = int32(min(q.milli/1000, numCap)), sub.milli, uSec, int32(sub.to)
				return it
			}
		}
	}
	if q.unit == uRep {
		r.repsOf(&it)
	}
	if q.unit == uNone && q.whole && r.has(q.to, fSet) && !count.loud { // 6x4 sets: the sets stand behind
		it.count, it.milli, it.to = int32(min(q.milli/1000, numCap)), int64(count.n)*1000, it.to+1
		return it
	}
	if q.unit == uNone && r.has(q.to, fKg|fLb) && r.toks[q.to].glued && q.code == 0 { // 3x30kg
		it.code, it.to = faultWeight, it.to+1
	}
	if r.punct(int(it.to), ')') && it.from < it.to && r.openBefore(it) {
		it.to++
	}
	return it
}

// openBefore reports whether a bracket opened inside the item.
func (r *reader) openBefore(it item) bool {
	for j := it.from; j < it.to; j++ {
		if r.punct(int(j), '(') {
			return true
		}
	}
	return false
}

// repsOf reads the seconds of each rep: 5 reps of 3s, 5 reps x 3s.
func (r *reader) repsOf(it *item) {
	j := int(it.to)
	if !r.has(j, fOf|fTimes) && !r.is(j, "at") && !r.punct(j, '@') {
		return
	}
	if q, ok := r.quantity(j + 1); ok && q.unit == uSec {
		it.reps, it.milli, it.unit, it.to = int32(min(it.milli/1000, numCap)), q.milli, uSec, int32(q.to)
	}
}

// countBehind reads a count behind its size: 30s x 3, 5 reps for 3 sets, 30s
// three times, 30s twice.
func (r *reader) countBehind(it *item) {
	j := int(it.to)
	if r.is(j, "each") && r.has(j+1, fTimes) {
		j++
	}
	if r.has(j, fTwice) {
		it.count, it.to = r.toks[j].n, int32(j+1)
		return
	}
	marked := r.has(j, fTimes) || r.is(j, "for")
	k := j
	if marked {
		k++
	}
	n, next, ok := r.number(k)
	if !ok || !n.whole {
		return
	}
	if high, ok := r.rangeTo(quantity{milli: n.milli, from: k, to: next}); ok && high.unit == uNone { // 30s x 2-3
		it.code, it.to = faultRange, int32(high.to)
		return
	}
	end, how := r.countWord(next)
	switch {
	case how == 's' || how == 'r':
	case r.has(j, fTimes) && how == 0 && !r.unitAt(r.hyphenTo(next)):
		end = next
	case !marked && how == 'x' && r.toks[end-1].b-r.toks[end-1].a > 1:
	default:
		return
	}
	if sub, ok := r.quantity(r.skipCountFill(end)); ok && how != 0 && sub.unit != uNone {
		return // the count belongs to the size behind it
	}
	it.count, it.to, it.loud = int32(n.int()), int32(end), true
	if how == 'r' {
		it.m = roundsBehind
	}
}

// roundsBehind is the m of a size whose count, of rounds, stood behind it.
const roundsBehind = 1

// times reads a count that stands alone: x3, twice, times three.
func (r *reader) times(i int) (item, bool) {
	if r.has(i, fTwice) {
		return item{k: iCount, n: r.toks[i].n, from: int32(i), to: int32(i + 1)}, true
	}
	if it, ok := r.load(i + 1); ok { // 3x6x10kg
		return it, true
	}
	n, next, ok := r.number(i + 1)
	if !ok || !n.whole {
		return item{}, false
	}
	it := item{k: iCount, n: int32(n.int()), from: int32(i), to: int32(next)}
	if end, how := r.countWord(next); how != 0 {
		it.to, it.round = int32(end), how == 'r'
	}
	return it, true
}

// strayNoun reports whether a bare number before token i counts something that
// no size is counted in: "3 seats", "5 likes", "7 km".
func (r *reader) strayNoun(i int) bool {
	t := &r.toks[i]
	switch {
	case t.kind == kPunct:
		return t.n == '%' || t.n == '$' || t.n == '&' && t.glued
	case t.kind != kWord || t.f&fRemark != 0:
		return false
	case r.ordinalTail(i) > i, t.f&fDays != 0, r.is(i, "years") || r.is(i, "months") || r.is(i, "yrs"), t.f&fDayPart != 0 && (r.is(i, "am") || r.is(i, "pm")):
		return true
	case t.f == 0 && t.m == 0:
		if _, _, named := r.name(i); named {
			return false
		}
		_, part := r.partOfName(i)
		return !part && !otherWork[string(r.word(i))] && !r.nearName(i)
	}
	return false
}
