package parser

import "rungbook/training"

// read reads the message whole.
func (r *reader) read() Result {
	r.scan(r.text)
	pain := r.pain()
	r.phrases()
	out := Result{Verdict: Chat, Care: gravest(pain)}
	if r.anySize() || r.ctx.Addressed {
		r.moods()
		r.log(&out)
	}
	switch {
	case out.Verdict == Chat && out.Care != "":
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
		first = r.settleDay()
	}
	if first == nil && read > 0 {
		first = a.leftOver()
	}
	r.sets = sets
	switch {
	case first != nil:
		out.Verdict, out.Problems = Unsure, []Problem{r.explain(first, sets)}
		if r.settleDay() == nil {
			out.Days = r.daySets(sets)
		}
	case len(sets) > 0:
		out.Verdict, out.Days = Log, r.daySets(sets)
	default:
		r.nearly(a, out)
	}
}

// daySets is what was read, on the one day that this reader knows of.
func (r *reader) daySets(sets []training.Set) []DaySets {
	if len(sets) == 0 {
		return nil
	}
	return []DaySets{{Day: r.day, Stated: r.stated, Sets: append(make([]training.Set, 0, len(sets)), sets...)}}
}

// revive takes what was planned out of an entry that goes on with what was done:
// planned 3x30s deep hang, did 3x25s.
func (r *reader) revive(e *entry) {
	if e.to-e.from < 2 || !r.killedAt(r.sizes[e.from].item.from) || !r.killedAt(e.nameFrom) {
		return
	}
	at := e.from + 1
	for at < e.to && r.killedAt(r.sizes[at].item.from) {
		at++
	}
	if at == e.to || !r.planned(r.clauseAt(int(r.sizes[e.from].item.from))) {
		return
	}
	if c := r.clauseAt(int(r.sizes[at].item.from)); c != nil && r.opensDone(c) {
		e.from, e.revived = at, true
	}
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
