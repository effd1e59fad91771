package training

import "sort"

// AbsentDays is after how many days without a session somebody is absent.
const AbsentDays = 14

// WeekFact is one member's week as the coach is told it, of seven complete days.
// The marshalled fields are those of the contract's members.
type WeekFact struct {
	Member      string   `json:"member"`     // the name; empty here: the caller fills it in
	Sessions    int      `json:"sessions"`   // counted sessions
	Planned     int      `json:"planned"`    // how many days PlanDays gives from the history before the week, since joining
	Violations  int      `json:"violations"` // sessions with at least one
	Paused      bool     `json:"paused"`     // as of the day after the seven
	Away        bool     `json:"away"`       // as of the day after the seven
	Moved       []string `json:"moved"`      // rungs whose standard was met first, or again after a lapse; programme order, never nil
	Stuck       bool     `json:"stuck"`      // stuck on a ladder as of the seventh day
	Absent      bool     `json:"absent"`     // a member, but no session in the last 14 days, on none of them away or paused
	Ready       bool     `json:"ready"`      // as of the day after the seven
	TensionS    int      `json:"tension_s"`
	PullDays    int      `json:"pull_days"`
	LastSession Day      `json:"last_session"` // the latest counted day up to the seventh, 0 where there is none

	StuckOn []string `json:"-"` // the names of the ladders on which they are stuck
}

// Week returns the member's week that ends with the day seventh.
func (p *Programme) Week(r *Record, team Weekdays, seventh Day) WeekFact {
	first, after := seventh-6, seventh+1
	fact := WeekFact{
		Paused: r.PausedOn(after), Away: r.AwayOn(after), Ready: p.ready(r, after),
		Moved: p.moved(r, first, seventh), Absent: r.absent(seventh), LastSession: p.lastCounted(r, seventh),
	}
	fact.StuckOn = p.Stuck(r, seventh)
	fact.Stuck = len(fact.StuckOn) > 0
	if from := max(first, r.Joined); r.Joined != 0 && from <= seventh {
		fact.Planned = len(p.PlanDays(r, team, from, int(seventh-from)+1))
	}
	counted := p.CountedBetween(r, first-lookBack, seventh)
	for _, d := range counted[before(counted, first):] {
		fact.Sessions++
		if len(p.Rest.Violations(counted, d)) > 0 {
			fact.Violations++
		}
	}
	week := r.between(first, seventh)
	for _, seconds := range p.tension(week) {
		fact.TensionS += seconds
	}
	for i := range week {
		if p.Pulls(&week[i]) {
			fact.PullDays++
		}
	}
	return fact
}

// absent reports whether the member was one on all of the 14 days up to the
// seventh, logged nothing on any of them, and was away or paused on none.
func (r *Record) absent(seventh Day) bool {
	first := seventh - AbsentDays + 1
	if r.Joined == 0 || r.Joined > first || len(r.between(first, seventh)) > 0 {
		return false
	}
	for d := first; d <= seventh; d++ {
		if r.AwayOn(d) || r.PausedOn(d) {
			return false
		}
	}
	return true
}

// lastCounted returns the latest counted day up to last, or 0.
func (p *Programme) lastCounted(r *Record, last Day) Day {
	for i := sort.Search(len(r.Sessions), func(i int) bool { return r.Sessions[i].Day > last }) - 1; i >= 0; i-- {
		if p.Counts(r.Sessions[i]) {
			return r.Sessions[i].Day
		}
	}
	return 0
}

// moved returns the names of the rungs whose standard was met for the first time
// on the days from first to last, or of a gate's rung again after a lapse.
func (p *Programme) moved(r *Record, first, last Day) []string {
	names := []string{}
	for l := range p.Ladders {
		for k := range p.Ladders[l].Rungs {
			rung := &p.Ladders[l].Rungs[k]
			met := false
			if gate, ok := p.GateOn(rung.ID); ok {
				met = p.gateMoved(r, gate, first, last)
			} else if !p.Ladders[l].Tries {
				c := climb{p: p, l: &p.Ladders[l], r: r}
				met = c.metIn(k, first, last) && !c.metIn(k, 1, first-1)
			}
			if met {
				names = append(names, rung.Name)
			}
		}
	}
	return names
}

// metIn reports whether a session on the days from first to last meets the
// rung's standard.
func (c *climb) metIn(rung int, first, last Day) bool {
	sessions := c.r.between(first, last)
	for i := range sessions {
		if c.meets(&sessions[i], rung) && !c.r.PausedOn(sessions[i].Day) {
			return true
		}
	}
	return false
}

// gateMoved reports whether the gate was shown on one of the days from first to
// last on which it did not hold by what was shown before.
func (p *Programme) gateMoved(r *Record, gate Gate, first, last Day) bool {
	j := p.judge(gate)
	for on := first; on <= last; on++ {
		shown := j.lastShown(r, on, on) == on || r.lastMark(gate.Rung, on) == on
		if shown && on >= r.Floor(on) && !p.heldBefore(r, j, on) {
			return true
		}
	}
	return false
}

// heldBefore reports whether the gate held on the day by what was shown before
// the day.
func (p *Programme) heldBefore(r *Record, j *judge, on Day) bool {
	first := max(on-GoodDays, r.Floor(on))
	return r.lastMark(j.Rung, on-1) >= first || j.lastShown(r, first, on-1) != 0
}
