package sets

import (
	"rungbook/parser/words"
	"rungbook/training"
)

const (
	bareReps   = 12 // the largest bare number that is taken for reps, where a timed rung may be counted
	fewSeconds = 8  // up to here a bare number is as likely one of sets as of seconds held
)

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
	if e.each && e.uncounted() && len(bouts) == 1 && len(r.entries) == 1 { // dips, 8 each: how many sets?
		r.doubt(LeftOver, bouts[0].From, bouts[0].To)
		return nil, false
	}
	if !r.inRange(e, bouts) {
		return nil, false
	}
	rounds, n := times(e, bouts), 0
	for i := range bouts {
		n += max(bouts[i].count, 1)
	}
	sets := make([]training.Set, 0, min(rounds*n, maxSets+1))
	for range rounds {
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
	if !r.levelEach(bouts, sets) {
		return nil, false
	}
	return r.corrections(bouts, sets)
}

// times returns how many times the entry's list was done: as often as its outer
// count says, or once if that only says how many sizes are listed.
func times(e *entry, bouts []bout) int {
	if e.outer == nil {
		return 1
	}
	n, listed := e.outer.size.count, 0
	if e.outer.size.rounds {
		return n
	}
	for i := range bouts {
		if bouts[i].of == nil {
			listed += max(bouts[i].count, 1)
		}
	}
	if n == listed && !e.circuit && (listed > 1 || e.counted) && !sidesInTurn(e, bouts) { // 2 sets deep hang: 30s and 25s
		return 1
	}
	return n
}

// sidesInTurn reports whether the count stands behind one size of each side: L
// 6s R 5s, two sets.
func sidesInTurn(e *entry, bouts []bout) bool {
	if len(bouts) != 2 || e.outer.from < bouts[1].To {
		return false
	}
	left, right := bouts[0].said.side, bouts[1].said.side
	return left != nil && right != nil && left.word != right.word
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
		case rung.Goes && most <= bareReps*1000:
			b.unit, took = reps, "reps"
		default:
			b.unit, took = seconds, "seconds"
		}
	}
	if took != "" {
		r.guess("unit", took)
	}
}

// spread gives all sizes what was said of one and holds for the whole list.
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
		if n == 1 && said == nil && !ownGroup(bouts, at, get) || n > 1 && sameRest(bouts, get) {
			said = *get(&bouts[at].said)
		}
		for i := range bouts {
			b := &bouts[i]
			eased := said != nil && (said.kind == help || said.kind == load) && b.said.unaided != nil
			if p := get(&b.said); *p == nil && !b.only && !eased {
				*p = said
			}
		}
	}
	spreadSide(bouts, e.said.side)
	if n := len(bouts); n > 1 {
		if last := bouts[n-1].said.side; last != nil && last.word == string(training.Each) {
			spreadSide(bouts, last)
		}
	}
}

// sameRest reports whether get gets rests, and all that are told of the sizes
// are one and the same: 25s, 2 min break, 25s, 2 min break, 20s.
func sameRest(bouts []bout, get func(*aside) **phrase) bool {
	var first *phrase
	for i := range bouts {
		p := *get(&bouts[i].said)
		if p == nil {
			continue
		}
		if first == nil {
			first = p
		}
		if p.kind != rested || p.n != first.n {
			return false
		}
	}
	return first != nil
}

// spreadSide gives a side to all sizes that have none; nil is no side.
func spreadSide(bouts []bout, side *phrase) {
	for i := range bouts {
		if bouts[i].said.side == nil {
			bouts[i].said.side = side
		}
	}
}

// ownGroup reports whether what get gets was said of the size at alone, and not
// of the list. So it is if the size corrects a set. So is a load or a help of
// the last size if that and the one before both have counts (2x5, 1x5 +2.5kg),
// if a then stands before it or a plus that joins it to no others (5, 5 + 3
// +2kg), or if any size was said to be without.
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
		if bouts[i].said.unaided != nil {
			return true
		}
	}
	return b.sign == '>' || b.sign == '+' && at > 1 && bouts[at-1].sign != '+' || b.count > 0 && bouts[at-1].count > 0
}
