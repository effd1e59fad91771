package parser

import "rungbook/training"

// saidOfSites finds what complains only when it is said of a site: a grumpy elbow,
// wrists not happy, an elbow that is back, something in a shoulder.
func (s *sufferer) saidOfSites(from, to int, here *places, g *grade) {
	for i := from; i < to; i++ {
		if s.is(i, "long") && (s.is(i+1, "over") || s.is(i+1, "gone")) {
			return
		}
	}
	for k := range here.n {
		p := &here.of[k]
		if s.reason(p, from, to) || s.moodBehind(p, to) || s.moodBefore(p, from) || s.felt(p, from) || s.caredFor(p, from, to) || s.doneIn(p, from) || s.is(p.at+1, "thing") && s.within(from, p.at, "still") {
			g.mood = true
			p.good = false
		}
	}
	if one := s.otherOne(from); here.n == 0 && one > from && s.at.n > 0 { // left elbow fine, right one worse
		for i := one; i < to; i++ {
			g.mood = g.mood || s.speaks(i, bWeak) && !s.denied(i, from)
		}
		for k := 0; g.mood && k < s.at.n; k++ {
			s.at.of[k].side = s.sideWord(one - 2)
		}
	}
	if here.n > 0 || s.at.n == 0 {
		return
	}
	// "elbow fine at first, then really grumpy": what goes on about the site
	for i := from; i < to; i++ {
		if (s.speaks(i, bWeak) && !s.technique(i) || s.is(i, "there") && s.is(i-1, "still")) && !s.denied(i, from) && s.about(from, i) {
			g.mood = true
		}
	}
}

// otherOne returns the token behind "right one" at a clause's beginning, or from.
func (s *sufferer) otherOne(from int) int {
	i := from
	for s.toks[i].kind == kPunct || s.is(i, "the") || s.is(i, "my") || s.has(i, fAnd) || s.speaks(i, bSplit) {
		i++
	}
	if s.sideWord(i) != "" && s.is(i+1, "one") {
		return i + 2
	}
	return from
}

// doneIn reads "did my elbow in", "done the shoulder in again".
func (s *sufferer) doneIn(p *sorePlace, from int) bool {
	if !s.is(p.at+1, "in") || !s.sepAt(p.at+2) && !s.is(p.at+2, "again") && s.toks[p.at+2].kind == kWord {
		return false
	}
	for j := p.at - 1; j >= max(from, p.at-4); j-- {
		if s.is(j, "did") || s.is(j, "done") || s.is(j, "doing") {
			return true
		}
	}
	return false
}

// reason reads a site that is why somebody stopped: "because of my wrist",
// "stopping early, elbow".
func (s *sufferer) reason(p *sorePlace, from, to int) bool {
	i := p.at
	for i > from && (s.sideWord(i-1) != "" || s.speaks(i-1, bMine) || s.is(i-1, "the")) {
		i--
	}
	if s.has(i-1, fOf) && s.speaks(i-2, bSplit) || s.is(i-1, "to") && s.is(i-2, "due") {
		return true
	}
	return s.quit && to-from <= 3 && i <= from+1 && p.at == to-1
}

// quits reports whether a clause says that somebody stops or leaves out.
func (s *sufferer) quits(from, to int) bool {
	for i := from; i < to; i++ {
		if s.is(i, "to") && s.is(i+1, "stop") && s.is(i-1, "had") || s.is(i, "no") && s.skillAt(i+1) {
			return true
		}
		if s.is(i, "stopping") || s.is(i, "stopped") || s.is(i, "skipping") || s.is(i, "resting") || s.is(i, "quit") || s.is(i, "bailed") || s.is(i, "pausing") {
			return true
		}
	}
	return false
}

// skillAt reports whether the name of a skill stands at token i.
func (s *sufferer) skillAt(i int) bool {
	_, _, ok := s.name(i)
	return ok
}

// about reports whether a clause goes on about the site before: only small
// words stand before its complaint.
func (s *sufferer) about(from, i int) bool {
	for j := from; j < i; j++ {
		if s.punct(j, ':') && s.is(j-1, "status") { // elbow status: screaming
			continue
		}
		if s.toks[j].kind != kWord || s.toks[j].body&(bLink|bSplit|bNow|bReturn) == 0 && s.toks[j].f&fAnd == 0 {
			return false
		}
	}
	return true
}

// moodBehind reads "elbow is a little grumpy", "wrists not happy", "elbow is
// back", "elbow still there".
func (s *sufferer) moodBehind(p *sorePlace, to int) bool {
	denied := false
	for j := p.at + 1; j < to && j <= p.at+9; j++ {
		t := &s.toks[j]
		if t.kind == kPunct && (t.n == '(' || t.n == ')' || t.n == '-' || t.n == ':') || s.is(j, "status") || s.is(j, "update") {
			continue
		}
		if t.kind != kWord {
			return denied && t.kind == kNum && t.n == 100 // isn't 100 %
		}
		switch {
		case t.body&bDenies != 0:
			if denied = true; j == p.at+1 && s.is(j, "not") && s.sepAt(j+1) && s.goodBefore(p.at) { // legs fine, elbow not
				return true
			}
		case denied && (s.is(j, "like") || s.is(j, "enjoy") || s.is(j, "love") || s.is(j, "appreciate")):
			return true
		case denied && (s.is(j, "settled") || s.is(j, "recovered") || s.is(j, "healed") || s.is(j, "improved") || s.is(j, "calmed")):
			return true
		case denied && s.is(j, "better") && s.within(p.at, j, "never"): // never felt better
			return false
		case denied && (t.body&bGood != 0 || s.is(j, "much") && s.is(j-1, "so")):
			return true
		case s.is(j, "could"):
			return s.is(j+1, "be") && s.is(j+2, "better")
		case s.is(j, "said"):
			return s.is(j+1, "no")
		case s.is(j, "making") || s.is(j, "makes") || s.is(j, "made"): // making itself known
			return s.is(j+1, "itself") || s.is(j+1, "themselves") || s.is(j+1, "noises")
		case s.is(j, "needs") || s.is(j, "need") || s.is(j, "wants") || s.is(j, "want"):
			return !denied && s.restAsked(j+1)
		case s.is(j, "locked"):
			return s.is(j+1, "up")
		case s.is(j, "flared") || s.is(j, "flare"):
			return s.is(s.hyphenTo(j+1), "up") || s.is(j+1, "again")
		case t.body&bTired != 0, t.body&bPain != 0:
			return !denied
		case t.body&bWeak != 0:
			return !denied && !s.technique(j) && s.moodFits(p, j) && !s.denied(p.at, max(p.at-3, 0))
		case t.body&bReturn != 0 && s.returns(p, j):
			return !denied
		case t.body&(bLink|bSite|bSports|bTissue) == 0 && t.f&fAnd == 0 && !s.is(j, "up"):
			return false
		}
	}
	return false
}

// restAsked reads what a joint asks for: needs a break, wants a day off.
func (s *sufferer) restAsked(i int) bool {
	for s.is(i, "a") || s.is(i, "some") || s.is(i, "more") || s.is(i, "to") {
		i++
	}
	return s.has(i, fRest) || s.is(i, "day") && s.is(i+1, "off")
}

// goodBefore reports whether something else is said to be fine earlier in the
// sentence.
func (s *sufferer) goodBefore(at int) bool {
	for i := s.begins(at); i < at; i++ {
		if s.speaks(i, bGood) {
			return true
		}
	}
	return false
}

// moodFits leaves out what muscle and trade make of a word: shoulders are weak
// or tight after work, a chest is tight to the rings.
func (s *sufferer) moodFits(p *sorePlace, j int) bool {
	if s.is(j, "warm") {
		return s.is(j+1, "to") || s.is(j-1, "bit") || s.is(j-1, "feels")
	}
	if s.is(j, "tight") && (s.within(max(p.at-4, 0), p.at, "keep") || s.within(max(p.at-4, 0), p.at, "keeping")) {
		return false // keep the elbow tight
	}
	if s.is(j, "weak") || s.is(j, "tight") || s.is(j, "warm") || s.is(j, "loose") {
		return !(p.flesh && p.many || p.bare || p.many && j == p.at+1 && s.sepAt(j+1))
	}
	return true
}

// technique reports whether a word of mood says where a joint was: "elbows
// tight to the ribs".
func (s *sufferer) technique(j int) bool {
	if s.is(j, "tight") || s.is(j, "off") || s.is(j, "loose") || s.is(j, "gone") || s.is(j, "catching") {
		return s.is(j+1, "to") || s.is(j+1, "on") || s.is(j+1, "against") || s.is(j+1, "the") || s.is(j+1, "around")
	}
	return s.is(j+1, "for") && !s.is(j, "paying")
}

// returns reads "is back", "again", "still there".
func (s *sufferer) returns(p *sorePlace, j int) bool {
	switch {
	case s.is(j, "there"):
		return s.is(j-1, "still")
	case s.is(j, "back") && s.is(j+1, "to"):
		return false
	case s.is(j, "back"):
		return s.toks[p.at].owner || s.is(j-1, "is") || s.is(j-1, "are") || s.speaks(p.at-min(p.at, 1), bSports)
	}
	return j == p.at+1 || s.speaks(j-1, bReturn) || j == p.at+2 && s.is(j-1, "thing")
}

// moodBefore reads "a dodgy elbow", "something is wrong with my elbow", "issues
// with the wrist".
func (s *sufferer) moodBefore(p *sorePlace, from int) bool {
	for j := p.at - 1; j >= from && j >= p.at-7; j-- {
		t := &s.toks[j]
		switch {
		case t.kind != kWord:
			return false
		case s.speaks(j+1, bMine) && (s.is(j, "bothers") || s.is(j, "bothering") || s.is(j, "bugs") || s.is(j, "bugging") || s.is(j, "annoys")), s.is(j, "flare"):
			return !s.denied(j, from)
		case t.body&(bWeak|bSomething) != 0:
			bound := j == p.at-1 || s.sideWord(j+1) != "" || t.body&bSomething != 0 || s.has(j+1, fWith) || s.is(j+1, "in") || s.is(j+1, "up") || s.speaks(j+1, bFeel) || s.is(j+1, "sensation") || s.is(j+1, "to") && s.speaks(j-1, bSomething)
			return bound && !s.denied(j, from) && !s.technique(j) && !s.is(j, "warm") && !s.is(j, "hot") && !s.is(j, "loose") && !s.is(j, "tight")
		case t.body&bSports != 0:
			return !s.denied(j, from)
		case t.body&bGood != 0 && s.speaks(j-1, bDenies) && s.has(j+1, fWith), t.body&bDenies != 0 && s.speaks(j+1, bGood) && s.has(j+2, fWith): // not right with my shoulder
			return true
		case s.is(j, "pull") && (s.is(j-1, "a") || s.is(j-1, "this") || s.speaks(j-1, bWeak|bPain)) && (s.is(j+1, "in") || s.is(j+1, "on") || s.is(j+1, "at") || s.is(j+1, "near")):
			return true
		case t.body&(bLink|bMine|bHappen|bFeel) == 0 && t.f&(fLeft|fRight|fBoth|fWith|fOf|fFill) == 0 && !s.is(j, "up") && !s.is(j, "inside") && !s.is(j, "how") && !s.is(j, "nasty"):
			return false
		}
	}
	return false
}

// felt reads "can feel my left elbow", "felt it in my wrist".
func (s *sufferer) felt(p *sorePlace, from int) bool {
	if p.bare || p.flesh && p.many {
		return false
	}
	for j := p.at - 1; j >= from && j >= p.at-6; j-- {
		switch {
		case s.speaks(j, bFeel):
			return (s.speaks(j+1, bMine) || s.is(j+1, "it") && s.is(j+2, "in") || s.sideWord(j+1) != "") && (s.is(p.at+1, "on") && (s.is(p.at+2, "every") || s.is(p.at+2, "each")) || s.is(p.at+1, "today") || s.is(p.at+1, "now") || s.is(j+1, "it") || s.endOfTalk(p.at+1)) && !s.denied(j+1, from)
		case s.toks[j].kind != kWord:
			return false
		}
	}
	return false
}

func (s *sufferer) endOfTalk(i int) bool { return s.sepAt(i) }

// allClear reports whether "all clear" stands soon behind token i.
func (s *sufferer) allClear(i int) bool {
	for j := i + 1; j < min(i+12, len(s.toks)-1) && !s.endsSentence(j); j++ {
		if s.is(j, "clear") && s.is(j-1, "all") {
			return true
		}
	}
	return false
}

// caredFor reads "icing my elbow", "physio about the shoulder".
func (s *sufferer) caredFor(p *sorePlace, from, to int) bool {
	for j := from; j < to; j++ {
		if s.speaks(j, bCare) && !s.denied(j, from) && !p.moved {
			return !s.allClear(j)
		}
	}
	return false
}

// wince reports whether an emoji behind a site makes a face of pain.
func (s *sufferer) wince(i int) bool {
	t := &s.toks[i]
	if !s.speaks(i-1, bSite) {
		return false
	}
	for _, c := range s.text[t.from:t.to] {
		switch c {
		case '🔴', '😬', '😖', '😣', '😫', '😩', '🤕', '😭', '😢', '🥲', '☹', '🙁', '😕', '😞', '🩹', '🚑', '🏥', '🔥', '⚡', '💀', '☠', '💥', '😰', '😓', '😔', '😟', '😵':
			return true
		}
	}
	return false
}

// away reports whether a clause complains of what is no joint of ring work.
func (s *sufferer) away(from, to int) bool {
	for i := from; i < to; i++ {
		if s.speaks(i, bAway|bThing) || s.speaks(i, bMuscle) && !s.speaks(i-1, bDenies) {
			return true
		}
	}
	return false
}

// skinOnly reads a clause about torn skin; it reports skin, which stops
// nothing.
func (s *sufferer) skinOnly(from, to int, here *places, g *grade) bool {
	skin, torn, deep, only := false, false, false, false
	for i := from; i < to; i++ {
		if (s.is(i, "stings") || s.is(i, "stinging") || s.is(i, "sting")) && s.jointIn(here) && !s.denied(i, from) {
			g.pain = true
			continue
		}
		skin = skin || s.speaks(i, bSkin) && !s.denied(i, from) || s.is(i, "hot") && s.is(i+1, "spot")
		torn = torn || s.speaks(i, bTorn) && !s.denied(i, from)
		deep = deep || s.speaks(i, bHappen) || s.is(i, "ripped") || s.is(i, "rip") || s.is(i, "split")
		only = only || s.speaks(i, bOnly)
	}
	hands := here.n > 0
	for k := range here.n {
		p := &here.of[k]
		hands = hands && (p.site == siteWrist || p.site == siteOther || p.site == siteSkin || !deep)
		if torn && deep && !skin && (p.site == siteElbow || p.site == siteShoulder || p.site == siteForearm) && !g.some() {
			g.pain = true // a torn cuff
		}
	}
	if !skin && !(torn && hands && !g.urgent && (!g.pain || g.tired)) || g.tissue && here.n > 0 && g.pain {
		return false
	}
	if skin && only && here.n == 0 && s.start < len(s.reports) { // "..., just skin"
		s.reports = s.reports[:s.start]
	}
	if here.n > 0 && !hands && g.pain {
		return false
	}
	s.reports = append(s.reports, report{Site: siteSkin, Care: training.SkinCare})
	s.firm = true
	s.use(from, to)
	return true
}

// jointIn reports whether one of the sites is a joint, where nothing stings for its
// skin.
func (s *sufferer) jointIn(here *places) bool {
	for k := range here.n {
		if site := here.of[k].site; site == siteElbow || site == siteShoulder || site == siteForearm {
			return true
		}
	}
	return false
}

// onlyMuscle reads a clause about sore or pumped muscles, which is no report and
// takes back what was taken for one.
func (s *sufferer) onlyMuscle(from, to int, here *places, g grade) bool {
	if g.tissue || g.urgent {
		return false
	}
	muscle, only, away := false, false, false
	for i := from; i < to; i++ {
		muscle = muscle || s.speaks(i, bMuscle) && !s.speaks(i, bSite) && !s.speaks(i-1, bDenies)
		only = only || s.speaks(i, bOnly)
		away = away || s.speaks(i, bAway) && !s.speaks(i, bLink) && !s.is(i, "back")
	}
	switch {
	case here.n > 0 && (muscle || away && s.bareOnly(here)):
		return true
	case here.n == 0 && muscle && (only || !g.some()) && s.at.n > 0 && s.fleshy(&s.at):
		s.reports = s.reports[:s.start]
		return true
	}
	return here.n == 0 && muscle
}

func (s *sufferer) bareOnly(here *places) bool {
	for k := range here.n {
		if !here.of[k].bare {
			return false
		}
	}
	return true
}

func (s *sufferer) fleshy(at *places) bool {
	for k := range at.n {
		if !at.of[k].flesh && !at.of[k].bare {
			return false
		}
	}
	return true
}
