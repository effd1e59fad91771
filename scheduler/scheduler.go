// Package scheduler says what is due when: nudges and digests, as values that
// the bot turns into decisions, and the ticker that makes it ask.
//
// All but Ticker are pure functions. The package must not read a store or a
// clock, and knows no posts. It remembers nothing: each beat asks anew what is
// due, and the caller leaves out what it has decided before. So a crash, a
// suspend, a clock that was set and a change of zone need no code of their own.
//
// # How the bot uses it at a beat
//
// In one writing transaction, for each member who trains:
//
//	decided, _ := tx.Decided(team.ID, "nudge", member.ID, oldest) // oldest: the Day of the first Due
//	for _, due := range scheduler.Nudges(team, member, now) {
//		if decided[due.Day.String()] has an outcome, or due.Timing is Wait: skip
//		wanted := member.Nudges && due.Day is a team day and an allowed day && it holds no counted session
//		not wanted:                     Decide "none"
//		wanted, and due.Timing.Now():   Decide "post", add the member to the one nudge of this beat
//		wanted, and Missed:             Decide "missed", for the digest to tell
//	}
//
// Every existing local date is given, not only the team's days, and the bot
// decides each, with "none" where nothing is to be said. Otherwise past
// Wednesdays would look forgotten once a coach adds Wednesday, and a member who
// switches nudges on in the evening would get the afternoon's.
//
// For each coach the bot does the same with Digests; the outcomes are "post" and
// "missed". A digest is about due.Day-7 to due.Day-1, however late it is.
// Someone who comes back to a team needs a new Since: without it the days of
// their absence count as owed.
package scheduler

import (
	"time"

	"rungbook/training"
)

// Limits of the contract.
const (
	Grace      = 10 * time.Minute            // this late is still on time
	DigestLate = 6 * 24 * time.Hour          // a digest later than this is not sent
	NudgeEnd   = training.Clock(21 * 60)     // from here on no late nudge
	LookBack   = 21                          // days: the seven a digest tells of, the six it may be late, a week and a day to spare
	everyDay   = training.Weekdays(1<<7 - 1) // all seven bits
)

// Timing says what becomes, at a given instant, of something that is due at
// another. The zero value is none of them.
type Timing string

const (
	NotYet Timing = "not yet"
	OnTime Timing = "on time"
	Late   Timing = "late"   // to be said now all the same
	Wait   Timing = "wait"   // late in a quiet hour that ends soon enough
	Missed Timing = "missed" // too late to be said
	Never  Timing = "never"  // the date does not exist in the zone
)

// Now reports whether the thing is to be said now.
func (t Timing) Now() bool { return t == OnTime || t == Late }

// NudgeTiming judges the nudge of a local date. Up to Grace after its Instant
// it is on time, in quiet hours too. Later it is said at once, if in the zone
// the date is still the same, NudgeEnd has not come and it is no quiet hour. In
// a quiet hour it waits, if the first two will still hold when the quiet hour
// ends; else it is missed. For NotYet and Wait the returned instant is when to
// look again; else it is zero.
func NudgeTiming(day training.Day, at training.Clock, quiet training.Quiet, zone *time.Location, now time.Time) (Timing, time.Time) {
	due, ok := Instant(day, at, zone)
	if !ok {
		return Never, time.Time{}
	}
	return judge(due, quiet, zone, now, func(t time.Time) bool {
		return training.CivilDay(t, zone) == day && clockAt(t, zone) < NudgeEnd
	})
}

// DigestTiming judges the digest of a local date as NudgeTiming judges a nudge,
// but a late digest may be said until DigestLate after its Instant.
func DigestTiming(day training.Day, at training.Clock, quiet training.Quiet, zone *time.Location, now time.Time) (Timing, time.Time) {
	due, ok := Instant(day, at, zone)
	if !ok {
		return Never, time.Time{}
	}
	return judge(due, quiet, zone, now, func(t time.Time) bool { return t.Sub(due) <= DigestLate })
}

// judge does what NudgeTiming and DigestTiming have in common. open reports
// whether something late may still be said at an instant, quiet hours aside.
func judge(due time.Time, quiet training.Quiet, zone *time.Location, now time.Time, open func(time.Time) bool) (Timing, time.Time) {
	switch {
	case now.Before(due):
		return NotYet, due
	case now.Sub(due) <= Grace:
		return OnTime, time.Time{}
	case !open(now):
		return Missed, time.Time{}
	case !quiet.Holds(clockAt(now, zone)):
		return Late, time.Time{}
	}
	if end := quietEnd(quiet, zone, now); open(end) {
		return Wait, end
	}
	return Missed, time.Time{}
}

// Due is one thing whose Instant has come.
type Due struct {
	Day    training.Day // the local date: the decision's cause
	Timing Timing       // OnTime, Late, Wait or Missed
	// Until is the last second at which the outbox, which may find the post unsent
	// after a crash, may still send it: the end of Grace or, if that is later, the
	// last second before a quiet hour begins and before NudgeEnd (of a digest:
	// DigestLate). Zero for Wait and Missed.
	Until time.Time
}

// Nudges returns, oldest first, the local dates of the last LookBack days whose
// nudge has come due for the member at the team's nudge time in their own zone,
// team days or not. What was due before member.Since is left out.
func Nudges(team training.Team, member training.Member, now time.Time) []Due {
	return owed(everyDay, team.Nudge, member, now, func(day training.Day, at time.Time) Due {
		timing, _ := NudgeTiming(day, team.Nudge, team.Quiet, member.Zone, now)
		end, _ := Instant(day, NudgeEnd, member.Zone)
		return Due{Day: day, Timing: timing, Until: until(timing, at, end, team.Quiet, member.Zone, now)}
	})
}

// Digests returns, oldest first, the local dates of the last LookBack days
// whose digest has come due for the coach, on the team's digest day and time in
// their own zone. What was due before coach.Since is left out.
func Digests(team training.Team, coach training.Member, now time.Time) []Due {
	on := training.Weekdays(0).With(team.DigestDay)
	return owed(on, team.Digest, coach, now, func(day training.Day, at time.Time) Due {
		timing, _ := DigestTiming(day, team.Digest, team.Quiet, coach.Zone, now)
		return Due{Day: day, Timing: timing, Until: until(timing, at, at.Add(DigestLate+time.Second), team.Quiet, coach.Zone, now)}
	})
}

// owed calls assess for each day whose Instant lies in [member.Since, now] and
// returns what it says, oldest day first. It looks at tomorrow too: in a zone
// that sets its date back tomorrow has begun once already.
func owed(
	on training.Weekdays, clock training.Clock, member training.Member, now time.Time, assess func(training.Day, time.Time) Due,
) []Due {
	var due []Due
	today := training.CivilDay(now, member.Zone)
	for day := today - LookBack; day <= today+1; day++ {
		if !on.Has(day.Weekday()) {
			continue
		}
		at, ok := Instant(day, clock, member.Zone)
		if ok && !at.After(now) && !at.Before(member.Since) {
			due = append(due, assess(day, at))
		}
	}
	return due
}

// until returns Due.Until of something that was due at an instant and may be
// said late before end.
func until(timing Timing, due, end time.Time, quiet training.Quiet, zone *time.Location, now time.Time) time.Time {
	if !timing.Now() {
		return time.Time{}
	}
	last := due.Add(Grace)
	if quiet.Holds(clockAt(now, zone)) {
		return last
	}
	if quiet.From != quiet.Until {
		if start := quietStart(quiet, zone, now); start.Before(end) {
			end = start
		}
	}
	return later(last, end.Add(-time.Second))
}

// Next returns the earliest instant after the given one at which something of
// the team can fall due or stop waiting: a member's nudge time on any date of
// their zone, a coach's digest, the end of a quiet hour in which something late
// waits. A simulated clock that stops at each Next and at each event decides
// everything at its exact instant. ok is false where nobody trains or coaches.
func Next(team training.Team, roster []training.Member, after time.Time) (next time.Time, ok bool) {
	consider := func(at time.Time) {
		if at.After(after) && (!ok || at.Before(next)) {
			next, ok = at, true
		}
	}
	for _, member := range roster {
		if member.Trains {
			for _, due := range Nudges(team, member, after) {
				_, again := NudgeTiming(due.Day, team.Nudge, team.Quiet, member.Zone, after)
				consider(again)
			}
			consider(upcoming(everyDay, team.Nudge, member.Zone, after))
		}
		if member.Coach {
			for _, due := range Digests(team, member, after) {
				_, again := DigestTiming(due.Day, team.Digest, team.Quiet, member.Zone, after)
				consider(again)
			}
			consider(upcoming(training.Weekdays(0).With(team.DigestDay), team.Digest, member.Zone, after))
		}
	}
	return next, ok
}

// upcoming returns the first Instant after the given one whose date is one of
// the weekdays. It looks at two weeks: a zone may skip a date, and has never
// skipped the same weekday twice in a row.
func upcoming(on training.Weekdays, clock training.Clock, zone *time.Location, after time.Time) time.Time {
	today := training.CivilDay(after, zone)
	for day := today - 1; day <= today+15; day++ {
		if !on.Has(day.Weekday()) {
			continue
		}
		if at, ok := Instant(day, clock, zone); ok && at.After(after) {
			return at
		}
	}
	return time.Time{}
}
