package store

import (
	"context"
	"errors"
	"fmt"
	"testing"

	sqlite3 "modernc.org/sqlite/lib"

	"rungbook/training"
)

// TestEveryDiskFailure holds P6: whichever write or sync fails, once or from
// then on, by a full disk or an error of it, a log is stored whole or refused
// and absent, and the store goes on once the disk is well. Where a sync failed
// nobody knows what is on the disk: ErrUnsure says so, and the next start finds
// every log whole or absent.
func TestEveryDiskFailure(t *testing.T) {
	for _, full := range []bool{true, false} {
		for _, forGood := range []bool{false, true} {
			before := map[string][]byte{"bot.db": withTeamAlone(t)}
			t.Run(fmt.Sprintf("full %t, for good %t", full, forGood), func(t *testing.T) {
				number := 1
				for failed := true; failed; number += stride() {
					t.Run(fmt.Sprint(number), func(t *testing.T) { failed = failingAt(t, before, number, full, forGood) })
				}
				if number < 30 {
					t.Errorf("only %d steps were made to fail: is the disk watched?", number-1)
				}
			})
		}
	}
}

// failingAt stores logs on a disk whose step of that number fails. It reports
// whether there were as many steps.
func failingAt(t *testing.T, before map[string][]byte, number int, full, forGood bool) (failed bool) {
	ctx, folder := context.Background(), t.TempDir()
	watched := watchDisk(t, folder)
	db := openFiles(t, folder, before)
	put := func(id int) error {
		return db.Update(ctx, func(tx *Tx) error { return tx.PutLog(logAt(id, setsOfALog)) })
	}
	if err := put(1); err != nil {
		t.Fatal(err)
	}
	onWriter(t, db, "PRAGMA wal_autocheckpoint = 4") // so that the database itself is written to as well
	watched.failBy(func(asked int, kind stepKind) int32 {
		if asked < number || asked > number && !forGood {
			return 0
		}
		failed = true
		return failureOf(kind, full)
	})
	said := []error{nil} // of each log, by its number less one
	unsure := func() bool { return errors.Is(said[len(said)-1], ErrUnsure) }
	for id := 2; id <= 3 && !unsure(); id++ {
		said = append(said, put(id))
	}
	watched.failBy(nil)
	if unsure() {
		_ = db.Close() // as far as it can: the process ends
		db = openFiles(t, folder, nil)
	}
	for i, said := range said {
		sets := setsKept(t, db, training.MessageID(i+1))
		switch whole := sets == setsOfALog; {
		case said == nil && !whole, !whole && sets != 0, whole && said != nil && !errors.Is(said, ErrUnsure):
			t.Errorf("log %d has %d sets, and what was said of it is %v", i+1, sets, said)
		}
		if said != nil && full && !errors.Is(said, ErrFull) && !errors.Is(said, ErrUnsure) {
			t.Errorf("log %d: of a full disk is said %v", i+1, said)
		}
	}
	if err := put(len(said)); err != nil {
		t.Errorf("on a disk that is well again: %v", err)
	}
	faults, err := db.Check(ctx)
	if err := errors.Join(err, db.Close()); err != nil || len(faults) > 0 {
		t.Errorf("faults %v, error %v", faults, err)
	}
	return failed
}

// failureOf is how a step fails.
func failureOf(kind stepKind, full bool) int32 {
	switch {
	case kind == diskSync:
		return sqlite3.SQLITE_IOERR_FSYNC
	case kind == diskTruncate:
		return sqlite3.SQLITE_IOERR_TRUNCATE
	case full:
		return sqlite3.SQLITE_FULL
	}
	return sqlite3.SQLITE_IOERR_WRITE
}
