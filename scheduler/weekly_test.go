package scheduler

import (
	"testing"
	"time"

	"github.com/teambition/rrule-go"
	"pgregory.net/rapid"

	"rungbook/training"
)

// Digest dates against RFC 5545's weekly rule as teambition/rrule-go expands it
// (in UTC, for the rule's own local times err at clock changes), stepped through
// by Next in any zone.
func TestDigestDatesAgainstTheWeeklyRule(t *testing.T) {
	all := histories(t)
	rapid.Check(t, func(r *rapid.T) {
		zone := rapid.SampledFrom(all).Draw(r, "history").zone
		team := training.Team{
			DigestDay: time.Weekday(rapid.IntRange(0, 6).Draw(r, "weekday")),
			Digest:    training.Clock(rapid.IntRange(4*60, 24*60-1).Draw(r, "clock")),
		}
		coach := training.Member{Zone: zone, Coach: true}
		start := training.Date(rapid.IntRange(1971, 2036).Draw(r, "year"), 1, rapid.IntRange(1, 366).Draw(r, "day"))
		now, ok := Instant(start, 0, zone)
		if !ok {
			return
		}
		for _, want := range weekly(r, start, team.DigestDay, 60) {
			due, exists := Instant(want, team.Digest, zone)
			if !exists {
				continue
			}
			now, ok = Next(team, []training.Member{coach}, now.Add(-time.Second))
			if !ok || !now.Equal(due) {
				r.Fatalf("%s: next digest %s, want that of %s: %s", zone, now, want, due)
			}
			got := Digests(team, coach, now)
			if last := got[len(got)-1]; last.Day != want || last.Timing != OnTime {
				r.Fatalf("%s: at %s %v, want %s on time", zone, now, last, want)
			}
			now = now.Add(2 * time.Second)
		}
	})
}

func weekly(r *rapid.T, start training.Day, on time.Weekday, count int) []training.Day {
	days := []rrule.Weekday{rrule.SU, rrule.MO, rrule.TU, rrule.WE, rrule.TH, rrule.FR, rrule.SA}
	year, month, day := start.Civil()
	rule, err := rrule.NewRRule(rrule.ROption{
		Freq: rrule.WEEKLY, Byweekday: []rrule.Weekday{days[on]}, Count: count,
		Dtstart: time.Date(year, month, day, 0, 0, 0, 0, time.UTC),
	})
	if err != nil {
		r.Fatal(err)
	}
	var dates []training.Day
	for _, at := range rule.All() {
		dates = append(dates, training.CivilDay(at, time.UTC))
	}
	return dates
}
