package words

import (
	"fmt"
	"slices"
	"strings"

	"rungbook/training"
)

// Remarks is what a read-back has to say beside the sets.
type Remarks struct {
	Guessed    []string       // what was assumed, for people: "seconds"
	Unread     []string       // words beside sets that nothing is known of, as typed
	NotCounted []string       // exercises of no ladder, as typed
	Old        []training.Day // days too far back to be logged
}

// And is both remarks together.
func (r Remarks) And(more Remarks) Remarks {
	return Remarks{
		Guessed: append(slices.Clip(r.Guessed), more.Guessed...), Unread: append(slices.Clip(r.Unread), more.Unread...),
		NotCounted: append(slices.Clip(r.NotCounted), more.NotCounted...), Old: append(slices.Clip(r.Old), more.Old...),
	}
}

// Notes are the remarks as notes to a read-back.
func (r Remarks) Notes() []string {
	var notes, guessed, unread, days []string
	for _, guess := range r.Guessed {
		if !hasFold(guessed, guess) {
			guessed = append(guessed, guess)
		}
	}
	for _, word := range r.Unread {
		unread = append(unread, "“"+brief(word)+"”")
	}
	for _, day := range r.Old {
		days = append(days, dayWords(day))
	}
	if len(guessed) > 0 {
		notes = append(notes, "read as "+andList(guessed))
	}
	if len(unread) > 0 {
		notes = append(notes, "not read: "+strings.Join(unread, ", "))
	}
	if len(r.NotCounted) > 0 {
		notes = append(notes, "not counted: "+strings.Join(r.NotCounted, ", "))
	}
	if len(days) > 0 {
		notes = append(notes, fmt.Sprintf("not logged, as more than %d days back: %s", training.LogDays, andList(days)))
	}
	return notes
}

// WouldCount notes that a rung's sets lack the unit its gate counts in.
func WouldCount(rung string, unit training.Unit, gate string) string {
	return fmt.Sprintf("%s in %s would count towards the %s gate", rung, unit, gate)
}
