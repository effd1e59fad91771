package scheduler

import (
	"testing"
	"time"

	"rungbook/training"
)

// model knows the contract, and a clock only by looking at it each minute.
type model struct {
	from, until training.Day
	seen        map[string]map[training.Day]*scanned
}

func (m *model) zone(t testing.TB, name string) *time.Location {
	zone := zoneOf(t, name)
	if m.seen == nil {
		m.seen = map[string]map[training.Day]*scanned{}
	}
	if m.seen[name] == nil {
		m.seen[name] = scan(zone, m.from, m.until)
	}
	return zone
}

func (m *model) everywhere(day training.Day, zones []*time.Location) bool {
	for _, zone := range zones {
		if m.seen[zone.String()][day] == nil {
			return false
		}
	}
	return true
}

// beat says what the life is to decide now.
func (m *model) beat(l *life, now time.Time) map[subject]Timing {
	want := map[subject]Timing{}
	for _, member := range l.roster {
		today := training.CivilDay(now, member.Zone)
		for day := today - LookBack; day <= today+1; day++ {
			if member.Trains {
				m.judge(want, l, subject{false, member.ID, day}, member, l.team.Nudge, now)
			}
			if member.Coach && day.Weekday() == l.team.DigestDay {
				m.judge(want, l, subject{true, member.ID, day}, member, l.team.Digest, now)
			}
		}
	}
	return want
}

func (m *model) judge(want map[subject]Timing, l *life, key subject, member training.Member, clock training.Clock, now time.Time) {
	date := m.seen[member.Zone.String()][key.day]
	if _, done := l.decided[key]; done || date == nil {
		return
	}
	due := time.Unix(date.over-60, 0)
	if int(clock) < len(date.first) {
		due = time.Unix(date.first[clock], 0)
	}
	if due.Before(member.Since) || now.Before(due) {
		return
	}
	mayStill := func(at time.Time) bool {
		local := at.In(member.Zone)
		if key.digest {
			return !at.After(due.Add(6 * 24 * time.Hour))
		}
		return training.CivilDay(at, member.Zone) == key.day && local.Hour() < 21
	}
	quiet := func(at time.Time) bool {
		local := at.In(member.Zone)
		return l.team.Quiet.Holds(training.Clock(local.Hour()*60 + local.Minute()))
	}
	switch {
	case !now.After(due.Add(10 * time.Minute)):
		want[key] = OnTime
	case !mayStill(now):
		want[key] = Missed
	case !quiet(now):
		want[key] = Late
	default:
		at := now.Truncate(time.Minute)
		for quiet(at) {
			at = at.Add(time.Minute)
		}
		if !mayStill(at) {
			want[key] = Missed
		}
	}
}
