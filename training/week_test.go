package training_test

import (
	"encoding/json"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"rungbook/training"
	"rungbook/training/programme"
)

func TestWeekJSON(t *testing.T) {
	p := programme.Builtin()
	fact := p.Week(allShown(), monThu, base+6)
	fact.Member = "Priya"
	data, err := json.Marshal(fact)
	want := `{"member":"Priya","sessions":2,"planned":2,"violations":0,"paused":false,"away":false,` +
		`"moved":["pull-ups","deep hang","support","transitions"],"stuck":false,"absent":false,"ready":true,"tension_s":375,"pull_days":1,"last_session":"2026-03-05"}`
	if err != nil || string(data) != want {
		t.Errorf("got  %s, %v\nwant %s", data, err, want)
	}
}

func TestWeekCounts(t *testing.T) {
	p := programme.Builtin()
	r := trainedOn(base-1, base, base+1, base+5, base+7)
	r.Joined = base - 20
	r.Pauses = []training.Pause{{From: base + 7}}
	r.Aways = []training.Away{{From: base + 3, Until: base + 3}}
	r.Sessions[3].Sets = []training.Set{{Rung: "pull-ups", Reps: 5}}
	// Nothing is planned: of Mon and Thu, Monday is not free after the Sunday
	// before, and Thursday is away.
	want := training.WeekFact{
		Sessions: 2, Violations: 2, Paused: true, Moved: []string{"pull-ups"}, TensionS: 35, PullDays: 1, LastSession: base + 1,
	}
	if got := p.Week(r, monThu, base+6); !reflect.DeepEqual(got, want) {
		t.Errorf("the week is %+v\nwant %+v", got, want)
	}
	r.Pauses, r.Aways = nil, []training.Away{{From: base + 7, Until: base + 9}}
	if got := p.Week(r, monThu, base+6); !got.Away || got.Paused || got.Planned != 1 {
		t.Errorf("away from the day after on: %+v", got)
	}
}

// TestWeekStuck: six level sessions in the 28 days up to the seventh.
func TestWeekStuck(t *testing.T) {
	p := programme.Builtin()
	r := &training.Record{Joined: base - 14}
	for i := range 6 {
		r.Sessions = append(r.Sessions, on(base-14+training.Day(i/2*7+i%2*3), "mid-hang", 12))
	}
	if got := p.Week(r, monThu, base+6); !got.Stuck || !slices.Equal(got.StuckOn, []string{"false grip"}) {
		t.Errorf("six level sessions: stuck on %v", got.StuckOn)
	}
	if got := p.Week(r, monThu, base+2); got.Stuck || got.StuckOn != nil {
		t.Errorf("five level sessions: stuck on %v", got.StuckOn)
	}
}

// TestPlannedFromJoining: the plan of a week begins with the day of joining.
func TestPlannedFromJoining(t *testing.T) {
	p := programme.Builtin()
	for joined, want := range map[training.Day]int{base - 3: 2, base: 2, base + 1: 1, base + 3: 1, base + 4: 0, base + 7: 0, 0: 0} {
		if got := p.Week(&training.Record{Joined: joined}, monThu, base+6).Planned; got != want {
			t.Errorf("joined on %v: %d planned, want %d", joined, got, want)
		}
	}
}

func TestAbsent(t *testing.T) {
	p := programme.Builtin()
	seventh := base + 20
	for _, c := range []struct {
		name   string
		record training.Record
		want   bool
	}{
		{"nothing ever, joined 14 days before", training.Record{Joined: seventh - 13}, true},
		{"joined later", training.Record{Joined: seventh - 12}, false},
		{"not joined", training.Record{}, false},
		{"a session on the last of the days", training.Record{Joined: base, Sessions: trainedOn(seventh).Sessions}, false},
		{"a session on the first of the days", training.Record{Joined: base, Sessions: trainedOn(seventh - 13).Sessions}, false},
		{"a session the day before", training.Record{Joined: base, Sessions: trainedOn(seventh - 14).Sessions}, true},
		{"pull work alone is a session too", training.Record{Joined: base, Sessions: []training.Session{{Day: seventh, Sets: sets(1, training.Set{Rung: "pull-ups", Reps: 1})}}}, false},
		{"away on one day", training.Record{Joined: base, Aways: []training.Away{{From: seventh - 13, Until: seventh - 13}}}, false},
		{"paused on one day", training.Record{Joined: base, Pauses: []training.Pause{{From: seventh, Until: seventh + 1}}}, false},
		{"paused the day after", training.Record{Joined: base, Pauses: []training.Pause{{From: seventh + 1}}}, true},
	} {
		if got := p.Week(&c.record, monThu, seventh).Absent; got != c.want {
			t.Errorf("%s: absent is %v", c.name, got)
		}
	}
}

func TestMoved(t *testing.T) {
	p := programme.Builtin()
	mark := func(d training.Day) []training.Mark { return []training.Mark{{Gate: "deep-hang", Day: d}} }
	for _, c := range []struct {
		name   string
		record training.Record
		want   []string
	}{
		{"nothing", training.Record{}, nil},
		{"move-on first met", training.Record{Sessions: []training.Session{on(base+1, "high-hold", 30)}}, []string{"high hold"}},
		{"not on another rung", training.Record{Sessions: []training.Session{on(base+1, "mid-hang", 30)}}, []string{"mid hang"}},
		{"met before", training.Record{Sessions: []training.Session{on(base-70, "high-hold", 30), on(base+1, "high-hold", 31)}}, nil},
		{"met before on a paused day, which says nothing", training.Record{Sessions: []training.Session{on(base-2, "high-hold", 30), on(base+1, "high-hold", 31)}, Pauses: []training.Pause{{From: base - 2, Until: base - 1}}}, []string{"high hold"}},
		{"met after the week", training.Record{Sessions: []training.Session{on(base+7, "high-hold", 30)}}, nil},
		{"gate first met", training.Record{Sessions: []training.Session{hangs(base)}}, []string{"deep hang"}},
		{"a gate's rung has the gate's standard alone", training.Record{Sessions: []training.Session{on(base, "deep-hang", 30, 30)}}, nil},
		{"gate met again within 28 days", training.Record{Sessions: []training.Session{hangs(base - 25), hangs(base + 3)}}, nil},
		{"gate met again after a lapse", training.Record{Sessions: []training.Session{hangs(base - 26), hangs(base + 3)}}, []string{"deep hang"}},
		{"gate met again after a pause", training.Record{Sessions: []training.Session{hangs(base - 5), hangs(base + 3)}, Pauses: []training.Pause{{From: base - 3, Until: base - 1}}}, []string{"deep hang"}},
		{"first met in the week, then again in it", training.Record{Sessions: []training.Session{hangs(base), hangs(base + 3)}}, []string{"deep hang"}},
		{"a mark is a showing", training.Record{Marks: mark(base + 6)}, []string{"deep hang"}},
		{"a mark before", training.Record{Marks: mark(base - 1), Sessions: []training.Session{hangs(base + 3)}}, nil},
		{"programme order", training.Record{Sessions: []training.Session{on(base, "toe-support", 30), on(base+3, "high-hold", 30)}}, []string{"high hold", "toe support"}},
	} {
		if got := p.Week(&c.record, monThu, base+6).Moved; got == nil || !slices.Equal(got, c.want) {
			t.Errorf("%s: moved %q, want %q", c.name, got, c.want)
		}
	}
}

// TestMovedRestated: a gate moves in a week if on one of its days it holds that
// did not hold the day before, or held for the first time.
func TestMovedRestated(t *testing.T) {
	p := programme.Builtin()
	rapid.Check(t, func(t *rapid.T) {
		r := anyRecord(t, 50)
		seventh := base + training.Day(rapid.IntRange(6, 60).Draw(t, "seventh"))
		week := p.Week(r, monThu, seventh)
		for _, g := range p.Gates {
			want := false
			for d := seventh - 6; d <= seventh; d++ {
				// As seen at the end of d with that day's showing, and without it.
				without := *r
				without.Sessions = slices.DeleteFunc(slices.Clone(r.Sessions), func(s training.Session) bool { return s.Day == d })
				without.Marks = slices.DeleteFunc(slices.Clone(r.Marks), func(m training.Mark) bool { return m.Day == d })
				with, before := plainGate(p, r, g, d), plainGate(p, &without, g, d)
				want = want || holds(with) && !holds(before)
			}
			if got := slices.Contains(week.Moved, p.NameOf(g.Rung)); got != want {
				t.Fatalf("%s moved in the week to %v: %v, want %v", g.Rung, seventh, got, want)
			}
		}
	})
}

func holds(g training.GateFact) bool {
	return g.Status == training.Open || g.Status == training.Witnessed
}
