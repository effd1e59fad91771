package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
)

// correct makes what stands behind a correction replace the last thing of its
// kind: a size, a skill, or a whole entry. It reports false where there was
// nothing to correct.
func (a *assembler) correct(p *part) bool {
	e, far := a.open, a.far || a.talkAhead(p)
	if !far && !e.hasSizes() {
		a.dropLast(p)
	}
	if e == nil || p.name == nil && len(e.bouts) == 0 || far && !a.mayAmend(e, p) {
		return false
	}
	switch named := p.name != nil; {
	case len(p.bouts) > 0 && allCorrect(p.bouts): // sorry, last one 28
		for i := range p.bouts {
			p.bouts[i].late = false
		}
		a.add(e, p.bouts, p)
		return true
	case named && len(p.bouts) == 0:
		e.call(p.name)
		e.last = a.at
		return true
	case named:
		if !a.replaceTold(p) {
			a.replaceEntry(e, p)
		}
		return true
	case len(p.bouts) > 0 && !a.fits(p, e):
		return false
	case len(p.bouts) > 0:
		a.replaceSizes(e, p)
		return true
	}
	return p.count != nil && a.replaceCount(e, p.count)
}

// dropLast drops pending sizes that are corrected: the last one, or all if the
// replacement has a count: 3x8, no 3x7 dips.
func (a *assembler) dropLast(p *part) {
	switch n := len(a.pending); {
	case n == 0 || len(p.bouts) == 0:
	case p.bouts[0].count > 0:
		a.pending = nil
	default:
		a.pending = a.pending[:n-1]
	}
}

// talkAhead reports whether words that are none of the grammar's stand before
// the first size of a part.
func (a *assembler) talkAhead(p *part) bool {
	for i := p.from; i < p.to && a.phrases[i].kind != sized; i++ {
		if a.phrases[i].kind == talk {
			return len(p.bouts) > 0
		}
	}
	return false
}

// endsCorrecting reports whether a segment is a size or a name, and the words
// behind it say that it corrects: 3x7 sorry; toe support, I mean.
func (a *assembler) endsCorrecting(s *segment) bool {
	if s.sizes+s.skills == 0 || !a.open.hasSizes() || s.to == s.from+1 {
		return false
	}
	last := &a.phrases[s.to-1]
	if last.kind == talk {
		return s.talk == 1 && a.is(last.from, words.Correct) && len(a.t.Word(last.from)) > 3
	}
	_, several := words.Phrase(a.t, last.from, words.Correct)
	return last.kind == filler && several && s.talk == 0
}

// mayAmend reports whether sizes may replace those of an entry although words
// stand between them and the correction. They must name no skill that was not
// told, and fit the entry; and the first must have a count, or the entry one
// size only, or all must correct sets that they name.
func (a *assembler) mayAmend(e *entry, p *part) bool {
	if len(p.bouts) == 0 || p.name != nil && a.told(p.name) == nil {
		return false
	}
	return a.fits(p, e) && (p.bouts[0].count > 1 || len(e.bouts) == 1 || allCorrect(p.bouts))
}

// told returns the last entry of a skill that has sizes; nil for none.
func (a *assembler) told(name *phrase) *entry {
	for i := len(a.entries) - 1; i >= max(0, len(a.entries)-maxAhead); i-- {
		if e := a.entries[i]; e.rung == name.at && e.other == (name.kind == exercise) && !e.other && e.hasSizes() {
			return e
		}
	}
	return nil
}

// retold reports whether a part says anew what the sets of a skill were: the
// dips were 3x8. What they were on another day is none of them.
func (a *assembler) retold(p *part) bool {
	if !p.first || !a.is(p.name.to, words.Was) || a.told(p.name) == nil {
		return false
	}
	from := a.phrases[p.segment.from].from
	for i := from; i < p.name.from; i++ {
		if a.any(i, elsewhen) {
			return false
		}
	}
	return !a.dayHeads(p) && a.pass(p.name.to, small) == p.bouts[0].From
}

// elsewhen are words that make what stands behind them none of the sets told.
var elsewhen = words.OfClasses(words.Last, words.Calendar, words.Planned, words.Against, words.Yesterday, words.Weekday)

// replaceTold makes an entry replace the one of its skill, and the entries
// behind it those of theirs: 3x8 dips, 3x9 rows → 3x7 dips, 4x9 rows.
func (a *assembler) replaceTold(p *part) bool {
	e := a.told(p.name)
	if e == nil || e.recast {
		return false
	}
	a.replaceEntry(e, p)
	e.recast, a.recast, a.open = true, true, e
	return true
}

// replaceEntry makes a whole entry replace the last one if the two have the
// same skill or the same sizes. Else it cannot be told what it corrects, which
// is doubted.
func (a *assembler) replaceEntry(e *entry, p *part) {
	same := e.rung == p.name.at && !e.other
	arrow := a.t.Kind(a.phrases[p.from].from-1) == text.Sign
	if !same && arrow { // 3x5 pull-ups -> 3x3 ring dips
		a.whole(p)
		return
	}
	if !same && !sameSizes(e.bouts, p.bouts) {
		a.doubt(Correction, p.bouts[0].From, p.name.to)
	}
	bouts := p.bouts
	outer := e.outer
	if bouts[0].count > 0 || p.count != nil {
		outer = nil
	}
	*e = entry{segment: e.segment, line: e.line, first: p.first, outer: outer, purely: true, day: -1}
	e.call(p.name)
	a.add(e, bouts, p)
}

// replaceCount makes a count replace the count of an entry's only size, or of
// its list. It reports false where it can be neither.
func (a *assembler) replaceCount(e *entry, count *phrase) bool {
	switch {
	case e.outer != nil:
		e.outer = count
	case len(e.bouts) == 1:
		e.bouts[0].count, e.counted = count.size.count, true
	default:
		a.doubt(Correction, count.from, count.to)
	}
	e.last = a.at
	return true
}

// nearCount reports whether a bare number may correct the count of a size as
// well as its amount.
func (b *bout) nearCount(was *bout) bool {
	return was.count > 1 && b.unit == unsaid && b.milli/1000 <= int64(was.count)+2 && b.milli < was.milli
}

// farCount reports whether a bare number must correct the count of a size: it
// is near the count and far below the amount.
func (b *bout) farCount(was *bout) bool { return b.whole && b.nearCount(was) && 4*b.milli <= was.milli }

// sameSizes reports whether two lists of sizes are alike in number, count and
// amount.
func sameSizes(was, now []bout) bool {
	if len(was) != len(now) {
		return false
	}
	for i := range was {
		if was[i].milli != now[i].milli || was[i].count != now[i].count {
			return false
		}
	}
	return true
}

// listAhead counts the segments behind this one that go on with a list of bare
// sizes.
func (a *assembler) listAhead() (n int) {
	for at := a.at + 1; at < min(len(a.segments), a.at+maxAhead); at++ {
		s := &a.segments[at]
		size := &a.phrases[s.from]
		if s.sign != ',' && s.sign != '/' || s.talk+s.skills > 0 || size.kind != sized || size.size.count > 0 {
			break
		}
		n += s.sizes
	}
	return n
}

// countedAhead reports whether the next segment goes on with sizes that have a
// count.
func (a *assembler) countedAhead() bool {
	if a.at+1 >= len(a.segments) {
		return false
	}
	s := &a.segments[a.at+1]
	size := a.firstSize(s)
	return (s.sign == '&' || s.sign == '+' || s.sign == ',') && s.skills == 0 && size != nil && size.size.count > 0
}

// replaceSizes makes sizes replace those of an entry: all of them if the new
// ones have a count or the entry has one size only; the last of a list if the
// new one is single, or has the same count as that.
func (a *assembler) replaceSizes(e *entry, p *part) {
	first := &p.bouts[0]
	was := &e.bouts[len(e.bouts)-1]
	one := len(p.bouts) == 1 && first.count == 0
	switch {
	case one && a.listAhead() > 1: // 6, 6, 5, no 6, 6, 6
		if a.listAhead()+1 != e.told() {
			a.doubt(Correction, first.From, first.To)
			return
		}
		keepUnit(first, was)
		e.bouts, e.outer = nil, nil
	case (len(e.bouts) > 1 || e.lists) && a.countedAhead(): // 2x10 dips + 1x8 dips, oops, 1x10 and 2x8
		a.doubt(Correction, first.From, first.To)
		return
	case was.of != nil && one: // last set 6, sorry 5
		first.of = was.of
		e.bouts = e.bouts[:len(e.bouts)-1]
	case len(p.bouts) == 1 && len(e.bouts) > 1 && first.count == was.count: // 30/30/28, no 29; 3x10 + 1x8, no 1x6
		keepUnit(first, was)
		first.said.fill(was.said)
		e.bouts = e.bouts[:len(e.bouts)-1]
	case one && first.farCount(was): // 3x30s, no 2
		was.count = int(first.milli / 1000)
		return
	case one && first.nearCount(was): // 3x6, no 4
		a.doubt(Correction, first.From, first.To)
		return
	case one: // 3x30s, sorry 25s: three of 25
		keepUnit(first, was)
		first.count = was.count
		first.said.fill(was.said)
		e.bouts = e.bouts[:len(e.bouts)-1]
	case len(p.bouts) == 1:
		keepUnit(first, was)
		first.said.fill(was.said)
		e.bouts, e.outer = nil, nil
	default:
		for i := range p.bouts {
			keepUnit(&p.bouts[i], was)
		}
		e.bouts, e.outer = nil, nil
	}
	a.add(e, p.bouts, p)
}
