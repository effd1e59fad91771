package scheduler

import (
	"context"
	"log/slog"
	"time"

	"github.com/robfig/cron/v3"
)

// How often a Ticker calls.
const (
	beatSpec  = "@every 30s"
	dailySpec = "17 3 * * *" // once a day, UTC, off the full hour
)

// Ticker is the heartbeat. It decides nothing: cron's own reckoning of local
// times goes wrong at clock changes, so it is used in UTC and only to call.
// All fields but Daily must be set.
type Ticker struct {
	Clock func() time.Time // the wall clock, read at each call
	Beat  func(time.Time)  // every 30 s, the first time 30 s after the start
	Daily func(time.Time)  // housekeeping, once a day; nil for none
	Log   *slog.Logger     // panics of the two, and skipped calls
}

// Run calls until ctx is done, then returns once no call is running. A call
// that is still running when its next is due makes that one be left out; one
// that panics is logged and called again next time. The process may have been
// suspended between two calls, or its clock set: what was to happen meanwhile
// is for Beat to find out.
func (t Ticker) Run(ctx context.Context) {
	log := cronLog{t.Log}
	// Recover must be the inner one: cron's skip never lets go after a panic.
	c := cron.New(cron.WithLocation(time.UTC), cron.WithLogger(log),
		cron.WithChain(cron.SkipIfStillRunning(log), cron.Recover(log)))
	t.add(c, beatSpec, t.Beat)
	if t.Daily != nil {
		t.add(c, dailySpec, t.Daily)
	}
	c.Start()
	<-ctx.Done()
	<-c.Stop().Done()
}

// add panics on a spec that cannot be read: the specs are constants.
func (t Ticker) add(c *cron.Cron, spec string, call func(time.Time)) {
	if _, err := c.AddFunc(spec, func() { call(t.Clock()) }); err != nil {
		panic(err)
	}
}

// cronLog keeps of cron's messages the panics and the skipped calls; that it
// woke and ran is no news.
type cronLog struct{ log *slog.Logger }

func (l cronLog) Info(msg string, _ ...any) {
	if msg == "skip" {
		l.log.Warn("tick skipped: the one before is still running")
	}
}

func (l cronLog) Error(err error, msg string, pairs ...any) {
	l.log.Error("tick "+msg, append([]any{"cause", err}, pairs...)...)
}
