package scheduler

import (
	"testing"
	"time"

	"github.com/robfig/cron/v3"

	"rungbook/training"
)

// The yardstick of Instant: cron's way to the same question, which is also
// wrong near clock changes.
func BenchmarkInstant(b *testing.B) {
	zone, day := zoneOf(b, "Europe/Lisbon"), dayOf(b, "2026-10-05")
	b.Run("ours", func(b *testing.B) {
		for b.Loop() {
			Instant(day, 17*60+30, zone)
		}
	})
	b.Run("cron", func(b *testing.B) {
		schedule, err := cron.ParseStandard("30 17 * * *")
		if err != nil {
			b.Fatal(err)
		}
		eve := time.Date(2026, 10, 4, 23, 59, 0, 0, zone)
		for b.Loop() {
			schedule.Next(eve)
		}
	})
}

// What a beat costs a team of twelve and a coach before the store is asked.
func BenchmarkBeat(b *testing.B) {
	team := tidewater(b)
	var roster []training.Member
	for id := range training.PersonID(12) {
		roster = append(roster, training.Member{ID: id + 1, Zone: team.Zone, Trains: true, Coach: id == 0})
	}
	now := instant(b, "2026-10-05T17:30:10+01:00")
	for b.Loop() {
		for _, member := range roster {
			Nudges(team, member, now)
			if member.Coach {
				Digests(team, member, now)
			}
		}
	}
}
