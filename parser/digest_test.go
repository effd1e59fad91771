package parser_test

import (
	"bufio"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"rungbook/training/programme"
)

var (
	digestTo   = flag.String("digest", "", "write what the reader says of every line of every corpus to this file")
	digestFrom = flag.String("against", "", "compare what the reader says with such a file, by class")
)

// TestDigest reads every line of every corpus, and writes or compares what the
// reader says of it. It is the map of a change to the reader:
//
//	go test ./parser -run TestDigest -digest before.tsv
//	go test ./parser -run TestDigest -against before.tsv -v
//
// Without a flag it only holds that reading twice gives the same.
func TestDigest(t *testing.T) {
	lines := digestLines(t)
	if len(lines) < 5000 {
		t.Fatalf("only %d lines in the corpora", len(lines))
	}
	if *digestTo != "" {
		var out strings.Builder
		for _, line := range lines {
			fmt.Fprintf(&out, "%s\t%s\n", line, digestOf(t, line))
		}
		if err := os.WriteFile(*digestTo, []byte(out.String()), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	if *digestFrom != "" {
		compareDigest(t, *digestFrom)
		return
	}
	for _, line := range lines[:500] {
		if a, b := digestOf(t, line), digestOf(t, line); a != b {
			t.Errorf("%q is read as %s, then as %s", line, a, b)
		}
	}
}

// digestLines returns the messages of all corpora, each once: the project's
// own, and those beside the checkout where they are there.
func digestLines(t *testing.T) []string {
	var out []string
	for _, pattern := range []string{"testdata/*", "testdata/corpora/*", "../../shared/corpora/*", "../../shared/corpora/*/*"} {
		files, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range files {
			out = append(out, messagesIn(t, name)...)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// messagesIn returns the messages of one corpus file, of whatever form.
func messagesIn(t *testing.T, name string) (out []string) {
	column := map[string]int{"own-variants.tsv": 0, "own-pain.tsv": 1, "hard-negatives.tsv": 1, "neighbours.tsv": 1, "report.tsv": 2, "body.tsv": 2}
	switch at, listed := column[filepath.Base(name)]; {
	case listed:
		for _, line := range fileLines(t, name) {
			if parts := strings.Split(line, "\t"); len(parts) > at {
				out = append(out, parts[at])
			}
		}
	case filepath.Ext(name) == ".jsonl":
		for _, line := range fileLines(t, name) {
			var c struct{ Text, Input string }
			if json.Unmarshal([]byte(line), &c) == nil && c.Text+c.Input != "" {
				out = append(out, strings.ReplaceAll(c.Text+c.Input, "\n", `\n`))
			}
		}
	case filepath.Ext(name) == ".txt" && !slices.Contains([]string{"bad.txt", "body.txt", "report.txt"}, filepath.Base(name)): // those are written
		out = fileLines(t, name)
	}
	return out
}

// fileLines returns a file's lines but for comments and empty ones.
func fileLines(t *testing.T, name string) (out []string) {
	file, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	scan := bufio.NewScanner(file)
	for scan.Scan() {
		if line := scan.Text(); line != "" && line[0] != '#' {
			out = append(out, line)
		}
	}
	if scan.Err() != nil {
		t.Fatal(scan.Err())
	}
	return out
}

// digestOf is what the reader says of a message, as the parse command prints
// it, without what is only said to people.
func digestOf(t *testing.T, line string) string {
	data, err := read(strings.ReplaceAll(line, `\n`, "\n")).JSON(programme.Builtin(), "")
	if err != nil {
		t.Fatal(err)
	}
	var all map[string]json.RawMessage
	if err := json.Unmarshal(data, &all); err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"text", "problems", "guesses", "unread", "not_counted"} {
		delete(all, key)
	}
	data, err = json.Marshal(all)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// compareDigest counts and shows what is read otherwise than in the file.
func compareDigest(t *testing.T, name string) {
	classes, count := map[string][]string{}, 0
	for _, line := range fileLines(t, name) {
		text, was, ok := strings.Cut(line, "\t{")
		if !ok {
			t.Fatalf("%q is no line of a digest", line)
		}
		now := digestOf(t, text)
		if was = "{" + was; was == now {
			continue
		}
		count++
		class := verdictIn(was) + " -> " + verdictIn(now)
		classes[class] = append(classes[class], fmt.Sprintf("%s\n\t  was %s\n\t  now %s", text, was, now))
	}
	t.Logf("%d lines are read otherwise", count)
	for class, lines := range classes {
		t.Logf("%s: %d\n\t%s", class, len(lines), strings.Join(lines, "\n\t"))
	}
}

func verdictIn(digest string) string {
	var c struct{ Verdict string }
	if json.Unmarshal([]byte(digest), &c) != nil {
		return "?"
	}
	return c.Verdict
}
