package parser

import "rungbook/training"

// Pain is looked for clause by clause: a site of one's own, and something that
// says it hurts. What is denied, long past, supposed, somebody else's, of a
// muscle, or a figure of speech is none. In doubt a joint that is complained of
// is one: a miss hurts a tendon, a false report annoys.

// sorePlace is a site said in a clause.
type sorePlace struct {
	site  site
	side  training.Side
	at    int // token
	flesh bool
	bare  bool
	many  bool // a plural: both, unless said otherwise
	moved bool // part of an exercise's or a posture's name
	good  bool // said to be fine
}

// places are the sites of a clause.
type places struct {
	of [4]sorePlace
	n  int
}

// sufferer reads a message's talk of the body.
type sufferer struct {
	*reader
	reports []report
	start   int    // the reports of this sentence begin here
	at      places // the sites last complained of
	spoken  places // the sites last spoken of, anybody's
	open    grade  // a complaint that has no site yet
	openAt  int    // the clause it was made in
	clauses int
	firm    bool // a report of this sentence is more than a mood of the joint
	calm    bool // pain was denied in this sentence
	old     bool // an old hurt is spoken of
	past    bool
	now     bool
	cried   bool // the sentence before was a cry: ouch
	quit    bool // the clause before says that somebody stops
	dead    bool // what follows in this sentence is supposed
	other   bool // what follows is somebody else's, until "my" is said
	talks   []talk
}

// talk is a clause that made a report.
type talk struct {
	from, to int // tokens
	report   int
}

// grade says how much a clause complains.
type grade struct {
	pain   bool // pain said outright
	mood   bool // the site said to be off
	urgent bool
	hurt   bool // nothing worse is said than that it hurts
	sore   bool // pain of a joint, plain work of a muscle
	tired  bool // a worn joint, plain work of a muscle
	tissue bool // of a joint, tendon or bone, or not of a muscle
	score  training.Optional
}

func (g grade) some() bool { return g.pain || g.mood }

// pain returns the reports of the message and marks their tokens as used.
func (r *reader) pain() []report {
	const talk = bSite | bSkin | bCondition | bTissue
	s := sufferer{reader: r}
	if r.bodySlips(r.spoken&talk != 0); r.spoken&talk == 0 && (r.spoken&bPain == 0 || !s.onScale()) {
		return nil
	}
	r.quotedTalk()
	for i := 0; i < len(r.toks)-1; {
		j := i
		for j < len(r.toks)-1 && !r.endsSentence(j) {
			j++
		}
		s.sentence(i, j)
		i = j + 1
	}
	s.scoresAbout()
	return s.reports
}

// quotedTalk takes the meaning from what is told in somebody else's words: "my
// shoulder hurts" was his whole excuse. A message that is all quotation is its
// author's own.
func (r *reader) quotedTalk() {
	if !r.marks {
		return
	}
	open := -1
	for i := range r.toks {
		if !r.punct(i, '"') || open < 0 && i > 0 && r.toks[i].glued && r.toks[i-1].kind == kNum {
			continue
		}
		if open < 0 {
			open = i
			continue
		}
		if (open > 0 || i < len(r.toks)-2) && r.complainsIn(open, i) {
			for j := open; j < i; j++ {
				r.toks[j].body = 0
			}
		}
		open = -1
	}
}

// complainsIn reports whether both a site and a complaint stand between two
// tokens.
func (r *reader) complainsIn(from, to int) bool {
	site, complaint := false, false
	for i := from; i < to; i++ {
		site = site || r.speaks(i, bSite)
		complaint = complaint || r.speaks(i, bComplaint)
	}
	return site && complaint
}

// endsSentence reports whether token i ends a sentence.
func (r *reader) endsSentence(i int) bool {
	t := &r.toks[i]
	if t.kind == kLine || r.punct(i, '!') || r.punct(i, '?') {
		return true
	}
	return r.punct(i, '.') && !(r.toks[i].glued && r.toks[i+1].glued)
}

// sentence reads one sentence.
func (s *sufferer) sentence(from, to int) {
	if side, ok := s.onlySide(from, to); ok {
		for i := s.start; i < len(s.reports); i++ {
			s.reports[i].Side = side
		}
		return
	}
	s.start, s.open = len(s.reports), grade{}
	s.firm, s.calm, s.past, s.now, s.dead, s.other, s.old, s.quit = false, false, false, false, false, false, false, false
	s.clauses = 0
	fresh := true
	for i := from; i < to; {
		j := i + 1
		for j < to && !s.cutsAche(i, j) {
			j++
		}
		s.clause(i, j, fresh && !s.follows(i))
		s.clauses++
		fresh = false
		i = j
	}
	s.cried = to-from == 1 && s.speaks(from, bPain)
	if s.past && !s.now || s.calm && !s.firm {
		s.reports = s.reports[:s.start]
	}
}

// follows reports whether a sentence goes on about what was said before.
func (s *sufferer) follows(i int) bool {
	return s.is(i, "it") || s.is(i, "it's") || s.is(i, "its") || s.is(i, "still") || s.is(i, "they") || s.is(i, "both") || s.is(i, "that") || s.is(i, "really") || s.is(i, "not") || s.is(i, "mine") || s.speaks(i, bPain|bUrgent)
}

// speaks reports whether token i is a word of the body of one of the kinds.
func (r *reader) speaks(i int, b body) bool {
	return uint(i) < uint(len(r.toks)) && r.toks[i].kind == kWord && r.toks[i].body&b != 0
}

// onlySide reads a sentence that says nothing but a side.
func (s *sufferer) onlySide(from, to int) (training.Side, bool) {
	if len(s.reports) == s.start || to-from > 2 || to == from {
		return "", false
	}
	for i := from; i < to; i++ {
		if side := s.sideWord(i); side != "" {
			return side, to-from == 1 || s.has(to-1, fLimb) || s.speaks(to-1, bSite)
		}
	}
	return "", false
}

func (r *reader) sideWord(i int) training.Side {
	switch {
	case i < 0:
		return ""
	case r.has(i, fLeft):
		return training.Left
	case r.has(i, fRight) && r.toks[i].body&bSite == 0:
		return training.Right
	case r.has(i, fBoth):
		return bothSides
	}
	return ""
}

// cutsAche reports whether a new clause of talk about the body begins at token
// j.
func (s *sufferer) cutsAche(from, j int) bool {
	t := &s.toks[j]
	if t.kind == kPunct {
		switch t.n {
		case ',', ';':
			return true
		case ':':
			return !s.speaks(j-1, bComplaint|bSite) && !t.glued || !s.speaks(j-1, bComplaint|bSite) && s.toks[j-1].kind != kNum
		case '-':
			return !t.glued && !s.toks[j+1].glued
		case '/':
			return !t.glued
		}
		return false
	}
	if s.speaks(j, bSplit) {
		return !s.is(j, "so") || s.speaks(j+1, bMine) || s.is(j+1, "cut")
	}
	if t.kind != kWord || t.f&fAnd == 0 && !s.is(j, "when") {
		return false
	}
	for i := from; i < j; i++ {
		if s.toks[i].kind == kNum || s.speaks(i, bComplaint|bGood|bSkin|bTorn|bOther) {
			return !s.speaks(j+1, bComplaint) && t.f&fAnd != 0 && !(s.speaks(j-1, bNoise|bUrgent|bPain) && s.speaks(j+1, bUrgent))
		}
	}
	return false
}

// clause reads one clause.
func (s *sufferer) clause(from, to int, fresh bool) {
	if s.figure(from, to) || s.sideAlone(from, to) {
		return
	}
	here := s.places(from, to)
	if here.n > 0 {
		s.spoken = here
	}
	if s.frame(from, to, &here) {
		if here.n > 0 && !s.dead && !s.other && s.owned(here.of[0].at, from) == mine { // could someone look at my elbow, it hurts
			s.at = here
		}
		return
	}
	g := s.grade(from, to, &here)
	g.mood = g.mood || s.cried && here.n > 0 && to-from <= 2 // ouch. elbow.
	if s.skinOnly(from, to, &here, &g) {
		return
	}
	if s.onlyMuscle(from, to, &here, g) {
		return
	}
	if here.n == 0 && s.presentIn(from, to) && s.saysBack(from, to) { // and now it's back
		s.now = true
	}
	if here.n == 0 && s.spoken.n > 0 && s.is(s.opener(clause{from: from, to: to}), "mine") && (s.within(from, to, "started") || s.within(from, to, "began")) {
		g.mood = true // what do you do for elbow pain? mine started yesterday
	}
	about := here
	if here.n == 0 && g.some() && s.within(from, to, "mine") { // your wrist is better, mine hurts
		about = s.spoken
		for k := range about.n {
			about.of[k].side = ""
		}
	} else if here.n == 0 && g.some() && !fresh && !s.away(from, to) {
		about = s.at
	}
	if here.n > 0 && !g.some() && s.open.some() && s.openAt == s.clauses-1 && to-from <= 7 {
		g, s.open = s.open, grade{}
		for k := range about.n {
			if about.of[k].good {
				return
			}
		}
	}
	g.urgent = g.urgent || g.some() && s.open.urgent && s.openAt == s.clauses-1
	said := s.say(&about, g, from, to)
	if !said && here.n == 0 && (g.pain || g.urgent) && !s.away(from, to) {
		s.open, s.openAt = g, s.clauses
		s.condition(from, to)
	}
	if here.n > 0 {
		s.at = here
	}
	s.quit = s.quits(from, to)
}

func (s *sufferer) saysBack(from, to int) bool {
	for i := from; i < to; i++ {
		if s.is(i, "back") && (s.is(i-1, "it's") || s.is(i-1, "its") || s.is(i-1, "is") || s.is(i-1, "came") || s.is(i-1, "coming")) && !s.is(i+1, "to") {
			return true
		}
	}
	return false
}

// sideAlone reads a clause that tells the side of what was just reported: painful
// shoulder, left; wrist pain, the R one.
func (s *sufferer) sideAlone(from, to int) bool {
	if len(s.reports) == s.start {
		return false
	}
	side := training.Side("")
	for i := from; i < to; i++ {
		switch one := s.sideWord(i); {
		case one != "":
			side = one
		case s.toks[i].kind == kPunct, s.has(i, fLimb), s.is(i, "one"), s.is(i, "ones"), s.is(i, "the"), s.is(i, "my"), s.is(i, "it's"), s.has(i, fOf), s.is(i, "them"), s.is(i, "em"):
		default:
			return false
		}
	}
	for i := s.start; side != "" && i < len(s.reports); i++ {
		if s.reports[i].Side == "" {
			s.reports[i].Side = side
		}
	}
	return side != ""
}

// say reports the sites of which a clause complains.
func (s *sufferer) say(about *places, g grade, from, to int) bool {
	said := false
	for i := range about.n {
		p := &about.of[i]
		if p.good && !g.urgent && p.at >= from || !s.counts(p, g) {
			continue
		}
		said = true
		s.firm = s.firm || g.pain
		s.talks = append(s.talks, talk{from, to, s.report(p, g)})
	}
	if said {
		s.use(from, to)
	}
	return said
}

// counts tells a joint's complaint from a muscle's.
func (s *sufferer) counts(p *sorePlace, g grade) bool {
	switch {
	case !g.some(), p.moved && !g.pain:
		return false
	case g.urgent || g.tissue || g.score.Known:
		return true
	case p.bare && s.speaks(p.at, bMuscle):
		return g.pain && !g.sore && !g.tired && !g.hurt
	case p.bare:
		return g.pain && !g.sore && !g.tired
	case p.flesh && p.many && p.side != training.Left && p.side != training.Right && g.tired:
		return false
	}
	return true
}

// report adds a report, or says more of one already made of that site.
// It returns which one it is.
func (s *sufferer) report(p *sorePlace, g grade) int {
	next := report{Site: p.site, Side: p.side, Score: g.score}
	if p.site == siteSkin {
		next.Care = training.SkinCare
	} else if g.urgent {
		next.Care = training.Urgent
	}
	if p.many && next.Side == "" && s.explicitBoth(p) {
		next.Side = bothSides
	}
	for i := range s.reports {
		have := &s.reports[i]
		if have.Site != next.Site || have.Side != next.Side && next.Side != "" && have.Side != "" {
			continue
		}
		if have.Side == "" {
			have.Side = next.Side
		}
		if next.Score.Known {
			have.Score = next.Score
		}
		if next.Care == training.Urgent {
			have.Care = next.Care
		}
		return i
	}
	s.reports = append(s.reports, next)
	return len(s.reports) - 1
}

// explicitBoth reports whether "both" stands in the clause of a place.
func (s *sufferer) explicitBoth(p *sorePlace) bool {
	for i := max(p.at-3, 0); i < p.at+6 && s.toks[i].kind != kEnd && !s.punct(i, ','); i++ {
		if s.has(i, fBoth) {
			return true
		}
	}
	return false
}
