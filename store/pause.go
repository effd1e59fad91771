package store

import (
	"strconv"
	"time"

	"rungbook/training"
)

// ofMember finds rows of one member of a team; its arguments are the team and
// the person.
const ofMember = " member = (SELECT key FROM person WHERE team = ? AND id = ?)"

// Running returns the pause somebody is in.
func (tx *Tx) Running(team training.TeamID, id training.PersonID) (pause training.RunningPause, ok bool, err error) {
	ok, err = tx.one("read running pause", "SELECT from_day, coach_ends FROM pause WHERE until_day IS NULL AND"+ofMember,
		[]any{int64(team), int64(id)}, (*date)(&pause.From), &pause.CoachEnds)
	return pause, ok, err
}

// PutRunning starts a pause, or changes the one that runs.
func (tx *Tx) PutRunning(team training.TeamID, id training.PersonID, pause training.RunningPause) error {
	const verb = "store pause"
	key, err := tx.personKey(verb, team, id)
	if err != nil {
		return err
	}
	_, err = tx.exec(verb, `INSERT INTO pause (member, from_day, coach_ends) VALUES (?, ?, ?)
		ON CONFLICT (member) WHERE until_day IS NULL DO UPDATE SET from_day = excluded.from_day, coach_ends = excluded.coach_ends`,
		key, date(pause.From), pause.CoachEnds)
	return err
}

// EndRunning ends the pause that runs, if one does, on the day of resume. That
// it was a coach's to end is forgotten with it.
func (tx *Tx) EndRunning(team training.TeamID, id training.PersonID, day training.Day) error {
	_, err := tx.exec("end pause", "UPDATE pause SET until_day = ?, coach_ends = 0 WHERE until_day IS NULL AND"+ofMember,
		date(day), int64(team), int64(id))
	return err
}

// VoidRunning removes the pause that runs, if one does: it never was.
func (tx *Tx) VoidRunning(team training.TeamID, id training.PersonID) error {
	_, err := tx.exec("void pause", "DELETE FROM pause WHERE until_day IS NULL AND"+ofMember, int64(team), int64(id))
	return err
}

// VoidLatest removes the ended pause that began last; found is false if there
// is none.
func (tx *Tx) VoidLatest(team training.TeamID, id training.PersonID) (found bool, err error) {
	changed, err := tx.exec("void latest pause", `DELETE FROM pause WHERE id = (
		SELECT id FROM pause WHERE until_day IS NOT NULL AND`+ofMember+` ORDER BY from_day DESC, id DESC LIMIT 1)`, int64(team), int64(id))
	return changed > 0, err
}

// PutTakeBack keeps that the member may take the cause back, a message or a command,
// until the back's Expires or the whole minute behind it; the same cause again
// replaces it. One cause may stand in several teams. The back's Number is given here.
func (tx *Tx) PutTakeBack(team training.TeamID, id training.PersonID, cause training.MessageID, back training.TakeBack) error {
	const verb = "store take-back"
	key, err := tx.personKey(verb, team, id)
	if err != nil {
		return err
	}
	hash, err := tx.causeHash(verb, cause)
	if err != nil {
		return err
	}
	_, err = tx.exec(verb, `INSERT INTO take_back (cause, member, day, opened, expires) VALUES (?, ?, ?, ?, ?)
		ON CONFLICT (cause, member) DO UPDATE SET day = excluded.day, opened = excluded.opened, expires = excluded.expires`,
		hash, key, date(back.Day), back.Opened, instant(roundUp(back.Expires, time.Minute)))
	return err
}

// roundUp is the first instant of the step that is not before at.
func roundUp(at time.Time, step time.Duration) time.Time {
	round := at.UTC().Truncate(step)
	if round.Before(at) {
		round = round.Add(step)
	}
	return round
}

func (tx *Tx) causeHash(verb string, cause training.MessageID) ([]byte, error) {
	return tx.hash(verb, "take-back", strconv.FormatInt(int64(cause), 10))
}

// TakeBacks lists what the member may take back, oldest first: by expiry, then in
// the order put.
func (tx *Tx) TakeBacks(team training.TeamID, id training.PersonID) ([]training.TakeBack, error) {
	var backs []training.TakeBack
	err := tx.each("read take-backs", "SELECT id, day, opened, expires FROM take_back WHERE"+ofMember+" ORDER BY expires, id",
		[]any{int64(team), int64(id)}, func(scan func(...any) error) error {
			var back training.TakeBack
			err := scan(&back.Number, (*date)(&back.Day), &back.Opened, (*instant)(&back.Expires))
			backs = append(backs, back)
			return err
		})
	return backs, err
}

// TakeBackOf returns the number of the member's take-back of the cause.
func (tx *Tx) TakeBackOf(team training.TeamID, id training.PersonID, cause training.MessageID) (number int64, ok bool, err error) {
	const verb = "read take-back"
	hash, err := tx.causeHash(verb, cause)
	if err != nil {
		return 0, false, err
	}
	ok, err = tx.one(verb, "SELECT id FROM take_back WHERE"+ofMember+" AND cause = ?", []any{int64(team), int64(id), hash}, &number)
	return number, ok, err
}

// OpenTakeBack notes that the pause now begins with this cause of the member's.
func (tx *Tx) OpenTakeBack(team training.TeamID, id training.PersonID, number int64) error {
	_, err := tx.exec("open take-back", "UPDATE take_back SET opened = 1 WHERE"+ofMember+" AND id = ?", int64(team), int64(id), number)
	return err
}

// DropTakeBack forgets one of the member's causes.
func (tx *Tx) DropTakeBack(team training.TeamID, id training.PersonID, number int64) error {
	_, err := tx.exec("drop take-back", "DELETE FROM take_back WHERE"+ofMember+" AND id = ?", int64(team), int64(id), number)
	return err
}

// DropTakeBacks forgets all of the member's causes.
func (tx *Tx) DropTakeBacks(team training.TeamID, id training.PersonID) error {
	_, err := tx.exec("drop take-backs", "DELETE FROM take_back WHERE"+ofMember, int64(team), int64(id))
	return err
}

// ExpireTakeBacks forgets the causes whose expiry is at or before now.
func (tx *Tx) ExpireTakeBacks(now time.Time) error {
	_, err := tx.exec("expire take-backs", "DELETE FROM take_back WHERE expires <= ?", instant(now))
	return err
}

// NextExpiry returns the earliest expiry of all.
func (tx *Tx) NextExpiry() (at time.Time, ok bool, err error) {
	ok, err = tx.one("read next expiry", "SELECT expires FROM take_back ORDER BY expires LIMIT 1", nil, (*instant)(&at))
	return at, ok, err
}

// ActOnce remembers that the message or command has done what the word says, as a
// keyed hash that ties it to nobody, and the instant to the day; first is false if
// it had done so before and that is not forgotten.
func (tx *Tx) ActOnce(id training.MessageID, what string, at time.Time) (first bool, err error) {
	const verb = "act once"
	hash, err := tx.hash(verb, "message", what+" "+strconv.FormatInt(int64(id), 10))
	if err != nil {
		return false, err
	}
	changed, err := tx.exec(verb, "INSERT INTO acted (hash, day) VALUES (?, ?) ON CONFLICT DO NOTHING", hash, dayOf(at))
	return changed > 0, err
}

// ForgetActed drops what acted on days that began before the instant.
func (tx *Tx) ForgetActed(before time.Time) error {
	_, err := tx.exec("forget what acted", "DELETE FROM acted WHERE day < ?", dayOf(roundUp(before, 24*time.Hour)))
	return err
}

// AskJoint notes that the person is asked whether a joint hurts and may be asked
// again from the instant on, which is kept to the whole hour behind it. first is
// false, and nothing is noted, while they may not be asked yet, in whatever team.
func (tx *Tx) AskJoint(team training.TeamID, id training.PersonID, now, again time.Time) (first bool, err error) {
	const verb = "ask of a joint"
	var one int
	asked, err := tx.one(verb, "SELECT 1 FROM joint_asked j JOIN person p ON p.key = j.person WHERE p.id = ? AND j.expires > ? LIMIT 1",
		[]any{int64(id), instant(now)}, &one)
	if err != nil || asked {
		return false, err
	}
	key, err := tx.personKey(verb, team, id)
	if err != nil {
		return false, err
	}
	_, err = tx.exec(verb, `INSERT INTO joint_asked (person, expires) VALUES (?, ?)
		ON CONFLICT (person) DO UPDATE SET expires = excluded.expires`, key, instant(roundUp(again, time.Hour)))
	return err == nil, err
}

// ForgetJoint drops that the person was asked, in whatever team.
func (tx *Tx) ForgetJoint(id training.PersonID) error {
	_, err := tx.exec("forget that somebody was asked of a joint",
		"DELETE FROM joint_asked WHERE person IN (SELECT key FROM person WHERE id = ?)", int64(id))
	return err
}

// ForgetJoints drops who may be asked again at the instant.
func (tx *Tx) ForgetJoints(now time.Time) error {
	_, err := tx.exec("forget who was asked of a joint", "DELETE FROM joint_asked WHERE expires <= ?", instant(now))
	return err
}
