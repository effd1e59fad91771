//go:build census

package scheduler

import (
	"testing"
	"time"
)

// The whole census: every distinct zone history, every change of its offset
// from 1970 to 2037, every minute of the dates around it.
func TestCensus(t *testing.T) {
	changes, cases := check(t, func(all []time.Time) []time.Time { return all })
	if cases < 75e6 {
		t.Errorf("only %d cases: are all zones there?", cases)
	}
	t.Logf("%d changes, %d cases", changes, cases)
}
