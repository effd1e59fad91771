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
func (s *step) week(until training.Day) ([]memberWeek, error) {
	var weeks []memberWeek
	for _, member := range s.roster {
		if !member.Trains {
			continue
		}
		record, err := s.tx.Record(s.team.ID, member.ID)
		if err != nil {
			return nil, err
		}
		week := memberWeek{WeekFact: s.programme.Week(&record, s.team.Days, until-1)}
		week.Member = member.Name
		week.paused = record.PausedOn(s.dayFor(member))
		if until == s.today() && week.paused {
			week.Paused, week.Ready = true, false // where it is tomorrow already
		}
		week.change = changeWords(s.programme.Loads(&record, until-1))
		for _, gate := range s.programme.GateFacts(&record, until) {
			if days, ok := gate.Lapses(until); ok && days <= lapseNotice {
				week.lapsing = append(week.lapsing, gate.Gate)
			}
		}
		for _, target := range s.programme.Targets(&record, s.team.Days, until) {
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
func digestNow(s *step, _ args) error {
	weeks, err := s.week(s.today())
	if err != nil {
		return err
	}
	s.reply(ToPrivate, digestWords(s.team.Name, s.today(), weeks, nil), weekFacts(weeks))
	return nil
}

// roster answers /coach roster: everyone, a line each.
func roster(s *step, _ args) error {
	weeks, err := s.week(s.today())
	if err != nil {
		return err
	}
	facts := weekFacts(weeks)
	s.reply(ToPrivate, rosterWords(s.roster, facts), facts)
	return nil
}

// digests sends each coach the digest that has come due.
func (s *step) digests() error {
	for _, coach := range s.roster {
		if !coach.Coach {
			continue
		}
		open, err := s.undecided(decisionDigest, coach.ID, scheduler.Digests(s.team, coach, s.at))
		if err != nil {
			return err
		}
		for _, due := range open {
			if err := s.digest(coach, due); err != nil {
				return err
			}
		}
	}
	return nil
}

// digest sends one coach the digest of one date, or records that it is too
// late for it.
func (s *step) digest(coach training.Member, due scheduler.Due) error {
	cause := due.Day.String()
	if !due.Timing.Now() {
		_, err := s.tx.Decide(s.team.ID, decisionDigest, coach.ID, cause, outcomeMissed, s.at)
		return err
	}
	weeks, err := s.week(due.Day)
	if err != nil {
		return err
	}
	notes, err := s.unsaid(coach, due.Day)
	if err != nil {
		return err
	}
	return s.unasked(decisionDigest, coach.ID, cause, Post{
		Kind: Digest, To: ToCoach, Person: coach.ID, Name: coach.Name, Until: due.Until,
		Text: digestWords(s.team.Name, due.Day, weeks, notes), Facts: weekFacts(weeks),
	})
}

// unsaid tells what was decided too late to be said since the last digest that
// was: nudges, and the digests skipped.
func (s *step) unsaid(coach training.Member, day training.Day) ([]string, error) {
	skipped, from, err := s.skipped(coach, day)
	if err != nil {
		return nil, err
	}
	var late []string
	for _, member := range s.roster {
		decided, err := s.tx.Decided(s.team.ID, decisionNudge, member.ID, from.String())
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
func (s *step) skipped(coach training.Member, day training.Day) (dates []string, from training.Day, err error) {
	decided, err := s.tx.Decided(s.team.ID, decisionDigest, coach.ID, (day - scheduler.LookBack).String())
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
