package main

import (
	"fmt"
	"os"
	"path/filepath"

	"rungbook/parser/learn"
	"rungbook/parser/mask"
	"rungbook/parser/sets"
	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
	"rungbook/training/programme"
)

// today is the day on which the lines of the corpora are read, a Wednesday.
var today = training.Date(2026, 11, 25)

// masker turns messages into what the readers see of them.
type masker struct{ reader *sets.Reader }

// newMasker returns a masker with the names of the programme beside the corpora, a
// copy of the built-in one. The readers see no names, so that they need not be
// fitted anew when the built-in programme gets one more.
func newMasker(root string) (masker, error) {
	const name = "programme.yaml"
	data, err := os.ReadFile(filepath.Join(root, name))
	if err != nil {
		return masker{}, fmt.Errorf("read the programme of the corpora: %w", err)
	}
	names, err := programme.Load(name, data)
	if err != nil {
		return masker{}, fmt.Errorf("read the programme of the corpora: %w", err)
	}
	return masker{sets.NewReader(words.NewNames(names))}, nil
}

// mask returns the masked tokens of a message, and what asked and calm of a
// line are for it.
func (m masker) mask(message string) (tokens []learn.Token, asked, calm bool) {
	var t text.Text // not reused: the tokens point into it
	t.Scan(message)
	reading := m.reader.Read(&t, sets.Context{Today: today})
	tokens, _ = mask.Tokens(&t, reading, nil, nil)
	return tokens, len(reading.Days)+len(reading.Doubts) > 0, reading.Calm
}
