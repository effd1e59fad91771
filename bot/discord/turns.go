package discord

import (
	"context"
	"slices"
	"sync"

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

// turn is one team's.
type turn struct {
	team    training.TeamID
	urgency int
	in      chan struct{} // closed when it may read
	over    chan struct{} // closed when what it read is taken in
	hurried bool
	reading bool
}

// take gives a team a turn, which must be given back by end.
func (t *turns) take(team training.TeamID, urgency int) *turn {
	one := &turn{team: team, urgency: urgency, in: make(chan struct{}), over: make(chan struct{})}
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.all == nil {
		t.all = map[training.TeamID][]*turn{}
	}
	t.all[team] = append(t.all[team], one)
	behind := slices.IndexFunc(t.waiting, func(w *turn) bool { return w.urgency > urgency })
	if behind < 0 {
		behind = len(t.waiting)
	}
	t.waiting = slices.Insert(t.waiting, behind, one)
	t.admit()
	return one
}

// wait waits until it may read; done must follow, whatever it returns.
func (t *turns) wait(ctx context.Context, one *turn) error {
	select {
	case <-one.in:
		return ctx.Err()
	case <-ctx.Done():
		return ctx.Err()
	}
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
		if one.urgency > urgency {
			continue
		}
		one.hurried = true
		if i := slices.Index(t.waiting, one); i >= 0 {
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

// tone is the context of a request: one that somebody waits for is not quiet.
func (t *turns) tone(ctx context.Context, one *turn) context.Context {
	t.mu.Lock()
	defer t.mu.Unlock()
	if one.hurried {
		return ctx
	}
	return quietly(ctx)
}
