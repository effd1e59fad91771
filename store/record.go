package store

import (
	"database/sql"
	"slices"

	"rungbook/training"
)

const (
	recordSets = `SELECT l.day, b.times, b.rung, b.work_s, b.reps, b.load_hg, b.help, b.side, b.rest_s, b.effort, b.failed, b.tries, b.done
		FROM log l CROSS JOIN bout b ON b.log = l.id AND b.day = l.day
		WHERE l.member = ? AND l.state = 'live' ORDER BY l.day, l.at, l.id, b.position`

	recordDay = `SELECT l.day, b.times, b.rung, b.work_s, b.reps, b.load_hg, b.help, b.side, b.rest_s, b.effort, b.failed, b.tries, b.done
		FROM log l CROSS JOIN bout b ON b.log = l.id AND b.day = l.day
		WHERE l.member = ? AND l.day = ? AND l.state = 'live' ORDER BY l.at, l.id, b.position`

	// Pauses, aways and marks in one go; a number says which.
	recordSpans = `SELECT 1 AS what, from_day AS a, until_day AS b, until_day IS NULL AS c, id AS d FROM pause WHERE member = ?1
		UNION ALL SELECT 2, from_day, until_day, position, 0 FROM away WHERE member = ?1
		UNION ALL SELECT 3, day, gate, 0, 0 FROM mark WHERE member = ?1
		ORDER BY what, c, a, d, b`
)

// Record returns the member's whole history; that of somebody unknown is
// empty. Sets are in the order of the day, then of the messages, then typed.
// The sessions are shared with others who read them: do not write through them.
func (tx *Tx) Record(team training.TeamID, id training.PersonID) (training.Record, error) {
	const verb = "read record"
	var record training.Record
	var key int64
	ok, err := tx.one(verb, "SELECT p.key, m.joined FROM person p LEFT JOIN member m ON m.person = p.key WHERE p.team = ? AND p.id = ?",
		[]any{int64(team), int64(id)}, &key, (*maybeDate)(&record.Joined))
	if !ok {
		return training.Record{}, err
	}
	if record.Sessions, err = tx.sessions(verb, key); err != nil {
		return training.Record{}, err
	}
	err = tx.each(verb, recordSpans, []any{key}, func(scan func(...any) error) error { return scanSpan(&record, scan) })
	if err != nil {
		return training.Record{}, err
	}
	return record, nil
}

func (tx *Tx) readSessions(verb string, key int64) ([]training.Session, error) {
	return tx.scanSessions(verb, recordSets, key)
}

func (tx *Tx) scanSessions(verb, query string, args ...any) ([]training.Session, error) {
	var sessions []training.Session
	var sets []training.Set // of the session being read, which gets a copy of just its size
	var last, day string    // days as text
	var bout boutRow
	done := func() {
		if len(sessions) > 0 {
			sessions[len(sessions)-1] = training.NewSession(sessions[len(sessions)-1].Day, slices.Clone(sets))
		}
	}
	dest := append([]any{&day}, bout.dest()...)
	err := tx.each(verb, query, args, func(scan func(...any) error) error {
		if err := scan(dest...); err != nil {
			return err
		}
		if day != last {
			parsed, err := training.ParseDay(day)
			if err != nil {
				return err
			}
			done()
			sessions, sets, last = append(sessions, training.Session{Day: parsed}), sets[:0], day
		}
		sets = bout.append(sets)
		return nil
	})
	done()
	return sessions, err
}

func scanSpan(record *training.Record, scan func(...any) error) error {
	var what int
	var from date
	var other sql.NullString
	var skip any
	if err := scan(&what, &from, &other, &skip, &skip); err != nil {
		return err
	}
	if what == 3 {
		record.Marks = append(record.Marks, training.Mark{Gate: training.RungID(other.String), Day: training.Day(from)})
		return nil
	}
	var until training.Day
	if other.Valid {
		var err error
		if until, err = training.ParseDay(other.String); err != nil {
			return err
		}
	}
	if what == 1 {
		record.Pauses = append(record.Pauses, training.Pause{From: training.Day(from), Until: until})
	} else {
		record.Aways = append(record.Aways, training.Away{From: training.Day(from), Until: until})
	}
	return nil
}
