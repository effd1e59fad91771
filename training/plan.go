package training

import "sort"

// between returns the sessions of the days from first to last, both included.
func (r *Record) between(first, last Day) []Session {
	from := sort.Search(len(r.Sessions), func(i int) bool { return r.Sessions[i].Day >= first })
	rest := r.Sessions[from:]
	return rest[:sort.Search(len(rest), func(i int) bool { return rest[i].Day > last })]
}

// Counts reports whether the session is a counted one: it holds at least one
// set, failed or not, on a ladder that counts for the rest rule. A rung that the
// programme no longer has does not count.
func (p *Programme) Counts(s Session) bool {
	for i := range s.Sets {
		if at, ok := p.rungs[s.Sets[i].Rung]; ok && p.Ladders[at.ladder].Counts {
			return true
		}
	}
	return false
}

// CountedDays returns the days of all counted sessions, ascending.
func (p *Programme) CountedDays(r *Record) []Day {
	return p.countedIn(r.Sessions, make([]Day, 0, len(r.Sessions)))
}

// CountedBetween returns the days of the counted sessions from first to last,
// both included, ascending. The rest rule never looks back further than six
// days, so [d-6, d] tells all of d's violations.
func (p *Programme) CountedBetween(r *Record, first, last Day) []Day {
	return p.countedIn(r.between(first, last), nil)
}

func (p *Programme) countedIn(sessions []Session, days []Day) []Day {
	for _, s := range sessions {
		if p.Counts(s) {
			days = append(days, s.Day)
		}
	}
	return days
}

// lookBack is how many days before a day the rest rule looks at: a rule asks at
// most 6 clear days, and a week is 7 days with the day itself.
const lookBack = 6

// open reports whether d is a team day on which the member is neither away nor
// paused. It does not look at the rest rule.
func (r *Record) open(team Weekdays, d Day) bool {
	return team.Has(d.Weekday()) && !r.AwayOn(d) && !r.PausedOn(d)
}

// Allowed reports whether d is an allowed day: a team day that is free, on
// which the member is neither away nor paused. A counted session on d itself
// changes nothing.
func (p *Programme) Allowed(r *Record, team Weekdays, d Day) bool {
	return r.open(team, d) && p.Rest.Free(p.CountedBetween(r, d-lookBack, d-1), d)
}

// teamDayReach is how many days ahead NextTeamDay looks.
const teamDayReach = 60

// NextTeamDay returns the first allowed day from the day from on that holds no
// counted session, at most 60 days after it, or 0 where there is none. With what
// NextAllowed returns as from it is the next day on which the member may train
// with the team.
func (p *Programme) NextTeamDay(r *Record, team Weekdays, from Day) Day {
	counted := p.CountedBetween(r, from-lookBack, from+teamDayReach)
	for d := from; d <= from+teamDayReach; d++ {
		at := before(counted, d)
		held := at < len(counted) && counted[at] == d
		if !held && r.open(team, d) && p.Rest.Free(counted, d) {
			return d
		}
	}
	return 0
}

// PlanDays chooses days to train from the n days that begin with from. It takes
// each allowed day, the earliest first, and from then on counts it as a session.
// Of the history it looks at the days before from alone. No larger set of days
// keeps the rest rule.
func (p *Programme) PlanDays(r *Record, team Weekdays, from Day, n int) []Day {
	counted := p.CountedBetween(r, from-lookBack, from-1)
	past := len(counted)
	for d := from; d < from+Day(n); d++ {
		if r.open(team, d) && p.Rest.Free(counted, d) {
			counted = append(counted, d)
		}
	}
	return counted[past:]
}
