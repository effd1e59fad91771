package training

// TargetDays is how many days back targets look: their window is
// [today - TargetDays, today].
const TargetDays = 84

// KeepDays is after how many days without a session on a rung the rung's target
// steps back. Common practice, no source.
const KeepDays = 14

// Target is what one ladder asks of the next session, or, with Tries, what is
// offered of attempts. The marshalled fields are those of the contract.
type Target struct {
	Rung    string `json:"rung"` // its present name
	Sets    int    `json:"sets,omitempty"`
	WorkS   int    `json:"work_s,omitempty"` // seconds a bout, on timed rungs
	Reps    int    `json:"reps,omitempty"`   // reps a bout, on counted rungs
	Tries   int    `json:"tries,omitempty"`  // the most attempts
	RestS   int    `json:"rest_s"`           // seconds between two bouts
	Because string `json:"because"`          // Reason in words; empty here: the caller makes words

	ID     RungID `json:"-"`
	Ladder string `json:"-"`
	Reason Reason `json:"-"`
}

// Reason says in numbers why a target is what it is. Fields that its rule does
// not use are zero.
type Reason struct {
	// Rule is the number of the rule that applied: 1 returning, 2 new on the rung,
	// 3 keeping, 4 time away, 5 falling, 6 hard, 7 step up; 0 for attempts.
	Rule int

	Standard Standard // of the rung: its gate's or its move-on standard
	Gated    bool     // Standard is the gate's
	MovedUp  bool     // the member is on this rung because the standard of the one below was met
	Baseline bool     // no set on the ladder in the window: ask for a baseline
	FirstUse bool     // no set on this rung was ever logged: show cue, set-up and caution
	StopGap  bool     // enough sessions on a stop-gap rung to say that it is one

	Since   Day      // the day of session S, from which the target is worked out; rule 1: of the last one before the pause
	Days    int      // days from Since to today
	Mean    Ratio    // b: the mean work of the three best clean sets of S, or of all if they are fewer
	Percent int      // how much of Mean the target is, or of a third of the standard where Since is 0
	Back    int      // rule 1: counted sessions since the resume
	Fell    [3]Ratio // rule 5: the means of the last three sessions, oldest first
	Effort  int      // rule 6: the highest effort of S, if it is 9 or 10
	Failed  bool     // rule 6: a set of S failed
	First   int      // rule 6: the work of the first set of S, if Last is below 80 % of it
	Last    int      // rule 6: the work of the last set of S, if First is set
	Lower   []string // attempts: advice gates that do not hold, for which one lowers out instead
}

// Targets returns the next session: a target for each ladder but that of tries,
// in programme order; none while paused. For somebody who may attempt, attempts
// come first, and the ladder that they replace is left out. Never nil.
//
// Steps of 2-10 % are given for load in the position stand of the American
// College of Sports Medicine (Ratamess et al. 2009, Med Sci Sports Exerc
// 41:687-708) and borrowed here for time; the rest is common practice, no source.
func (p *Programme) Targets(r *Record, team Weekdays, today Day) []Target {
	targets := []Target{}
	if r.PausedOn(today) {
		return targets
	}
	attempts := p.mayAttempt(r, team, today)
	back, returning := p.Returning(r, today)
	for i := range p.Ladders {
		l := &p.Ladders[i]
		if l.Tries {
			if attempts {
				targets = append([]Target{p.attempts(l, r, today)}, targets...)
			}
			continue
		}
		if attempts && l.Name == p.Shape.Replaces {
			continue
		}
		c := climb{p: p, l: l, r: r, today: today}
		if gate, ok := p.GateOf(l); ok {
			c.gate, c.standing = &gate, p.Standing(r, gate, today)
		}
		if returning {
			targets = append(targets, c.comeBack(back))
		} else {
			targets = append(targets, c.next())
		}
	}
	return targets
}

// index returns the rung's place on the ladder, or -1.
func (l *Ladder) index(id RungID) int {
	for i := range l.Rungs {
		if l.Rungs[i].ID == id {
			return i
		}
	}
	return -1
}

func (p *Programme) attempts(l *Ladder, r *Record, today Day) Target {
	rung := &l.Rungs[0]
	target := Target{Rung: rung.Name, Tries: p.Shape.Tries, RestS: p.Shape.TryRestS, ID: rung.ID, Ladder: l.Name}
	for _, gate := range p.Gates {
		if !gate.Blocking && p.Standing(r, gate, today) == "" {
			target.Reason.Lower = append(target.Reason.Lower, p.NameOf(gate.Rung))
		}
	}
	return target
}

// next returns the target by the first of the rules from 2 on that applies.
func (c *climb) next() Target {
	rung, reason := c.current()
	standard := c.standard(rung)
	back := c.lately(rung, c.today-TargetDays, c.today)
	s := back[0]
	if s == nil {
		reason.Rule, reason.Percent = 2, 100
		return c.target(rung, c.p.Shape.Sets, c.start(rung), reason)
	}
	mean := c.mean(s, rung)
	reason.Since, reason.Days, reason.Mean = s.Day, int(c.today-s.Day), mean
	if c.keeps(rung) && reason.Days < KeepDays {
		reason.Rule = 3
		sets := standard.Sets
		if c.p.judge(*c.gate).countingSince(s, c.r.Floor(c.today)) >= sets {
			sets = 1
		}
		return c.target(rung, sets, Ratio{standard.Work, 1}, reason)
	}
	sets := min(c.p.Shape.Sets, c.clean(s, rung)+1)
	reason.Percent = 100
	switch {
	case reason.Days >= KeepDays:
		reason.Rule, reason.Percent = 4, max(60, 100-10*((reason.Days-KeepDays)/7))
	case c.fell(back, rung, &reason):
		reason.Rule, reason.Percent = 5, 90
	case c.hard(s, rung, &reason):
		reason.Rule = 6
	default:
		reason.Rule, reason.Percent = 7, 110
		step := max(mean.Times(110, 100).Floor(), mean.Floor()+1)
		return c.target(rung, sets, Ratio{step, 1}, reason)
	}
	return c.target(rung, sets, mean.Times(reason.Percent, 100), reason)
}

// keeps reports whether rule 3 applies if the last session is recent enough: the
// rung is the gate's, the gate holds, and it asks more than one set.
func (c *climb) keeps(rung int) bool {
	return c.gate != nil && c.l.Rungs[rung].ID == c.gate.Rung && c.standing != "" && c.gate.Sets > 1
}

// comeBack returns the target by rule 1: in the first session back half of what
// was done before the pause, in the second three quarters.
func (c *climb) comeBack(back Return) Target {
	last := back.Pause.From - 1
	rung, reason := c.before(last)
	reason.Rule, reason.Back, reason.Percent = 1, back.Sessions, 50
	if back.Sessions > 0 {
		reason.Percent = 75
	}
	x := c.start(rung)
	if s := c.lately(rung, 1, last)[0]; s != nil {
		reason.Since, reason.Days, reason.Mean = s.Day, int(c.today-s.Day), c.mean(s, rung)
		x = reason.Mean
	}
	sets := max(1, c.p.Shape.Sets*reason.Percent/100)
	return c.target(rung, sets, x.Times(reason.Percent, 100), reason)
}

// start returns what somebody new on the rung is asked: a third of the standard,
// and no less than 5 s or 1 rep.
func (c *climb) start(rung int) Ratio {
	least := 1
	if c.l.Rungs[rung].Unit == Timed {
		least = 5
	}
	third := Ratio{c.standard(rung).Work, 3}
	if third.Less(Ratio{least, 1}) {
		return Ratio{least, 1}
	}
	return third
}

// target returns a target of so many sets, each of x, rounded down, but no more
// than the rung's standard.
func (c *climb) target(rung, sets int, x Ratio, reason Reason) Target {
	on := &c.l.Rungs[rung]
	reason.Standard = c.standard(rung)
	reason.Gated = c.gate != nil && c.gate.Rung == on.ID
	reason.FirstUse = reason.Since == 0 && c.sessionsOn(on.ID, 1) == 0
	reason.StopGap = on.StopGap > 0 && c.sessionsOn(on.ID, on.StopGap) == on.StopGap
	t := Target{Rung: on.Name, Sets: sets, RestS: c.p.Shape.RestS[c.l.Name], ID: on.ID, Ladder: c.l.Name, Reason: reason}
	work := max(1, min(x.Floor(), reason.Standard.Work))
	if on.Unit == Timed {
		t.WorkS = work
	} else {
		t.Reps = work
	}
	return t
}
