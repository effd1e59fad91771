package sets

import "rungbook/training"

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
