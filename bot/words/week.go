package words

import (
	"fmt"
	"slices"
	"strings"

	"rungbook/training"
)

// Limits of a digest for 12 members.
const (
	digestLines = 25
	digestWords = 200
)

// MemberWeek is one member's row of a digest.
type MemberWeek struct {
	training.WeekFact
	Lapsing   []string          // gates that stop to hold within LapseNotice days of the day after
	Falling   []string          // rungs whose work fell three sessions running
	Change    training.Optional // percent of the tension against the four weeks before
	PausedNow bool              // whatever was so the day after the seven
}

// Digest is the coach's week: first who needs a word, then who moved and
// who is ready, then a row a member. Where that is too long, rows are told
// shorter, and lists are cut.
func Digest(team string, day training.Day, weeks []MemberWeek, notes []string) string {
	head := fmt.Sprintf("%s, %s to %s", team, dayWords(day-7), dayWords(day-1))
	var text string
	for _, most := range []int{len(weeks), 6, 3, 2, 1} {
		for _, rows := range weekRows {
			lines := slices.Concat([]string{head}, needsWord(weeks, most), notes, moves(weeks, most))
			if rows.key != "" && len(weeks) > 0 {
				lines = append(lines, rows.key)
			}
			for _, week := range weeks {
				lines = append(lines, rows.row(week))
			}
			text = strings.Join(lines, "\n")
			if len(lines) <= digestLines && len(strings.Fields(text)) <= digestWords {
				return text
			}
		}
	}
	return text
}

// NotNudged is a member's day of whose nudge it was too late.
type NotNudged struct {
	Name string
	Day  training.Day
}

// Missed are a digest's notes on what was not said since the last one, for it
// was too late by then: nudges, and digests.
func Missed(nudges []NotNudged, digests []training.Day) []string {
	var notes, late, skipped []string
	for _, nudge := range nudges {
		late = append(late, nudge.Name+" on "+dateWords(nudge.Day))
	}
	for _, day := range digests {
		skipped = append(skipped, dateWords(day))
	}
	if len(late) > 0 {
		notes = append(notes, "Not nudged, as it was too late by then: "+clip(strings.Join(late, ", "), 120)+".")
	}
	if len(skipped) > 0 {
		notes = append(notes, "Not sent in time: the digest of "+andList(skipped)+".")
	}
	return notes
}

// weekRows are the ways to tell a row a member, the longest first.
var weekRows = []struct {
	key string // says what the rows tell; empty for none
	row func(MemberWeek) string
}{
	{"Each: sessions of those planned, time under tension, days of pull work.", fullRow},
	{"", fullRow},
	{"", shortRow},
}

// needsWord is who needs the coach, a line a reason.
func needsWord(weeks []MemberWeek, most int) []string {
	return slices.Concat(
		listed("Paused, to be talked to: ", weeks, most, nameIf(func(m MemberWeek) bool { return m.Paused || m.PausedNow })),
		listed("Over the rest rule: ", weeks, most, func(m MemberWeek) string {
			if m.Violations == 0 {
				return ""
			}
			return fmt.Sprintf("%s (%d×)", m.Member, m.Violations)
		}),
		listed("Fewer sessions than planned: ", weeks, most, func(m MemberWeek) string {
			if m.Sessions >= m.Planned || m.Paused || m.Away || m.Absent {
				return ""
			}
			return fmt.Sprintf("%s (%d of %d)", m.Member, m.Sessions, m.Planned)
		}),
		listed("Three sessions down: ", weeks, most, func(m MemberWeek) string { return withList(m.Member, m.Falling, most) }),
		listed("No rise in four weeks: ", weeks, most, func(m MemberWeek) string { return withList(m.Member, m.StuckOn, most) }),
		listed("Lapsing within a week: ", weeks, most, func(m MemberWeek) string { return withList(m.Member, m.Lapsing, most) }),
		listed("No session for two weeks: ", weeks, most, nameIf(func(m MemberWeek) bool { return m.Absent })),
	)
}

// moves is who moved on and who is ready.
func moves(weeks []MemberWeek, most int) []string {
	return slices.Concat(
		listed("Moved on: ", weeks, most, func(m MemberWeek) string { return withList(m.Member, m.Moved, most) }),
		listed("Ready for an attempt on a free day: ", weeks, most, nameIf(func(m MemberWeek) bool { return m.Ready && !m.PausedNow })),
	)
}

// withList is a name with what goes with it, at most so many; empty where there
// is nothing.
func withList(name string, list []string, most int) string {
	if len(list) == 0 {
		return ""
	}
	if more := len(list) - most; more > 0 {
		list = append(slices.Clone(list[:most]), fmt.Sprintf("%d more", more))
	}
	return name + " (" + strings.Join(list, ", ") + ")"
}

func nameIf(holds func(MemberWeek) bool) func(MemberWeek) string {
	return func(m MemberWeek) string {
		if holds(m) {
			return m.Member
		}
		return ""
	}
}

// listed is one line of those members for whom tell has words, at most so
// many; none without.
func listed(head string, weeks []MemberWeek, most int, tell func(MemberWeek) string) []string {
	var told []string
	more := 0
	for _, week := range weeks {
		words := tell(week)
		switch {
		case words == "":
		case len(told) < most:
			told = append(told, words)
		default:
			more++
		}
	}
	if more > 0 {
		told = append(told, fmt.Sprintf("%d more", more))
	}
	if len(told) == 0 {
		return nil
	}
	return []string{head + strings.Join(told, ", ") + "."}
}

// fullRow is a member's week: Priya: 2 of 2, 540 s (+10 %), pull 1. That is
// sessions of planned, seconds under tension, days with pull work.
func fullRow(m MemberWeek) string {
	row := shortRow(m)
	if m.TensionS > 0 {
		row += fmt.Sprintf(", %d s", m.TensionS)
		if m.Change.Known {
			row += fmt.Sprintf(" (%+d %%)", m.Change.Value)
		}
	}
	if m.PullDays > 0 {
		row += fmt.Sprintf(", pull %d", m.PullDays)
	}
	return row
}

// shortRow is what was done of what was planned.
func shortRow(m MemberWeek) string {
	row := fmt.Sprintf("%s: %d of %d", m.Member, m.Sessions, m.Planned)
	if m.Sessions > m.Planned {
		row = fmt.Sprintf("%s: %d, planned %d", m.Member, m.Sessions, m.Planned)
	}
	if m.Away {
		row += ", away"
	}
	return row
}

// Roster is everyone, a line each. The facts are those of who trains, in the roster's
// order: names don't tell people apart.
func Roster(roster []training.Member, facts WeekFacts) string {
	left := facts.Members
	var lines []string
	for _, who := range roster {
		var fact training.WeekFact
		if who.Trains && len(left) > 0 {
			fact, left = left[0], left[1:]
		}
		if who.Trains || who.Coach {
			lines = append(lines, rosterRow(who, fact))
		}
	}
	return strings.Join(lines, "\n")
}

func rosterRow(who training.Member, fact training.WeekFact) string {
	parts := []string{who.Zone.String()}
	if who.Coach {
		parts = append(parts, "coach")
	}
	if who.Trains {
		parts = append(parts, "joined "+dateWords(who.Joined))
	}
	if fact.Paused {
		parts = append(parts, "paused")
	}
	if fact.Away {
		parts = append(parts, "away")
	}
	if fact.Ready {
		parts = append(parts, "ready")
	}
	if fact.LastSession != 0 {
		parts = append(parts, "last session "+dateWords(fact.LastSession))
	}
	return who.Name + ": " + strings.Join(parts, ", ")
}

// Nudge names who may train today and the session's shape, no targets.
func Nudge(names []string, programme *training.Programme) string {
	shape := programme.Shape
	var ladders []string
	for _, ladder := range programme.Ladders {
		if ladder.Counts && !ladder.Tries {
			ladders = append(ladders, ladder.Name)
		}
	}
	return fmt.Sprintf("%s: today is a session day for you. Warm up, then %s, %s each. A sore joint means no session; /help safety",
		andList(names), andList(ladders), count(shape.Sets, "bout"))
}
