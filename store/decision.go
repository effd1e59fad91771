package store

import (
	"encoding/hex"
	"errors"
	"strings"
	"time"

	"rungbook/training"
)

// causeKept is the cause as it is kept. A message's number is hashed: beside a
// decision it would tell for good whose message set a pause.
func (tx *Tx) causeKept(verb, cause string) (string, error) {
	if cause == "" || strings.Trim(cause, "0123456789") != "" {
		return cause, nil
	}
	hash, err := tx.hash(verb, "cause", cause)
	return "#" + hex.EncodeToString(hash), err
}

// Decide writes a decision unless (team, kind, subject, cause) stands already.
// A cause that is a message's number is kept as a keyed hash, the instant to the day.
func (tx *Tx) Decide(
	team training.TeamID, kind string, subject training.PersonID, cause, outcome string, at time.Time,
) (first bool, err error) {
	const verb = "decide"
	kept, err := tx.causeKept(verb, cause)
	if err != nil {
		return false, err
	}
	changed, err := tx.exec(verb,
		"INSERT INTO decision (team, kind, subject, cause, outcome, at) VALUES (?, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING",
		int64(team), kind, int64(subject), kept, outcome, wholeDay(at))
	return changed > 0, err
}

// Decided returns the outcomes of one kind and subject by cause, for causes
// from the given one on; dates compare as text. Decisions caused by a message
// are not among them.
func (tx *Tx) Decided(team training.TeamID, kind string, subject training.PersonID, from string) (map[string]string, error) {
	outcomes := map[string]string{}
	err := tx.each("read decisions", `SELECT cause, outcome FROM decision
		WHERE team = ? AND kind = ? AND subject = ? AND cause >= ? AND cause NOT LIKE '#%'`,
		[]any{int64(team), kind, int64(subject), from}, func(scan func(...any) error) error {
			var cause, outcome string
			err := scan(&cause, &outcome)
			outcomes[cause] = outcome
			return err
		})
	return outcomes, err
}

// ForgetDecisions drops the decisions made on days that began before the instant, and
// the posts formed on such days that are settled and that no decision points at. A decision
// whose cause is a word of the code's, and no date or message, stays: it is
// made once ever.
func (tx *Tx) ForgetDecisions(before time.Time) error {
	const verb = "forget decisions"
	if _, err := tx.exec(verb, "DELETE FROM decision WHERE at < ? AND cause GLOB '[#0-9]*'", instant(before)); err != nil {
		return err
	}
	_, err := tx.exec(verb, `DELETE FROM post WHERE formed < ? AND state IN ('sent', 'dropped')
		AND NOT EXISTS (SELECT 1 FROM decision WHERE decision.post = post.id)`, instant(before))
	return err
}

// FormPost stores a post that is to be sent and returns its number, which is
// never given again. The payload is dropped once it has been sent; the instant is
// kept to the day.
func (tx *Tx) FormPost(team training.TeamID, payload []byte, at time.Time) (id int64, err error) {
	if payload == nil {
		payload = []byte{}
	}
	_, err = tx.one("form post", "INSERT INTO post (team, payload, state, formed) VALUES (?, ?, 'formed', ?) RETURNING id",
		[]any{int64(team), payload, wholeDay(at)}, &id)
	return id, err
}

// PointAt ties a decision to its post; both must be of the team.
func (tx *Tx) PointAt(team training.TeamID, kind string, subject training.PersonID, cause string, post int64) error {
	const verb = "point at post"
	kept, err := tx.causeKept(verb, cause)
	if err != nil {
		return err
	}
	changed, err := tx.exec(verb, `UPDATE decision SET post = ?1 WHERE team = ?2 AND kind = ?3 AND subject = ?4 AND cause = ?5
		AND EXISTS (SELECT 1 FROM post WHERE id = ?1 AND team = ?2)`, post, int64(team), kind, int64(subject), kept)
	if err == nil && changed == 0 {
		err = tx.fail(verb, errors.New("no such decision or post in the team"))
	}
	return err
}
