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
// names. A hand that begins with x is held back: to be measured with, not taught.
func corpus(root, name string) ([]line, error) {
	paths, err := filepath.Glob(filepath.Join(root, "*", name))
	if err != nil {
		return nil, err
	}
	slices.Sort(paths)
	m, err := newMasker(root)
	if err != nil {
		return nil, err
	}
	var lines []line
	for _, path := range paths {
		hand := filepath.Base(filepath.Dir(path))
		if hand[0] == 'x' {
			continue
		}
		raw, err := os.ReadFile(path)
		if err != nil {
			return nil, fmt.Errorf("read corpus: %w", err)
		}
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

// author is who wrote a line: what one wrote in several goes is in one fold.
func (l *line) author() string {
	first, _, _ := strings.Cut(l.hand, "-")
	return first
}

// stranger reports whether a line is by somebody whose other lines say how well
// strangers are read. Frames, varied by a script or filled by hand, are left
// out: they are no sample of anything. So is chatter, which is but a bound.
func (l *line) stranger() bool {
	return l.author() != "frames" && !l.chatter() && !strings.HasPrefix(l.class, "frame") && !strings.HasPrefix(l.class, "beside")
}

// chatter reports whether a line is talk from elsewhere. It is kept as if by two
// authors, so that it is held against tables that were taught chatter.
func (l *line) chatter() bool { return l.class == "chatter" }

// parts is how many folds the authors are dealt into.
const parts = 6

// folds deals the authors into folds, in order.
func folds(lines []line) map[string]int {
	out := map[string]int{}
	for i := range lines {
		a := lines[i].author()
		if _, ok := out[a]; !ok {
			out[a] = len(out) % parts
		}
	}
	return out
}
