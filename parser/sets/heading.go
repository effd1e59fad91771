package sets

// heading reads a skill without sizes.
func (a *assembler) heading(p *part) {
	before := a.open
	if len(a.pending) > 0 && p.segment.talk == 0 { // 30s - deep hang
		e := a.begin(p)
		e.first = false
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

// inTalk reports whether a skill is only spoken of: it stands among words, and neither
// a count nor the end of its clause makes it the head of sizes.
func (a *assembler) inTalk(p *part) bool {
	heads := p.segment.next == ':' || p.segment.next == '\n' || p.count != nil
	return p.segment.talk > 0 && !heads && !a.listFollows()
}

// listFollows reports whether the next segment begins with a size that has no skill
// of its own: a few ring rows at home, 5 then 4.
func (a *assembler) listFollows() bool {
	if a.at+1 >= len(a.segments) {
		return false
	}
	s := &a.segments[a.at+1]
	return s.skills == 0 && s.talk == 0 && (s.sign == ',' || s.sign == '-') && a.phrases[s.from].kind == sized
}

// mention notes a skill that heads nothing.
func (a *assembler) mention(p *part) {
	if p.name.kind == skill {
		a.out.Skills = append(a.out.Skills, Mention{Span{p.name.from, p.name.to}, p.name.at})
	}
}
