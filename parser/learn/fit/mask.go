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

// today is the day that the corpora are told on, a Wednesday.
var today = training.Date(2026, 11, 25)

// masker makes of messages what the readers see.
type masker struct{ reader *sets.Reader }

// newMasker reads with the names of the programme beside the corpora, a copy of
// the built-in one: the readers see no names, so a name more in that one is no
// reason to fit them anew.
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

// mask returns the tokens of a message, whether there are sets to ask about in
// it, and whether the grammar knows of each of its words that it says nothing.
func (m masker) mask(message string) (tokens []learn.Token, asked, calm bool) {
	var t text.Text // the tokens point into it
	t.Scan(message)
	reading := m.reader.Read(&t, sets.Context{Today: today})
	tokens, _ = mask.Tokens(&t, reading, nil, nil)
	return tokens, len(reading.Days)+len(reading.Doubts) > 0, reading.Calm
}
