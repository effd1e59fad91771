package rehearsal_test

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"unicode/utf8"

	"rungbook/bot/rehearsal"
)

// said is one line of JSON as somebody outside reads it.
type said struct {
	At, Kind, To, Member, Answers string
	Line                          int
	Text                          string
	Facts                         struct {
		Day        string
		Logged     []json.RawMessage
		Gates      []struct{ Gate, Status string }
		Violations []struct{ Day, Rule string }
		Resolved   []struct{ Day, Rule string }
		MayAttempt bool `json:"may_attempt"`
		Returning  bool
		Paused     bool
		Members    []struct {
			Member string
			Away   bool
			Moved  []string
		}
	}
}

func readSaid(t *testing.T, lines string) (all []said) {
	t.Helper()
	for line := range strings.Lines(lines) {
		var one said
		if err := json.Unmarshal([]byte(line), &one); err != nil {
			t.Fatalf("%v in %s", err, line)
		}
		all = append(all, one)
	}
	return all
}

// The same bytes come out whatever the number of processors, and what comes out
// renders to itself.
func TestTidewaterIsTheSameEveryTime(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	text, lines := playBoth(t, rehearsal.Tidewater())
	for _, processors := range []int{1, 2, 8} {
		runtime.GOMAXPROCS(processors)
		if again, _ := playBoth(t, rehearsal.Tidewater()); again != text {
			t.Errorf("with %d processors:\n%s", processors, diff(again, text))
		}
	}
	if again, _ := playBoth(t, parse(t, text)); again != text {
		t.Errorf("rendered again:\n%s", diff(again, text))
	}
	if answers := keepsShort(t, lines); answers < 80 {
		t.Errorf("only %d answers to logs", answers)
	}
}

// keepsShort holds what the contract promises of every answer to a log where it
// is read by all: at most four lines and 280 characters. It returns how many
// there were.
func keepsShort(t *testing.T, lines string) (answers int) {
	t.Helper()
	for _, one := range readSaid(t, lines) {
		if one.To != "channel" || len(one.Facts.Logged) == 0 {
			continue
		}
		answers++
		if tall, long := strings.Count(one.Text, "\n")+1, utf8.RuneCountInString(one.Text); tall > 4 || long > 280 {
			t.Errorf("line %d: %d lines, %d characters: %q", one.Line, tall, long, one.Text)
		}
	}
	return answers
}

// A kept database is continued: the second part finds what the first one left,
// as if both had been played in one. Played again, a part adds nothing: its
// messages are known.
func TestContinuedOnTheRealStore(t *testing.T) {
	const one, two = "2026-10-05 19:00 Priya: 3x20s support\n2026-10-05 20:00 Sanna: 3x10s deep hang\n", "2026-10-05 20:30 Priya: /history\n2026-10-05 20:31 Ilda: /coach roster\n"
	whole := playReal(t, parse(t, header+one+two), "", rehearsal.NewText)
	db := filepath.Join(t.TempDir(), "team.db")
	first := playReal(t, parse(t, header+one), db, rehearsal.NewText)
	second := playReal(t, parse(t, header+two), db, rehearsal.NewText)
	if got := first + strings.TrimPrefix(second, header); got != whole {
		t.Errorf("in two parts:\n%s", diff(got, whole))
	}
	again := playReal(t, parse(t, header+one), db, rehearsal.NewText)
	if want := header + strings.ReplaceAll(one, "\n", "\n~ (silence)\n"); again != want {
		t.Errorf("played again:\n%s", diff(again, want))
	}
	if third := playReal(t, parse(t, header+two), db, rehearsal.NewText); third != second {
		t.Errorf("after that:\n%s", diff(third, second))
	}
}

// BenchmarkTidewater plays the eight weeks on a file.
func BenchmarkTidewater(b *testing.B) {
	weeks := rehearsal.Tidewater()
	for b.Loop() {
		playReal(b, weeks, "", rehearsal.NewText)
	}
	b.ReportMetric(float64(len(weeks.Events)), "events/op")
}

// BenchmarkParse reads them.
func BenchmarkParse(b *testing.B) {
	data, err := os.ReadFile("tidewater.chat")
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, err := rehearsal.Parse("tidewater.chat", bytes.Clone(data)); err != nil {
			b.Fatal(err)
		}
	}
}

// Reading takes time in proportion to the length of the file, whatever stands
// in it: fifty thousand messages of one minute, each edited and deleted, are not
// looked through for each other.
func TestLongTranscript(t *testing.T) {
	const many = 50_000
	var text strings.Builder
	text.WriteString(header)
	for _, deed := range []string{": 3x20s support", " edits 19:00: 3x21s support", " deletes 19:00"} {
		text.WriteString(strings.Repeat("2026-10-05 19:00 Priya"+deed+"\n", many))
	}
	events := parse(t, text.String()).Events
	if len(events) != 3*many || events[2*many].On != events[many-1] || events[3*many-1].On != events[0] {
		t.Errorf("%d events; the first deletion is of line %d, the last of line %d", len(events), events[2*many].On.Line, events[len(events)-1].On.Line)
	}
}
