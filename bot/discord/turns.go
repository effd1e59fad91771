package discord

import (
	"context"
	"slices"
	"sync"
	"time"

	"rungbook/training"
)

// mostReading is how many teams' places are read at once.
const mostReading = 8

// How urgent it is to read a team's places.
const (
	somethingNew = iota // something was said there meanwhile
	somethingOld        // only what was said before may have changed
)

// turns let teams read their places, the urgent first, then in order of
// arrival. One that somebody waits for need not wait for others.
type turns struct {
	mu      sync.Mutex
	busy    int
	waiting []*turn
	all     map[training.TeamID][]*turn // not done yet
}

// turn is one team's: from when it is known that its places are to be read, or
// may be, until what was read is taken in.
type turn struct {
	team    training.TeamID
	since   time.Time // of READY
	queued  bool
	urgency int
	haste   int           // the urgency up to which somebody waits for it; -1: nobody does
	in      chan struct{} // closed when it may read
	over    chan struct{} // closed when what it read is taken in
	reading bool
	newest  last // what the platform has shown of its places, the latest; nil for nothing
}

func (t *turn) hurried() bool { return t.urgency <= t.haste }

// expect says that a team's places may have to be read: take or dismiss tells.
func (t *turns) expect(team training.TeamID, at time.Time) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if one := t.expected(team); one != nil {
		one.since = at
		return
	}
	t.add(team).since = at
}

func (t *turns) add(team training.TeamID) *turn {
	one := &turn{team: team, haste: -1, in: make(chan struct{}), over: make(chan struct{})}
	if t.all == nil {
		t.all = map[training.TeamID][]*turn{}
	}
	t.all[team] = append(t.all[team], one)
	return one
}

// dismiss says that a team's places need not be read.
func (t *turns) dismiss(team training.TeamID) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if one := t.expected(team); one != nil {
		t.finish(one)
	}
}

// expected is the team's turn that is not settled; nil for none.
func (t *turns) expected(team training.TeamID) *turn {
	for _, one := range t.all[team] {
		if !one.queued {
			return one
		}
	}
	return nil
}

// overdue are the teams that were expected before the instant, and still are.
func (t *turns) overdue(before time.Time) (teams []training.TeamID) {
	t.mu.Lock()
	defer t.mu.Unlock()
	for team := range t.all {
		if one := t.expected(team); one != nil && !one.since.After(before) {
			teams = append(teams, team)
		}
	}
	return teams
}

// take gives a team its turn, for which it must wait, and which must be given
// back by done and end. It returns nil where another turn is waited for that
// will do as well.
func (t *turns) take(team training.TeamID, urgency int, newest last) *turn {
	t.mu.Lock()
	defer t.mu.Unlock()
	one := t.expected(team)
	if same := t.waited(team, urgency); same != nil {
		same.newest = newest
		if one != nil {
			t.finish(one)
		}
		return nil
	}
	if one == nil {
		one = t.add(team)
	}
	one.queued, one.urgency, one.newest = true, urgency, newest
	if one.hurried() {
		t.let(one)
		return one
	}
	behind := slices.IndexFunc(t.waiting, func(w *turn) bool { return w.urgency > urgency })
	if behind < 0 {
		behind = len(t.waiting)
	}
	t.waiting = slices.Insert(t.waiting, behind, one)
	t.admit()
	return one
}

// waited is a turn of the team's of the urgency that has not come yet. One for
// something new is met where it is taken, and never stands for another.
func (t *turns) waited(team training.TeamID, urgency int) *turn {
	i := slices.IndexFunc(t.waiting, func(w *turn) bool { return w.team == team && w.urgency == urgency && urgency == somethingOld })
	if i < 0 {
		return nil
	}
	return t.waiting[i]
}

// wait waits until it may read; done must follow, whatever it returns.
func (t *turns) wait(ctx context.Context, one *turn) error {
	select {
	case <-one.in:
	case <-ctx.Done():
	}
	return ctx.Err()
}

// shown is what the platform has shown of the turn's places.
func (t *turns) shown(one *turn) last {
	t.mu.Lock()
	defer t.mu.Unlock()
	return one.newest
}

// done says that the reading is done.
func (t *turns) done(one *turn) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.waiting = slices.DeleteFunc(t.waiting, func(w *turn) bool { return w == one })
	if one.reading {
		one.reading = false
		t.busy--
	}
	t.admit()
}

// end says that what was read is taken in.
func (t *turns) end(one *turn) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.finish(one)
}

func (t *turns) finish(one *turn) {
	close(one.over)
	left := slices.DeleteFunc(t.all[one.team], func(w *turn) bool { return w == one })
	if t.all[one.team] = left; len(left) == 0 {
		delete(t.all, one.team)
	}
}

func (t *turns) admit() {
	for t.busy < mostReading && len(t.waiting) > 0 {
		t.let(t.waiting[0])
		t.waiting = t.waiting[1:]
	}
}

func (t *turns) let(one *turn) {
	one.reading = true
	t.busy++
	close(one.in)
}

// hurry lets the team read at once, at whatever urgency up to the one given.
func (t *turns) hurry(team training.TeamID, urgency int) {
	t.mu.Lock()
	defer t.mu.Unlock()
	for _, one := range t.all[team] {
		one.haste = max(one.haste, urgency)
		if i := slices.Index(t.waiting, one); i >= 0 && one.hurried() {
			t.waiting = slices.Delete(t.waiting, i, i+1)
			t.let(one)
		}
	}
}

// await hurries a team and waits until what there was to read is taken in.
func (t *turns) await(ctx context.Context, team training.TeamID) error {
	t.hurry(team, somethingOld)
	t.mu.Lock()
	all := slices.Clone(t.all[team])
	t.mu.Unlock()
	for _, one := range all {
		select {
		case <-one.over:
		case <-ctx.Done():
			return ctx.Err()
		}
	}
	return nil
}

// background reports whether nobody waits for the turn's requests.
func (t *turns) background(one *turn) bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	return !one.hurried()
}
