package discord

import (
	"context"
	"time"

	"rungbook/bot/priority"
	"rungbook/training"
)

// OpenWithin shortens the wait for a connection to be ready.
func OpenWithin(o *Options, d time.Duration) { o.openTime = d }

// DeferAfter sets how long an answer may take before the platform is told to wait
// longer; 0 for what it is in earnest.
func DeferAfter(o *Options, d time.Duration) { o.deferAfter = d }

// Slowly spaces the requests that nobody waits for.
func Slowly(o *Options, d time.Duration) { o.slow = d }

// Split is split, for its tests.
var Split = split

// Block stops a team's queue until done is closed.
func (a *Adapter) Block(team training.TeamID, done <-chan struct{}) {
	a.queues.add(a.work, queueKey{intakeQueue, snowflake(team)}, func(context.Context) { <-done })
}

// Width is width, for its tests.
var Width = width

// FillReading takes all the room there is for teams' channels to be read at once;
// each call of free gives back what one team needs.
func (a *Adapter) FillReading() (free func()) {
	var held []*priority.Ticket
	for range mostReading {
		held = append(held, a.reads.queue.Join(newMessages))
	}
	return func() {
		held[0].Leave()
		held = held[1:]
	}
}

// ToBeRead is how many teams wait for their channels to be read.
func (a *Adapter) ToBeRead() int {
	a.reads.mu.Lock()
	defer a.reads.mu.Unlock()
	waiting := 0
	for _, team := range a.reads.all {
		for _, one := range team {
			if one.ticket != nil && !one.begun {
				waiting++
			}
		}
	}
	return waiting
}

// MostReading is mostReading, for its tests.
const MostReading = mostReading

// Rest returns when all that has come in was met and answered.
func (a *Adapter) Rest() { a.queues.wait() }

// Settled has a team looked up anew, as /setup does.
func (a *Adapter) Settled(team training.TeamID) { a.memory.forgetTeamChannel(team) }

// MostAsked is mostAsked, for its tests.
const MostAsked = mostAsked
