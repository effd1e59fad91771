package training

import "slices"

// Session is everything one member logged for one training day, in the order
// typed; several messages of one day are one session.
type Session struct {
	Day  Day
	Sets []Set

	seen rungMask // the rungs of Sets; 0 where it was not worked out
	most int      // the most seconds or reps of any of Sets; only where seen is not 0
}

// NewSession returns a session that also keeps which rungs its sets are on and
// the most work of any, so that a long history is searched quickly. The sets must
// not be changed afterwards.
func NewSession(day Day, sets []Set) Session {
	s := Session{Day: day, Sets: sets}
	for i := range sets {
		s.seen |= maskOf(sets[i].Rung)
		s.most = max(s.most, sets[i].WorkS, sets[i].Reps)
	}
	return s
}

// mayHold reports whether the session may have a set on one of the rungs; false
// is certain.
func (s *Session) mayHold(rungs rungMask) bool { return s.seen == 0 || s.seen&rungs != 0 }

// mayReach reports whether a set on one of the rungs may reach so much work;
// false is certain.
func (s *Session) mayReach(rungs rungMask, work int) bool {
	return s.mayHold(rungs) && (s.seen == 0 || s.most >= work)
}

func (s *Session) holds(id RungID) bool {
	return slices.ContainsFunc(s.Sets, func(set Set) bool { return set.Rung == id })
}

// rungMask is a set of rungs, in which two rungs may share a bit.
type rungMask uint64

func maskOf(id RungID) rungMask {
	hash := uint32(2166136261) // FNV-1a
	for i := range len(id) {
		hash = (hash ^ uint32(id[i])) * 16777619
	}
	return 1 << (hash >> 26)
}

func maskOfAll(rungs []Rung) (mask rungMask) {
	for i := range rungs {
		mask |= maskOf(rungs[i].ID)
	}
	return mask
}

// Pause is a time without ring work: From is the training day on which it was
// set, and Until the one on which it was resumed, which is no paused day any
// more; 0 while the pause runs. A pause that was set and resumed on one day has
// no paused day, but still ends on it. Pauses that were taken back stand in no
// record.
type Pause struct {
	From  Day
	Until Day
}

// Holds reports whether the day is a paused one.
func (p Pause) Holds(d Day) bool { return d >= p.From && (p.Until == 0 || d < p.Until) }

// Away is a stretch of days on which a member does not train, both included.
type Away struct {
	From  Day
	Until Day
}

// Mark says that a coach saw the gate shown on the day.
type Mark struct {
	Gate RungID
	Day  Day
}

// Record is the whole history of one member, as the rules need it. Sessions are
// in ascending order, one a day, each with at least one set. The zero value is
// that of somebody new.
type Record struct {
	Joined   Day
	Sessions []Session
	Pauses   []Pause // ascending; at most the last one runs
	Aways    []Away
	Marks    []Mark
}

// Paused reports whether a pause runs, whatever day it is: the one to ask whether
// somebody is paused now. A pause that ended today still holds for today: see
// PausedOn.
func (r *Record) Paused() bool {
	return len(r.Pauses) > 0 && r.Pauses[len(r.Pauses)-1].Until == 0
}

// PausedOn reports whether the day is a paused one.
func (r *Record) PausedOn(d Day) bool {
	for _, pause := range r.Pauses {
		if pause.Holds(d) {
			return true
		}
	}
	return false
}

// AwayOn reports whether the member is away on the day.
func (r *Record) AwayOn(d Day) bool {
	for _, away := range r.Aways {
		if d >= away.From && d <= away.Until {
			return true
		}
	}
	return false
}

// Session returns the day's session, or one without sets.
func (r *Record) Session(d Day) Session {
	for i := len(r.Sessions) - 1; i >= 0 && r.Sessions[i].Day >= d; i-- {
		if r.Sessions[i].Day == d {
			return r.Sessions[i]
		}
	}
	return Session{Day: d}
}
