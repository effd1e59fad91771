package store

import (
	"time"

	"rungbook/training"
)

// personKey returns the key under which rows speak of the person, making one
// if there is none. The team must be there.
func (tx *Tx) personKey(verb string, team training.TeamID, id training.PersonID) (key int64, err error) {
	args := []any{int64(team), int64(id)}
	ok, err := tx.one(verb, "SELECT key FROM person WHERE team = ? AND id = ?", args, &key)
	if ok || err != nil {
		return key, err
	}
	_, err = tx.one(verb, "INSERT INTO person (team, id) VALUES (?, ?) RETURNING key", args, &key)
	return key, err
}

// maybeKey is personKey for somebody who may be nobody, nil in a row.
func (tx *Tx) maybeKey(verb string, team training.TeamID, id training.PersonID) (any, error) {
	if id == 0 {
		return nil, nil
	}
	return tx.personKey(verb, team, id)
}

const selectTeam = `SELECT name, zone, days, nudge, digest_day, digest, quiet_from, quiet_until FROM team WHERE id = ?`

// Team returns what is settled for the team.
func (tx *Tx) Team(id training.TeamID) (team training.Team, ok bool, err error) {
	const verb = "read team"
	var zone string
	ok, err = tx.one(verb, selectTeam, []any{int64(id)}, &team.Name, &zone, &team.Days, &team.Nudge,
		&team.DigestDay, &team.Digest, &team.Quiet.From, &team.Quiet.Until)
	if !ok {
		return training.Team{}, false, err
	}
	team.ID = id
	if team.Zone, err = tx.db.zones.load(zone); err != nil {
		return training.Team{}, false, tx.fail(verb, err)
	}
	return team, true, nil
}

// Teams lists the teams by number.
func (tx *Tx) Teams() ([]training.TeamID, error) {
	var ids []training.TeamID
	err := tx.each("list teams", "SELECT id FROM team ORDER BY id", nil, func(scan func(...any) error) error {
		var id training.TeamID
		err := scan(&id)
		ids = append(ids, id)
		return err
	})
	return ids, err
}

const upsertTeam = `INSERT INTO team (id, name, zone, days, nudge, digest_day, digest, quiet_from, quiet_until)
	VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)
	ON CONFLICT (id) DO UPDATE SET name = excluded.name, zone = excluded.zone, days = excluded.days, nudge = excluded.nudge,
		digest_day = excluded.digest_day, digest = excluded.digest, quiet_from = excluded.quiet_from, quiet_until = excluded.quiet_until`

// PutTeam adds the team or replaces what was settled for it. Its zone must
// have an IANA name.
func (tx *Tx) PutTeam(team training.Team) error {
	const verb = "store team"
	zone, err := tx.db.zones.name(team.Zone)
	if err != nil {
		return tx.fail(verb, err)
	}
	_, err = tx.exec(verb, upsertTeam, int64(team.ID), team.Name, zone, int64(team.Days), int64(team.Nudge),
		int64(team.DigestDay), int64(team.Digest), int64(team.Quiet.From), int64(team.Quiet.Until))
	return err
}

const selectMember = `SELECT p.id, m.name, m.zone, m.joined, m.since, m.trains, m.coach, m.manager, m.nudges
	FROM person p JOIN member m ON m.person = p.key WHERE p.team = ?`

// Roster lists everyone known to the team, in order of enrolment.
func (tx *Tx) Roster(team training.TeamID) ([]training.Member, error) {
	var roster []training.Member
	err := tx.each("read roster", selectMember+" ORDER BY m.place", []any{int64(team)}, func(scan func(...any) error) error {
		member, err := tx.scanMember(scan)
		roster = append(roster, member)
		return err
	})
	return roster, err
}

// Member returns one of the team.
func (tx *Tx) Member(team training.TeamID, id training.PersonID) (member training.Member, ok bool, err error) {
	err = tx.each("read member", selectMember+" AND p.id = ?", []any{int64(team), int64(id)}, func(scan func(...any) error) error {
		ok = true
		member, err = tx.scanMember(scan)
		return err
	})
	if err != nil {
		return training.Member{}, false, err
	}
	return member, ok, nil
}

func (tx *Tx) scanMember(scan func(...any) error) (training.Member, error) {
	var m training.Member
	var zone string
	var since instant
	if err := scan(&m.ID, &m.Name, &zone, (*maybeDate)(&m.Joined), &since, &m.Trains, &m.Coach, &m.Manager, &m.Nudges); err != nil {
		return m, err
	}
	m.Since = time.Time(since)
	var err error
	m.Zone, err = tx.db.zones.load(zone)
	return m, err
}

const upsertMember = `INSERT INTO member (person, name, zone, joined, since, trains, coach, manager, nudges)
	VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)
	ON CONFLICT (person) DO UPDATE SET name = excluded.name, zone = excluded.zone, joined = excluded.joined, since = excluded.since,
		trains = excluded.trains, coach = excluded.coach, manager = excluded.manager, nudges = excluded.nudges`

// PutMember adds the member at the end of the roster, or changes them in
// place. Their zone must have an IANA name.
func (tx *Tx) PutMember(team training.TeamID, m training.Member) error {
	const verb = "store member"
	zone, err := tx.db.zones.name(m.Zone)
	if err != nil {
		return tx.fail(verb, err)
	}
	key, err := tx.personKey(verb, team, m.ID)
	if err != nil {
		return err
	}
	_, err = tx.exec(verb, upsertMember, key, m.Name, zone, maybeDate(m.Joined), instant(m.Since), m.Trains, m.Coach, m.Manager, m.Nudges)
	return err
}

// PutAways replaces the member's days away, which are kept in the order given.
func (tx *Tx) PutAways(team training.TeamID, id training.PersonID, aways []training.Away) error {
	const verb = "store days away"
	key, err := tx.personKey(verb, team, id)
	if err != nil {
		return err
	}
	if _, err := tx.exec(verb, "DELETE FROM away WHERE member = ?", key); err != nil {
		return err
	}
	for i, away := range aways {
		_, err := tx.exec(verb, "INSERT INTO away (member, position, from_day, until_day) VALUES (?, ?, ?, ?)",
			key, i, date(away.From), date(away.Until))
		if err != nil {
			return err
		}
	}
	return nil
}

// PutMark keeps the coach's mark on the member; the same gate and day again
// changes nothing.
func (tx *Tx) PutMark(team training.TeamID, id training.PersonID, mark training.Mark, coach training.PersonID) error {
	const verb = "store mark"
	key, err := tx.personKey(verb, team, id)
	if err != nil {
		return err
	}
	by, err := tx.maybeKey(verb, team, coach)
	if err != nil {
		return err
	}
	_, err = tx.exec(verb, "INSERT INTO mark (member, day, gate, coach) VALUES (?, ?, ?, ?) ON CONFLICT DO NOTHING",
		key, date(mark.Day), string(mark.Gate), by)
	return err
}

// DropMarks takes away the member's marks on the gate.
func (tx *Tx) DropMarks(team training.TeamID, id training.PersonID, gate training.RungID) (dropped int, err error) {
	return tx.exec("drop marks", `DELETE FROM mark WHERE gate = ? AND member = (SELECT key FROM person WHERE team = ? AND id = ?)`,
		string(gate), int64(team), int64(id))
}
