package training_test

import (
	"encoding/json"
	"math/big"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"rungbook/training"
	"rungbook/training/programme"
)

// anySet draws a set that is close to some gate of the built-in programme.
func anySet(t *rapid.T) training.Set {
	s := training.Set{Rung: rapid.SampledFrom([]training.RungID{
		"slow-lowers", "pull-ups", "mid-hang", "deep-hang", "deep-hang", "support", "toe-support", "transitions", "muscle-up", "gone"}).Draw(t, "rung")}
	s.WorkS = rapid.SampledFrom([]int{0, 12, 29, 30, 30, 45, 60}).Draw(t, "seconds")
	s.Reps = rapid.SampledFrom([]int{0, 0, 4, 5, 8}).Draw(t, "reps")
	switch rapid.IntRange(0, 11).Draw(t, "what of it") {
	case 0:
		s.Failed = true
	case 1:
		s.Help = "band"
	case 2:
		s.LoadHg = -50
	case 3:
		s.LoadHg = 50
	case 4, 5:
		s.RestS = training.Known(rapid.SampledFrom([]int{0, 59, 60, 61}).Draw(t, "rest"))
	}
	return s
}

// anyRecord draws sessions over n days, marks, pauses and absences.
func anyRecord(t *rapid.T, n int) *training.Record {
	r := &training.Record{Joined: base - 5}
	session := func(d training.Day, sets []training.Set) training.Session {
		return training.Session{Day: d, Sets: sets}
	}
	if rapid.Bool().Draw(t, "sessions that know their rungs") {
		session = training.NewSession
	}
	for _, d := range anyDays(t, n) {
		r.Sessions = append(r.Sessions, session(d, rapid.SliceOfN(rapid.Custom(anySet), 1, 6).Draw(t, "sets")))
	}
	anyOff(t, r)
	for range rapid.IntRange(0, 3).Draw(t, "marks") {
		r.Marks = append(r.Marks, training.Mark{
			Gate: rapid.SampledFrom([]training.RungID{"deep-hang", "support", "transitions"}).Draw(t, "gate"),
			Day:  base + training.Day(rapid.IntRange(0, n).Draw(t, "marked")),
		})
	}
	return r
}

// plainPaused reports whether the day lies in a pause.
func plainPaused(r *training.Record, d training.Day) bool {
	return slices.ContainsFunc(r.Pauses, func(x training.Pause) bool { return d >= x.From && (x.Until == 0 || d < x.Until) })
}

// plainFloor is the first day whose work counts today: the end of the latest
// pause that is over, and no day yet while one runs.
func plainFloor(r *training.Record, today training.Day) (floor training.Day) {
	if plainPaused(r, today) {
		return today + 1
	}
	for _, x := range r.Pauses {
		if x.Until != 0 && x.Until <= today {
			floor = max(floor, x.Until)
		}
	}
	return floor
}

// plainWorks lists the eligible works of a day but for the floor, most first.
func plainWorks(p *training.Programme, r *training.Record, g training.Gate, d training.Day) (out []int) {
	ladder, rung, _ := p.Find(g.Rung)
	harder := map[training.RungID]bool{}
	for i := len(ladder.Rungs) - 1; ; i-- {
		harder[ladder.Rungs[i].ID] = true
		if ladder.Rungs[i].ID == g.Rung {
			break
		}
	}
	for _, s := range r.Sessions {
		for _, set := range s.Sets {
			work := set.WorkS
			if rung.Unit == training.Counted {
				work = set.Reps
			}
			clean := !set.Failed && set.Help == "" && set.LoadHg >= 0
			rested := g.RestS == 0 || !set.RestS.Known || set.RestS.Value <= g.RestS
			if s.Day == d && clean && harder[set.Rung] && rested && work > 0 && !plainPaused(r, d) {
				out = append(out, work)
			}
		}
	}
	slices.Sort(out)
	slices.Reverse(out)
	return out
}

// plainGate restates the gates of the design sentence by sentence, a day at a
// time over the whole history.
func plainGate(p *training.Programme, r *training.Record, g training.Gate, today training.Day) training.GateFact {
	_, rung, _ := p.Find(g.Rung)
	floor := plainFloor(r, today)
	count := func(works []int) (n int) {
		for _, w := range works {
			if w >= g.Work {
				n++
			}
		}
		return n
	}
	fact := training.GateFact{Gate: rung.Name, Status: training.Shut, Needed: g.Sets, Best: []int{}, Progress: training.Ratio{Num: 0, Den: g.Sets * g.Work}}
	open, witnessed := false, false
	for d := base - 40; d <= today; d++ {
		works := plainWorks(p, r, g, d)
		best := works[:min(len(works), g.Sets)]
		sum := 0
		for _, w := range best {
			sum += min(w, g.Work)
		}
		inside := d >= today-28 && d >= floor
		if inside && sum > 0 && sum >= fact.Progress.Num {
			fact.Best, fact.Progress.Num, fact.Shown = best, sum, min(g.Sets, count(works))
		}
		marked := slices.Contains(r.Marks, training.Mark{Gate: g.Rung, Day: d})
		if count(works) >= g.Sets || marked {
			fact.ShownOn, fact.GoodUntil, fact.Status = d, d+28, training.Lapsed
			fact.Reason = ""
			if d < floor {
				fact.Reason = "shown before a pause"
			}
		}
		open = open || inside && count(works) >= g.Sets
		witnessed = witnessed || inside && marked
	}
	if witnessed {
		fact.Status = training.Witnessed
	} else if open {
		fact.Status = training.Open
	}
	return fact
}

// lowGates is the built-in programme with two gates below the last rung, so
// that harder rungs can show them.
func lowGates() *training.Programme {
	p := programme.Builtin()
	p.Gates[0].Rung, p.Gates[1].Rung = "slow-lowers", "mid-hang"
	return p
}

func TestGate(t *testing.T) {
	builtin, low := programme.Builtin(), lowGates()
	seen := map[training.GateStatus]int{}
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.SampledFrom([]*training.Programme{builtin, low}).Draw(t, "programme")
		r := anyRecord(t, 50)
		today := base + training.Day(rapid.IntRange(0, 90).Draw(t, "today"))
		facts := p.GateFacts(r, today)
		for i, g := range p.Gates {
			want := plainGate(p, r, g, today)
			got := facts[i]
			seen[got.Status]++
			gotJSON, _ := json.Marshal(got)
			wantJSON, _ := json.Marshal(want)
			if string(gotJSON) != string(wantJSON) || got.Reason != want.Reason {
				t.Fatalf("on %v\ngot  %s %s\nwant %s %s", today, gotJSON, got.Reason, wantJSON, want.Reason)
			}
			standing := got.Status
			if !standing.Holds() {
				standing = ""
			}
			if told := p.Standing(r, g, today); told != standing {
				t.Fatalf("on %v the gate on %s stands %q, but is %s", today, g.Rung, told, got.Status)
			}
			if got.Rung != g.Rung || got.Work != g.Work || got.RestS != g.RestS || got.Blocking != g.Blocking {
				t.Fatalf("the gate %+v is told as %+v", g, got)
			}
		}
	})
	for _, status := range []training.GateStatus{training.Shut, training.Open, training.Witnessed, training.Lapsed} {
		if seen[status] == 0 {
			t.Errorf("none of the gates drawn was %s", status)
		}
	}
}

// sets repeats a set.
func sets(n int, s training.Set) []training.Set { return slices.Repeat([]training.Set{s}, n) }

// hangs is a session that shows the gate on the deep hang.
func hangs(d training.Day) training.Session {
	return training.Session{Day: d, Sets: sets(3, training.Set{Rung: "deep-hang", WorkS: 30})}
}

// TestPausesAndGates walks through what a pause does to a gate, day by day.
func TestPausesAndGates(t *testing.T) {
	p := programme.Builtin()
	gate, _ := p.GateOn("deep-hang")
	mark := func(d training.Day) []training.Mark { return []training.Mark{{Gate: "deep-hang", Day: d}} }
	for _, c := range []struct {
		name    string
		record  training.Record
		today   training.Day
		status  training.GateStatus
		shownOn training.Day
		reason  string
	}{
		{"paused the day after", training.Record{Sessions: []training.Session{hangs(base)}, Pauses: []training.Pause{{From: base + 1}}}, base + 1, training.Lapsed, base, "shown before a pause"},
		{"paused later, as seen before", training.Record{Sessions: []training.Session{hangs(base)}, Pauses: []training.Pause{{From: base + 2}}}, base + 1, training.Open, base, ""},
		{"the day the pause is set is a paused day", training.Record{Sessions: []training.Session{hangs(base)}, Pauses: []training.Pause{{From: base}}}, base, training.Shut, 0, ""},
		{"resumed, not shown again", training.Record{Sessions: []training.Session{hangs(base)}, Pauses: []training.Pause{{From: base + 1, Until: base + 3}}}, base + 3, training.Lapsed, base, "shown before a pause"},
		{"shown on the day of resume", training.Record{Sessions: []training.Session{hangs(base), hangs(base + 3)}, Pauses: []training.Pause{{From: base + 1, Until: base + 3}}}, base + 3, training.Open, base + 3, ""},
		{"shown on a paused day alone", training.Record{Sessions: []training.Session{hangs(base + 2)}, Pauses: []training.Pause{{From: base + 1, Until: base + 3}}}, base + 3, training.Shut, 0, ""},
		{"set and resumed on one day holds no day but ends there", training.Record{Sessions: []training.Session{hangs(base)}, Pauses: []training.Pause{{From: base + 1, Until: base + 1}}}, base + 1, training.Lapsed, base, "shown before a pause"},
		{"... and that very day's session is from F on", training.Record{Sessions: []training.Session{hangs(base)}, Pauses: []training.Pause{{From: base, Until: base}}}, base, training.Open, base, ""},
		{"two pauses: the latest resume holds", training.Record{Sessions: []training.Session{hangs(base + 4)}, Pauses: []training.Pause{{From: base + 1, Until: base + 3}, {From: base + 6, Until: base + 8}}}, base + 9, training.Lapsed, base + 4, "shown before a pause"},
		{"a mark before F", training.Record{Marks: mark(base), Pauses: []training.Pause{{From: base + 1, Until: base + 3}}}, base + 4, training.Lapsed, base, "shown before a pause"},
		{"a mark after F", training.Record{Marks: mark(base + 3), Pauses: []training.Pause{{From: base + 1, Until: base + 3}}}, base + 4, training.Witnessed, base + 3, ""},
		{"a mark and later hangs", training.Record{Marks: mark(base), Sessions: []training.Session{hangs(base + 7)}}, base + 8, training.Witnessed, base + 7, ""},
		{"a mark too old, hangs not", training.Record{Marks: mark(base), Sessions: []training.Session{hangs(base + 7)}}, base + 29, training.Open, base + 7, ""},
		{"a mark's last good day", training.Record{Marks: mark(base)}, base + 28, training.Witnessed, base, ""},
		{"a mark lapses", training.Record{Marks: mark(base)}, base + 29, training.Lapsed, base, ""},
		{"another gate's mark", training.Record{Marks: []training.Mark{{Gate: "support", Day: base}}}, base, training.Shut, 0, ""},
	} {
		got := p.Gate(&c.record, gate, c.today)
		if got.Status != c.status || got.ShownOn != c.shownOn || got.Reason != c.reason {
			t.Errorf("%s: %s, shown on %v, %q; want %s, %v, %q", c.name, got.Status, got.ShownOn, got.Reason, c.status, c.shownOn, c.reason)
		}
	}
}

func TestRestNotStated(t *testing.T) {
	p := programme.Builtin()
	stated := training.Set{Rung: "deep-hang", WorkS: 30, RestS: training.Known(60)}
	bare := training.Set{Rung: "deep-hang", WorkS: 30}
	for _, c := range []struct {
		name string
		sets []training.Set
		want bool
	}{
		{"stated", sets(3, stated), false},
		{"not stated", sets(3, bare), true},
		{"one of three not stated", append(sets(2, stated), bare), true},
		{"three stated and one not", append(sets(3, stated), bare), false},
		{"two of three, not stated", sets(2, bare), true},
		{"two of three, stated", sets(2, stated), false},
		{"one of three, not stated", sets(1, bare), false},
		{"a set of five asks no rest", []training.Set{{Rung: "pull-ups", Reps: 5}}, false},
	} {
		gate, _ := p.GateOn(c.sets[0].Rung)
		r := &training.Record{Sessions: []training.Session{{Day: base, Sets: c.sets}}}
		if got := p.Gate(r, gate, base); got.RestNotStated != c.want || got.BestOn != base {
			t.Errorf("%s: rest not stated is %v, best on %v", c.name, got.RestNotStated, got.BestOn)
		}
	}
}

func TestLapses(t *testing.T) {
	p := programme.Builtin()
	gate, _ := p.GateOn("deep-hang")
	r := &training.Record{Sessions: []training.Session{hangs(base)}}
	for _, c := range []struct {
		today training.Day
		days  int
		holds bool
	}{{base, 29, true}, {base + 21, 8, true}, {base + 28, 1, true}, {base + 29, 0, false}} {
		if days, holds := p.Gate(r, gate, c.today).Lapses(c.today); days != c.days || holds != c.holds {
			t.Errorf("on %v it lapses in %d days and holds is %v", c.today, days, holds)
		}
	}
}

// TestRatio checks the printed thousandths and the comparison against exact
// fractions of math/big.
func TestRatio(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := training.Ratio{Num: rapid.IntRange(-9999, 9999).Draw(t, "num"), Den: rapid.IntRange(1, 999).Draw(t, "den")}
		b := training.Ratio{Num: rapid.IntRange(-9999, 9999).Draw(t, "num"), Den: rapid.IntRange(1, 999).Draw(t, "den")}
		x, y := big.NewRat(int64(a.Num), int64(a.Den)), big.NewRat(int64(b.Num), int64(b.Den))
		if a.Less(b) != (x.Cmp(y) < 0) {
			t.Fatalf("%v < %v is %v", x, y, a.Less(b))
		}
		up := new(big.Rat).Add(new(big.Rat).Mul(x, big.NewRat(1000, 1)), big.NewRat(1, 2))
		floor := new(big.Int).Div(up.Num(), up.Denom()) // Euclid's division, the divisor positive: rounds down
		if int64(a.Thousandths()) != floor.Int64() {
			t.Fatalf("%v is %d thousandths, want %v", x, a.Thousandths(), floor)
		}
		if want := new(big.Int).Div(x.Num(), x.Denom()); int64(a.Floor()) != want.Int64() {
			t.Fatalf("the floor of %v is %d", x, a.Floor())
		}
	})
	for text, r := range map[string]training.Ratio{"0.911": {Num: 82, Den: 90}, "1": {Num: 3, Den: 3}, "0.667": {Num: 2, Den: 3}, "0": {}, "0.001": {Num: 1, Den: 2000}, "0.8": {Num: 4, Den: 5}} {
		if data, err := json.Marshal(r); err != nil || string(data) != text {
			t.Errorf("%+v is written %s, %v; want %s", r, data, err, text)
		}
	}
	if (training.Ratio{Num: 1}).Floor() != 0 || (training.Ratio{Num: 1, Den: 8}).Percent() != 13 {
		t.Error("an empty ratio is 0, and an eighth is 13 percent, half up")
	}
}

// TestGateJSON holds the marshalled fields against the contract's example.
func TestGateJSON(t *testing.T) {
	p := programme.Builtin()
	gate, _ := p.GateOn("deep-hang")
	r := &training.Record{Sessions: []training.Session{{Day: base, Sets: []training.Set{
		{Rung: "deep-hang", WorkS: 30}, {Rung: "deep-hang", WorkS: 22}, {Rung: "deep-hang", WorkS: 30}}}}}
	data, err := json.Marshal(p.Gate(r, gate, base))
	want := `{"gate":"deep hang","status":"shut","shown":2,"needed":3,"best":[30,30,22],"progress":0.911,"shown_on":null,"good_until":null}`
	if err != nil || string(data) != want {
		t.Errorf("got  %s, %v\nwant %s", data, err, want)
	}
	gone := p.Gate(r, training.Gate{Rung: "gone", Standard: training.Standard{Sets: 1, Work: 5}}, base)
	if gone.Status != training.Shut || !reflect.DeepEqual(gone.Best, []int{}) {
		t.Errorf("a gate on a rung that is gone: %+v", gone)
	}
}
