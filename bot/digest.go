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

// memberWeek is one member's row, with what the words need beside the facts.
type memberWeek struct {
	training.WeekFact
	lapsing []string // gates that stop to hold within a week of the day after
	change  string   // of the tension against the four weeks before; empty where there is nothing to compare
	falling []string // rungs whose work fell three sessions running
	paused  bool     // now, whatever was so the day after the seven
}

// week computes the seven days up to the day before until, for everyone who
// trains, in roster order.
func (t *turn) week(until training.Day) ([]memberWeek, error) {
	var weeks []memberWeek
	for _, member := range t.roster {
		if !member.Trains {
			continue
		}
		record, err := t.tx.Record(t.team.ID, member.ID)
		if err != nil {
			return nil, err
		}
		week := memberWeek{WeekFact: t.programme.Week(&record, t.team.Days, until-1)}
		week.Member = member.Name
		week.paused = record.PausedOn(t.dayFor(member))
		if until == t.today() && week.paused {
			week.Paused, week.Ready = true, false // where it is tomorrow already
		}
		week.change = changeWords(t.programme.Loads(&record, until-1))
		for _, gate := range t.programme.GateFacts(&record, until) {
			if days, ok := gate.Lapses(until); ok && days <= lapseNotice {
				week.lapsing = append(week.lapsing, gate.Gate)
			}
		}
		for _, target := range t.programme.Targets(&record, t.team.Days, until) {
			if target.Reason.Rule == fallingRule {
				week.falling = append(week.falling, target.Rung)
			}
		}
		weeks = append(weeks, week)
	}
	return weeks, nil
}

// fallingRule is the rule of the next session that steps back after three
// sessions down, of which the digest tells.
const fallingRule = 5

// changeWords is the tension of all ladders against the four weeks before.
func changeWords(loads []training.Load) string {
	now, before, compare := 0, training.Ratio{Den: 1}, false
	for _, load := range loads {
		now += load.TensionS
		if load.Compare {
			before, compare = training.Ratio{Num: before.Num + load.Before.Num, Den: load.Before.Den}, true
		}
	}
	if !compare {
		return ""
	}
	return fmt.Sprintf("%+d %%", training.Load{TensionS: now, Before: before}.Change())
}

func weekFacts(weeks []memberWeek) WeekFacts {
	facts := WeekFacts{Members: []training.WeekFact{}}
	for _, week := range weeks {
		facts.Members = append(facts.Members, week.WeekFact)
	}
	return facts
}

// digestNow answers /coach digest: the seven days before today.
func digestNow(t *turn, _ args) error {
	weeks, err := t.week(t.today())
	if err != nil {
		return err
	}
	t.reply(ToPrivate, digestWords(t.team.Name, t.today(), weeks, nil), weekFacts(weeks))
	return nil
}

// roster answers /coach roster: everyone, a line each.
func roster(t *turn, _ args) error {
	weeks, err := t.week(t.today())
	if err != nil {
		return err
	}
	facts := weekFacts(weeks)
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
	weeks, err := t.week(due.Day)
	if err != nil {
		return err
	}
	notes, err := t.unsaid(coach, due.Day)
	if err != nil {
		return err
	}
	return t.unasked(decisionDigest, coach.ID, cause, Post{
		Kind: Digest, To: ToCoach, Person: coach.ID, Name: coach.Name, Until: due.Until,
		Text: digestWords(t.team.Name, due.Day, weeks, notes), Facts: weekFacts(weeks),
	})
}

// unsaid tells what was decided too late to be said since the last digest that
// was: nudges, and the digests skipped.
func (t *turn) unsaid(coach training.Member, day training.Day) ([]string, error) {
	skipped, from, err := t.skipped(coach, day)
	if err != nil {
		return nil, err
	}
	var late []string
	for _, member := range t.roster {
		decided, err := t.tx.Decided(t.team.ID, decisionNudge, member.ID, from.String())
		if err != nil {
			return nil, err
		}
		for one := from; one < day; one++ {
			if decided[one.String()] == outcomeMissed {
				late = append(late, member.Name+" on "+dateWords(one))
			}
		}
	}
	var notes []string
	if len(late) > 0 {
		notes = append(notes, "Not nudged, as it was too late by then: "+clip(strings.Join(late, ", "), 120)+".")
	}
	if len(skipped) > 0 {
		notes = append(notes, "Not sent in time: the digest of "+andList(skipped)+".")
	}
	return notes, nil
}

// skipped lists the digests before this one that were never sent, and the first
// day of which no digest has told.
func (t *turn) skipped(coach training.Member, day training.Day) (dates []string, from training.Day, err error) {
	decided, err := t.tx.Decided(t.team.ID, decisionDigest, coach.ID, (day - scheduler.LookBack).String())
	if err != nil {
		return nil, 0, err
	}
	from = day - 7
	for decided[from.String()] == outcomeMissed {
		dates = append(dates, dateWords(from))
		from -= 7
	}
	slices.Reverse(dates)
	return dates, from, nil
}
