package store_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"rungbook/store"
	"rungbook/training"
)

const (
	erased  training.PersonID  = 0x2a1b2c3d4e5f6071 // the member who goes
	another training.PersonID  = 0x2a1b2c3d4e5f7777 // one who stays
	trainer training.PersonID  = 0x2a1b2c3d4e5f8888 // their coach
	theirs  training.MessageID = 0x3a1b2c3d4e5f0001 // and on: messages of the one who goes
	gone                       = "Sannacanary"
)

// life writes a year of a team into the database in which the one who goes
// does everything that leaves a row, beside two who stay.
func life(t testing.TB, db *store.DB, until int) {
	t.Helper()
	update(t, db, func(tx *store.Tx) error {
		lisbon, other := zone(t, "Europe/Lisbon"), tidewater(t)
		other.ID = 8
		err := errors.Join(tx.PutTeam(tidewater(t)), tx.PutTeam(other))
		for _, team := range []training.TeamID{7, 8} {
			for id, name := range map[training.PersonID]string{erased: gone, another: "Wen", trainer: "Ilda"} {
				err = errors.Join(err, tx.PutMember(team, training.Member{ID: id, Name: name, Zone: lisbon, Joined: october, Since: at(0), Trains: true, Coach: id != another}))
			}
		}
		return err
	})
	for i := range until {
		day, now := october+training.Day(i), at(i*86400)
		id := theirs + training.MessageID(i)
		update(t, db, func(tx *store.Tx) error {
			log := training.Log{ID: id, Team: 7, Member: erased, Author: erased, At: now, State: training.LogLive,
				Days: append(training.OnDay(day, training.Set{Rung: "deep hang", WorkS: 30}, training.Set{Rung: "deep hang", WorkS: 31}), training.OnDay(day+1, training.Set{Rung: "support", WorkS: i})...)}
			stays := log
			stays.ID, stays.Member, stays.Author, stays.Days = training.MessageID(1000+i), another, another, training.OnDay(day, log.Sets()...)
			byThem := stays // what the one who goes logged as a coach
			byThem.ID, byThem.Author = training.MessageID(5000+i), erased
			elsewhere := log
			elsewhere.ID, elsewhere.Team = id+1000, 8
			return errors.Join(tx.PutLog(log), tx.PutLog(stays), tx.PutLog(byThem), tx.PutLog(elsewhere), untidy(tx, i, day, now, id))
		})
	}
}

// untidy leaves the one who goes in every other table.
func untidy(tx *store.Tx, i int, day training.Day, now time.Time, message training.MessageID) error {
	mark := training.Mark{Gate: "deep hang", Day: day}
	cause := strconv.FormatInt(int64(message), 10)
	_, acted := tx.ActOnce(message, "pause", now)
	_, nudged := tx.Decide(7, "nudge", erased, day.String(), "post", now)
	_, asked := tx.AskJoint(7, erased, now, now.Add(12*time.Hour))
	_, told := tx.Decide(7, "paused", trainer, cause, "post", now)
	err := errors.Join(acted, nudged, asked, told,
		tx.PutAways(7, erased, []training.Away{{From: day + 5, Until: day + 9}}),
		tx.PutMark(7, erased, mark, trainer), tx.PutMark(7, another, mark, erased),
		tx.PutCorrection(7, erased, day, now), tx.Audit(7, trainer, erased, day, "correct", now), tx.Audit(7, erased, another, day, "correct", now),
		tx.PutTakeBack(7, erased, message, training.TakeBack{Day: day, Expires: now}), tx.PutTold(7, erased, trainer),
		tx.PutRunning(7, erased, training.RunningPause{From: day, CoachEnds: true}), tx.EndRunning(7, erased, day+1))
	if i%20 != 0 {
		return err
	}
	for _, payload := range []string{
		fmt.Sprintf(`{"Person":%d,"Text":"Train today."}`, erased),
		`{"Person":5,"Text":"The week:\n` + gone + `: 2 sessions"}`,
		`{"Person":5,"Facts":{"mentioned":["` + gone + `"]}}`,
		`not JSON, says ` + gone,
	} {
		_, formed := tx.FormPost(7, []byte(payload), now)
		err = errors.Join(err, formed)
	}
	return err
}

// traces counts where the files still hold the one who goes: their number and
// their messages' as the database writes them and as digits, and their name.
// Reading the file of an open database from this process lets go of its locks,
// which no other process here asks for.
func traces(t testing.TB, files ...string) (found []string) {
	t.Helper()
	// The first six bytes are those of every number above.
	needles := map[string][]byte{
		"number":   binary.BigEndian.AppendUint64(nil, uint64(erased)),
		"digits":   []byte(strconv.FormatInt(int64(erased), 10)),
		"name":     []byte(gone),
		"messages": binary.BigEndian.AppendUint64(nil, uint64(theirs))[:6],
		"causes":   []byte(strconv.FormatInt(int64(theirs), 10)[:12]),
	}
	for _, path := range files {
		held, err := os.ReadFile(path)
		if err != nil && !errors.Is(err, os.ErrNotExist) {
			t.Fatal(err)
		}
		for what, needle := range needles {
			if bytes.Contains(held, needle) {
				found = append(found, what+" in "+filepath.Base(path))
			}
		}
	}
	return found
}

func filesOf(t testing.TB, folder string) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(folder, "*"))
	if err != nil || len(files) == 0 {
		t.Fatalf("files %v, error %v", files, err)
	}
	return files
}

// TestErasedLeaveNothing holds P10 for the file: an erased member is in no page
// of the database or its log.
func TestErasedLeaveNothing(t *testing.T) {
	folder, ctx := t.TempDir(), context.Background()
	db := openAt(t, filepath.Join(folder, "bot.db"))
	life(t, db, 200)
	named := form(t, db, `{"Person":5,"Text":"`+gone+`s and Un`+gone+` are other words, 1`+strconv.FormatInt(int64(erased), 10)+` another number"}`)
	pointed := form(t, db, `{"Text":"Two due today."}`)
	update(t, db, func(tx *store.Tx) error { return tx.PointAt(7, "nudge", erased, october.String(), pointed) })
	before := traces(t, filesOf(t, folder)...)
	for _, what := range []string{"number", "digits", "name", "messages"} {
		if !strings.Contains(fmt.Sprint(before), what) {
			t.Fatalf("the scan does not see the %s of somebody who is there: %v", what, before)
		}
	}
	if strings.Contains(fmt.Sprint(before), "causes") {
		t.Error("a decision holds the number of the message that set a pause")
	}

	update(t, db, func(tx *store.Tx) error { return tx.Erase(erased) })
	unsentAre(t, db, named) // it names somebody else
	if err := db.Sent(ctx, named); err != nil {
		t.Fatal(err)
	}
	if err := db.Scrub(ctx); err != nil {
		t.Fatal(err)
	}
	if err := db.Backup(ctx, filepath.Join(folder, "backup.db")); err != nil {
		t.Fatal(err)
	}
	if after := traces(t, filesOf(t, folder)...); len(after) > 0 {
		t.Errorf("traces after the erasure: %v", after)
	}
	staysWhole(t, db)
}

// staysWhole asks for what is kept of the others, and of the block.
func staysWhole(t *testing.T, db *store.DB) {
	t.Helper()
	update(t, db, func(tx *store.Tx) error {
		record, err := tx.Record(7, another)
		if len(record.Sessions) != 200 || len(record.Marks) != 200 {
			t.Errorf("the one who stays has %d sessions and %d marks", len(record.Sessions), len(record.Marks))
		}
		byThem, ok, err2 := tx.Log(5000)
		if !ok || byThem.Author != 0 || byThem.Member != another {
			t.Errorf("the log written for somebody else: %v", byThem)
		}
		blocked, err3 := tx.Blocked(erased)
		free, err4 := tx.Blocked(another)
		if !blocked || free {
			t.Errorf("blocked %t, and the one who stays %t", blocked, free)
		}
		first, err5 := tx.ActOnce(theirs, "pause", at(0))
		if first {
			t.Error("an old message may act again")
		}
		first, err6 := tx.Decide(7, "paused", trainer, strconv.FormatInt(int64(theirs), 10), "post", at(0))
		if first {
			t.Error("an old notice would be given again")
		}
		return errors.Join(err, err2, err3, err4, err5, err6)
	})
}

// TestScrubIsMadeGood ends between an erasure and its scrub, as a crash would:
// the next start scrubs.
func TestScrubIsMadeGood(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "bot.db")
	db := openAt(t, path)
	life(t, db, 60)
	update(t, db, func(tx *store.Tx) error { return tx.Erase(erased) })
	if len(traces(t, filesOf(t, folder)...)) == 0 {
		t.Fatal("nothing is left to scrub: this test shows nothing")
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	openAt(t, path)
	if after := traces(t, filesOf(t, folder)...); len(after) > 0 {
		t.Errorf("traces after the next start: %v", after)
	}
}

// TestScrubWaitsForReaders says that it could not, while somebody reads.
func TestScrubWaitsForReaders(t *testing.T) {
	t.Parallel() // it waits in earnest, for 2 s
	db := withTeam(t)
	view(t, db, func(tx *store.Tx) error {
		if _, err := tx.Teams(); err != nil {
			return err
		}
		update(t, db, func(tx *store.Tx) error { return tx.PutLog(logOf(1, 11, 1)) })
		if err := db.Scrub(context.Background()); err == nil || !strings.Contains(err.Error(), "try again") {
			t.Errorf("scrubbed under a reader: error %v", err)
		}
		return nil
	})
	if err := db.Scrub(context.Background()); err != nil {
		t.Error(err)
	}
}
