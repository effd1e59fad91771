package outbox

import (
	"context"
	"slices"
	"sync"
)

// gate lets so many through at once, the most urgent first, and nobody while it
// is held shut.
type gate struct {
	mu      sync.Mutex
	free    int
	holds   int
	waiting []*ticket // by urgency, then by arrival
}

type ticket struct {
	urgency int
	in      chan struct{} // closed when it is let in
}

func newGate(width int) *gate { return &gate{free: width} }

// enter waits to be let in; whoever is must leave.
func (g *gate) enter(ctx context.Context, urgency int) error {
	t := &ticket{urgency, make(chan struct{})}
	g.mu.Lock()
	behind := slices.IndexFunc(g.waiting, func(w *ticket) bool { return w.urgency > urgency })
	if behind < 0 {
		behind = len(g.waiting)
	}
	g.waiting = slices.Insert(g.waiting, behind, t)
	g.admit()
	g.mu.Unlock()
	select {
	case <-t.in:
		return nil
	case <-ctx.Done():
	}
	g.mu.Lock()
	defer g.mu.Unlock()
	if i := slices.Index(g.waiting, t); i >= 0 {
		g.waiting = slices.Delete(g.waiting, i, i+1)
	} else { // let in at the same moment
		g.free++
		g.admit()
	}
	return ctx.Err()
}

func (g *gate) leave() {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.free++
	g.admit()
}

// hold shuts the gate until as many lifts.
func (g *gate) hold() {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.holds++
}

func (g *gate) lift() {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.holds--
	g.admit()
}

func (g *gate) admit() {
	for g.holds == 0 && g.free > 0 && len(g.waiting) > 0 {
		close(g.waiting[0].in)
		g.waiting = g.waiting[1:]
		g.free--
	}
}
