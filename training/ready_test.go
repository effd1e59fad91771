package training_test

import (
	"encoding/json"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"rungbook/training"
	"rungbook/training/programme"
)

// allShown is a member who showed every gate that blocks, on base and base+3.
func allShown() *training.Record {
	hang := training.Set{Rung: "deep-hang", WorkS: 30}
	return &training.Record{Joined: base, Sessions: []training.Session{
		{Day: base, Sets: slices.Concat(sets(3, hang), sets(3, training.Set{Rung: "support", WorkS: 30}))},
		{Day: base + 3, Sets: append(sets(3, training.Set{Rung: "transitions", WorkS: 60}), training.Set{Rung: "pull-ups", Reps: 5})},
	}}
}

var monThu = training.Weekdays(0).With(time.Monday).With(time.Thursday)

func TestReadiness(t *testing.T) {
	p := programme.Builtin()
	type want struct {
		paused, returning, ready, may bool
		missing                       []string
	}
	for _, c := range []struct {
		name   string
		change func(*training.Record)
		today  training.Day
		want   want
	}{
		{"somebody new", func(r *training.Record) { *r = training.Record{} }, base, want{missing: []string{"pull-ups", "deep hang", "support", "transitions"}}},
		{"all shown, a free Monday", func(*training.Record) {}, base + 7, want{ready: true, may: true}},
		{"all shown, the day of the last showing", func(*training.Record) {}, base + 3, want{ready: true}},
		{"no team day", func(*training.Record) {}, base + 8, want{ready: true}},
		{"away today", func(r *training.Record) { r.Aways = []training.Away{{From: base + 7, Until: base + 7}} }, base + 7, want{ready: true}},
		{"not free", func(r *training.Record) { r.Sessions = append(r.Sessions, trainedOn(base+5).Sessions...) }, base + 7, want{ready: true}},
		{"tries logged today", func(r *training.Record) {
			r.Sessions = append(r.Sessions, training.Session{Day: base + 7, Sets: []training.Set{{Rung: "muscle-up", Tries: 2}, {Rung: "pull-ups", Reps: 3}}})
		}, base + 7, want{ready: true, may: true}},
		{"a hang logged today", func(r *training.Record) { r.Sessions = append(r.Sessions, trainedOn(base+7).Sessions...) }, base + 7, want{ready: true}},
		{"two gates lapse", func(*training.Record) {}, base + 29, want{missing: []string{"deep hang", "support"}}},
		{"paused", func(r *training.Record) { r.Pauses = []training.Pause{{From: base + 5}} }, base + 7,
			want{paused: true, missing: []string{"pull-ups", "deep hang", "support", "transitions"}}},
		{"resumed and witnessed, but returning", func(r *training.Record) {
			r.Pauses = []training.Pause{{From: base + 5, Until: base + 6}}
			for _, g := range p.Gates {
				r.Marks = append(r.Marks, training.Mark{Gate: g.Rung, Day: base + 6})
			}
		}, base + 7, want{returning: true}},
	} {
		r := allShown()
		c.change(r)
		got := p.Readiness(r, monThu, c.today)
		if got.Paused != c.want.paused || got.Returning != c.want.returning || got.Ready != c.want.ready || got.MayAttempt != c.want.may || !slices.Equal(got.Missing, c.want.missing) {
			t.Errorf("%s: got %+v, want %+v", c.name, got, c.want)
		}
	}
}

// TestReturning: from the day of the resume to the end of the day of the second
// counted session after it.
func TestReturning(t *testing.T) {
	p := programme.Builtin()
	resume := base + 10
	r := trainedOn(base, base+9, resume, resume+4, resume+7)
	r.Pauses = []training.Pause{{From: base + 1, Until: resume}}
	r.Sessions[2].Sets = []training.Set{{Rung: "pull-ups", Reps: 3}} // counts for nothing
	for _, c := range []struct {
		today     training.Day
		returning bool
		sessions  int
	}{{base, false, 0}, {resume - 1, false, 0}, {resume, true, 0}, {resume + 3, true, 0}, {resume + 4, true, 1}, {resume + 6, true, 1}, {resume + 7, true, 2}, {resume + 8, false, 2}} {
		back, returning := p.Returning(r, c.today)
		if returning != c.returning || returning && (back.Sessions != c.sessions || back.Pause != r.Pauses[0]) {
			t.Errorf("%v: returning is %v, %+v", c.today, returning, back)
		}
		if got := p.Readiness(r, monThu, c.today); got.Returning != c.returning || c.returning && got.SessionsBack != c.sessions {
			t.Errorf("%v: readiness tells %v, %d", c.today, got.Returning, got.SessionsBack)
		}
	}
}

func TestFloor(t *testing.T) {
	r := &training.Record{Pauses: []training.Pause{{From: base, Until: base + 3}, {From: base + 9, Until: base + 9}, {From: base + 20}}}
	for _, c := range []struct{ today, want training.Day }{
		{base - 1, 0}, {base, base + 1}, {base + 2, base + 3}, {base + 3, base + 3}, {base + 8, base + 3}, {base + 9, base + 9}, {base + 19, base + 9}, {base + 20, base + 21}, {base + 30, base + 31},
	} {
		if got := r.Floor(c.today); got != c.want {
			t.Errorf("F on %v is %v, want %v", c.today, got, c.want)
		}
	}
	if got := (&training.Record{}).Floor(base); got != 0 {
		t.Errorf("F of somebody never paused is %v", got)
	}
}

// TestReadinessRestated holds the parts against the words of the design on any
// record.
func TestReadinessRestated(t *testing.T) {
	p := programme.Builtin()
	rapid.Check(t, func(t *rapid.T) {
		r := anyRecord(t, 50)
		today := base + training.Day(rapid.IntRange(0, 60).Draw(t, "today"))
		if rapid.Bool().Draw(t, "witnessed all over") {
			r.Pauses = nil
			for _, g := range p.Gates[:4] {
				r.Marks = append(r.Marks, training.Mark{Gate: g.Rung, Day: today - training.Day(rapid.IntRange(0, 29).Draw(t, "marked"))})
			}
		}
		got := p.Readiness(r, monThu, today)
		missing := plainMissing(p, r, today)
		paused, returning := r.PausedOn(today), plainReturning(p, r, today)
		ready := len(missing) == 0 && !paused && !returning
		if got.Paused != paused || got.Returning != returning || !slices.Equal(got.Missing, missing) || got.Ready != ready {
			t.Fatalf("on %v: %+v, want paused %v, returning %v, missing %v", today, got, paused, returning, missing)
		}
		if week := p.Week(r, monThu, today-1); week.Ready != ready {
			t.Fatalf("on %v: the week tells ready as %v, want %v", today, week.Ready, ready)
		}
		targets := p.Targets(r, monThu, today)
		if offered := len(targets) > 0 && targets[0].Tries > 0; offered != got.MayAttempt {
			t.Fatalf("on %v: may attempt is %v, but attempts are offered: %v", today, got.MayAttempt, offered)
		}
		if got.MayAttempt && !(ready && p.Allowed(r, monThu, today)) || got.Blocking != 4 || len(got.Gates) != 5 {
			t.Fatalf("on %v: %+v", today, got)
		}
	})
}

// plainMissing are the blocking gates that are shut or lapsed.
func plainMissing(p *training.Programme, r *training.Record, today training.Day) []string {
	missing := []string{}
	for _, g := range p.Gates {
		if fact := plainGate(p, r, g, today); g.Blocking && fact.Status != training.Open && fact.Status != training.Witnessed {
			missing = append(missing, fact.Gate)
		}
	}
	return missing
}

// plainReturning is whether fewer than two counted sessions lie between the last
// resume and today.
func plainReturning(p *training.Programme, r *training.Record, today training.Day) bool {
	var resume training.Day
	for _, x := range r.Pauses {
		if x.Until != 0 && x.Until <= today {
			resume = x.Until
		}
	}
	if resume == 0 || r.PausedOn(today) {
		return false
	}
	past := 0
	for _, s := range r.Sessions {
		if s.Day >= resume && s.Day < today && p.Counts(s) {
			past++
		}
	}
	return past < 2
}

func TestReadinessJSON(t *testing.T) {
	data, err := json.Marshal(programme.Builtin().Readiness(allShown(), monThu, base+7))
	want := `{"paused":false,"returning":false,"ready":true,"may_attempt":true,"missing":[]}`
	if err != nil || string(data) != want {
		t.Errorf("got %s, %v; want %s", data, err, want)
	}
}
