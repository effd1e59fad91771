package training_test

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"rungbook/training"
	"rungbook/training/programme"
)

// ladder finds a ladder of the programme by its name.
func ladder(t testing.TB, p *training.Programme, name string) *training.Ladder {
	t.Helper()
	i := slices.IndexFunc(p.Ladders, func(l training.Ladder) bool { return l.Name == name })
	if i < 0 {
		t.Fatalf("no ladder is called %q", name)
	}
	return &p.Ladders[i]
}

func TestPositions(t *testing.T) {
	p := programme.Builtin()
	grip := ladder(t, p, "false grip")
	failed := on(base, "deep-hang", 30)
	failed.Sets[0].Failed = true
	rested := on(base, "deep-hang", 30)
	rested.Sets[0].RestS = training.Known(61)
	mixed := on(base, "high-hold", 30)
	mixed.Sets = append(mixed.Sets, training.Set{Rung: "mid-hang", WorkS: 6}, training.Set{Rung: "support", WorkS: 30})
	for _, c := range []struct {
		name    string
		session training.Session
		want    string // "" for no point
	}{
		{"half a rung", on(base, "high-hold", 15), "0.167"},
		{"the best set counts", on(base, "high-hold", 6, 15, 9), "0.167"},
		{"a rung done", on(base, "high-hold", 45), "0.333"},
		{"the second rung", on(base, "mid-hang", 15), "0.5"},
		{"the best rung of the session", mixed, "0.4"},
		{"one of the gate's three sets", on(base, "deep-hang", 30), "0.778"},
		{"the gate's three sets", hangs(base), "1"},
		{"failed", failed, ""},
		{"rested too long for the gate", rested, ""},
		{"another ladder", on(base, "support", 30), ""},
		{"in the wrong unit", training.Session{Day: base, Sets: []training.Set{{Rung: "mid-hang", Reps: 4}}}, ""},
	} {
		r := &training.Record{Sessions: []training.Session{c.session}}
		got := ""
		for _, point := range p.Positions(r, grip, base, base) {
			got += point.Position.String()
		}
		if got != c.want {
			t.Errorf("%s: position %q, want %q", c.name, got, c.want)
		}
		r.Pauses = []training.Pause{{From: base, Until: base + 1}}
		if points := p.Positions(r, grip, base, base); points != nil {
			t.Errorf("%s: a paused day gives %v", c.name, points)
		}
	}
}

// steady is a member who holds the mid hang a little longer every week.
func steady(first training.Day, works ...int) *training.Record {
	r := &training.Record{Joined: first}
	for i, work := range works {
		r.Sessions = append(r.Sessions, on(first+training.Day(7*i), "mid-hang", work))
	}
	return r
}

func TestTrend(t *testing.T) {
	p := programme.Builtin()
	grip := ladder(t, p, "false grip")
	for _, c := range []struct {
		name  string
		works []int
		today training.Day
		known bool
		sign  float64
	}{
		{"four sessions", []int{5, 6, 7, 8}, base + 21, false, 0},
		{"five that rise", []int{5, 6, 7, 8, 9}, base + 28, true, 1},
		{"five that fall", []int{9, 8, 7, 6, 5}, base + 28, true, -1},
		{"up and down", []int{5, 9, 6, 8, 7, 7}, base + 35, false, 0},
		{"flat", []int{7, 7, 7, 7, 7, 7}, base + 35, false, 0},
		{"the first of them 85 days ago", []int{5, 6, 7, 8, 9}, base + 85, false, 0},
		{"the first of them 84 days ago", []int{5, 6, 7, 8, 9}, base + 84, true, 1},
	} {
		got := p.Trend(steady(base, c.works...), grip, c.today)
		if got.Known != c.known || got.Slope*c.sign < 0 || c.known && got.Slope == 0 || got.Low > got.Slope || got.High < got.Slope {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
	// A second a week of 30 on one of three rungs: 1/90 of the ladder in 7 days.
	if got := p.Trend(steady(base, 5, 6, 7, 8, 9), grip, base+28).Slope; got < 1.0/630-1e-12 || got > 1.0/630+1e-12 {
		t.Errorf("the slope is %v, want 1/630", got)
	}
}

func TestForecast(t *testing.T) {
	p := programme.Builtin()
	grip := ladder(t, p, "false grip")
	// Exactly 3 s a week, from 6 to 18 s: position 1/3 + 18/90 on day 28, and
	// 3/90 more each week. The gate's position is 1, so 14 weeks on.
	r := steady(base, 6, 9, 12, 15, 18)
	f, ok := p.Forecast(r, monThu, grip, base+28)
	want := training.Forecast{From: base + 28 + 98, Until: base + 28 + 98, WeeksFrom: 14, WeeksUntil: 14}
	if !ok || f != want {
		t.Errorf("a straight line: %+v, %v; want %+v", f, ok, want)
	}
	tuesday := training.Weekdays(0).With(time.Tuesday)
	if f, _ := p.Forecast(r, tuesday, grip, base+28); f.From != base+28+99 || f.WeeksFrom != 14 || f.WeeksUntil != 15 {
		t.Errorf("moved to a Tuesday: %+v", f)
	}
	if f, ok := p.Forecast(steady(base, 6, 7, 9, 10, 12, 13), monThu, grip, base+35); !ok || f.From >= f.Until && f.Until != 0 {
		t.Errorf("a bent line: %+v, %v", f, ok)
	}
	for _, c := range []struct {
		name string
		r    *training.Record
		team training.Weekdays
	}{
		{"no trend", steady(base, 9, 6, 9, 6, 9), monThu},
		{"falling", steady(base, 18, 15, 12, 9, 6), monThu},
		{"too slow", steady(base, 10, 11, 12, 13, 14), monThu},
		{"no team days", r, 0},
	} {
		if f, ok := p.Forecast(c.r, c.team, grip, base+28); ok || f != (training.Forecast{}) {
			t.Errorf("%s: %+v", c.name, f)
		}
	}
	paused := *r
	paused.Pauses = []training.Pause{{From: base + 28}}
	if f, ok := p.Forecast(&paused, monThu, grip, base+28); ok {
		t.Errorf("paused: %+v", f)
	}
	held := *r
	held.Marks = []training.Mark{{Gate: "deep-hang", Day: base + 28}}
	if f, ok := p.Forecast(&held, monThu, grip, base+28); ok {
		t.Errorf("the gate holds already: %+v", f)
	}
	if f, ok := p.Forecast(r, monThu, ladder(t, p, "attempts"), base+28); ok {
		t.Errorf("attempts: %+v", f)
	}
}

// TestForecastRange: whatever the history, a forecast is a range ahead, on
// allowed days, within 26 weeks.
func TestForecastRange(t *testing.T) {
	p := programme.Builtin()
	grip := ladder(t, p, "false grip")
	seen := 0
	hold := func(t *rapid.T) {
		r := &training.Record{}
		work := 6
		for i := range rapid.IntRange(0, 20).Draw(t, "sessions") {
			work = max(1, work+rapid.IntRange(-1, 3).Draw(t, "step"))
			r.Sessions = append(r.Sessions, on(base+training.Day(4*i), "mid-hang", work))
		}
		today := base + training.Day(rapid.IntRange(60, 90).Draw(t, "today"))
		f, ok := p.Forecast(r, monThu, grip, today)
		if !ok {
			return
		}
		seen++
		if f.From < today || f.From > today+182 || !p.Allowed(r, monThu, f.From) || f.WeeksFrom > f.WeeksUntil || f.WeeksUntil > 26 {
			t.Fatalf("as of %v: %+v", today, f)
		}
		if f.Until != 0 && (f.Until < f.From || f.Until > today+182 || !p.Allowed(r, monThu, f.Until)) {
			t.Fatalf("as of %v: %+v", today, f)
		}
	}
	for round := 0; round < 50 && seen == 0; round++ {
		rapid.Check(t, hold)
	}
	if seen == 0 {
		t.Error("no history drawn gave a forecast")
	}
}

func TestStuck(t *testing.T) {
	p := programme.Builtin()
	twice := func(works ...int) *training.Record {
		r := &training.Record{Joined: base}
		for i, work := range works {
			r.Sessions = append(r.Sessions, on(base+training.Day(i/2*7+i%2*3), "mid-hang", work))
		}
		return r
	}
	level := []int{12, 12, 11, 12, 12, 12}
	for _, c := range []struct {
		name   string
		r      *training.Record
		change func(*training.Record)
		today  training.Day
		want   []string
	}{
		{"level", twice(level...), nil, base + 17, []string{"false grip"}},
		{"falling", twice(15, 14, 13, 12, 11, 10), nil, base + 17, []string{"false grip"}},
		{"rising", twice(10, 11, 12, 13, 14, 15), nil, base + 17, nil},
		{"five sessions", twice(level[:5]...), nil, base + 17, nil},
		{"six in 28 days", twice(level...), nil, base + 27, []string{"false grip"}},
		{"six in 29 days", twice(level...), nil, base + 28, nil},
		{"kept, as the gate holds", twice(level...), func(r *training.Record) { r.Marks = []training.Mark{{Gate: "deep-hang", Day: base + 17}} }, base + 17, nil},
		{"one of them on a paused day", twice(level...), func(r *training.Record) { r.Pauses = []training.Pause{{From: base, Until: base + 1}} }, base + 17, nil},
	} {
		if c.change != nil {
			c.change(c.r)
		}
		if got := p.Stuck(c.r, c.today); !slices.Equal(got, c.want) {
			t.Errorf("%s: stuck on %v, want %v", c.name, got, c.want)
		}
	}
}
