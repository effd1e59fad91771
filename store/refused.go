package store

import (
	"strconv"
	"time"

	"rungbook/training"
)

// MarkRefused remembers that a message, or its edit of that instant, was refused
// because nothing could be stored, as a keyed hash that ties it to nobody; edited is
// zero for the message as it was first. The instant is kept to the day. Twice is once.
func (tx *Tx) MarkRefused(id training.MessageID, edited, at time.Time) error {
	const verb = "mark message as refused"
	hash, err := tx.refusedHash(verb, id, edited)
	if err != nil {
		return err
	}
	_, err = tx.exec(verb, "INSERT INTO refused (hash, day) VALUES (?, ?) ON CONFLICT DO NOTHING", hash, dayOf(at))
	return err
}

// Refused reports whether the message, or its edit of that instant, was refused.
func (tx *Tx) Refused(id training.MessageID, edited time.Time) (bool, error) {
	const verb = "read whether a message was refused"
	hash, err := tx.refusedHash(verb, id, edited)
	if err != nil {
		return false, err
	}
	var one int
	return tx.one(verb, "SELECT 1 FROM refused WHERE hash = ?", []any{hash}, &one)
}

// ForgetRefused drops what was refused on days that began before the instant.
func (tx *Tx) ForgetRefused(before time.Time) error {
	_, err := tx.exec("forget refused messages", "DELETE FROM refused WHERE day < ?", dayOf(roundUp(before, 24*time.Hour)))
	return err
}

func (tx *Tx) refusedHash(verb string, id training.MessageID, edited time.Time) ([]byte, error) {
	text := strconv.FormatInt(int64(id), 10)
	if !edited.IsZero() {
		text += " " + strconv.FormatInt(edited.UnixMilli(), 10)
	}
	return tx.hash(verb, "refused", text)
}
