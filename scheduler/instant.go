package scheduler

import (
	"time"

	"rungbook/training"
)

// reach is wider than any offset from UTC that a zone has ever had; the widest
// was Manila's local mean time, 15:56 behind. So a local date lies within the 24
// hours that the date has in UTC and reach on either side.
const reach = 16 * time.Hour

// Instant returns when a clock in zone first shows the date and a time of day
// at or after clock. If the clocks skip that time, it is the first instant after
// the gap; if the time comes twice, it is the first; if the date ends before the
// time comes, it is the start of the date's last minute. ok is false for a date
// that does not exist in the zone because its clocks jumped over it.
func Instant(day training.Day, clock training.Clock, zone *time.Location) (at time.Time, ok bool) {
	midnight := time.Unix(int64(day-training.Date(1970, time.January, 1))*86400, 0).In(zone)
	for t := midnight.Add(-reach); !t.After(midnight.Add(24*time.Hour + reach)); {
		start, end := t.ZoneBounds()
		_, offset := t.Zone()
		begin := midnight.Add(-time.Duration(offset) * time.Second)
		due := later(begin.Add(time.Duration(clock)*time.Minute), start)
		over := begin.Add(24 * time.Hour)
		if !end.IsZero() && end.Before(over) {
			over = end
		}
		if due.Before(over) {
			return due, true
		}
		if later(begin, start).Before(over) {
			at, ok = over.Add(-time.Minute), true
		}
		if end.IsZero() {
			break
		}
		t = end
	}
	return at, ok
}

// later returns the later of the two. A zero bound, which is earlier than
// anything, leaves t.
func later(t, bound time.Time) time.Time {
	if bound.After(t) {
		return bound
	}
	return t
}

// clockAt returns what a clock in zone shows at the instant, in whole minutes.
func clockAt(at time.Time, zone *time.Location) training.Clock {
	local := at.In(zone)
	return training.Clock(local.Hour()*60 + local.Minute())
}

// quietEnd returns the first instant after now at which a clock in zone has left
// the quiet stretch. At now it must be in it. The stretch goes by what clocks
// show, so that a clock change within it makes it shorter or longer.
func quietEnd(quiet training.Quiet, zone *time.Location, now time.Time) time.Time {
	t := now.In(zone)
	for {
		left := (quiet.Until - clockAt(t, zone) + 24*60) % (24 * 60)
		end := t.Add(time.Duration(left)*time.Minute - time.Duration(t.Second())*time.Second - time.Duration(t.Nanosecond()))
		_, change := t.ZoneBounds()
		if change.IsZero() || end.Before(change) {
			return end
		}
		if !quiet.Holds(clockAt(change, zone)) {
			return change
		}
		t = change
	}
}

// quietStart returns the first instant after now at which a clock in zone is in
// the quiet stretch. At now it must not be in it, and the stretch must not be
// empty.
func quietStart(quiet training.Quiet, zone *time.Location, now time.Time) time.Time {
	return quietEnd(training.Quiet{From: quiet.Until, Until: quiet.From}, zone, now)
}
