package training

// Floor returns F: the first day whose sessions and witness marks may open a
// gate, as seen on today. It is the day of the latest resume; tomorrow while
// paused; 0 for somebody never paused.
func (r *Record) Floor(today Day) Day {
	if r.PausedOn(today) {
		return today + 1
	}
	return r.lastPause(today).Until
}

// lastPause returns the pause with the latest resume up to today, or the zero
// Pause.
func (r *Record) lastPause(today Day) (last Pause) {
	for _, pause := range r.Pauses {
		if pause.Until != 0 && pause.Until <= today && pause.Until >= last.Until {
			last = pause
		}
	}
	return last
}

// returnSessions is how many counted sessions end a return after a pause.
const returnSessions = 2

// Return is the time after a pause, taken gently.
type Return struct {
	Pause    Pause // the pause it follows
	Sessions int   // counted sessions from the day of resume to today, at most 2
}

// Returning tells whether today is in the time from the end of a pause until
// the end of the day of the second counted session after it.
func (p *Programme) Returning(r *Record, today Day) (Return, bool) {
	pause := r.lastPause(today)
	if pause.Until == 0 || r.PausedOn(today) {
		return Return{}, false
	}
	back := Return{Pause: pause}
	for _, s := range r.between(pause.Until, today) {
		if !p.Counts(s) {
			continue
		}
		if back.Sessions++; back.Sessions == returnSessions {
			return back, s.Day == today
		}
	}
	return back, true
}

// Readiness says whether a member may attempt today, with the reasons both ways.
type Readiness struct {
	Paused     bool     `json:"paused"`
	Returning  bool     `json:"returning"`
	Ready      bool     `json:"ready"`       // every blocking gate holds; neither paused nor returning
	MayAttempt bool     `json:"may_attempt"` // ready, today is an allowed day, and today's counted sets are attempts alone
	Missing    []string `json:"missing"`     // rung names of blocking gates that are shut or lapsed, programme order; never nil

	Gates        []GateFact `json:"-"` // all, programme order
	Blocking     int        `json:"-"` // how many of them block
	SessionsBack int        `json:"-"` // while returning: counted sessions since the resume, of 2
	TeamDay      bool       `json:"-"` // today is a team day
	Free         bool       `json:"-"` // today is free by the rest rule
	Away         bool       `json:"-"` // the member is away today
	Trained      bool       `json:"-"` // a counted set other than an attempt is logged today
}

// Readiness judges the member on today.
func (p *Programme) Readiness(r *Record, team Weekdays, today Day) Readiness {
	back, returning := p.Returning(r, today)
	ready := Readiness{
		Paused: r.PausedOn(today), Returning: returning, Missing: []string{},
		Gates: p.GateFacts(r, today), TeamDay: team.Has(today.Weekday()), Away: r.AwayOn(today),
		Free:    p.Rest.Free(p.CountedBetween(r, today-lookBack, today-1), today),
		Trained: p.trained(r.Session(today)),
	}
	if returning {
		ready.SessionsBack = back.Sessions
	}
	for _, gate := range ready.Gates {
		if !gate.Blocking {
			continue
		}
		ready.Blocking++
		if !gate.Status.Holds() {
			ready.Missing = append(ready.Missing, gate.Gate)
		}
	}
	ready.Ready = len(ready.Missing) == 0 && !ready.Paused && !returning
	ready.MayAttempt = ready.Ready && ready.TeamDay && ready.Free && !ready.Away && !ready.Trained
	return ready
}

// ready returns Readiness.Ready alone, which costs less.
func (p *Programme) ready(r *Record, today Day) bool {
	if _, returning := p.Returning(r, today); returning || r.PausedOn(today) {
		return false
	}
	for _, gate := range p.Gates {
		if gate.Blocking && p.Standing(r, gate, today) == "" {
			return false
		}
	}
	return true
}

// mayAttempt returns Readiness.MayAttempt alone, which costs less.
func (p *Programme) mayAttempt(r *Record, team Weekdays, today Day) bool {
	return p.Allowed(r, team, today) && !p.trained(r.Session(today)) && p.ready(r, today)
}

// trained reports whether the session holds a counted set that is no attempt.
func (p *Programme) trained(s Session) bool {
	for i := range s.Sets {
		if at, ok := p.rungs[s.Sets[i].Rung]; ok && p.Ladders[at.ladder].Counts && !p.Ladders[at.ladder].Tries {
			return true
		}
	}
	return false
}
