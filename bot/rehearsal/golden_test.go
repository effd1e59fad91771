package rehearsal_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rungbook/bot"
	"rungbook/bot/outbox"
	"rungbook/bot/rehearsal"
	"rungbook/store"
	"rungbook/training/programme"
)

var update = flag.Bool("update", false, "rewrite the golden conversations, and those facts files that exist")

// realHouse puts the real bot, store and outbox to work.
func realHouse(ctx context.Context, path string, show func(bot.Post) error) (*rehearsal.House, error) {
	db, err := store.Open(ctx, store.Options{Path: path, Key: bytes.Repeat([]byte("k"), 32)})
	if err != nil {
		return nil, err
	}
	kept := store.As[bot.Tx]{DB: db}
	return &rehearsal.House{
		Bot:    bot.New(bot.Options{Store: kept, Programme: programme.Builtin(), Programmes: programme.Library{}}),
		Store:  kept,
		Outbox: outbox.New(db).To(outbox.Screen(show)),
		Close:  db.Close,
	}, nil
}

// playReal plays a transcript on the real bot.
func playReal(t testing.TB, transcript *rehearsal.Transcript, db string, scribe func(io.Writer, *rehearsal.Transcript) rehearsal.Scribe) string {
	t.Helper()
	var out bytes.Buffer
	err := rehearsal.Play(context.Background(), rehearsal.Options{
		Transcript: transcript, Open: realHouse, DB: db, Scribe: scribe(&out, transcript),
	})
	if err != nil {
		t.Fatalf("%v, after\n%s", err, out.String())
	}
	return out.String()
}

// TestGolden plays the conversations of testdata. Each is its own expectation;
// where NAME.facts.jsonl stands beside it, the facts behind the words are held
// too.
func TestGolden(t *testing.T) {
	files, err := filepath.Glob("testdata/*.chat")
	if err != nil || len(files) == 0 {
		t.Fatalf("no conversations: %v", err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".chat"), func(t *testing.T) {
			t.Parallel()
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			transcript, err := rehearsal.Parse(file, want)
			if err != nil {
				t.Fatal(err)
			}
			text, lines := playBoth(t, transcript)
			hold(t, file, text)
			facts := strings.TrimSuffix(file, ".chat") + ".facts.jsonl"
			if _, err := os.Stat(facts); err == nil {
				hold(t, facts, factsOf(t, lines))
			}
			keepsShort(t, lines)
		})
	}
}

// playBoth plays once and returns both renderings.
func playBoth(t testing.TB, transcript *rehearsal.Transcript) (text, lines string) {
	var beside bytes.Buffer
	text = playReal(t, transcript, "", func(out io.Writer, transcript *rehearsal.Transcript) rehearsal.Scribe {
		return pair{rehearsal.NewText(out, transcript), rehearsal.NewJSON(&beside, transcript)}
	})
	return text, beside.String()
}

// pair is a text scribe with a JSON one beside it, which needs to hear only what
// is said.
type pair struct {
	rehearsal.Scribe
	beside rehearsal.Scribe
}

func (p pair) Say(said rehearsal.Said) error {
	return errors.Join(p.Scribe.Say(said), p.beside.Say(said))
}

// hold compares with a file, or rewrites it.
func hold(t *testing.T, file, got string) {
	t.Helper()
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got == string(want) {
		return
	}
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	t.Errorf("%s: got\n%s", file, diff(got, string(want)))
}

// factsOf leaves of each object what a change of words does not touch: when,
// what, to whom, in answer to which message, and the facts.
func factsOf(t *testing.T, lines string) string {
	t.Helper()
	var out strings.Builder
	decoder := json.NewDecoder(strings.NewReader(lines))
	for {
		var object struct {
			At      string          `json:"at"`
			Kind    string          `json:"kind"`
			To      string          `json:"to"`
			Member  string          `json:"member,omitempty"`
			Answers string          `json:"answers,omitempty"`
			Facts   json.RawMessage `json:"facts"`
		}
		err := decoder.Decode(&object)
		if errors.Is(err, io.EOF) {
			return out.String()
		}
		if err != nil {
			t.Fatal(err)
		}
		line, err := json.Marshal(object)
		if err != nil {
			t.Fatal(err)
		}
		out.Write(append(line, '\n'))
	}
}
