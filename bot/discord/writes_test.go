package discord_test

import (
	"encoding/binary"
	"os"
	"testing"

	"rungbook/bot/discord/discordtest"
	"rungbook/store"
	"rungbook/training"
)

// A log is written once and its answer once; chatter writes nothing.
func TestWritingTransactionsOfAMessage(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	s.says("Priya", "3x30s deep hang", 1) // her first, which brings the welcome
	s.says("Priya", "3x20s high hold", 1)
	s.quiet()
	s.adapter.Rest()
	for _, c := range []struct {
		text          string
		answers, want int
	}{
		{"3x30s deep hang, 2x1min transitions", 1, 2},
		{"2x20s support, dips 5, 5, 4", 1, 2},
		{"3x30s depe hang", 1, 2},  // asked about
		{"/3x20s high hold", 1, 2}, // a slash, and no command
		{"who brings the tape?", 0, 0},
	} {
		before := writes(t, s.path)
		s.says("Priya", c.text, c.answers)
		s.quiet()
		s.adapter.Rest() // the note of the answer is behind the answer
		if got := writes(t, s.path) - before; got != c.want {
			t.Errorf("%q took %d writing transactions, want %d", c.text, got, c.want)
		}
		if s.hasUnanswered() {
			t.Errorf("%q counts as unanswered", c.text)
		}
	}
}

// hasUnanswered reports whether any answer counts as still to be sent.
func (s *stage) hasUnanswered() (has bool) {
	s.t.Helper()
	err := s.db.View(s.t.Context(), func(tx *store.Tx) (err error) {
		has, err = tx.HasUnanswered(training.TeamID(s.tide.ID))
		return err
	})
	if err != nil {
		s.t.Fatal(err)
	}
	return has
}

// writes counts the transactions in a database's write-ahead log: each ends with
// a frame that tells the size of the database (SQLite's file format, 4.1, WAL
// file format: sqlite.org/fileformat2.html#walformat).
func writes(t *testing.T, path string) (n int) {
	t.Helper()
	wal, err := os.ReadFile(path + "-wal")
	if err != nil {
		t.Fatal(err)
	}
	const header, frameHeader = 32, 24
	if len(wal) < header {
		return 0
	}
	page := int(binary.BigEndian.Uint32(wal[8:]))
	salt := string(wal[16:24])
	for at := header; at+frameHeader+page <= len(wal); at += frameHeader + page {
		frame := wal[at : at+frameHeader]
		if string(frame[8:16]) != salt { // left over from before a checkpoint
			break
		}
		if binary.BigEndian.Uint32(frame[4:]) != 0 {
			n++
		}
	}
	return n
}
