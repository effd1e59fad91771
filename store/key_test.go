package store

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// evening opens a database, lives through its first evening, and closes it.
func evening(t *testing.T, o Options) {
	t.Helper()
	db := openBeside(t, o)
	for _, do := range firstEvening() {
		if err := db.Update(t.Context(), do); err != nil {
			t.Fatal(err)
		}
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
}

// spoil puts the text in the file's place, or no file for none.
func spoil(t *testing.T, path, text string) {
	t.Helper()
	err := os.Remove(path)
	if text != "none" {
		err = os.WriteFile(path, []byte(text), 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// TestKeyLost: a key that is missing, empty, cut short or another's is made anew
// where nothing was hashed with it, else refused until it is given up; and what
// it guarded is then gone.
func TestKeyLost(t *testing.T) {
	for name, left := range map[string]string{"missing": "none", "empty": "", "short": "half a ke", "another": strings.Repeat("k", KeySize)} {
		t.Run(name, func(t *testing.T) {
			fresh := beside(filepath.Join(t.TempDir(), "bot.db"))
			if err := openBeside(t, fresh).Close(); err != nil {
				t.Fatal(err)
			}
			spoil(t, fresh.KeyFile, left)
			db, err := Open(t.Context(), fresh)
			if name == "another" {
				if !errors.Is(err, ErrKeyLost) {
					t.Errorf("with another key: %v", err)
				}
			} else if err != nil || db.Opening().GaveUpKey || db.Close() != nil {
				t.Errorf("nothing hashed: opening %+v, error %v", db, err)
			}

			o := beside(filepath.Join(t.TempDir(), "bot.db"))
			evening(t, o)
			spoil(t, o.KeyFile, left)
			if _, err := Open(t.Context(), o); !errors.Is(err, ErrKeyLost) {
				t.Fatalf("error %v, want ErrKeyLost", err)
			}
			if now, err := os.ReadFile(o.KeyFile); string(now) != left && !(os.IsNotExist(err) && left == "none") {
				t.Errorf("a refused start left the key %q, error %v", now, err)
			}
			givesUp(t, o)
		})
	}
}

// givesUp opens without the key, and once more with the one there is now.
func givesUp(t *testing.T, o Options) {
	t.Helper()
	o.WithoutKey = true
	db := openBeside(t, o)
	if got := db.Opening(); !got.GaveUpKey || got.ListAside == "" {
		t.Errorf("opening %+v", got)
	}
	if list, err := readErased(db.Opening().ListAside); err != nil || len(list.entries) != 3 {
		t.Errorf("the list moved aside holds %d, error %v", len(list.entries), err)
	}
	err := db.Update(t.Context(), func(tx *Tx) error {
		blocked, err := tx.Blocked(21)
		first, err2 := tx.ActOnce(1, "pause", thatEvening)
		if blocked || !first {
			t.Errorf("blocked %t, first %t: the old hashes mean something yet", blocked, first)
		}
		return errors.Join(err, err2, tx.Erase(31))
	})
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
	o.WithoutKey = false
	again := openBeside(t, o)
	if again.Opening() != (Opening{}) {
		t.Errorf("at the next start %+v", again.Opening())
	}
	if err := again.Close(); err != nil {
		t.Fatal(err)
	}
	o.WithoutKey = true // left standing where the service is started
	again = openBeside(t, o)
	if again.Opening() != (Opening{}) || len(texts(t, again, "SELECT hex(hash) FROM block")) != 1 {
		t.Errorf("with the key at hand something is given up: %+v", again.Opening())
	}
}

// TestKeyIsNotOverwritten keeps what stands in the key's place, which may be the
// key and a newline.
func TestKeyIsNotOverwritten(t *testing.T) {
	o := beside(filepath.Join(t.TempDir(), "bot.db"))
	evening(t, o)
	spoil(t, o.KeyFile, strings.Repeat("k", KeySize)+"\n")
	o.WithoutKey = true
	openBeside(t, o)
	if kept, err := os.ReadFile(o.KeyFile + ".unfit"); err != nil || len(kept) != KeySize+1 {
		t.Errorf("%q, error %v", kept, err)
	}
}

// TestKeyWithoutDatabase: a lost database is not made a new one in silence, nor
// is one cut to nothing; a first start that was cut short goes on.
func TestKeyWithoutDatabase(t *testing.T) {
	for name, c := range map[string]struct {
		lose func(o Options) error
		lost bool
	}{
		"gone":            {func(o Options) error { return os.Remove(o.Path) }, true},
		"emptied":         {func(o Options) error { return os.Truncate(o.Path, 0) }, true},
		"gone and unlist": {func(o Options) error { return errors.Join(os.Remove(o.Path), os.Remove(o.ErasedFile)) }, true},
		"first start cut": {func(o Options) error { return errors.Join(os.Truncate(o.Path, 0), os.Remove(o.ErasedFile)) }, false},
		"key cut as well": {func(o Options) error {
			return errors.Join(os.Truncate(o.KeyFile, 0), os.Remove(o.Path), os.Remove(o.ErasedFile))
		}, false},
		"begun anew": {func(o Options) error {
			return errors.Join(os.Remove(o.KeyFile), os.Remove(o.Path), os.Remove(o.ErasedFile))
		}, false},
	} {
		t.Run(name, func(t *testing.T) {
			o := beside(filepath.Join(t.TempDir(), "bot.db"))
			evening(t, o)
			if err := c.lose(o); err != nil {
				t.Fatal(err)
			}
			db, err := Open(t.Context(), o)
			if err == nil {
				err = db.Close()
			}
			if lost := err != nil && strings.Contains(err.Error(), "no database"); lost != c.lost || err != nil && !lost {
				t.Errorf("error %v", err)
			}
			o.ReadOnly = true
			if db, err := Open(t.Context(), o); c.lost && (err == nil || !strings.Contains(err.Error(), "no database")) {
				t.Errorf("to read only: error %v", err)
			} else if err == nil {
				_ = db.Close()
			}
		})
	}
}

// TestListOfAnotherKeyIsRefused: a list that another key is needed for is neither
// passed over nor written over.
func TestListOfAnotherKeyIsRefused(t *testing.T) {
	other := beside(filepath.Join(t.TempDir(), "bot.db"))
	evening(t, other)
	list, err := os.ReadFile(other.ErasedFile)
	if err != nil {
		t.Fatal(err)
	}
	o := beside(filepath.Join(t.TempDir(), "bot.db"))
	evening(t, o)
	spoil(t, o.ErasedFile, string(list))
	if _, err := Open(t.Context(), o); !errors.Is(err, ErrKeyLost) || !strings.Contains(err.Error(), o.ErasedFile) {
		t.Errorf("error %v", err)
	}
	if now, err := os.ReadFile(o.ErasedFile); string(now) != string(list) {
		t.Errorf("the list is another, error %v", err)
	}
	if err := errors.Join(os.Remove(o.Path), os.Remove(o.KeyFile)); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(t.Context(), o); !errors.Is(err, ErrKeyLost) {
		t.Errorf("with nothing left but the list: error %v", err)
	}
}

// TestBrokenBackupHasNoOthersChecksum fails between the backup and its checksum,
// as a crash would: what is left is a backup without one.
func TestBrokenBackupHasNoOthersChecksum(t *testing.T) {
	db := openWithTeam(t)
	backup := filepath.Join(t.TempDir(), "backup.db")
	if err := db.Backup(t.Context(), backup); err != nil {
		t.Fatal(err)
	}
	if err := db.Update(t.Context(), func(tx *Tx) error { return tx.PutLog(logAt(1, 2)) }); err != nil {
		t.Fatal(err)
	}
	kept := plainFiles
	t.Cleanup(func() { plainFiles = kept })
	plainFiles.rename = func(from, to string) error {
		if strings.HasSuffix(to, checksumEnd) {
			return errors.New("broken")
		}
		return kept.rename(from, to)
	}
	if err := db.Backup(t.Context(), backup); err == nil {
		t.Fatal("nothing is said")
	}
	if err := checkChecksum(backup); !errors.Is(err, ErrNoChecksum) {
		t.Errorf("error %v", err)
	}
}
