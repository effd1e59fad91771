package parser

import "rungbook/training"

// score reads a 0-10 beside a site: "L elbow 3/10", "elbows 0/10", "pain 3/10 L
// elbow", "wrist pain: 4". Without a site's word, or beside the word of an
// effort, a number is none of it.
func (s *sufferer) score(from, to int, here *places, g *grade) {
	if here.n == 0 && !s.painWord(from, to) {
		return
	}
	for i := from; i < to; i++ {
		n, next, scale, ok := s.scaled(i, to)
		if !ok {
			continue
		}
		if s.has(next, fEffort|fRIR) || s.has(i-min(i, 1), fEffort|fRIR|fTimes) || !s.scoreFits(i, next, from, here, scale) {
			i = next - 1
			continue
		}
		for j := i; j < next; j++ {
			s.toks[j].used = true
		}
		n = max(n, s.worse(next, to, scale))
		g.score = training.Optional{Value: n, Known: scale >= 0}
		g.pain = n > 0
		if n == 0 && scale >= 0 {
			g.pain, g.mood, s.calm = false, false, true
		} else if here.n == 0 && s.at.n == 0 {
			s.firm = true
			s.reports = append(s.reports, report{Site: siteOther, Score: g.score})
		}
		return
	}
}

func (s *sufferer) painWord(from, to int) bool {
	for i := from; i < to; i++ {
		if s.is(i, "pain") {
			return true
		}
	}
	return false
}

// worse returns the highest number out of ten in the rest of a clause, where the one
// before was out of ten: 0/10 then 3/10. Beside another site it is of that one.
func (s *sufferer) worse(from, to, scale int) (most int) {
	for i := from; i < to && scale == 10 && !s.speaks(i, bSite); i++ {
		if n, next, scale, ok := s.scaled(i, to); ok && scale == 10 && !s.has(next, fEffort|fRIR) && !s.has(i-1, fEffort|fRIR) {
			most = max(most, n)
			i = next - 1
		}
	}
	return most
}

// onScale reports whether pain is given a number out of ten, though no site is
// named: pain 3/10.
func (s *sufferer) onScale() bool {
	for i := range s.toks {
		if !s.is(i, "pain") {
			continue
		}
		for j := i + 1; j < i+4 && j < len(s.toks)-1; j++ {
			if _, _, scale, ok := s.scaled(j, len(s.toks)); ok && scale == 10 {
				return true
			}
		}
	}
	return false
}

// scaled reads n/10, n out of 10 and a bare n up to ten. The scale is 0 for a
// bare number and -1 where it is not ten: then the number says nothing.
func (s *sufferer) scaled(i, to int) (n, next, scale int, ok bool) {
	v, next, ok := s.number(i)
	if j := next + 1; ok && (s.punct(next, '-') && s.toks[next].glued || s.is(next, "to")) && s.toks[j].kind == kNum && !s.toks[j].used && s.toks[j].n <= 10 && v.milli <= 10_000 { // 2-3/10: the worse
		v, next, ok = s.number(j)
	}
	if !ok || v.milli > 10_000 && !s.punct(next, '/') {
		return 0, i, 0, false
	}
	n = int((v.milli + 500) / 1000)
	switch {
	case s.punct(next, '/') && next+1 < len(s.toks) && s.toks[next+1].kind == kNum && !s.punct(next+2, '/'):
		if s.toks[next+1].n == 10 {
			return n, next + 2, 10, n <= 10
		}
		return n, next + 2, -1, s.toks[next+1].n > 1 && s.toks[next+1].n <= 100
	}
	if end, over := s.outOfTen(next); over == 10 {
		return n, end, 10, n <= 10
	}
	if v.words || s.has(next, fSec|fMin|fHour|fRep|fKg|fLb|fSet|fRound|fTimes|fDays) || s.toks[next].kind == kNum || s.toks[next].kind == kPunct && s.toks[next].glued && !s.sepAt(next) {
		return 0, i, 0, false
	}
	if s.punct(next, ':') || s.punct(next, '/') || s.punct(next, '-') || s.punct(next, '.') && s.toks[next+1].kind == kNum && s.toks[next+1].glued {
		return 0, i, 0, false
	}
	return n, next, 0, n <= 10
}

// scoreFits reports whether a number stands close enough to a site to be its
// score.
func (s *sufferer) scoreFits(i, next, from int, here *places, scale int) bool {
	pain := false
	for j := i - 1; j >= from && j >= i-6; j-- {
		t := &s.toks[j]
		if t.kind == kPunct && (t.n == ':' || t.n == '(' || t.n == ')' || t.n == '=' || t.n == '~' || t.n == '@' || t.n == '-') {
			continue
		}
		if t.kind != kWord {
			break
		}
		pain = pain || s.is(j, "pain") || s.is(j, "level")
		if t.body&bSite != 0 || s.is(j, "pain") && here.n == 0 {
			return scale == 10 || pain || s.painWord(from, i) || j == i-1 && s.punct(next, ',') || s.is(i-1, "a") || s.is(i-1, "at") || j == i-1 && s.sepAt(next) && scale == 0
		}
		if t.body&(bLink|bComplaint) == 0 && t.f&(fFill|fFeel|fOf|fAt|fLeft|fRight) == 0 && t.body&bTissue == 0 && !s.is(j, "level") && !s.is(j, "about") && !s.is(j, "sitting") && !s.is(j, "hovering") {
			break
		}
	}
	if here.n == 0 {
		return false
	}
	for j := next; j <= here.of[0].at && j < next+6; j++ {
		switch t := &s.toks[j]; {
		case j == here.of[0].at:
			return (scale == 10 || pain) && !here.of[0].good
		case t.kind != kWord || t.body&(bLink|bComplaint|bMine) == 0 && t.f&(fLeft|fRight|fBoth|fFill|fOf) == 0:
			return false
		}
	}
	return false
}

// scoresAbout gives a report the number that stands in a clause of its own right
// behind it or before it: "right elbow sore, 4/10". In a message with a report
// such a number is never an effort, for an effort is kept and shown.
func (s *sufferer) scoresAbout() {
	for _, t := range s.talks {
		i := t.to
		for step := 0; step < 8 && s.betweenScore(i); step++ {
			i++
		}
		if n, next, scale, ok := s.scaled(i, len(s.toks)); ok && !s.has(next, fEffort|fRIR) && (scale != 0 || s.sepAt(next)) {
			s.scored(t, i, next, n, scale)
		}
		i = t.from - 1
		for step := 0; step < 4 && i > 0 && s.sepAt(i); step++ {
			i--
		}
		if i >= 2 && s.toks[i].kind == kNum && s.toks[i].n == 10 && s.punct(i-1, '/') && s.toks[i-2].kind == kNum && (i == 2 || s.sepAt(i-3)) {
			s.scored(t, i-2, i+1, int(s.toks[i-2].n), 10)
		}
	}
}

// betweenScore reports whether token i may stand between a report and its
// score.
func (s *sufferer) betweenScore(i int) bool {
	t := &s.toks[i]
	switch t.kind {
	case kPunct, kLine, kSign:
		return true
	case kWord:
		return t.f&fEffort == 0 && (t.body&(bLink|bPain) != 0 || t.f&(fFill|fFeel|fAt|fOf) != 0 || t.used)
	}
	return t.kind == kNum && t.used
}

// scored gives a number to a report.
func (s *sufferer) scored(t talk, from, to, n, scale int) {
	for i := from; i < to; i++ {
		s.toks[i].used = true
	}
	for i := from - 1; i >= t.to && s.betweenScore(i); i-- {
		s.toks[i].used = s.toks[i].used || s.toks[i].kind == kPunct && s.toks[i].n == '@' || s.toks[i].kind == kWord
	}
	if t.report < len(s.reports) && !s.reports[t.report].Score.Known && n > 0 && n <= 10 && scale >= 0 {
		s.reports[t.report].Score = training.Known(n)
	}
}

// use marks what was read as talk of the body, so that no size is made of it:
// from the first such word on to the end of the clause, unless a set begins.
func (s *sufferer) use(from, to int) {
	first := to
	for i := from; i < to; i++ {
		if s.speaks(i, bSite|bPain|bUrgent|bBurst|bSkin|bTorn|bWeak) {
			first = i
			break
		}
	}
	if s.sideWord(first-min(first, 1)) != "" && first > from {
		first--
	}
	for i := first; i < to; i++ {
		if s.startsSet(i) {
			return
		}
		if k := s.toks[i].kind; k == kWord || k == kNum || k == kFrac {
			s.toks[i].used = true
		}
	}
}

// startsSet reports whether a set may begin at token i.
func (s *sufferer) startsSet(i int) bool {
	if s.toks[i].used {
		return false
	}
	if k := s.toks[i].kind; k == kNum || k == kFrac {
		return s.has(i+1, fTimes) || s.has(i+1, fSec|fMin) && s.toks[i+1].glued
	}
	return false
}
