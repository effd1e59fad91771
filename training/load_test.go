package training_test

import (
	"fmt"
	"slices"
	"testing"

	"rungbook/training"
	"rungbook/training/programme"
)

func TestTension(t *testing.T) {
	p := programme.Builtin()
	for _, c := range []struct {
		set  training.Set
		want int
	}{
		{training.Set{Rung: "deep-hang", WorkS: 30}, 30},
		{training.Set{Rung: "deep-hang", WorkS: 30, Failed: true, Help: "band"}, 30},
		{training.Set{Rung: "slow-lowers", WorkS: 8, Reps: 3}, 24},
		{training.Set{Rung: "pull-ups", Reps: 5}, 15},
		{training.Set{Rung: "deep-hang", Reps: 2}, 6},
		{training.Set{Rung: "muscle-up", Tries: 4, Done: training.Known(1)}, 0},
		{training.Set{Rung: "gone", WorkS: 30}, 0},
	} {
		if got := p.TensionS(&c.set); got != c.want {
			t.Errorf("%+v is %d s of tension, want %d", c.set, got, c.want)
		}
	}
}

func TestLoads(t *testing.T) {
	p := programme.Builtin()
	r := &training.Record{Pauses: []training.Pause{{From: base + 30}}}
	for week, seconds := range []int{10, 20, 40, 30, 50} {
		r.Sessions = append(r.Sessions, on(base+training.Day(7*week), "deep-hang", seconds))
	}
	r.Sessions = append(r.Sessions, training.Session{Day: base + 34, Sets: []training.Set{
		{Rung: "pull-ups", Reps: 5}, {Rung: "deep-hang", WorkS: 25, Failed: true}}})
	var got []string
	for _, l := range p.Loads(r, base+34) {
		line := fmt.Sprintf("%s %d", l.Ladder, l.TensionS)
		if l.Compare {
			line += fmt.Sprintf(" %+d%%", l.Change())
		}
		got = append(got, line)
	}
	// 75 s against a mean of 25 s.
	if want := []string{"pull 15", "false grip 75 +200%", "support 0", "transition 0", "dips 0"}; !slices.Equal(got, want) {
		t.Errorf("loads %q, want %q", got, want)
	}
	if l := p.Loads(r, base+27)[1]; l.TensionS != 30 || l.Compare {
		t.Errorf("with less than four weeks before: %+v", l)
	}
	if l := p.Loads(r, base+41)[1]; l.TensionS != 0 || !l.Compare || l.Change() != -100 {
		t.Errorf("a week without work: %+v, %d", l, l.Change())
	}
}

// TestFosterWeek: the nine session loads of a week printed in table 5 of Foster
// et al. 2001, J Strength Cond Res 15(1):109-115, sum to the printed 3,400. A
// session without effort is missing, not zero.
func TestFosterWeek(t *testing.T) {
	var week training.EffortWeek
	for _, load := range []int{940, 50, 840, 280, 180, 390, 50, 390, 280} {
		week = week.Add(training.Known(load))
	}
	week = week.Add(training.Optional{})
	if want := (training.EffortWeek{Load: 3400, Known: 9, Sessions: 10}); week != want {
		t.Errorf("the week is %+v, want %+v", week, want)
	}
}

func TestEffortLoad(t *testing.T) {
	p := programme.Builtin()
	hang := training.Set{Rung: "deep-hang", WorkS: 60}
	with := func(effort, rest int) training.Set {
		s := hang
		s.Effort, s.RestS = training.Known(effort), training.Known(rest)
		return s
	}
	for _, c := range []struct {
		name    string
		sets    []training.Set
		seconds int
		load    training.Optional
	}{
		{"no effort", sets(3, hang), 300, training.Optional{}},
		{"the highest effort", []training.Set{hang, with(7, 60), with(5, 60)}, 300, training.Known(35)},
		{"rest as stated", []training.Set{with(6, 90), hang}, 210, training.Known(21)},
		{"half up", []training.Set{{Rung: "deep-hang", WorkS: 30, Effort: training.Known(5)}}, 30, training.Known(3)},
		{"no effort at all, said so", []training.Set{with(0, 60)}, 60, training.Known(0)},
		{"tries", []training.Set{{Rung: "muscle-up", Tries: 3, Effort: training.Known(8)}, hang}, 3*3 + 3*150 + 60, training.Known(69)},
		{"reps and a rung that is gone", []training.Set{{Rung: "pull-ups", Reps: 5}, {Rung: "gone", WorkS: 99}, {Rung: "pull-ups", Reps: 4}}, 15 + 120 + 12, training.Optional{}},
	} {
		s := training.Session{Day: base, Sets: c.sets}
		if seconds, load := p.SessionS(&s), p.EffortLoad(&s); seconds != c.seconds || load != c.load {
			t.Errorf("%s: %d s and a load of %+v, want %d and %+v", c.name, seconds, load, c.seconds, c.load)
		}
	}
	r := &training.Record{Sessions: []training.Session{{Day: base - 1, Sets: []training.Set{with(9, 60)}}, {Day: base, Sets: []training.Set{with(7, 60)}}, {Day: base + 6, Sets: sets(1, hang)}}}
	if got, want := p.EffortWeek(r, base+6), (training.EffortWeek{Load: 7, Known: 1, Sessions: 2}); got != want {
		t.Errorf("the week is %+v, want %+v", got, want)
	}
}

// TestBouts lays out a session: attempts, then hang and support in turns, then
// the pull ladder and dips. 60 s between alternating bouts: common practice, no
// source.
func TestBouts(t *testing.T) {
	p := programme.Builtin()
	targets := p.Targets(&training.Record{}, monThu, base)
	var got []string
	total := 0
	for _, b := range p.Bouts(targets) {
		got = append(got, fmt.Sprintf("%s %d+%d", b.Rung, b.TakesS, b.RestS))
		total += b.TakesS + b.RestS
	}
	want := []string{
		"high-hold 10+60", "toe-support 10+60", "high-hold 10+60", "toe-support 10+60", "high-hold 10+60", "toe-support 10+60",
		"toe-transitions 20+60", "toe-transitions 20+60", "toe-transitions 20+60",
		"ring-rows 6+120", "ring-rows 6+120", "ring-rows 6+120", "dips 3+120", "dips 3+120", "dips 3+0",
	}
	if !slices.Equal(got, want) {
		t.Errorf("bouts\n%q, want\n%q", got, want)
	}
	if got := p.TotalS(targets); got != total || got != 60+360+60+180+18+360+9+240 {
		t.Errorf("the session takes %d s", got)
	}
	attempts := p.Targets(allShown(), monThu, base+7)
	bouts := p.Bouts(attempts)
	got = nil
	for _, b := range bouts[:7] {
		got = append(got, fmt.Sprintf("%s %d+%d", b.Rung, b.TakesS, b.RestS))
	}
	if want := []string{"muscle-up 3+150", "muscle-up 3+150", "muscle-up 3+150", "muscle-up 3+150", "muscle-up 3+150", "deep-hang 30+60", "support 30+60"}; !slices.Equal(got, want) {
		t.Errorf("bouts with attempts\n%q, want\n%q", got, want)
	}
	if p.Bouts(nil) != nil || p.TotalS(nil) != 0 {
		t.Error("a session without targets takes time")
	}
}

func TestLighterWeek(t *testing.T) {
	p := programme.Builtin()
	weeks := func(n int) *training.Record {
		var days []training.Day
		for i := range n {
			days = append(days, base+training.Day(7*i), base+training.Day(7*i+3))
		}
		return trainedOn(days...)
	}
	for _, c := range []struct {
		full  int
		today training.Day
		weeks int
		due   bool
	}{
		{0, base, 0, false},
		{5, base + 35, 5, false},
		{6, base + 41, 5, false}, // the sixth week is not over
		{6, base + 42, 6, true},
		{6, base + 48, 6, true},
		{6, base + 49, 0, false}, // the week after stood empty
		{7, base + 49, 0, false}, // the seventh is taken for the lighter one
		{8, base + 56, 1, false},
		{13, base + 91, 6, true},
	} {
		if n, due := p.LighterWeek(weeks(c.full), c.today); n != c.weeks || due != c.due {
			t.Errorf("%d full weeks, on %v: %d and %v, want %d and %v", c.full, c.today, n, due, c.weeks, c.due)
		}
	}
	for sets, want := range map[int]int{1: 1, 2: 1, 3: 1, 4: 2} {
		if got := (training.Target{Sets: sets}).Lighter(); got.Sets != want || got.Tries != 0 {
			t.Errorf("%d sets lighter are %d, want %d", sets, got.Sets, want)
		}
	}
	if got := (training.Target{Tries: 5}).Lighter(); got.Tries != 2 || got.Sets != 0 {
		t.Errorf("five tries lighter are %+v", got)
	}
}
