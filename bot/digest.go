package bot

import (
	"fmt"
	"slices"
	"strings"

	"rungbook/scheduler"
	"rungbook/training"
)

// WeekFacts is the digest's data: everyone who trains, in roster order, over
// seven complete days.
type WeekFacts struct {
	Members []training.WeekFact `json:"members"`
}

func (WeekFacts) facts() {}

// week computes the seven days up to the day before until, for everyone who
// trains.
func (t *turn) week(until training.Day) (WeekFacts, error) {
	facts := WeekFacts{Members: []training.WeekFact{}}
	for _, member := range t.roster {
		if !member.Trains {
			continue
		}
		record, err := t.tx.Record(t.team.ID, member.ID)
		if err != nil {
			return facts, err
		}
		fact := t.programme.Week(&record, t.team.Days, until-1)
		fact.Member = member.Name
		facts.Members = append(facts.Members, fact)
	}
	return facts, nil
}

// digestNow answers /coach digest: the seven days before today.
func digestNow(t *turn, _ args) error {
	facts, err := t.week(t.today())
	if err != nil {
		return err
	}
	t.reply(ToPrivate, digestWords(t.team.Name, t.today(), facts, nil), facts)
	return nil
}

// roster answers /coach roster: everyone, a line each.
func roster(t *turn, _ args) error {
	facts, err := t.week(t.today())
	if err != nil {
		return err
	}
	t.reply(ToPrivate, rosterWords(t.roster, facts), facts)
	return nil
}

// digests sends each coach the digest that has come due.
func (t *turn) digests() error {
	for _, coach := range t.roster {
		if !coach.Coach {
			continue
		}
		open, err := t.undecided(decisionDigest, coach.ID, scheduler.Digests(t.team, coach, t.at))
		if err != nil {
			return err
		}
		for _, due := range open {
			if err := t.digest(coach, due); err != nil {
				return err
			}
		}
	}
	return nil
}

// digest sends one coach the digest of one date, or records that it is too
// late for it.
func (t *turn) digest(coach training.Member, due scheduler.Due) error {
	cause := due.Day.String()
	if !due.Timing.Now() {
		_, err := t.tx.Decide(t.team.ID, decisionDigest, coach.ID, cause, outcomeMissed, t.at)
		return err
	}
	facts, err := t.week(due.Day)
	if err != nil {
		return err
	}
	notes, err := t.unsaid(coach, due.Day)
	if err != nil {
		return err
	}
	return t.unasked(decisionDigest, coach.ID, cause, Post{
		Kind: Digest, To: ToCoach, Person: coach.ID, Name: coach.Name, Until: due.Until,
		Text: digestWords(t.team.Name, due.Day, facts, notes), Facts: facts,
	})
}

// unsaid tells what was decided too late to be said in the seven days before
// the day: nudges, and the digest before this one.
func (t *turn) unsaid(coach training.Member, day training.Day) ([]string, error) {
	var notes []string
	for _, member := range t.roster {
		decided, err := t.tx.Decided(t.team.ID, decisionNudge, member.ID, (day - 7).String())
		if err != nil {
			return nil, err
		}
		for late := day - 7; late < day; late++ {
			if decided[late.String()] == outcomeMissed {
				notes = append(notes, member.Name+" on "+dateWords(late))
			}
		}
	}
	if len(notes) > 0 {
		notes = []string{"Not nudged while I was down: " + clip(strings.Join(notes, ", "), 120) + "."}
	}
	decided, err := t.tx.Decided(t.team.ID, decisionDigest, coach.ID, (day - 7).String())
	if err != nil {
		return nil, err
	}
	if decided[(day-7).String()] == outcomeMissed {
		notes = append(notes, "The digest of "+dateWords(day-7)+" was not sent: I was down.")
	}
	return notes, nil
}

// digestWords is the coach's week: first who needs a word, then who moved and
// who is ready, then a row a member. At most 25 lines and 200 words for 12
// members.
func digestWords(team string, day training.Day, facts WeekFacts, notes []string) string {
	lines := []string{fmt.Sprintf("%s, %s to %s", team, dayWords(day-7), dayWords(day-1))}
	lines = append(lines, needsWord(facts.Members)...)
	lines = append(lines, notes...)
	lines = append(lines, listed("Moved on: ", facts.Members, func(m training.WeekFact) string {
		if len(m.Moved) == 0 {
			return ""
		}
		return m.Member + " (" + strings.Join(m.Moved, ", ") + ")"
	})...)
	lines = append(lines, listed("Ready for an attempt on a free day: ", facts.Members, func(m training.WeekFact) string {
		return nameIf(m, m.Ready)
	})...)
	for _, m := range facts.Members {
		lines = append(lines, memberRow(m))
	}
	return strings.Join(lines, "\n")
}

// needsWord is who needs the coach, a line a reason.
func needsWord(members []training.WeekFact) []string {
	return slices.Concat(
		listed("Paused, to be talked to: ", members, func(m training.WeekFact) string { return nameIf(m, m.Paused) }),
		listed("Over the rest rule: ", members, func(m training.WeekFact) string {
			if m.Violations == 0 {
				return ""
			}
			return fmt.Sprintf("%s (%s)", m.Member, count(m.Violations, "day"))
		}),
		listed("No session for two weeks: ", members, func(m training.WeekFact) string { return nameIf(m, m.Absent) }),
	)
}

func nameIf(m training.WeekFact, holds bool) string {
	if holds {
		return m.Member
	}
	return ""
}

// listed is one line of those members for whom tell has words; none without.
func listed(head string, members []training.WeekFact, tell func(training.WeekFact) string) []string {
	var told []string
	for _, m := range members {
		if words := tell(m); words != "" {
			told = append(told, words)
		}
	}
	if len(told) == 0 {
		return nil
	}
	return []string{head + strings.Join(told, ", ") + "."}
}

// memberRow is a member's week: Priya: 2 of 2, 540 s under tension, pull on 1.
func memberRow(m training.WeekFact) string {
	row := fmt.Sprintf("%s: %d of %d planned", m.Member, m.Sessions, m.Planned)
	if m.TensionS > 0 {
		row += fmt.Sprintf(", %d s", m.TensionS)
	}
	if m.PullDays > 0 {
		row += ", pull " + count(m.PullDays, "day")
	}
	if m.Away {
		row += ", away"
	}
	return row
}

// rosterWords is everyone, a line each.
func rosterWords(roster []training.Member, facts WeekFacts) string {
	byName := map[string]training.WeekFact{}
	for _, fact := range facts.Members {
		byName[fact.Member] = fact
	}
	var lines []string
	for _, who := range roster {
		fact, trains := byName[who.Name]
		if !trains && !who.Coach {
			continue
		}
		lines = append(lines, rosterRow(who, fact, trains))
	}
	return strings.Join(lines, "\n")
}

func rosterRow(who training.Member, fact training.WeekFact, trains bool) string {
	parts := []string{who.Zone.String()}
	if who.Coach {
		parts = append(parts, "coach")
	}
	if trains {
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

// nudgeWords names who may train today and the session's shape, no targets.
func nudgeWords(names []string, programme *training.Programme) string {
	shape := programme.Shape
	var ladders []string
	for _, ladder := range programme.Ladders {
		if ladder.Counts && !ladder.Tries {
			ladders = append(ladders, ladder.Name)
		}
	}
	return fmt.Sprintf("%s: today is a session day for you. Warm up, then %s, %s each; elbows fine first. /help safety",
		andList(names), andList(ladders), count(shape.Sets, "bout"))
}
