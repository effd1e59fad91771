package rehearsal_test

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"rungbook/bot/rehearsal"
)

func TestCancelled(t *testing.T) {
	t.Setenv("TMPDIR", t.TempDir())
	ctx, cancel := context.WithCancel(context.Background())
	house := &fakeHouse{}
	transcript := parse(t, header+"2026-10-05 19:12 Priya: 1\n2026-10-05 19:13 Priya: 2\n")
	var out bytes.Buffer
	err := rehearsal.Play(ctx, rehearsal.Options{
		Transcript: transcript, Open: house.open,
		Scribe: cancelling{rehearsal.NewText(&out, transcript), cancel},
	})
	if !errors.Is(err, context.Canceled) || !strings.HasPrefix(err.Error(), "play test.chat:12: ") {
		t.Errorf("got %v", err)
	}
	if strings.Contains(out.String(), "19:13") {
		t.Errorf("it played on:\n%s", out.String())
	}
	gone(t, house)
}

// cancelling cancels the rehearsal at the first thing said.
type cancelling struct {
	rehearsal.Scribe
	cancel func()
}

func (c cancelling) Say(said rehearsal.Said) error {
	c.cancel()
	return c.Scribe.Say(said)
}

// What the bot says of its own fault is shown, and the rehearsal ends there.
func TestBotsFault(t *testing.T) {
	house := &fakeHouse{set: func(b *fakeBot) { b.fails = "fail" }}
	got, err := render(house, header+"2026-10-05 19:12 Priya: fail\n2026-10-05 19:13 Priya: 2\n")
	if !errors.Is(err, errFake) || !strings.HasPrefix(err.Error(), "play test.chat:11: ") {
		t.Errorf("got %v", err)
	}
	check(t, got, header+"2026-10-05 19:12 Priya: fail\n~ fault to Priya alone: my fault\n")
}

// A bot for which something is due for ever is an error, not a hang.
func TestBotThatFindsNoRest(t *testing.T) {
	house := &fakeHouse{set: func(b *fakeBot) { b.stuck = true }}
	_, err := render(house, header+"2026-10-05 19:12 Priya: hello\n2026-10-07 19:13 Priya: 2\n")
	if err == nil || !strings.Contains(err.Error(), "the bot finds no rest") {
		t.Errorf("got %v", err)
	}
}

func TestErrorsOfTheWorldEndTheRehearsal(t *testing.T) {
	transcript := parse(t, header+"2026-10-05 19:12 Priya: 1\n")
	house := &fakeHouse{}
	for n := range 3 {
		err := rehearsal.Play(context.Background(), rehearsal.Options{
			Transcript: transcript, Open: house.open, Scribe: rehearsal.NewText(&failing{after: n}, transcript),
		})
		if want := n < 2; errors.Is(err, io.ErrShortWrite) != want {
			t.Errorf("%d writes: got %v", n, err)
		}
	}
	t.Setenv("TMPDIR", filepath.Join(t.TempDir(), "missing"))
	if _, err := render(house, header+"2026-10-05 19:12 Priya: 1\n"); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("without a place for the database: %v", err)
	}
}

// failing takes so many writes that hold something, and no more.
type failing struct{ after int }

func (f *failing) Write(data []byte) (int, error) {
	if len(data) == 0 {
		return 0, nil
	}
	if f.after--; f.after < 0 {
		return 0, io.ErrShortWrite
	}
	return len(data), nil
}

// The same bytes come out whatever the number of processors.
func TestProcessors(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	var outs []string
	for _, n := range []int{1, 2, 8} {
		runtime.GOMAXPROCS(n)
		got, err := render(&fakeHouse{}, conversation)
		if err != nil {
			t.Fatal(err)
		}
		outs = append(outs, got)
	}
	if len(slices.Compact(outs)) != 1 {
		t.Error("they differ")
	}
}

// FuzzTranscript: whatever is read is read without a panic, and what can be
// read renders to itself.
func FuzzTranscript(f *testing.F) {
	f.Add(conversation)
	f.Add("team A\nzone Europe/Lisbon\nmembers Ana Rita, Wen\n\n2026-10-25 01:30Z Wen: 3\n  | 4\n2026-10-25 01:31Z Wen edits 01:30+00:00: x\n2026-11-30 10:00 end\n")
	f.Add("\ufeffteam A\r\nzone UTC\r\nguest Wen\r\n\r\n2026-10-25 01:30 -03 Wen > 3\r\n~ x\r\n | y\r\n2026-10-26 01:30 restart")
	f.Fuzz(func(t *testing.T, input string) {
		transcript, err := rehearsal.Parse("test.chat", []byte(input))
		if err != nil {
			if strings.ContainsAny(err.Error(), "\n\r") {
				t.Errorf("%q is more than a line", err)
			}
			return
		}
		if len(transcript.Events) > 0 && transcript.Events[len(transcript.Events)-1].At.Sub(transcript.Events[0].At) > 1000*24*time.Hour {
			return // years of nudges take their time
		}
		first, err := render(&fakeHouse{}, input)
		if err != nil {
			t.Fatal(err)
		}
		if second, err := render(&fakeHouse{}, first); err != nil || second != first {
			t.Errorf("not stable: %v\n%s", err, diff(second, first))
		}
	})
}
