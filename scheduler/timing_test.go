package scheduler

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"rungbook/training"
)

func quietOf(t testing.TB, from, until string) training.Quiet {
	return training.Quiet{From: clockOf(t, from), Until: clockOf(t, until)}
}

// TestNudgeTiming holds what P3 says of downtime, the contract's sentence on
// nudges, clause by clause: late, waiting for the end of a quiet hour, missed.
// The 5th of October 2026 is a Monday; Lisbon is then an hour ahead of UTC.
func TestNudgeTiming(t *testing.T) {
	for _, c := range []struct {
		why, at, from, until, now string
		want                      Timing
		again                     string
	}{
		{"a second early", "17:30", "22:00", "07:00", "2026-10-05T17:29:59+01:00", NotYet, "2026-10-05T17:30:00+01:00"},
		{"days early", "17:30", "22:00", "07:00", "2026-10-02T09:00:00+01:00", NotYet, "2026-10-05T17:30:00+01:00"},
		{"to the second", "17:30", "22:00", "07:00", "2026-10-05T17:30:00+01:00", OnTime, ""},
		{"ten minutes are on time", "17:30", "22:00", "07:00", "2026-10-05T17:40:00+01:00", OnTime, ""},
		{"late, said at once", "17:30", "22:00", "07:00", "2026-10-05T17:40:01+01:00", Late, ""},
		{"late until 21:00", "17:30", "22:00", "07:00", "2026-10-05T20:59:59+01:00", Late, ""},
		{"from 21:00 no more", "17:30", "22:00", "07:00", "2026-10-05T21:00:00+01:00", Missed, ""},
		{"the date is over", "17:30", "22:00", "07:00", "2026-10-06T12:00:00+01:00", Missed, ""},
		{"a quiet hour binds what is late", "17:30", "18:00", "19:00", "2026-10-05T18:30:20+01:00", Wait, "2026-10-05T19:00:00+01:00"},
		{"and lets go at its end", "17:30", "18:00", "19:00", "2026-10-05T19:00:00+01:00", Late, ""},
		{"not what is on time", "17:30", "17:00", "19:00", "2026-10-05T17:40:00+01:00", OnTime, ""},
		{"not even at night", "22:30", "22:00", "07:00", "2026-10-05T22:35:00+01:00", OnTime, ""},
		{"a late one at night", "22:30", "22:00", "07:00", "2026-10-05T22:41:00+01:00", Missed, ""},
		{"the quiet hour ends too late", "17:30", "20:00", "22:00", "2026-10-05T20:30:00+01:00", Missed, ""},
		{"the quiet hour ends at 21:00", "17:30", "20:00", "21:00", "2026-10-05T20:30:00+01:00", Missed, ""},
		{"early in the morning", "04:00", "22:00", "07:00", "2026-10-05T04:11:00+01:00", Wait, "2026-10-05T07:00:00+01:00"},
		{"on time though the date is over", "23:55", "22:00", "07:00", "2026-10-06T00:05:00+01:00", OnTime, ""},
		{"no quiet at all", "04:00", "00:00", "00:00", "2026-10-05T04:11:00+01:00", Late, ""},
	} {
		zone := zoneOf(t, "Europe/Lisbon")
		got, again := NudgeTiming(dayOf(t, "2026-10-05"), clockOf(t, c.at), quietOf(t, c.from, c.until), zone, instant(t, c.now))
		want := time.Time{}
		if c.again != "" {
			want = instant(t, c.again)
		}
		if got != c.want || !again.Equal(want) {
			t.Errorf("%s: at %s: %s, again %s; want %s, again %s", c.why, c.now, got, again, c.want, want)
		}
	}
	apia := zoneOf(t, "Pacific/Apia")
	if got, _ := NudgeTiming(dayOf(t, "2011-12-30"), 0, training.Quiet{}, apia, instant(t, "2012-01-05T00:00:00Z")); got != Never {
		t.Errorf("nudge of a date that never was: %s", got)
	}
}

// A digest of Sunday the 11th of October 2026, 18:00 in Lisbon.
func TestDigestTiming(t *testing.T) {
	for _, c := range []struct {
		why, now string
		want     Timing
		again    string
	}{
		{"early", "2026-10-11T17:00:00+01:00", NotYet, "2026-10-11T18:00:00+01:00"},
		{"on time", "2026-10-11T18:10:00+01:00", OnTime, ""},
		{"late, at once, after 21:00 too", "2026-10-11T21:30:00+01:00", Late, ""},
		{"in the night", "2026-10-12T03:00:00+01:00", Wait, "2026-10-12T07:00:00+01:00"},
		{"days late", "2026-10-16T12:00:00+01:00", Late, ""},
		{"six days late to the second", "2026-10-17T18:00:00+01:00", Late, ""},
		{"more than six days", "2026-10-17T18:00:01+01:00", Missed, ""},
		{"the last night ends in time", "2026-10-17T06:59:59+01:00", Wait, "2026-10-17T07:00:00+01:00"},
	} {
		zone := zoneOf(t, "Europe/Lisbon")
		got, again := DigestTiming(dayOf(t, "2026-10-11"), clockOf(t, "18:00"), quietOf(t, "22:00", "07:00"), zone, instant(t, c.now))
		want := time.Time{}
		if c.again != "" {
			want = instant(t, c.again)
		}
		if got != c.want || !again.Equal(want) {
			t.Errorf("%s: at %s: %s, again %s; want %s, again %s", c.why, c.now, got, again, c.want, want)
		}
	}
	zone, late := zoneOf(t, "Europe/Lisbon"), instant(t, "2026-10-17T17:30:00+01:00")
	if got, _ := DigestTiming(dayOf(t, "2026-10-11"), clockOf(t, "18:00"), quietOf(t, "17:00", "19:00"), zone, late); got != Missed {
		t.Errorf("a quiet hour that ends after the six days: %s, want missed", got)
	}
	if got, _ := DigestTiming(dayOf(t, "2011-12-30"), 0, training.Quiet{}, zoneOf(t, "Pacific/Apia"), late); got != Never {
		t.Errorf("digest of a date that never was: %s", got)
	}
}

func tidewater(t testing.TB) training.Team {
	return training.Team{
		Zone: zoneOf(t, "Europe/Lisbon"), Days: training.Weekdays(0).With(time.Monday).With(time.Thursday),
		Nudge: clockOf(t, "17:30"), DigestDay: time.Sunday, Digest: clockOf(t, "18:00"), Quiet: quietOf(t, "22:00", "07:00"),
	}
}

func TestNudgesOwedSinceEnrolment(t *testing.T) {
	team := tidewater(t)
	member := training.Member{Zone: team.Zone, Trains: true, Since: instant(t, "2026-10-03T17:30:00+01:00")}
	now := instant(t, "2026-10-05T18:00:00+01:00")
	want := []Due{
		{Day: dayOf(t, "2026-10-03"), Timing: Missed},
		{Day: dayOf(t, "2026-10-04"), Timing: Missed},
		{Day: dayOf(t, "2026-10-05"), Timing: Late, Until: instant(t, "2026-10-05T20:59:59+01:00")},
	}
	same := func(a, b Due) bool { return a.Day == b.Day && a.Timing == b.Timing && a.Until.Equal(b.Until) }
	if got := Nudges(team, member, now); !slices.EqualFunc(got, want, same) {
		t.Errorf("nudges\n%v\nwant\n%v", got, want)
	}
	member.Since = member.Since.Add(time.Second)
	if got := Nudges(team, member, now); !slices.EqualFunc(got, want[1:], same) {
		t.Errorf("a second later\n%v\nwant\n%v", got, want[1:])
	}
	member.Since = time.Time{}
	if got := Nudges(team, member, now); len(got) != LookBack+1 || got[0].Day != dayOf(t, "2026-09-14") {
		t.Errorf("since ever: %d days from %v, want %d", len(got), got[0].Day, LookBack+1)
	}
}

// How long a post that was decided on may still be sent.
func TestUntil(t *testing.T) {
	for _, c := range []struct{ why, at, from, until, now, want string }{
		{"to 21:00", "17:30", "22:00", "07:00", "2026-10-05T17:30:00+01:00", "2026-10-05T20:59:59+01:00"},
		{"to a quiet hour before it", "17:30", "19:00", "20:00", "2026-10-05T17:30:00+01:00", "2026-10-05T18:59:59+01:00"},
		{"ten minutes hold whatever follows", "17:30", "17:35", "20:00", "2026-10-05T17:30:00+01:00", "2026-10-05T17:40:00+01:00"},
		{"ten minutes at night", "22:30", "22:00", "07:00", "2026-10-05T22:31:00+01:00", "2026-10-05T22:40:00+01:00"},
		{"ten minutes after 21:00", "21:15", "22:00", "07:00", "2026-10-05T21:15:00+01:00", "2026-10-05T21:25:00+01:00"},
		{"no quiet", "17:30", "00:00", "00:00", "2026-10-05T17:30:00+01:00", "2026-10-05T20:59:59+01:00"},
	} {
		team := tidewater(t)
		team.Nudge, team.Quiet = clockOf(t, c.at), quietOf(t, c.from, c.until)
		now := instant(t, c.now)
		got := Nudges(team, training.Member{Zone: team.Zone, Since: now.Add(-12 * time.Hour)}, now)
		if len(got) != 1 || !got[0].Until.Equal(instant(t, c.want)) {
			t.Errorf("%s: %v, want until %s", c.why, got, c.want)
		}
	}
	team := tidewater(t)
	now := instant(t, "2026-10-11T18:00:00+01:00")
	got := Digests(team, training.Member{Zone: team.Zone, Since: now}, now)
	if want := instant(t, "2026-10-11T21:59:59+01:00"); len(got) != 1 || !got[0].Until.Equal(want) {
		t.Errorf("digest: %v, want until %s", got, want)
	}
	due := now
	now = due.Add(DigestLate)
	got = Digests(team, training.Member{Zone: team.Zone, Since: due}, now)
	if len(got) != 1 || got[0].Timing != Late || got[0].Until.Before(now) {
		t.Errorf("a digest decided on six days late to the minute may not be sent: %v", got)
	}
}

func TestNext(t *testing.T) {
	team := tidewater(t)
	tome := training.Member{Zone: team.Zone, Trains: true}
	wen := training.Member{Zone: zoneOf(t, "America/Sao_Paulo"), Trains: true}
	ilda := training.Member{Zone: team.Zone, Coach: true}
	for _, c := range []struct {
		why    string
		roster []training.Member
		after  string
		want   string
	}{
		{"the nudge", []training.Member{tome, wen, ilda}, "2026-10-05T12:00:00+01:00", "2026-10-05T17:30:00+01:00"},
		{"then that of another zone", []training.Member{tome, wen, ilda}, "2026-10-05T17:30:00+01:00", "2026-10-05T17:30:00-03:00"},
		{"then the next day's", []training.Member{tome, wen, ilda}, "2026-10-05T17:30:00-03:00", "2026-10-06T17:30:00+01:00"},
		{"the digest", []training.Member{tome, wen, ilda}, "2026-10-11T17:30:00+01:00", "2026-10-11T18:00:00+01:00"},
		{"a coach alone", []training.Member{ilda}, "2026-10-11T18:00:00+01:00", "2026-10-18T18:00:00+01:00"},
		{"the end of a quiet hour, for a digest", []training.Member{ilda}, "2026-10-11T23:00:00+01:00", "2026-10-12T07:00:00+01:00"},
	} {
		got, ok := Next(team, c.roster, instant(t, c.after))
		if !ok || !got.Equal(instant(t, c.want)) {
			t.Errorf("%s: after %s: %s %t, want %s", c.why, c.after, got, ok, c.want)
		}
	}
	if at, ok := Next(team, []training.Member{{Zone: team.Zone}}, instant(t, "2026-10-05T12:00:00Z")); ok {
		t.Errorf("nobody trains or coaches, yet %s", at)
	}
}

// The ends of quiet stretches against a look at every minute, near the clock
// changes of every zone.
func TestQuietEndAgainstAScan(t *testing.T) {
	all := histories(t)
	rapid.Check(t, func(r *rapid.T) {
		h := rapid.SampledFrom(all).Draw(r, "history")
		change := rapid.SampledFrom(h.changes).Draw(r, "change")
		now := change.Add(-time.Duration(rapid.IntRange(-20*3600, 30*3600).Draw(r, "seconds before")) * time.Second)
		clock := rapid.IntRange(0, 1439)
		quiet := training.Quiet{From: training.Clock(clock.Draw(r, "from")), Until: training.Clock(clock.Draw(r, "until"))}
		if quiet.From == quiet.Until {
			return
		}
		in := quiet.Holds(clockAt(now, h.zone))
		want := now
		for quiet.Holds(clockAt(want, h.zone)) == in {
			want = want.Add(time.Second)
		}
		got := quietStart(quiet, h.zone, now)
		if in {
			got = quietEnd(quiet, h.zone, now)
		}
		if !got.Equal(want) {
			r.Fatalf("%s %s-%s at %s: %s, scan says %s", h.zone, quiet.From, quiet.Until, now.In(h.zone), got, want)
		}
	})
}

// Between an instant and its Next nothing comes due and nothing stops waiting.
func TestNothingHappensBeforeNext(t *testing.T) {
	all := histories(t)
	rapid.Check(t, func(r *rapid.T) {
		h := rapid.SampledFrom(all).Draw(r, "history")
		change := rapid.SampledFrom(h.changes).Draw(r, "change")
		clock := rapid.IntRange(4*60, 1439)
		draw := func(name string) training.Clock { return training.Clock(clock.Draw(r, name)) }
		team := training.Team{
			Nudge: draw("nudge"), Digest: draw("digest"), DigestDay: training.CivilDay(change, h.zone).Weekday(),
			Quiet: training.Quiet{From: draw("quiet from"), Until: draw("quiet until")},
		}
		roster := []training.Member{{ID: 1, Zone: h.zone, Trains: true, Coach: true}}
		minutes := rapid.IntRange(-2*24*60, 2*24*60)
		at := change.Add(time.Duration(minutes.Draw(r, "at")) * time.Minute)
		next, ok := Next(team, roster, at)
		if !ok || !next.After(at) {
			r.Fatalf("next after %s: %s %t", at, next, ok)
		}
		from := training.CivilDay(at, h.zone) - LookBack + 5
		then := at.Add(time.Duration(rapid.Int64Range(0, int64(next.Sub(at))-1).Draw(r, "then")))
		if !news(team, roster[0], at, next, from) {
			r.Fatalf("nothing happens at %s, next of %s", next, at)
		}
		if news(team, roster[0], at, then, from) {
			r.Fatalf("after %s something happens by %s, before %s", at, then, next)
		}
	})
}

// news reports whether something has come due between the two instants, or
// waits no more, for days from the given one on.
func news(team training.Team, member training.Member, at, then time.Time, from training.Day) bool {
	for _, list := range []func(training.Team, training.Member, time.Time) []Due{Nudges, Digests} {
		before := map[training.Day]Timing{}
		for _, due := range list(team, member, at) {
			before[due.Day] = due.Timing
		}
		for _, due := range list(team, member, then) {
			timing, known := before[due.Day]
			if due.Day >= from && (!known || timing == Wait && due.Timing != Wait) {
				return true
			}
		}
	}
	return false
}
