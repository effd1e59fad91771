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
	asked                    bool // the grammar reads sets in it, or is in doubt about some
	calm                     bool // of all its words beside the sets the grammar knows that they say nothing
}

// corpus reads the file of the name in the folder of every hand, in the order of
// the hands' names. A hand whose name begins with x is left out: its lines are
// kept for measuring.
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

// author returns who wrote a line. All hands of one author are in one fold.
func (l *line) author() string {
	first, _, _ := strings.Cut(l.hand, "-")
	return first
}

// stranger reports whether a line counts when it is measured how well the lines of
// unknown authors are read. Frames, whose words a script or a hand has varied, do
// not: nobody writes so. Nor does chatter, which has a bound of its own.
func (l *line) stranger() bool {
	return l.author() != "frames" && !l.chatter() && !strings.HasPrefix(l.class, "frame") && !strings.HasPrefix(l.class, "beside")
}

// chatter reports whether a line is talk from elsewhere. There are two hands of
// it, so that each is judged by a table that was taught the other.
func (l *line) chatter() bool { return l.class == "chatter" }

// parts is how many folds there are.
const parts = 6

// folds returns the fold of each author. Authors are dealt to folds in turn, in
// the order of their lines.
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
