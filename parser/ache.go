package parser

import "rungbook/training"

// places finds the sites of a clause that are the speaker's own.
func (s *sufferer) places(from, to int) (out places) {
	for i := from; i < to && out.n < len(out.of); i++ {
		if !s.speaks(i, bSite) || s.gear(i) || s.speaks(i, bTissue) && (s.speaks(i-1, bAway) || s.speaks(i-2, bAway)) {
			continue
		}
		word := string(s.word(i))
		p := sorePlace{site: siteOf[word], at: i, flesh: s.speaks(i, bFleshy), bare: s.speaks(i, bBare), many: s.toks[i].b-s.toks[i].a > 4 && word[len(word)-1] == 's' && !s.toks[i].owner}
		p.side = s.sideOf(i, from, to)
		p.moved = s.speaks(i+1, bMove) || s.punct(i+1, '-') && s.speaks(i+2, bMove)
		if out.n > 0 && out.of[out.n-1].site != p.site && (s.speaks(i, bTissue) || s.speaks(i, bBare) && s.near(out.of[out.n-1].at, i)) {
			continue // the tendon of a forearm, the arm of a shoulder
		}
		if out.n > 0 && s.speaks(out.of[out.n-1].at, bTissue|bBare) && s.near(out.of[out.n-1].at, i) {
			out.n--
			if p.side == "" {
				p.side = out.of[out.n].side
			}
		}
		p.good = s.isGood(i, to)
		out.of[out.n] = p
		out.n++
	}
	return out
}

// near reports whether two sites are one place told more closely.
func (s *sufferer) near(a, b int) bool {
	for i := a + 1; i < b; i++ {
		if s.toks[i].kind != kWord || s.has(i, fAnd) {
			return false
		}
	}
	return b-a <= 5
}

// gear reports whether a site's word is part of a thing's name.
func (s *sufferer) gear(i int) bool {
	j := s.hyphenTo(i + 1)
	return s.speaks(j, bThing) && !s.toks[i].owner
}

// sideOf looks for a side before a site and behind it.
func (s *sufferer) sideOf(i, from, to int) training.Side {
	for j := i - 1; j >= max(from, i-4); j-- {
		if side := s.sideWord(j); side != "" && !s.punct(j+1, ',') {
			return side
		}
		if s.speaks(j, bSite) || s.toks[j].kind == kNum {
			break
		}
	}
	for j := i + 1; j < min(to, i+4); j++ {
		if side := s.sideWord(j); side != "" && (side != training.Right || !s.speaks(j-1, bDenies) && !s.is(j+1, "now") && !s.is(j+1, "after")) {
			return side
		}
		if s.toks[j].kind == kNum || s.speaks(j, bSite) {
			break
		}
	}
	// "elbow is back, right side"; "1/10 both sides"
	for j := i + 4; j < len(s.toks)-1 && j < i+9 && !s.endsSentence(j); j++ {
		if side := s.sideWord(j); side != "" && s.has(j+1, fLimb) {
			return side
		}
	}
	if s.punct(i+1, ',') && s.sideWord(i+2) != "" && s.has(i+3, fLimb) {
		return s.sideWord(i + 2)
	}
	return ""
}

// isGood reports whether a site is said to be fine: "R elbow fine".
func (s *sufferer) isGood(i, to int) bool {
	for j := i + 1; j < to && j <= i+6; j++ {
		switch {
		case s.speaks(j, bDenies):
			return false
		case s.speaks(j, bGood), s.speaks(j, bOver) && !s.speaks(j, bWeak):
			return true
		case s.speaks(j, bComplaint), s.toks[j].kind != kWord || s.toks[j].body&(bLink|bSite) == 0:
			return false
		}
	}
	return false
}

// grade weighs the complaints of a clause.
func (s *sufferer) grade(from, to int, here *places) (g grade) {
	for i := from; i < to; i++ {
		t := &s.toks[i]
		if t.kind == kSign && here.n > 0 && s.wince(i) {
			g.pain = true
		}
		if t.kind != kWord || s.is(i, "dead") && (s.is(i+1, "hang") || s.is(i+1, "hangs")) {
			continue
		}
		if t.body&bTissue != 0 && !s.denied(i, from) {
			g.tissue = true
		}
		if t.body&(bMuscle|bPain) != 0 && s.speaks(i-1, bDenies|bOnly) && s.notMuscle(i, from) {
			g.pain, g.tissue = true, true
		}
		s.outright(i, from, to, here, &g)
	}
	s.saidOfSites(from, to, here, &g)
	s.score(from, to, here, &g)
	s.unableTo(from, to, &g)
	if s.night(from, to) && (g.pain || here.n > 0 && s.wakes(from, to)) {
		g.pain, g.urgent = true, true
	}
	if g.pain && s.presentIn(from, to) {
		s.now = true
	}
	return g
}

// notMuscle reads "not DOMS", "isn't normal soreness", "not just sore".
func (s *sufferer) notMuscle(i, from int) bool {
	j := i - 1
	for j > from && s.speaks(j, bOnly|bGood|bLink) && !s.speaks(j, bDenies) {
		j--
	}
	if !s.speaks(j, bDenies) {
		return false
	}
	return s.speaks(i, bMuscle) || j < i-1 && (s.is(i, "soreness") || s.is(i, "sore"))
}

// outright weighs one word that complains wherever it stands.
func (s *sufferer) outright(i, from, to int, here *places, g *grade) {
	t := &s.toks[i]
	burst := t.body&bBurst != 0 && s.bursts(i, here) || t.body&bNoise != 0 && s.noise(i)
	if t.body&(bPain|bUrgent) == 0 && !burst {
		return
	}
	switch {
	case s.denied(i, from):
		s.calm = true
		return
	case s.over(i, to):
		s.calm = true
		return
	case s.is(i-1, "stopped"): // stopped hurting
		s.calm = true
		return
	case s.is(i, "killing") && s.is(i+1, "it"), s.is(i+1, "so") && s.is(i+2, "good"):
		return
	case i > from && (s.speaks(i-1, bAlmost)), s.speaks(i-1, bFear) && !s.speaks(i, bUrgent):
		return
	case (s.is(i, "fire") || s.is(i, "socket")) && here.n == 0, s.is(i, "fire") && !s.is(i-1, "on"),
		s.is(i, "sharp") && here.n == 0, s.is(i, "electric") && here.n == 0, s.is(i, "mal") && !s.speaks(i+1, bSite) && here.n == 0:
		return
	case (s.is(i, "bruised") || s.is(i, "bruising")) && here.n == 0:
		return
	}
	if t.body&(bSore|bTired) == 0 {
		g.sore, g.tired = false, false
	} else if !g.pain {
		g.sore, g.tired = t.body&bSore != 0, t.body&bTired != 0
	}
	g.hurt = (g.hurt || !g.pain) && (s.is(i, "hurt") || s.is(i, "hurts") || s.is(i, "hurting"))
	g.pain = true
	g.urgent = g.urgent || burst || t.body&bUrgent != 0
}

// bursts tells "something snapped in my elbow" from a snapped strap and
// "popped in".
func (s *sufferer) bursts(i int, here *places) bool {
	if s.speaks(i-1, bThing) || s.is(i+1, "in") && s.is(i+2, "for") || s.is(i+1, "by") || s.has(i+1, fOnes|fCouple) || s.toks[i+1].kind == kNum || s.speaks(i+1, bCare) || s.is(i+1, "a") || s.has(i-1, fBand) {
		return false
	}
	if s.is(i, "cracked") || s.is(i, "snapping") || s.is(i, "popping") {
		return here.n > 0 && here.of[0].at < i
	}
	return here.n > 0 || s.speaks(i-1, bSomething) || s.at.n > 0 && (s.is(i+1, "out") || s.is(i+1, "back"))
}

// noise tells "a loud pop" from "pop the shoulders over".
func (s *sufferer) noise(i int) bool {
	if s.is(i, "pop") && s.is(i+1, "out") && s.is(i-1, "to") { // it wants to pop out
		return true
	}
	if s.is(i+1, "in") && !s.is(i-1, "a") { // pop in the shoulder
		return s.placeWithin(i+1, i+5)
	}
	for j := i - 1; j >= max(0, i-3); j-- {
		if s.is(j, "a") || s.is(j, "heard") || s.is(j, "went") || s.is(j, "felt") || s.is(j, "loud") || s.is(j, "that") {
			return !s.is(i+1, "of") || s.speaks(i+2, bSite)
		}
	}
	return false
}

// denied looks back from a complaint for a denial: "no pain", "doesn't really
// hurt", "nothing hurts", "without any elbow pain".
func (s *sufferer) denied(i, from int) bool {
	for j := i - 1; j >= from && j >= i-7; j-- {
		if s.is(j, "o") && s.punct(j-1, '/') && s.is(j-2, "w") { // w/o pain
			return true
		}
		if s.is(j, "no") && s.is(j-1, "said") { // said no and hurts now
			return false
		}
		if s.is(j, "without") && s.unableIn(max(from, j-12), j) { // can't push up without my wrist hurting
			return false
		}
		if s.speaks(j, bDenies) {
			return !(s.is(j, "not") && (s.is(j+1, "only") || s.is(j+1, "just") || s.speaks(j-1, bUnable))) && !s.is(j+1, "stop") && !s.is(j+1, "sure")
		}
		if s.toks[j].kind == kPunct && s.toks[j].n == '-' {
			continue
		}
		if s.toks[j].kind != kWord || s.toks[j].body&(bLink|bSite|bPain|bMine|bWeak|bNoise|bUrgent) == 0 && s.toks[j].f&(fOf|fAnd) == 0 && !s.is(j, "more") && !s.is(j, "or") {
			return false
		}
		if s.speaks(j, bMine) && !s.is(j, "my") && !s.is(j, "me") {
			return false
		}
	}
	return false
}

// unableIn reports whether somebody cannot do something, between two tokens.
func (s *sufferer) unableIn(from, to int) bool {
	for i := from; i < to; i++ {
		if s.speaks(i, bUnable) {
			return true
		}
	}
	return false
}

// over looks behind a complaint for its end: "pain gone", "pain-free", "pain:
// none".
func (s *sufferer) over(i, to int) bool {
	for j := i + 1; j < to; j++ { // the ache from the summer has cleared up
		if s.is(j, "cleared") && s.is(j+1, "up") {
			return true
		}
	}
	j := i + 1
	for j < min(len(s.toks)-1, i+6) && (s.punct(j, '-') || s.punct(j, ':') || s.punct(j, '=') || j < to && s.speaks(j, bLink|bSite) && !s.speaks(j, bOver)) {
		j++
	}
	if s.is(j, "away") && s.is(j-1, "went") {
		return true
	}
	if s.speaks(j, bOver) || s.is(j, "common") || s.is(j, "typical") || s.is(j, "over") && s.is(j-1, "long") {
		return true
	}
	return s.speaks(j, bDenies) && (s.is(j, "no") || s.is(j, "nothing") || s.is(j, "zero")) && j+1 >= to
}

// condition reports a tendonitis that has no site.
func (s *sufferer) condition(from, to int) {
	for i := from; i < to; i++ {
		if s.speaks(i, bCondition) && !s.denied(i, from) {
			s.reports = append(s.reports, report{Site: siteOther})
			s.firm = true
			s.use(from, to)
			s.at, s.open = places{}, grade{}
			return
		}
	}
}
