package store_test

import (
	"bytes"
	"context"
	"database/sql"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"testing"

	"rungbook/store"
	"rungbook/training"
)

// childEnv makes the test binary a second process that opens the database
// named, says so, and holds it until its input ends.
const childEnv = "STORE_TEST_HOLD"

func TestMain(m *testing.M) {
	if path := os.Getenv(childEnv); path != "" {
		hold(path)
		return
	}
	os.Exit(m.Run())
}

func hold(path string) {
	db, err := store.Open(context.Background(), store.Options{Path: path, Key: key})
	if err != nil {
		os.Stdout.WriteString(err.Error() + "\n")
		os.Exit(1)
	}
	defer db.Close()
	os.Stdout.WriteString("open\n")
	io.Copy(io.Discard, os.Stdin)
}

func refused(t *testing.T, o store.Options, want string) {
	t.Helper()
	db, err := store.Open(context.Background(), o)
	if err == nil {
		db.Close()
		t.Fatalf("opened; want an error that says %q", want)
	}
	if !strings.Contains(err.Error(), want) {
		t.Errorf("error %q does not say %q", err, want)
	}
}

func TestOneWriter(t *testing.T) {
	path := filepath.Join(t.TempDir(), "bot.db")
	child := exec.Command(os.Args[0])
	child.Env = append(os.Environ(), childEnv+"="+path)
	in, err := child.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	out, err := child.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := child.Start(); err != nil {
		t.Fatal(err)
	}
	said := make([]byte, 5)
	if _, err := io.ReadFull(out, said); err != nil || string(said) != "open\n" {
		t.Fatalf("the other process says %q, error %v", said, err)
	}
	refused(t, store.Options{Path: path, Key: key}, "another process has it open")

	reader, err := store.Open(context.Background(), store.Options{Path: path, Key: key, ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	view(t, reader, func(tx *store.Tx) error { _, err := tx.Teams(); return err })
	if err := reader.Update(context.Background(), func(*store.Tx) error { return nil }); err == nil {
		t.Error("wrote without the lock")
	}
	if err := reader.Close(); err != nil {
		t.Error(err)
	}

	// Killed, not closed: the lock goes with the process.
	if err := child.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	child.Wait() // says that it was killed
	openAt(t, path)
	refused(t, store.Options{Path: path, Key: key}, "another process has it open")
}

// foreign makes a database by plain SQL.
func foreign(t *testing.T, script string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "other.db")
	raw, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	defer raw.Close()
	if _, err := raw.Exec(script); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestRefusesAndLeavesAlone(t *testing.T) {
	garbage := filepath.Join(t.TempDir(), "letter.txt")
	if err := os.WriteFile(garbage, []byte(strings.Repeat("Dear Ilda, the boathouse roof leaks.\n", 200)), 0o600); err != nil {
		t.Fatal(err)
	}
	damaged := filepath.Join(t.TempDir(), "damaged.db")
	db := openAt(t, damaged)
	update(t, db, func(tx *store.Tx) error {
		err := tx.PutTeam(tidewater(t))
		for i := range training.MessageID(2000) {
			if err == nil {
				err = tx.PutLog(logOf(i+1, 11, 1))
			}
		}
		return err
	})
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	overwrite(t, damaged, 20*4096, bytes.Repeat([]byte{0xa5}, 3*4096))

	for name, c := range map[string]struct{ path, want string }{
		"not a database":        {garbage, "not a database"},
		"another program's":     {foreign(t, "CREATE TABLE recipe (id INTEGER)"), "another program"},
		"another application":   {foreign(t, "CREATE TABLE t (a); PRAGMA application_id = 77"), "another program"},
		"another's empty":       {foreign(t, "PRAGMA user_version = 3"), "another program"},
		"newer":                 {foreign(t, "PRAGMA application_id = 0x52756e67; PRAGMA user_version = 4711"), "newer version"},
		"damaged":               {damaged, "restore a backup"},
		"a folder":              {t.TempDir(), "not a plain file"},
		"no folder":             {filepath.Join(t.TempDir(), "nowhere", "bot.db"), "there is no folder"},
		"a file for its folder": {filepath.Join(garbage, "bot.db"), "there is no folder"},
	} {
		t.Run(name, func(t *testing.T) {
			before, _ := os.ReadFile(c.path)
			refused(t, store.Options{Path: c.path, Key: key}, c.want)
			after, _ := os.ReadFile(c.path)
			if !bytes.Equal(before, after) {
				t.Error("the file was changed")
			}
			if lines := strings.Count(errorOf(c.path), "\n"); lines > 0 {
				t.Errorf("the error has %d more lines", lines)
			}
		})
	}
}

func errorOf(path string) string {
	_, err := store.Open(context.Background(), store.Options{Path: path, Key: key})
	return err.Error()
}

func overwrite(t *testing.T, path string, at int64, with []byte) {
	t.Helper()
	file, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	if _, err := file.WriteAt(with, at); err != nil {
		t.Fatal(err)
	}
}

func TestReadOnlyNeedsADatabase(t *testing.T) {
	path := filepath.Join(t.TempDir(), "bot.db")
	refused(t, store.Options{Path: path, ReadOnly: true}, "no such file")
	refused(t, store.Options{Path: foreign(t, "PRAGMA application_id = 0x52756e67; PRAGMA user_version = 2"), ReadOnly: true}, "start the bot once")
	if _, err := os.Stat(path); err == nil {
		t.Error("opening to read only made the file")
	}
}

func TestKey(t *testing.T) {
	path := filepath.Join(t.TempDir(), "bot.db")
	refused(t, store.Options{Path: path, Key: []byte("short")}, "at least 16")
	db, err := store.Open(context.Background(), store.Options{Path: path})
	if err != nil {
		t.Fatal(err)
	}
	for name, do := range map[string]func(tx *store.Tx) error{
		"blocked":  func(tx *store.Tx) error { _, err := tx.Blocked(1); return err },
		"unblock":  func(tx *store.Tx) error { return tx.Unblock(1, noon) },
		"erase":    func(tx *store.Tx) error { return tx.Erase(1) },
		"act once": func(tx *store.Tx) error { _, err := tx.ActOnce(1, "pause", noon); return err },
	} {
		if err := db.Update(context.Background(), do); err == nil || !strings.Contains(err.Error(), "without its key") {
			t.Errorf("%s without a key: error %v", name, err)
		}
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	if err := openAt(t, path).Close(); err != nil {
		t.Fatal(err)
	}
	refused(t, store.Options{Path: path, Key: []byte("another key of 16 bytes or more")}, "not the one")
	openAt(t, path)
}

func TestFilesAreTheOwnersAlone(t *testing.T) {
	if runtime.GOOS == "windows" {
		return // its rights are not of this kind
	}
	path := filepath.Join(t.TempDir(), "bot.db")
	db := openAt(t, path)
	update(t, db, func(tx *store.Tx) error { return tx.PutTeam(tidewater(t)) })
	backup := path + ".backup"
	if err := db.Backup(context.Background(), backup); err != nil {
		t.Fatal(err)
	}
	for _, file := range []string{path, path + "-wal", path + "-shm", path + ".lock", backup} {
		info, err := os.Stat(file)
		if err != nil {
			t.Fatal(err)
		}
		if info.Mode().Perm() != 0o600 {
			t.Errorf("%s has the rights %o, want 600", file, info.Mode().Perm())
		}
	}
}

// TestOddNames opens databases whose names mean something in an address.
func TestOddNames(t *testing.T) {
	for _, name := range []string{"a b.db", "50%.db", "what?.db", "#1.db", "tomé.db", "a&mode=memory.db"} {
		path := filepath.Join(t.TempDir(), name)
		openAt(t, path)
		if _, err := os.Stat(path); err != nil {
			t.Error(err)
		}
	}
}

// TestPinned holds the versions that go together: the driver is made for one
// version of its C library, and a plain "go get -u" would part them.
func TestPinned(t *testing.T) {
	text, err := os.ReadFile("../go.mod")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"modernc.org/sqlite v1.62.0", "modernc.org/libc v1.80.1"} {
		if !regexp.MustCompile(`(?m)^\s*` + regexp.QuoteMeta(want) + `(\s|$)`).Match(text) {
			t.Errorf("go.mod does not ask for %s", want)
		}
	}
}
