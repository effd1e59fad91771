package bot

import (
	"context"
	"errors"
	"time"
)

// keepDecisions is how long decisions are kept: longer than the scheduler looks
// back, and longer than a message can be caught up on.
const keepDecisions = 60 * 24 * time.Hour

// keepUnanswered is how long a message stays marked as unanswered: longer than an
// adapter looks back for messages to answer.
const keepUnanswered = 3 * 24 * time.Hour

// keepActed is how long it is kept what a message has done, and that one was refused:
// to the day, longer than a message is read again and than an edit acts.
const keepActed = 4 * 24 * time.Hour

// Housekeep forgets what is no longer needed to keep anything from being said
// twice. It is for once a day.
func (b *Bot) Housekeep(ctx context.Context, at time.Time) error {
	return b.store.Update(ctx, func(tx Tx) error {
		return errors.Join(tx.ForgetDecisions(at.Add(-keepDecisions)), tx.ForgetUnanswered(at.Add(-keepUnanswered)),
			tx.ForgetAsked(at.Add(-askedFor)), tx.ForgetJoints(at),
			tx.ForgetActed(at.Add(-keepActed)), tx.ForgetRefused(at.Add(-keepActed)))
	})
}
