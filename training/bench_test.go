package training_test

import (
	"fmt"
	"testing"

	"rungbook/training"
	"rungbook/training/programme"
)

// veteran is a member with n sessions, two a week, that touch every ladder but
// dips and show no gate but the pull-ups': the long way for whatever looks back.
func veteran(n int) (r *training.Record, today training.Day) {
	r = &training.Record{Joined: base}
	for i := range n {
		d := base + training.Day(i/2*7+i%2*3)
		s := on(d, "deep-hang", 28, 26, 25)
		s.Sets = append(s.Sets, on(d, "support", 20, 20, 20).Sets...)
		s.Sets = append(s.Sets, on(d, "toe-transitions", 40, 40, 40).Sets...)
		s.Sets = append(s.Sets, sets(2, training.Set{Rung: "pull-ups", Reps: 5 - i%2})...)
		r.Sessions = append(r.Sessions, s)
		today = d
	}
	return r, today
}

// BenchmarkMember asks everything of members of different length.
func BenchmarkMember(b *testing.B) {
	p := programme.Builtin()
	for _, n := range []int{50, 1000} {
		r, today := veteran(n)
		for _, c := range []struct {
			name string
			run  func()
		}{
			{"violations", func() { p.Rest.Violations(p.CountedBetween(r, today-6, today), today) }},
			{"plan", func() { p.PlanDays(r, monThu, today, 14) }},
			{"gates", func() { p.GateFacts(r, today) }},
			{"targets", func() { p.Targets(r, monThu, today+4) }},
			{"week", func() { p.Week(r, monThu, today) }},
			{"trends", func() {
				for i := range p.Ladders {
					p.Trend(r, &p.Ladders[i], today)
				}
			}},
		} {
			b.Run(fmt.Sprintf("%s/%d", c.name, n), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					c.run()
				}
			})
		}
	}
}
