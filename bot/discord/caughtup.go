package discord

import (
	"context"
	"time"

	"rungbook/training"
)

// A channel is caught up when all that was said in it has been taken in since
// the connection began. From then on it is noted which message was taken in last,
// so that the next start knows from where to read. In a channel that is not caught
// up that would hide what was not read.

// pass notes that all up to a message of a channel has been taken in.
func (m *memory) pass(channel, id snowflake) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.caughtUp[channel] {
		m.passed[channel] = max(m.passed[channel], id)
	}
}

// noteCaughtUp notes that channels are caught up.
func (m *memory) noteCaughtUp(channels ...snowflake) {
	m.mu.Lock()
	defer m.mu.Unlock()
	for _, channel := range channels {
		m.caughtUp[channel] = true
	}
}

// beginning is the first instant of the day, UTC. How far a direct channel was taken
// in is kept to the day: the number of a message in it would tell when somebody spoke,
// and beside a pause whether that set it.
func beginning(at time.Time) time.Time { return at.UTC().Truncate(24 * time.Hour) }

// noteDirectCaughtUp notes that a direct channel is caught up.
func (m *memory) noteDirectCaughtUp(channel snowflake) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.directs[channel] = true
}

// passDirects notes once a day that all that was said before it in the direct
// channels that are caught up has been taken in. What a message has done is forgotten
// after some days, so none must be read again later.
func (m *memory) passDirects(now time.Time) {
	m.mu.Lock()
	defer m.mu.Unlock()
	day := beginning(now)
	if !day.After(m.directDay) {
		return
	}
	m.directDay = day
	for channel := range m.directs {
		m.passed[channel] = snowflakeAt(day)
	}
}

// flush writes down how far channels were taken in.
func (a *Adapter) flush(ctx context.Context) error {
	a.memory.passDirects(a.clock())
	a.memory.mu.Lock()
	passed := a.memory.passed
	a.memory.passed = map[snowflake]snowflake{}
	a.memory.mu.Unlock()
	if len(passed) == 0 {
		return nil
	}
	return a.store.Update(ctx, func(tx Tx) error {
		for channel, id := range passed {
			if err := tx.PutSeen(int64(channel), training.MessageID(id)); err != nil {
				return err
			}
		}
		return nil
	})
}
