package store

import (
	"context"
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	sqlite3 "modernc.org/sqlite/lib"

	"rungbook/training"
)

// TestSettingsAreReadBack connects with each setting left out, as a misspelt
// one would be: no connection comes of it.
func TestSettingsAreReadBack(t *testing.T) {
	path := filepath.Join(t.TempDir(), "bot.db")
	openTest(t, path)
	for _, m := range everyMode {
		for _, left := range pragmas {
			if !left.of(m) || left.name == "journal_mode" || left.name == "synchronous" {
				continue // kept in the file, and the default
			}
			address := strings.Replace(dsn(path, m), left.ask, "_misspelt=1", 1)
			raw, err := sql.Open("sqlite", address)
			if err != nil {
				t.Fatal(err)
			}
			defer raw.Close()
			c, err := raw.Conn(context.Background())
			if err != nil {
				t.Fatal(err)
			}
			defer c.Close()
			if err := readBack(context.Background(), c, m); err == nil || !strings.Contains(err.Error(), "setting "+left.name) {
				t.Errorf("mode %d without %s: error %v", m, left.name, err)
			}
		}
	}
}

func TestSettingsOfTheFile(t *testing.T) {
	for _, left := range []string{"_journal_mode=WAL", "_synchronous=FULL"} {
		path := filepath.Join(t.TempDir(), "bot.db")
		if err := plainFiles.create(path); err != nil {
			t.Fatal(err)
		}
		raw, err := sql.Open("sqlite", strings.Replace(dsn(path, writing), left, left[:strings.Index(left, "=")]+"=OFF", 1))
		if err != nil {
			t.Fatal(err)
		}
		defer raw.Close()
		c, err := raw.Conn(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close()
		if err := readBack(context.Background(), c, writing); err == nil || !strings.Contains(err.Error(), "did not take") {
			t.Errorf("without %s: error %v", left, err)
		}
	}
}

func TestNetworkFileSystemRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), "bot.db")
	o := Options{Path: path, fileSystem: func(string) (string, bool, error) { return "nfs", true, nil }}
	if _, err := Open(context.Background(), o); err == nil || !strings.Contains(err.Error(), "network file system (nfs)") {
		t.Errorf("error %v", err)
	}
	if _, err := os.Stat(path); err == nil {
		t.Error("the file was made all the same")
	}
	if name, network, err := fileSystem(filepath.Dir(path)); network || err != nil {
		t.Errorf("the test's own folder is on %s, error %v", name, err)
	}
}

func logAt(id int, sets int) training.Log {
	log := training.Log{ID: training.MessageID(id), Team: 7, Member: 11, Author: 11, At: time.UnixMilli(int64(id)), State: training.LogLive, Days: training.OnDay(training.Date(2026, 10, 5))}
	for i := range sets {
		log.Days[0].Sets = append(log.Days[0].Sets, training.Set{Rung: "deep hang", WorkS: i})
	}
	return log
}

func openWithTeam(t testing.TB) *DB {
	t.Helper()
	db := openTest(t, filepath.Join(t.TempDir(), "bot.db"))
	if err := db.Update(context.Background(), func(tx *Tx) error {
		return tx.PutTeam(training.Team{ID: 7, Name: "Tidewater Rings", Zone: time.UTC})
	}); err != nil {
		t.Fatal(err)
	}
	return db
}

// onWriter runs a statement outside of any transaction.
func onWriter(t testing.TB, db *DB, query string) {
	t.Helper()
	c, err := db.writer.take(context.Background(), db.closed)
	if err != nil {
		t.Fatal(err)
	}
	defer db.writer.give(c)
	if err := c.run(query); err != nil {
		t.Fatal(err)
	}
}

// TestFull holds P6. It lets the database run out of pages, as a full disk
// does: an honest refusal, nothing half stored, and it goes on once there is
// room.
func TestFull(t *testing.T) {
	db, ctx := openWithTeam(t), context.Background()
	onWriter(t, db, "PRAGMA max_page_count = 60")
	stored := 0
	var err error
	for err == nil {
		stored++
		err = db.Update(ctx, func(tx *Tx) error { return tx.PutLog(logAt(stored, 40)) })
	}
	if !errors.Is(err, ErrFull) {
		t.Fatalf("after %d logs: %v", stored, err)
	}
	count := func() string {
		return texts(t, db, "SELECT count(*) || ' ' || (SELECT count(*) FROM bout) FROM log")[0]
	}
	if got, want := count(), texts(t, db, "SELECT ? || ' ' || ?", stored-1, 40*(stored-1))[0]; got != want {
		t.Errorf("logs and sets: %s, want %s", got, want)
	}
	onWriter(t, db, "PRAGMA max_page_count = 100000")
	if err := db.Update(ctx, func(tx *Tx) error { return tx.PutLog(logAt(stored, 40)) }); err != nil {
		t.Errorf("with room again: %v", err)
	}
	if faults, err := db.Check(ctx); err != nil || len(faults) > 0 {
		t.Errorf("faults %v, error %v", faults, err)
	}
}

// TestLostTransaction ends the transaction behind the store's back, as the
// database itself does after some failures: the next one has a connection.
func TestLostTransaction(t *testing.T) {
	db, ctx := openWithTeam(t), context.Background()
	lost := errors.New("lost")
	err := db.Update(ctx, func(tx *Tx) error {
		if err := tx.PutLog(logAt(1, 1)); err != nil {
			return err
		}
		if err := tx.conn.run("ROLLBACK"); err != nil {
			return err
		}
		return lost
	})
	if !errors.Is(err, lost) {
		t.Fatal(err)
	}
	if err := db.Update(ctx, func(tx *Tx) error { return tx.PutLog(logAt(2, 1)) }); err != nil {
		t.Fatal(err)
	}
	if got := texts(t, db, "SELECT CAST(id AS TEXT) FROM log"); len(got) != 1 || got[0] != "2" {
		t.Errorf("logs %v, want 2 alone", got)
	}
}

// TestFailedBegin fails after BEGIN and before the first read: the connection
// is good for the next one.
func TestFailedBegin(t *testing.T) {
	db, ctx := openWithTeam(t), context.Background()
	c, err := db.writer.take(ctx, db.closed)
	if err != nil {
		t.Fatal(err)
	}
	if err := c.stmts["PRAGMA user_version"].Close(); err != nil {
		t.Fatal(err)
	}
	db.writer.give(c)
	if err := db.Update(ctx, func(*Tx) error { t.Error("ran"); return nil }); err == nil {
		t.Fatal("the first read did not fail: this test shows nothing")
	}
	delete(c.stmts, "PRAGMA user_version")
	if err := db.Update(ctx, func(tx *Tx) error { return tx.PutLog(logAt(1, 1)) }); err != nil {
		t.Errorf("the next one: %v", err)
	}
}

// coded is a failure as the driver gives it; the driver makes none by hand.
func coded(t *testing.T, code int) error {
	t.Helper()
	for _, failure := range failures(t) {
		if failure.Code()&0xff == code {
			return failure
		}
	}
	t.Fatalf("no failure of code %d", code)
	return nil
}

type failure interface {
	error
	Code() int
}

// failures provokes what a host can meet.
func failures(t *testing.T) (all []failure) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "bot.db")
	openTest(t, path)
	try := func(address, query string) {
		raw, err := sql.Open("sqlite", address)
		if err != nil {
			t.Fatal(err)
		}
		defer raw.Close()
		_, err = raw.Exec(query)
		var f failure
		if !errors.As(err, &f) {
			t.Fatalf("%s: error %v", query, err)
		}
		all = append(all, f)
	}
	try(dsn(path, reading), "DELETE FROM team")
	try(fileURI(path+".none", "mode=ro"), "SELECT 1 FROM sqlite_schema")
	try(dsn(path, copying), "SELECT absent FROM team")
	return all
}

func TestExplain(t *testing.T) {
	for code, want := range map[int]string{
		sqlite3.SQLITE_READONLY: "the right to write",
		sqlite3.SQLITE_CANTOPEN: "the right to read and write",
		sqlite3.SQLITE_ERROR:    "no such column",
	} {
		err := coded(t, code)
		got := explain(err)
		if !strings.Contains(got.Error(), want) || !errors.Is(got, err) {
			t.Errorf("code %d: %v", code, got)
		}
	}
	plain := errors.New("plain")
	if explain(plain) != plain {
		t.Error("an error of no database was changed")
	}
}

// TestCheckFindsFaults breaks a database in ways that SQLite lets through.
func TestCheckFindsFaults(t *testing.T) {
	db := openWithTeam(t)
	if err := db.Update(context.Background(), func(tx *Tx) error { return tx.PutLog(logAt(1, 2)) }); err != nil {
		t.Fatal(err)
	}
	onWriter(t, db, "PRAGMA foreign_keys = 0")
	onWriter(t, db, "DELETE FROM log")
	onWriter(t, db, "PRAGMA user_version = 3")
	onWriter(t, db, "PRAGMA application_id = 5")
	onWriter(t, db, "PRAGMA ignore_check_constraints = 1")
	onWriter(t, db, "UPDATE team SET days = 900")
	faults, err := db.Check(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	all := strings.Join(faults, "\n")
	for _, want := range []string{"2 rows of bout belong to no log", "schema is 3", "another program", "CHECK constraint failed in team"} {
		if !strings.Contains(all, want) {
			t.Errorf("%q is not among the faults:\n%s", want, all)
		}
	}
}

// TestWhoPausedIsForgotten: what is left of an ended pause is when it was.
// TestErasedActor: a coach who goes is nowhere named as the one who acted.
// TestUpdateKeepsOthersOut: from its first moment on an Update holds the lock,
// so that none that reads first and then writes can fail halfway.
func TestUpdateKeepsOthersOut(t *testing.T) {
	db := openWithTeam(t)
	raw, err := sql.Open("sqlite", fileURI(db.path, "mode=rw", "_busy_timeout=0"))
	if err != nil {
		t.Fatal(err)
	}
	defer raw.Close()
	err = db.Update(context.Background(), func(tx *Tx) error {
		var failed failure
		if _, err := raw.Exec("DELETE FROM log"); !errors.As(err, &failed) || failed.Code()&0xff != sqlite3.SQLITE_BUSY {
			t.Errorf("somebody else writes during an update: error %v", err)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// TestUnsoundIsNotBackedUp leaves the earlier backup where it is.
func TestUnsoundIsNotBackedUp(t *testing.T) {
	db, ctx := openWithTeam(t), context.Background()
	path := db.path + ".backup"
	if err := db.Update(ctx, func(tx *Tx) error { return tx.PutLog(logAt(1, 2)) }); err != nil {
		t.Fatal(err)
	}
	if err := db.Backup(ctx, path); err != nil {
		t.Fatal(err)
	}
	before, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	onWriter(t, db, "PRAGMA foreign_keys = 0")
	onWriter(t, db, "DELETE FROM log")
	if err := db.Backup(ctx, path); err == nil || !strings.Contains(err.Error(), "not sound: 2 rows of bout") {
		t.Errorf("error %v", err)
	}
	if after, err := os.ReadFile(path); err != nil || string(after) != string(before) {
		t.Errorf("the earlier backup was changed, error %v", err)
	}
}

// TestHashesAreOfTheirKind: knowing whose hash is on one list says nothing of
// another.
// TestLatestPause voids the one that was set last of two of one day.
// TestEarlierCorrectionChangesNothing keeps the latest instant.
