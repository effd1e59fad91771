package training_test

import (
	"math/bits"
	"reflect"
	"slices"
	"testing"
	"time"

	"github.com/teambition/rrule-go"
	"pgregory.net/rapid"

	"rungbook/training"
	"rungbook/training/programme"
)

// base is the Monday on which the generated histories begin.
var base = training.Date(2026, 3, 2)

// anyRule draws a rest rule that fits a week.
func anyRule(t *rapid.T) training.RestRule {
	m := rapid.IntRange(1, 7).Draw(t, "sessions")
	return training.RestRule{ClearDays: rapid.IntRange(0, 7/m-1).Draw(t, "clear days"), Sessions: m}
}

// anyDays draws a set of the n days from base on, ascending.
func anyDays(t *rapid.T, n int) (days []training.Day) {
	for i := range n {
		if rapid.IntRange(0, 2).Draw(t, "held") == 0 {
			days = append(days, base+training.Day(i))
		}
	}
	return days
}

// plainViolations restates the rule by looking at every day of the calendar.
func plainViolations(rule training.RestRule, counted []training.Day, d training.Day) []training.Violation {
	held := func(d training.Day) bool { return slices.Contains(counted, d) }
	out := []training.Violation{}
	if !held(d) {
		return out
	}
	for last := d - 1; last >= base; last-- {
		if held(last) {
			clear := 0
			for between := last + 1; between < d; between++ {
				clear++
			}
			if clear < rule.ClearDays {
				out = append(out, training.Violation{Day: d, Rule: "clear days", Had: clear, Needs: rule.ClearDays, Since: last})
			}
			break
		}
	}
	week := 0
	for in := d - 6; in <= d; in++ {
		if held(in) {
			week++
		}
	}
	if week > rule.Sessions {
		out = append(out, training.Violation{Day: d, Rule: "week", Had: week, Most: rule.Sessions, From: d - 6})
	}
	return out
}

// plainFree: with a session on d and none after, would d be in violation?
func plainFree(rule training.RestRule, counted []training.Day, d training.Day) bool {
	var with []training.Day
	for _, c := range counted {
		if c < d {
			with = append(with, c)
		}
	}
	return len(plainViolations(rule, append(with, d), d)) == 0
}

func TestRestRule(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rule, counted := anyRule(t), anyDays(t, 30)
		all := []training.Violation{}
		for d := base - 1; d < base+45; d++ {
			want := plainViolations(rule, counted, d)
			all = append(all, want...)
			if got := rule.Violations(counted, d); !reflect.DeepEqual(got, want) {
				t.Fatalf("%v: violations %+v, want %+v", d, got, want)
			}
			if got, want := rule.Free(counted, d), plainFree(rule, counted, d); got != want {
				t.Fatalf("%v: free is %v, want %v", d, got, want)
			}
		}
		if got := rule.AllViolations(counted); !reflect.DeepEqual(got, all) {
			t.Fatalf("all violations %+v, want %+v", got, all)
		}
	})
}

func TestNextAllowed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rule, counted := anyRule(t), anyDays(t, 30)
		today := base + training.Day(rapid.IntRange(-3, 40).Draw(t, "today"))
		want := today
		for slices.Contains(counted, want) || !plainFree(rule, counted, want) {
			want++
		}
		if got := rule.NextAllowed(counted, today); got != want {
			t.Fatalf("next allowed is %v, want %v", got, want)
		}
	})
	if got := (training.RestRule{}).NextAllowed(nil, base); got != 0 {
		t.Errorf("a rule without sessions allows %v", got)
	}
}

func TestViolationIdentity(t *testing.T) {
	v := training.Violation{Day: base, Rule: training.RuleWeek, Had: 3}
	if !v.Same(training.Violation{Day: base, Rule: training.RuleWeek, Had: 4}) ||
		v.Same(training.Violation{Day: base + 1, Rule: training.RuleWeek, Had: 3}) ||
		v.Same(training.Violation{Day: base, Rule: training.RuleClearDays, Had: 3}) {
		t.Error("a violation is known by its day and rule, and by nothing else")
	}
}

// keepsFor plays the weekdays for ten weeks under the restated rule.
func keepsFor(rule training.RestRule, days training.Weekdays) bool {
	var counted []training.Day
	for d := base; d < base+70; d++ {
		if days.Has(d.Weekday()) {
			counted = append(counted, d)
		}
	}
	for _, d := range counted {
		if len(plainViolations(rule, counted, d)) > 0 {
			return false
		}
	}
	return true
}

// TestPairs: of the 21 pairs of weekdays exactly seven, three days apart, keep
// two clear days and two sessions; no three days do.
func TestPairs(t *testing.T) {
	rule := training.RestRule{ClearDays: 2, Sessions: 2}
	keep := map[int]int{}
	for team := training.Weekdays(1); team < 1<<7; team++ {
		n := bits.OnesCount8(uint8(team))
		check := rule.CheckWeek(team)
		if check.Days != n || check.Keeps != keepsFor(rule, team) {
			t.Errorf("%v: %+v", team, check)
		}
		if check.Keeps {
			keep[n]++
		}
		if check.Keeps != (len(check.Clashes) == 0 && n <= 2) {
			t.Errorf("%v: keeps is %v with the clashes %v", team, check.Keeps, check.Clashes)
		}
	}
	if keep[1] != 7 || keep[2] != 7 || len(keep) != 2 {
		t.Errorf("teams that keep the rule, by days: %v, want 7 of one and 7 of two", keep)
	}
}

func TestCheckWeek(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rule := anyRule(t)
		team := training.Weekdays(rapid.IntRange(1, 127).Draw(t, "team"))
		want := 0
		for some := training.Weekdays(1); some < 1<<7; some++ {
			if some&team == some && keepsFor(rule, some) {
				want = max(want, bits.OnesCount8(uint8(some)))
			}
		}
		if got := rule.CheckWeek(team); got.Sessions != want || got.Keeps != (want == got.Days) {
			t.Fatalf("%v under %+v: %+v, want %d sessions", team, rule, got, want)
		}
	})
	got := training.RestRule{ClearDays: 2, Sessions: 2}.CheckWeek(training.Weekdays(0).With(time.Saturday).With(time.Monday).With(time.Thursday))
	want := training.WeekCheck{Days: 3, Sessions: 2, Clashes: []training.DayClash{{First: time.Monday, Second: time.Saturday, Clear: 1}, {First: time.Thursday, Second: time.Saturday, Clear: 1}}}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("Mon Thu Sat: %+v, want %+v", got, want)
	}
}

// anyOff draws pauses and absences over the days from base on.
func anyOff(t *rapid.T, r *training.Record) {
	at := base + training.Day(rapid.IntRange(-10, 10).Draw(t, "first pause"))
	for range rapid.IntRange(0, 3).Draw(t, "pauses") {
		until := at + training.Day(rapid.IntRange(0, 9).Draw(t, "pause length"))
		r.Pauses = append(r.Pauses, training.Pause{From: at, Until: until})
		at = until + training.Day(rapid.IntRange(0, 20).Draw(t, "until the next"))
	}
	if len(r.Pauses) > 0 && rapid.IntRange(0, 3).Draw(t, "runs") == 0 {
		r.Pauses[len(r.Pauses)-1].Until = 0
	}
	for range rapid.IntRange(0, 2).Draw(t, "aways") {
		from := base + training.Day(rapid.IntRange(-5, 40).Draw(t, "away from"))
		r.Aways = append(r.Aways, training.Away{From: from, Until: from + training.Day(rapid.IntRange(0, 8).Draw(t, "away length"))})
	}
}

// TestPlanDays holds the plan against every other choice of days: its days are
// allowed, keep the rule, and no larger set does.
func TestPlanDays(t *testing.T) {
	builtin := programme.Builtin()
	rapid.Check(t, func(t *rapid.T) {
		p := *builtin
		p.Rest = anyRule(t)
		r := trainedOn(anyDays(t, 14)...)
		anyOff(t, r)
		team := training.Weekdays(rapid.IntRange(1, 127).Draw(t, "team"))
		from := base + training.Day(rapid.IntRange(0, 16).Draw(t, "from"))
		n := rapid.IntRange(0, 12).Draw(t, "days")
		var past, open []training.Day
		for _, s := range r.Sessions {
			if s.Day < from {
				past = append(past, s.Day)
			}
		}
		for d := from; d < from+training.Day(n); d++ {
			if team.Has(d.Weekday()) && !r.AwayOn(d) && !r.PausedOn(d) {
				open = append(open, d)
			}
		}
		keeps := func(chosen []training.Day) bool {
			counted := slices.Concat(past, chosen)
			return !slices.ContainsFunc(chosen, func(d training.Day) bool { return len(plainViolations(p.Rest, counted, d)) > 0 })
		}
		plan := p.PlanDays(r, team, from, n)
		if !keeps(plan) {
			t.Fatalf("the plan %v breaks the rule after %v", plan, past)
		}
		for _, d := range plan {
			if !slices.Contains(open, d) {
				t.Fatalf("the plan %v holds %v, which is not open", plan, d)
			}
		}
		for some := range 1 << len(open) {
			if bits.OnesCount(uint(some)) <= len(plan) {
				continue
			}
			var chosen []training.Day
			for i, d := range open {
				if some>>i&1 == 1 {
					chosen = append(chosen, d)
				}
			}
			if keeps(chosen) {
				t.Fatalf("the plan is %v, but %v keeps the rule too", plan, chosen)
			}
		}
	})
}

func TestAllowed(t *testing.T) {
	builtin := programme.Builtin()
	rapid.Check(t, func(t *rapid.T) {
		p := *builtin
		p.Rest = anyRule(t)
		counted := anyDays(t, 30)
		r := trainedOn(counted...)
		anyOff(t, r)
		team := training.Weekdays(rapid.IntRange(0, 127).Draw(t, "team"))
		from := base + training.Day(rapid.IntRange(0, 30).Draw(t, "from"))
		allowed := func(d training.Day) bool {
			return team.Has(d.Weekday()) && plainFree(p.Rest, counted, d) && !r.AwayOn(d) && !r.PausedOn(d)
		}
		if got := p.Allowed(r, team, from); got != allowed(from) {
			t.Fatalf("%v: allowed is %v", from, got)
		}
		var want training.Day
		for d := from + 60; d >= from; d-- {
			if allowed(d) && !slices.Contains(counted, d) {
				want = d
			}
		}
		if got := p.NextTeamDay(r, team, from); got != want {
			t.Fatalf("the next team day from %v is %v, want %v", from, got, want)
		}
	})
}

// TestSixtyDays: a team day just within reach, and one just beyond.
func TestSixtyDays(t *testing.T) {
	p := programme.Builtin()
	monday := training.Weekdays(0).With(time.Monday)
	r := &training.Record{Aways: []training.Away{{From: base, Until: base + 62}}}
	for _, c := range []struct{ from, want training.Day }{{base + 3, base + 63}, {base + 2, 0}} {
		if got := p.NextTeamDay(r, monday, c.from); got != c.want {
			t.Errorf("away until the day before: the next team day from %v is %v, want %v", c.from, got, c.want)
		}
	}
}

// TestSixDaysBack: a session six days before still fills the week, one of seven
// days before no longer.
func TestSixDaysBack(t *testing.T) {
	p := programme.Builtin()
	r, every := trainedOn(base, base+3), training.Weekdays(127)
	if p.Allowed(r, every, base+6) || !p.Allowed(r, every, base+7) {
		t.Error("with sessions on days 0 and 3, day 7 is the first allowed one")
	}
	if got := p.PlanDays(r, every, base+6, 3); !slices.Equal(got, []training.Day{base + 7}) {
		t.Errorf("the plan from day 6 is %v, want day 7", got)
	}
	if got := p.NextTeamDay(r, every, base+6); got != base+7 {
		t.Errorf("the next team day from day 6 is %v, want day 7", got)
	}
}

// TestWeeklyDates holds the days of two years against RFC 5545 weekly rules, as
// github.com/teambition/rrule-go expands them.
func TestWeeklyDates(t *testing.T) {
	p := programme.Builtin()
	names := []rrule.Weekday{rrule.SU, rrule.MO, rrule.TU, rrule.WE, rrule.TH, rrule.FR, rrule.SA}
	for team := training.Weekdays(1); team < 1<<7; team++ {
		if !p.Rest.CheckWeek(team).Keeps {
			continue
		}
		option := rrule.ROption{Freq: rrule.WEEKLY, Dtstart: time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC), Until: time.Date(2028, 3, 2, 0, 0, 0, 0, time.UTC)}
		for _, weekday := range team.Days() {
			option.Byweekday = append(option.Byweekday, names[weekday])
		}
		rule, err := rrule.NewRRule(option)
		if err != nil {
			t.Fatal(err)
		}
		var want []training.Day
		for _, at := range rule.All() {
			want = append(want, training.CivilDay(at, time.UTC))
		}
		n := int(training.Date(2028, 3, 2) - base)
		if got := p.PlanDays(&training.Record{}, team, base, n); !slices.Equal(got, want) {
			t.Errorf("%v: %d days %v…, want %d", team, len(got), got[:4], len(want))
		}
	}
}

// TestCounts: what makes a session a counted one.
func TestCounts(t *testing.T) {
	p := programme.Builtin()
	for _, c := range []struct {
		name string
		sets []training.Set
		want bool
	}{
		{"nothing", nil, false},
		{"pull work", []training.Set{{Rung: "pull-ups", Reps: 5}, {Rung: "ring-dips", Reps: 3}}, false},
		{"a hang", []training.Set{{Rung: "pull-ups", Reps: 5}, {Rung: "deep-hang", WorkS: 9}}, true},
		{"a failed hang", []training.Set{{Rung: "deep-hang", WorkS: 9, Failed: true}}, true},
		{"a hang in reps", []training.Set{{Rung: "deep-hang", Reps: 3}}, true},
		{"a helped hang", []training.Set{{Rung: "deep-hang", WorkS: 9, Help: "band", LoadHg: -50}}, true},
		{"a try", []training.Set{{Rung: "muscle-up", Tries: 2}}, true},
		{"a rung that is gone", []training.Set{{Rung: "old-hang", WorkS: 30}}, false},
	} {
		if got := p.Counts(training.Session{Day: base, Sets: c.sets}); got != c.want {
			t.Errorf("%s: counts is %v", c.name, got)
		}
	}
	r := trainedOn(base, base+3, base+9)
	r.Sessions[1].Sets = []training.Set{{Rung: "pull-ups", Reps: 5}}
	if got := p.CountedDays(r); !slices.Equal(got, []training.Day{base, base + 9}) {
		t.Errorf("counted days are %v", got)
	}
	if got := p.CountedBetween(r, base+1, base+9); !slices.Equal(got, []training.Day{base + 9}) {
		t.Errorf("counted days from the second on are %v", got)
	}
}
