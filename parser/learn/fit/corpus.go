package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"rungbook/parser/learn"
)

// line is one line of a corpus.
type line struct {
	hand, class, label, text string
	tokens                   []learn.Token
	asked                    bool // there are sets, or doubts about them
	calm                     bool // the grammar knows of each word that it says nothing
}

// corpus reads the file of a name of every hand, hands in the order of their
// names.
func corpus(root, name string) ([]line, error) {
	paths, err := filepath.Glob(filepath.Join(root, "*", name))
	if err != nil {
		return nil, err
	}
	slices.Sort(paths)
	m := newMasker()
	var lines []line
	for _, path := range paths {
		raw, err := os.ReadFile(path)
		if err != nil {
			return nil, fmt.Errorf("read corpus: %w", err)
		}
		hand := filepath.Base(filepath.Dir(path))
		for row := range strings.Lines(string(raw)) {
			columns := strings.Split(strings.TrimRight(row, "\r\n"), "\t")
			if len(columns) != 3 {
				return nil, fmt.Errorf("read corpus: %s: not three columns: %q", path, row)
			}
			message := strings.ReplaceAll(columns[2], `\n`, "\n")
			l := line{hand: hand, class: columns[0], label: columns[1], text: message}
			l.tokens, l.asked, l.calm = m.mask(message)
			lines = append(lines, l)
		}
	}
	return lines, nil
}

// author is who wrote a line: what one wrote in several goes is one fold.
func (l *line) author() string {
	first, _, _ := strings.Cut(l.hand, "-")
	return first
}

// stranger reports whether a line is by somebody whose other lines say how well
// strangers are read. Frames, varied by a script or filled by hand, are left
// out: they are no sample of anything. So is chatter, which is but a bound.
func (l *line) stranger() bool {
	switch l.author() {
	case "frames", "chatter":
		return false
	}
	return !strings.HasPrefix(l.class, "frame") && !strings.HasPrefix(l.class, "beside")
}

// authors lists them in order.
func authors(lines []line) []string {
	var out []string
	for i := range lines {
		if a := lines[i].author(); !slices.Contains(out, a) {
			out = append(out, a)
		}
	}
	return out
}
