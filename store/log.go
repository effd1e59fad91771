package store

import (
	"database/sql"
	"time"

	"rungbook/training"
)

const insertLog = `INSERT INTO log (id, member, author, at, channel, edited, day, state, alone, silent)
	VALUES (?, ?, ?, ?, nullif(?, 0), ?, ?, ?, ?, ?)`

const insertBout = `INSERT INTO bout
	(log, day, position, times, rung, work_s, reps, load_hg, help, side, rest_s, effort, failed, tries, done)
	VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`

// PutLog adds the log with its days and sets, or replaces the one of the same
// message: the same log again changes nothing. Sets of a log whose state holds
// none are not kept.
func (tx *Tx) PutLog(log training.Log) error {
	const verb = "store log"
	if len(log.Days) == 0 {
		return tx.fail(verb, errNoDay)
	}
	member, err := tx.personKey(verb, log.Team, log.Member)
	if err != nil {
		return err
	}
	author, err := tx.maybeKey(verb, log.Team, log.Author)
	if err != nil {
		return err
	}
	if err := tx.noteLog(verb, log, member); err != nil {
		return err
	}
	if _, err := tx.exec(verb, "DELETE FROM log WHERE id = ?", int64(log.ID)); err != nil { // its bouts go with it
		return err
	}
	position := 0
	for _, day := range log.Days {
		_, err := tx.exec(verb, insertLog, int64(log.ID), member, author, instant(log.At), int64(log.Channel), maybeInstant(log.Edited),
			date(day.Day), string(log.State), log.Alone, log.Silent)
		if err != nil {
			return err
		}
		if log.State.Holds() {
			if err := tx.putSets(verb, log.ID, day, position); err != nil {
				return err
			}
			position += len(day.Sets)
		}
	}
	return nil
}

// noteLog tells the history whose days the log changes: where it stood before
// and where it will stand.
func (tx *Tx) noteLog(verb string, log training.Log, member int64) error {
	if tx.own == nil {
		return nil
	}
	var before int64
	var day training.Day
	query := "SELECT member, day FROM log WHERE id = ?"
	err := tx.each(verb, query, []any{int64(log.ID)}, func(scan func(...any) error) error {
		err := scan(&before, (*date)(&day))
		tx.own.write(before, day)
		return err
	})
	for _, day := range log.Days {
		tx.own.write(member, day.Day)
	}
	return err
}

// putSets writes the sets of a day, those typed first from the position on;
// equal sets in a row are one row.
func (tx *Tx) putSets(verb string, id training.MessageID, day training.DaySets, position int) error {
	for from, until := 0, 0; from < len(day.Sets); from = until {
		s := day.Sets[from]
		for until = from + 1; until < len(day.Sets) && day.Sets[until] == s; until++ {
		}
		_, err := tx.exec(verb, insertBout, int64(id), date(day.Day), position+from, until-from, string(s.Rung), s.WorkS, s.Reps, s.LoadHg,
			s.Help, string(s.Side), optional(s.RestS), optional(s.Effort), s.Failed, s.Tries, optional(s.Done))
		if err != nil {
			return err
		}
	}
	return nil
}

// A day of a log with one row for each of its bouts, or one with an empty bout.
// The order of the joins is that of the index each query names.
const selectLogs = `SELECT l.id, p.team, p.id, a.id, l.at, coalesce(l.channel, 0), l.edited,
		l.day, l.state, l.alone, l.silent, b.times, b.rung, b.work_s, b.reps, b.load_hg,
		b.help, b.side, b.rest_s, b.effort, b.failed, b.tries, b.done
	FROM log l JOIN person p ON p.key = l.member LEFT JOIN person a ON a.key = l.author LEFT JOIN bout b ON b.log = l.id AND b.day = l.day `

const (
	logByID = selectLogs + `WHERE l.id = ? ORDER BY b.position, l.day`

	latestLog = `SELECT o.id FROM log o WHERE o.author = (SELECT key FROM person WHERE team = ? AND id = ?)
			AND o.member = o.author AND o.state = 'live' AND EXISTS (SELECT 1 FROM bout WHERE log = o.id)
		ORDER BY o.at DESC, o.id DESC LIMIT 1`

	logsOfDay = `SELECT id FROM log WHERE member = (SELECT key FROM person WHERE team = ? AND id = ?) AND day = ? ORDER BY at, id`

	logsAsked = `SELECT DISTINCT at, id FROM log WHERE author = (SELECT key FROM person WHERE team = ? AND id = ?)
			AND at >= ? AND state = 'asked'
		ORDER BY at, id`

	// A deleted log is listed while its answer stands.
	logsOfChannel = `SELECT id, state = 'deleted' AND NOT EXISTS (SELECT 1 FROM answer WHERE source = log.id)
		FROM log WHERE channel = ? AND id >= ? GROUP BY id ORDER BY id`

	logsOfMember = selectLogs + `WHERE l.member = (SELECT key FROM person WHERE team = ? AND id = ?)
			AND l.day BETWEEN ? AND ? AND l.state = 'live'
		ORDER BY l.day, l.at, l.id, b.position`
)

// Log returns what the message gave.
func (tx *Tx) Log(id training.MessageID) (log training.Log, ok bool, err error) {
	logs, err := tx.logs("read log", logByID, int64(id))
	if err != nil || len(logs) == 0 {
		return training.Log{}, false, err
	}
	return logs[0], true, nil
}

// LatestLog returns the author's own latest message that still gives sets for
// themselves, by the message's instant, then its number.
func (tx *Tx) LatestLog(team training.TeamID, author training.PersonID) (log training.Log, ok bool, err error) {
	var id training.MessageID
	if ok, err = tx.one("read latest log", latestLog, []any{int64(team), int64(author)}, &id); err != nil || !ok {
		return training.Log{}, false, err
	}
	return tx.Log(id)
}

// DayLogs lists all logs of the member that are of the day, whole and whatever
// their state, by instant, then number.
func (tx *Tx) DayLogs(team training.TeamID, member training.PersonID, day training.Day) ([]training.Log, error) {
	ids, err := tx.numbers("read logs of a day", logsOfDay, int64(team), int64(member), date(day))
	if err != nil {
		return nil, err
	}
	return tx.logsByID(messages(ids))
}

// AskedLogs lists the author's messages written at the instant or later whose
// sets wait for their word, by instant, then number.
func (tx *Tx) AskedLogs(team training.TeamID, author training.PersonID, since time.Time) ([]training.Log, error) {
	var ids []training.MessageID
	args := []any{int64(team), int64(author), instant(since)}
	err := tx.each("read logs asked about", logsAsked, args, func(scan func(...any) error) error {
		var at instant
		var id training.MessageID
		err := scan(&at, &id)
		ids = append(ids, id)
		return err
	})
	if err != nil {
		return nil, err
	}
	return tx.logsByID(ids)
}

// ChannelLogs lists what the messages of the channel from the number on gave, by
// number; but for those that are deleted, without an answer, and not unanswered.
func (tx *Tx) ChannelLogs(channel training.ChannelID, from training.MessageID) ([]training.Log, error) {
	var ids []training.MessageID
	over := map[training.MessageID]bool{}
	err := tx.each("read logs of a channel", logsOfChannel, []any{int64(channel), int64(from)}, func(scan func(...any) error) error {
		var id training.MessageID
		var deleted bool
		err := scan(&id, &deleted)
		ids, over[id] = append(ids, id), deleted
		return err
	})
	if err != nil {
		return nil, err
	}
	var left []training.MessageID
	for _, id := range ids {
		unanswered := false
		if over[id] {
			if unanswered, err = tx.Unanswered(id); err != nil {
				return nil, err
			}
		}
		if !over[id] || unanswered {
			left = append(left, id)
		}
	}
	return tx.logsByID(left)
}

// NoteEdit remembers that an edit of the log's message was taken in. An earlier
// one than is known changes nothing, nor does one of a message that gave no log.
func (tx *Tx) NoteEdit(id training.MessageID, at time.Time) error {
	_, err := tx.exec("note edit", "UPDATE log SET edited = max(coalesce(edited, ?2), ?2) WHERE id = ?1", int64(id), instant(at))
	return err
}

func (tx *Tx) logsByID(ids []training.MessageID) ([]training.Log, error) {
	var logs []training.Log
	for _, id := range ids {
		log, _, err := tx.Log(id)
		if err != nil {
			return nil, err
		}
		logs = append(logs, log)
	}
	return logs, nil
}

// ForgetAsked drops the sets that have waited for somebody's word since before
// the instant; their messages stay known as giving nothing.
func (tx *Tx) ForgetAsked(before time.Time) error {
	const verb = "forget what waits for a word"
	_, err := tx.exec(verb, "DELETE FROM bout WHERE log IN (SELECT id FROM log WHERE state = 'asked' AND at < ?)", instant(before))
	if err != nil {
		return err
	}
	_, err = tx.exec(verb, "UPDATE log SET state = 'empty' WHERE state = 'asked' AND at < ?", instant(before))
	return err
}

// MemberLogs lists what the member's live logs give for the days, both included,
// by day, then instant, then number: one log for each day of a message.
func (tx *Tx) MemberLogs(team training.TeamID, member training.PersonID, from, until training.Day) ([]training.Log, error) {
	first, last := date(max(from, firstDay)), date(min(until, lastDay))
	logs, err := tx.logs("read logs of a member", logsOfMember, int64(team), int64(member), first, last)
	var single []training.Log
	for _, log := range logs { // two days of a message may follow one another
		for i := range log.Days {
			one := log
			one.Days = log.Days[i : i+1]
			single = append(single, one)
		}
	}
	return single, err
}

func (tx *Tx) logs(verb, query string, args ...any) ([]training.Log, error) {
	var logs []training.Log
	var log training.Log
	var author sql.Null[training.PersonID]
	var at instant
	var edited maybeInstant
	var day training.Day
	var bout boutRow
	dest := append([]any{
		&log.ID, &log.Team, &log.Member, &author, &at, &log.Channel, &edited, (*date)(&day), &log.State, &log.Alone, &log.Silent,
	}, bout.dest()...)
	err := tx.each(verb, query, args, func(scan func(...any) error) error {
		if err := scan(dest...); err != nil {
			return err
		}
		if len(logs) == 0 || logs[len(logs)-1].ID != log.ID {
			log.Author, log.At, log.Edited = author.V, time.Time(at), time.Time(edited)
			logs = append(logs, log)
		}
		last := &logs[len(logs)-1]
		if len(last.Days) == 0 || last.Days[len(last.Days)-1].Day != day {
			last.Days = append(last.Days, training.DaySets{Day: day})
		}
		of := &last.Days[len(last.Days)-1]
		of.Sets = bout.append(of.Sets)
		return nil
	})
	return logs, err
}

// boutRow is a row of bout; all of it is NULL where a log has none.
type boutRow struct {
	times, workS, reps, loadHg, tries sql.NullInt64
	rung, help, side                  sql.NullString
	restS, effort, done               sql.NullInt64
	failed                            sql.NullBool
}

func (b *boutRow) dest() []any {
	return []any{&b.times, &b.rung, &b.workS, &b.reps, &b.loadHg, &b.help, &b.side, &b.restS, &b.effort, &b.failed, &b.tries, &b.done}
}

func (b *boutRow) append(sets []training.Set) []training.Set {
	set := training.Set{
		Rung: training.RungID(b.rung.String), WorkS: int(b.workS.Int64), Reps: int(b.reps.Int64), LoadHg: int(b.loadHg.Int64),
		Help: b.help.String, Side: training.Side(b.side.String), RestS: known(b.restS), Effort: known(b.effort),
		Failed: b.failed.Bool, Tries: int(b.tries.Int64), Done: known(b.done),
	}
	for range b.times.Int64 {
		sets = append(sets, set)
	}
	return sets
}

func known(n sql.NullInt64) training.Optional {
	return training.Optional{Value: int(n.Int64), Known: n.Valid}
}

// PutCorrection remembers that messages of the member written before at no
// longer give that day's sets. An earlier instant than the one that stands
// changes nothing.
func (tx *Tx) PutCorrection(team training.TeamID, member training.PersonID, day training.Day, at time.Time) error {
	const verb = "store correction"
	key, err := tx.personKey(verb, team, member)
	if err != nil {
		return err
	}
	_, err = tx.exec(verb, `INSERT INTO correction (member, day, at) VALUES (?, ?, ?)
		ON CONFLICT (member, day) DO UPDATE SET at = max(at, excluded.at)`, key, date(day), instant(at))
	return err
}

// Corrected returns the latest instant given to PutCorrection.
func (tx *Tx) Corrected(team training.TeamID, member training.PersonID, day training.Day) (at time.Time, ok bool, err error) {
	ok, err = tx.one("read correction",
		"SELECT c.at FROM correction c JOIN person p ON p.key = c.member WHERE p.team = ? AND p.id = ? AND c.day = ?",
		[]any{int64(team), int64(member), date(day)}, (*instant)(&at))
	return at, ok, err
}

// Audit keeps that somebody changed somebody else's record; what is a word of
// the code's, never a message's.
func (tx *Tx) Audit(team training.TeamID, by, member training.PersonID, day training.Day, what string, at time.Time) error {
	const verb = "store audit"
	key, err := tx.personKey(verb, team, member)
	if err != nil {
		return err
	}
	actor, err := tx.maybeKey(verb, team, by)
	if err != nil {
		return err
	}
	_, err = tx.exec(verb, "INSERT INTO audit (member, actor, day, what, at) VALUES (?, ?, ?, ?, ?)",
		key, actor, date(day), what, instant(at))
	return err
}
