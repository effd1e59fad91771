package discord

import (
	"context"
	"errors"

	"rungbook/bot/outbox"
	"rungbook/training"
)

// deleteErasedPosts removes from the platform what was said about people who have
// been erased since.
func (a *Adapter) deleteErasedPosts() {
	a.queues.add(a.work, queueKey{housekeepingQueue, deleteErasedQueue}, func(ctx context.Context) {
		a.report("remove what was said about somebody erased", a.deleteErased(ctx))
	})
}

// deleteErased removes the messages that the store lists for removal, and then has
// their traces scrubbed from its files. A message that may not be removed counts as
// removed. After another error the rest stays for the next call.
func (a *Adapter) deleteErased(ctx context.Context) error {
	var channels []int64
	var ids []training.MessageID
	err := a.store.View(ctx, func(tx Tx) (err error) {
		channels, ids, err = tx.Removals()
		return err
	})
	if err != nil {
		return err
	}
	for i, id := range ids {
		err := a.api.background().remove(ctx, snowflake(channels[i]), snowflake(id))
		if err != nil && !errors.Is(a.class(err), outbox.ErrRefused) {
			return err
		}
		if err := a.store.Update(ctx, func(tx Tx) error { return tx.DropRemoval(id) }); err != nil {
			return err
		}
	}
	if len(ids) == 0 || a.scrub == nil {
		return nil
	}
	return a.scrub(ctx)
}
