package rehearsal

import (
	"context"
	"time"

	"rungbook/bot"
	"rungbook/training"
)

// Stepper is the part of the bot that is played; *bot.Bot is one. NextDue
// returns the first instant after the given one at which a beat would do
// something.
type Stepper interface {
	Step(ctx context.Context, event bot.Event) ([]bot.Post, error)
	NextDue(ctx context.Context, team training.TeamID, after time.Time) (at time.Time, ok bool, err error)
}

// Outbox sends posts, and what was left unsent when the bot last stopped.
type Outbox interface {
	Deliver(ctx context.Context, posts []bot.Post, at time.Time) error
	Resume(ctx context.Context, at time.Time) error
}

// House is a bot at work on an open database. Close ends the work and closes
// the database.
type House struct {
	Bot    Stepper
	Store  bot.Store
	Outbox Outbox
	Close  func() error
}

// Open opens the database file at path, makes it where it is missing, and puts
// a bot to work on it whose posts are shown by show.
type Open func(ctx context.Context, path string, show func(bot.Post) error) (*House, error)
