package sets

import (
	"rungbook/parser/words"
	"rungbook/training"
)

// bareReps is the largest bare number that is taken for reps on a timed rung.
const bareReps = 12

// expand turns an entry into sets. It reports false where something about it is
// in doubt, so that there are none.
func (r *reader) expand(e *entry) ([]training.Set, bool) {
	rung := &r.names.Rungs[e.rung]
	bouts, ok := r.list(e)
	if !ok || !r.check(e, bouts) {
		return nil, false
	}
	r.giveUnits(rung, bouts)
	spread(e, bouts)
	if e.near {
		r.guess("name", rung.Name)
	}
	if rung.Unit == training.Tried {
		return r.tries(e, bouts)
	}
	if !r.inRange(e, bouts) {
		return nil, false
	}
	var sets []training.Set
	for range times(e, bouts) {
		for i := range bouts {
			b := &bouts[i]
			if b.of != nil {
				continue
			}
			set, ok := r.set(e, b)
			if !ok {
				return nil, false
			}
			for range max(b.count, 1) {
				sets = append(sets, set)
			}
		}
	}
	if len(sets) > maxSets {
		r.doubt(TooManySets, e.name.From, e.name.To)
		return nil, false
	}
	levelEach(bouts, sets)
	return sets, r.corrections(bouts, sets)
}

// times is how many times the entry's list was done: as many as the count that
// stood apart says, unless that counts what is listed.
func times(e *entry, bouts []bout) int {
	if e.outer == nil {
		return 1
	}
	n, listed := e.outer.size.count, 0
	for i := range bouts {
		if bouts[i].of == nil {
			listed += max(bouts[i].count, 1)
		}
	}
	if n == listed && !e.circuit && (listed > 1 || e.counted) { // 2 sets deep hang: 30s and 25s
		return 1
	}
	return n
}

// list returns the entry's sizes with ratios opened into what they mean, and
// without a count that only says how many are told one by one.
func (r *reader) list(e *entry) ([]bout, bool) {
	bouts := r.openRatios(e)
	inTurn(bouts)
	if r.toldAgain(bouts) || r.toldOneByOne(e, bouts) {
		bouts[1].said.fill(bouts[0].said)
		for i := range bouts[1:] {
			keepUnit(&bouts[i+1], &bouts[0])
		}
		return bouts[1:], true
	}
	for i := range bouts {
		n := slashed(bouts[i:])
		if i == 0 && len(bouts) == bouts[0].count && r.opensWithin(phrase{from: bouts[0].From, to: bouts[0].To}) { // 3 sets (7,6,5)
			n = len(bouts)
		}
		if colon := i == 0 && len(bouts) == bouts[0].count && bouts[0].loud && !bouts[0].behind && len(bouts) > 1 && r.plainList(bouts[1:]) && r.colonWithin(bouts[0].Span); colon { // 3 sets: 7, 6, 5
			n = len(bouts)
		}
		switch {
		case bouts[i].count <= 1 || n == 1:
		case n == bouts[i].count:
			bouts[i].count, bouts[i].loud = 0, false
		default:
			d := r.doubt(CountMismatch, bouts[i].From, bouts[i+n-1].To)
			d.Count, d.Sizes = bouts[i].count, n
			return nil, false
		}
	}
	return bouts, true
}

// colonWithin reports whether a colon stands between a count and its size.
func (r *reader) colonWithin(s Span) bool {
	for i := s.From; i < s.To; i++ {
		if r.t.Is(i, ':') && !r.t.GluedSign(i, ':') {
			return true
		}
	}
	return false
}

// plainList reports whether sizes have no counts of their own.
func (r *reader) plainList(bouts []bout) bool { return plainSizes(bouts) }

// slashed counts the sizes at the front that slashes join.
func slashed(bouts []bout) int {
	n := 1
	for n < len(bouts) && bouts[n].sign == '/' {
		n++
	}
	return n
}

// toldAgain reports whether the sets of a count are told one by one behind it, in
// brackets or behind a colon: 3x30s deep hang (30, 28, 25).
func (r *reader) toldAgain(bouts []bout) bool {
	if len(bouts) < 3 || bouts[0].count != len(bouts)-1 || !r.plainList(bouts[1:]) {
		return false
	}
	c := bouts[1].sign
	return c == '(' || c == '[' || c == ':' || c == '='
}

// toldOneByOne reports whether a bare number before the skill says how many sets there
// were, or how many reps in all, and what stands behind it tells each: 3 deep hangs,
// 30 29 and 27 seconds; 5 pull-ups (3+2).
func (r *reader) toldOneByOne(e *entry, bouts []bout) bool {
	if len(bouts) < 3 || !plainSizes(bouts) || e.copied {
		return false
	}
	first, rest := &bouts[0], bouts[1:]
	if first.unit != unsaid || first.To > e.name.From {
		return false
	}
	if r.names.Rungs[e.rung].Unit == training.Timed {
		return first.milli == int64(len(rest))*1000 && rest[len(rest)-1].unit == seconds
	}
	return rest[0].sign == '(' && sum(rest) == first.milli
}

// inTurn takes "set 1 30s, set 2 28s" for a list, not for corrections: each names
// the set that comes next, or the first of an entry.
func inTurn(bouts []bout) {
	told := 0
	for i := range bouts {
		b := &bouts[i]
		size := b.of != nil && !b.only && (b.milli > 0 || b.failed) && b.of.count == 1
		last := size && b.late && b.of.first == 0 && i > 1 && told == i && b.count == 0 && !b.failed // 20s, 20s, 14s on the last one
		if size && b.count == 0 && b.of.first == told+1 || last {
			b.of = nil
		}
		if b.of == nil {
			told += max(b.count, 1)
		}
	}
}

// openRatios turns 8/10 behind other sizes into an effort, else a ratio into a
// list of two.
func (r *reader) openRatios(e *entry) []bout {
	tried := r.names.Rungs[e.rung].Unit == training.Tried
	out := make([]bout, 0, len(e.bouts)+2)
	for _, b := range e.bouts {
		switch {
		case b.ratio == nil || tried:
			out = append(out, b)
		case b.ratio.m == 10 && len(out) > 0 && b.of == nil:
			out[len(out)-1].said.say(&phrase{kind: effort, levels: []int{b.ratio.n * 10}, from: b.From, to: b.To})
		case b.ratio.n == 1 && b.ratio.word == "": // one set of 7, one of 5
			b.amount, b.ratio = amount{milli: int64(b.ratio.m) * 1000, whole: true}, nil
			out = append(out, b)
		case b.ratio.word == "/":
			first, second := b, b
			first.ratio, second.ratio, second.of = nil, nil, b.of
			first.amount = amount{milli: int64(b.ratio.n) * 1000, whole: true}
			second.amount = amount{milli: int64(b.ratio.m) * 1000, whole: true}
			first.To, second.From, second.sign = b.From+1, b.To-1, '/'
			out = append(out, first, second)
		default:
			r.doubt(LeftOver, b.From, b.To)
		}
	}
	return out
}

// giveUnits gives bare sizes their unit: that of the list's other sizes, else the
// rung's; small bare numbers on a timed rung are reps.
func (r *reader) giveUnits(rung *words.Rung, bouts []bout) {
	known, most := unsaid, int64(0)
	for i := range bouts {
		b := &bouts[i]
		if b.unit != unsaid && known == unsaid {
			known = b.unit
		}
		if b.unit == unsaid {
			most = max(most, b.milli)
		}
	}
	took := ""
	for i := range bouts {
		b := &bouts[i]
		if b.unit != unsaid || b.none || b.only {
			continue
		}
		switch {
		case known != unsaid:
			b.unit = known
		case rung.Unit != training.Timed:
			b.unit = reps
		case most <= bareReps*1000:
			b.unit, took = reps, "reps"
		default:
			b.unit, took = seconds, "seconds"
		}
	}
	if took != "" {
		r.guess("unit", took)
	}
}

// spread gives what was said once to the whole list.
func spread(e *entry, bouts []bout) {
	for _, get := range [...]func(*aside) **phrase{
		func(a *aside) **phrase { return &a.rest }, func(a *aside) **phrase { return &a.effort },
		func(a *aside) **phrase { return &a.load }, func(a *aside) **phrase { return &a.help },
	} {
		said, n, at := *get(&e.said), 0, 0
		for i := range bouts {
			if *get(&bouts[i].said) != nil {
				n, at = n+1, i
			}
		}
		if n == 1 && said == nil && !ownGroup(bouts, at, get) {
			said = *get(&bouts[at].said)
		}
		for i := range bouts {
			if p := get(&bouts[i].said); *p == nil && !bouts[i].only {
				*p = said
			}
		}
	}
	if e.said.side != nil {
		for i := range bouts {
			if bouts[i].said.side == nil {
				bouts[i].said.side = e.said.side
			}
		}
	}
	if n := len(bouts); n > 1 && bouts[n-1].said.side != nil && bouts[n-1].said.side.word == string(training.Each) {
		for i := range bouts {
			if bouts[i].said.side == nil {
				bouts[i].said.side = bouts[n-1].said.side
			}
		}
	}
}

// ownGroup reports whether what is said of a size is of it alone: of a set that is
// corrected, or, of a load or a help, of a size counted by itself as the one before
// it is, told behind a then or a plus, or in a list where loads follow single sizes:
// 2x5, 1x5 +2.5kg; 5/5/3+2; 5, 5 +5kg.
func ownGroup(bouts []bout, at int, get func(*aside) **phrase) bool {
	b := &bouts[at]
	if b.of != nil {
		return true
	}
	heavier := b.said.load != nil && *get(&b.said) == b.said.load || b.said.help != nil && *get(&b.said) == b.said.help
	if !heavier || at == 0 || at < len(bouts)-1 {
		return false
	}
	for i := range bouts {
		if bouts[i].plain {
			return true
		}
	}
	return b.sign == '>' || b.sign == '+' && at > 1 && bouts[at-1].sign != '+' || b.count > 0 && bouts[at-1].count > 0
}

// set makes one set of a size.
func (r *reader) set(e *entry, b *bout) (training.Set, bool) {
	rung := &r.names.Rungs[e.rung]
	set := training.Set{Failed: b.failed}
	switch {
	case b.reps > 0:
		set.Reps, set.WorkS = b.reps, rung.Seconds(b.milli)
	case b.unit == seconds:
		set.WorkS = rung.Seconds(b.milli)
	case b.unit == reps:
		set.Reps = int(b.milli / 1000)
	}
	if !r.particulars(&set, &b.said) {
		return set, false
	}
	at, help := r.names.Helped(e.rung, set.Help)
	set.Rung, set.Help = r.names.Rungs[at].ID, help
	return set, true
}

// particulars puts load, help, side, rest and effort to a set. It reports false
// where one of them is in doubt.
func (r *reader) particulars(set *training.Set, said *aside) bool {
	if said.help != nil {
		set.Help = said.help.word
	}
	if said.side != nil {
		set.Side = training.Side(said.side.word)
		if said.otherSide != nil && said.side.word != said.otherSide.word {
			r.doubt(ConflictingSide, said.otherSide.from, said.otherSide.to)
			return false
		}
	}
	return r.loadOf(set, said.load) && r.restOf(set, said.rest) && r.effortOf(set, said.effort)
}

func (r *reader) loadOf(set *training.Set, p *phrase) bool {
	switch {
	case p == nil:
		return true
	case p.fault != "":
		r.doubt(p.fault, p.from, p.to)
		return false
	case p.n > maxLoad || p.n < -maxLoad:
		r.doubt(LoadTooLarge, p.from, p.to)
		return false
	}
	set.LoadHg = p.n
	if p.m == 1 && set.Help == "" {
		set.Help = byBand
	}
	return true
}

func (r *reader) restOf(set *training.Set, p *phrase) bool {
	switch {
	case p == nil:
		return true
	case p.n < 0:
		r.doubt(RestMissing, p.from, p.to)
		return false
	case p.n > maxWorkS:
		r.doubt(RestTooLong, p.from, p.to)
		return false
	}
	set.RestS = training.Known(p.n)
	return true
}

func (r *reader) effortOf(set *training.Set, p *phrase) bool {
	if p == nil {
		return true
	}
	if p.fault != "" {
		r.doubt(p.fault, p.from, p.to)
		return false
	}
	if len(p.levels) != 1 {
		return true // one a set: see levelEach
	}
	level := p.levels[0]
	if level < 0 || level > 100 {
		at := p.to - 1
		for at > p.from && r.t.Kind(at) == r.t.Kind(p.from) {
			at--
		}
		r.doubt(EffortRange, at, p.to)
		return false
	}
	set.Effort = training.Known((level + 5) / 10)
	if p.m == 1 {
		r.guess("effort", "effort from the reps in reserve")
	}
	return true
}

// levelEach gives a list of efforts to the sets in turn.
func levelEach(bouts []bout, sets []training.Set) {
	for i := range bouts {
		p := bouts[i].said.effort
		if p == nil || len(p.levels) < 2 {
			continue
		}
		for j := range sets {
			if j < len(p.levels) {
				sets[j].Effort = training.Known((p.levels[j] + 5) / 10)
			}
		}
		return
	}
}

// corrections changes the sets that "last set 24s" is about.
func (r *reader) corrections(bouts []bout, sets []training.Set) bool {
	for i := range bouts {
		b := &bouts[i]
		if b.of == nil {
			continue
		}
		from, to := len(sets)-b.of.count, len(sets)
		if b.of.first > 0 {
			from, to = b.of.first-1, b.of.first-1+b.of.count
		}
		if from < 0 || to > len(sets) {
			r.doubt(NoSuchSet, b.From, b.To)
			return false
		}
		for j := from; j < to; j++ {
			if !r.correctSet(&sets[j], b) {
				return false
			}
		}
	}
	return true
}

// correctSet puts to a set what was said of it alone.
func (r *reader) correctSet(set *training.Set, b *bout) bool {
	set.Failed = set.Failed || b.failed
	at, _ := r.names.Find(set.Rung)
	if !r.particulars(set, &b.said) {
		return false
	}
	at, set.Help = r.names.Helped(at, set.Help)
	set.Rung = r.names.Rungs[at].ID
	switch {
	case b.only || b.none:
	case set.WorkS > 0 && set.Reps > 0 && b.unit == reps:
		set.Reps = int(b.milli / 1000)
	case set.WorkS > 0:
		set.WorkS = r.names.Rungs[at].Seconds(b.milli)
	default:
		set.Reps = int(b.milli / 1000)
	}
	return true
}
