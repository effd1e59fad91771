package store

import (
	"strconv"
	"time"

	"rungbook/training"
)

// Owe remembers that a message's answer is still to be sent, as a keyed hash
// that ties it to nobody. Twice is once.
func (tx *Tx) Owe(team training.TeamID, id training.MessageID, at time.Time) error {
	const verb = "owe answer"
	hash, err := tx.owedHash(verb, id)
	if err != nil {
		return err
	}
	_, err = tx.exec(verb, "INSERT INTO owed (hash, team, at) VALUES (?, ?, ?) ON CONFLICT DO NOTHING", hash, int64(team), instant(at))
	return err
}

// Owed reports whether the message's answer is still to be sent.
func (tx *Tx) Owed(id training.MessageID) (bool, error) {
	const verb = "read owed answer"
	hash, err := tx.owedHash(verb, id)
	if err != nil {
		return false, err
	}
	var one int
	return tx.one(verb, "SELECT 1 FROM owed WHERE hash = ?", []any{hash}, &one)
}

// Owing reports whether any answer of the team's is still to be sent.
func (tx *Tx) Owing(team training.TeamID) (bool, error) {
	var one int
	return tx.one("read owed answers", "SELECT 1 FROM owed WHERE team = ? LIMIT 1", []any{int64(team)}, &one)
}

// Pay notes that the message's answer is out, or will never be.
func (tx *Tx) Pay(id training.MessageID) error {
	const verb = "pay answer"
	hash, err := tx.owedHash(verb, id)
	if err != nil {
		return err
	}
	_, err = tx.exec(verb, "DELETE FROM owed WHERE hash = ?", hash)
	return err
}

// ForgetOwed drops what is owed since before the instant: it is too old to be
// found and answered.
func (tx *Tx) ForgetOwed(before time.Time) error {
	_, err := tx.exec("forget owed answers", "DELETE FROM owed WHERE at < ?", instant(before))
	return err
}

func (tx *Tx) owedHash(verb string, id training.MessageID) ([]byte, error) {
	return tx.hash(verb, "owed", strconv.FormatInt(int64(id), 10))
}
