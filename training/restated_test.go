package training_test

import (
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
	hold := func(t *rapid.T) {
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
	}
	// Some rules are drawn seldom: more rounds until each was.
	undrawn := func() bool {
		return slices.ContainsFunc([]int{1, 2, 3, 4, 6, 7}, func(rule int) bool { return seen[rule] == 0 })
	}
	for round := 0; round < 50 && undrawn(); round++ {
		rapid.Check(t, hold)
	}
	for rule := 1; rule <= 7; rule++ {
		if rule != 5 && seen[rule] == 0 {
			t.Errorf("rule %d was never drawn: %v", rule, seen)
		}
	}
}
