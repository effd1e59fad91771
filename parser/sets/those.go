package sets

import (
	"rungbook/parser/words"
	"rungbook/training"
)

// Sizes without a skill that say something of sets told before.

// restsSoLong reports whether a time says how long a rest was that the clause
// before it talks of: breaks were long, three minutes or so.
func (a *assembler) restsSoLong(p *part) bool {
	if !a.open.hasSizes() || p.sign != ',' || len(p.bouts) != 1 || !p.bouts[0].single() || p.bouts[0].unit != seconds {
		return false
	}
	was := &a.segments[a.at-1]
	if was.sizes > 0 || was.skills > 0 || p.bouts[0].milli < 20_000 {
		return false
	}
	speaks := false
	for i := was.from; i < was.to; i++ {
		if a.phrases[i].kind == rested {
			return false
		}
		speaks = speaks || a.is(a.phrases[i].from, words.Rest) && was.to > was.from+1
	}
	return speaks
}

// mayEndThose reports whether a set that ended early may be one of those told
// before just as well as a further one: 3x30s deep hang, bailed at 16.
func (a *assembler) mayEndThose(p *part) bool {
	e := a.open
	if !e.hasSizes() || len(e.bouts) > 1 || e.other || len(p.bouts) != 1 || p.sign == '>' || p.sign == '&' {
		return false
	}
	b, was := &p.bouts[0], &e.bouts[0]
	ended := a.phrases[p.from].kind == failed && b.single()
	return ended && was.ratio == nil && b.milli < was.milli
}

// endsThose puts what was reached in the place of the one size told before,
// which was only the aim: 60s deep hang. Failed at 41. If several sets were
// told, it doubts what was reached, since it may be of any of them.
func (a *assembler) endsThose(p *part) {
	b, was := &p.bouts[0], &a.open.bouts[0]
	if was.count > 1 || a.open.outer != nil {
		a.doubt(LeftOver, b.From, b.To)
		return
	}
	keepUnit(b, was)
	was.amount, was.failed = b.amount, b.failed
	a.open.last = a.at
}

// tellsSets reads a time behind sets that says how long each of the sets, or
// each of their reps, took: 4 mid hangs, 25s each; slow lowers 3x3, 5s each. It
// reports false, and changes nothing, if the part holds no such time.
func (a *assembler) tellsSets(p *part) bool {
	e := a.open
	if !e.hasSizes() || e.other || len(a.pending) > 0 {
		return false
	}
	if len(p.bouts) != 1 || !p.bouts[0].single() || p.bouts[0].unit != seconds && !p.each {
		return false
	}
	if a.names.Rungs[e.rung].Unit == training.Timed {
		return a.tellsHangs(e, p)
	}
	return a.tellsReps(e, p)
}

// sharesOut reads a part that says how much of a total each set was, and makes
// that the size of the sets: 15 pull-ups, 3 sets, 5 each. It reports false, and
// changes nothing, if the numbers do not fit.
func (a *assembler) sharesOut(p *part) bool {
	if !a.open.hasSizes() || len(a.open.bouts) > 1 || len(p.bouts) > 1 || !p.bouts[0].isNumber() {
		return false
	}
	all := &a.open.bouts[0]
	if all.count < 2 || all.milli != int64(all.count)*p.bouts[0].milli {
		return false
	}
	all.milli, all.fault = p.bouts[0].milli, ""
	return true
}

// ofEach reports whether a part says what each of the sets before it was: with
// an each or an @.
func (p *part) ofEach() bool { return p.each || p.sign == '@' }

// tellsHangs takes the number before a timed skill for a count of sets, and the
// time in the part for their size: 3 supports, 25s. A number above one needs an
// each or an @ in three cases: reps of the skill make sense too and the word
// sets is not said, a list of sizes follows, or it is too large for a count. It
// reports false, and changes nothing, if the part holds no such time.
func (a *assembler) tellsHangs(e *entry, p *part) bool {
	if !e.tellsHowMany() || p.bouts[0].milli < fewSeconds*1000 {
		return false
	}
	lists := a.at+1 < len(a.segments) && a.segments[a.at+1].sizes > 0 && a.segments[a.at+1].skills == 0
	sets := a.is(e.name.To, words.Set) || !a.names.Rungs[e.rung].Goes
	time, was := &p.bouts[0], &e.bouts[0]
	if !p.ofEach() && was.milli != 1000 && (lists || !sets || was.milli > mostSets*1000) {
		return false
	}
	time.count = int(was.milli / 1000)
	time.said.fill(was.said)
	e.bouts = nil
	a.add(e, p.bouts, p)
	return true
}

// tellsReps takes the time in a part for how long each rep of the entry took.
// It reports false, and changes nothing, if the part holds no such time.
func (a *assembler) tellsReps(e *entry, p *part) bool {
	was := &e.bouts[len(e.bouts)-1]
	if !p.ofEach() || p.bouts[0].unit != seconds || was.unit == seconds || was.reps > 0 || p.bouts[0].milli > maxRepS*1000 {
		return false
	}
	for i := range e.bouts {
		if b := &e.bouts[i]; b.unit != seconds && b.reps == 0 {
			b.reps, b.milli, b.unit = int(min(b.milli/1000, maxReps+1)), p.bouts[0].milli, seconds
		}
	}
	e.last = a.at
	return true
}
