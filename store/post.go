package store

import (
	"context"
	"time"

	"rungbook/training"
)

// Unsent lists the posts formed or sending, oldest first.
func (db *DB) Unsent(ctx context.Context) (ids []int64, err error) {
	err = db.View(ctx, func(tx *Tx) error {
		ids, err = tx.numbers("list unsent posts", "SELECT id FROM post WHERE state IN ('formed', 'sending') ORDER BY id")
		return err
	})
	return ids, err
}

// Post returns a post. Its state is formed, sending, sent or dropped; the
// payload is nil once it is sent or dropped; claimed is when the last attempt
// to send it began, zero before the first and after the end. The error is ErrNoPost if there is
// none of the number.
func (db *DB) Post(ctx context.Context, id int64) (team training.TeamID, payload []byte, state string, claimed time.Time, err error) {
	err = db.View(ctx, func(tx *Tx) error {
		const verb = "read post"
		var since any
		ok, err := tx.one(verb, "SELECT team, payload, state, claimed FROM post WHERE id = ?", []any{id}, &team, &payload, &state, &since)
		if err != nil {
			return err
		}
		if !ok {
			return tx.fail(verb, ErrNoPost)
		}
		if since == nil {
			return nil
		}
		return (*instant)(&claimed).Scan(since)
	})
	return team, payload, state, claimed, err
}

// Claim notes that an attempt to send the post begins: from formed it becomes
// sending, and one that is sending gets the new instant. The error is
// ErrSettled if it was sent or dropped meanwhile.
func (db *DB) Claim(ctx context.Context, id int64, at time.Time) error {
	return db.Update(ctx, func(tx *Tx) error {
		return tx.settle("claim post", id,
			"UPDATE post SET state = 'sending', claimed = ?2 WHERE id = ?1 AND state IN ('formed', 'sending')", instant(at))
	})
}

// Sent notes that the post is out, and drops its payload and when it was claimed.
// It holds whatever the state was: what is out is out. Neither when it went out is
// kept nor as which message: it may be a notice of a pause.
func (db *DB) Sent(ctx context.Context, id int64) error {
	return db.Update(ctx, func(tx *Tx) error {
		return tx.settle("note post as sent", id,
			"UPDATE post SET state = 'sent', payload = NULL, claimed = NULL, why = NULL WHERE id = ?1")
	})
}

// Dropped notes that the post will never be sent, and drops its payload. why
// is a word of the code's. A post dropped before keeps its reason; the error
// is ErrSettled if it was sent.
func (db *DB) Dropped(ctx context.Context, id int64, why string) error {
	return db.Update(ctx, func(tx *Tx) error { return tx.drop(id, why) })
}

func (tx *Tx) drop(id int64, why string) error {
	return tx.settle("note post as dropped", id, `UPDATE post SET state = 'dropped', payload = NULL, claimed = NULL,
		why = coalesce(why, ?2) WHERE id = ?1 AND state <> 'sent'`, why)
}

// Missed is Dropped for a post that came too late to be sent: what was decided
// to be said by it counts as missed.
func (db *DB) Missed(ctx context.Context, id int64, why string) error {
	return db.Update(ctx, func(tx *Tx) error {
		if err := tx.drop(id, why); err != nil {
			return err
		}
		_, err := tx.exec("note decisions as missed", "UPDATE decision SET outcome = 'missed' WHERE post = ?", id)
		return err
	})
}

// settle runs a change of one post and tells why it changed none.
func (tx *Tx) settle(verb string, id int64, query string, args ...any) error {
	changed, err := tx.exec(verb, query, append([]any{id}, args...)...)
	if err != nil || changed > 0 {
		return err
	}
	var state string
	ok, err := tx.one(verb, "SELECT state FROM post WHERE id = ?", []any{id}, &state)
	switch {
	case err != nil:
		return err
	case !ok:
		return tx.fail(verb, ErrNoPost)
	}
	return tx.fail(verb, ErrSettled)
}
