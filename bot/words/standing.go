package words

import (
	"fmt"
	"strings"

	"rungbook/training"
)

// Gates answers /gates. name is empty for the author's own.
func Gates(name string, today training.Day, facts GatesFacts) string {
	lines := []string{"Gates on " + dayWords(today) + ":"}
	if name != "" {
		lines[0] = name + "'s gates on " + dayWords(today) + ":"
	}
	for _, gate := range facts.Gates {
		lines = append(lines, "· "+gateWords(gate, today, inFull, true))
	}
	return strings.Join(append(lines, standingWords(facts.Standing)...), "\n")
}

// standingWords says where somebody stands, privately, with the reasons both
// ways.
func standingWords(s Standing) []string {
	if s.Paused {
		return []string{"Paused. Your coach ends it."}
	}
	lines := []string{attemptWords(s)}
	for _, gate := range s.Why.Gates {
		if days, ok := gate.Lapses(s.Today); ok && days <= LapseNotice {
			lines = append(lines, fmt.Sprintf("%s: %s left before it has to be shown again.",
				sentence(gate.Gate)[:len(gate.Gate)], count(days, "day")))
		}
	}
	return append(lines, nextWords(s.NextAllowed, s.NextTeamDay, s.Today))
}

// LapseNotice is how many days ahead it is told that a gate lapses.
const LapseNotice = 7

// attemptWords says whether an attempt is allowed, and why or why not.
func attemptWords(s Standing) string {
	switch {
	case s.MayAttempt:
		return "Every blocking gate is open and today is free: an attempt is allowed. " +
			"Someone within call, clear floor and mat; /help safety."
	case s.Returning && s.Why.SessionsBack >= 2:
		return "Returning after a pause, both sessions done: it ends with today, and no attempt before."
	case s.Returning:
		return fmt.Sprintf("Returning after a pause, %d of 2 sessions done: no attempts until both are.", s.Why.SessionsBack)
	case s.Ready:
		return "Every blocking gate is open; " + todayWords(s.Why) + ", so an attempt waits for a free team day."
	}
	open := s.Why.Blocking - len(s.Missing)
	return fmt.Sprintf("%d of %s open, to show before an attempt: %s; %s.",
		open, count(s.Why.Blocking, "gate"), missingWords(s.Why), todayWords(s.Why))
}

// missingWords is what is to be shown, with how far it has come.
func missingWords(why training.Readiness) string {
	var parts []string
	for _, gate := range why.Gates {
		if gate.Blocking && !gate.Status.Holds() {
			parts = append(parts, fmt.Sprintf("%s (%d of %d)", gate.Gate, gate.Shown, gate.Needed))
		}
	}
	return andList(parts)
}

// todayWords says what today is to somebody.
func todayWords(why training.Readiness) string {
	switch {
	case why.Away:
		return "you are away today"
	case !why.TeamDay:
		return "today is no team day"
	case !why.Free:
		return "today is not free by the rest rule"
	case why.Trained:
		return "today's session is logged"
	}
	return "today is free"
}
