package store

import (
	"time"

	"rungbook/training"
)

// The numbers of channels and roles are the platform's; zero is none.

// TeamChannel returns the team's channel, and the role that makes a coach, 0 for
// none.
func (tx *Tx) TeamChannel(team training.TeamID) (channel, coaches int64, ok bool, err error) {
	ok, err = tx.one("read team channel", "SELECT channel, coalesce(coaches, 0) FROM server WHERE team = ? AND channel IS NOT NULL",
		[]any{int64(team)}, &channel, &coaches)
	return channel, coaches, ok, err
}

// PutTeamChannel settles the team's channel and coach role.
func (tx *Tx) PutTeamChannel(team training.TeamID, channel, coaches int64) error {
	_, err := tx.exec("store team channel", `INSERT INTO server (team, channel, coaches) VALUES (?1, ?2, nullif(?3, 0))
		ON CONFLICT (team) DO UPDATE SET channel = excluded.channel, coaches = excluded.coaches`, int64(team), channel, coaches)
	return err
}

// Registered returns the hash of the commands registered in the server; empty
// before the first time.
func (tx *Tx) Registered(server training.TeamID) (hash string, err error) {
	_, err = tx.one("read commands' hash", "SELECT coalesce(commands, '') FROM server WHERE team = ?", []any{int64(server)}, &hash)
	return hash, err
}

// PutRegistered notes which commands are registered in the server.
func (tx *Tx) PutRegistered(server training.TeamID, hash string) error {
	_, err := tx.exec("store commands' hash", `INSERT INTO server (team, commands) VALUES (?, ?)
		ON CONFLICT (team) DO UPDATE SET commands = excluded.commands`, int64(server), hash)
	return err
}

// Watch adds a channel or thread of the team's to those that are read, from
// after the message on. One that is watched already stays as it is.
func (tx *Tx) Watch(team training.TeamID, channel int64, since training.MessageID) error {
	_, err := tx.exec("watch channel", "INSERT INTO watched (channel, team, since, seen) VALUES (?1, ?2, ?3, ?3) ON CONFLICT DO NOTHING",
		channel, int64(team), int64(since))
	return err
}

// Watched lists the team's channels and threads that are read.
func (tx *Tx) Watched(team training.TeamID) ([]int64, error) {
	return tx.numbers("list watched channels", "SELECT channel FROM watched WHERE team = ? ORDER BY channel", int64(team))
}

// Unwatch forgets a channel that is gone.
func (tx *Tx) Unwatch(channel int64) error {
	_, err := tx.exec("unwatch channel", "DELETE FROM watched WHERE channel = ?", channel)
	return err
}

// Seen returns how far a watched or direct channel was read: the newest message
// taken in, and the one before which nothing is read; ok is false for any other
// channel.
func (tx *Tx) Seen(channel int64) (since, seen training.MessageID, ok bool, err error) {
	ok, err = tx.one("read how far a channel was read", `SELECT since, seen FROM watched WHERE channel = ?1
		UNION ALL SELECT 0, seen FROM direct WHERE channel = ?1 LIMIT 1`, []any{channel}, &since, &seen)
	return since, seen, ok, err
}

// PutSeen notes how far a watched or direct channel was read. It never goes
// back.
func (tx *Tx) PutSeen(channel int64, seen training.MessageID) error {
	for _, table := range []string{"watched", "direct"} {
		_, err := tx.exec("store how far a channel was read",
			"UPDATE "+table+" SET seen = max(seen, ?2) WHERE channel = ?1", channel, int64(seen))
		if err != nil {
			return err
		}
	}
	return nil
}

// PutDirect notes where the person and the bot are alone, for each of the
// person's teams.
func (tx *Tx) PutDirect(id training.PersonID, channel int64) error {
	_, err := tx.exec("store direct channel", `INSERT INTO direct (person, channel, seen) SELECT key, ?2, 0 FROM person WHERE id = ?1
		ON CONFLICT (person) DO UPDATE SET channel = excluded.channel`, int64(id), channel)
	return err
}

// Direct returns where the person and the bot are alone.
func (tx *Tx) Direct(id training.PersonID) (channel int64, ok bool, err error) {
	ok, err = tx.one("read direct channel", "SELECT d.channel FROM direct d JOIN person p ON p.key = d.person WHERE p.id = ? LIMIT 1",
		[]any{int64(id)}, &channel)
	return channel, ok, err
}

// Directs lists the direct channels whose person belongs to the team.
func (tx *Tx) Directs(team training.TeamID) ([]int64, error) {
	return tx.numbers("list direct channels",
		"SELECT d.channel FROM direct d JOIN person p ON p.key = d.person WHERE p.team = ? ORDER BY d.channel", int64(team))
}

// TeamsOf lists the teams on whose roster the person is.
func (tx *Tx) TeamsOf(id training.PersonID) ([]training.TeamID, error) {
	numbers, err := tx.numbers("list teams of person",
		"SELECT p.team FROM person p JOIN member m ON m.person = p.key WHERE p.id = ? ORDER BY p.team", int64(id))
	var teams []training.TeamID
	for _, n := range numbers {
		teams = append(teams, training.TeamID(n))
	}
	return teams, err
}

// Choice returns for which team the person's direct messages are, as chosen by
// them and not expired.
func (tx *Tx) Choice(id training.PersonID, now time.Time) (team training.TeamID, ok bool, err error) {
	ok, err = tx.one("read choice of team",
		"SELECT p.team FROM choice c JOIN person p ON p.key = c.person WHERE p.id = ? AND c.expires > ? LIMIT 1",
		[]any{int64(id), instant(now)}, &team)
	return team, ok, err
}

// PutChoice notes for which team the person's direct messages are, in the place
// of any earlier choice.
func (tx *Tx) PutChoice(id training.PersonID, team training.TeamID, expires time.Time) error {
	const verb = "store choice of team"
	if _, err := tx.exec(verb, "DELETE FROM choice WHERE person IN (SELECT key FROM person WHERE id = ?)", int64(id)); err != nil {
		return err
	}
	key, err := tx.personKey(verb, team, id)
	if err != nil {
		return err
	}
	_, err = tx.exec(verb, "INSERT INTO choice (person, expires) VALUES (?, ?)", key, instant(expires))
	return err
}

// CoachByRole reports whether the person is a coach of the team by the role.
func (tx *Tx) CoachByRole(team training.TeamID, id training.PersonID) (bool, error) {
	var one int
	return tx.one("read coach by role", "SELECT 1 FROM coach_by_role c JOIN person p ON p.key = c.person WHERE p.team = ? AND p.id = ?",
		[]any{int64(team), int64(id)}, &one)
}

// PutCoachByRole notes that the person is a coach of the team by the role, or
// no longer.
func (tx *Tx) PutCoachByRole(team training.TeamID, id training.PersonID, is bool) error {
	const verb = "store coach by role"
	key, err := tx.personKey(verb, team, id)
	if err != nil {
		return err
	}
	query := "INSERT INTO coach_by_role (person) VALUES (?) ON CONFLICT DO NOTHING"
	if !is {
		query = "DELETE FROM coach_by_role WHERE person = ?"
	}
	_, err = tx.exec(verb, query, key)
	return err
}

func (tx *Tx) numbers(verb, query string, args ...any) ([]int64, error) {
	var numbers []int64
	err := tx.each(verb, query, args, func(scan func(...any) error) error {
		var n int64
		err := scan(&n)
		numbers = append(numbers, n)
		return err
	})
	return numbers, err
}
