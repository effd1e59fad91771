package words

import (
	"fmt"
	"slices"
	"strings"

	"rungbook/training"
)

// Programme shows a programme: its ladders with what moves on, its gates,
// its rest rule.
func Programme(p *training.Programme) string {
	lines := []string{fmt.Sprintf("%s: at most %s in 7 days, %s between. All numbers: common practice, no source.",
		sentence(p.Name)[:len(p.Name)], count(p.Rest.Sessions, "session"), count(p.Rest.ClearDays, "clear day"))}
	for i := range p.Ladders {
		lines = append(lines, "· "+ladderWords(p, &p.Ladders[i]))
	}
	return strings.Join(lines, "\n")
}

// ladderWords is a ladder: false grip: high hold (30 s), mid hang (30 s), ….
func ladderWords(p *training.Programme, ladder *training.Ladder) string {
	var rungs []string
	for _, rung := range ladder.Rungs {
		words := rung.Name
		if rung.MoveOn.Sets > 0 {
			words += " (" + standard(rung.MoveOn, rung.Unit) + ")"
		}
		rungs = append(rungs, words)
	}
	words := ladder.Name + ": " + strings.Join(rungs, ", ")
	if gate, ok := p.GateOf(ladder); ok {
		words += "; gate " + gateStandard(p, gate)
	}
	if !ladder.Counts {
		words += "; does not count for the rest rule"
	}
	return words
}

// gateStandard is a gate in words: deep hang 3×30 s, rest at most 60 s.
func gateStandard(p *training.Programme, gate training.Gate) string {
	unit := training.Counted
	if _, rung, ok := p.Find(gate.Rung); ok {
		unit = rung.Unit
	}
	words := p.NameOf(gate.Rung) + " " + standard(gate.Standard, unit)
	if gate.RestS > 0 {
		words += ", rest at most " + secondsWords(gate.RestS)
	}
	if !gate.Blocking {
		words += ", advice"
	}
	return words
}

func standard(s training.Standard, unit training.Unit) string {
	if s.Sets == 1 {
		return unitWords(s.Work, unit)
	}
	return fmt.Sprintf("%d×%s", s.Sets, unitWords(s.Work, unit))
}

// differenceWords lists what another programme does otherwise, line by line of
// what is shown of both.
func differenceWords(from, to *training.Programme) []string {
	before, after := strings.Split(Programme(from), "\n"), strings.Split(Programme(to), "\n")
	var lines []string
	for _, line := range before {
		if !slices.Contains(after, line) {
			lines = append(lines, "− "+strings.TrimPrefix(line, "· "))
		}
	}
	for _, line := range after {
		if !slices.Contains(before, line) {
			lines = append(lines, "+ "+strings.TrimPrefix(line, "· "))
		}
	}
	return lines
}

// GateChanges is a member's gates that another programme would have stand
// otherwise.
type GateChanges struct {
	Member string
	Gates  []GateChange
}

// GateChange is how one gate would stand.
type GateChange struct {
	Gate string
	From training.GateStatus // "": there is no such gate yet
	To   training.GateStatus // "": there would be no such gate
}

// String says: deep hang open → shut.
func (c GateChange) String() string {
	switch {
	case c.From == "":
		return fmt.Sprintf("%s → %s", c.Gate, c.To)
	case c.To == "":
		return fmt.Sprintf("%s %s → gone", c.Gate, c.From)
	}
	return fmt.Sprintf("%s %s → %s", c.Gate, c.From, c.To)
}

func (c GateChanges) line() string {
	var list []string
	for _, gate := range c.Gates {
		list = append(list, gate.String())
	}
	return c.Member + ": " + strings.Join(list, ", ")
}

// Offer shows what taking a programme would change, before it holds.
func Offer(inForce, taken *training.Programme, members []GateChanges) string {
	lines := []string{"Not taken yet. " + sentence(taken.Name)[:len(taken.Name)] + " against the programme in force:"}
	difference := differenceWords(inForce, taken)
	if len(difference) == 0 {
		lines = append(lines, "no difference in ladders, standards, gates and rest rule")
	}
	lines = append(lines, difference...)
	if len(members) == 0 {
		lines = append(lines, "Nobody's gates would stand otherwise.")
	} else {
		lines = append(lines, "Gates that would stand otherwise:")
	}
	for _, member := range members {
		lines = append(lines, member.line())
	}
	return strings.Join(append(lines, "Say the same with confirm:yes to take it. What was logged stays, and is read by the new one."), "\n")
}

// ProgrammeTaken answers /coach programme take once it holds.
func ProgrammeTaken(taken *training.Programme, days training.Weekdays) string {
	return "From now on the team trains by " + taken.Name + ". " + TeamDays(days, taken)
}

// WhichProgramme refuses /coach programme take that names none; ids are those
// that can be named.
func WhichProgramme(ids []string) string {
	return fmt.Sprintf("Say which: /coach programme take name:%s, or text: and a programme of your own; "+
		"/coach programme show gives you the one in force to start from.", strings.Join(ids, " or name:"))
}

// ProgrammeRefused is the first faults of a programme that cannot be taken.
func ProgrammeRefused(err error) string {
	lines := strings.Split(strings.TrimSpace(err.Error()), "\n")
	if len(lines) > 5 {
		lines = append(lines[:5], fmt.Sprintf("and %d more.", len(lines)-5))
	}
	return "That programme cannot be taken: " + strings.Join(lines, "\n")
}
