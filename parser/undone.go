package parser

// undone judges a word by what stands beside it, where only the two together say
// that no sets were done: on the menu, in my dreams, most weeks.
func (r *reader) undone(i int, before, did bool) sway {
	t := &r.toks[i]
	if t.part || t.f&(fSec|fMin|fRep|fKg|fTimes|fSet|fRest|fAnd) != 0 { // most words of a log
		return tells
	}
	if t.f == 0 && t.m == 0 {
		return r.undoneNoun(i, before)
	}
	switch {
	case r.is(i-1, "most") && (t.f&fDays != 0 || r.is(i, "sessions") || r.is(i, "workouts") || r.is(i, "mornings") || r.is(i, "evenings")): // most weeks it's 3x20s
		return denies
	case before && r.is(i, "took") && (r.is(i+1, "me") || r.is(i+1, "us")) && r.toks[i+2].kind == kNum: // took me 4 months to
		return holds
	case before && !did && r.is(i, "have") && r.is(i+1, "a") && (r.is(i+2, "go") || r.is(i+2, "crack") || r.is(i+2, "stab") || r.is(i+2, "bash")): // have a go at 5x4s
		return holds
	case before && (r.is(i, "almost") || r.is(i, "nearly")) && r.hasMood(i+1, mDid):
		return denies
	case before && !did && r.is(i, "start") && r.hasMood(i-1, mMe): // I start at 2x15s
		return denies
	case before && r.is(i, "in") && r.toks[i+1].kind == kNum && r.has(i+2, fMin|fHour) && r.hasMood(i+3, mMe): // in 20 min I
		return denies
	case before && r.tellsOf(i+1) && (r.is(i, "gym") || r.is(i, "video") || r.is(i, "vid") || r.is(i, "clip") || r.is(i, "class")):
		return denies
	case before && r.is(i, "left") && r.is(i+1, "out"), before && r.is(i, "each") && (r.is(i+1, "session") || r.is(i+1, "class") || r.is(i+1, "time")):
		return denies
	case before && r.is(i, "once") && (r.hasMood(i+1, mMe) || r.is(i+1, "the")) && !r.hasMood(i+2, mDid), r.inMonth(i):
		return denies
	case before && r.is(i, "warm") && r.is(i+1, "up") && r.is(i+2, "with"), !before && r.commends(i):
		return holds
	case (r.is(i, "menu") || r.is(i, "agenda")) && r.is(i-2, "on"), r.hasMood(i, mYou) && r.is(i-1, "of"), r.hasMood(i, mOther) && r.toks[i-min(i, 1)].kind == kNum && !before && r.digitsIn(i, len(r.toks)):
		return holds
	case before && (r.is(i, "next") && r.is(i+1, "one") || r.is(i, "typed") || r.is(i, "wrote")): // next one: 5x2
		return holds
	case before && r.is(i, "do") && r.hasMood(i-1, mMe) && r.has(i-2, fWeekday): // on Thursday we do
		return denies
	case !before && r.is(i, "if") && r.supposed(i+1):
		return denies
	case !before && !did && r.toCome(i): // 3x30s deep hang next Thursday
		return denies
	}
	return tells
}

// inMonth reports whether a month gone by is named without a day: in March I did.
func (r *reader) inMonth(i int) bool {
	if !r.has(i, fMonth) || !r.is(i-1, "in") || r.toks[i+1].kind == kNum {
		return false
	}
	_, month, _ := r.ctx.Today.Civil()
	return int(r.toks[i].n) != int(month)
}

// commends reports whether praise of somebody stands at token i: what a beast.
func (r *reader) commends(i int) bool {
	if !r.is(i, "what") || !r.is(i+1, "a") {
		return false
	}
	switch string(r.wordOr(i + 2)) {
	case "beast", "machine", "legend", "hero", "champ", "star", "monster":
		return true
	}
	return false
}

// toCome reports whether words behind a size put it into the future, or make it an
// aim: next Thursday, this Saturday, when I get home, is the goal.
func (r *reader) toCome(i int) bool {
	switch {
	case r.is(i, "next"):
		return r.has(i+1, fWeekday) || r.is(i+1, "week") || r.is(i+1, "month") || r.is(i+1, "time") || r.is(i+1, "session")
	case r.has(i, fWeekday) && r.is(i-1, "this"):
		today := (int(r.ctx.Today.Weekday()) + 6) % 7
		return (int(r.toks[i].n)+6)%7 > today
	case r.is(i, "when"), r.is(i, "once"):
		return r.hasMood(i+1, mMe) && !r.hasMood(i+2, mDid)
	case r.is(i, "is"):
		return r.is(i+1, "what") || r.is(i+1, "how") || r.is(i+1, "too") || r.is(i+1, "the") && (r.is(i+2, "gate") || r.is(i+2, "standard") || r.is(i+2, "minimum") || r.is(i+2, "rule")) || (r.is(i+1, "the") || r.is(i+1, "my")) && (r.is(i+2, "goal") || r.is(i+2, "plan") || r.is(i+2, "target") || r.is(i+2, "aim") || r.is(i+2, "dream"))
	}
	return false
}

// recalls reports whether a clause behind another one only tells what it was
// before: ..., last week 40s; (last time 25s).
func (r *reader) recalls(c *clause) bool {
	if i := c.from; i > 0 && r.has(i, fLast) && (r.is(i+1, "week") || r.is(i+1, "month") || r.is(i+1, "time")) && r.digitsIn(0, i) {
		_, ok := r.quantity(i + 2)
		return ok
	}
	return false
}

// undoneNoun judges a noun that nothing is known of.
func (r *reader) undoneNoun(i int, before bool) sway {
	if before && r.tellsOf(i+1) { // my old gym had, the video shows
		return denies
	}
	switch string(r.word(i)) {
	case "meant":
		if r.is(i+1, "to") {
			return denies
		}
	case "menu", "list", "card", "cards", "agenda", "board", "whiteboard", "schedule":
		if r.is(i-2, "on") || r.punct(i+1, ':') {
			return holds
		}
	case "proud":
		if before && r.is(i+1, "of") {
			return holds
		}
	case "average", "averaging":
		if before {
			return denies
		}
	case "group", "team", "station":
		if label := &r.toks[i+1]; before && (label.kind == kNum || label.kind == kWord && label.b-label.a == 1) {
			return holds
		}
	case "coming":
		if r.is(i+1, "up") {
			return holds
		}
	case "dreams", "dream":
		if r.is(i-2, "in") {
			return holds
		}
	case "typed", "wrote", "watched", "watching", "filmed", "coached", "taught", "spotted", "counted":
		if before {
			return holds
		}
	case "woman", "man", "lady", "stranger", "teenager", "homework", "password", "hint", "file", "filename":
		if before {
			return holds
		}
	}
	return tells
}

// tellsOf reports whether a verb at token i says of a thing or somebody else what
// they have or show.
func (r *reader) tellsOf(i int) bool {
	switch string(r.wordOr(i)) {
	case "had", "has", "shows", "showed", "lists", "wants", "does", "demands", "calls":
		return true
	}
	return false
}

// supposed reports whether what stands at token i is what a condition is made of:
// if the hall is warm. A report may end in if it counts.
func (r *reader) supposed(i int) bool {
	switch string(r.wordOr(i)) {
	case "the", "we", "i", "you", "there", "my", "weather":
		return true
	case "it":
		return !r.is(i+1, "counts") && !r.is(i+1, "matters")
	}
	return false
}

// yetToCome reports whether what stands at token i, before a size, says that it
// is yet to come: time for 5 pull-ups, looking to hit 30s, I'm doing 3x30s.
func (r *reader) yetToCome(i int) bool {
	switch {
	case r.is(i, "time"), r.is(i, "now"):
		return r.is(i+1, "for")
	case r.is(i, "to"):
		return r.toBeDone(i + 1)
	case r.is(i, "doing"):
		return r.hasMood(i-1, mMe) || r.is(i-1, "are") || r.is(i-1, "am")
	}
	return false
}

// by reports whether a time to come is set: 10 pull-ups by summer.
func (r *reader) by(i int) bool {
	return r.is(i, "by") && (r.has(i+1, fMonth|fWeekday) || r.noun(i+1))
}

// strangeBefore reports whether a word that nothing is known of stands before the
// first number, where no past form says that something was done: thinking of 5
// pull-ups. Behind "so" a report begins anew: quiet evening, so 3x15s.
func (r *reader) strangeBefore(c *clause, number int) bool {
	if r.countedAt(number) && !r.leansOn(number-1) {
		return false // boathouse again 3x30s: that is written of sets, whatever stands before it
	}
	for i := number - 1; i >= c.from && !r.is(i, "so"); i-- { // quiet evening so 3x15s
		if t := &r.toks[i]; t.kind == kWord && t.f == 0 && t.m == 0 && t.body == 0 && !r.partOfAName(i) && t.b-t.a > 1 && !t.glued && !r.isPeriod(i) && !r.nearName(i) && !(i > c.from && r.toks[i-1].kind == kWord && r.nearName(i-1)) {
			return true
		}
	}
	return false
}

// countedAt reports whether a count and a size with its unit begin at token i.
func (r *reader) countedAt(i int) bool {
	at := r.itemAt(int32(i))
	return at < len(r.items) && r.items[at].k == iSize && r.items[at].count > 0 && r.items[at].unit != uNone
}

// leansOn reports whether the word before a size makes it the object of what
// somebody thinks or plans: thinking of, heading out for, finish with, pondering.
func (r *reader) leansOn(i int) bool {
	word := string(r.wordOr(max(i, 0)))
	switch word {
	case "of", "for", "with", "about", "to", "on", "in", "at", "from", "do", "try", "hold", "weekend":
		return true
	}
	return len(word) >= 5 && word[len(word)-3:] == "ing"
}

// planned reports whether a clause says what somebody set out to do.
func (r *reader) planned(c *clause) bool {
	if c == nil {
		return false
	}
	for i := c.from; i < c.to; i++ {
		switch string(r.wordOr(i)) {
		case "planned", "plan", "aimed", "wanted", "goal", "target", "supposed", "meant", "hoped", "tried":
			return true
		}
	}
	return false
}

// opensDone reports whether a past form of doing opens a clause.
func (r *reader) opensDone(c *clause) bool {
	i := r.opener(*c)
	if r.hasMood(i, mMe) {
		i++
	}
	return r.is(i, "did") || r.is(i, "got") || r.is(i, "managed") || r.is(i, "ended") || (r.is(i, "only") || r.is(i, "just")) && (r.is(i+1, "did") || r.is(i+1, "got") || r.is(i+1, "managed"))
}
