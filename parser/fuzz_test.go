package parser_test

import (
	"encoding/json"
	"os"
	"strings"
	"testing"
	"unicode/utf8"

	"rungbook/parser"
	"rungbook/training"
	"rungbook/training/programme"
)

// today is the day the cases of testdata are read on.
var today = training.Date(2026, 11, 25)

var reader = parser.New(programme.Builtin())

func read(text string) parser.Result { return reader.Parse(text, parser.Context{Today: today}) }

func told(text string) parser.Result {
	return reader.Parse(text, parser.Context{Today: today, Addressed: true})
}

// lines returns the lines of a file of testdata that are no comments.
func lines(t testing.TB, name string) []string {
	t.Helper()
	data, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for line := range strings.Lines(string(data)) {
		if line = strings.TrimRight(line, "\n"); line != "" && !strings.HasPrefix(line, "# ") {
			out = append(out, line)
		}
	}
	return out
}

// texts returns every message of testdata.
func texts(t testing.TB) []string {
	t.Helper()
	var out []string
	for _, name := range []string{"variants.jsonl", "errors.jsonl", "pain.jsonl"} {
		for _, line := range lines(t, name) {
			var c struct {
				Text string `json:"text"`
			}
			if err := json.Unmarshal([]byte(line), &c); err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			out = append(out, c.Text)
		}
	}
	for _, name := range []string{"hard-negatives.tsv", "own-pain.tsv"} {
		for _, line := range lines(t, name) {
			_, text, _ := strings.Cut(line, "\t")
			out = append(out, text)
		}
	}
	return append(out, lines(t, "body-words.txt")...)
}

// sound reports what must hold for any text whatever.
func sound(t *testing.T, text string, got parser.Result) {
	t.Helper()
	runes := utf8.RuneCountInString(text)
	switch got.Verdict {
	case parser.Log:
		if len(got.Sets()) == 0 || len(got.Problems) > 0 {
			t.Fatalf("%q is a log with %d sets and %d problems", text, len(got.Sets()), len(got.Problems))
		}
	case parser.Unsure:
		if len(got.Problems) == 0 {
			t.Fatalf("%q is unsure without a problem", text)
		}
	case parser.Pain, parser.Chat:
		if len(got.Sets()) > 0 || len(got.Problems) > 0 || (got.Verdict == parser.Pain) != (got.Care != "") {
			t.Fatalf("%q is %s with %d sets, %d problems and the care %q", text, got.Verdict, len(got.Sets()), len(got.Problems), got.Care)
		}
	default:
		t.Fatalf("%q has the verdict %q", text, got.Verdict)
	}
	if got.First().Day > today {
		t.Fatalf("%q is dated %s, a day to come", text, got.First().Day)
	}
	for _, p := range got.Problems {
		if p.From < 0 || p.To < p.From || p.To > runes || p.Say == "" || p.Code == "" || len(p.Suggest) > 3 {
			t.Fatalf("%q: problem %+v does not fit in %d characters", text, p, runes)
		}
		for _, again := range p.Suggest {
			if r := read(again); r.Verdict != parser.Log {
				t.Fatalf("%q: the suggestion %q is %s, no log", text, again, r.Verdict)
			}
		}
	}
}

// FuzzParse holds P11 for what is read.
func FuzzParse(f *testing.F) {
	for _, text := range texts(f) {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		sound(t, text, read(text))
		sound(t, text, told(text))
	})
}
