package parser

// What came of a set: which of those before is meant, that it failed, how many
// attempts came off.

// which reads the set that a correction is about: last set 24s, last two 25,
// first one 35.
func (r *reader) which(i int) (item, bool) {
	it := item{k: iWhich, n: r.toks[i].n, m: 1, from: int32(i)}
	if r.has(i, fSet|fRound) {
		return r.numberedSet(it)
	}
	first := i + 1
	switch {
	case r.has(i, fLast):
		it.n = 99
	case r.toks[i].kind == kNum && r.toks[i].n <= 9 && r.ordinalTail(first) > first: // 3rd
		first++
	case !r.has(i, fOrdinal):
		return item{}, false
	}
	j := first
	if n, next, ok := r.number(j); ok && n.whole && it.n == 99 && n.int() <= 9 && !r.has(next, fSec|fMin|fRep|fDays) && r.toks[next].kind != kPunct {
		if !r.is(j, "one") {
			it.m = int32(n.int())
		}
		j = next
	}
	if r.has(j, fSet|fRep|fTry) || r.is(j, "one") || r.is(j, "ones") || r.has(j, fRound) {
		j++
	} else if j == first && it.n < 99 && r.is(i-1, "the") && r.is(i-2, "on") && r.sepAt(j) {
	} else if j == first && it.n == 99 && (r.has(j, fFail) || r.is(i-1, "the") && (r.sepAt(j) || r.is(j, "at"))) {
	} else if j == first && (r.has(j, fWith) && r.has(j+1, fBand|fToes|fBandKind|fPartner|fFill) || r.punct(j, '@') || r.punct(j, '+') && !r.toks[j].glued) {
	} else if j == first {
		for r.is(j, "was") || r.is(j, "were") || r.is(j, "only") || r.is(j, "just") || r.punct(j, ':') {
			j++
		}
		if q, ok := r.quantity(j); !ok || q.unit == uNone && !q.whole || r.has(q.to, fTimes|fSet|fRound) {
			return item{}, false
		}
	}
	for k := j; k < j+3; k++ {
		if _, ok := r.quantity(k); ok {
			j = k
			break
		}
		if !r.is(k, "was") && !r.is(k, "were") && !r.is(k, "only") && !r.is(k, "just") && !r.is(k, "at") && !r.is(k, "for") && !r.punct(k, ':') {
			break
		}
	}
	it.to = int32(j)
	return it, true
}

// numberedSet reads "set 2", with a colon behind it or not. Behind a count or a
// unit it is none: 3 sets 30 s.
func (r *reader) numberedSet(it item) (item, bool) {
	i := int(it.from)
	n, ok := r.num(i + 1)
	if !ok || n == 0 || n > 20 || i > 0 && (r.toks[i-1].kind == kNum || r.has(i-1, fOnes|fTimes) || r.has(i-1, fFill) && !r.is(i-1, "on") && !r.is(i-1, "in") && !r.is(i-1, "during") && !r.is(i-1, "after")) || stemLen(r.word(i)) < len(r.word(i)) {
		return item{}, false
	}
	it.n, it.to = int32(n), int32(i+2)
	if (r.punct(i+2, ':') || r.punct(i+2, '-') || r.punct(i+2, ')') || r.punct(i+2, '=')) && !r.slashed(i+1) {
		it.to++
	}
	_, sized := r.quantity(int(it.to))
	if r.has(i+2, fSec|fMin|fRep|fTimes|fSet) {
		return it, false
	}
	if r.has(i, fRound) || !sized { // round 2: ..., slipped on set 3
		it.k = iFill
		return it, r.has(i, fRound) && r.punct(i+2, ':') || !sized && (r.is(i-1, "on") || r.is(i-1, "in") || r.is(i-1, "after") || r.is(i-1, "during"))
	}
	return it, true
}

func (r *reader) fail(i int) (item, bool) {
	it := one(iFail, i)
	if r.has(i, fTimes) { // 5/5/x
		return it, i > 0 && r.toks[i].glued && r.punct(i-1, '/') && r.sepAt(i+1)
	}
	if r.is(i-1, "to") { // to failure
		return one(iFill, i), true
	}
	if r.is(i, "missed") || r.is(i, "nope") || r.is(i, "dropped") || r.is(i, "slipped") || r.is(i, "came") {
		return item{}, false
	}
	if r.toks[i].b-r.toks[i].a == 1 && !(r.sepAt(i+1) && (i > 0 && (r.sepAt(i-1) || r.toks[i].glued || r.toks[i-1].kind == kNum || r.has(i-1, fSec|fRep)))) {
		return item{}, false
	}
	if r.is(i+1, "one") || r.is(i+1, "ones") || r.is(i+1, "set") {
		it.to++
	}
	j := i + 1
	if r.is(j, "the") || r.is(j, "on") || r.is(j, "my") {
		j++
	}
	if r.is(j, "the") {
		j++
	}
	if r.has(j, fLast) && r.sepAt(j+1) { // (failed last)
		it.m, it.count, it.reps, it.to = 2, 99, 1, int32(j+1)
		return it, true
	}
	if which, ok := r.which(j); ok && r.has(j, fLast) { // failed the last set
		it.m, it.count, it.reps, it.to = 2, which.n, which.m, which.to
		k := int(it.to)
		if r.is(k, "at") || r.is(k, "after") {
			k++
		}
		if q, ok := r.quantity(k); ok && (r.is(k-1, "at") || r.is(k-1, "after")) {
			it.milli, it.unit, it.to = q.milli, q.unit, int32(q.to)
		}
		return it, true
	}
	if r.is(i+1, "at") || r.is(i+1, "after") {
		if q, ok := r.quantity(i + 2); ok {
			it.milli, it.unit, it.m, it.to = q.milli, q.unit, 1, int32(q.to)
		}
	}
	return it, true
}

func (r *reader) try(i int) (item, bool) { return one(iTry, i), true }

// made reads how many attempts came off: 1 made, none stuck, got 2.
func (r *reader) made(i int) (item, bool) {
	if r.has(i, fNone) {
		if r.has(i+1, fMade) {
			it := item{k: iMade, from: int32(i), to: int32(i + 2)}
			if r.is(i+2, "off") || r.is(i+2, "it") {
				it.to++
			}
			return it, true
		}
		if r.is(i+1, "of") || r.sepAt(i+1) {
			return item{k: iMade, from: int32(i), to: int32(i + 1)}, true
		}
		return item{}, false
	}
	j := i + 1
	if r.punct(j, ':') {
		j++
	}
	if n, next, ok := r.number(j); ok && n.whole && (r.is(i, "got") || r.is(i, "made") || r.is(i, "hit") || r.is(i, "landed") || r.is(i, "stuck")) && (r.sepAt(next) || r.is(next, "of")) {
		return item{k: iMade, n: int32(n.int()), from: int32(i), to: int32(next)}, true
	}
	if r.has(i+1, fNone) {
		return item{k: iMade, from: int32(i), to: int32(i + 2)}, true
	}
	if r.is(i+1, "it") && r.has(i+2, fTwice) { // made it once
		return item{k: iMade, n: r.toks[i+2].n, from: int32(i), to: int32(i + 3)}, true
	}
	if i > 0 && (r.toks[i-1].kind == kNum || r.has(i-1, fOnes)) {
		return item{k: iMade, n: -1, from: int32(i), to: int32(i + 1)}, true
	}
	return item{}, false
}
