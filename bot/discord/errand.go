package discord

import (
	"sync"
	"time"

	"rungbook/training"
)

// errand is what the posts of one event go back to: where it was said, and the
// interaction that waits for an answer, if it was one. The zero value is for
// what comes of no event.
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
