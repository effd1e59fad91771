package discord

import (
	"sync"
	"time"
)

// Health is how the connection is.
type Health struct {
	Connected bool
	Since     time.Time // of the state; zero before the first connection
	Active    time.Time // when the platform was last heard; zero before
}

// Well reports whether the bot hears the platform, or has lost it no longer
// than the patience.
func (h Health) Well(now time.Time, patience time.Duration) bool {
	if h.Connected {
		return now.Sub(h.Active) <= max(patience, 90*time.Second) // two heartbeats
	}
	return !h.Since.IsZero() && now.Sub(h.Since) <= patience
}

// pulse is the activity clock.
type pulse struct {
	clock func() time.Time

	mu  sync.Mutex
	now Health
}

func (p *pulse) touch() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.now.Active = p.clock()
}

func (p *pulse) connected(is bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.now.Connected != is {
		p.now.Connected, p.now.Since = is, p.clock()
	}
}

// Health reads the activity clock.
func (a *Adapter) Health() Health {
	a.health.mu.Lock()
	defer a.health.mu.Unlock()
	return a.health.now
}
