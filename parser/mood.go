package parser

// verdict of a clause.
type sway uint8

const (
	tells  sway = iota // may report
	denies             // reports nothing; the next clause may
	holds              // reports nothing, nor does what follows in the sentence
)

// kills judges one clause by its words. Most words count only before the first
// number: "could not have done more" behind it is a remark.
func (r *reader) kills(c *clause) sway {
	if r.recalls(c) {
		return denies
	}
	number := r.firstNumber(c)
	out := r.subject(c)
	did, compared := false, false
	for i := c.from; i < c.to; i++ {
		t := &r.toks[i]
		if t.kind == kNum && r.yearGone(i) {
			return holds
		}
		if !compared && !t.glued && r.punct(i, '>') && i > number && r.digitsIn(i, c.to) { // 3x30s > 1x90s
			if compared = true; r.oneName(c) {
				return holds
			}
		}
		if t.kind != kWord {
			continue
		}
		if t.owner && t.f == 0 && t.m == 0 && t.body == 0 && i <= number+2 && !r.partOfAName(i) {
			return holds
		}
		out = max(out, r.wordSway(i, i < number, did), r.undone(i, i < number, did))
		did = did || t.m&mDid != 0
	}
	if out == tells && !did && number < c.to && r.strangeBefore(c, number) {
		return holds
	}
	if out == denies && (number < c.to || r.punct(c.to, ':')) {
		return holds
	}
	return out
}

// oneName reports whether a clause names no more than one skill.
func (r *reader) oneName(c *clause) bool {
	name := int32(-1)
	for k := r.itemAt(int32(c.from)); k < len(r.items) && int(r.items[k].from) < c.to; k++ {
		if it := &r.items[k]; it.k == iName && name >= 0 && it.n != name {
			return false
		} else if it.k == iName {
			name = it.n
		}
	}
	return true
}

func (r *reader) firstNumber(c *clause) int {
	for i := c.from; i < c.to; i++ {
		if k := r.toks[i].kind; k == kNum || k == kFrac || r.has(i, fOnes|fTens|fHalf|fCouple) && !r.is(i, "one") {
			return i
		}
	}
	return c.to
}

func (r *reader) partOfAName(i int) bool {
	_, ok := r.partOfName(i)
	return ok
}

// subject judges how the clause opens: with somebody else, or with an order.
func (r *reader) subject(c *clause) sway {
	i := r.opener(*c)
	if i >= c.to || r.toks[i].kind != kWord {
		return tells
	}
	t := &r.toks[i]
	if t.m&mPair != 0 && (r.praises(i, c.to) || r.gerund(i, c.to) || r.holdsName(i)) {
		return holds
	}
	if (r.is(i, "for") || r.is(i, "from")) && r.punct(i+2, ':') && r.toks[i+1].capital && r.noun(i+1) || r.is(i, "for") && r.is(i+1, "the") && r.noun(i+2) && r.punct(i+3, ':') { // for Wen: 3x30s
		return holds
	}
	if r.punct(i+1, ':') && (r.is(i, "all") || r.is(i, "everyone") || r.is(i, "everybody")) {
		return holds
	}
	if r.is(i, "like") && (r.toks[i+1].kind == kNum || r.is(i+1, "so")) || r.is(i, "as") && r.is(i+1, "per") || r.is(i, "according") {
		return holds
	}
	if t.m&mOrder != 0 && (!r.punct(i+1, ':') || r.is(i, "remember") || r.is(i, "reminder") || r.is(i, "try") || r.is(i, "please")) && (!r.hasMood(i+1, mMe) || r.is(i, "give")) {
		if _, _, named := r.name(i); !named && !r.partOfAName(i) {
			return holds
		}
	}
	if t.f != 0 || t.m != 0 || t.body != 0 || t.owner || r.partOfAName(i) {
		return tells
	}
	switch next := i + 1; {
	case r.hasMood(next, mDid|mSay) && !r.is(next, "a"), r.has(next, fFill) && r.hasMood(next+1, mDid|mSay) && r.is(next, "just"):
		return holds
	case r.punct(next, ':') && next == c.to && r.toks[next+1].kind != kLine && t.b-t.a > 1 && (i == c.from || r.toks[i].capital):
		return holds
	}
	return tells
}

// praises reports whether a clause commends somebody by name: nice 3x30s deep
// hang, Bako.
func (r *reader) praises(i, to int) bool {
	if !r.is(i, "nice") && !r.is(i, "great") && !r.is(i, "good") && !r.is(i, "awesome") && !r.is(i, "amazing") && !r.is(i, "solid") && !r.is(i, "strong") && !r.is(i, "wow") {
		return false
	}
	if r.punct(to, ',') && r.toks[to+1].kind == kWord && !r.sepAt(to+1) && r.sepAt(to+2) {
		to += 2
	}
	t := &r.toks[to-1]
	return t.kind == kWord && t.capital && t.f == 0 && t.m == 0 && t.body == 0 && !r.partOfAName(to-1)
}

// holdsName reports whether hold is told as a thing to do: hold support for 30s.
func (r *reader) holdsName(i int) bool {
	if !r.is(i, "hold") {
		return false
	}
	if r.is(i+1, "each") && r.is(i+2, "one") || r.is(i+1, "it") || r.is(i+1, "them") || r.is(i+1, "that") {
		return true
	}
	if r.is(i+1, "each") || r.is(i+1, "every") || r.is(i+1, "the") || r.is(i+1, "your") {
		i++
	}
	_, next, ok := r.name(i + 1)
	return ok && r.is(next, "for")
}

// gerund reports whether a clause speaks of doing something in general: doing 5
// pull-ups is harder than it looks.
func (r *reader) gerund(i, to int) bool {
	if !r.is(i, "doing") && !r.is(i, "holding") && !r.is(i, "getting") && !r.is(i, "hitting") {
		return false
	}
	for j := i; j < to; j++ {
		if r.is(j, "is") || r.is(j, "isn't") || r.is(j, "feels") || r.is(j, "looks") {
			return true
		}
	}
	return false
}

// wordSway judges one word; before says that it stands before the first number.
func (r *reader) wordSway(i int, before, did bool) sway {
	m := r.toks[i].m
	if m&mPair != 0 {
		if sway, ok := r.pair(i, before); ok {
			return sway
		}
	}
	switch {
	case m == 0:
		return tells
	case before && !did && r.yetToCome(i), !before && r.by(i), r.is(i, "next") && r.is(i-1, "is"), r.perSpan(i):
		return denies
	case r.is(i, "log") && (r.is(i+1, "it") || r.is(i+1, "that")) && r.is(i+2, "as"):
		return holds
	case m&mExample != 0, m&mMeta != 0 && (before || r.is(i, "delete") || r.is(i, "undo") || r.is(i, "saved")):
		return holds
	case m&mFuture != 0 && !did, m&mOften != 0 && r.often(i):
		return denies
	case !before:
		if (r.is(i, "planned") || r.is(i, "plan")) && !did {
			return denies
		}
		return tells
	case m&(mSay|mPraise) != 0, m&mModal != 0 && !r.is(i, "may") && !r.onlyCould(i), m&mYou != 0:
		return holds
	case m&mOther != 0 && !r.with(i), m&mPlan != 0 && r.plans(i, did), m&mCan != 0 && !r.ableDid(i), m&mUsed != 0 && r.longAgo(i):
		return denies
	case m&mNot != 0 && !r.harmlessNot(i):
		return denies
	}
	return tells
}

// onlyCould tells what somebody could do, and did, from what they could have done:
// could only manage 20s.
func (r *reader) onlyCould(i int) bool {
	return r.is(i, "could") && (r.is(i+1, "only") || r.is(i+1, "just") || r.is(i+1, "barely"))
}

// toBeDone reports whether a verb that takes sets stands at token i: looking to
// hit 30s.
func (r *reader) toBeDone(i int) bool {
	return r.is(i, "do") || r.is(i, "hit") || r.is(i, "get") || r.is(i, "hold") || r.is(i, "reach") || r.is(i, "try") || r.is(i, "make") || r.is(i, "manage") || r.is(i, "complete") || r.is(i, "finish")
}

// perSpan reports whether a habit is told by how often: twice a week, these days.
func (r *reader) perSpan(i int) bool {
	switch {
	case r.is(i, "days"):
		return r.is(i-1, "these")
	case r.is(i, "week"), r.is(i, "day"), r.is(i, "month"):
		return (r.is(i-1, "a") || r.is(i-1, "per")) && (r.has(i-2, fTwice) || r.is(i-2, "times") || r.is(i-2, "x"))
	}
	return false
}

// yearGone reports whether a year gone by stands at token i: in 2019.
func (r *reader) yearGone(i int) bool {
	t := &r.toks[i]
	if t.digits != 4 || t.n <= 1950 || !r.is(i-1, "in") && !r.is(i-1, "since") {
		return false
	}
	year, _, _ := r.ctx.Today.Civil()
	return int(t.n) < year
}

// pair judges words that mean something only beside a certain other word.
func (r *reader) pair(i int, before bool) (sway, bool) {
	switch {
	case r.exempli(i), r.is(i, "like") && r.is(i+1, "this"), before && r.is(i, "read") && r.is(i+1, "that"), r.is(i, "back") && r.is(i+1, "then"), r.is(i, "well") && r.is(i+1, "done") && (r.is(i+2, "on") || r.toks[min(i+2, len(r.toks)-1)].capital && r.noun(i+2)):
		return holds, true
	case r.standard(i), r.yetToDo(i), r.is(i-1, "my") && (r.is(i, "twenties") || r.is(i, "teens") || r.is(i, "thirties")), r.has(i+1, fAgo) && r.hasMood(i, mUsed) && !r.recent(i), !before && r.hasMood(i, mModal) && r.is(i+1, "be"):
		return denies, true
	case r.is(i, "sounds"), r.is(i, "sound"), before && r.is(i, "was") && r.is(i+1, "at"),
		r.is(i, "usual"), before && r.is(i, "once") && r.is(i+1, "did"), before && r.is(i, "old") && r.has(i+1, fVow|fLevel),
		r.is(i, "days") && (r.is(i-1, "good") || r.is(i-1, "training") || r.is(i-1, "ring") || r.is(i-1, "gym") || r.is(i-1, "easy") || r.is(i-1, "hard") || r.is(i-1, "rest") || r.is(i-1, "most") || r.is(i-1, "some") || r.is(i-1, "bad")):
		return denies, true
	}
	return tells, r.is(i, "bot") && r.punct(i-1, '@')
}

// yetToDo reports whether what stands there is still to be done, or asked for:
// 2 sets to go, 3x30s to do, ..., please.
func (r *reader) yetToDo(i int) bool {
	switch {
	case r.is(i, "to"):
		return r.is(i+1, "do") || r.is(i+1, "go") && (r.sepAt(i+2) || r.has(i+2, fOn))
	case r.is(i, "please"), r.is(i, "pls"):
		return i > 0 && r.sepAt(i+1)
	}
	return false
}

// standard reports whether what is asked for, or another's doing, is told: the
// gate is 3x30s, our coach does 3x60s.
func (r *reader) standard(i int) bool {
	switch {
	case r.is(i, "gate"), r.is(i, "programme"), r.is(i, "program"), r.is(i, "standard"), r.is(i, "requirement"), r.is(i, "minimum"), r.is(i, "session"), r.is(i, "workout"), r.is(i, "class"):
		return r.is(i+1, "is") || r.punct(i+1, ':') && (r.is(i, "gate") || r.is(i, "standard") || r.is(i, "minimum") || r.is(i, "programme") || r.is(i, "program"))
	case r.is(i, "coach"):
		return r.is(i+1, "does") || r.is(i+1, "did") || r.is(i+1, "has") || r.is(i+1, "got") || r.is(i+1, "made")
	}
	return false
}

// exempli reports whether an abbreviation of for example ends at token i: e.g.,
// i.e.
func (r *reader) exempli(i int) bool {
	return i >= 2 && r.punct(i-1, '.') && (r.is(i, "g") && r.is(i-2, "e") || r.is(i, "e") && r.is(i-2, "i"))
}

// with reports whether others are only company: with my wife.
func (r *reader) with(i int) bool {
	return i > 0 && r.has(i-1, fWith) || i > 1 && r.has(i-2, fWith)
}

func (r *reader) plans(i int, did bool) bool {
	switch {
	case r.is(i, "going"):
		return r.is(i+1, "to") || r.is(i+1, "for") || r.is(i+1, "after")
	case r.is(i, "about"):
		return r.is(i+1, "to")
	case r.is(i, "need"), r.is(i, "needs"), r.is(i, "want"):
		return r.is(i+1, "to") || r.toks[i+1].kind == kNum || r.is(i-1, "still")
	case r.is(i, "have"):
		return r.is(i+1, "to")
	case r.is(i, "ready"):
		return r.is(i+1, "for") || r.is(i+1, "to")
	case r.is(i, "menu"), r.is(i, "agenda"):
		return r.is(i-1, "the") && r.is(i-2, "on")
	case r.is(i, "next"):
		return r.has(i+1, fDays|fDayPart|fWeekday|fMonth) || r.toks[i+1].kind == kNum && r.has(i+2, fDays|fDayPart|fHead) || r.is(i+1, "time") || r.is(i+1, "up") || r.is(i-1, "up") || r.is(i+1, "on") && r.is(i+2, "the")
	case r.is(i, "goal"), r.is(i, "target"), r.is(i, "planned"):
		return !did
	}
	return true
}

// often tells habits from single doings: every day, but not every set.
func (r *reader) often(i int) bool {
	if r.is(i, "every") {
		return r.has(i+1, fDays|fWeekday|fDayPart) || r.is(i+1, "other") || r.is(i+1, "single") && r.has(i+2, fDays)
	}
	return !r.is(i, "used")
}

func (r *reader) longAgo(i int) bool {
	switch {
	case r.is(i, "used"):
		return r.is(i+1, "to")
	case r.is(i, "back"):
		return r.is(i+1, "in") || r.is(i+1, "when")
	case r.is(i, "ever"):
		return r.is(i+1, "is") || r.is(i+1, "was")
	case (r.is(i, "record") || r.is(i, "pb") || r.is(i, "pr")) && r.is(i+1, "was"):
		return true
	case r.is(i, "best"), r.is(i, "max"), r.is(i, "record"), r.is(i, "limit"), r.is(i, "pb"), r.is(i, "pr"):
		return r.is(i+1, "is") && !r.is(i+2, "now") && !(i > 0 && r.is(i-1, "new"))
	}
	return i > 0 && r.has(i-1, fLast) || r.has(i+1, fAgo) && !r.recent(i)
}

// recent reports whether a month gone by is near enough to be a log's day: a
// month ago.
func (r *reader) recent(i int) bool {
	d, ok := r.daysAgo(max(i-1, 0))
	return ok && d.code == 0 && r.ctx.Today-d.day <= 62
}

// ableDid tells "was able to" from "can".
func (r *reader) ableDid(i int) bool {
	return r.is(i, "able") && i > 0 && (r.is(i-1, "was") || r.is(i-1, "were") || r.is(i-1, "finally"))
}

// harmlessNot passes denials of something other than the sets: no rest, not
// bad, forgot to log, no band.
func (r *reader) harmlessNot(i int) bool {
	switch {
	case r.is(i, "missed"):
		return r.is(i+1, "logging") || r.is(i+1, "posting")
	case r.is(i, "forgot"), r.is(i, "forget"), r.is(i, "forgotten"):
		return r.is(i+1, "to") && (r.is(i+2, "log") || r.is(i+2, "post") || r.is(i+2, "write") || r.is(i+2, "enter") || r.is(i+2, "add") || r.is(i+2, "record") || r.is(i+2, "report") || r.is(i+2, "say") || r.is(i+2, "mention") || r.is(i+2, "note") || r.is(i+2, "put") || r.is(i+2, "type") || r.is(i+2, "share")) || r.is(i+1, "about")
	case r.is(i, "no"), r.is(i, "not"), r.is(i, "without"), r.is(i, "zero"):
		return r.has(i+1, fRest|fBand|fToes|fPartner|fLoad|fRemark) && !r.is(i+1, "even") && !r.is(i+1, "one") || r.is(i+1, "much") || r.is(i+1, "pain") || r.is(i+1, "warm") || r.is(i+1, "problem") || r.is(i+1, "kip") || r.is(i+1, "swing") || r.is(i+1, "idea") || r.is(i+1, "time") && !r.is(i, "no")
	case r.is(i, "can't"), r.is(i, "cant"), r.is(i, "cannot"):
		return r.is(i+1, "believe") || r.is(i+1, "complain")
	case r.is(i, "failed"):
		return !r.is(i+1, "to")
	}
	return false
}
