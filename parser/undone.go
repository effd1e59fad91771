package parser

// undone judges a word by what stands beside it, where only the two together say
// that no sets were done: on the menu, in my dreams, most weeks.
func (r *reader) undone(i int, before, did bool) sway {
	t := &r.toks[i]
	if t.f == 0 && t.m == 0 {
		return r.undoneNoun(i, before)
	}
	switch {
	case t.f&fDays != 0 && r.is(i-1, "most"): // most weeks it's 3x20s
		return denies
	case before && r.is(i, "took") && (r.is(i+1, "me") || r.is(i+1, "us")) && r.toks[i+2].kind == kNum: // took me 4 months to
		return holds
	case before && !did && r.is(i, "start") && r.hasMood(i-1, mMe): // I start at 2x15s
		return denies
	case before && r.is(i, "in") && r.toks[i+1].kind == kNum && r.has(i+2, fMin|fHour) && r.hasMood(i+3, mMe): // in 20 min I
		return denies
	case before && r.tellsOf(i+1) && (r.is(i, "gym") || r.is(i, "video") || r.is(i, "vid") || r.is(i, "clip") || r.is(i, "class")):
		return denies
	case before && r.is(i, "do") && r.hasMood(i-1, mMe) && r.has(i-2, fWeekday): // on Thursday we do
		return denies
	case !before && r.is(i, "if") && r.supposed(i+1):
		return denies
	case !before && !did && r.toCome(i): // 3x30s deep hang next Thursday
		return denies
	}
	return tells
}

// toCome reports whether words behind a size put it into the future, or make it an
// aim: next Thursday, this Saturday, when I get home, is the goal.
func (r *reader) toCome(i int) bool {
	switch {
	case r.is(i, "next"):
		return r.has(i+1, fWeekday) || r.is(i+1, "week") || r.is(i+1, "month")
	case r.has(i, fWeekday) && r.is(i-1, "this"):
		today := (int(r.ctx.Today.Weekday()) + 6) % 7
		return (int(r.toks[i].n)+6)%7 > today
	case r.is(i, "when"), r.is(i, "once"):
		return r.hasMood(i+1, mMe) && !r.hasMood(i+2, mDid)
	case r.is(i, "is"):
		return r.is(i+1, "what") || (r.is(i+1, "the") || r.is(i+1, "my")) && (r.is(i+2, "goal") || r.is(i+2, "plan") || r.is(i+2, "target") || r.is(i+2, "aim") || r.is(i+2, "dream"))
	}
	return false
}

// undoneNoun judges a noun that nothing is known of.
func (r *reader) undoneNoun(i int, before bool) sway {
	if before && r.tellsOf(i+1) { // my old gym had, the video shows
		return denies
	}
	switch string(r.word(i)) {
	case "menu", "list", "cards", "agenda":
		if r.is(i-2, "on") {
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
