package discord

import (
	"sync"
	"time"

	"rungbook/training"
)

// origin is what the posts of one event go back to: where it was said, and the
// interaction that waits for an answer, if it was one. The zero value is for
// what comes of no event.
type origin struct {
	source        training.MessageID                  // the message or the command; 0 for a button and for several messages
	channel       snowflake                           // where it was said; 0 for nowhere
	direct        bool                                // to the bot alone
	conversations map[training.MessageID]conversation // where each of several messages was said, of a bot.CatchUp; nil for any other event
	asked         *interaction                        // which waits for an answer; nil for none

	mu    sync.Mutex
	state askedState
	timer *time.Timer // defers the answer; nil where nothing waits
}

// conversation is a channel, and whether somebody is alone with the bot there.
type conversation struct {
	channel snowflake
	direct  bool
}

// askedState is how far an interaction's first answer is.
type askedState int

const (
	unanswered askedState = iota
	deferred              // promised
	answered
)

// conversation is where a message of the event was said.
func (o *origin) conversation(id training.MessageID) conversation {
	if at, ok := o.conversations[id]; ok {
		return at
	}
	return conversation{o.channel, o.direct}
}
