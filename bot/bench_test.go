package bot_test

import (
	"context"
	"database/sql"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"rungbook/bot"
	"rungbook/store/storetest"
	"rungbook/training"
)

// BenchmarkMessage is one logged message end to end: read, stored, derived,
// answered. A bare insert beside it writes the same rows into the same tables,
// with the same durability, and does nothing else.
func BenchmarkMessage(b *testing.B) {
	b.Run("logged on file", func(b *testing.B) {
		benchMessage(b, filepath.Join(b.TempDir(), "rungbook.db"), "3x30s deep hang, 2x1min transitions")
	})
	b.Run("logged in memory", func(b *testing.B) { benchMessage(b, shm(b), "3x30s deep hang, 2x1min transitions") })
	b.Run("chatter", func(b *testing.B) { benchMessage(b, shm(b), "who brings the tape on Thursday?") })
	b.Run("bare insert on file", func(b *testing.B) { benchInsert(b, filepath.Join(b.TempDir(), "rungbook.db")) })
	b.Run("bare insert in memory", func(b *testing.B) { benchInsert(b, shm(b)) })
}

// BenchmarkLogAgainstBareInsert writes logs and bare inserts by turns, each on a
// file of its own, so that a busy disk slows both, and reports the medians'
// ratio: a log should take at most twice as long.
func BenchmarkLogAgainstBareInsert(b *testing.B) {
	h := newHouse(b, filepath.Join(b.TempDir(), "rungbook.db"))
	db := openBare(b, filepath.Join(b.TempDir(), "bare.db"))
	var logged, bare []time.Duration
	at := h.at("2026-10-05 19:00")
	for b.Loop() {
		n := len(logged)
		h.last, at = h.last+1, at.Add(7*24*time.Hour)
		if n%50 == 49 {
			h.says("2026-10-05 19:00", "Priya", "/mydata erase")
			h.says("2026-10-05 19:00", "Priya", "/me rejoin:yes")
			at = h.at("2026-10-05 19:00")
		}
		began := time.Now()
		h.step(bot.Message{ID: h.last, Team: team, Author: h.cast["Priya"], Place: bot.Channel, Text: "3x30s deep hang, 2x1min transitions", At: at})
		logged = append(logged, time.Since(began))
		began = time.Now()
		if err := storetest.InsertLog(db, n); err != nil {
			b.Fatal(err)
		}
		bare = append(bare, time.Since(began))
	}
	slices.Sort(logged)
	slices.Sort(bare)
	middle := len(logged) / 2
	b.ReportMetric(float64(logged[middle])/float64(bare[middle]), "logs/bare")
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
	db := openBare(b, path)
	id := 1000
	for b.Loop() {
		id++
		if err := storetest.InsertLog(db, id); err != nil {
			b.Fatal(err)
		}
	}
}

// openBare opens a database of a team's for inserts that go past the store.
func openBare(b *testing.B, path string) *sql.DB {
	newHouse(b, path)
	db, err := storetest.OpenBare(path)
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { db.Close() })
	return db
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
