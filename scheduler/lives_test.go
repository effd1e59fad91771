package scheduler

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"rungbook/training"
)

// Simulated lives: a team lives for 400 days and more with a bot that crashes,
// stays away, is suspended, has its clock set and whose people move. The driver
// below uses the package as the bot does. Each beat's decisions are held
// against a model that reads the clock minute by minute, and at the end of each
// life nothing may be left undecided.

const lifeDays = 400

// Places with odd clocks in one year or another.
var lifeZones = []string{
	"Europe/Lisbon", "Europe/Berlin", "America/New_York", "America/Sao_Paulo", "America/St_Johns", "America/Nuuk",
	"Australia/Lord_Howe", "Pacific/Apia", "Pacific/Kiritimati", "Africa/Casablanca", "Asia/Kathmandu", "Asia/Tehran",
}

// subject is who a decision is about: a member's nudge or a coach's digest.
type subject struct {
	digest bool
	person training.PersonID
	day    training.Day
}

type life struct {
	*testing.T
	seed   uint64
	draw   *rand.Rand
	model  model
	team   training.Team
	roster []training.Member

	now     time.Time     // as it really is
	skew    time.Duration // what the machine's clock is ahead of it
	begun   time.Time
	end     time.Time
	decided map[subject]Timing
	zones   map[training.PersonID][]*time.Location // all that they ever lived in
	near    []string                               // the zones they move between
	lost    bool                                   // away for longer than LookBack
	beats   int
	steady  time.Time // since when: up, clock untouched, nobody moved
}

func newLife(t *testing.T, seed uint64) *life {
	l := &life{T: t, seed: seed, draw: rand.New(rand.NewPCG(seed, 5)), decided: map[subject]Timing{}, zones: map[training.PersonID][]*time.Location{}}
	year := 1994 + l.draw.IntN(36)
	l.begun = time.Date(year, time.Month(1+l.draw.IntN(12)), 1+l.draw.IntN(28), l.draw.IntN(24), l.draw.IntN(60), 0, 0, time.UTC)
	l.now, l.end, l.steady = l.begun, l.begun.AddDate(0, 0, lifeDays), l.begun
	l.model = model{from: training.CivilDay(l.begun, time.UTC) - LookBack - 5, until: training.CivilDay(l.end, time.UTC) + 60}
	clock := func() training.Clock { return training.Clock(4*60 + l.draw.IntN(20*60)) }
	l.team = training.Team{
		Days: training.Weekdays(1 + l.draw.IntN(127)), Nudge: clock(), Digest: clock(), DigestDay: time.Weekday(l.draw.IntN(7)),
		Quiet: training.Quiet{From: clockOf(t, "22:00"), Until: clockOf(t, "07:00")},
	}
	if l.draw.IntN(3) == 0 {
		l.team.Quiet = training.Quiet{From: clock(), Until: clock()}
	}
	for _, i := range l.draw.Perm(len(lifeZones))[:3] {
		l.near = append(l.near, lifeZones[i])
	}
	for id := range training.PersonID(2 + l.draw.IntN(3)) {
		l.roster = append(l.roster, training.Member{ID: id + 1, Trains: id > 0, Coach: id < 2, Since: l.begun})
		l.move(int(id))
	}
	return l
}

func (l *life) move(who int) {
	zone := l.model.zone(l.T, l.near[l.draw.IntN(len(l.near))])
	l.roster[who].Zone = zone
	l.zones[l.roster[who].ID] = append(l.zones[l.roster[who].ID], zone)
}

func (l *life) wall() time.Time { return l.now.Add(l.skew) }

// live runs the life to its end.
func (l *life) live() {
	fault := l.now.Add(l.untilFault())
	for l.now.Before(l.end) {
		next, ok := Next(l.team, l.roster, l.wall())
		if !ok {
			l.fatal("nothing is ever due")
		}
		// The heartbeat comes up to 30 s after the instant.
		at := next.Add(-l.skew).Add(time.Duration(l.draw.IntN(30)) * time.Second)
		if extra := l.now.Add(time.Duration(l.draw.IntN(6*3600)) * time.Second); l.draw.IntN(4) == 0 && extra.Before(at) {
			at = extra
		}
		if !at.Before(fault) {
			l.now = later(l.now, fault)
			l.fault()
			fault = l.now.Add(l.untilFault())
			continue
		}
		l.now = at
		l.beat(l.draw.IntN(50) > 0)
	}
	l.now = l.now.Add(8 * 24 * time.Hour) // all dates are over everywhere, and no digest waits any more
	l.skew = 0
	l.steady = l.now
	l.beat(true)
	l.complete()
}

func (l *life) untilFault() time.Duration {
	return time.Duration(l.draw.ExpFloat64() * float64(9*24*time.Hour))
}

// fault is one thing that befalls the bot or its people.
func (l *life) fault() {
	away := time.Duration(l.draw.ExpFloat64() * float64(3*time.Hour))
	switch l.draw.IntN(6) {
	case 0: // crash, or suspend: no beats, and the same store afterwards
		l.now = l.now.Add(away)
	case 1: // days of it
		away = min(30*away, 30*24*time.Hour)
		l.now = l.now.Add(away)
		l.lost = l.lost || away > (LookBack-2)*24*time.Hour
	case 2, 3: // somebody moves
		l.move(l.draw.IntN(len(l.roster)))
	case 4: // the clock is set ahead or back
		l.skew += away - 3*time.Hour
	case 5: // and put right
		l.skew = 0
	}
	l.steady = l.wall()
	l.beat(true) // a start begins with a beat
	l.steady = later(l.steady, l.wall())
}

// beat decides what is due, as the bot does in one transaction, unless the
// process ends before it commits.
func (l *life) beat(commits bool) {
	l.beats++
	now := l.wall()
	made := map[subject]Timing{}
	for _, member := range l.roster {
		if member.Trains {
			l.decide(made, false, member, Nudges(l.team, member, now), now)
		}
		if member.Coach {
			l.decide(made, true, member, Digests(l.team, member, now), now)
		}
	}
	want := l.model.beat(l, now)
	if fmt.Sprint(made) != fmt.Sprint(want) {
		l.fatal("beat decides %v, the model %v", made, want)
	}
	if !commits {
		l.steady = now.Add(time.Minute)
		return
	}
	for subject, timing := range made {
		l.decided[subject] = timing
	}
}

func (l *life) decide(made map[subject]Timing, digest bool, member training.Member, due []Due, now time.Time) {
	last := training.Day(0)
	for _, d := range due {
		if d.Day <= last {
			l.fatal("days out of order: %v", due)
		}
		last = d.Day
		key := subject{digest, member.ID, d.Day}
		if _, done := l.decided[key]; done || d.Timing == Wait {
			continue
		}
		made[key] = d.Timing
		l.punctual(key, member, d, now)
	}
}

// punctual holds the promise itself: while the bot is up and its clock is left
// alone, everything is decided within 30 s; and what may be sent later may be
// sent now.
func (l *life) punctual(key subject, member training.Member, d Due, now time.Time) {
	clock := l.team.Nudge
	if key.digest {
		clock = l.team.Digest
	}
	at, _ := Instant(d.Day, clock, member.Zone)
	if at.After(l.steady) && now.Sub(at) > 30*time.Second {
		l.fatal("%v decided %s late: up since %s", key, now.Sub(at), l.steady)
	}
	if d.Timing.Now() == d.Until.IsZero() || d.Timing.Now() && d.Until.Before(now.Add(-time.Second)) {
		l.fatal("%v %s at %s, until %s", key, d.Timing, now, d.Until)
	}
}

// complete checks that every date that somebody lived through is decided.
func (l *life) complete() {
	if l.lost {
		return
	}
	for day := training.CivilDay(l.begun, time.UTC) + 2; day < training.CivilDay(l.end, time.UTC); day++ {
		for _, member := range l.roster {
			if !l.model.everywhere(day, l.zones[member.ID]) {
				continue
			}
			if _, done := l.decided[subject{false, member.ID, day}]; member.Trains && !done {
				l.fatal("member %d: %s was never decided", member.ID, day)
			}
			if _, done := l.decided[subject{true, member.ID, day}]; member.Coach && day.Weekday() == l.team.DigestDay && !done {
				l.fatal("coach %d: %s was never decided", member.ID, day)
			}
		}
	}
}

func (l *life) fatal(format string, args ...any) {
	l.Helper()
	l.Fatalf("seed %d, at %s (clock %s): %s", l.seed, l.now, l.wall(), fmt.Sprintf(format, args...))
}

// TestLives holds P2 and P3: every nudge and digest is decided once, as the model
// says, through crashes, suspends, stepped clocks and moves; within 30 s of its
// instant while the bot is up.
func TestLives(t *testing.T) {
	beats, decisions := 0, 0
	for seed := range uint64(12) {
		l := newLife(t, seed)
		l.live()
		beats += l.beats
		decisions += len(l.decided)
	}
	t.Logf("12 lives of %d days: %d beats, %d decisions", lifeDays, beats, decisions)
}
