package bot

import (
	"context"
	"errors"
	"time"
)

// keepDecisions is how long it is remembered what was decided unasked: longer
// than the scheduler looks back, and than a message can be caught up on.
const keepDecisions = 60 * 24 * time.Hour

// keepUnanswered is how long an answer that is not out is waited for: longer than the
// messages are found for which it is.
const keepUnanswered = 3 * 24 * time.Hour

// Housekeep forgets what is no longer needed to keep anything from being said
// twice. It is for once a day.
func (b *Bot) Housekeep(ctx context.Context, at time.Time) error {
	return b.store.Update(ctx, func(tx Tx) error {
		return errors.Join(tx.ForgetDecisions(at.Add(-keepDecisions)), tx.ForgetUnanswered(at.Add(-keepUnanswered)),
			tx.ForgetAsked(at.Add(-askedFor)), tx.ForgetJoints(at))
	})
}
