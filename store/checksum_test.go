package store_test

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/gofrs/flock"

	"rungbook/store"
)

// TestBackupOntoItsOwn leads to each file of the database by other paths: none of
// them is touched.
func TestBackupOntoItsOwn(t *testing.T) {
	folder := t.TempDir()
	real := filepath.Join(folder, "real")
	link := filepath.Join(folder, "link")
	if err := errors.Join(os.Mkdir(real, 0o700), os.Symlink(real, link)); err != nil {
		t.Fatal(err)
	}
	o := besides(filepath.Join(real, "bot.db"))
	db := openAs(t, o)
	life(t, db, 3)
	t.Chdir(real)
	for _, name := range []string{"bot.db", "bot.db-wal", "bot.db.lock", "bot.db.key", "bot.db.erased"} {
		own := filepath.Join(real, name)
		symlink, hard := filepath.Join(folder, name+".symlink"), filepath.Join(folder, name+".hard")
		if err := errors.Join(os.Symlink(own, symlink), os.Link(own, hard)); err != nil {
			t.Fatal(err)
		}
		before := read(t, own)
		for _, to := range []string{own, name, "../real/" + name, filepath.Join(link, name), symlink, hard} {
			if err := db.Backup(t.Context(), to); err == nil || !strings.Contains(err.Error(), "name another file") {
				t.Errorf("onto %s: error %v", to, err)
			}
		}
		if !bytes.Equal(read(t, own), before) {
			t.Errorf("%s was changed", name)
		}
	}
	if err := os.Remove(o.ErasedFile); err != nil {
		t.Fatal(err)
	}
	if err := db.Backup(t.Context(), filepath.Join(link, "bot.db.erased")); err == nil {
		t.Error("a backup takes the place of a list that is not there")
	}
}

// TestBackupChecksum: a backup has its checksum beside it, as sha256sum -c reads
// it, and one that does not match is not restored.
func TestBackupChecksum(t *testing.T) {
	db := withTeam(t)
	for _, name := range []string{"backup.db", "ha\\lf\nname.db"} {
		backup := filepath.Join(t.TempDir(), name)
		for range 2 { // the second replaces both
			if err := db.Backup(t.Context(), backup); err != nil {
				t.Fatal(err)
			}
		}
		want := fmt.Sprintf("%x  backup.db\n", sha256.Sum256(read(t, backup)))
		if name != "backup.db" {
			want = strings.Replace(`\`+want, "backup.db", `ha\\lf\nname.db`, 1)
		}
		if got := string(read(t, backup+".sha256")); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
		renamed := filepath.Join(t.TempDir(), "monday.db")
		if err := errors.Join(os.Rename(backup, renamed), os.Rename(backup+".sha256", renamed+".sha256")); err != nil {
			t.Fatal(err)
		}
		if err := restore(renamed, filepath.Join(t.TempDir(), "bot.db")); err != nil {
			t.Errorf("under another name: %v", err)
		}
		o := store.Options{Path: filepath.Join(t.TempDir(), "bot.db"), Key: key}
		// A letter of a name, which no check of the database's own would find.
		whole := read(t, renamed)
		if err := os.WriteFile(renamed, bytes.Replace(whole, []byte("Tidewater"), []byte("Tidewatar"), 1), 0o600); err != nil {
			t.Fatal(err)
		}
		for _, without := range []bool{false, true} {
			_, err := store.Restore(t.Context(), o, store.Restoration{From: renamed, WithoutChecksum: without})
			if err == nil || !strings.Contains(err.Error(), "does not match") {
				t.Errorf("changed, without %t: error %v", without, err)
			}
		}
		if err := os.Remove(renamed + ".sha256"); err != nil {
			t.Fatal(err)
		}
		if _, err := store.Restore(t.Context(), o, store.Restoration{From: renamed}); !errors.Is(err, store.ErrNoChecksum) {
			t.Errorf("without one: error %v", err)
		}
		if _, err := store.Restore(t.Context(), o, store.Restoration{From: renamed, WithoutChecksum: true}); err != nil {
			t.Errorf("the way round: %v", err)
		}
	}
}

// TestPartsOfTheBrokenAreRemoved at a start and at a backup, and those that a
// process is writing are not.
func TestPartsOfTheBrokenAreRemoved(t *testing.T) {
	folder := t.TempDir()
	o := besides(filepath.Join(folder, "bot.db"))
	db := openAs(t, o)
	leave := func(name string) string {
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, []byte("half"), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	for name, do := range map[string]func() error{
		"backup": func() error { return db.Backup(t.Context(), filepath.Join(folder, "backup.db")) },
		"start": func() error {
			err := db.Close()
			db = openAs(t, o)
			return err
		},
	} {
		broken := leave("backup.db.11.rungbook.part")
		leave("backup.db.11.rungbook.part.lock")
		leave("backup.db.11.rungbook.part-wal")
		old := leave("bot.db.key.12.rungbook.part")
		theirs := leave("film.12.part")
		busy := leave("backup.db.13.rungbook.part")
		lock := flock.New(busy + ".lock")
		if held, err := lock.TryLock(); !held {
			t.Fatal(err)
		}
		if err := do(); err != nil {
			t.Fatal(err)
		}
		for _, gone := range []string{broken, broken + ".lock", broken + "-wal", old, old + ".lock"} {
			if _, err := os.Stat(gone); err == nil {
				t.Errorf("%s: %s is left", name, gone)
			}
		}
		for _, stays := range []string{theirs, busy} {
			if _, err := os.Stat(stays); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		}
		if err := errors.Join(lock.Unlock(), os.Remove(busy), os.Remove(busy+".lock")); err != nil {
			t.Fatal(err)
		}
	}
}
