package training_test

import (
	"encoding/json"
	"fmt"
	"math/big"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"rungbook/training"
	"rungbook/training/programme"
)

// plainTarget restates the seven rules sentence by sentence, with fractions of
// math/big and without looking at anything twice.
type plainTarget struct {
	p     *training.Programme
	r     *training.Record
	l     training.Ladder
	today training.Day
}

func rat(a, b int) *big.Rat { return big.NewRat(int64(a), int64(b)) }

func floorOf(x *big.Rat) int { return int(new(big.Int).Div(x.Num(), x.Denom()).Int64()) }

func times(x *big.Rat, a, b int) *big.Rat { return new(big.Rat).Mul(x, rat(a, b)) }

func (c plainTarget) work(i int, s training.Set) int {
	if c.l.Rungs[i].Unit == training.Timed {
		return s.WorkS
	}
	return s.Reps
}

// clean lists the works of the clean sets on rung i on a day that is not paused.
func (c plainTarget) clean(i int, d training.Day) (works []int) {
	if c.r.PausedOn(d) {
		return nil
	}
	for _, s := range c.r.Session(d).Sets {
		if s.Rung == c.l.Rungs[i].ID && !s.Failed && s.Help == "" && s.LoadHg >= 0 && c.work(i, s) > 0 {
			works = append(works, c.work(i, s))
		}
	}
	return works
}

func (c plainTarget) asks(i int) training.Standard {
	for _, g := range c.p.Gates {
		if g.Rung == c.l.Rungs[i].ID {
			return g.Standard
		}
	}
	return c.l.Rungs[i].MoveOn
}

func (c plainTarget) mean(i int, d training.Day) *big.Rat {
	works := c.clean(i, d)
	slices.Sort(works)
	slices.Reverse(works)
	works = works[:min(3, len(works))]
	sum := 0
	for _, w := range works {
		sum += w
	}
	return rat(sum, len(works))
}

// latest lists the days of clean sets on rung i, the latest first.
func (c plainTarget) latest(i int, from, to training.Day) (days []training.Day) {
	for d := to; d >= from; d-- {
		if len(c.clean(i, d)) > 0 {
			days = append(days, d)
		}
	}
	return days
}

// third returns the hardest rung with a clean set >= W/3, or -1.
func (c plainTarget) third(from, to training.Day) int {
	hardest := -1
	for i := range c.l.Rungs {
		for d := from; d <= to; d++ {
			for _, w := range c.clean(i, d) {
				if rat(w, 1).Cmp(rat(c.asks(i).Work, 3)) >= 0 {
					hardest = i
				}
			}
		}
	}
	return hardest
}

// under returns one below the hardest rung of the latest session with a clean set.
func (c plainTarget) under(to training.Day) int {
	for d := to; d >= base-10; d-- {
		for i := len(c.l.Rungs) - 1; i >= 0; i-- {
			if len(c.clean(i, d)) > 0 {
				return max(0, i-1)
			}
		}
	}
	return 0
}

func (c plainTarget) current(gate training.GateFact) int {
	if gate.Status == training.Witnessed {
		return slices.IndexFunc(c.l.Rungs, func(r training.Rung) bool { return r.ID == gate.Rung })
	}
	i := c.third(c.today-84, c.today)
	if i < 0 {
		return c.under(c.today)
	}
	for d := c.today - 84; d <= c.today; d++ {
		met := 0
		for _, w := range c.clean(i, d) {
			if w >= c.asks(i).Work {
				met++
			}
		}
		if met >= c.asks(i).Sets && i < len(c.l.Rungs)-1 {
			return i + 1
		}
	}
	return i
}

// target returns rung, sets, t and the rule's number.
func (c plainTarget) target(gate training.GateFact) (i, sets, t, rule int) {
	start := func() *big.Rat {
		least := rat(1, 1)
		if c.l.Rungs[i].Unit == training.Timed {
			least = rat(5, 1)
		}
		if x := rat(c.asks(i).Work, 3); x.Cmp(least) > 0 {
			return x
		}
		return least
	}
	clamp := func(x *big.Rat) int { return max(1, min(floorOf(x), c.asks(i).Work)) }
	if k, pause, ok := c.returning(); ok {
		if i = c.third(pause.From-84, pause.From-1); i < 0 {
			i = c.under(pause.From - 1)
		}
		x := start()
		if days := c.latest(i, base-10, pause.From-1); len(days) > 0 {
			x = c.mean(i, days[0])
		}
		if k == 0 {
			return i, max(1, floorOf(rat(3, 2))), clamp(times(x, 1, 2)), 1
		}
		return i, max(1, floorOf(rat(9, 4))), clamp(times(x, 3, 4)), 1
	}
	i = c.current(gate)
	days := c.latest(i, c.today-84, c.today)
	if len(days) == 0 {
		return i, 3, clamp(start()), 2
	}
	s, since := days[0], int(c.today-days[0])
	n := c.asks(i)
	if c.l.Rungs[i].ID == gate.Rung && (gate.Status == training.Open || gate.Status == training.Witnessed) && n.Sets > 1 && since < 14 {
		// What S holds of counting sets is told by the gate restated for a
		// member who has S alone, seen on its day.
		only := &training.Record{Sessions: []training.Session{c.r.Session(s)}, Pauses: c.r.Pauses}
		g, _ := c.p.GateOn(gate.Rung)
		floor := c.r.Floor(c.today)
		if s >= floor && plainGate(c.p, only, g, c.today).Shown == n.Sets {
			return i, 1, n.Work, 3
		}
		return i, n.Sets, n.Work, 3
	}
	sets = min(3, len(c.clean(i, s))+1)
	b := c.mean(i, s)
	if since >= 14 {
		share := rat(10-(since-14)/7, 10)
		if share.Cmp(rat(6, 10)) < 0 {
			share = rat(6, 10)
		}
		return i, sets, clamp(new(big.Rat).Mul(b, share)), 4
	}
	drop := func(k int) bool { // between the k-th last session and the one before
		return len(days) > k+1 && c.mean(i, days[k]).Cmp(times(c.mean(i, days[k+1]), 9, 10)) < 0
	}
	if drop(0) && drop(1) && !drop(2) {
		return i, sets, clamp(times(b, 9, 10)), 5
	}
	if c.hard(i, s) {
		return i, sets, clamp(b), 6
	}
	return i, sets, clamp(rat(max(floorOf(times(b, 11, 10)), floorOf(b)+1), 1)), 7
}

func (c plainTarget) hard(i int, d training.Day) bool {
	var works []int
	hard := false
	for _, s := range c.r.Session(d).Sets {
		if s.Rung == c.l.Rungs[i].ID && c.work(i, s) > 0 {
			works = append(works, c.work(i, s))
			hard = hard || s.Failed || s.Effort.Known && s.Effort.Value >= 9
		}
	}
	return hard || rat(works[len(works)-1], 1).Cmp(rat(8*works[0], 10)) < 0
}

// returning finds the pause that a return follows and k.
func (c plainTarget) returning() (k int, pause training.Pause, ok bool) {
	for _, x := range c.r.Pauses {
		if x.Until != 0 && x.Until <= c.today {
			pause, ok = x, true
		}
	}
	past := 0
	for d := pause.Until; ok && d <= c.today; d++ {
		if c.p.Counts(c.r.Session(d)) {
			k++
			if d < c.today {
				past++
			}
		}
	}
	return k, pause, ok && past < 2
}

// TestTargets holds every target of any record against the restated rules.
func TestTargets(t *testing.T) {
	builtin, low := programme.Builtin(), lowGates()
	seen := map[int]int{}
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.SampledFrom([]*training.Programme{builtin, low}).Draw(t, "programme")
		r := anyRecord(t, rapid.SampledFrom([]int{0, 15, 50}).Draw(t, "length"))
		today := base + training.Day(rapid.IntRange(0, 70).Draw(t, "today"))
		if r.PausedOn(today) {
			if got := p.Targets(r, monThu, today); got == nil || len(got) != 0 {
				t.Fatalf("targets while paused: %+v", got)
			}
			return
		}
		for _, got := range p.Targets(r, monThu, today) {
			if got.Tries > 0 {
				continue
			}
			at := slices.IndexFunc(p.Ladders, func(l training.Ladder) bool { return l.Name == got.Ladder })
			c := plainTarget{p, r, p.Ladders[at], today}
			var gate training.GateFact
			if g, ok := p.GateOf(&c.l); ok {
				gate = plainGate(p, r, g, today)
				gate.Rung = g.Rung
			}
			i, sets, work, rule := c.target(gate)
			seen[rule]++
			if got.ID != c.l.Rungs[i].ID || got.Sets != sets || got.WorkS+got.Reps != work || got.Reason.Rule != rule {
				t.Fatalf("%s on %v: got %+v, want %s, %d x %d by rule %d", got.Ladder, today, got, c.l.Rungs[i].ID, sets, work, rule)
			}
		}
	})
	for rule := 1; rule <= 7; rule++ {
		if rule != 5 && seen[rule] == 0 {
			t.Errorf("rule %d was never drawn: %v", rule, seen)
		}
	}
}

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
