package parser

// A clause is a stretch of tokens between signs. Tense and person come before
// numbers: a clause that asks, plans, orders, supposes, denies, quotes or speaks
// of others gives no sets, whatever numbers it holds, nor does what hangs on it.
type clause struct {
	from, to int // tokens, half-open
	sentence int
	killed   bool
}

// moods cuts the text into clauses and marks those that report nothing.
func (r *reader) moods() {
	r.cut()
	carry := false // the line above announced what is no report
	for i := 0; i < len(r.clauses); {
		j := i
		for j < len(r.clauses) && r.clauses[j].sentence == r.clauses[i].sentence {
			j++
		}
		carry = r.sentence(r.clauses[i:j], carry)
		i = j
	}
	r.quoted()
	if r.schedule() {
		r.killTokens(0, len(r.toks))
	}
	for i := range r.clauses {
		r.anyKilled = r.anyKilled || r.clauses[i].killed
	}
}

// schedule reports whether several weeks, days or sessions are named by number or
// letter: week 3: ..., week 4: ... Nobody reports them in one message.
func (r *reader) schedule() bool {
	named := 0
	for i := range r.clauses {
		at := r.clauses[i].from
		label := r.toks[at+min(1, len(r.toks)-1-at)]
		numbered := label.kind == kNum || label.kind == kWord && label.b-label.a == 1
		if numbered && r.punct(at+2, ':') && (r.is(at, "week") || r.is(at, "day") || r.is(at, "session") || r.is(at, "workout")) {
			named++
		}
	}
	return named > 1
}

// cut fills r.clauses.
func (r *reader) cut() {
	from, sentence := 0, 0
	for i := range r.toks {
		t := &r.toks[i]
		hard := t.kind == kLine || t.kind == kEnd
		soft := false
		if t.kind == kPunct {
			switch t.n {
			case '!', '?':
				hard = true
			case '.':
				hard = !(t.glued && r.toks[min(i+1, len(r.toks)-1)].glued) && !r.exempli(i-1) && !r.abbreviated(i)
			case ',', ';', ':', '(', ')', '|':
				soft = !(t.glued && i > 0 && r.toks[i-1].kind == kNum && r.toks[i+1].kind == kNum && r.toks[i+1].glued)
			case '-':
				soft = !t.glued && !r.toks[i+1].glued
			}
		}
		if t.kind == kWord && (t.m&mBut != 0 || t.f&fThen != 0 && i > from && !(t.m&mDid != 0 && i <= from+2 && !r.digitsIn(from, i))) && i > from && !r.is(i, "still") && !r.is(i, "yet") && !r.is(i, "into") && !r.is(i, "next") {
			soft = true
		}
		if hard || soft {
			r.clauses = append(r.clauses, clause{from: from, to: i, sentence: sentence})
			from = i
			if t.kind == kPunct || t.kind == kLine {
				from = i + 1
			}
		}
		if hard {
			sentence++
		}
	}
}

// sentence marks the clauses of one sentence. It returns whether what it says
// carries to the next line.
func (r *reader) sentence(cs []clause, carry bool) bool {
	if len(cs) == 1 && cs[0].from == cs[0].to {
		return carry && r.toks[min(cs[0].to, len(r.toks)-1)].kind != kLine
	}
	end := cs[len(cs)-1].to
	ask := r.punct(end, '?') || r.asks(cs[0]) || len(cs) > 1 && r.invites(&cs[len(cs)-1])
	quote := r.punct(cs[0].from, '>')
	dead := carry || quote
	sets := false
	for i := range cs {
		c := &cs[i]
		sway := r.kills(c)
		if dead && !quote && sway == tells && r.resumes(c) {
			dead = false
		}
		c.killed = dead || sway != tells
		dead = dead || sway == holds
		sets = sets || r.digits(c)
		switch whole := r.futureOnly(c) || r.commends(c.from); { // said of the whole sentence
		case whole && r.punct(c.to, ':'):
			dead = true
		case whole:
			for k := range cs {
				cs[k].killed = true
			}
		}
	}
	if ask && !r.reportsFirst(cs) {
		for i := range cs {
			cs[i].killed = true
		}
		return false
	}
	if r.toks[end].kind != kLine && !r.punct(end, '.') {
		return false
	}
	return r.toks[end].kind == kLine && dead && (carry || !sets || r.punct(end-1, ':'))
}

func (r *reader) digits(c *clause) bool {
	for i := c.from; i < c.to; i++ {
		if r.toks[i].kind == kNum || r.has(i, fOnes|fTens) {
			return true
		}
	}
	return false
}

// opener returns the first word of a clause that is no mere filler.
func (r *reader) opener(c clause) int {
	i := c.from
	for i < c.to && (r.toks[i].kind != kWord || r.toks[i].f&fAnd != 0 || r.openFill(i)) {
		if r.toks[i].kind == kNum {
			return i
		}
		i++
	}
	return i
}

func (r *reader) openFill(i int) bool { return r.toks[i].m&mOpen != 0 }

// asks reports whether a clause opens like a question.
func (r *reader) asks(c clause) bool {
	i := r.opener(c)
	if i >= c.to || !r.hasMood(i, mAsk) {
		return false
	}
	if r.onlyCould(i) || r.is(i, "am") && r.has(i+1, fWeekday) || r.toks[i].m&mDid != 0 || r.is(i, "have") || r.is(i, "do") && !r.hasMood(i+1, mYou|mOther|mMe) {
		return false
	}
	return !r.punct(i+1, ':')
}

// invites reports whether a clause asks others along: ..., who's in.
func (r *reader) invites(c *clause) bool {
	i := r.opener(*c)
	return r.is(i, "who's") || r.is(i, "who") || r.is(i, "anyone") && !r.digits(c)
}

// hasMood reports whether token i is a word with one of the moods.
func (r *reader) hasMood(i int, m mood) bool {
	return uint(i) < uint(len(r.toks)) && r.toks[i].kind == kWord && r.toks[i].m&m != 0
}

// reportsFirst reports whether a question only follows a report: did 3x30s deep
// hang, is that enough?
func (r *reader) reportsFirst(cs []clause) bool {
	if len(cs) < 2 || !r.hasMood(r.opener(cs[0]), mDid|mMe) && !(r.hasMood(r.opener(cs[0])+1, mDid)) || cs[0].killed {
		return false
	}
	last := cs[len(cs)-1]
	if !r.asks(last) || r.digits(&last) {
		return false
	}
	for i := range cs[1:] {
		if r.asks(cs[i+1]) {
			return true
		}
	}
	return false
}

// resumes reports whether a clause turns back to what was done.
func (r *reader) resumes(c *clause) bool {
	i := r.opener(*c)
	if i >= c.to {
		return false
	}
	but := r.hasMood(c.from, mBut) || r.is(c.from, "so") || r.is(i, "only") || r.is(c.from, "just")
	for j := c.from; j < c.to && j < i+4; j++ {
		if r.hasMood(j, mDid) {
			return true
		}
	}
	return but && r.digits(c) && !r.hasMood(i, mPlan|mModal|mNot)
}

// futureOnly reports whether a clause says nothing but a time to come: then it
// is about the whole sentence.
func (r *reader) futureOnly(c *clause) bool {
	future := false
	for i := c.from; i < c.to; i++ {
		t := &r.toks[i]
		switch {
		case t.kind == kSign || t.kind == kPunct:
		case t.kind == kWord && t.m&mFuture != 0:
			future = true
		case t.kind == kWord && (t.f&(fFill|fDayPart|fWeekday|fOf|fOn) != 0 || r.is(i, "plan") || r.is(i, "planned") || r.is(i, "for")):
			future = future || r.is(i, "plan") || r.is(i, "planned")
		default:
			return false
		}
	}
	return future
}

// quoted kills what stands in quotation marks, back quotes or struck out,
// unless that is the whole message.
func (r *reader) quoted() {
	if !r.marks {
		return
	}
	for _, mark := range [...]rune{'"', '`', '~'} {
		open := -1
		for i := range r.toks {
			if !r.punct(i, mark) || mark == '"' && open < 0 && i > 0 && r.toks[i].glued && r.toks[i-1].kind == kNum {
				continue
			}
			if mark == '~' && !(r.punct(i+1, '~') || i > 0 && r.punct(i-1, '~')) {
				continue
			}
			if open < 0 {
				open = i
				continue
			}
			if (open > 1 || i < len(r.toks)-3) && !r.onlyName(open+1, i) {
				r.killTokens(open, i)
			}
			open = -1
		}
	}
}

// onlyName reports whether nothing but a name stands between two tokens.
func (r *reader) onlyName(from, to int) bool {
	_, next, ok := r.name(from)
	return ok && next == to
}

// killTokens kills the clauses that begin between two tokens.
func (r *reader) killTokens(from, to int) {
	for i := range r.clauses {
		c := &r.clauses[i]
		if c.to > from && c.from <= to && (c.from >= from || r.digitsIn(max(from, c.from), min(to, c.to))) {
			c.killed = true
		}
	}
}

func (r *reader) digitsIn(from, to int) bool {
	for i := from; i < to; i++ {
		if r.toks[i].kind == kNum {
			return true
		}
	}
	return false
}

// killedAt reports whether token i stands in a clause that reports nothing.
func (r *reader) killedAt(i int32) bool {
	if !r.anyKilled {
		return false
	}
	lo, hi := 0, len(r.clauses)
	for lo < hi {
		mid := (lo + hi) / 2
		if r.clauses[mid].to <= int(i) {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return lo < len(r.clauses) && r.clauses[lo].killed
}
