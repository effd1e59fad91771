package scheduler

import (
	"bytes"
	"context"
	"log/slog"
	"strings"
	"testing"
	"testing/synctest"
	"time"
)

// running starts a ticker in a bubble; stop ends it and waits until Run is back.
func running(t *testing.T, ticker Ticker) (stop func()) {
	ctx, cancel := context.WithCancel(t.Context())
	done := make(chan struct{})
	go func() {
		ticker.Run(ctx)
		close(done)
	}()
	return func() {
		cancel()
		<-done
	}
}

func TestTickerBeatsAndKeepsHouse(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		start := time.Now()
		var beats, days []time.Duration
		stop := running(t, Ticker{
			Clock: time.Now, Log: slog.New(slog.DiscardHandler),
			Beat:  func(at time.Time) { beats = append(beats, at.Sub(start)) },
			Daily: func(at time.Time) { days = append(days, at.Sub(start)) },
		})
		time.Sleep(48*time.Hour + time.Second)
		stop()
		if len(beats) != 2*24*60*2 {
			t.Errorf("%d beats in two days", len(beats))
		}
		for i, at := range beats {
			if want := time.Duration(i+1) * 30 * time.Second; at != want {
				t.Fatalf("beat %d after %s, want %s", i, at, want)
			}
		}
		// A bubble's clock starts at midnight UTC.
		if len(days) != 2 || days[0] != 3*time.Hour+17*time.Minute || days[1]-days[0] != 24*time.Hour {
			t.Errorf("housekeeping after %v", days)
		}
	})
}

func TestTickerGivesTheClockItWasGiven(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		wall := instant(t, "2026-10-05T17:30:00+01:00")
		var got time.Time
		stop := running(t, Ticker{
			Clock: func() time.Time { return wall }, Log: slog.New(slog.DiscardHandler),
			Beat: func(at time.Time) { got = at },
		})
		time.Sleep(30 * time.Second)
		stop()
		if !got.Equal(wall) {
			t.Errorf("beat at %s, want the clock's %s", got, wall)
		}
	})
}

func TestTickerSkipsWhileABeatRuns(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var out bytes.Buffer
		busy, most, beats := 0, 0, 0
		stop := running(t, Ticker{
			Clock: time.Now, Log: slog.New(slog.NewTextHandler(&out, nil)),
			Beat: func(time.Time) {
				beats++
				busy++
				most = max(most, busy)
				time.Sleep(45 * time.Second)
				busy--
			},
		})
		time.Sleep(5 * time.Minute)
		stop() // in the middle of a call: it is waited for
		if most != 1 || busy != 0 {
			t.Errorf("%d calls at once, %d left running", most, busy)
		}
		if beats != 5 || strings.Count(out.String(), "tick skipped") != 5 {
			t.Errorf("%d beats in 5 minutes of 45 s each, log:\n%s", beats, &out)
		}
	})
}

func TestTickerOutlivesAPanic(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var out bytes.Buffer
		beats := 0
		stop := running(t, Ticker{
			Clock: time.Now, Log: slog.New(slog.NewTextHandler(&out, nil)),
			Beat: func(time.Time) {
				beats++
				if beats == 1 {
					panic("the first beat goes wrong")
				}
			},
		})
		time.Sleep(90 * time.Second)
		stop()
		if beats != 3 || !strings.Contains(out.String(), "the first beat goes wrong") {
			t.Errorf("%d beats, log:\n%s", beats, &out)
		}
	})
}
