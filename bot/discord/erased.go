package discord

import (
	"context"
	"errors"

	"rungbook/bot"
	"rungbook/bot/outbox"
	"rungbook/bot/words"
	"rungbook/training"
)

// deleteErasedPosts removes from the platform what was said about people who have
// been erased since.
func (a *Adapter) deleteErasedPosts() {
	a.queues.add(a.work, queueKey{housekeepingQueue, deleteErasedQueue}, func(ctx context.Context) {
		a.report("remove what was said about somebody erased", a.deleteErased(ctx))
	})
}

// deleteErased removes the messages that the store lists for removal, the bot's own in
// the direct channels of people erased, and the notices about them in those of their
// coaches, and then has their traces scrubbed from the store's files. What may not be
// removed or read counts as removed. After another error the rest stays for the next
// call.
func (a *Adapter) deleteErased(ctx context.Context) error {
	var left erasedPosts
	err := a.store.View(ctx, func(tx Tx) (err error) {
		left, err = erasedLeft(tx)
		return err
	})
	if err != nil {
		return err
	}
	for i, id := range left.ids {
		if err := a.removeOwn(ctx, snowflake(left.channels[i]), snowflake(id)); err != nil {
			return err
		}
		if err := a.store.Update(ctx, func(tx Tx) error { return tx.DropRemoval(id) }); err != nil {
			return err
		}
	}
	for _, channel := range left.toEmpty {
		all := func(m message) (bool, error) { return m.Content != words.ErasedNow, nil }
		if err := a.removeIn(ctx, snowflake(channel), all); err != nil {
			return err
		}
		if err := a.store.Update(ctx, func(tx Tx) error { return tx.DropToEmpty(channel) }); err != nil {
			return err
		}
	}
	for _, coach := range left.coaches {
		if err := a.searchWith(ctx, coach); err != nil {
			return err
		}
	}
	if len(left.ids)+len(left.toEmpty)+len(left.coaches) == 0 || a.scrub == nil {
		return nil
	}
	return a.scrub(ctx)
}

// erasedPosts is where messages about people erased are still to be removed.
type erasedPosts struct {
	channels []int64 // of ids
	ids      []training.MessageID
	toEmpty  []int64             // direct channels of people erased
	coaches  []training.PersonID // whose direct channels hold notices about them
}

func erasedLeft(tx Tx) (left erasedPosts, err error) {
	var errs [3]error
	left.channels, left.ids, errs[0] = tx.Removals()
	left.toEmpty, errs[1] = tx.ToEmpty()
	left.coaches, errs[2] = tx.Searches()
	return left, errors.Join(errs[:]...)
}

// removeOwn removes a message of the bot's, if it may.
func (a *Adapter) removeOwn(ctx context.Context, channel, id snowflake) error {
	err := a.api.background().remove(ctx, channel, id)
	if err != nil && !errors.Is(a.class(err), outbox.ErrRefused) && !errors.Is(a.class(err), outbox.ErrGone) {
		return err
	}
	return nil
}

// searchWith removes, where a coach and the bot are alone, the notices about people
// erased: their buttons name whom they are about.
func (a *Adapter) searchWith(ctx context.Context, coach training.PersonID) error {
	channel, err := a.directWith(ctx, coach, false)
	if err == nil {
		err = a.removeIn(ctx, channel, a.aboutErased(ctx))
	}
	if err != nil && !errors.Is(a.class(err), outbox.ErrRefused) && !errors.Is(a.class(err), outbox.ErrClosed) {
		return err
	}
	return a.store.Update(ctx, func(tx Tx) error { return tx.DropSearch(coach) })
}

// aboutErased tells whether a message is a notice about somebody erased.
func (a *Adapter) aboutErased(ctx context.Context) func(message) (bool, error) {
	return func(m message) (is bool, err error) {
		for _, id := range m.customIDs() {
			tap, ok := readTap(id)
			if !ok || tap.Button != bot.TapResume || is {
				continue
			}
			err = a.store.View(ctx, func(tx Tx) (err error) {
				is, err = tx.Blocked(tap.About)
				return err
			})
			if err != nil {
				return false, err
			}
		}
		return is, nil
	}
}

// removeIn removes those of the bot's own messages in a channel that are picked.
func (a *Adapter) removeIn(ctx context.Context, channel snowflake, pick func(message) (bool, error)) error {
	history, err := a.api.background().historyFrom(ctx, channel, 0)
	if refusedFor(err, codeUnknownChannel) || errors.Is(a.class(err), outbox.ErrRefused) {
		return nil
	}
	if err != nil {
		return err
	}
	for _, m := range history {
		if m.Author == nil || m.Author.ID != a.me() {
			continue
		}
		picked, err := pick(m)
		if err == nil && picked {
			err = a.removeOwn(ctx, channel, m.ID)
		}
		if err != nil {
			return err
		}
	}
	return nil
}
