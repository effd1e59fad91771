package bot

import (
	"slices"

	"rungbook/bot/words"
	"rungbook/training"
)

// together groups adjacent equal sets; never nil.
func (f *loadedProgramme) together(sets []training.Set) []words.LoggedSet {
	groups := []words.LoggedSet{}
	for i, set := range sets {
		if i > 0 && set == sets[i-1] {
			groups[len(groups)-1].Count++
			continue
		}
		groups = append(groups, words.LoggedSet{NamedSet: f.programme.Named(set), Count: 1})
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

// violations lists the rest rule's violations on the given days (now), those that
// the change caused on other days, and those it resolved on other days. Two
// violations of the same day and rule are the same. Only days within reach of the
// change are looked at.
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

// nextAllowed is the first day from today on that the rest rule leaves free.
func (f *loadedProgramme) nextAllowed(record *training.Record, today training.Day) training.Day {
	return f.programme.Rest.NextAllowed(f.programme.CountedBetween(record, today-reach, today+everAhead), today)
}

// everAhead, in days, is further ahead than any logged day can be: a change of zone
// moves today by a day or two.
const everAhead = 30

// isOf reports whether the day is one of those.
func isOf(days []training.DaySets, day training.Day) bool {
	return slices.ContainsFunc(days, func(one training.DaySets) bool { return one.Day == day })
}

// missingFrom lists the violations that are in list and not in other, without those
// on the given days; never nil.
func missingFrom(other, list []training.Violation, days []training.DaySets) []training.Violation {
	lacking := []training.Violation{}
	for _, v := range list {
		if !isOf(days, v.Day) && !slices.ContainsFunc(other, v.Same) {
			lacking = append(lacking, v)
		}
	}
	return lacking
}

// logFacts are the facts of the full answer to a log of those days, as of today.
func (s *step) logFacts(c change, days []training.DaySets, today training.Day) words.LogFacts {
	now, caused, resolved := s.violations(c, days)
	next := s.nextAllowed(&c.after, today)
	read := s.readBack(days)
	return words.LogFacts{
		Day: read.Day, Logged: read.Logged, Days: read.Days, Gates: s.touched(&c.after, training.SetsOf(days), today),
		Violations: append(now, caused...), Resolved: resolved,
		NextAllowed: next, NextTeamDay: s.programme.NextTeamDay(&c.after, s.team.Days, next), Today: today, Told: read.Told,
	}
}

// readBack is what was logged, by days.
func (f *loadedProgramme) readBack(days []training.DaySets) words.ReadBackFacts {
	told := f.dayLines(days)
	read := words.ReadBackFacts{Day: told[0].Day, Logged: told[0].Logged, Told: told}
	if len(told) > 1 {
		read.Days = told
	}
	return read
}

func (f *loadedProgramme) dayLines(days []training.DaySets) []words.DayFacts {
	var lines []words.DayFacts
	for _, day := range days {
		lines = append(lines, words.DayFacts{Day: day.Day, Logged: f.together(day.Sets)})
	}
	return lines
}

// standing is where the owner of the record stands on today.
func (s *step) standing(record *training.Record, today training.Day) words.Standing {
	ready := s.programme.Readiness(record, s.team.Days, today)
	stands := words.Standing{
		Paused: ready.Paused, Returning: ready.Returning, Ready: ready.Ready,
		MayAttempt: ready.MayAttempt, Missing: ready.Missing, Why: ready, Today: today,
	}
	if !stands.Paused {
		stands.NextAllowed = s.nextAllowed(record, today)
		stands.NextTeamDay = s.programme.NextTeamDay(record, s.team.Days, stands.NextAllowed)
	}
	return stands
}
