package store

import (
	"time"

	"rungbook/training"
)

// Programme returns the text of the programme that the team has taken; ok is
// false for a team that trains by the built-in one.
func (tx *Tx) Programme(team training.TeamID) (source []byte, ok bool, err error) {
	ok, err = tx.one("read programme", "SELECT source FROM programme WHERE team = ?", []any{int64(team)}, &source)
	return source, ok, err
}

// PutProgramme makes a text the team's programme from now on. What it says is
// not looked at.
func (tx *Tx) PutProgramme(team training.TeamID, source []byte, at time.Time) error {
	_, err := tx.exec("store programme", `INSERT INTO programme (team, source, taken) VALUES (?, ?, ?)
		ON CONFLICT (team) DO UPDATE SET source = excluded.source, taken = excluded.taken`, int64(team), string(source), instant(at))
	return err
}
