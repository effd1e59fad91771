package main

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rungbook/store"
)

// hosted is a database that a host has kept for a while, and a backup of it from
// before Sanna had herself erased.
func hosted(t *testing.T) (db, copied string) {
	t.Helper()
	dir := t.TempDir()
	db, copied = filepath.Join(dir, "rungbook.db"), filepath.Join(t.TempDir(), "copy.db")
	if got := run(t, "", nil, "rehearse", "--db", db); got.status != statusDone {
		t.Fatal(got.err)
	}
	if got := run(t, "", at(db), "backup", copied); got.status != statusDone {
		t.Fatal(got.err)
	}
	open, err := store.Open(t.Context(), files(db))
	if err != nil {
		t.Fatal(err)
	}
	err = open.Update(t.Context(), func(tx *store.Tx) error {
		teams, err := tx.Teams()
		if err != nil {
			return err
		}
		roster, err := tx.Roster(teams[0])
		for _, member := range roster {
			if member.Name == "Sanna" {
				err = errors.Join(err, tx.Erase(member.ID))
			}
		}
		return err
	})
	if err := errors.Join(err, open.Close()); err != nil {
		t.Fatal(err)
	}
	return db, copied
}

// at is an environment that names the database.
func at(db string) map[string]string { return map[string]string{"RUNGBOOK_DB": db} }

// knows reports whether Sanna is in the database.
func knows(t *testing.T, db string) bool {
	t.Helper()
	return run(t, "", at(db), "export", "--member", "Sanna").status == statusDone
}

func remove(t *testing.T, paths ...string) {
	t.Helper()
	for _, path := range paths {
		if err := os.Remove(path); err != nil {
			t.Fatal(err)
		}
	}
}

// move moves a database with what SQLite keeps beside it.
func move(t *testing.T, from, to string) {
	t.Helper()
	for _, end := range []string{"", "-wal", "-shm"} {
		if err := os.Rename(from+end, to+end); err != nil && (end == "" || !errors.Is(err, os.ErrNotExist)) {
			t.Fatal(err)
		}
	}
}

// says holds that the text has each of the words.
func says(t *testing.T, text string, words ...string) {
	t.Helper()
	for _, word := range words {
		if !strings.Contains(text, word) {
			t.Errorf("nothing of %q in\n%s", word, text)
		}
	}
}

// TestRestoreHeedsTheListByItself: the list beside the database outlives it, and
// without it the restore says what it cannot know.
func TestRestoreHeedsTheListByItself(t *testing.T) {
	db, copied := hosted(t)
	remove(t, db)
	got := run(t, "", at(db), "restore", copied)
	if got.status != statusDone || knows(t, db) {
		t.Errorf("with the list: %d, Sanna is there: %t\n%s%s", got.status, knows(t, db), got.out, got.err)
	}
	says(t, got.out, "Left out is whoever was erased", "the backup, the list ", db+".erased")
	if strings.Contains(got.out, "can't be known") {
		t.Errorf("it knows, and says\n%s", got.out)
	}

	old := filepath.Join(t.TempDir(), "old.db")
	move(t, db, old)
	remove(t, db+".erased")
	got = run(t, "", at(db), "restore", copied)
	if got.status != statusDone || !knows(t, db) {
		t.Errorf("without the list: %d, Sanna is there: %t\n%s%s", got.status, knows(t, db), got.out, got.err)
	}
	says(t, got.out, "no list of the erased", "can't be known", "--heed OLD-DATABASE")

	move(t, db, db+".unheeding")
	key, err := os.ReadFile(db + ".key")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(old+".key", key, 0o600); err != nil {
		t.Fatal(err)
	}
	got = run(t, "", at(db), "restore", copied, "--heed", old)
	if got.status != statusDone || knows(t, db) {
		t.Errorf("with the old database: %d\n%s%s", got.status, got.out, got.err)
	}
	says(t, got.out, old)
}

// TestTheKeyIsLost: restore and serve say what is lost with it and name the flag
// with which they go on.
func TestTheKeyIsLost(t *testing.T) {
	db, copied := hosted(t)
	remove(t, db+".key")
	lost := []string{db + ".key", "list of the erased", "once-only marks", "--without-key"}
	served := func(args ...string) ran {
		env := at(db)
		env["RUNGBOOK_TOKEN"], env["RUNGBOOK_DISCORD_API"], env["RUNGBOOK_LISTEN"] = "x", "http://127.0.0.1:1", "nowhere"
		return run(t, "", env, append([]string{"serve"}, args...)...)
	}
	got := served()
	if got.status != statusUse || strings.Count(got.err, "\n") != 1 {
		t.Errorf("serve: %d %s", got.status, got.err)
	}
	says(t, got.err, append(lost, "rungbook serve --without-key")...)
	got = run(t, "", at(db), "check")
	says(t, got.out, db+".key is missing", "--without-key")

	move(t, db, db+".old")
	got = run(t, "", at(db), "restore", copied)
	if got.status != statusUse || strings.Count(got.err, "\n") != 1 {
		t.Errorf("restore: %d %s", got.status, got.err)
	}
	says(t, got.err, append(lost, "rungbook restore "+copied+" --without-key")...)
	got = run(t, "", at(db), "restore", copied, "--without-key")
	if got.status != statusDone || !knows(t, db) {
		t.Errorf("restore --without-key: %d %s%s", got.status, got.out, got.err)
	}
	says(t, got.err, "list of the erased", "once-only marks", db+".erased.of-lost-key")
	says(t, got.out, "nobody who was erased is kept out")

	move(t, db, db+".new")
	remove(t, db+".key")
	move(t, db+".old", db)
	got = served("--without-key") // it opens the database, then ends for want of a place to listen
	says(t, got.err, "Gone on without the old key", "once-only marks", "RUNGBOOK_LISTEN")
	if got = run(t, "", at(db), "check"); got.status != statusDone {
		t.Errorf("check after it: %s", got.out)
	}
}

// TestUnprovedBackup: a backup without its checksum is taken on demand alone.
func TestUnprovedBackup(t *testing.T) {
	db, copied := hosted(t)
	remove(t, db, copied+".sha256")
	got := run(t, "", at(db), "restore", copied)
	if got.status != statusUse {
		t.Errorf("%d %s", got.status, got.err)
	}
	says(t, got.err, copied+".sha256", "--without-checksum")
	if got := run(t, "", at(db), "restore", copied, "--without-checksum"); got.status != statusDone {
		t.Errorf("%d %s", got.status, got.err)
	}
}

// TestBackupOntoTheKey leaves the key what it is.
func TestBackupOntoTheKey(t *testing.T) {
	db, _ := hosted(t)
	link := filepath.Join(t.TempDir(), "link")
	if err := os.Symlink(filepath.Dir(db), link); err != nil {
		t.Fatal(err)
	}
	for _, end := range []string{"", ".key", ".erased"} {
		got := run(t, "", at(db), "backup", filepath.Join(link, "rungbook.db"+end))
		if got.status == statusDone {
			t.Errorf("onto the database%s: %s", end, got.out)
		}
		says(t, got.err, "name another file")
	}
	if got := run(t, "", at(db), "check"); got.status != statusDone {
		t.Errorf("check after it: %s", got.out)
	}
}

// TestWhatIsLostIsFoundAtStart: a lost database, a damaged list, and a time zone
// that is none are told by check, and serve does not begin.
func TestWhatIsLostIsFoundAtStart(t *testing.T) {
	for name, c := range map[string]struct {
		do   func(t *testing.T, db string)
		want []string
	}{
		"database": {func(t *testing.T, db string) { remove(t, db) }, []string{"no database", "restore"}},
		"list": {func(t *testing.T, db string) {
			if err := os.WriteFile(db+".erased", []byte("# the erased\n"), 0o600); err != nil {
				t.Fatal(err)
			}
		}, []string{"list of the erased", "move it aside"}},
	} {
		t.Run(name, func(t *testing.T) {
			db, _ := hosted(t)
			c.do(t, db)
			got := run(t, "", at(db), "check")
			if got.status != statusFaults {
				t.Errorf("check: %d", got.status)
			}
			says(t, got.out, c.want...)
			env := at(db)
			env["RUNGBOOK_TOKEN"] = "x"
			got = run(t, "", env, "serve")
			if got.status != statusUse || strings.Count(got.err, "\n") != 1 {
				t.Errorf("serve: %d %s", got.status, got.err)
			}
			says(t, got.err, c.want...)
			if _, err := os.Stat(db); name == "database" && err == nil {
				t.Error("a new database was made in silence")
			}
		})
	}
}
