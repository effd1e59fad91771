package bot_test

import (
	"context"
	"database/sql"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	_ "modernc.org/sqlite"

	"rungbook/bot"
	"rungbook/training"
)

// BenchmarkMessage is one logged message end to end: read, stored, derived,
// answered. BareInsert beside it is the same rows and nothing else, on a file
// with the same durability.
func BenchmarkMessage(b *testing.B) {
	b.Run("logged on file", func(b *testing.B) {
		benchMessage(b, filepath.Join(b.TempDir(), "rungbook.db"), "3x30s deep hang, 2x1min transitions")
	})
	b.Run("logged in memory", func(b *testing.B) { benchMessage(b, shm(b), "3x30s deep hang, 2x1min transitions") })
	b.Run("chatter", func(b *testing.B) { benchMessage(b, shm(b), "who brings the tape on Thursday?") })
	b.Run("bare insert on file", func(b *testing.B) { benchInsert(b, filepath.Join(b.TempDir(), "bare.db")) })
	b.Run("bare insert in memory", func(b *testing.B) { benchInsert(b, shm(b)+".bare") })
}

func benchMessage(b *testing.B, path, text string) {
	h := newHouse(b, path)
	at := h.at("2026-10-05 19:00")
	id := training.MessageID(1000)
	for b.Loop() {
		id++
		// A session a week, so that the record grows as a member's does.
		at = at.Add(7 * 24 * time.Hour)
		_, err := h.bot.Step(context.Background(), bot.Message{ID: id, Team: team, Author: h.cast["Priya"], Place: bot.Channel, Text: text, At: at})
		if err != nil {
			b.Fatal(err)
		}
		if id%50 == 0 {
			b.StopTimer()
			h.says("2026-10-05 19:00", "Priya", "/mydata erase")
			h.says("2026-10-05 19:00", "Priya", "/me rejoin:yes")
			at = h.at("2026-10-05 19:00")
			b.StartTimer()
		}
	}
}

func benchInsert(b *testing.B, path string) {
	db, err := sql.Open("sqlite", "file:"+path+"?_txlock=immediate&_pragma=journal_mode(WAL)&_pragma=synchronous(FULL)")
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { db.Close() })
	if _, err := db.Exec(`CREATE TABLE log (id INTEGER PRIMARY KEY, member INTEGER, day TEXT) STRICT;
		CREATE TABLE work (log INTEGER, place INTEGER, rung TEXT, work_s INTEGER, PRIMARY KEY (log, place)) STRICT`); err != nil {
		b.Fatal(err)
	}
	id := 0
	for b.Loop() {
		id++
		if err := insert(db, id); err != nil {
			b.Fatal(err)
		}
	}
}

func insert(db *sql.DB, id int) error {
	tx, err := db.Begin()
	if err != nil {
		return err
	}
	defer tx.Rollback()
	if _, err := tx.Exec(`INSERT INTO log VALUES (?, 3, '2026-10-05')`, id); err != nil {
		return err
	}
	for place := range 5 {
		if _, err := tx.Exec(`INSERT INTO work VALUES (?, ?, 'deep-hang', 30)`, id, place); err != nil {
			return err
		}
	}
	return tx.Commit()
}

// shm is a database path in memory, where the machine has such a place.
func shm(b *testing.B) string {
	b.Helper()
	dir := fmt.Sprintf("/dev/shm/rungbook-bench-%d", time.Now().UnixNano())
	if err := os.Mkdir(dir, 0o700); err != nil {
		return filepath.Join(b.TempDir(), "rungbook.db")
	}
	b.Cleanup(func() { os.RemoveAll(dir) })
	return filepath.Join(dir, "rungbook.db")
}
