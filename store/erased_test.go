package store_test

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rungbook/store"
	"rungbook/training"
)

// besides are the options of a database with its key and the list of the erased
// beside it.
func besides(path string) store.Options {
	return store.Options{Path: path, KeyFile: path + ".key", ErasedFile: path + ".erased"}
}

func openAs(t testing.TB, o store.Options) *store.DB {
	t.Helper()
	db, err := store.Open(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = db.Close() })
	return db
}

// livedIn is a database with a life in it and a backup from before an erasure.
func livedIn(t *testing.T) (o store.Options, backup string) {
	t.Helper()
	o = besides(filepath.Join(t.TempDir(), "bot.db"))
	db := openAs(t, o)
	life(t, db, 30)
	backup = filepath.Join(t.TempDir(), "backup.db")
	if err := db.Backup(t.Context(), backup); err != nil {
		t.Fatal(err)
	}
	update(t, db, func(tx *store.Tx) error { return tx.Erase(erased) })
	if err := errors.Join(db.Scrub(t.Context()), db.Close()); err != nil {
		t.Fatal(err)
	}
	return o, backup
}

// lose moves the database away and leaves what lies beside it.
func lose(t *testing.T, o store.Options) {
	t.Helper()
	if err := os.Rename(o.Path, o.Path+".lost"); err != nil {
		t.Fatal(err)
	}
}

// TestListOutlivesTheDatabase holds P10 where the database is lost: a restore
// heeds the list of the erased by itself, and the list names nobody.
func TestListOutlivesTheDatabase(t *testing.T) {
	o, backup := livedIn(t)
	if found := traces(t, o.ErasedFile); len(found) > 0 {
		t.Errorf("the list holds %v", found)
	}
	lose(t, o)
	if err := os.Remove(o.Path + ".lost"); err != nil {
		t.Fatal(err)
	}
	done, err := store.Restore(t.Context(), o, store.Restoration{From: backup})
	if err != nil || !done.List {
		t.Fatalf("%+v, error %v", done, err)
	}
	if after := traces(t, filesOf(t, filepath.Dir(o.Path))...); len(after) > 0 {
		t.Errorf("restored traces: %v", after)
	}
	view(t, openAs(t, o), func(tx *store.Tx) error {
		blocked, err := tx.Blocked(erased)
		record, err2 := tx.Record(7, another)
		if !blocked || len(record.Sessions) != 30 {
			t.Errorf("blocked %t, and the one who stays has %d sessions", blocked, len(record.Sessions))
		}
		return errors.Join(err, err2)
	})
}

// TestNoListIsSaid restores where no list is left: who was erased is there again,
// and the caller knows that nothing was heeded.
func TestNoListIsSaid(t *testing.T) {
	o, backup := livedIn(t)
	lose(t, o)
	if err := os.Remove(o.ErasedFile); err != nil {
		t.Fatal(err)
	}
	done, err := store.Restore(t.Context(), o, store.Restoration{From: backup})
	if err != nil || done.List {
		t.Errorf("%+v, error %v", done, err)
	}
	if len(traces(t, o.Path)) == 0 {
		t.Error("no traces without the list either: this test shows nothing")
	}
}

// TestStartHeedsTheList puts an old file in the database's place by hand.
func TestStartHeedsTheList(t *testing.T) {
	o, backup := livedIn(t)
	lose(t, o)
	old, err := os.ReadFile(backup)
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(os.WriteFile(o.Path, old, 0o600), os.Remove(o.Path+".lost")); err != nil {
		t.Fatal(err)
	}
	db := openAs(t, o)
	if got := db.Opening().Heeded; got != 1 {
		t.Errorf("%d are heeded", got)
	}
	if after := traces(t, filesOf(t, filepath.Dir(o.Path))...); len(after) > 0 {
		t.Errorf("traces after the start: %v", after)
	}
}

// TestListFollowsTheDatabase: whoever rejoins leaves the list, an erasure that is
// undone never comes on it, and a list that is gone or behind is written again.
func TestListFollowsTheDatabase(t *testing.T) {
	o, _ := livedIn(t)
	db := openAs(t, o)
	whole := read(t, o.ErasedFile)
	undone := errors.New("undone")
	err := db.Update(t.Context(), func(tx *store.Tx) error { return errors.Join(tx.Erase(another), undone) })
	if !errors.Is(err, undone) || !bytes.Equal(read(t, o.ErasedFile), whole) {
		t.Errorf("an erasure that was undone: %v", err)
	}
	update(t, db, func(tx *store.Tx) error { return tx.Unblock(erased, at(86400)) })
	if strings.Contains(string(read(t, o.ErasedFile)), "\nerased ") {
		t.Error("they stand on the list as erased yet")
	}
	update(t, db, func(tx *store.Tx) error { return tx.Erase(erased) })
	if !bytes.Equal(read(t, o.ErasedFile), whole) {
		t.Error("the list of the same people is another")
	}
	if err := errors.Join(db.Close(), os.Remove(o.ErasedFile)); err != nil {
		t.Fatal(err)
	}
	openAs(t, o)
	if !bytes.Equal(read(t, o.ErasedFile), whole) {
		t.Error("the list is not written again")
	}
}

func read(t *testing.T, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// TestDamagedListIsRefused: a list cut short must not pass for a short list.
func TestDamagedListIsRefused(t *testing.T) {
	o, backup := livedIn(t)
	whole := string(read(t, o.ErasedFile))
	for name, text := range map[string]string{
		"empty": "", "cut in a line": whole[:len(whole)-60], "cut between lines": whole[:strings.LastIndex(whole, "in all")],
		"a line lost": strings.Replace(whole, "in all 1", "in all 2", 1), "twice": whole + whole,
		"a hash too long": strings.Replace(whole, "\nerased ", "\nerased ab", 1), "no list": "Dear Ilda\n",
	} {
		t.Run(name, func(t *testing.T) {
			if err := os.WriteFile(o.ErasedFile, []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
			refused(t, o, "list of the erased")
			to := o
			to.Path = filepath.Join(t.TempDir(), "bot.db")
			if _, err := store.Restore(t.Context(), to, store.Restoration{From: backup}); err == nil || !strings.Contains(err.Error(), "damaged") {
				t.Errorf("restore: error %v", err)
			}
			reading := o
			reading.ReadOnly = true
			if err := openAs(t, reading).CheckErased(); err == nil || !strings.Contains(err.Error(), "move it aside") {
				t.Errorf("check: error %v", err)
			}
			if string(read(t, o.ErasedFile)) != text {
				t.Error("it was written over")
			}
		})
	}
}

// TestRestoreWithoutKey: a lost key voids no backup.
func TestRestoreWithoutKey(t *testing.T) {
	o, backup := livedIn(t)
	lose(t, o)
	if err := os.Remove(o.KeyFile); err != nil {
		t.Fatal(err)
	}
	if _, err := store.Restore(t.Context(), o, store.Restoration{From: backup}); !errors.Is(err, store.ErrKeyLost) {
		t.Fatalf("error %v, want ErrKeyLost", err)
	}
	if _, err := os.Stat(o.KeyFile); err == nil {
		t.Error("a refused restore made a key")
	}
	o.WithoutKey = true
	done, err := store.Restore(t.Context(), o, store.Restoration{From: backup})
	if err != nil || !done.GaveUpKey || done.List || done.ListAside == "" {
		t.Fatalf("%+v, error %v", done, err)
	}
	o.WithoutKey = false
	db := openAs(t, o)
	view(t, db, func(tx *store.Tx) error {
		record, err := tx.Record(7, another)
		if len(record.Sessions) != 30 {
			t.Errorf("%d sessions", len(record.Sessions))
		}
		return err
	})
	update(t, db, func(tx *store.Tx) error {
		first, err := tx.ActOnce(theirs, "pause", at(0))
		if !first {
			t.Error("a hash of the old key is kept")
		}
		return err
	})
}

// TestRestoreOfAnOlderKey gives up the key of the backup and heeds the list of
// the one at hand.
func TestRestoreOfAnOlderKey(t *testing.T) {
	_, backup := livedIn(t)
	o := besides(filepath.Join(t.TempDir(), "bot.db"))
	db := openAs(t, o)
	update(t, db, func(tx *store.Tx) error { return tx.Erase(training.PersonID(another)) })
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	lose(t, o)
	o.WithoutKey = true
	done, err := store.Restore(t.Context(), o, store.Restoration{From: backup})
	if err != nil || !done.List || !done.GaveUpKey || done.ListAside != "" {
		t.Fatalf("%+v, error %v", done, err)
	}
	view(t, openAs(t, o), func(tx *store.Tx) error {
		record, err := tx.Record(7, another)
		if len(record.Sessions) > 0 {
			t.Error("who stands on the list is there again")
		}
		return err
	})
}

// TestRestoreHeedsWhoRejoined: a backup from before an erasure brings nothing back
// of who has rejoined since, and one from after it loses nothing.
func TestRestoreHeedsWhoRejoined(t *testing.T) {
	o, before := livedIn(t)
	db := openAs(t, o)
	after := filepath.Join(t.TempDir(), "after.db")
	update(t, db, func(tx *store.Tx) error {
		return errors.Join(tx.Unblock(erased, at(100*86400)), tx.PutLog(logOf(9, erased, 2)))
	})
	if err := errors.Join(db.Backup(t.Context(), after), db.Close()); err != nil {
		t.Fatal(err)
	}
	lose(t, o)
	for backup, want := range map[string]int{before: 0, after: 1} {
		to := o
		to.Path = filepath.Join(t.TempDir(), "bot.db")
		if _, err := store.Restore(t.Context(), to, store.Restoration{From: backup}); err != nil {
			t.Fatal(err)
		}
		view(t, openAs(t, to), func(tx *store.Tx) error {
			record, err := tx.Record(7, erased)
			blocked, err2 := tx.Blocked(erased)
			old, err3 := tx.ShutOut(erased, at(99*86400))
			if len(record.Sessions) != want || blocked || !old {
				t.Errorf("%s: %d sessions, blocked %t, what is older shut out %t", filepath.Base(backup), len(record.Sessions), blocked, old)
			}
			return errors.Join(err, err2, err3)
		})
	}
}
