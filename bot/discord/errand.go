package discord

import (
	"context"
	"sync"
	"time"

	"rungbook/training"
)

// errand is what the posts of one event go back to: where it was said, and the
// interaction that waits for an answer, if it was one. It travels with the
// context through the outbox.
type errand struct {
	source training.MessageID          // of the message, or of the command; 0 for a tap
	place  flake                       // where it was said
	direct bool                        // to the bot alone
	places map[training.MessageID]spot // where each was said, while catching up
	asked  *interaction                // nil: nothing waits
	person training.PersonID           // who asked

	mu       sync.Mutex
	state    askedState
	answered bool // something was said to whoever asked
	timer    *time.Timer
	away     bool // the platform was not to be had for the last post
}

// reach notes whether the platform is to be had.
func (e *errand) reach(is bool) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.away = !is
}

func (e *errand) reached() bool {
	e.mu.Lock()
	defer e.mu.Unlock()
	return !e.away
}

// spot is a place, and whether somebody is alone with the bot there.
type spot struct {
	place  flake
	direct bool
}

// askedState is how far an interaction's first answer is.
type askedState int

const (
	waiting askedState = iota
	deferred
	said
)

func (e *errand) spot(id training.MessageID) spot {
	if at, ok := e.places[id]; ok {
		return at
	}
	return spot{e.place, e.direct}
}

type errandKey struct{}

func withErrand(ctx context.Context, e *errand) context.Context {
	return context.WithValue(ctx, errandKey{}, e)
}

// errandOf is the errand of a post on its way; an empty one for what comes of
// no event.
func errandOf(ctx context.Context) *errand {
	if e, ok := ctx.Value(errandKey{}).(*errand); ok {
		return e
	}
	return &errand{}
}
