package parser

import "rungbook/training"

// read reads the message whole.
func (r *reader) read() Result {
	r.scan(r.text)
	pain := r.pain()
	r.phrases()
	out := Result{Verdict: Chat, Day: r.ctx.Today, Pain: pain}
	if r.anySize() || r.ctx.Addressed {
		r.moods()
		r.log(&out)
	}
	switch {
	case out.Verdict == Chat && len(pain) > 0:
		out.Verdict = Pain
	case out.Verdict == Log:
		out.Guesses = r.guesses
	}
	return out
}

// anySize reports whether the text holds anything a set could be made of.
func (r *reader) anySize() bool {
	for i := range r.items {
		switch r.items[i].k {
		case iSize, iFrac, iOf, iFail, iCount:
			return true
		}
	}
	return false
}

// log makes sets or a problem of the items.
func (r *reader) log(out *Result) {
	r.correctNames()
	a := r.assemble()
	sets := r.sets
	var first *trouble
	read := 0
	for i := range r.entries {
		e := &r.entries[i]
		r.revive(e)
		if e.from == e.to && e.outer == 0 || r.entryKilled(e) {
			continue
		}
		read++
		more, t := r.expand(e, sets)
		if t != nil && t.code == "nothing-done" { // 0x0s
			if !r.ctx.Addressed {
				continue
			}
			t.code = "zero-size"
		}
		if t != nil {
			t.e = e
			if first == nil {
				first = t
			}
			continue
		}
		sets = more
	}
	if first == nil && read > 0 {
		first = r.settleDay(out)
	}
	if first == nil && read > 0 {
		first = a.leftOver()
	}
	r.sets = sets
	switch {
	case first != nil:
		out.Verdict, out.Problems = Unsure, []Problem{r.explain(first, sets)}
	case len(sets) > 0:
		out.Verdict, out.Sets = Log, append(make([]training.Set, 0, len(sets)), sets...)
	default:
		r.nearly(a, out)
	}
}

// revive takes what was planned out of an entry that goes on with what was done:
// planned 3x30s deep hang, did 3x25s.
func (r *reader) revive(e *entry) {
	if e.from == e.to || !r.killedAt(r.sizes[e.from].item.from) || !r.killedAt(e.nameFrom) || !r.planned(r.clauseAt(int(r.sizes[e.from].item.from))) {
		return
	}
	for i := e.from + 1; i < e.to; i++ {
		s := &r.sizes[i]
		if r.killedAt(s.item.from) {
			continue
		}
		if c := r.clauseAt(int(s.item.from)); c != nil && r.doneIn(c) {
			e.from, e.revived = i, true
		}
		return
	}
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

// doneIn reports whether a past form of doing opens a clause.
func (r *reader) doneIn(c *clause) bool {
	i := r.opener(*c)
	if r.hasMood(i, mMe) {
		i++
	}
	return r.is(i, "did") || r.is(i, "got") || r.is(i, "managed") || r.is(i, "ended") || (r.is(i, "only") || r.is(i, "just")) && (r.is(i+1, "did") || r.is(i+1, "got") || r.is(i+1, "managed"))
}

// entryKilled reports whether an entry stands where nothing is reported.
func (r *reader) entryKilled(e *entry) bool {
	if e.from == e.to {
		return r.killedAt(e.nameFrom) || r.ordinary(e)
	}
	at := r.sizes[e.from].item.from
	if e.revived {
		return r.ordinary(e)
	}
	return r.killedAt(at) || e.nameFrom < at && r.killedAt(e.nameFrom) || r.ordinary(e)
}
