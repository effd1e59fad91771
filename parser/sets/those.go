package sets

import (
	"rungbook/parser/words"
	"rungbook/training"
)

// Sizes without a skill that tell of sets told before.

// restsSoLong reports whether a time is how long the rest was that the clause
// before speaks of: breaks were long, three minutes or so.
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

// mayEndThose reports whether a set that ended early is as likely one of those
// told before as one more: 3x30s deep hang, bailed at 16.
func (a *assembler) mayEndThose(p *part) bool {
	e := a.open
	if !e.hasSizes() || len(e.bouts) > 1 || e.other || len(p.bouts) != 1 || p.sign == '>' || p.sign == '&' {
		return false
	}
	b, was := &p.bouts[0], &e.bouts[0]
	ended := a.phrases[p.from].kind == failed && b.single()
	return ended && was.ratio == nil && b.milli < was.milli
}

// endsThose takes what was reached for the one size told before, which was
// meant: 60s deep hang. Failed at 41. Of several sets it can't be told which.
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

// tellsSets reads a time that each of the sets took, or each of their reps,
// told behind them: 4 mid hangs, 25s each; slow lowers 3x3, 5s each. It reports
// false where it is no such time.
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

// sharesOut reports whether a part tells each set's share of what was told as
// the size of all: 15 pull-ups, 3 sets, 5 each.
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

// ofEach reports whether a part says what each of the sets before it was.
func (p *part) ofEach() bool { return p.each || p.sign == '@' }

// tellsHangs takes the number before a timed skill for the sets that a time is
// of: 3 supports, 25s. Of a skill that is counted in reps as well it needs to
// be said, and a list behind it tells each set.
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

// tellsReps gives the reps of an entry the time that each of them took.
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
