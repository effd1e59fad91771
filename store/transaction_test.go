package store_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"rungbook/store"
	"rungbook/training"
)

var october = training.Date(2026, 10, 5)

func logOf(id training.MessageID, member training.PersonID, sets int) training.Log {
	log := training.Log{ID: id, Team: 7, Member: member, Author: member, At: time.UnixMilli(1791220000000 + int64(id)), State: training.LogLive,
		Days: training.OnDay(october, slices.Repeat([]training.Set{{Rung: "deep hang", WorkS: 30}}, sets)...)}
	return log
}

// withTeam opens a database that holds the team alone.
func withTeam(t testing.TB) *store.DB {
	t.Helper()
	db := open(t)
	update(t, db, func(tx *store.Tx) error { return tx.PutTeam(tidewater(t)) })
	return db
}

func hasLog(t testing.TB, db *store.DB, id training.MessageID) bool {
	t.Helper()
	var found bool
	view(t, db, func(tx *store.Tx) (err error) {
		_, found, err = tx.Log(id)
		return err
	})
	return found
}

// TestNothingHalf ends a transaction in every way but the good one, after a
// write, and finds nothing of it; and the next one works.
func TestNothingHalf(t *testing.T) {
	giveUp := errors.New("give up")
	ways := map[string]struct {
		end  func(tx *store.Tx, stop func()) error
		want string
	}{
		"error":   {func(*store.Tx, func()) error { return giveUp }, "give up"},
		"panic":   {func(*store.Tx, func()) error { panic(giveUp) }, "give up"},
		"context": {func(_ *store.Tx, stop func()) error { stop(); return nil }, "context canceled"},
		"swallowed error": {func(tx *store.Tx, _ func()) error {
			_ = tx.PutLog(training.Log{ID: 2, Team: 99, Member: 1, Days: training.OnDay(october)})
			return nil
		}, "store log"},
		"day missing": {func(tx *store.Tx, _ func()) error {
			return tx.PutLog(training.Log{ID: 2, Team: 7, Member: 1, Days: training.OnDay(0)})
		}, "a day is missing"},
		"no day": {func(tx *store.Tx, _ func()) error { return tx.PutLog(training.Log{ID: 2, Team: 7, Member: 1}) }, "a day is missing"},
		"a day twice": {func(tx *store.Tx, _ func()) error {
			return tx.PutLog(training.Log{ID: 2, Team: 7, Member: 1, State: training.LogLive, Days: append(training.OnDay(october), training.OnDay(october)...)})
		}, "store log"},
		"unknown state": {func(tx *store.Tx, _ func()) error {
			return tx.PutLog(training.Log{ID: 2, Team: 7, Member: 1, Days: training.OnDay(october), State: "odd"})
		}, "store log"},
		"year 10000": {func(tx *store.Tx, _ func()) error {
			return tx.PutLog(training.Log{ID: 2, Team: 7, Member: 1, Days: training.OnDay(training.Date(10000, 1, 1))})
		}, "out of the calendar"},
		"no zone":         {func(tx *store.Tx, _ func()) error { return tx.PutTeam(training.Team{ID: 8}) }, "a zone is missing"},
		"the host's zone": {func(tx *store.Tx, _ func()) error { return tx.PutMember(7, training.Member{ID: 8, Zone: time.Local}) }, "IANA"},
		"a made-up zone": {func(tx *store.Tx, _ func()) error {
			return tx.PutTeam(training.Team{ID: 8, Zone: time.FixedZone("Boathouse", 60)})
		}, "load zone"},
	}
	for name, way := range ways {
		t.Run(name, func(t *testing.T) {
			db := withTeam(t)
			ctx, stop := context.WithCancel(context.Background())
			defer stop()
			err := recovered(func() error {
				return db.Update(ctx, func(tx *store.Tx) error {
					if err := tx.PutLog(logOf(1, 11, 3)); err != nil {
						t.Fatal(err)
					}
					return way.end(tx, stop)
				})
			})
			if err == nil || !strings.Contains(err.Error(), way.want) {
				t.Errorf("error %v, want one that says %q", err, way.want)
			}
			if hasLog(t, db, 1) {
				t.Error("the log was kept")
			}
			update(t, db, func(tx *store.Tx) error { return tx.PutLog(logOf(1, 11, 3)) })
			if !hasLog(t, db, 1) {
				t.Error("the next log was lost")
			}
		})
	}
}

// recovered turns a panic into an error.
func recovered(do func() error) (err error) {
	defer func() {
		if thrown := recover(); thrown != nil {
			err = thrown.(error)
		}
	}()
	return do()
}

func TestSameMessageTwiceIsOneLog(t *testing.T) {
	db := withTeam(t)
	for range 2 {
		update(t, db, func(tx *store.Tx) error { return tx.PutLog(logOf(1, 11, 3)) })
	}
	view(t, db, func(tx *store.Tx) error {
		record, err := tx.Record(7, 11)
		if err == nil && (len(record.Sessions) != 1 || len(record.Sessions[0].Sets) != 3) {
			t.Errorf("sessions %v, want one of three sets", record.Sessions)
		}
		return err
	})
}

func TestViewWritesNothing(t *testing.T) {
	db := withTeam(t)
	err := db.View(context.Background(), func(tx *store.Tx) error { return tx.PutLog(logOf(1, 11, 1)) })
	if err == nil || !strings.Contains(err.Error(), "store log") {
		t.Errorf("a write through View: error %v", err)
	}
	if hasLog(t, db, 1) {
		t.Error("the log was kept")
	}
}

func TestOverIsOver(t *testing.T) {
	path := filepath.Join(t.TempDir(), "bot.db")
	db := openAt(t, path)
	update(t, db, func(tx *store.Tx) error { return tx.PutTeam(tidewater(t)) })
	var kept *store.Tx
	update(t, db, func(tx *store.Tx) error { kept = tx; return nil })
	if _, err := kept.Teams(); err == nil || !strings.Contains(err.Error(), "over") {
		t.Errorf("a verb after the end: error %v", err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Errorf("closed twice: %v", err)
	}
	if _, err := os.Stat(path + "-wal"); err == nil {
		t.Error("the log was not brought home")
	}
	for name, do := range map[string]func(context.Context, func(*store.Tx) error) error{"update": db.Update, "view": db.View} {
		err := do(context.Background(), func(*store.Tx) error { t.Error("ran on a closed database"); return nil })
		if err == nil || !strings.Contains(err.Error(), "closed") {
			t.Errorf("%s after Close: error %v", name, err)
		}
	}
}

// TestReadersSeeWholeTransactions reads while a writer writes logs in pairs:
// every snapshot holds both of a pair, and stays the same to its end.
func TestReadersSeeWholeTransactions(t *testing.T) {
	db := withTeam(t)
	const pairs = 150
	done := make(chan struct{})
	var readers sync.WaitGroup
	for range 4 {
		readers.Go(func() {
			for last := 0; ; {
				select {
				case <-done:
					return
				default:
				}
				err := db.View(context.Background(), func(tx *store.Tx) error {
					first, err := tx.DayLogs(7, 11, october)
					if err != nil {
						return err
					}
					second, err := tx.DayLogs(7, 12, october)
					if len(first) != len(second) || len(first) < last {
						t.Errorf("%d logs of one, %d of the other, after %d", len(first), len(second), last)
					}
					last = len(first)
					return err
				})
				if err != nil {
					t.Error(err)
					return
				}
			}
		})
	}
	for i := range training.MessageID(pairs) {
		update(t, db, func(tx *store.Tx) error {
			return errors.Join(tx.PutLog(logOf(2*i+1, 11, 2)), tx.PutLog(logOf(2*i+2, 12, 2)))
		})
	}
	close(done)
	readers.Wait()
}

func TestWritersTakeTurns(t *testing.T) {
	db := withTeam(t)
	var writers sync.WaitGroup
	for i := range training.MessageID(40) {
		writers.Go(func() {
			if err := db.Update(context.Background(), func(tx *store.Tx) error { return tx.PutLog(logOf(i+1, 11, 1)) }); err != nil {
				t.Error(err)
			}
		})
	}
	writers.Wait()
	view(t, db, func(tx *store.Tx) error {
		logs, err := tx.DayLogs(7, 11, october)
		if len(logs) != 40 {
			t.Errorf("%d logs, want 40", len(logs))
		}
		return err
	})
}

// TestWaitEndsWithContext waits for the writer no longer than the context
// allows, on a clock of its own.
func TestWaitEndsWithContext(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		db, err := store.Open(context.Background(), store.Options{Path: filepath.Join(t.TempDir(), "bot.db")})
		if err != nil {
			t.Fatal(err)
		}
		defer db.Close()
		free, held := make(chan struct{}), make(chan struct{})
		var first sync.WaitGroup
		first.Go(func() {
			if err := db.Update(context.Background(), func(*store.Tx) error { close(held); <-free; return nil }); err != nil {
				t.Error(err)
			}
		})
		<-held
		ctx, stop := context.WithTimeout(context.Background(), time.Minute)
		defer stop()
		err = db.Update(ctx, func(*store.Tx) error { t.Error("ran beside another writer"); return nil })
		if !errors.Is(err, context.DeadlineExceeded) {
			t.Errorf("error %v, want the deadline", err)
		}
		close(free)
		first.Wait()
	})
}
