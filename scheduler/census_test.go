//go:build census

package scheduler

import (
	"flag"
	"runtime"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

var (
	lives     = flag.Uint64("lives", 3000, "simulated lives of 400 days")
	firstSeed = flag.Uint64("seed", 1000, "seed of the first life")
)

// TestCensus holds the whole of P1: every distinct zone history, every change of
// its offset from 1970 to 2037, every minute of the dates around it.
func TestCensus(t *testing.T) {
	changes, cases := check(t, func(all []time.Time) []time.Time { return all })
	if cases < 75e6 {
		t.Errorf("only %d cases: are all zones there?", cases)
	}
	t.Logf("%d changes, %d cases", changes, cases)
}

// TestCensusOfLives holds P2 and P3 over thousands of team-years of what
// TestLives lives through.
func TestCensusOfLives(t *testing.T) {
	var next, decisions atomic.Uint64
	next.Store(*firstSeed)
	var done sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		done.Go(func() {
			for seed := next.Add(1) - 1; seed < *firstSeed+*lives && !t.Failed(); seed = next.Add(1) - 1 {
				l := newLife(t, seed)
				l.live()
				decisions.Add(uint64(len(l.decided)))
			}
		})
	}
	done.Wait()
	t.Logf("%d lives of %d days, %d decisions", *lives, lifeDays, decisions.Load())
}
