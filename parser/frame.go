package parser

import "rungbook/training"

// frame says whether a clause's complaints are somebody else's, supposed, asked
// in general or of the past. It looks at what stands before the site and the
// complaint.
func (s *sufferer) frame(from, to int, here *places) bool {
	at := s.firstTalk(from, to)
	ifs, fear := false, false
	for i := from; i < at; i++ {
		if i == from && s.is(i, "when") && s.promises(i) {
			ifs = true
		}
		if s.speaks(i, bIf) && !s.wonders(i) && !s.already(i, to) {
			ifs = true
		}
		fear = fear || s.speaks(i, bFear) && !s.is(i+1, "barely") && !s.is(i+1, "hardly") && !(s.is(i, "could") && s.is(i+1, "not")) && !s.is(i+1, "lie") || s.is(i+1, "of") && (s.is(i, "sign") || s.is(i, "signs")) || i == from && (s.is(i, "report") || s.is(i, "mention") || s.is(i, "flag")) || (s.is(i, "going") || s.is(i, "want")) && s.is(i+1, "to")
	}
	s.dead = s.dead || ifs || s.quotes(from, at) || s.whenever(from, at)
	fear = fear || s.within(from, to, "worst") && s.whose(from, to) != mine || s.recovered(from, at) || (s.within(from, to, "common") || s.within(from, to, "typical")) && s.whose(from, to) != mine || s.advice(from, at) || s.topic(from, at)
	s.past = s.past || s.longGone(from, to) || s.old && here.n == 0 && s.fineNow(from, to)
	s.old = s.old || s.within(from, to, "old")
	whose := s.whose(from, at)
	if s.thisOne(from, to) {
		whose, fear = mine, false
	}
	for i := range here.n {
		if w := s.owned(here.of[i].at, from); w != nobody {
			whose = w
		}
	}
	switch whose {
	case mine:
		s.other = false
	case theirs:
		s.other = true
	case yours:
		return true
	}
	return s.other || s.dead || fear || s.generalQuestion(from, to, here)
}

// quotes reports whether a clause stands behind what reads it out: the poster
// reads: wrist pain?
func (s *sufferer) quotes(from, at int) bool {
	if s.punct(from, ':') {
		from++
	}
	return s.punct(from-1, ':') && (s.is(from-2, "reads") || s.is(from-2, "says") && !s.speaks(from-3, bSite))
}

// whenever reports whether a clause only supposes: in case my wrist gets sore,
// what happens when I type that it hurts, stop when the elbow starts to ache.
func (s *sufferer) whenever(from, at int) bool {
	i := s.opener(clause{from: from, to: at})
	order := s.is(i, "stop") || s.is(i, "tell") || s.is(i, "rest") || s.is(i, "quit") || s.is(i, "back") && s.is(i+1, "off") || s.is(i, "drop")
	for j := i; j < at; j++ {
		switch {
		case s.is(j, "case") && s.is(j-1, "in"), s.is(j, "happens") && s.is(j-1, "what"):
			return true
		case order && j > i && (s.is(j, "when") || s.is(j, "whenever") || s.is(j, "once") || s.is(j, "as")):
			return true
		}
	}
	return false
}

// recovered reports whether a clause begins with what is over: recovered from the
// wrist sprain.
func (s *sufferer) recovered(from, at int) bool {
	for i := from; i < at; i++ {
		if (s.is(i, "recovered") || s.is(i, "healed")) && s.is(i+1, "from") && !s.denied(i, from) {
			return true
		}
	}
	return false
}

// promises reports whether the sentence of token i says what will be done.
func (s *sufferer) promises(i int) bool {
	for ; i < len(s.toks)-1 && !s.endsSentence(i); i++ {
		if s.is(i, "i'll") || s.is(i, "will") {
			return true
		}
	}
	return false
}

// thisOne reports whether a hurt is pointed at: this shoulder pain.
func (s *sufferer) thisOne(from, to int) bool {
	for i := from; i < to; i++ {
		if s.is(i, "this") && (s.speaks(i+1, bPain) || s.speaks(i+1, bSite) && s.speaks(i+2, bPain)) {
			return true
		}
	}
	return false
}

// firstTalk returns the first token of a clause that is a site or a complaint,
// whichever stands last of a leading pair: what comes before frames it.
func (s *sufferer) firstTalk(from, to int) int {
	for i := from; i < to; i++ {
		if s.speaks(i, bSite|bPain|bUrgent|bBurst|bSkin|bCondition) {
			return i
		}
	}
	return to
}

// wonders reports whether an if only asks: "not sure if my elbow hurts from it".
func (s *sufferer) wonders(i int) bool {
	if (s.speaks(i+1, bMine) || s.has(i+1, fBoth)) && s.askedBefore(i) && s.asksLeave(i) {
		return true
	}
	return s.is(i-min(i, 1), "sure") || s.is(i-min(i, 1), "wondering") || s.is(i-min(i, 1), "dunno") || s.is(i-min(i, 1), "know") || s.is(i-min(i, 1), "as")
}

// askedBefore reports whether the words before token i, from the last comma on, open
// a question: is it bad if; ok to hang if.
func (s *sufferer) askedBefore(i int) bool {
	from := i
	for from > 0 && !s.endsSentence(from-1) && !s.punct(from-1, ',') {
		from--
	}
	first := s.opener(clause{from: from, to: i})
	return s.hasMood(first, mAsk) || s.is(first, "ok") || s.is(first, "okay") || s.is(first, "safe")
}

// asksLeave reports whether a question before token i asks for leave to go on: is
// it ok to train if my elbow hurts? What starts one day is only supposed.
func (s *sufferer) asksLeave(i int) bool {
	from := s.begins(i)
	leave := s.within(from, i, "ok") || s.within(from, i, "okay") || s.within(from, i, "safe") || s.within(from, i, "fine") || s.within(from, i, "bad") || s.within(from, i, "normal")
	first := s.opener(clause{from: from, to: i})
	leave = leave || s.is(first, "can") || s.is(first, "should") || s.is(first, "may")
	for j := i; j < i+9 && j < len(s.toks)-1; j++ {
		if s.is(j, "starts") || s.is(j, "start") || s.is(j, "ever") || s.is(j, "gets") || s.is(j, "would") {
			return false
		}
	}
	return leave
}

// begins returns where the sentence of token i begins.
func (s *sufferer) begins(i int) int {
	for i > 0 && !s.endsSentence(i-1) {
		i--
	}
	return i
}

// advice reports whether a clause forbids: don't train with elbow pain.
func (s *sufferer) advice(from, at int) bool {
	i := s.opener(clause{from: from, to: at})
	if !s.is(i, "don't") && !s.is(i, "dont") && !s.is(i, "never") || s.speaks(i+1, bFeel) || i >= at {
		return false
	}
	for j := i; j < at; j++ {
		if s.speaks(j, bMine) {
			return false
		}
	}
	return s.has(i+1, fFill|fHead|fActivity|fOn) || s.is(i+1, "train") || s.is(i+1, "want") || s.is(i+1, "need") || s.hasMood(i+1, mOrder)
}

// topic reports whether something to see or read is about it: a video about
// shoulder pain.
func (s *sufferer) topic(from, at int) bool {
	for i := from + 1; i < at; i++ {
		if s.is(i, "about") || s.is(i, "on") {
			switch string(s.wordOr(i - 1)) {
			case "video", "vid", "clip", "post", "thread", "reel", "episode", "chapter", "page", "talk":
				return true
			}
		}
	}
	return false
}

// already reports whether what an if supposes is so: "if my elbow still hurts".
func (s *sufferer) already(i, to int) bool {
	return s.within(i, to, "already") || s.within(i, to, "still")
}

// owner of a site.
type owner uint8

const (
	nobody owner = iota // unsaid
	mine
	theirs
	yours
)

// whose looks for the last person spoken of before the complaint.
func (s *sufferer) whose(from, at int) owner {
	out := nobody
	for i := from; i < at; i++ {
		t := &s.toks[i]
		switch {
		case t.kind != kWord:
		case t.body&bMine != 0:
			out = mine
		case t.body&bOther != 0:
			out = theirs
		case t.body&bYou != 0:
			out = yours
		case i == from && t.capital && s.stranger(i):
			out = theirs
		}
	}
	return out
}

// stranger reports whether a clause opens with a name of its own: "Priya has
// elbow pain".
func (s *sufferer) stranger(i int) bool {
	t := &s.toks[i]
	if t.f != 0 || t.m != 0 || t.body != 0 || s.partOfAName(i) {
		return false
	}
	return s.is(i+1, "has") || s.is(i+1, "had") || s.is(i+1, "hurt") || s.is(i+1, "tweaked") || s.is(i+1, "strained") || s.is(i+1, "tore") || s.is(i+1, "broke") || s.is(i+1, "says") || s.is(i+1, "said")
}

// owned looks for the owner right before a site, over the words that describe
// it: "my left elbow", "Wen's bad elbow", "his wrist".
func (s *sufferer) owned(at, from int) owner {
	for j := at - 1; j >= from && j >= at-6; j-- {
		t := &s.toks[j]
		switch {
		case t.kind == kPunct && t.n == '(':
		case t.kind != kWord:
			return nobody
		case t.body&bMine != 0:
			return mine
		case t.body&bOther != 0:
			return theirs
		case t.body&bYou != 0:
			return yours
		case t.owner && t.f&(fToday|fYesterday|fWeekday|fMonth|fDays|fDayPart) == 0 && t.body == 0:
			return theirs
		case t.f&(fLeft|fRight|fBoth|fFill) == 0 && t.body&(bLink|bComplaint|bSports|bTissue|bMuscle) == 0 && !s.is(j, "of") && !s.is(j, "inside") && !s.is(j, "front"):
			return nobody
		}
	}
	return nobody
}

// longGone reports whether a clause speaks of what is long over.
func (s *sufferer) longGone(from, to int) bool {
	year, _, _ := s.ctx.Today.Civil()
	for i := from; i < to; i++ {
		t := &s.toks[i]
		switch {
		case t.kind == kNum && t.digits == 4 && t.n > 1950 && int(t.n) < year:
			return true
		case t.kind != kWord:
		case (s.is(i, "school") || s.is(i, "uni") || s.is(i, "college")) && (s.is(i-1, "at") || s.is(i-1, "in")), s.decade(i):
			return true
		case t.body&bPast != 0, s.is(i, "used") && s.is(i+1, "to"), s.is(i, "as") && s.is(i+1, "a") && s.is(i+2, "kid"):
			return true
		case s.is(i, "was") && s.is(i-1, "i") && (s.has(i+1, fOnes|fTens) || s.toks[i+1].kind == kNum): // when I was nine
			return s.is(i-2, "when")
		case s.is(i, "back") && s.is(i+1, "in") && s.has(i+2, fMonth):
			return true
		case s.is(i, "ago") && (s.unitOfYears(i-1) || s.is(i-1, "ages")), s.is(i, "last") && s.unitOfYears(i+1):
			return true
		}
	}
	return false
}

// decade reports whether years of a life end at token i: in my twenties.
func (s *sufferer) decade(i int) bool {
	if !s.speaks(i-1, bMine|bOther) || !s.is(i-2, "in") {
		return false
	}
	switch string(s.word(i)) {
	case "teens", "twenties", "thirties", "forties", "fifties", "youth", "20s", "30s":
		return true
	}
	return false
}

// fineNow reports whether a clause says that all is well, and complains of
// nothing.
func (s *sufferer) fineNow(from, to int) bool {
	good := false
	for i := from; i < to; i++ {
		if s.speaks(i, bDenies) && s.speaks(i+1, bSomething) { // no problem now
			return true
		}
		if s.speaks(i, bComplaint|bDenies) {
			return false
		}
		good = good || s.speaks(i, bGood)
	}
	return good
}

func (s *sufferer) unitOfYears(i int) bool {
	return i >= 0 && (s.is(i, "year") || s.is(i, "years") || s.is(i, "yrs") || s.is(i, "month") || s.is(i, "months") || s.is(i, "decade") || s.is(i, "season") || s.is(i, "winter") || s.is(i, "summer") || s.is(i, "spring") || s.is(i, "autumn") || s.is(i, "seasons") || s.is(i, "winters") || s.is(i, "summers") || s.is(i, "decades") || s.is(i, "yr"))
}

// presentIn reports whether a clause says that it is so now.
func (s *sufferer) presentIn(from, to int) bool {
	for i := from; i < to; i++ {
		if s.is(i-1, "was") || s.is(i-1, "were") || s.is(i, "back") && s.is(i+1, "in") {
			continue
		}
		if s.speaks(i, bNow) || s.speaks(i, bReturn) && i > from && s.speaks(i-1, bReturn|bComplaint|bSite|bLink) || s.is(i, "now") || s.is(i, "today") {
			return true
		}
	}
	return false
}

// generalQuestion reports whether a clause asks about bodies in general.
func (s *sufferer) generalQuestion(from, to int, here *places) bool {
	i := s.opener(clause{from: from, to: to})
	if s.is(i, "any") && (s.is(i+1, "tips") || s.is(i+1, "advice") || s.is(i+1, "tricks")) && s.is(i+2, "against") {
		return s.whose(from, to) != mine
	}
	if i >= to || !s.hasMood(i, mAsk) && !(s.is(i, "best") && s.within(i, to, "for") || s.is(i, "best") && s.within(i, to, "against")) || s.has(i, fTimes) {
		return false
	}
	end := to
	for end < len(s.toks)-1 && !s.endsSentence(end) {
		end++
	}
	if !s.punct(end, '?') && s.is(i, "when") {
		return false
	}
	for j := from; j < end; j++ {
		if s.speaks(j, bMine) || s.sideWord(j) == training.Left || s.is(j, "this") && s.speaks(j+1, bPain|bSite) {
			return false
		}
	}
	for k := range here.n {
		if p := &here.of[k]; s.is(p.at-min(p.at, 1), "the") && !p.many || p.side != "" {
			return false
		}
	}
	return true
}

// figures are figures of speech, as words that stand together.
var figures = [...][2]string{
	{"cold", "shoulder"}, {"shoulder", "to"}, {"elbow", "grease"}, {"elbow", "room"}, {"the", "wrist"}, {"my", "shoulders"}, {"in", "the"}, {"rubbing", "elbows"}, {"rubbing", "shoulders"}, {"rub", "shoulders"}, {"rub", "elbows"}, {"one", "shoulder"},
	{"such", "a"}, {"no", "gain"}, {"hand", "in"}, {"on", "hand"}, {"give", "hand"}, {"chip", "on"}, {"second", "hand"}, {"first", "hand"}, {"hands", "down"}, {"thumbs", "up"}, {"thumb", "up"}, {"finger", "crossed"}, {"fingers", "crossed"},
}

// figure reports whether a clause only uses the body to say something else.
func (s *sufferer) figure(from, to int) bool {
	for i := from; i+1 < to; i++ {
		for _, f := range figures {
			if !s.is(i, f[0]) || !s.is(i+1, f[1]) {
				continue
			}
			switch f[0] {
			case "the": // a slap on the wrist
				if i-from >= 2 && s.is(i-2, "slap") {
					return true
				}
			case "my": // carrying the team on my shoulders
				if s.within(from, i, "carrying") && s.within(from, i, "on") {
					return true
				}
			case "in": // a pain in the neck
				if i > from && s.is(i-1, "pain") && s.speaks(i+2, bAway) {
					return true
				}
			case "such":
				if s.is(i+2, "pain") {
					return true
				}
			case "one": // on one shoulder, pizza on the other
				if i > from && s.is(i-1, "on") && s.is(i-2, "angel") {
					return true
				}
			default:
				return true
			}
		}
	}
	return false
}

func (s *sufferer) within(from, to int, word string) bool {
	for i := from; i < to; i++ {
		if s.is(i, word) {
			return true
		}
	}
	return false
}
