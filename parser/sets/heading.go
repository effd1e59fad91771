package sets

import (
	"rungbook/parser/words"
	"rungbook/training"
)

// heading reads a skill without sizes.
func (a *assembler) heading(p *part) {
	before := a.open
	if told := a.told(p.name); told != nil && p.count != nil && a.is(p.name.to, words.Was) { // rows were 2 sets
		if a.replaceCount(told, p.count) {
			return
		}
	}
	if len(a.pending) > 0 && p.segment.talk == 0 { // 30s - deep hang
		e := a.begin(p)
		e.first, e.segment = false, a.pendingAt
		a.add(e, a.pending, p)
		a.pending = nil
		return
	}
	if before.hasSizes() && a.sharesBack(p, before) {
		e := a.begin(p)
		e.copyFrom(before)
		e.first = before.first
		return
	}
	if a.inTalk(p) {
		a.mention(p)
		return
	}
	a.drop()
	e := a.begin(p)
	a.link(before, p, e)
	e.said.take(p.said)
	if p.count != nil {
		a.countOf(e, p)
	}
	if p.failed != nil { // failed my muscle-up
		e.bouts = append(e.bouts, bout{Span: Span{p.failed.from, p.failed.to}, failed: true, none: true, size: p.failed.size})
	}
}

// inTalk reports whether a skill is only talked of: words stand beside it, and
// it is no heading of sizes, as it would be with a count or at the end of its
// clause.
func (a *assembler) inTalk(p *part) bool {
	heads := p.segment.next == ':' || p.segment.next == '\n' || p.count != nil
	return p.segment.talk > 0 && !heads && !a.listFollows()
}

// nameLate gives sizes that found no skill to a skill that stands alone behind
// them, if nothing else was told: 4x12s, felt long. High hold.
func (a *assembler) nameLate() {
	e := a.open
	if len(a.entries) != 1 || len(a.late) == 0 || len(a.strays) != len(a.late) {
		return
	}
	if e.other || e.outer != nil || len(e.bouts) > 0 {
		return
	}
	counted := a.late[0].count > 0
	if !suit(a.late, a.names.Rungs[e.rung].Unit == training.Timed) || counted && len(a.late) > 1 {
		return
	}
	e.bouts, e.counted, e.first, a.strays = a.late, counted, false, nil
}

// listFollows reports whether the next segment begins with a size that has no
// skill of its own: a few ring rows at home, 5 then 4; or is a size with a
// count and nothing else: so dips only. 4x6.
func (a *assembler) listFollows() bool {
	if a.at+1 >= len(a.segments) {
		return false
	}
	s := &a.segments[a.at+1]
	from := s.from
	for from < s.to-1 && a.phrases[from].kind == filler { // rows were planned, reality 3x8
		from++
	}
	size := &a.phrases[from]
	if s.skills > 0 || s.talk > 0 || size.kind != sized {
		return false
	}
	if s.sign == ',' || s.sign == '-' {
		return true
	}
	ownSentence := sentenceEnds(s.sign) && s.sign != '?' && s.to == s.from+1
	return ownSentence && (size.size.count > 1 || a.goesOnListing(a.at+2))
}

// goesOnListing reports whether a segment is the next size of a list and
// nothing else.
func (a *assembler) goesOnListing(at int) bool {
	if at >= len(a.segments) {
		return false
	}
	s := &a.segments[at]
	return s.to == s.from+1 && s.sizes == 1 && listed(s.sign)
}

// mention notes a skill that heads nothing.
func (a *assembler) mention(p *part) {
	if p.name.kind == skill {
		a.spoken = p.name
		a.out.Skills = append(a.out.Skills, Mention{Span{p.name.from, p.name.to}, p.name.at})
	}
}
