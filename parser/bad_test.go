package parser_test

import (
	"flag"
	"os"
	"strings"
	"testing"
	"unicode/utf8"

	"rungbook/parser"
	"rungbook/training/programme"
)

var update = flag.Bool("update", false, "rewrite the golden files of testdata")

// TestBadLines holds testdata/bad.txt: each message with a caret line under the
// place at fault, what is said, and what is offered. Every offer must be read as
// a log.
func TestBadLines(t *testing.T) {
	data, err := os.ReadFile("testdata/bad.txt")
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	for block := range strings.SplitSeq(strings.TrimSpace(string(data)), "\n\n") {
		text, _, _ := strings.Cut(block, "\n")
		if strings.HasPrefix(text, "# ") {
			out.WriteString(block + "\n\n")
			continue
		}
		out.WriteString(answered(t, text))
	}
	got := strings.TrimSpace(out.String()) + "\n"
	if *update {
		if err := os.WriteFile("testdata/bad.txt", []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if got != string(data) {
		t.Errorf("testdata/bad.txt is not what the parser says (-update rewrites it):\n%s", firstDifference(got, string(data)))
	}
}

func answered(t *testing.T, text string) string {
	t.Helper()
	got := told(text)
	sound(t, text, got)
	if got.Verdict != parser.Unsure {
		t.Errorf("%q is %s: a bad line must be answered", text, got.Verdict)
		return text + "\n\n"
	}
	p := got.Problems[0]
	var b strings.Builder
	b.WriteString(text + "\n" + strings.Repeat(" ", p.From) + strings.Repeat("^", max(p.To-p.From, 1)) + " " + p.Code + "\n" + p.Say + "\n")
	if utf8.RuneCountInString(p.Say) > 230 {
		t.Errorf("%q is answered with %d characters", text, utf8.RuneCountInString(p.Say))
	}
	for _, suggestion := range p.Suggest {
		b.WriteString("> " + suggestion + "\n")
	}
	return b.String() + "\n"
}

func firstDifference(a, b string) string {
	as, bs := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range min(len(as), len(bs)) {
		if as[i] != bs[i] {
			return "now:  " + as[i] + "\nthen: " + bs[i]
		}
	}
	return "one ends before the other"
}

// TestSecondProgramme reads the other built-in programme in its own words: no
// name is known to the parser but through the programme.
func TestSecondProgramme(t *testing.T) {
	p, ok := programme.Named("strict-handstand")
	if !ok {
		t.Fatal("no strict handstand")
	}
	reader := parser.New(p)
	for text, want := range map[string]string{
		"3x45s chest to wall":                                     "3x45s chest to wall",
		"chest to wall 45/40/38s":                                 "45s chest to wall, 40s chest to wall, 38s chest to wall",
		"3 sets of 20 seconds plank lean, 5 wall push-ups":        "3x20s plank lean, 5 wall push-ups",
		"box pike 3x45s\nheel pulls 3x10s":                        "3x45s box pike, 3x10s heel pulls",
		"3x8 pike pushups @8":                                     "3x8 pike push-ups @8",
		"free stand 15s, 12s, 9s rest 90s":                        "15s free stand rest 90s, 12s free stand rest 90s, 9s free stand rest 90s",
		"freestanding handstand 3x12s":                            "3x12s free stand",
		"press 1/6":                                               "press 1/6",
		"3 handstand press tries, none made":                      "press 0/3",
		"pancake 60s":                                             "60s straddle fold",
		"yesterday: 2 rounds of 30s box pike + 20s kneeling lean": "2x30s box pike, 2x20s kneeling lean",
		"3x45s chest to wal":                                      "3x45s chest to wall",
	} {
		got := reader.Parse(text, parser.Context{Today: today})
		if written := reader.Format(got.Sets()); got.Verdict != parser.Log || written != want {
			t.Errorf("%q is %s %q, not %q", text, got.Verdict, written, want)
		}
	}
	for _, text := range []string{"3x30s deep hang", "press 1 for help", "I'll hold the handstand for 30s tomorrow", "Wen did 3x45s chest to wall", "stand by for 5 min"} {
		if got := reader.Parse(text, parser.Context{Today: today}); got.Verdict != parser.Chat {
			t.Errorf("%q is %s", text, got.Verdict)
		}
	}
	got := reader.Parse("3x45s chest to wall, left wrist 3/10", parser.Context{Today: today})
	if len(got.Sets()) != 3 || !got.Care.Pauses() {
		t.Errorf("pain beside sets: %s", shown(got))
	}
}
