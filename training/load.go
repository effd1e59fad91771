package training

// TensionS returns a set's seconds under tension: those of one rep times the
// reps where both were logged, else the seconds, else the reps at what the
// programme takes one for. It is 0 for tries and for a rung the programme lacks.
func (p *Programme) TensionS(s *Set) int {
	at, ok := p.rungs[s.Rung]
	switch {
	case !ok:
		return 0
	case s.WorkS > 0 && s.Reps > 0:
		return s.WorkS * s.Reps
	case s.WorkS > 0:
		return s.WorkS
	}
	return s.Reps * p.Ladders[at.ladder].Rungs[at.rung].RepS
}

// Load is the tension of one ladder over seven days.
type Load struct {
	Ladder   string
	TensionS int
	// Before is the mean of the four weeks before those seven days. Compare is true
	// if there is something to compare with: the four weeks hold tension, and the
	// member's first log is of the first of them or earlier.
	Before  Ratio
	Compare bool
}

// Change returns by how many percent the tension is above the mean before, half
// up: 0 where nothing changed, negative where it fell. It means nothing where
// Compare is false.
func (l Load) Change() int { return Ratio{l.TensionS * l.Before.Den, l.Before.Num}.Percent() - 100 }

// loadWeeks is how many weeks before a load is compared with.
const loadWeeks = 4

// Loads returns the tension by ladder over the seven days that end with last,
// in programme order, without the ladder of tries. Sets of paused days and
// failed sets count. For an ISO week let last be its Sunday.
func (p *Programme) Loads(r *Record, last Day) []Load {
	loads := make([]Load, 0, len(p.Ladders))
	first := last - 7*(loadWeeks+1) + 1
	old := len(r.Sessions) > 0 && r.Sessions[0].Day < first+7
	now := p.tension(r.between(last-6, last))
	past := p.tension(r.between(first, last-7))
	for i := range p.Ladders {
		if !p.Ladders[i].Tries {
			loads = append(loads, Load{p.Ladders[i].Name, now[i], Ratio{past[i], loadWeeks}, old && past[i] > 0})
		}
	}
	return loads
}

// tension returns the seconds of the sessions by the ladder's place.
func (p *Programme) tension(sessions []Session) []int {
	seconds := make([]int, len(p.Ladders))
	for i := range sessions {
		for k := range sessions[i].Sets {
			set := &sessions[i].Sets[k]
			if at, ok := p.rungs[set.Rung]; ok {
				seconds[at.ladder] += p.TensionS(set)
			}
		}
	}
	return seconds
}

// SessionS estimates how many seconds a logged session took: those under tension
// and the rests between bouts, as stated or else as the programme asks. A try
// counts as a rep.
func (p *Programme) SessionS(s *Session) int {
	total, rest := 0, 0
	for i := range s.Sets {
		set := &s.Sets[i]
		at, ok := p.rungs[set.Rung]
		if !ok {
			continue
		}
		ladder := &p.Ladders[at.ladder]
		total += rest + p.TensionS(set)
		rest = p.Shape.RestS[ladder.Name]
		if ladder.Tries {
			tries := max(set.Tries, 1)
			rest = p.Shape.TryRestS
			total += tries*ladder.Rungs[at.rung].RepS + (tries-1)*rest
		}
		if set.RestS.Known {
			rest = set.RestS.Value
		}
	}
	return total
}

// EffortLoad returns a session's load: its effort (CR-10) times its minutes,
// half up (Foster et al. 2001, J Strength Cond Res 15(1):109-115). Foster takes
// one rating of the whole session and its whole length. This takes the highest
// effort logged and SessionS, which is a judgement. The load is unsaid where no
// set states an effort.
func (p *Programme) EffortLoad(s *Session) Optional {
	var effort Optional
	for i := range s.Sets {
		if e := s.Sets[i].Effort; e.Known && (!effort.Known || e.Value > effort.Value) {
			effort = e
		}
	}
	if !effort.Known {
		return effort
	}
	return Known(Ratio{effort.Value * p.SessionS(s), 60}.Rounded(1))
}

// EffortWeek is the effort loads of some sessions together.
type EffortWeek struct {
	Load     int // the sum of the loads that are known
	Known    int // how many sessions' loads are known; where it is 0, Load says nothing
	Sessions int // how many sessions there were
}

// Add returns the week with one more session. An unsaid load adds to Sessions
// alone: it is unknown, not zero.
func (w EffortWeek) Add(load Optional) EffortWeek {
	w.Sessions++
	if load.Known {
		w.Known++
		w.Load += load.Value
	}
	return w
}

// EffortWeek sums the effort loads of the seven days that end with last.
func (p *Programme) EffortWeek(r *Record, last Day) (week EffortWeek) {
	sessions := r.between(last-6, last)
	for i := range sessions {
		week = week.Add(p.EffortLoad(&sessions[i]))
	}
	return week
}

// Pulls reports whether the session holds work on a ladder that has a gate but
// does not count for the rest rule. Such work loads the elbows too: its day is
// no day off for them.
func (p *Programme) Pulls(s *Session) bool {
	for i := range s.Sets {
		if at, ok := p.rungs[s.Sets[i].Rung]; ok && !p.Ladders[at.ladder].Counts && !p.Ladders[at.ladder].Advice {
			return true
		}
	}
	return false
}
