package bot

import (
	"fmt"
	"slices"
	"strings"

	"rungbook/parser"
	"rungbook/training"
)

// heading is the beginning of a read-back: a line for each day, with every set.
func heading(whose string, days []dayLine, notes []string) []string {
	var lines []string
	for _, day := range days {
		sets := setsWords(day.sets, len(day.sets))
		if sets == "" {
			sets = "nothing logged"
		}
		lines = append(lines, dayWords(day.day)+": "+sets)
	}
	if whose != "" {
		lines[0] = "For " + whose + ": " + lines[0]
	}
	if len(notes) > 0 {
		lines[len(lines)-1] += " (" + strings.Join(notes, "; ") + ")"
	}
	for i := range lines {
		lines[i] += "."
	}
	return lines
}

// readBackWords answers a log of a paused day.
func readBackWords(facts ReadBack, notes []string) string {
	return strings.Join(heading(facts.whose, facts.told, notes), "\n")
}

// remarks is what a read-back has to say beside the sets.
type remarks struct {
	guesses    []parser.Guess
	unread     []string       // words beside sets that nothing is known of
	notCounted []string       // exercises of no ladder
	old        []training.Day // days too far back to be logged
}

// remarksOf is what was read beside the sets. Where the message speaks of a body
// no word of it is repeated.
func remarksOf(parsed parser.Result, old []training.Day) remarks {
	of := remarks{guesses: parsed.Guesses, old: old}
	if parsed.Care == "" {
		of.unread, of.notCounted = parsed.Unread, parsed.NotCounted
	}
	return of
}

// and is both remarks together.
func (r remarks) and(more remarks) remarks {
	return remarks{
		guesses: append(slices.Clip(r.guesses), more.guesses...), unread: append(slices.Clip(r.unread), more.unread...),
		notCounted: append(slices.Clip(r.notCounted), more.notCounted...), old: append(slices.Clip(r.old), more.old...),
	}
}

// words are the remarks as notes to a read-back.
func (r remarks) words() []string {
	var notes, took, unread, days []string
	for _, guess := range r.guesses {
		if guess.Kind != "day" && !hasFold(took, guess.Took) { // the day stands before the sets anyway
			took = append(took, guess.Took)
		}
	}
	for _, word := range r.unread {
		unread = append(unread, "“"+brief(word)+"”")
	}
	for _, day := range r.old {
		days = append(days, dayWords(day))
	}
	if len(took) > 0 {
		notes = append(notes, "read as "+andList(took))
	}
	if len(unread) > 0 {
		notes = append(notes, "not read: "+strings.Join(unread, ", "))
	}
	if len(r.notCounted) > 0 {
		notes = append(notes, "not counted: "+strings.Join(r.notCounted, ", "))
	}
	if len(days) > 0 {
		notes = append(notes, fmt.Sprintf("not logged, as more than %d days back: %s", oldest, andList(days)))
	}
	return notes
}

// loggedNotes is what the read-back has to say of how the sets were read, and of
// sets that lack the unit their rung counts in.
func (s *step) loggedNotes(sets []training.Set, of remarks) []string {
	notes := of.words()
	for _, set := range sets {
		ladder, rung, ok := s.programme.Find(set.Rung)
		if !ok || ladder.Tries || rung.Work(&set) > 0 || set.Failed {
			continue
		}
		gate, gated := s.programme.GateOf(ladder)
		if !gated || ladder.Advice {
			continue
		}
		note := fmt.Sprintf("%s in %s would count towards the %s gate", rung.Name, rung.Unit, s.programme.NameOf(gate.Rung))
		if !slices.Contains(notes, note) {
			notes = append(notes, note)
		}
	}
	return notes
}
