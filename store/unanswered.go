package store

import (
	"strconv"
	"time"

	"rungbook/training"
)

// MarkUnanswered remembers that a message's answer is still to be sent, as a
// keyed hash that ties it to nobody, and the instant to the day. Twice is once.
func (tx *Tx) MarkUnanswered(team training.TeamID, id training.MessageID, at time.Time) error {
	const verb = "mark message as unanswered"
	hash, err := tx.unansweredHash(verb, id)
	if err != nil {
		return err
	}
	_, err = tx.exec(verb, "INSERT INTO unanswered (hash, team, at) VALUES (?, ?, ?) ON CONFLICT DO NOTHING",
		hash, int64(team), wholeDay(at))
	return err
}

// Unanswered reports whether the message's answer is still to be sent.
func (tx *Tx) Unanswered(id training.MessageID) (bool, error) {
	const verb = "read whether a message is unanswered"
	hash, err := tx.unansweredHash(verb, id)
	if err != nil {
		return false, err
	}
	var one int
	return tx.one(verb, "SELECT 1 FROM unanswered WHERE hash = ?", []any{hash}, &one)
}

// HasUnanswered reports whether any answer of the team's is still to be sent.
func (tx *Tx) HasUnanswered(team training.TeamID) (bool, error) {
	var one int
	return tx.one("read unanswered messages", "SELECT 1 FROM unanswered WHERE team = ? LIMIT 1", []any{int64(team)}, &one)
}

// MarkAnswered notes that the message's answer is out, or will never be.
func (tx *Tx) MarkAnswered(id training.MessageID) error {
	const verb = "mark message as answered"
	hash, err := tx.unansweredHash(verb, id)
	if err != nil {
		return err
	}
	_, err = tx.exec(verb, "DELETE FROM unanswered WHERE hash = ?", hash)
	return err
}

// ForgetUnanswered drops what is unanswered since a day that began before the
// instant: it is too old to be found and answered.
func (tx *Tx) ForgetUnanswered(before time.Time) error {
	_, err := tx.exec("forget unanswered messages", "DELETE FROM unanswered WHERE at < ?", instant(before))
	return err
}

// The word that is hashed is that of the table's first name: marks made before
// it was renamed are still found.
func (tx *Tx) unansweredHash(verb string, id training.MessageID) ([]byte, error) {
	return tx.hash(verb, "owed", strconv.FormatInt(int64(id), 10))
}
