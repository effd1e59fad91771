package store_test

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"rungbook/store"
	"rungbook/training"
)

// restore makes a database of a backup with the tests' key and no list of the
// erased.
func restore(backup, to string, heed ...string) error {
	_, err := store.Restore(context.Background(), store.Options{Path: to, Key: key}, store.Restoration{From: backup, Heed: heed})
	return err
}

// sameAnswers holds all that the two databases can be asked against each other.
func sameAnswers(t *testing.T, got, want *store.DB) {
	t.Helper()
	ask := func(db *store.DB) (all map[string]any) {
		view(t, db, func(tx *store.Tx) (err error) {
			all, err = answers(tx)
			record, err2 := tx.Record(7, 11)
			logs, err3 := tx.MemberLogs(7, 11, firstOfAll, lastOfAll)
			all["whole"] = []any{record, logs}
			return errors.Join(err, err2, err3)
		})
		return all
	}
	restored := ask(got)
	for what, wanted := range ask(want) {
		same(t, what, restored[what], wanted)
	}
}

const firstOfAll, lastOfAll training.Day = 1, 1 << 30

// TestBackupWhileLogsComeIn is the drill for P12: back up while a writer writes,
// restore elsewhere, and find a moment that was, whole.
func TestBackupWhileLogsComeIn(t *testing.T) {
	folder, ctx := t.TempDir(), context.Background()
	db := withTeam(t)
	stop := make(chan struct{})
	var writer sync.WaitGroup
	writer.Go(func() {
		for id := training.MessageID(1); ; id += 2 {
			select {
			case <-stop:
				return
			default:
			}
			err := db.Update(ctx, func(tx *store.Tx) error {
				return errors.Join(tx.PutLog(logOf(id, 11, 3)), tx.PutLog(logOf(id+1, 12, 3)))
			})
			if err != nil {
				t.Error(err)
				return
			}
		}
	})
	backup := filepath.Join(folder, "backup.db")
	for range 5 { // each replaces the one before
		if err := db.Backup(ctx, backup); err != nil {
			t.Fatal(err)
		}
	}
	close(stop)
	writer.Wait()
	to := filepath.Join(folder, "restored.db")
	if err := restore(backup, to); err != nil {
		t.Fatal(err)
	}
	restored := openAt(t, to)
	if faults, err := restored.Check(ctx); err != nil || len(faults) > 0 {
		t.Errorf("faults %v, error %v", faults, err)
	}
	view(t, restored, func(tx *store.Tx) error {
		one, err := tx.DayLogs(7, 11, october)
		other, err2 := tx.DayLogs(7, 12, october)
		if len(one) == 0 || len(one) != len(other) {
			t.Errorf("%d logs of one, %d of the other", len(one), len(other))
		}
		return errors.Join(err, err2)
	})

	// With nobody writing, the copy says exactly what the database says.
	if err := db.Backup(ctx, backup); err != nil {
		t.Fatal(err)
	}
	if err := restore(backup, to+"2"); err != nil {
		t.Fatal(err)
	}
	sameAnswers(t, openAt(t, to+"2"), db)
	for _, file := range filesOf(t, folder) {
		if strings.Contains(file, ".part") {
			t.Errorf("%s was left behind", file)
		}
	}
}

func TestBackupBesideTheBot(t *testing.T) {
	path := filepath.Join(t.TempDir(), "bot.db")
	db := openAt(t, path)
	update(t, db, func(tx *store.Tx) error { return tx.PutTeam(tidewater(t)) })
	reader, err := store.Open(context.Background(), store.Options{Path: path, ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	defer reader.Close()
	if err := reader.Backup(context.Background(), path+".backup"); err != nil {
		t.Fatal(err)
	}
	sameAnswers(t, openAt(t, path+".backup"), db)
}

func TestBackupRefusals(t *testing.T) {
	path := filepath.Join(t.TempDir(), "bot.db")
	db := openAt(t, path)
	stopped, stop := context.WithCancel(context.Background())
	stop()
	for name, c := range map[string]struct {
		ctx      context.Context
		to, want string
	}{
		"itself":    {context.Background(), path, "the database itself"},
		"no folder": {context.Background(), filepath.Join(path+".d", "b.db"), "no such file"},
		"stopped":   {stopped, path + ".backup", "context canceled"},
	} {
		if err := db.Backup(c.ctx, c.to); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v", name, err)
		}
	}
	for _, file := range filesOf(t, filepath.Dir(path)) {
		if strings.Contains(file, ".backup") {
			t.Errorf("%s was left behind", file)
		}
	}
}

// TestRestoreKeepsOut restores a backup from before an erasure: the list of
// the database being replaced holds.
func TestRestoreKeepsOut(t *testing.T) {
	folder, ctx := t.TempDir(), context.Background()
	present := filepath.Join(folder, "bot.db")
	db := openAt(t, present)
	life(t, db, 30)
	backup := filepath.Join(folder, "backup.db")
	if err := db.Backup(ctx, backup); err != nil {
		t.Fatal(err)
	}
	update(t, db, func(tx *store.Tx) error { return tx.Erase(erased) })

	heeding, heedless := filepath.Join(t.TempDir(), "bot.db"), filepath.Join(t.TempDir(), "bot.db")
	if err := restore(backup, heeding, present); err != nil {
		t.Fatal(err)
	}
	if after := traces(t, filesOf(t, filepath.Dir(heeding))...); len(after) > 0 {
		t.Errorf("restored traces: %v", after)
	}
	view(t, openAt(t, heeding), func(tx *store.Tx) error {
		blocked, err := tx.Blocked(erased)
		if !blocked {
			t.Error("the block was not taken over")
		}
		record, err2 := tx.Record(7, another)
		if len(record.Sessions) != 30 {
			t.Errorf("the one who stays has %d sessions", len(record.Sessions))
		}
		return errors.Join(err, err2)
	})
	if err := restore(backup, heedless); err != nil {
		t.Fatal(err)
	}
	if len(traces(t, heedless)) == 0 {
		t.Error("no traces without the list either: this test shows nothing")
	}
}

// TestRestoreSendsNothingTwice: what the backup holds as never tried may have
// been sent since, so that the sender must look first.
func TestRestoreSendsNothingTwice(t *testing.T) {
	folder, ctx := t.TempDir(), context.Background()
	db := withTeam(t)
	waiting := form(t, db, "waiting")
	tried := form(t, db, "tried")
	if err := db.Claim(ctx, tried, at(5)); err != nil {
		t.Fatal(err)
	}
	backup, to := filepath.Join(folder, "backup.db"), filepath.Join(folder, "bot.db")
	if err := db.Backup(ctx, backup); err != nil {
		t.Fatal(err)
	}
	if err := restore(backup, to); err != nil {
		t.Fatal(err)
	}
	restored := openAt(t, to)
	postIs(t, restored, waiting, "waiting", "sending", at(0).Truncate(24*time.Hour)) // it was formed that day
	postIs(t, restored, tried, "tried", "sending", at(5))
}

func TestRestoreRefusals(t *testing.T) {
	ctx := context.Background()
	db := withTeam(t)
	backup := filepath.Join(t.TempDir(), "backup.db")
	update(t, db, func(tx *store.Tx) error {
		var err error
		for i := range training.MessageID(1000) {
			err = errors.Join(err, tx.PutLog(logOf(i+1, 11, 1)))
		}
		return err
	})
	if err := db.Backup(ctx, backup); err != nil {
		t.Fatal(err)
	}
	file := func(name, text string) string {
		path := filepath.Join(t.TempDir(), name)
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	whole, err := os.ReadFile(backup)
	if err != nil {
		t.Fatal(err)
	}
	damaged := file("damaged.db", string(whole))
	overwrite(t, damaged, 10*4096, bytes.Repeat([]byte{0xa5}, 5*4096))
	left := file("bot.db-wal", "the last of what was written")
	running := filepath.Join(t.TempDir(), "running.db")
	openAt(t, running)
	free := func() string { return filepath.Join(t.TempDir(), "bot.db") }

	for name, c := range map[string]struct {
		from, to, want string
		key            []byte
		heed           []string
	}{
		"in place":          {from: backup, to: file("bot.db", "anything"), want: "move it aside", key: key},
		"a log is left":     {from: backup, to: strings.TrimSuffix(left, "-wal"), want: "together with its -wal", key: key},
		"running":           {from: backup, to: running, want: "another process", key: key},
		"no backup":         {from: free(), to: free(), want: "no such file", key: key},
		"empty":             {from: file("empty.db", ""), to: free(), want: "the backup is empty", key: key},
		"not a database":    {from: file("letter.db", strings.Repeat("Dear Ilda. ", 99)), to: free(), want: "not a database", key: key},
		"another program's": {from: foreign(t, "CREATE TABLE recipe (id INTEGER)"), to: free(), want: "another program", key: key},
		"damaged":           {from: damaged, to: free(), want: "damaged", key: key},
		"no key":            {from: backup, to: free(), want: "without its key"},
		"another key":       {from: backup, to: free(), want: "not the one", key: []byte("another key of 16 bytes or more")},
		"no folder":         {from: backup, to: filepath.Join(free(), "bot.db"), want: "there is no folder", key: key},
		"heeds nothing":     {from: backup, to: free(), want: "read who was erased", key: key, heed: []string{free()}},
	} {
		t.Run(name, func(t *testing.T) {
			before, _ := os.ReadFile(c.to)
			_, err := store.Restore(ctx, store.Options{Path: c.to, Key: c.key}, store.Restoration{From: c.from, Heed: c.heed, WithoutChecksum: true})
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error %v does not say %q", err, c.want)
			}
			after, _ := os.ReadFile(c.to)
			if !bytes.Equal(before, after) {
				t.Error("the place was written to")
			}
			if found, _ := filepath.Glob(c.to + ".*.part*"); len(found) > 0 {
				t.Errorf("%v were left behind", found)
			}
		})
	}
}
