package words

import (
	"fmt"
	"strings"

	"rungbook/training"
)

// length is how much of a gate is told.
type length int

const (
	inBrief length = iota // the name and the count
	inShort               // and its date
	inFull                // and the sets behind it
)

// gateLine tells the gates a log touched: those that hold together by date,
// then the others.
func gateLine(facts LogFacts, long length) string {
	var dates, others []string
	holding := map[string][]string{}
	for _, gate := range facts.Gates {
		if !gate.Status.Holds() {
			others = append(others, gateWords(gate, facts.Day, long, false))
			continue
		}
		date := holdsWords(gate, long) + unstatedWords(gate)
		if holding[date] == nil {
			dates = append(dates, date)
		}
		holding[date] = append(holding[date], gateName(gate))
	}
	var parts []string
	for _, date := range dates {
		parts = append(parts, andList(holding[date])+" "+date)
	}
	line := strings.Join(append(parts, others...), "; ")
	switch {
	case line == "":
		return ""
	case len(facts.Gates) == 1:
		return "Gate: " + line + "."
	}
	return "Gates: " + line + "."
}

// holdsWords says that a gate holds: open until 3 Nov ✓.
func holdsWords(gate training.GateFact, long length) string {
	if long == inBrief {
		return string(gate.Status) + " ✓"
	}
	return fmt.Sprintf("%s until %s ✓", gate.Status, dateWords(gate.GoodUntil))
}

func gateName(gate training.GateFact) string {
	if !gate.Blocking {
		return gate.Gate + " (advice)"
	}
	return gate.Gate
}

// gateWords is one gate by itself: deep hang 2 of 3 (30 + 30 + 22 s). In the
// channel nothing tells of a pause.
func gateWords(gate training.GateFact, day training.Day, long length, private bool) string {
	name := gateName(gate)
	switch {
	case gate.Status.Holds():
		return name + " " + holdsWords(gate, long) + unstatedWords(gate)
	case gate.Status == training.Lapsed && !private:
		name += ", to be shown again:"
	case gate.Status == training.Lapsed && gate.Reason != "":
		name += ", shown before a pause, to be shown again:"
	case gate.Status == training.Lapsed:
		name += ", shown last on " + dateWords(gate.ShownOn) + ", to be shown again:"
	}
	if long == inBrief {
		return name + " " + progressWords(gate, day, long)
	}
	return name + " " + progressWords(gate, day, long) + unstatedWords(gate)
}

// unstatedWords says that the gate rests on sets whose rest nobody told. A
// coach's mark rests on what they saw.
func unstatedWords(gate training.GateFact) string {
	if !gate.RestNotStated || gate.Status == training.Witnessed {
		return ""
	}
	return ", rest not stated"
}

// progressWords is how far a gate not open has come: 2 of 3 (30 + 30 + 22 s).
func progressWords(gate training.GateFact, day training.Day, long length) string {
	if long == inBrief {
		return fmt.Sprintf("%d of %d", gate.Shown, gate.Needed)
	}
	if len(gate.Best) == 0 {
		return "0 of " + standardWords(gate)
	}
	words := fmt.Sprintf("%d of %s", gate.Shown, standardWords(gate))
	if gate.Needed == 1 {
		words = fmt.Sprintf("%d of %s", gate.Best[0], unitWords(gate.Work, gate.Unit))
	} else if long == inFull {
		words += fmt.Sprintf(" (%s)", bestWords(gate))
	}
	if gate.BestOn != day {
		words += " on " + dateWords(gate.BestOn)
	}
	return words
}

// bestWords is a session's best sets: 30 + 30 + 22 s.
func bestWords(gate training.GateFact) string {
	var sizes []string
	for _, work := range gate.Best {
		sizes = append(sizes, fmt.Sprint(work))
	}
	words := strings.Join(sizes, " + ")
	if gate.Unit == training.Timed {
		words += " s"
	}
	return words
}

// standardWords is what a gate asks: 3×30 s, 5 reps.
func standardWords(gate training.GateFact) string {
	size := unitWords(gate.Work, gate.Unit)
	if gate.Needed == 1 {
		return size
	}
	return fmt.Sprintf("%d×%s", gate.Needed, size)
}

func unitWords(work int, unit training.Unit) string {
	if unit == training.Timed {
		return secondsWords(work)
	}
	return count(work, "rep")
}
