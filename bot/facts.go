package bot

import (
	"slices"

	"rungbook/training"
)

// LoggedSet is one or more equal sets that stand together.
type LoggedSet struct {
	training.NamedSet
	Count int `json:"count"`
}

// LogFacts is the full answer to a log.
type LogFacts struct {
	Day         training.Day         `json:"day"`            // the first of several
	Logged      []LoggedSet          `json:"logged"`         // for Day
	Days        []DayFacts           `json:"days,omitempty"` // all of them, where there are several
	Gates       []training.GateFact  `json:"gates"`
	Violations  []training.Violation `json:"violations"` // of the days logged, then those newly caused on other days
	Resolved    []training.Violation `json:"resolved"`   // on other days
	NextAllowed training.Day         `json:"next_allowed"`
	NextTeamDay training.Day         `json:"next_team_day"`

	today training.Day // of the message, for the words
	told  []dayLine    // what the words read back
	whose string       // whose log it is, where its words go to somebody else
}

// ReadBack is the answer to a log of a paused day: what was understood, no more.
type ReadBack struct {
	Day    training.Day `json:"day"`
	Logged []LoggedSet  `json:"logged"`
	Days   []DayFacts   `json:"days,omitempty"` // as in LogFacts

	told  []dayLine
	whose string
}

// DayFacts is what was logged for one of several days.
type DayFacts struct {
	Day    training.Day `json:"day"`
	Logged []LoggedSet  `json:"logged"`
}

// WithdrawFacts goes with an answer taken down.
type WithdrawFacts struct {
	Day        training.Day         `json:"day"`
	Violations []training.Violation `json:"violations"` // newly caused
	Resolved   []training.Violation `json:"resolved"`
}

// Standing is where somebody stands; private.
type Standing struct {
	Paused      bool         `json:"paused"`
	Returning   bool         `json:"returning"`
	Ready       bool         `json:"ready"`
	MayAttempt  bool         `json:"may_attempt"`
	Missing     []string     `json:"missing"` // blocking gates that are shut or lapsed
	NextAllowed training.Day `json:"next_allowed"`
	NextTeamDay training.Day `json:"next_team_day"`

	why   training.Readiness // the reasons, for the words
	today training.Day
}

// GatesFacts is the answer to /gates.
type GatesFacts struct {
	Gates []training.GateFact `json:"gates"`
	Standing
}

// NudgeFacts names who is nudged.
type NudgeFacts struct {
	Mentioned []string `json:"mentioned"`
}

func (LogFacts) facts()      {}
func (ReadBack) facts()      {}
func (WithdrawFacts) facts() {}
func (GatesFacts) facts()    {}
func (NudgeFacts) facts()    {}

// together groups adjacent equal sets; never nil.
func (f *loadedProgramme) together(sets []training.Set) []LoggedSet {
	groups := []LoggedSet{}
	for i, set := range sets {
		if i > 0 && set == sets[i-1] {
			groups[len(groups)-1].Count++
			continue
		}
		groups = append(groups, LoggedSet{NamedSet: f.programme.Named(set), Count: 1})
	}
	return groups
}

// touched returns the gates of the ladders that the sets are on, in programme
// order; never nil.
func (f *loadedProgramme) touched(record *training.Record, sets []training.Set, today training.Day) []training.GateFact {
	on := map[*training.Ladder]bool{}
	for _, set := range sets {
		if ladder, _, ok := f.programme.Find(set.Rung); ok {
			on[ladder] = true
		}
	}
	gates := []training.GateFact{}
	for _, gate := range f.programme.Gates {
		if ladder, _, ok := f.programme.Find(gate.Rung); ok && on[ladder] {
			gates = append(gates, f.programme.Gate(record, gate, today))
		}
	}
	return gates
}

// change is a member's record on either side of what was just done to it.
type change struct {
	before, after training.Record
	from          []training.DaySets // what the message gave before, where it gave anything
}

// reach is how many days after a session the rest rule can still speak of it.
const reach = 7

// violations splits what the change did: of the sessions on the days, then those
// newly caused on other days; and those that went away on other days. A
// violation is the same one while its day and rule are. Only the days around
// those changed are looked at: the rule reaches no further than a week.
func (f *loadedProgramme) violations(c change, days []training.DaySets) (now, caused, resolved []training.Violation) {
	first, last := days[0].Day, days[0].Day
	for _, day := range append(slices.Clip(days), c.from...) {
		first, last = min(first, day.Day), max(last, day.Day)
	}
	around := func(record *training.Record) (list []training.Violation) {
		for _, v := range f.programme.Rest.AllViolations(f.programme.CountedBetween(record, first-reach, last+reach)) {
			if v.Day >= first {
				list = append(list, v)
			}
		}
		return list
	}
	before, after := around(&c.before), around(&c.after)
	now = []training.Violation{}
	for _, v := range after {
		if isOf(days, v.Day) {
			now = append(now, v)
		}
	}
	return now, missingFrom(before, after, days), missingFrom(after, before, days)
}

// nextAllowed is the first free day as seen from today.
func (f *loadedProgramme) nextAllowed(record *training.Record, today training.Day) training.Day {
	return f.programme.Rest.NextAllowed(f.programme.CountedBetween(record, today-reach, today+everAhead), today)
}

// everAhead is further ahead than any logged day can be: a change of zone moves
// today by a day or two, no more.
const everAhead = 30

// isOf reports whether the day is one of those.
func isOf(days []training.DaySets, day training.Day) bool {
	return slices.ContainsFunc(days, func(one training.DaySets) bool { return one.Day == day })
}

// missingFrom lists the violations of list on other days than those that have no
// like in other; never nil.
func missingFrom(other, list []training.Violation, days []training.DaySets) []training.Violation {
	lacking := []training.Violation{}
	for _, v := range list {
		if !isOf(days, v.Day) && !slices.ContainsFunc(other, v.Same) {
			lacking = append(lacking, v)
		}
	}
	return lacking
}

// logFacts is the full answer to a log of the member of those days, seen from
// today.
func (s *step) logFacts(c change, days []training.DaySets, today training.Day) LogFacts {
	now, caused, resolved := s.violations(c, days)
	next := s.nextAllowed(&c.after, today)
	read := s.readBack(days)
	return LogFacts{
		Day: read.Day, Logged: read.Logged, Days: read.Days, Gates: s.touched(&c.after, training.SetsOf(days), today),
		Violations: append(now, caused...), Resolved: resolved,
		NextAllowed: next, NextTeamDay: s.programme.NextTeamDay(&c.after, s.team.Days, next), today: today, told: read.told,
	}
}

// readBack is what was logged, by days.
func (f *loadedProgramme) readBack(days []training.DaySets) ReadBack {
	told := f.dayLines(days)
	read := ReadBack{Day: told[0].day, Logged: told[0].sets, told: told}
	if len(told) > 1 {
		for _, day := range told {
			read.Days = append(read.Days, DayFacts{day.day, day.sets})
		}
	}
	return read
}

func (f *loadedProgramme) dayLines(days []training.DaySets) []dayLine {
	var lines []dayLine
	for _, day := range days {
		lines = append(lines, dayLine{day.Day, f.together(day.Sets)})
	}
	return lines
}

// standing is where the owner of the record stands on today.
func (s *step) standing(record *training.Record, today training.Day) Standing {
	ready := s.programme.Readiness(record, s.team.Days, today)
	stands := Standing{
		Paused: ready.Paused, Returning: ready.Returning, Ready: ready.Ready,
		MayAttempt: ready.MayAttempt, Missing: ready.Missing, why: ready, today: today,
	}
	if !stands.Paused {
		stands.NextAllowed = s.nextAllowed(record, today)
		stands.NextTeamDay = s.programme.NextTeamDay(record, s.team.Days, stands.NextAllowed)
	}
	return stands
}
