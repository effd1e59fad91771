package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// entry is a skill with its sizes.
type entry struct {
	rung    int  // index in Names.Rungs
	other   bool // another exercise than the ladders'
	near    bool // the name was misspelt
	name    Span
	bouts   []bout
	said    aside   // before the first size, or of all
	outer   *phrase // so many times the whole list; nil where unsaid
	circuit bool    // outer is the rounds of a circuit
	first   bool    // the name stands before the sizes
	shares  bool    // stands in a list of skills and may take the sizes of the one behind
	joined  bool    // ... which an and joins
	copied  bool    // has the sizes of the entry before
	counted bool    // a count stands with a size
	each    bool
	tried   bool
	made    *phrase
	segment int // where its name or its first size stands
	last    int // the last segment that added to it
	line    int
	purely  bool // nothing but the name and harmless words stood in its segment
	day     int  // index in reader.marks of the day it belongs to; -1 for none
}

// assembler puts parts together to entries.
type assembler struct {
	*reader
	at         int    // the segment being read
	open       *entry // sizes without a skill go to it; nil for none
	pending    []bout // sizes that wait for a skill
	pendingAt  int    // the segment where they begin
	each       bool   // "each" was said of the pending sizes
	lead       aside  // said before there was an entry
	all        aside  // said of all entries to come
	ahead      aside  // said of the next size alone: a side
	leadCount  *phrase
	circuit    *phrase // rounds that entries of this line are part of
	alone      bool    // the circuit was announced on a line of its own
	loose      bool    // ... by a size of its own: 2 rounds of 15s high hold + ...
	lost       int     // the last segment whose sizes found no skill for the words beside them
	correcting bool    // a correction stood before this segment
}

// assemble makes entries of the phrases.
func (r *reader) assemble() {
	r.cut()
	a := &assembler{reader: r}
	for at := range r.segments {
		s := &r.segments[at]
		a.at = at
		a.enter(s)
		for _, p := range r.parts(s) {
			r.gather(&p)
			a.take(&p)
		}
	}
	a.drop()
	for _, e := range r.entries {
		for at := e.segment; at <= e.last && len(e.bouts) > 0; at++ {
			r.segments[at].gives = true
		}
	}
}

// enter notes the separator before a segment: a sentence's end or a line's closes
// what is pending.
func (a *assembler) enter(s *segment) {
	a.correcting = s.sign == corrected
	if a.at > 0 && s.line > a.segments[a.at-1].line {
		if !a.alone || s.line > a.segments[a.at-1].line+1 {
			a.circuit = nil
		}
		a.loose = false
		if s.skills == 0 || s.sizes > 0 || s.talk > 0 { // sizes on a line, their skill alone on the next
			a.drop()
		}
	}
	if sentenceEnds(s.sign) || s.sign == ')' {
		if a.loose {
			a.circuit, a.loose = nil, false
		}
		if s.sign != ')' {
			a.drop()
		}
	}
}

// drop gives up sizes that found no skill.
func (a *assembler) drop() {
	for i := range a.pending {
		a.stray(&a.pending[i])
	}
	a.pending, a.each = nil, false
}

// stray notes a size without a skill. A length of many minutes is how long it all
// took.
func (a *assembler) stray(b *bout) {
	bare := b.count == 0 && b.unit == unsaid
	if b.none || b.count == 0 && b.unit == seconds && b.milli >= 300_000 || bare && b.milli <= 24_000 && a.is(b.From-1, words.At) && a.segments[a.at].talk > 0 {
		return // how long it all took; see you at 6
	}
	a.strays = append(a.strays, b.Span)
}

func (a *assembler) take(p *part) {
	switch named := p.name != nil; {
	case a.correcting && a.correct(p):
	case named && len(p.bouts) > 0:
		a.whole(p)
	case named:
		a.heading(p)
	case p.ladder != nil && len(p.bouts) == 0:
		a.drop()
	case len(p.bouts) > 0:
		a.bare(p)
	default:
		a.more(p)
	}
	a.correcting = false
}

// begin opens an entry for the part's name.
func (a *assembler) begin(p *part) *entry {
	e := &entry{rung: p.name.at, other: p.name.kind == exercise, near: p.name.near, name: Span{p.name.from, p.name.to}, segment: a.at, last: a.at,
		line: p.segment.line, first: p.first, each: a.each || p.each, tried: p.tried, made: p.made, purely: p.segment.talk == 0, day: -1}
	if a.circuit != nil {
		e.outer, e.circuit = a.circuit, true
	}
	if len(a.pending) > 0 && !p.first {
		e.segment = a.pendingAt
	}
	e.said = a.all
	e.said.take(a.lead)
	a.lead, a.each = aside{}, false
	a.entries, a.open = append(a.entries, e), e
	return e
}

// whole reads a part with a skill and sizes.
func (a *assembler) whole(p *part) {
	before := a.open
	if p.first {
		a.drop()
	}
	e := a.begin(p)
	a.link(before, p, e)
	if p.split || p.name.kind == skill {
		unnumber(p.bouts)
	}
	a.sideOf(p)
	a.add(e, append(a.pending, p.bouts...), p)
	a.pending = nil
	a.announce(p)
	if a.loose && e.circuit && e.counted { // it has a count of its own
		e.outer, e.circuit = nil, false
	}
}

// link notes that the skill before, which has no sizes, stands in one list with this
// one.
func (a *assembler) link(before *entry, p *part, e *entry) {
	if before == nil || len(before.bouts) > 0 || before.line != e.line || before.other || e.other {
		return
	}
	before.joined = a.shareForward(before, p, e)
	before.shares = before.joined || p.sign == ',' || p.sign == '/' || p.sign == '&'
}

// unnumber drops the numbers of sets that are told with their skill: set 2: 30s deep
// hang.
func unnumber(bouts []bout) {
	if len(bouts) > 0 && bouts[0].of != nil && bouts[0].of.first > 0 && !bouts[0].late && !bouts[0].only {
		bouts[0].of = nil
	}
}

// sideOf gives what was said ahead to the part's first size.
func (a *assembler) sideOf(p *part) {
	if !a.ahead.empty() && len(p.bouts) > 0 {
		p.bouts[0].said.fill(a.ahead)
		a.ahead = aside{}
	}
}

// shareForward reports whether a name without sizes takes those of the skill behind
// it: high hold and toe support 3x20s each.
func (a *assembler) shareForward(before *entry, p *part, e *entry) bool {
	joined := p.sign == '&' || p.sign == '/' || p.sign == '+' || p.sign == ',' && p.each
	if !joined || before.other || e.other {
		return false
	}
	return p.each || p.first && a.names.Rungs[before.rung].Unit == a.names.Rungs[e.rung].Unit
}

// add puts sizes to an entry, and what the part says besides.
func (a *assembler) add(e *entry, bouts []bout, p *part) {
	for i := range bouts {
		e.counted = e.counted || bouts[i].count > 0
	}
	e.bouts = append(e.bouts, bouts...)
	e.last = a.at
	e.each, e.tried = e.each || p.each, e.tried || p.tried
	if p.made != nil {
		e.made = p.made
	}
	if n := len(e.bouts); n > 0 && !p.said.empty() {
		if p.first || len(p.bouts) == 0 {
			e.said.take(p.said)
		} else {
			e.bouts[n-1].said.take(p.said)
		}
	}
	if p.failed != nil {
		a.failedOf(e, p)
	}
	if p.count != nil {
		a.countOf(e, p)
	}
	a.giveBack(e, p)
}

// giveBack gives an entry's sizes to those before it that share them: of skills
// joined by an and, or where each is said; of a list of skills with as many sizes
// behind it, one to each.
func (a *assembler) giveBack(e *entry, p *part) {
	n := len(a.entries) - 1
	for n > 0 && a.entries[n] != e {
		n--
	}
	from := n
	for from > 0 && a.entries[from-1].shares && (len(a.entries[from-1].bouts) == 0 || a.entries[from-1].copied) {
		from--
	}
	if from == n {
		return
	}
	if listed := e.bouts; !e.each && len(listed) == n-from+1 && n-from > 1 && !e.counted {
		for i := range listed {
			a.entries[from+i].bouts = []bout{listed[i]}
		}
		return
	}
	for i := from; i < n; i++ {
		if e.each || a.entries[i].joined {
			a.entries[i].copyFrom(e)
		}
	}
}

// copyFrom gives an entry another's sizes.
func (e *entry) copyFrom(from *entry) {
	e.bouts, e.said, e.copied = append([]bout{}, from.bouts...), from.said, true
	if e.outer == nil {
		e.outer = from.outer
	}
}

// countOf gives a count that stood apart to an entry, or to all of its line.
func (a *assembler) countOf(e *entry, p *part) {
	if p.count.size.rounds && p.name != nil && p.count.from > p.name.from { // deep hang 30s / 5 pull-ups x 3 rounds
		a.rounds(p.count, e.line)
		return
	}
	if e.outer == nil || !e.circuit {
		e.outer = p.count
	}
	if p.count.size.rounds && (p.name == nil || p.count.to <= p.name.from) {
		a.circuit, e.circuit = p.count, true
	}
}

// rounds gives a count of rounds to the entries of a line that have no count of
// their own.
func (a *assembler) rounds(count *phrase, line int) {
	for i := len(a.entries) - 1; i >= 0 && a.entries[i].line == line; i-- {
		if e := a.entries[i]; !e.counted && e.outer == nil {
			e.outer = count
		}
	}
}

// announce notes a circuit that a size of its first skill begins.
func (a *assembler) announce(p *part) {
	if len(p.bouts) == 0 || a.circuit != nil {
		return
	}
	b := &p.bouts[0]
	if b.rounds && b.count > 0 && !b.behind && !p.first {
		a.circuit, a.loose = &phrase{kind: counted, size: size{count: b.count, rounds: true}, from: b.From, to: b.To}, true
	}
	if b.rounds && b.behind && p.name != nil && !p.first && len(p.bouts) == 1 {
		return
	}
	if last := &p.bouts[len(p.bouts)-1]; last.rounds && last.behind && p.first && a.unCounted(p.segment.line) { // 12s high hold + toe support 15s x4 rounds
		count := &phrase{kind: counted, size: size{count: last.count, rounds: true}, from: last.From, to: last.To}
		e := a.open
		e.bouts[len(e.bouts)-1].count, e.counted = 0, false
		a.rounds(count, e.line)
	}
}

// unCounted reports whether the entry before the open one stands on the line and
// has no count.
func (a *assembler) unCounted(line int) bool {
	n := len(a.entries)
	return n > 1 && a.entries[n-2].line == line && !a.entries[n-2].counted && a.entries[n-2].outer == nil
}

// bare reads sizes without a skill.
func (a *assembler) bare(p *part) {
	if p.ladder != nil { // 3x8 pulls
		a.ofLadder(p)
		return
	}
	if b := &p.bouts[0]; len(p.bouts) == 1 && b.count == 0 && b.unit == seconds && b.milli >= 300_000 && (a.open == nil || len(a.open.bouts) > 0) { // (27 min)
		return
	}
	if a.open != nil && len(a.open.bouts) > 0 && allCorrect(p.bouts) {
		a.add(a.open, p.bouts, p)
		return
	}
	if p.each && a.tellsSets(p) {
		return
	}
	if listed(p.sign) && p.sign != 0 && a.lost > 0 && a.lost == a.at-1 || p.segment.talk > 0 && !a.listStands(p) {
		a.lost = a.at
		for i := range p.bouts {
			a.stray(&p.bouts[i])
		}
		return
	}
	a.sideOf(p)
	if a.open != nil && len(a.open.bouts) > 0 && a.dayHeads(p) { // and on Thursday 3x27s
		e := &entry{rung: a.open.rung, other: a.open.other, name: Span{p.bouts[0].From, p.bouts[0].From}, segment: a.at, line: p.segment.line,
			first: a.open.first, purely: true, day: -1}
		a.entries, a.open = append(a.entries, e), e
		a.add(e, p.bouts, p)
		return
	}
	if a.tellsSets(p) {
		return
	}
	if a.goesOn(p) {
		a.drop()
		a.add(a.open, p.bouts, p)
		return
	}
	if len(a.pending) == 0 {
		a.pendingAt = a.at
	}
	a.lead.take(p.said)
	a.each = a.each || p.each
	if p.count != nil {
		a.leadCount = p.count
	}
	a.pending = append(a.pending, p.bouts...)
}

// ofLadder doubts which rung of a ladder sizes are of.
func (a *assembler) ofLadder(p *part) {
	unit := training.Counted
	if p.bouts[0].unit == seconds {
		unit = training.Timed
	}
	d := a.doubt(AmbiguousSkill, p.ladder.from, p.ladder.to)
	for i := range a.names.Rungs {
		if rung := &a.names.Rungs[i]; rung.Ladder == p.ladder.at && rung.Unit == unit {
			d.Names = append(d.Names, rung.Name)
		}
	}
}

func allCorrect(bouts []bout) bool {
	for i := range bouts {
		if bouts[i].of == nil {
			return false
		}
	}
	return true
}

// listStands reports whether sizes stand at the head of a segment whose words come
// behind them: they go on with a list, as in "30, 28, 25 what a day".
func (a *assembler) listStands(p *part) bool {
	first := &a.phrases[p.from]
	heads := first.kind == sized && first.size.count == 0 && (len(p.bouts) == 1 || first.size.unit != unsaid)
	beside, named := a.unknownBeside(Span{first.from, first.to})
	joins := listed(p.sign) && p.sign != 0 || p.sign == '>' || p.sign == '&'
	return heads && joins && !(named && a.resembles(beside)) && a.open != nil
}

// goesOn reports whether sizes without a skill belong to the open entry.
func (a *assembler) goesOn(p *part) bool {
	e := a.open
	if e == nil || len(a.pending) > 0 {
		return false
	}
	if len(e.bouts) == 0 {
		return true
	}
	switch {
	case sentenceEnds(p.sign) && !(p.sign == '.' && e.first && !e.counted && p.lone()), p.sign == '\n' && !e.first:
		return false
	case !a.fits(p, e), a.skillComes(p, e):
		return false
	}
	return true
}

// lone reports whether a part is one size with its unit and nothing else: 30s. 28s.
func (p *part) lone() bool {
	return p.to == p.from+1 && len(p.bouts) == 1 && p.bouts[0].unit != unsaid && p.bouts[0].count == 0
}

// fits reports whether the part's sizes are of the entry's kind.
func (a *assembler) fits(p *part, e *entry) bool {
	have := unsaid
	for i := range e.bouts {
		if e.bouts[i].unit != unsaid {
			have = e.bouts[i].unit
		}
	}
	if have == unsaid && (e.other || a.names.Rungs[e.rung].Unit != training.Timed) {
		have = reps
	}
	for i := range p.bouts {
		if b := &p.bouts[i]; b.unit != unsaid && have != unsaid && b.unit != have && !p.each {
			return false
		}
	}
	return true
}

// skillComes reports whether the part's sizes begin a list that belongs to a skill
// behind it: 5/5/4 pull-ups.
func (a *assembler) skillComes(p *part, e *entry) bool {
	if p.split {
		return false
	}
	tight := true
	for at := a.at + 1; at < len(a.segments) && at < a.at+20; at++ {
		s := &a.segments[at]
		if sentenceEnds(s.sign) || s.sign == '\n' || s.sign == ';' || s.sign == ':' || s.talk > 0 && s.skills == 0 {
			return false
		}
		tight = tight && (s.sign == '/' || s.sign == '+' || s.sign == '-')
		if s.skills > 0 {
			own := a.firstSize(s)
			return own != nil && own.size.count == 0 && (tight || !e.first && e.counted)
		}
		if size := a.firstSize(s); size == nil || size.size.count > 0 {
			return false
		}
	}
	return false
}

// firstSize returns the first size of a segment if it stands before its skill.
func (a *assembler) firstSize(s *segment) *phrase {
	for i := s.from; i < s.to; i++ {
		switch p := &a.phrases[i]; p.kind {
		case sized:
			return p
		case skill, exercise:
			return nil
		}
	}
	return nil
}

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
	if before != nil && len(before.bouts) > 0 && a.sharesBack(p, before) {
		e := a.begin(p)
		e.copyFrom(before)
		e.first = before.first
		return
	}
	if p.segment.talk > 0 && p.segment.next != ':' && p.segment.next != '\n' && p.count == nil && !a.listFollows() {
		a.mention(p)
		return
	}
	a.drop()
	e := a.begin(p)
	a.link(before, p, e)
	e.first = true
	e.said.take(p.said)
	if p.count != nil {
		a.countOf(e, p)
	}
	if p.failed != nil { // failed my muscle-up
		e.bouts = append(e.bouts, bout{Span: Span{p.failed.from, p.failed.to}, failed: true, none: true, size: p.failed.size})
	}
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

// sharesBack reports whether a name alone takes the sizes of the entry before: 3x20s
// deep hang and support.
func (a *assembler) sharesBack(p *part, before *entry) bool {
	if p.same {
		return true
	}
	joined := p.sign == '&' || p.sign == '+' || p.sign == '/' || p.sign == ',' && before.each
	if !joined || before.first && !before.each || before.other || p.name.kind == exercise || p.count != nil {
		return false
	}
	next := p.segment.next
	opens := a.phrases[p.from].kind == skill
	if next == ':' || next == '-' || next == '=' || !opens || before.line != p.segment.line || p.segment.talk > 0 {
		return false
	}
	return a.names.Rungs[before.rung].Unit == a.names.Rungs[p.name.at].Unit
}

// more reads a part with neither skill nor size: it says more of the entry before
// it, or of the one to come.
func (a *assembler) more(p *part) {
	noisy := p.segment.talk > 0
	if noisy && (p.said.help != nil || p.said.load != nil) && a.open != nil && len(a.open.bouts) > 0 { // it may be of the sets
		help := p.said.help
		if help == nil {
			help = p.said.load
		}
		a.doubt(Changed, help.from, help.to)
	}
	if p.count != nil && !noisy {
		a.moreCount(p)
	}
	said := p.said
	if noisy { // only what says itself what it is
		said = aside{effort: p.said.effort, rest: p.said.rest}
		if said.rest != nil && said.rest.n < 0 {
			said.rest = nil
		}
	}
	if said.side != nil && a.sideOfNext(p) {
		a.ahead.side, said.side = said.side, nil
	}
	e := a.open
	if e != nil && len(e.bouts) > 0 && p.plain { // 5 @ bw
		e.bouts[len(e.bouts)-1].plain = true
	}
	switch {
	case said.empty() && !p.each:
	case len(a.pending) > 0:
		a.pending[len(a.pending)-1].said.take(said)
		a.each = a.each || p.each
	case e == nil && p.segment.next == ':':
		a.all.take(said)
	case e == nil:
		a.lead.take(said)
	case len(e.bouts) == 0:
		e.said.take(said)
	default:
		a.sayMore(e, said, p.sign)
	}
	if e == nil || noisy && p.made == nil {
		return
	}
	e.each, e.tried = e.each || p.each, e.tried || p.tried
	if p.made != nil && (p.made.n >= 0 || a.names.Rungs[e.rung].Unit == training.Tried) {
		e.made = p.made
	}
	if p.failed != nil && len(e.bouts) > 0 && !noisy {
		a.failedOf(e, p)
	}
}

// sideOfNext reports whether a side alone in its clause is of the size behind it: (L)
// 10s (R) 8s.
func (a *assembler) sideOfNext(p *part) bool {
	if a.open == nil || len(a.open.bouts) == 0 {
		return true
	}
	last := &a.open.bouts[len(a.open.bouts)-1]
	if last.said.side == nil || a.at+1 >= len(a.segments) {
		return false
	}
	return a.firstSize(&a.segments[a.at+1]) != nil
}

// failedOf says a failure of the last set, or of all sets where that is said.
func (a *assembler) failedOf(e *entry, p *part) {
	from := len(e.bouts) - 1
	if p.all {
		from = 0
	}
	for i := max(from, 0); i < len(e.bouts); i++ {
		e.bouts[i].failed = true
	}
}

// isAll reports whether a word is all, as in all failed.
func isAll(word []byte) bool { return string(word) == "all" }

// sayMore puts what is said to the last size; on a line or in a sentence of its own
// an effort or a rest is said of all that has none.
func (a *assembler) sayMore(e *entry, said aside, sign rune) {
	at := len(e.bouts) - 1
	for at > 0 && e.bouts[at].only { // that was of some sets only
		at--
	}
	e.bouts[at].said.take(said)
	e.last = a.at
	if sign != '\n' && !sentenceEnds(sign) {
		return
	}
	for _, other := range a.entries {
		for i := range other.bouts {
			b := &other.bouts[i].said
			if b.rest == nil {
				b.rest = said.rest
			}
			if b.effort == nil {
				b.effort = said.effort
			}
		}
	}
}

// moreCount reads a count that stands alone: it announces a circuit, or is of the
// entries of its line.
func (a *assembler) moreCount(p *part) {
	next := p.segment.next
	ownLine := p.sign == '\n' || p.sign == 0
	if next == ':' || a.open == nil || p.count.size.rounds && next == '\n' && ownLine {
		a.circuit, a.alone = p.count, next == '\n' || next == ':' && a.lineEndsBehind()
		return
	}
	whole := p.count.size.rounds || p.sign == ')' || p.sign == ']' || p.sign == ','
	last := p.sign == '\n' && next == 0 // on a line of its own, at the end: of all
	for i := len(a.entries) - 1; i >= 0; i-- {
		e := a.entries[i]
		other := e != a.open && (!whole && !last || !last && e.line != a.open.line || e.counted || e.outer != nil)
		if other {
			break
		}
		if e.outer == nil && e == a.open && len(e.bouts) == 1 && e.bouts[0].count == 0 && !p.count.size.rounds {
			e.bouts[0].count, e.bouts[0].behind, e.counted = p.count.size.count, true, true
			e.last = a.at
		} else if e.outer == nil {
			e.outer = p.count
		}
	}
}

// lineEndsBehind reports whether the line ends behind the segment.
func (a *assembler) lineEndsBehind() bool {
	return a.at+1 < len(a.segments) && a.segments[a.at+1].line > a.segments[a.at].line || a.t.Kind(a.phrases[a.segments[a.at].to-1].to+1) == text.Line
}

// tellsSets reads sizes that tell what each of the sets was that a number before the
// skill, or a count, has named: 4 mid hangs, 25s each; 5 pull-ups (3+2); slow lowers
// 3x3, 5s each. It reports false where they are no such sizes.
func (a *assembler) tellsSets(p *part) bool {
	e := a.open
	if e == nil || len(e.bouts) == 0 || e.other || len(a.pending) > 0 {
		return false
	}
	timed := a.names.Rungs[e.rung].Unit == training.Timed
	was, first := &e.bouts[len(e.bouts)-1], &p.bouts[0]
	bare := len(e.bouts) == 1 && was.ratio == nil && was.unit == unsaid && was.count == 0 && was.of == nil && was.To <= e.name.From
	if !plainSizes(p.bouts) {
		return false
	}
	switch {
	case bare && timed && first.unit == seconds && len(p.bouts) == 1 && (p.each || p.sign == '@' || was.milli == 1000):
		count := int(was.milli / 1000)
		first.count = count
	case (p.each || p.sign == '@') && !timed && len(p.bouts) == 1 && first.unit == seconds && was.unit != seconds && was.reps == 0:
		for i := range e.bouts {
			if b := &e.bouts[i]; b.unit != seconds && b.reps == 0 {
				b.reps, b.milli, b.unit = int(min(b.milli/1000, maxReps+1)), first.milli, seconds
			}
		}
		e.last = a.at
		return true
	default:
		return false
	}
	first.said.fill(was.said)
	e.bouts = nil
	a.add(e, p.bouts, p)
	return true
}

// plainSizes reports whether sizes have no counts and correct nothing.
func plainSizes(bouts []bout) bool {
	for i := range bouts {
		if b := &bouts[i]; b.count > 0 || b.of != nil || b.ratio != nil || b.none {
			return false
		}
	}
	return len(bouts) > 0
}

func sum(bouts []bout) (milli int64) {
	for i := range bouts {
		milli += bouts[i].milli
	}
	return milli
}

// dayHeads reports whether a day stands before the first size of a part.
func (a *assembler) dayHeads(p *part) bool {
	for i := p.from; i < p.to; i++ {
		switch a.phrases[i].kind {
		case dayNamed:
			return true
		case sized, ratio:
			return false
		}
	}
	return false
}
