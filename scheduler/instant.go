package scheduler

import (
	"time"

	"rungbook/training"
)

// reach is wider than any offset from UTC that a zone has ever had (Manila's
// local mean time was 15:56 behind): what a date covers lies within its own
// 24 hours of UTC and this much on either side.
const reach = 16 * time.Hour

// Instant returns when a clock in zone first shows the date with the time of
// day at or after clock. Where the time is skipped that is the first instant
// after the gap; where it comes twice, the first time; where nothing is left of
// the date, the start of its last minute. ok is false for a date that does not
// exist in the zone: its clocks jumped over it whole.
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

// later returns the later of the two; a zero bound is no bound.
func later(t, bound time.Time) time.Time {
	if bound.After(t) {
		return bound
	}
	return t
}

// clockAt is the reading of a clock in zone.
func clockAt(at time.Time, zone *time.Location) training.Clock {
	local := at.In(zone)
	return training.Clock(local.Hour()*60 + local.Minute())
}

// quietEnd returns the first instant after now at which a clock in zone is no
// longer in the quiet stretch; it is to be asked only within one. Clock changes
// inside the stretch shorten or lengthen it, for it goes by readings.
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
// the quiet stretch; it is to be asked only outside of one, and of a stretch
// that is not empty.
func quietStart(quiet training.Quiet, zone *time.Location, now time.Time) time.Time {
	return quietEnd(training.Quiet{From: quiet.Until, Until: quiet.From}, zone, now)
}
