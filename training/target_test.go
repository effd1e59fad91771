package training_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"testing"

	"rungbook/training"
	"rungbook/training/programme"
)

// on is a session of clean sets on a rung.
func on(d training.Day, rung training.RungID, works ...int) training.Session {
	s := training.Session{Day: d}
	for _, work := range works {
		s.Sets = append(s.Sets, training.Set{Rung: rung, WorkS: work})
	}
	return s
}

// falseGrip returns the target of the false grip ladder.
func falseGrip(t *testing.T, p *training.Programme, r *training.Record, today training.Day) training.Target {
	t.Helper()
	for _, target := range p.Targets(r, monThu, today) {
		if target.Ladder == "false grip" {
			return target
		}
	}
	t.Fatal("no target on the false grip ladder")
	return training.Target{}
}

// TestReturn walks rule 1: half, then three quarters, then the other rules.
func TestReturn(t *testing.T) {
	p := programme.Builtin()
	pause := training.Pause{From: base + 5, Until: base + 30}
	for _, c := range []struct {
		name     string
		sessions []training.Session
		today    training.Day
		want     string
	}{
		{"half of the mean before", []training.Session{on(base, "mid-hang", 20, 20, 21)}, base + 30, "mid hang 1x10 rule 1"},
		{"three quarters after one session", []training.Session{on(base, "mid-hang", 20, 20, 21), on(base+31, "mid-hang", 10)}, base + 33, "mid hang 2x15 rule 1"},
		{"... and on the day of the second", []training.Session{on(base, "mid-hang", 20), on(base+31, "mid-hang", 10), on(base+34, "mid-hang", 10)}, base + 34, "mid hang 2x15 rule 1"},
		{"back", []training.Session{on(base, "mid-hang", 20), on(base+31, "mid-hang", 10), on(base+34, "mid-hang", 12)}, base + 35, "mid hang 2x13 rule 7"},
		{"no move up", []training.Session{on(base, "mid-hang", 30)}, base + 30, "mid hang 1x15 rule 1"},
		{"paused days say nothing", []training.Session{on(base, "mid-hang", 20), on(base+6, "deep-hang", 30)}, base + 30, "mid hang 1x10 rule 1"},
		{"never on the ladder", nil, base + 30, "high hold 1x5 rule 1 baseline first use"},
		{"little on a hard rung: one below", []training.Session{on(base, "deep-hang", 4)}, base + 30, "mid hang 1x5 rule 1 first use"},
		{"85 days before the pause is too long ago", []training.Session{on(base+5-85, "deep-hang", 20)}, base + 30, "mid hang 1x5 rule 1 first use"},
		{"84 days before it is not", []training.Session{on(base+5-84, "deep-hang", 20)}, base + 30, "deep hang 1x10 rule 1"},
	} {
		r := &training.Record{Sessions: c.sessions, Pauses: []training.Pause{pause}}
		if got := brief(falseGrip(t, p, r, c.today)); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// brief writes a target in short.
func brief(t training.Target) string {
	text := fmt.Sprintf("%s %dx%d rule %d", t.Rung, t.Sets, t.WorkS+t.Reps, t.Reason.Rule)
	for _, mark := range []struct {
		on   bool
		word string
	}{{t.Reason.Baseline, " baseline"}, {t.Reason.FirstUse, " first use"}, {t.Reason.MovedUp, " moved up"}, {t.Reason.StopGap, " stop-gap"}} {
		if mark.on {
			text += mark.word
		}
	}
	return text
}

func TestTargetNotes(t *testing.T) {
	p := programme.Builtin()
	toes := func(n int) (sessions []training.Session) {
		for i := range n {
			sessions = append(sessions, on(base+training.Day(7*i), "toe-transitions", 30, 30, 30))
		}
		return sessions
	}
	for _, c := range []struct {
		name     string
		ladder   string
		sessions []training.Session
		today    training.Day
		want     string
	}{
		{"new", "support", nil, base, "toe support 3x10 rule 2 baseline first use"},
		{"moved up", "support", []training.Session{on(base, "toe-support", 30)}, base + 3, "support 3x10 rule 2 first use moved up"},
		{"long ago", "support", []training.Session{on(base, "support", 30)}, base + 90, "toe support 3x10 rule 2 baseline first use"},
		{"three sessions on a stop-gap", "transition", toes(3), base + 17, "toe transitions 3x33 rule 7"},
		{"four sessions on a stop-gap", "transition", toes(4), base + 24, "toe transitions 3x33 rule 7 stop-gap"},
		{"a set in the wrong unit is logged, but says nothing", "support", []training.Session{{Day: base, Sets: []training.Set{{Rung: "toe-support", Reps: 9}}}}, base + 1, "toe support 3x10 rule 2 baseline"},
	} {
		for _, target := range p.Targets(&training.Record{Sessions: c.sessions}, monThu, c.today) {
			if got := brief(target); target.Ladder == c.ladder && got != c.want {
				t.Errorf("%s: %s, want %s", c.name, got, c.want)
			}
		}
	}
}

// TestReasons looks at the numbers that go with a target.
func TestReasons(t *testing.T) {
	p := programme.Builtin()
	hard := on(base+10, "mid-hang", 20, 18, 15)
	hard.Sets[2].Failed = true
	eight := on(base+10, "mid-hang", 20, 16)
	eight.Sets[1].Effort = training.Known(8)
	hard.Sets[1].Effort = training.Known(9)
	for _, c := range []struct {
		name     string
		sessions []training.Session
		want     training.Reason
	}{
		{"step up", []training.Session{on(base+10, "mid-hang", 18, 20, 10, 16)}, training.Reason{Rule: 7, Since: base + 10, Days: 4, Mean: training.Ratio{Num: 54, Den: 3}, Percent: 110}},
		{"time away", []training.Session{on(base-7, "mid-hang", 20, 20)}, training.Reason{Rule: 4, Since: base - 7, Days: 21, Mean: training.Ratio{Num: 40, Den: 2}, Percent: 90}},
		{"falling", []training.Session{on(base, "mid-hang", 20), on(base+4, "mid-hang", 17), on(base+10, "mid-hang", 14)},
			training.Reason{Rule: 5, Since: base + 10, Days: 4, Mean: training.Ratio{Num: 14, Den: 1}, Percent: 90, Fell: [3]training.Ratio{{Num: 20, Den: 1}, {Num: 17, Den: 1}, {Num: 14, Den: 1}}}},
		{"hard", []training.Session{hard}, training.Reason{Rule: 6, Since: base + 10, Days: 4, Mean: training.Ratio{Num: 38, Den: 2}, Percent: 100, Effort: 9, Failed: true, First: 20, Last: 15}},
		{"an effort of 8, and a last set of exactly 80 %", []training.Session{eight}, training.Reason{Rule: 7, Since: base + 10, Days: 4, Mean: training.Ratio{Num: 36, Den: 2}, Percent: 110}},
		{"a fall of exactly a tenth", []training.Session{on(base, "mid-hang", 20), on(base+4, "mid-hang", 18), on(base+10, "mid-hang", 16)},
			training.Reason{Rule: 7, Since: base + 10, Days: 4, Mean: training.Ratio{Num: 16, Den: 1}, Percent: 110}},
	} {
		got := falseGrip(t, p, &training.Record{Sessions: c.sessions}, base+14).Reason
		c.want.Standard = training.Standard{Sets: 1, Work: 30}
		if fmt.Sprint(got) != fmt.Sprint(c.want) {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
	shown := falseGrip(t, p, &training.Record{Sessions: []training.Session{hangs(base)}}, base+3)
	if shown.Reason.Rule != 3 || !shown.Reason.Gated || shown.Reason.Standard != (training.Standard{Sets: 3, Work: 30}) || shown.RestS != 60 {
		t.Errorf("keeping the gate: %+v", shown)
	}
}

func TestAttemptTarget(t *testing.T) {
	p := programme.Builtin()
	r := allShown()
	targets := p.Targets(r, monThu, base+7)
	var names []string
	for _, target := range targets {
		names = append(names, target.Rung)
	}
	if !slices.Equal(names, []string{"muscle-up", "pull-ups", "deep hang", "support", "dips"}) {
		t.Errorf("targets of somebody who may attempt: %v", names)
	}
	if !slices.Equal(targets[0].Reason.Lower, []string{"ring dips"}) {
		t.Errorf("attempts come with %+v", targets[0].Reason)
	}
	data, err := json.Marshal(targets[0])
	if want := `{"rung":"muscle-up","tries":5,"rest_s":150,"because":""}`; err != nil || string(data) != want {
		t.Errorf("got %s, %v; want %s", data, err, want)
	}
	data, err = json.Marshal(targets[2])
	if want := `{"rung":"deep hang","sets":1,"work_s":30,"rest_s":60,"because":""}`; err != nil || string(data) != want {
		t.Errorf("got %s, %v; want %s", data, err, want)
	}
	r.Marks = []training.Mark{{Gate: "ring-dips", Day: base + 7}}
	if lower := p.Targets(r, monThu, base+7)[0].Reason.Lower; lower != nil {
		t.Errorf("ring dips are witnessed, but %v ask to lower out", lower)
	}
	if first := p.Targets(r, monThu, base+8)[0]; first.Tries != 0 {
		t.Errorf("attempts are offered on a day without the team: %+v", first)
	}
}

// TestSecondProgramme runs the handstand as data: nothing above knows ring words.
func TestSecondProgramme(t *testing.T) {
	p, ok := programme.Named("strict-handstand")
	if !ok {
		t.Fatal("no second programme")
	}
	r := &training.Record{Joined: base}
	for i := range 3 {
		s := on(base+training.Day(2*i), "chest-to-wall", 45, 45, 45)
		s.Sets = slices.Concat(s.Sets, sets(3, training.Set{Rung: "free-stand", WorkS: 15}), sets(3, training.Set{Rung: "plank-lean", WorkS: 20}), sets(2, training.Set{Rung: "wall-push-ups", Reps: 6}))
		r.Sessions = append(r.Sessions, s)
	}
	every := training.Weekdays(127)
	if got := p.Readiness(r, every, base+7); !got.MayAttempt {
		t.Errorf("all gates shown, a free day: %+v", got)
	}
	var got []string
	for _, target := range p.Targets(r, every, base+7) {
		got = append(got, fmt.Sprintf("%s %dx%d", target.Rung, max(target.Sets, target.Tries), target.WorkS+target.Reps))
	}
	if want := []string{"press 6x0", "plank lean 1x20", "chest to wall 1x45", "free stand 1x15", "straddle fold 3x20"}; !slices.Equal(got, want) {
		t.Errorf("targets %q, want %q", got, want)
	}
	if v := p.Rest.AllViolations(p.CountedDays(r)); len(v) != 0 {
		t.Errorf("three sessions with a clear day between break its rule: %+v", v)
	}
}
