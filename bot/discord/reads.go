package discord

import (
	"context"
	"slices"
	"sync"
	"time"

	"rungbook/bot/priority"
	"rungbook/training"
)

// mostReading is how many teams' channels are read at once.
const mostReading = 8

// What a team's channels are read for, the most urgent first.
const (
	newMessages = iota // something was said there meanwhile
	oldMessages        // only what was said before may have changed
)

// teamReads are the teams whose channels are to be read, or may be. They are
// read by priority, then in order of arrival; one that somebody waits for need
// not wait for others.
type teamReads struct {
	queue *priority.Queue

	mu  sync.Mutex
	all map[training.TeamID][]*teamRead // until each has ended
}

func newTeamReads() *teamReads {
	return &teamReads{queue: priority.New(mostReading), all: map[training.TeamID][]*teamRead{}}
}

// teamRead is one reading of a team's channels: from when it is known that it
// is needed, or may be, until what was read is taken in.
type teamRead struct {
	team     training.TeamID
	since    time.Time // of READY
	priority int
	promoted int              // somebody waits for what has this priority or a lower number; -1: nobody waits
	ticket   *priority.Ticket // nil until it is taken
	begun    bool             // let in
	ended    chan struct{}    // closed when what was read is taken in
	newest   newestMessages   // what the platform has shown of its channels, the latest; nil for nothing
}

func (r *teamRead) awaited() bool { return r.priority <= r.promoted }

// expect says that a team's channels may have to be read: take or dismiss tells.
func (t *teamReads) expect(team training.TeamID, at time.Time) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if one := t.expected(team); one != nil {
		one.since = at
		return
	}
	t.add(team).since = at
}

func (t *teamReads) add(team training.TeamID) *teamRead {
	one := &teamRead{team: team, promoted: -1, ended: make(chan struct{})}
	t.all[team] = append(t.all[team], one)
	return one
}

// dismiss says that a team's channels need not be read.
func (t *teamReads) dismiss(team training.TeamID) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if one := t.expected(team); one != nil {
		t.finish(one)
	}
}

// expected is the team's read that is neither taken nor dismissed; nil for none.
func (t *teamReads) expected(team training.TeamID) *teamRead {
	for _, one := range t.all[team] {
		if one.ticket == nil {
			return one
		}
	}
	return nil
}

// overdue are the teams that were expected before the instant, and still are.
func (t *teamReads) overdue(before time.Time) (teams []training.TeamID) {
	t.mu.Lock()
	defer t.mu.Unlock()
	for team := range t.all {
		if one := t.expected(team); one != nil && !one.since.After(before) {
			teams = append(teams, team)
		}
	}
	return teams
}

// take has a team's channels read: begin, done and end must follow. It returns
// nil where another read has not begun that will do as well.
func (t *teamReads) take(team training.TeamID, priority int, newest newestMessages) *teamRead {
	t.mu.Lock()
	defer t.mu.Unlock()
	one := t.expected(team)
	if same := t.waiting(team, priority); same != nil {
		same.newest = newest
		if one != nil {
			t.finish(one)
		}
		return nil
	}
	if one == nil {
		one = t.add(team)
	}
	one.priority, one.newest = priority, newest
	one.ticket = t.queue.Join(priority)
	if one.awaited() {
		one.ticket.Promote()
	}
	return one
}

// waiting is a read of the team's of that priority that has not begun. One for
// new messages is met where it is taken, and never stands for another.
func (t *teamReads) waiting(team training.TeamID, priority int) *teamRead {
	for _, one := range t.all[team] {
		if priority == oldMessages && one.priority == priority && one.ticket != nil && !one.begun {
			return one
		}
	}
	return nil
}

// begin waits until the team's channels may be read, and returns what the
// platform has shown of them. The error is the context's.
func (t *teamReads) begin(ctx context.Context, one *teamRead) (newestMessages, error) {
	err := one.ticket.Wait(ctx)
	t.mu.Lock()
	defer t.mu.Unlock()
	one.begun = true
	return one.newest, err
}

// done says that the channels are read, or will not be.
func (t *teamReads) done(one *teamRead) { one.ticket.Leave() }

// end says that what was read is taken in.
func (t *teamReads) end(one *teamRead) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.finish(one)
}

func (t *teamReads) finish(one *teamRead) {
	close(one.ended)
	left := slices.DeleteFunc(t.all[one.team], func(w *teamRead) bool { return w == one })
	if t.all[one.team] = left; len(left) == 0 {
		delete(t.all, one.team)
	}
}

// promote has the team's channels read at once, for whatever has the priority or
// a lower number.
func (t *teamReads) promote(team training.TeamID, priority int) {
	t.mu.Lock()
	defer t.mu.Unlock()
	for _, one := range t.all[team] {
		one.promoted = max(one.promoted, priority)
		if one.ticket != nil && one.awaited() {
			one.ticket.Promote()
		}
	}
}

// await has a team's channels read at once and waits until what there was to
// read is taken in. The error is the context's.
func (t *teamReads) await(ctx context.Context, team training.TeamID) error {
	t.promote(team, oldMessages)
	t.mu.Lock()
	all := slices.Clone(t.all[team])
	t.mu.Unlock()
	for _, one := range all {
		select {
		case <-one.ended:
		case <-ctx.Done():
			return ctx.Err()
		}
	}
	return nil
}

// background reports whether nobody waits for the read.
func (t *teamReads) background(one *teamRead) bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	return !one.awaited()
}
