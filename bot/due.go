package bot

import (
	"context"
	"errors"
	"time"

	"rungbook/bot/words"
	"rungbook/scheduler"
	"rungbook/training"
)

// beat decides everything that is due for the team, in one transaction.
func (b *Bot) beat(ctx context.Context, e Beat) ([]Post, error) {
	return b.update(ctx, e.Team, Author{}, func(s *step) error {
		s.at = e.At
		return errors.Join(s.tx.ExpireTakeBacks(e.At), s.keepRefused(), s.nudge(), s.digests())
	})
}

// NextDue returns the next instant after the given one at which a beat of the team
// could do something; ok is false if it never could. Errors are those of the Store.
func (b *Bot) NextDue(ctx context.Context, team training.TeamID, after time.Time) (next time.Time, ok bool, err error) {
	err = b.store.View(ctx, func(tx Tx) error {
		settled, found, err := tx.Team(team)
		if err != nil || !found {
			return err
		}
		roster, err := tx.Roster(team)
		if err != nil {
			return err
		}
		next, ok = scheduler.Next(settled, roster, after)
		expiry, waits, err := tx.NextExpiry()
		if waits && expiry.After(after) && (!ok || expiry.Before(next)) {
			next, ok = expiry, true
		}
		return err
	})
	return next, ok, err
}

// nudge decides each member's local dates that have come due. One post names all
// who are nudged at this beat.
func (s *step) nudge() error {
	var due []nudged
	for _, member := range s.roster {
		if !member.Trains {
			continue
		}
		days, err := s.nudgeMember(member)
		if err != nil {
			return err
		}
		due = append(due, days...)
	}
	if len(due) == 0 {
		return nil
	}
	post := Post{Kind: Nudge, To: ToChannel}
	var mentioned []string
	for _, one := range due {
		mentioned = append(mentioned, one.member.Name)
		post.Mentions = append(post.Mentions, Mention{one.member.ID, one.member.Name})
		if post.Until.IsZero() || one.until.Before(post.Until) {
			post.Until = one.until
		}
	}
	post.Text, post.Facts = words.Nudge(mentioned, s.programme), words.NudgeFacts{Mentioned: mentioned}
	post, err := s.form(post)
	if err != nil {
		return err
	}
	s.say(post)
	for _, one := range due {
		if err := s.tx.PointAt(s.team.ID, decisionNudge, one.member.ID, one.day.String(), post.Unasked); err != nil {
			return err
		}
	}
	return nil
}

// nudged is a member who is to be nudged for a local date.
type nudged struct {
	member training.Member
	day    training.Day
	until  time.Time
}

// nudgeMember decides one member's dates and returns those to be nudged now.
func (s *step) nudgeMember(member training.Member) ([]nudged, error) {
	open, err := s.undecided(decisionNudge, member.ID, scheduler.Nudges(s.team, member, s.at))
	if err != nil || len(open) == 0 {
		return nil, err
	}
	record, err := s.tx.Record(s.team.ID, member.ID)
	if err != nil {
		return nil, err
	}
	var now []nudged
	for _, due := range open {
		outcome := outcomeNone
		wanted := member.Nudges && s.programme.Allowed(&record, s.team.Days, due.Day) && !s.programme.Counts(record.Session(due.Day))
		switch {
		case wanted && due.Timing.Now():
			outcome = outcomePost
			now = append(now, nudged{member, due.Day, due.Until})
		case wanted:
			outcome = outcomeMissed
		}
		if _, err := s.tx.Decide(s.team.ID, decisionNudge, member.ID, due.Day.String(), outcome, s.at); err != nil {
			return nil, err
		}
	}
	return now, nil
}

// undecided leaves out dues that still wait and those decided before.
func (s *step) undecided(kind string, subject training.PersonID, dues []scheduler.Due) ([]scheduler.Due, error) {
	if len(dues) == 0 {
		return nil, nil
	}
	decided, err := s.tx.Decided(s.team.ID, kind, subject, dues[0].Day.String())
	if err != nil {
		return nil, err
	}
	var open []scheduler.Due
	for _, due := range dues {
		if _, done := decided[due.Day.String()]; !done && due.Timing != scheduler.Wait {
			open = append(open, due)
		}
	}
	return open, nil
}
