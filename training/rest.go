package training

import (
	"slices"
	"time"
)

// Rules of the rest rule that a session can break.
const (
	RuleClearDays = "clear days"
	RuleWeek      = "week"
)

// Violation is one way in which the session on Day breaks the rest rule. Its
// identity is Day and Rule; the numbers may change under it. Only the fields of
// its rule are set, and only they are marshalled.
type Violation struct {
	Day  Day    `json:"day"`
	Rule string `json:"rule"` // RuleClearDays or RuleWeek
	Had  int    `json:"had"`  // RuleClearDays: clear days before it; RuleWeek: counted sessions in the 7 days up to it

	Needs int `json:"needs,omitempty"` // RuleClearDays: the fewest clear days
	Since Day `json:"since,omitzero"`  // RuleClearDays: the day of the counted session before it

	Most int `json:"most,omitempty"` // RuleWeek: the most counted sessions
	From Day `json:"from,omitzero"`  // RuleWeek: the first of the 7 days, Day - 6
}

// Same reports whether both are one violation, whatever their numbers.
func (v Violation) Same(other Violation) bool { return v.Day == other.Day && v.Rule == other.Rule }

// before returns how many of the counted days lie before d.
func before(counted []Day, d Day) int {
	at, _ := slices.BinarySearch(counted, d)
	return at
}

// Violations returns what the session on d breaks, clear days first; counted
// holds the days of counted sessions, ascending. The result is never nil and is
// empty where d holds no counted session.
func (r RestRule) Violations(counted []Day, d Day) []Violation {
	at := before(counted, d)
	if at == len(counted) || counted[at] != d {
		return []Violation{}
	}
	return r.violations(counted, at, []Violation{})
}

// AllViolations returns the violations of every session, by day, clear days
// first; never nil.
func (r RestRule) AllViolations(counted []Day) []Violation {
	all := []Violation{}
	for at := range counted {
		all = r.violations(counted, at, all)
	}
	return all
}

// violations appends the violations of the session on counted[at] to all.
func (r RestRule) violations(counted []Day, at int, all []Violation) []Violation {
	d := counted[at]
	if at > 0 {
		if had := int(d - counted[at-1] - 1); had < r.ClearDays {
			all = append(all, Violation{Day: d, Rule: RuleClearDays, Had: had, Needs: r.ClearDays, Since: counted[at-1]})
		}
	}
	if had := inWeek(counted, at, d) + 1; had > r.Sessions {
		all = append(all, Violation{Day: d, Rule: RuleWeek, Had: had, Most: r.Sessions, From: d - 6})
	}
	return all
}

// inWeek returns how many of the days counted[:at] lie in the six days before d.
func inWeek(counted []Day, at int, d Day) int {
	n := 0
	for n < at && counted[at-n-1] >= d-6 {
		n++
	}
	return n
}

// Free reports whether a session on d would break nothing, judged by the
// counted days before d alone; counted is ascending.
func (r RestRule) Free(counted []Day, d Day) bool {
	at := before(counted, d)
	if at > 0 && int(d-counted[at-1]-1) < r.ClearDays {
		return false
	}
	return inWeek(counted, at, d) < r.Sessions
}

// NextAllowed returns the first free day from today on that holds no counted
// session. A day after today can hold one too, once somebody has changed zones.
func (r RestRule) NextAllowed(counted []Day, today Day) Day {
	last := today
	if n := len(counted); n > 0 {
		last = max(last, counted[n-1])
	}
	for d := today; d <= last+7; d++ {
		if _, held := slices.BinarySearch(counted, d); !held && r.Free(counted, d) {
			return d
		}
	}
	return 0 // a rule without sessions, which no programme has
}

// WeekCheck says what the rest rule makes of a coach's team days.
type WeekCheck struct {
	Days     int        // how many team days
	Sessions int        // the most sessions a week on team days that the rule allows week after week
	Keeps    bool       // the rule allows every team day, every week
	Clashes  []DayClash // pairs of team days of which the rule allows one alone, Monday first
}

// DayClash is a pair of weekdays, First before Second in a week that begins on
// Monday, with fewer clear days between them than the rule asks.
type DayClash struct {
	First, Second time.Weekday
	Clear         int // clear days between the two, the shorter way round the week
}

// CheckWeek judges team days as a week that repeats. Under two clear days and
// two sessions 7 of the 21 pairs keep the rule, and no three days do.
func (r RestRule) CheckWeek(team Weekdays) WeekCheck {
	check := WeekCheck{Days: len(team.Days()), Clashes: []DayClash{}}
	for some := Weekdays(1); some < 1<<7; some++ {
		if some&^team == 0 && r.repeats(some) {
			check.Sessions = max(check.Sessions, len(some.Days()))
		}
	}
	check.Keeps = check.Sessions == check.Days
	days := team.Days()
	for i, first := range days {
		for _, second := range days[i+1:] {
			if clear := clearBetween(first, second); clear < r.ClearDays {
				check.Clashes = append(check.Clashes, DayClash{first, second, clear})
			}
		}
	}
	return check
}

// repeats reports whether sessions on exactly these days keep the rule week
// after week. Any seven days hold each weekday once, so that Sessions bounds how
// many days there may be.
func (r RestRule) repeats(days Weekdays) bool {
	list := days.Days()
	for i, day := range list {
		next := list[(i+1)%len(list)]
		if gap := (int(next-day)+6)%7 + 1; gap-1 < r.ClearDays {
			return false
		}
	}
	return len(list) <= r.Sessions
}

// clearBetween counts the days strictly between two different weekdays, the
// shorter way round the week.
func clearBetween(a, b time.Weekday) int {
	gap := (int(b-a) + 7) % 7
	return min(gap, 7-gap) - 1
}
