package sets

import (
	"slices"

	"rungbook/training"
)

// set makes one set of a size.
func (r *reader) set(e *entry, b *bout) (training.Set, bool) {
	unit := &r.names.Rungs[e.rung]
	set := training.Set{Failed: b.failed}
	switch {
	case b.reps > 0:
		set.Reps, set.WorkS = b.reps, unit.Seconds(b.milli)
	case b.unit == seconds:
		set.WorkS = unit.Seconds(b.milli)
	case b.unit == reps:
		set.Reps = int(b.milli / 1000)
	}
	if !r.particulars(&set, &b.said) {
		return set, false
	}
	rung := e.rung
	if b.said.unaided != nil && b.said.unaided.word == without {
		rung, _ = r.names.Unaided(rung)
	}
	at, help := r.names.Helped(rung, set.Help)
	set.Rung, set.Help = r.names.Rungs[at].ID, help
	return set, true
}

// particulars gives a set the load, help, side, rest and effort that were said.
// It reports false where one of them is in doubt.
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

// levelEach gives a list of efforts to the sets in turn, one to each.
func (r *reader) levelEach(bouts []bout, sets []training.Set) bool {
	for i := range bouts {
		p := bouts[i].said.effort
		if p == nil || len(p.levels) < 2 {
			continue
		}
		if len(p.levels) != len(sets) {
			r.doubt(LeftOver, p.from, p.to)
			return false
		}
		for j := range sets {
			sets[j].Effort = training.Known((p.levels[j] + 5) / 10)
		}
		return true
	}
	return true
}

// corrections makes the sizes that are about sets told before (last set 24s)
// change those sets, and takes out sets that are taken back. It reports false
// where there is no such set.
func (r *reader) corrections(bouts []bout, sets []training.Set) ([]training.Set, bool) {
	var gone []int
	for i := range bouts {
		b := &bouts[i]
		if b.of == nil {
			continue
		}
		from, to := len(sets)-b.of.count, len(sets)
		if b.of.first > 0 {
			from, to = b.of.first-1, b.of.first-1+b.of.count
		}
		if b.of.like > 0 {
			from = lastLike(sets, b.of.like)
			to = from + 1
		}
		if b.gone && from >= len(sets) { // it was not told
			continue
		}
		if from < 0 || to > len(sets) {
			r.doubt(NoSuchSet, b.From, b.To)
			return nil, false
		}
		if b.only && len(sets) == 1 && (b.said.help != nil || b.said.load != nil) { // 5 pull-ups, pushed on the last: a rep
			r.doubt(Changed, b.From, b.To)
			return nil, false
		}
		for j := from; j < to; j++ {
			if b.gone {
				gone = append(gone, j)
			} else if !r.correctSet(&sets[j], b) {
				return nil, false
			}
		}
	}
	slices.Sort(gone)
	for i, at := range slices.Compact(gone) {
		sets = slices.Delete(sets, at-i, at-i+1)
	}
	return sets, true
}

// lastLike returns the place of the last set of so many seconds or reps; -1 for
// none.
func lastLike(sets []training.Set, size int) int {
	for i := len(sets) - 1; i >= 0; i-- {
		if sets[i].WorkS == size || sets[i].WorkS == 0 && sets[i].Reps == size {
			return i
		}
	}
	return -1
}

// correctSet puts to a set what was said of it alone.
func (r *reader) correctSet(set *training.Set, b *bout) bool {
	set.Failed = set.Failed || b.failed
	at, _ := r.names.Find(set.Rung)
	if off := b.said.unaided; off != nil {
		eased := set.Help != "" || set.LoadHg != 0
		if set.Help = ""; off.word == without {
			set.LoadHg = 0
			unaided, was := r.names.Unaided(at)
			if at = unaided; !was && !eased { // then there was something to be without
				r.doubt(Changed, off.from, off.to)
				return false
			}
		}
	}
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
