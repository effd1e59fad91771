package store_test

import (
	"context"
	"path/filepath"
	"testing"
	"time"
	_ "time/tzdata" // zones on any machine

	"rungbook/store"
	"rungbook/training"
)

var key = []byte("a key of the tests, of 32 bytes.")

func openAt(t testing.TB, path string) *store.DB {
	t.Helper()
	db, err := store.Open(context.Background(), store.Options{Path: path, Key: key})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := db.Close(); err != nil {
			t.Error(err)
		}
	})
	return db
}

func open(t testing.TB) *store.DB { return openAt(t, filepath.Join(t.TempDir(), "bot.db")) }

func update(t testing.TB, db *store.DB, do func(tx *store.Tx) error) {
	t.Helper()
	if err := db.Update(context.Background(), do); err != nil {
		t.Fatal(err)
	}
}

func view(t testing.TB, db *store.DB, do func(tx *store.Tx) error) {
	t.Helper()
	if err := db.View(context.Background(), do); err != nil {
		t.Fatal(err)
	}
}

func zone(t testing.TB, name string) *time.Location {
	t.Helper()
	zone, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return zone
}

func tidewater(t testing.TB) training.Team {
	return training.Team{
		ID: 7, Name: "Tidewater Rings", Zone: zone(t, "Europe/Lisbon"), Days: training.Weekdays(0).With(time.Monday).With(time.Thursday),
		Nudge: 17*60 + 30, DigestDay: time.Sunday, Digest: 18 * 60, Quiet: training.Quiet{From: 22 * 60, Until: 7 * 60},
	}
}

func TestRoundTrip(t *testing.T) {
	db := open(t)
	team := tidewater(t)
	priya := training.Member{ID: 11, Name: "Priya", Zone: zone(t, "America/Sao_Paulo"), Joined: training.Date(2026, 10, 5),
		Since: time.UnixMilli(1791220000123).UTC(), Trains: true, Nudges: true}
	set := training.Set{Rung: "deep hang", WorkS: 30, Reps: 2, LoadHg: -25, Help: "band", Side: training.Left,
		RestS: training.Known(0), Effort: training.Known(7), Failed: true, Tries: 3, Done: training.Known(1)}
	log := training.Log{ID: 1 << 60, Team: 7, Member: 11, Author: 11, At: priya.Since, State: training.LogLive,
		Days: training.OnDay(priya.Joined, set, set, training.Set{Rung: "support", WorkS: 10}, set)}
	update(t, db, func(tx *store.Tx) error {
		if err := tx.PutTeam(team); err != nil {
			return err
		}
		if err := tx.PutMember(7, priya); err != nil {
			return err
		}
		return tx.PutLog(log)
	})
	view(t, db, func(tx *store.Tx) error {
		got, ok, err := tx.Log(log.ID)
		if !ok || err != nil {
			t.Fatal(ok, err)
		}
		same(t, "log", got, log)
		gotTeam, _, err := tx.Team(7)
		if err != nil {
			t.Fatal(err)
		}
		same(t, "team", gotTeam, team)
		roster, err := tx.Roster(7)
		if err != nil {
			t.Fatal(err)
		}
		same(t, "roster", roster, []training.Member{priya})
		record, err := tx.Record(7, 11)
		if err != nil {
			t.Fatal(err)
		}
		same(t, "record", record, training.Record{Joined: priya.Joined, Sessions: []training.Session{{Day: log.Day(), Sets: log.Sets()}}})
		return nil
	})
}
