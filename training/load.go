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
	// Before is the mean of the four times seven days before; Compare tells
	// whether there is anything to compare with: tension in them, by somebody
	// who logged that long ago.
	Before  Ratio
	Compare bool
}

// Change returns the tension against the mean before, in percent, half up: 0
// where nothing changed. It means something where Compare is true.
func (l Load) Change() int { return Ratio{l.TensionS * l.Before.Den, l.Before.Num}.Percent() - 100 }

// loadWeeks is how many weeks a load is held against.
const loadWeeks = 4

// Loads returns the tension by ladder over the seven days that end with last,
// in programme order, tries left out. Sets of paused days count, and failed
// ones. For an ISO week let last be its Sunday.
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

// SessionS estimates how long a logged session took: the seconds under tension
// and the rests between bouts, as stated or else as the programme has them,
// none after the last. Tries are taken for a rep each.
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
// half up (Foster et al. 2001, J Strength Cond Res 15(1):109-115). Foster's is
// one rating of the whole session and its whole length; here it is the highest
// effort logged and SessionS, a judgement. It is unsaid where no effort is.
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
	Load     int // the sum of those known
	Known    int // sessions whose effort is known; with none, Load says nothing
	Sessions int // all of them
}

// Add takes in one more session's load; a missing one is missing, not zero.
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

// Pulls reports whether the session holds work on a ladder that is trained for
// its gate but does not count for the rest rule: it loads the elbows all the
// same, so that a day of it is no day off for them.
func (p *Programme) Pulls(s *Session) bool {
	for i := range s.Sets {
		if at, ok := p.rungs[s.Sets[i].Rung]; ok && !p.Ladders[at.ladder].Counts && !p.Ladders[at.ladder].Advice {
			return true
		}
	}
	return false
}
