package discord

import (
	"context"
	"fmt"
	"log/slog"
	"runtime/debug"
	"sync"
)

// queues are jobs in order, one queue a key. Each queue is worked off by one
// goroutine, which lives while there is work. To add a job never blocks.
type queues struct {
	log *slog.Logger

	mu    sync.Mutex
	byKey map[queueKey][]func(context.Context)
	idle  chan struct{} // closed when the last queue ends; nil where nobody waits
}

// queueKey names a queue: what comes in for a team, what goes out for it, what
// one person says to the bot alone.
type queueKey struct {
	kind queueKind
	id   snowflake
}

type queueKind int

const (
	intakeQueue queueKind = iota
	outQueue
	dueQueue // what fell due for a team
	directQueue
	readQueue         // a team's channels, read when there is time
	askedQueue        // an interaction's answer, a queue of its own
	housekeepingQueue // housekeeping: commands, removals
)

// The adapter's own queues of housekeeping, beside one for each server's
// commands.
const (
	resumeQueue snowflake = iota + 1
	deleteErasedQueue
	beatQueue
	flushQueue
)

// add puts a job at the end of a queue. The context ends when the process must.
func (q *queues) add(ctx context.Context, key queueKey, job func(context.Context)) {
	q.mu.Lock()
	defer q.mu.Unlock()
	if q.byKey == nil {
		q.byKey = map[queueKey][]func(context.Context){}
	}
	waiting, running := q.byKey[key]
	q.byKey[key] = append(waiting, job)
	if !running {
		go q.run(ctx, key)
	}
}

// run works a queue off.
func (q *queues) run(ctx context.Context, key queueKey) {
	for {
		q.mu.Lock()
		waiting := q.byKey[key]
		if len(waiting) == 0 {
			q.over(key)
			q.mu.Unlock()
			return
		}
		job := waiting[0]
		q.byKey[key] = waiting[1:]
		q.mu.Unlock()
		q.do(ctx, job)
	}
}

// do runs a job; one that panics takes no other with it. Where it did is logged,
// not with what: that may hold what somebody said.
func (q *queues) do(ctx context.Context, job func(context.Context)) {
	defer func() {
		if fault := recover(); fault != nil {
			q.log.Error("a job ended in a panic", "kind", fmt.Sprintf("%T", fault), "at", string(debug.Stack()))
		}
	}()
	job(ctx)
}

// over ends a queue; q.mu must be held.
func (q *queues) over(key queueKey) {
	delete(q.byKey, key)
	if len(q.byKey) == 0 && q.idle != nil {
		close(q.idle)
		q.idle = nil
	}
}

// wait returns when all queues are empty; others may be begun meanwhile.
func (q *queues) wait() {
	q.mu.Lock()
	if len(q.byKey) == 0 {
		q.mu.Unlock()
		return
	}
	if q.idle == nil {
		q.idle = make(chan struct{})
	}
	idle := q.idle
	q.mu.Unlock()
	<-idle
}
