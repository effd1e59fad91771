package discord

import (
	"context"
	"sync"
	"time"

	"rungbook/bot"
	"rungbook/training"
)

// memory is what the adapter may forget: all of it can be asked again.
type memory struct {
	mu sync.Mutex

	teamChannels map[training.TeamID]teamChannel
	threads      map[snowflake]bool // whether a channel is a thread under its team's
	serverNames  map[training.TeamID]string
	authors      map[training.TeamID]map[training.PersonID]identity  // what of people was last written down
	coachesAsked map[training.TeamID]map[training.PersonID]time.Time // when the platform last said that somebody is a coach

	nextDue map[training.TeamID]time.Time // when a team's next beat could do something; the zero time: never
	askedAt map[training.TeamID]time.Time // when that was asked
	events  map[training.TeamID]int       // how many events were met, each of which may change it

	recent   map[snowflake]*recent   // by channel
	caughtUp map[snowflake]bool      // the channels in which all that was said is taken in
	passed   map[snowflake]snowflake // up to which message they were taken in since that was last kept

	opened    map[snowflake]snowflake // by person: direct channels that were opened
	directs   map[snowflake]bool      // the direct channels among those caught up
	directDay time.Time               // the day, UTC, up to whose beginning these were last noted as taken in

	said      map[training.MessageID]saidFor // what the bot said to one person alone, since it started
	saidOrder []training.MessageID           // oldest first

	undecided  map[snowflake][]message     // by author: direct messages that wait for the choice of a team
	toldClosed map[snowflake]time.Time     // when somebody was last told that their direct messages are closed
	sending    map[training.MessageID]int  // how many posts are on their way, by what they answer
	unsure     map[training.MessageID]bool // messages to which an answer may be out, of which that is not known
	toRetry    map[training.TeamID]bool    // teams in which an answer could not be sent, or channels not read
	noHistory  map[training.TeamID]bool    // teams whose channel's history may not be read, of which their coaches were told
}

// teamChannel is where a team is: its channel and its coach role, 0 for none.
type teamChannel struct {
	channel, coaches snowflake
}

func newMemory() *memory {
	return &memory{
		teamChannels: map[training.TeamID]teamChannel{}, threads: map[snowflake]bool{},
		serverNames: map[training.TeamID]string{}, authors: map[training.TeamID]map[training.PersonID]identity{},
		coachesAsked: map[training.TeamID]map[training.PersonID]time.Time{},
		nextDue:      map[training.TeamID]time.Time{}, askedAt: map[training.TeamID]time.Time{}, events: map[training.TeamID]int{},
		recent: map[snowflake]*recent{}, caughtUp: map[snowflake]bool{}, passed: map[snowflake]snowflake{},
		opened: map[snowflake]snowflake{}, directs: map[snowflake]bool{},
		said:      map[training.MessageID]saidFor{},
		undecided: map[snowflake][]message{}, toldClosed: map[snowflake]time.Time{},
		sending: map[training.MessageID]int{}, unsure: map[training.MessageID]bool{},
		toRetry: map[training.TeamID]bool{}, noHistory: map[training.TeamID]bool{},
	}
}

// due reports whether a beat of the team could do something.
func (m *memory) due(team training.TeamID, at time.Time) bool {
	m.mu.Lock()
	defer m.mu.Unlock()
	next, known := m.nextDue[team]
	back := at.Before(m.askedAt[team]) // the clock was set back: what was known of the future is not
	return !known || back || !next.IsZero() && !at.Before(next)
}

// eventCount is how many events of the team were met.
func (m *memory) eventCount(team training.TeamID) int {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.events[team]
}

// setDue keeps when the team's next beat could do something, unless an
// event was met since they were counted.
func (m *memory) setDue(team training.TeamID, events int, at, next time.Time, ok bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.events[team] != events {
		return
	}
	if !ok {
		next = time.Time{}
	}
	m.nextDue[team], m.askedAt[team] = next, at
}

// forgetDue notes that an event of the team was met.
func (m *memory) forgetDue(team training.TeamID) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.events[team]++
	delete(m.nextDue, team)
}

// mostRecent bounds what is remembered of a channel: far more messages than can be
// on their way twice or out of order.
const mostRecent = 256

// recent are the messages of a channel that were met lately.
type recent struct {
	met   map[snowflake]seenState
	order []snowflake // oldest first
}

// seenState is the latest that was met of a message. A later state hides those
// before it.
type seenState int

const (
	created seenState = iota + 1
	changed
	deleted
)

// meet notes that a message was met in a state, and reports whether that is news.
// The same state again is none, but for an edit, nor is a state hidden by a later
// one.
func (m *memory) meet(channel, id snowflake, what seenState) bool {
	m.mu.Lock()
	defer m.mu.Unlock()
	r := m.recent[channel]
	if r == nil {
		r = &recent{met: map[snowflake]seenState{}}
		m.recent[channel] = r
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

// saidFor is what a message of the bot's was said for: the message it answers, or the
// number of a stored post.
type saidFor struct {
	answers training.MessageID
	unasked int64
}

// rememberSaid notes what messages to one person alone were said for, of which nothing is
// stored. The oldest are forgotten.
func (m *memory) rememberSaid(ids []training.MessageID, post bot.Post) {
	m.mu.Lock()
	defer m.mu.Unlock()
	for _, id := range ids {
		if _, known := m.said[id]; !known {
			m.saidOrder = append(m.saidOrder, id)
		}
		m.said[id] = saidFor{post.Answers, post.Unasked}
	}
	for len(m.saidOrder) > mostRecent {
		delete(m.said, m.saidOrder[0])
		m.saidOrder = m.saidOrder[1:]
	}
}

// saidForAnother reports whether a message was noted as said for another post.
func (m *memory) saidForAnother(id training.MessageID, post bot.Post) bool {
	m.mu.Lock()
	defer m.mu.Unlock()
	one, known := m.said[id]
	return known && one != saidFor{post.Answers, post.Unasked}
}

// teamChannelOf returns where a team is; ok is false where /setup has not settled
// it.
func (a *Adapter) teamChannelOf(ctx context.Context, team training.TeamID) (teamChannel, bool, error) {
	a.memory.mu.Lock()
	p, ok := a.memory.teamChannels[team]
	a.memory.mu.Unlock()
	if ok {
		return p, p.channel != 0, nil
	}
	err := a.store.View(ctx, func(tx Tx) error {
		channel, coaches, _, err := tx.TeamChannel(team)
		p = teamChannel{snowflake(channel), snowflake(coaches)}
		return err
	})
	if err != nil {
		return p, false, err
	}
	a.memory.mu.Lock()
	defer a.memory.mu.Unlock()
	a.memory.teamChannels[team] = p
	return p, p.channel != 0, nil
}

// forgetTeamChannel has it looked up anew where the team is.
func (m *memory) forgetTeamChannel(team training.TeamID) {
	m.mu.Lock()
	defer m.mu.Unlock()
	delete(m.teamChannels, team)
	clear(m.threads)
}

// within reports whether the channel is the team's or a thread under it.
func (a *Adapter) within(ctx context.Context, at teamChannel, id snowflake) (bool, error) {
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

// thread notes whether a channel is a thread under its team's.
func (m *memory) thread(id snowflake, under bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if len(m.threads) > 1<<16 {
		clear(m.threads)
	}
	m.threads[id] = under
}
