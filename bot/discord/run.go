package discord

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"math/rand/v2"
	"net/http"
	"strings"
	"time"
)

// Errors that end Run, each a line that says what to do. All are of settings, at
// the host's or on the platform: starting again changes nothing.
var (
	ErrToken = errors.New("the platform does not take the bot's token: " +
		"copy the token again from the application's page, into RUNGBOOK_TOKEN or the file of RUNGBOOK_TOKEN_FILE")
	ErrIntent = errors.New("the bot may not read messages: " +
		"switch on Message Content Intent on the application's page, under Bot, and start again")
	ErrShard = errors.New("the platform wants this bot on several connections, which one process does not serve: " +
		"see the limits in the README")
	ErrVersion = errors.New("the platform no longer speaks the bot's version of its gateway, " +
		"or does not know what the bot asks to hear: upgrade the bot")
)

// Final reports whether an error of Run is one of those: nothing but mended
// settings or another version helps.
func Final(err error) bool {
	return errors.Is(err, ErrToken) || errors.Is(err, ErrIntent) || errors.Is(err, ErrShard) || errors.Is(err, ErrVersion)
}

// PermissionError says what the bot lacks, a line a server.
type PermissionError struct{ Lines []string }

func (e *PermissionError) Error() string {
	return "permissions are missing: " + strings.Join(e.Lines, "; ")
}

// Close codes after which to try again is of no use, from the platform's
// reference.
var fatal = map[int]error{
	4004: ErrToken,
	4010: ErrShard, 4011: ErrShard,
	4012: ErrVersion, 4013: ErrVersion,
	4014: ErrIntent,
}

const (
	firstWait     = time.Second
	longestWait   = time.Minute
	steady        = time.Minute // a connection that lasted so long was a good one
	mostStarts    = 900         // identifies in a day, of the 1,000 after which the platform resets the token
	startsSpan    = 24 * time.Hour
	drainTime     = 6 * time.Second
	hardDrainTime = 2 * time.Second
)

// Run connects and serves until ctx ends, then drains and returns nil. It
// returns an error only where trying again is of no use: one that is Final.
func (a *Adapter) Run(ctx context.Context) error {
	defer a.api.close()
	defer a.stop()
	err := a.supervise(ctx)
	a.stopReading()
	a.drain()
	a.report("keep how far channels were read", a.flush(context.WithoutCancel(ctx)))
	if ctx.Err() != nil && (errors.Is(err, ctx.Err()) || err == nil) {
		return nil
	}
	return err
}

// supervise keeps one connection after the other.
func (a *Adapter) supervise(ctx context.Context) error {
	wait := firstWait
	for {
		began := a.clock()
		why, err := a.connect(ctx)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if stop := fatal[why.code]; stop != nil {
			return stop
		}
		if errors.Is(err, ErrToken) {
			return err
		}
		a.log.Log(ctx, slog.LevelWarn, "gateway connection over", "code", why.code, "asked", why.asked, "cause", err)
		if a.clock().Sub(began) >= steady {
			wait = firstWait
		}
		// full jitter, so that many bots do not come back at once
		if err := a.wait(ctx, time.Duration(rand.Int64N(int64(wait)))); err != nil {
			return err
		}
		wait = min(2*wait, longestWait)
	}
}

// connect makes one connection and stays with it to its end.
func (a *Adapter) connect(ctx context.Context) (ending, error) {
	if err := a.identify(ctx); err != nil {
		return ending{}, err
	}
	if err := a.allowStart(ctx); err != nil {
		return ending{}, err
	}
	w, err := a.api.newGatewayLink(a.token, a.openTime, a.health.touch, a.hear)
	if err != nil {
		return ending{}, err
	}
	defer a.health.connected(false)
	return w.run(ctx, func() {
		a.health.connected(true)
		a.log.Info("connected")
	})
}

// identify learns who the bot is, once; a token that is not taken is ErrToken.
func (a *Adapter) identify(ctx context.Context) error {
	if a.me() != 0 {
		return nil
	}
	self, err := a.api.self(ctx)
	var r *refusal
	if errors.Is(err, errDenied) || errors.As(err, &r) && r.status == http.StatusUnauthorized {
		return ErrToken
	}
	if err != nil {
		return fmt.Errorf("ask who the bot is: %w", err)
	}
	a.self.Store(int64(self.ID))
	return nil
}

// allowStart keeps below the identifies of a day, those of other processes
// included.
func (a *Adapter) allowStart(ctx context.Context) error {
	for {
		now := a.clock()
		for len(a.starts) > 0 && now.Sub(a.starts[0]) >= startsSpan {
			a.starts = a.starts[1:]
		}
		left, reset, err := a.api.starts(ctx)
		if err != nil {
			return fmt.Errorf("ask how often the bot may connect: %w", err)
		}
		var pause time.Duration
		switch {
		case left < 1:
			pause = max(reset, time.Second)
		case len(a.starts) >= mostStarts:
			pause = a.starts[0].Add(startsSpan).Sub(now)
		default:
			a.starts = append(a.starts, now)
			return nil
		}
		a.log.Warn("the day's connections are used up: waiting", "for", pause)
		if err := a.wait(ctx, pause); err != nil {
			return err
		}
	}
}

// drain lets what has come in be answered, for a while, and then ends it.
func (a *Adapter) drain() {
	limit := time.NewTimer(drainTime)
	defer limit.Stop()
	idle := make(chan struct{})
	go func() {
		a.queues.wait()
		close(idle)
	}()
	select {
	case <-idle:
		return
	case <-limit.C:
	}
	a.stop()
	hard := time.NewTimer(hardDrainTime)
	defer hard.Stop()
	select {
	case <-idle:
	case <-hard.C:
		a.log.Error("stopped with work unfinished")
	}
}
