package parser

// What a joint can do no more, and pain that wakes: both are for a doctor.

// unableTo finds what a joint cannot do any more: "can't straighten it".
func (s *sufferer) unableTo(from, to int, g *grade) {
	for i := from; i < to; i++ {
		if s.speaks(i, bEager) {
			return
		}
		if !s.speaks(i, bUnable) && !(s.is(i, "not") && (s.is(i-min(i, 1), "can") || s.is(i-min(i, 1), "could"))) {
			continue
		}
		for j := i + 1; j < min(to, i+6); j++ {
			if s.is(j, "keep") || s.is(j, "stay") || s.is(j, "get") && !s.within(j, min(to, j+5), "straight") || s.is(j, "hold") {
				break
			}
			if s.speaks(j, bLimp) && !s.twistedAway(j) {
				g.pain, g.urgent = true, true
				return
			}
		}
	}
	grip := false
	for i := from; i < to; i++ {
		if s.limp(i) {
			g.pain, g.urgent = true, true
		}
		if (s.is(i, "goes") || s.is(i, "went") || s.is(i, "going")) && s.is(i+1, "weak") {
			g.pain, g.urgent = true, true
		}
		if s.unfeeling(i) && s.placeWithin(i, to) {
			g.pain, g.urgent = true, true
		}
		if s.is(i, "lost") && (s.within(i, to, "strength") || s.within(i, to, "feeling")) || (s.is(i, "gave") || s.is(i, "giving") || s.is(i, "gives")) && (s.is(i+1, "out") || s.is(i+1, "way")) {
			g.pain, g.urgent = true, true
		}
		if s.is(i, "no") && (s.is(i+1, "strength") || s.is(i+1, "power")) {
			g.pain, g.urgent = true, true
		}
		grip = grip || s.is(i, "grip")
		switch {
		case s.is(i, "weak") && (g.pain || grip):
			g.pain, g.urgent = true, true
		case s.is(i, "pulled") && (s.speaks(i+1, bTissue) || s.speaks(i+2, bTissue) || s.pulledSite(i+1)):
			g.pain = true
		}
	}
}

// limp reads what a joint does of itself no more: does not straighten, came out,
// strength gone.
func (s *sufferer) limp(i int) bool {
	switch {
	case s.is(i, "straighten"), s.is(i, "bend"), s.is(i, "extend"):
		return s.is(i-1, "doesn't") || s.is(i-1, "doesnt") || s.is(i-1, "didn't") || s.is(i-1, "not") && s.is(i-2, "does")
	case s.is(i, "came"), s.is(i, "comes"), s.is(i, "slipped"):
		return s.is(i+1, "out") && s.speaks(i-1, bFleshy)
	case s.is(i, "gone"):
		return s.is(i-1, "strength") || s.is(i-1, "grip") || s.is(i-1, "feeling")
	}
	return false
}

// unfeeling reads "no feeling", "loss of feeling", "can't feel".
func (s *sufferer) unfeeling(i int) bool {
	switch {
	case s.is(i, "feeling"), s.is(i, "sensation"):
		return s.is(i-1, "no") || s.is(i-1, "lost") || s.is(i-1, "of") && s.is(i-2, "loss")
	case s.is(i, "feel"):
		return s.speaks(i-1, bUnable) && !s.is(i-1, "struggling")
	}
	return false
}

// placeWithin reports whether a site stands right behind token i.
func (s *sufferer) placeWithin(i, to int) bool {
	for j := i + 1; j < min(to, i+6); j++ {
		if s.speaks(j, bSite) {
			return !s.gear(j)
		}
	}
	return false
}

// pulledSite reads "my left shoulder" behind pulled; pulled in, back or down it is
// a posture.
func (s *sufferer) pulledSite(i int) bool {
	if !s.speaks(i, bMine) && s.sideWord(i) == "" && !s.is(i, "a") {
		return false
	}
	for i++; s.sideWord(i) != ""; i++ {
	}
	word := s.toks[i]
	return s.speaks(i, bSite) && stemLen(s.word(i)) == int(word.b-word.a) && (s.sepAt(i+1) || s.has(i+1, fOn|fAt) || s.speaks(i+1, bReturn|bSplit) || s.has(i+1, fToday|fYesterday))
}

// twistedAway leaves out "can't move the session".
func (s *sufferer) twistedAway(j int) bool {
	return s.is(j+1, "the") && s.is(j+2, "session") || s.is(j+1, "on")
}

// night reports whether pain wakes: "woke me up", "hurts at night".
func (s *sufferer) night(from, to int) bool {
	for i := from; i < to; i++ {
		if s.speaks(i, bNight) && (!s.is(i, "night") || s.is(i-min(i, 1), "at") || s.is(i-min(i, 1), "all")) && !s.is(i, "sleep") || s.is(i, "sleep") && s.speaks(i-min(i, 1), bUnable) {
			return true
		}
		if s.is(i, "kept") && s.is(i+1, "me") && (s.is(i+2, "up") || s.is(i+2, "awake")) || s.is(i, "night") && s.speaks(i+1, bPain) {
			return true
		}
	}
	return false
}

// wakes reports whether somebody is woken.
func (s *sufferer) wakes(from, to int) bool {
	return s.within(from, to, "woke") || s.within(from, to, "wakes") || s.within(from, to, "awake") || s.within(from, to, "waking") || s.within(from, to, "wake")
}
