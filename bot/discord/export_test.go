package discord

import (
	"context"
	"time"

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

// Rest returns when all that has come in was met and answered.
func (a *Adapter) Rest() { a.queues.wait() }

// Settled has a team looked up anew, as /setup does.
func (a *Adapter) Settled(team training.TeamID) { a.memory.forgetTeamChannel(team) }
