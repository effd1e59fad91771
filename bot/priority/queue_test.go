package priority

import (
	"context"
	"errors"
	"slices"
	"sync"
	"testing"
	"testing/synctest"
	"time"
)

// order tells in which order tickets come in; each leaves a second later.
type order struct {
	mu  sync.Mutex
	all []string
}

func (o *order) enter(t *testing.T, ticket *Ticket, name string) {
	go func() {
		defer ticket.Leave()
		if ticket.Wait(t.Context()) != nil {
			return
		}
		o.mu.Lock()
		o.all = append(o.all, name)
		o.mu.Unlock()
		time.Sleep(time.Second)
	}()
	synctest.Wait()
}

func (o *order) so(t *testing.T, want ...string) {
	t.Helper()
	synctest.Wait()
	o.mu.Lock()
	defer o.mu.Unlock()
	if !slices.Equal(o.all, want) {
		t.Errorf("order %q, want %q", o.all, want)
	}
}

func TestTheLowestNumberFirstThenByArrival(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		q, o := New(1), &order{}
		for _, one := range []struct {
			name     string
			priority int
		}{{"under way", 3}, {"3", 3}, {"2a", 2}, {"0", 0}, {"2b", 2}} {
			o.enter(t, q.Join(one.priority), one.name)
		}
		time.Sleep(10 * time.Second)
		o.so(t, "under way", "0", "2a", "2b", "3")
	})
}

// Whoever is promoted comes in at once, and whoever was in line before still
// waits until there is room for all.
func TestPromotionGoesBeyondTheWidth(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		q, o := New(1), &order{}
		o.enter(t, q.Join(0), "under way")
		o.enter(t, q.Join(0), "next")
		late := q.Join(9)
		o.enter(t, late, "promoted")
		o.so(t, "under way")
		time.Sleep(time.Second / 2)
		late.Promote()
		late.Promote()
		o.so(t, "under way", "promoted")
		time.Sleep(time.Second * 3 / 4) // one of two has left
		o.so(t, "under way", "promoted")
		time.Sleep(time.Second / 2)
		o.so(t, "under way", "promoted", "next")
		time.Sleep(time.Minute)
		synctest.Wait()
		late.Promote() // it has left
		if q.free != 1 || len(q.waiting) > 0 {
			t.Errorf("%d free, %d waiting", q.free, len(q.waiting))
		}
	})
}

// A hold keeps out all, promoted or not, until the last is lifted; then the
// promoted come first.
func TestHold(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		q, o := New(2), &order{}
		q.Hold()
		q.Hold()
		o.enter(t, q.Join(0), "first")
		second, third := q.Join(1), q.Join(2)
		o.enter(t, second, "second")
		o.enter(t, third, "third")
		third.Promote()
		second.Promote()
		o.enter(t, q.Join(0), "last")
		q.Lift()
		o.so(t)
		q.Lift()
		synctest.Wait()
		o.mu.Lock()
		slices.Sort(o.all) // both at once
		o.mu.Unlock()
		o.so(t, "second", "third")
		time.Sleep(time.Minute)
		synctest.Wait()
		if len(o.all) != 4 || q.free != 2 {
			t.Errorf("in: %q, %d free", o.all, q.free)
		}
	})
}

// Whoever gives up waiting takes no place, be it in the moment they are let in.
func TestGivingUpTakesNoPlace(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		q := New(1)
		first, err := q.Enter(t.Context(), 0)
		if err != nil {
			t.Fatal(err)
		}
		ctx, stop := context.WithCancel(t.Context())
		go stop()
		if _, err := q.Enter(ctx, 0); !errors.Is(err, context.Canceled) {
			t.Errorf("gave up: %v", err)
		}
		first.Leave()
		first.Leave()
		if _, err := q.Enter(ctx, 0); !errors.Is(err, context.Canceled) {
			t.Errorf("room, but no time: %v", err)
		}
		if _, err := q.Enter(t.Context(), 0); err != nil || q.free != 0 {
			t.Errorf("the next: %v, %d places left", err, q.free)
		}
	})
}
