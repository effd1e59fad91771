package discord

import (
	"context"
	"fmt"
	"log/slog"
	"runtime/debug"
	"sync"
)

// lines are queues, one a key, each worked off in order by one goroutine that
// lives while there is work. They never refuse and never block whoever adds.
type lines struct {
	log *slog.Logger

	mu     sync.Mutex
	queues map[lineKey][]func(context.Context)
	idle   chan struct{} // closed when the last queue ends; nil where nobody waits
}

// lineKey names a queue: what comes in for a team, what goes out for it, what
// one person says to the bot alone.
type lineKey struct {
	kind lineKind
	id   flake
}

type lineKind int

const (
	intakeLine lineKind = iota
	outLine
	dueLine // what fell due for a team
	directLine
	readLine  // a team's places, read when there is time
	askedLine // an interaction's answer, a line of its own
	houseLine // housekeeping: commands, removals
)

// The adapter's own queues of housekeeping, beside one for each server's
// commands.
const (
	resumeLine flake = iota + 1
	removeLine
	beatLine
	flushLine
)

// add puts a job at the end of a queue. The context ends when the process must.
func (l *lines) add(ctx context.Context, key lineKey, job func(context.Context)) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.queues == nil {
		l.queues = map[lineKey][]func(context.Context){}
	}
	waiting, running := l.queues[key]
	l.queues[key] = append(waiting, job)
	if !running {
		go l.run(ctx, key)
	}
}

func (l *lines) run(ctx context.Context, key lineKey) {
	for {
		l.mu.Lock()
		waiting := l.queues[key]
		if len(waiting) == 0 {
			l.over(key)
			l.mu.Unlock()
			return
		}
		job := waiting[0]
		l.queues[key] = waiting[1:]
		l.mu.Unlock()
		l.do(ctx, job)
	}
}

// do runs a job; one that panics takes no other with it. Where it did is logged,
// not with what: that may hold what somebody said.
func (l *lines) do(ctx context.Context, job func(context.Context)) {
	defer func() {
		if fault := recover(); fault != nil {
			l.log.Error("a job ended in a panic", "kind", fmt.Sprintf("%T", fault), "at", string(debug.Stack()))
		}
	}()
	job(ctx)
}

// over ends a queue; l.mu must be held.
func (l *lines) over(key lineKey) {
	delete(l.queues, key)
	if len(l.queues) == 0 && l.idle != nil {
		close(l.idle)
		l.idle = nil
	}
}

// wait returns when all queues are empty; others may be begun meanwhile.
func (l *lines) wait() {
	l.mu.Lock()
	if len(l.queues) == 0 {
		l.mu.Unlock()
		return
	}
	if l.idle == nil {
		l.idle = make(chan struct{})
	}
	idle := l.idle
	l.mu.Unlock()
	<-idle
}
