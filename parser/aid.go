package parser

// side reads left, right, each side, per arm, both sides.
func (r *reader) side(i int) (item, bool) {
	it := item{k: iSide, from: int32(i), to: int32(i + 1)}
	switch {
	case r.has(i, fLeft):
	case r.has(i, fRight):
		if rest, ok := r.shortRest(i); ok {
			return rest, true
		}
		it.n = 1
	default:
		if to := r.cadence(i); to > i {
			return item{k: iFill, from: int32(i), to: int32(to)}, true
		}
		it.n = 2
		j := i + 1
		if r.is(j, "of") || r.is(j, "the") {
			j++
		}
		if !r.has(j, fLimb) {
			if r.has(i, fBoth) {
				return item{}, false
			}
			return item{k: iFill, n: 1, from: int32(i), to: int32(i + 1)}, true
		}
		it.to = int32(j + 1)
		return it, true
	}
	if short := r.toks[i].b-r.toks[i].a == 1; short && r.has(i, fRep) && i > 0 && r.toks[i-1].kind == kNum && !r.has(i+1, fLimb) && !r.sepAt(i+1) && !r.leftNear(i) {
		return item{}, false
	}
	if r.has(i+1, fLimb) {
		it.to++
	}
	if r.punct(int(it.to), ':') {
		it.to++
	}
	return it, true
}

// help reads what made a set easier: a band, toes on the floor, a partner.
func (r *reader) help(i int) (item, bool) {
	j := i
	for step := 0; step < 4 && r.has(j, fFill|fWith|fBandKind) && !r.has(j, fToes|fBand|fPartner|fHelped); step++ {
		j++
	}
	it := item{k: iHelp, from: int32(i), to: int32(j + 1)}
	switch {
	case r.has(j, fBand):
		it.help = byBand
		if r.hyphenTo(j+1) != j+1 || r.has(j+1, fHelped) {
			if k := r.hyphenTo(j + 1); r.has(k, fHelped) {
				it.to = int32(k + 1)
			}
		}
	case r.has(j, fToes):
		if _, _, named := r.name(j); named {
			return item{}, false
		}
		k, ok := r.footing(j+1, r.has(j-min(j, 1), fWith) || r.is(j-1, "on") || r.punct(j-1, '/') && r.is(j-2, "w"))
		if ok = ok || r.punct(j-1, '(') && r.punct(j+1, ')'); !ok {
			return item{}, false
		}
		it.help, it.to = byToes, int32(k)
	case r.has(j, fPartner):
		k := r.hyphenTo(j + 1)
		if !r.has(k, fHelped) && !r.is(j, "spotter") && !r.is(j, "spotted") && !(r.has(i-min(i, 1), fWith) || r.is(i-1, "from") || r.is(i-1, "by") || r.has(i, fWith) && j > i) || r.is(k, "up") {
			return item{}, false
		}
		it.help = byPartner
		if r.has(k, fHelped) {
			it.to = int32(k + 1)
		}
	case r.is(j, "kipping") || r.is(j, "kipped") || r.is(j, "kip") && r.has(j-1, fWith): // a swing helps as much as a band
		it.help = byKip
	case r.is(j, "assisted") || r.is(j, "assistance") || r.is(j, "help") && r.is(j+1, "from"):
		it.help = byAssist
		if r.is(j+1, "by") || r.is(j+1, "with") || r.is(j+1, "from") {
			if by, ok := r.help(j + 2); ok {
				by.from = int32(i)
				return by, true
			}
		}
	default:
		return item{}, false
	}
	return it, true
}

// footing reads where toes or feet are; off, up or on a seat they are no help.
func (r *reader) footing(i int, with bool) (int, bool) {
	i = r.hyphenTo(i)
	helped := false
	for step := 0; step < 4; step++ {
		switch {
		case r.has(i, fFloor):
			if _, _, named := r.name(i); named && helped {
				return i, true
			}
			i++
			helped = true
		case r.is(i, "on"), r.is(i, "the"), r.is(i, "just"), r.is(i, "still"), r.is(i, "a"), r.is(i, "lightly"), r.is(i, "bit"), r.is(i, "were"), r.is(i, "both"), r.is(i, "for"), r.is(i, "flat"):
			i++
		}
	}
	return i, helped || with && (r.sepAt(i) || r.toks[i].kind == kNum)
}

// leftNear reports whether a left stands shortly before or behind the r at token
// i: then that is right and no rep.
func (r *reader) leftNear(i int) bool {
	for j := max(i-6, 0); j < min(i+5, len(r.toks)-1); j++ {
		if r.toks[j].kind == kLine {
			return false
		}
		if r.has(j, fLeft) {
			return true
		}
	}
	return false
}
