package bot

import (
	"slices"

	"rungbook/bot/words"
	"rungbook/scheduler"
	"rungbook/training"
)

// week computes the seven days up to the day before until, for everyone who
// trains, in roster order.
func (s *step) week(until training.Day) ([]words.MemberWeek, error) {
	var weeks []words.MemberWeek
	for _, member := range s.roster {
		if !member.Trains {
			continue
		}
		record, err := s.tx.Record(s.team.ID, member.ID)
		if err != nil {
			return nil, err
		}
		week := words.MemberWeek{WeekFact: s.programme.Week(&record, s.team.Days, until-1)}
		week.Member = s.called(member)
		week.PausedNow = record.PausedOn(s.dayFor(member))
		if until == s.today() && week.PausedNow {
			week.Paused, week.Ready = true, false // where it is tomorrow already
		}
		week.Change = tensionChange(s.programme.Loads(&record, until-1))
		for _, gate := range s.programme.GateFacts(&record, until) {
			if days, ok := gate.Lapses(until); ok && days <= words.LapseNotice {
				week.Lapsing = append(week.Lapsing, gate.Gate)
			}
		}
		for _, target := range s.programme.Targets(&record, s.team.Days, until) {
			if target.Reason.Rule == fallingRule {
				week.Falling = append(week.Falling, target.Rung)
			}
		}
		weeks = append(weeks, week)
	}
	return weeks, nil
}

// fallingRule is the number of the next session's rule that steps back after three
// sessions down. The digest names whom it applied to.
const fallingRule = 5

// tensionChange is the tension of all ladders against the four weeks before, in
// percent.
func tensionChange(loads []training.Load) (change training.Optional) {
	now, before := 0, training.Ratio{Den: 1}
	for _, load := range loads {
		now += load.TensionS
		if load.Compare {
			before, change.Known = training.Ratio{Num: before.Num + load.Before.Num, Den: load.Before.Den}, true
		}
	}
	if change.Known {
		change.Value = training.Load{TensionS: now, Before: before}.Change()
	}
	return change
}

func weekFacts(weeks []words.MemberWeek) words.WeekFacts {
	facts := words.WeekFacts{Members: []training.WeekFact{}}
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
	s.reply(ToPrivate, words.Digest(s.team.Name, s.today(), weeks, nil), weekFacts(weeks))
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

// digest sends one coach the digest of one date, or records that it is too late.
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
		Text: words.Digest(s.team.Name, due.Day, weeks, notes), Facts: weekFacts(weeks),
	})
}

// unsaid counts what came too late to be said since the last digest that was sent:
// nudges, and digests skipped.
func (s *step) unsaid(coach training.Member, day training.Day) ([]string, error) {
	skipped, from, err := s.skipped(coach, day)
	if err != nil {
		return nil, err
	}
	var late []words.NotNudged
	for _, member := range s.roster {
		decided, err := s.tx.Decided(s.team.ID, decisionNudge, member.ID, from.String())
		if err != nil {
			return nil, err
		}
		for one := from; one < day; one++ {
			if decided[one.String()] == outcomeMissed {
				late = append(late, words.NotNudged{Name: s.called(member), Day: one})
			}
		}
	}
	return words.Missed(late, skipped), nil
}

// skipped lists the digests before this one that were never sent, and the first day
// that no digest has covered.
func (s *step) skipped(coach training.Member, day training.Day) (days []training.Day, from training.Day, err error) {
	decided, err := s.tx.Decided(s.team.ID, decisionDigest, coach.ID, (day - scheduler.LookBack).String())
	if err != nil {
		return nil, 0, err
	}
	from = day - 7
	for decided[from.String()] == outcomeMissed {
		days = append(days, from)
		from -= 7
	}
	slices.Reverse(days)
	return days, from, nil
}
