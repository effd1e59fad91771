package bot_test

import (
	"bytes"
	"encoding/json"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rungbook/bot"
	"rungbook/store"
	"rungbook/training/programme"
)

// canary stands in every message about somebody's body; words of the reports
// themselves are looked for too.
const canary = "quillwort"

// TestWhatIsSaidOfABodyIsForgotten holds P10. It plays a team in which people
// speak of their bodies, and looks for what they said in all that leaves and
// all that stays: posts with their facts and files, the log, the database, the
// file beside it and a backup.
func TestWhatIsSaidOfABodyIsForgotten(t *testing.T) {
	path := filepath.Join(t.TempDir(), "rungbook.db")
	h := newHouse(t, path)
	var log bytes.Buffer
	h.bot = bot.New(bot.Options{Store: store.As[bot.Tx]{DB: h.db}, Programme: programme.Builtin(), Programmes: programme.Library{},
		Log: slog.New(slog.NewTextHandler(&log, &slog.HandlerOptions{Level: slog.LevelDebug}))})
	var said bytes.Buffer
	paused := 0
	for _, line := range [][3]string{
		{"2026-10-05 19:00", "Priya", "my left elbow hurts, quillwort"},
		{"2026-10-05 19:01", "Priya", "3x20s support, elbow sore 4/10 quillwort"},
		{"2026-10-05 19:02", "Priya", "/pause end"},
		{"2026-10-05 19:03", "Priya", "/mydata export"},
		{"2026-10-05 19:04", "Wen", "right shoulder tingling and numb, quillwort"},
		{"2026-10-05 19:05", "Ilda", "/coach resume member:Wen"},
		{"2026-10-05 19:06", "Sanna", "tore a callus, skin gone, quillwort"},
		{"2026-10-05 19:07", "Bako", "/log text:\"3x20s support, wrist pain 3/10, quillwort\""},
		{"2026-10-05 19:08", "Noor", "my wrist hurts quillwort"},
		{"2026-10-05 19:09", "Ilda", "/coach digest"},
		{"2026-10-05 19:10", "Ilda", "/coach roster"},
		{"2026-10-05 19:11", "Bako", "/history"},
		{"2026-10-05 19:12", "Mirela", "3x20s hold, elbow hurts, quillwort"},
	} {
		posts := h.says(line[0], line[1], line[2])
		for _, post := range posts {
			if strings.Contains(post.Text, "is paused") {
				paused++
			}
			data, err := json.Marshal(post)
			if err != nil {
				t.Fatal(err)
			}
			said.Write(data)
			if post.Unasked != 0 { // its words are ours, cautions among them, and go once it is sent
				if err := h.db.Sent(t.Context(), post.Unasked); err != nil {
					t.Fatal(err)
				}
			}
			for _, file := range post.Files {
				said.Write(file.Data)
			}
		}
	}
	for _, post := range h.step(bot.Beat{Team: team, At: h.at("2026-10-11 18:00")}) {
		said.WriteString(post.Text)
	}
	if paused < 5 {
		t.Errorf("coaches were told of %d pauses: the messages were not read as reports", paused)
	}
	backup := filepath.Join(t.TempDir(), "copy.db")
	if err := h.db.Backup(t.Context(), backup); err != nil {
		t.Fatal(err)
	}
	places := map[string][]byte{"posts": said.Bytes(), "log": log.Bytes()}
	for _, file := range []string{path, path + "-wal", backup} {
		data, err := os.ReadFile(file)
		if err != nil && !os.IsNotExist(err) {
			t.Fatal(err)
		}
		places[filepath.Base(file)] = data
	}
	for place, data := range places {
		for _, word := range []string{canary, "tingling", "4/10", "3/10", "callus"} {
			if bytes.Contains(bytes.ToLower(data), []byte(word)) {
				t.Errorf("%q stands in %s", word, place)
			}
		}
	}
	// The database must not even hold which part of a body it was. (The file
	// beside it may still hold our own cautions, which name some.)
	for _, place := range []string{filepath.Base(path), "copy.db"} {
		for _, word := range []string{"elbow", "wrist", "shoulder", "skin", "pain"} {
			if bytes.Contains(bytes.ToLower(places[place]), []byte(word)) {
				t.Errorf("%q stands in %s", word, place)
			}
		}
	}
}
