// Package priority lets so many in at once: those of the lowest priority number
// first, equals in order of arrival.
package priority

import (
	"context"
	"slices"
	"sync"
)

// Queue is where all wait that want to be let in. Its methods, and those of its
// tickets, may be called by several goroutines.
type Queue struct {
	mu      sync.Mutex
	free    int // how many more may come in; below 0 after promotions
	holds   int
	waiting []*Ticket // in the order in which they come in
}

// Ticket is one that waits, or is in.
type Ticket struct {
	queue    *Queue
	priority int
	promoted bool
	state    state
	started  chan struct{} // closed when it may come in
}

type state int

const (
	waits state = iota
	in
	left
)

// New returns a queue that lets width in at once.
func New(width int) *Queue { return &Queue{free: width} }

// Join puts one behind those of its priority. Leave must follow, in or not.
func (q *Queue) Join(priority int) *Ticket {
	q.mu.Lock()
	defer q.mu.Unlock()
	t := &Ticket{queue: q, priority: priority, started: make(chan struct{})}
	behind := slices.IndexFunc(q.waiting, func(w *Ticket) bool { return !w.promoted && w.priority > priority })
	if behind < 0 {
		behind = len(q.waiting)
	}
	q.waiting = slices.Insert(q.waiting, behind, t)
	q.next()
	return t
}

// Enter joins and waits to be let in. After an error, which is the context's,
// the ticket is nil and has left.
func (q *Queue) Enter(ctx context.Context, priority int) (*Ticket, error) {
	t := q.Join(priority)
	if err := t.Wait(ctx); err != nil {
		t.Leave()
		return nil, err
	}
	return t, nil
}

// Wait waits to be let in. The error is the context's.
func (t *Ticket) Wait(ctx context.Context) error {
	select {
	case <-t.started:
	case <-ctx.Done():
	}
	return ctx.Err()
}

// Promote lets one in at once, beyond the width: only a hold keeps it out.
func (t *Ticket) Promote() {
	q := t.queue
	q.mu.Lock()
	defer q.mu.Unlock()
	if t.state != waits || t.promoted {
		return
	}
	t.promoted = true
	q.remove(t)
	behind := slices.IndexFunc(q.waiting, func(w *Ticket) bool { return !w.promoted })
	if behind < 0 {
		behind = len(q.waiting)
	}
	q.waiting = slices.Insert(q.waiting, behind, t)
	q.next()
}

// Leave makes room for the next, or ends the wait. Twice is once.
func (t *Ticket) Leave() {
	q := t.queue
	q.mu.Lock()
	defer q.mu.Unlock()
	switch t.state {
	case waits:
		q.remove(t)
	case in:
		q.free++
	}
	t.state = left
	q.next()
}

// Hold lets nobody in until Lift was called as often as Hold.
func (q *Queue) Hold() {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.holds++
}

// Lift ends one hold.
func (q *Queue) Lift() {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.holds--
	q.next()
}

// next lets in whoever may; q.mu must be held.
func (q *Queue) next() {
	for q.holds == 0 && len(q.waiting) > 0 && (q.free > 0 || q.waiting[0].promoted) {
		q.start(q.waiting[0])
	}
}

func (q *Queue) start(t *Ticket) {
	q.remove(t)
	t.state = in
	q.free--
	close(t.started)
}

func (q *Queue) remove(t *Ticket) {
	q.waiting = slices.DeleteFunc(q.waiting, func(w *Ticket) bool { return w == t })
}
