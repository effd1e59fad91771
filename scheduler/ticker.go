package scheduler

import (
	"context"
	"log/slog"
	"time"

	"github.com/robfig/cron/v3"
)

// How often a Ticker calls, as cron reads it.
const (
	beatSpec  = "@every 30s"
	dailySpec = "17 3 * * *" // 03:17 UTC: not at a full hour, when everybody's jobs start
)

// Ticker is the heartbeat. It decides nothing: cron goes wrong with local times
// at clock changes, so that it is used in UTC, and only to call. All fields but
// Daily must be set.
type Ticker struct {
	Clock func() time.Time // the wall clock, read at each call
	Beat  func(time.Time)  // every 30 s, the first time 30 s after the start
	Daily func(time.Time)  // housekeeping, once a day; nil for none
	Log   *slog.Logger     // is told of panics in Beat and Daily, and of skipped calls
}

// Run calls Beat and Daily until ctx is done, then returns once neither is
// running. A call is skipped if the one before it still runs. A call that
// panics is logged, and the next is made as if nothing had happened. Between two
// calls the process may have been suspended, or its clock set: Beat must find
// out itself what was due meanwhile.
func (t Ticker) Run(ctx context.Context) {
	log := cronLog{t.Log}
	// Recover stands within SkipIfStillRunning, which would take a call that
	// panicked for one that still runs.
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

// add has cron make a call. It panics on a spec that cron cannot read: the specs
// are constants.
func (t Ticker) add(c *cron.Cron, spec string, call func(time.Time)) {
	if _, err := c.AddFunc(spec, func() { call(t.Clock()) }); err != nil {
		panic(err)
	}
}

// cronLog passes on what cron says of panics and skipped calls, and drops the
// rest.
type cronLog struct{ log *slog.Logger }

func (l cronLog) Info(msg string, _ ...any) {
	if msg == "skip" {
		l.log.Warn("tick skipped: the one before is still running")
	}
}

func (l cronLog) Error(err error, msg string, pairs ...any) {
	l.log.Error("tick "+msg, append([]any{"cause", err}, pairs...)...)
}
