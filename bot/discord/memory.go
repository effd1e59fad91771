package discord

import (
	"context"
	"sync"
	"time"

	"rungbook/training"
)

// memory is what the adapter may forget: all of it can be asked again.
type memory struct {
	*state
}

type state struct {
	mu       sync.Mutex
	places   map[training.TeamID]place
	threads  map[flake]bool                     // whether a channel is under its team's
	next     map[training.TeamID]time.Time      // when a team's next beat could do something; the zero value: never
	asked    map[training.TeamID]time.Time      // when that was asked
	happened map[training.TeamID]int            // how often something has happened that may change it
	coaches  map[training.TeamID]map[flake]bool // how people's coach role was last written down
	recent   map[flake]*recent                  // by place
	waiting  map[flake][]pending                // direct messages that wait for the choice of a team
	told     map[flake]time.Time                // when somebody was last told that their direct messages are closed
	names    map[training.TeamID]string         // of servers
	onWay    map[training.MessageID]int         // answers being sent, by what they answer
	level    map[flake]bool                     // places in which all is taken in
	passed   map[flake]flake                    // what was taken in there since it was last kept
	owing    map[training.TeamID]bool           // teams in which an answer could not be sent
}

// place is where a team is.
type place struct {
	channel, coaches flake
}

// pending is a direct message that waits.
type pending struct{ m message }

func newMemory() memory {
	return memory{&state{
		places: map[training.TeamID]place{}, threads: map[flake]bool{},
		next: map[training.TeamID]time.Time{}, asked: map[training.TeamID]time.Time{}, happened: map[training.TeamID]int{},
		coaches: map[training.TeamID]map[flake]bool{}, recent: map[flake]*recent{}, waiting: map[flake][]pending{},
		told: map[flake]time.Time{}, names: map[training.TeamID]string{},
		onWay: map[training.MessageID]int{}, owing: map[training.TeamID]bool{},
		level: map[flake]bool{}, passed: map[flake]flake{},
	}}
}

// due reports whether a beat of the team could do something.
func (s *state) due(team training.TeamID, at time.Time) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	next, known := s.next[team]
	back := at.Before(s.asked[team]) // the clock was set back: what was known of the future is not
	return !known || back || !next.IsZero() && !at.Before(next)
}

// changes counts what has happened in a team.
func (s *state) changes(team training.TeamID) int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.happened[team]
}

// setDue keeps when the team's next beat could do something, unless something
// has happened since the changes were counted.
func (s *state) setDue(team training.TeamID, changes int, at, next time.Time, ok bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.happened[team] != changes {
		return
	}
	if !ok {
		next = time.Time{}
	}
	s.next[team], s.asked[team] = next, at
}

func (s *state) forgetDue(team training.TeamID) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.happened[team]++
	delete(s.next, team)
}

// mostRecent bounds what is remembered of a place: far more than can be on its
// way twice or out of order.
const mostRecent = 256

// recent are the messages of a place that were met lately.
type recent struct {
	met   map[flake]fate
	order []flake
}

// fate is what became of a message, each step hiding those before it.
type fate int

const (
	created fate = iota + 1
	changed
	deleted
)

// meet notes what has come of a message and reports whether that is news: the
// same again is not, nor is its creation after its edit or its end.
func (s *state) meet(place, id flake, what fate) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	r := s.recent[place]
	if r == nil {
		r = &recent{met: map[flake]fate{}}
		s.recent[place] = r
	}
	before, known := r.met[id]
	if !known {
		r.order = append(r.order, id)
		if len(r.order) > mostRecent {
			delete(r.met, r.order[0])
			r.order = r.order[1:]
		}
	}
	r.met[id] = max(before, what)
	return before < what || before == changed && what == changed
}

// placeOf returns where a team is; ok is false where it is not settled.
func (a *Adapter) placeOf(ctx context.Context, team training.TeamID) (place, bool, error) {
	a.memory.mu.Lock()
	p, ok := a.memory.places[team]
	a.memory.mu.Unlock()
	if ok {
		return p, p.channel != 0, nil
	}
	err := a.store.View(ctx, func(tx Tx) error {
		channel, coaches, _, err := tx.Place(team)
		p = place{flake(channel), flake(coaches)}
		return err
	})
	if err != nil {
		return p, false, err
	}
	a.memory.mu.Lock()
	defer a.memory.mu.Unlock()
	a.memory.places[team] = p
	return p, p.channel != 0, nil
}

func (s *state) forgetPlace(team training.TeamID) {
	s.mu.Lock()
	defer s.mu.Unlock()
	delete(s.places, team)
	clear(s.threads)
}

// within reports whether the place is the team's channel or a thread under it.
func (a *Adapter) within(ctx context.Context, at place, id flake) (bool, error) {
	if id == at.channel {
		return true, nil
	}
	a.memory.mu.Lock()
	under, known := a.memory.threads[id]
	a.memory.mu.Unlock()
	if known {
		return under, nil
	}
	c, err := a.api.channel(ctx, id)
	if err != nil && !refusedFor(err, codeUnknownChannel, codeNoAccess) {
		return false, err
	}
	a.memory.thread(id, err == nil && c.Parent == at.channel)
	return err == nil && c.Parent == at.channel, nil
}

func (s *state) thread(id flake, under bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.threads) > 1<<16 {
		clear(s.threads)
	}
	s.threads[id] = under
}
