package store

import (
	"context"
	"errors"
	"path/filepath"
	"reflect"
	"sync"
	"testing"
	"time"
	_ "time/tzdata"

	"rungbook/training"
)

// TestHistoryShowsItsOwnSnapshot lets readers read while a writer adds, moves
// and takes back logs and now and then gives up: what is kept is always what
// the same transaction would read afresh.
func TestHistoryShowsItsOwnSnapshot(t *testing.T) {
	db, err := Open(t.Context(), Options{Path: filepath.Join(t.TempDir(), "rungbook.db"), Key: make([]byte, 32)})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	err = db.Update(t.Context(), func(tx *Tx) error { return tx.PutTeam(training.Team{ID: 1, Name: "Tidewater Rings", Zone: time.UTC}) })
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	var readers sync.WaitGroup
	for range 3 {
		readers.Go(func() {
			for ctx.Err() == nil {
				if err := db.View(context.Background(), func(tx *Tx) error { return holdSessions(t, tx) }); err != nil {
					t.Error(err)
				}
			}
		})
	}
	givenUp := errors.New("given up")
	for n := range 300 {
		err := db.Update(t.Context(), func(tx *Tx) error {
			if n%50 == 49 {
				if err := tx.Erase(3); err != nil {
					return err
				}
			}
			id := training.MessageID(1 + n%7)
			log := training.Log{ID: id, Team: 1, Member: training.PersonID(3 + n%2), Author: 3, At: time.UnixMilli(int64(n)),
				State: training.LogLive, Days: training.OnDay(training.Date(2026, 10, 5)+training.Day(n%5), training.Set{Rung: "deep-hang", WorkS: 1 + n})}
			if n%3 == 0 {
				log.Days = append(log.Days, training.OnDay(training.Date(2026, 10, 14)-training.Day(n%4), training.Set{Rung: "support", WorkS: 1 + n})...)
			}
			if n%11 == 0 {
				log = log.Without(training.LogUndone)
			}
			if err := errors.Join(holdSessions(t, tx), tx.PutLog(log), holdSessions(t, tx)); err != nil {
				return err
			}
			if n%13 == 0 {
				return givenUp
			}
			return nil
		})
		if err != nil && !errors.Is(err, givenUp) {
			t.Fatal(err)
		}
	}
	stop()
	readers.Wait()
}

// holdSessions compares each member's record with one read afresh.
func holdSessions(t *testing.T, tx *Tx) error {
	for id := training.PersonID(3); id < 5; id++ {
		record, err := tx.Record(1, id)
		if err != nil {
			return err
		}
		var key int64
		ok, err := tx.one("test", "SELECT key FROM person WHERE team = 1 AND id = ?", []any{int64(id)}, &key)
		if err != nil {
			return err
		}
		if !ok {
			if len(record.Sessions) > 0 {
				t.Errorf("nobody has sessions %v", record.Sessions)
			}
			continue
		}
		fresh, err := tx.readSessions("test", key)
		if err != nil {
			return err
		}
		if len(fresh)+len(record.Sessions) > 0 && !reflect.DeepEqual(fresh, record.Sessions) {
			t.Errorf("kept %v, afresh %v", record.Sessions, fresh)
		}
	}
	return nil
}

// TestHistoryForgetsBeyondItsBound keeps no more sets than it may.
func TestHistoryForgetsBeyondItsBound(t *testing.T) {
	h := newHistory()
	many := []training.Session{{Day: 1, Sets: make([]training.Set, mostKept/4)}}
	for key := range int64(40) {
		own := newOwnHistory(0)
		own.read[key] = many
		if err := h.commit(func() error { return nil }, own); err != nil {
			t.Fatal(err)
		}
	}
	held := 0
	for _, sessions := range h.kept {
		held += count(sessions)
	}
	if held != h.sets || held > mostKept || held < mostKept/2 {
		t.Errorf("keeps %d sets and counts %d, may keep %d", held, h.sets, mostKept)
	}
}
