package bot

import (
	"context"
	"fmt"

	"rungbook/bot/words"
	"rungbook/training"
)

// hasCoachBeside reports whether the team has a coach other than the given one.
func (s *step) hasCoachBeside(id training.PersonID) bool {
	for _, coach := range s.roster {
		if coach.Coach && coach.ID != id {
			return true
		}
	}
	return false
}

// coachAppeared tells a coach who has just appeared what waited for one.
func (b *Bot) coachAppeared(ctx context.Context, e CoachAppeared) ([]Post, error) {
	return b.update(ctx, e.Team, Author{}, func(s *step) error {
		s.at = e.At
		coach, known := s.person(e.Coach)
		if !known || !coach.Coach {
			return nil
		}
		return s.tellWaiting(coach)
	})
}

// coachGone takes a coach off the roster as one who is so no longer.
func (b *Bot) coachGone(ctx context.Context, e CoachGone) ([]Post, error) {
	return b.update(ctx, e.Team, Author{}, func(s *step) error {
		s.at = e.At
		who, known := s.person(e.Coach)
		if !known || !who.Coach {
			return nil
		}
		if err := s.tx.PutCoachByRole(s.team.ID, who.ID, false); err != nil {
			return err
		}
		return s.endCoach(who)
	})
}

// endCoach makes somebody a coach no longer. Where no coach is left the pauses that
// run wait for the next one: nobody else knows of them.
func (s *step) endCoach(who training.Member) error {
	who.Coach = false
	if err := s.putMember(who); err != nil {
		return err
	}
	for _, about := range s.roster {
		if !about.Trains || s.hasCoachBeside(about.ID) {
			continue
		}
		if err := s.waitForCoach(about); err != nil {
			return err
		}
	}
	return nil
}

// offRoster answers /coach member remove:. It ends what /setup coach: made; a coach
// by the role is one for as long as they hold it.
func (s *step) offRoster(who training.Member) error {
	who.Trains = false
	byRole, err := s.tx.CoachByRole(s.team.ID, who.ID)
	if err != nil {
		return err
	}
	text := words.OffRoster(who.Name)
	switch {
	case byRole:
		text += "\n" + words.CoachByRole(who.Name)
	case who.Coach:
		text += "\n" + words.IsNoCoach(who.Name)
	}
	s.reply(ToPrivate, text, nil)
	if who.Coach && !byRole {
		return s.endCoach(who)
	}
	return s.putMember(who)
}

// waitForCoach has the member's pause, if one runs, wait to be told to the next
// coach who appears.
func (s *step) waitForCoach(about training.Member) error {
	running, ok, err := s.tx.Running(s.team.ID, about.ID)
	if err != nil || !ok {
		return err
	}
	waits, last, err := s.waiting(about, running.From.String())
	if err != nil || waits {
		return err
	}
	_, err = s.tx.Decide(s.team.ID, decisionUnheard, about.ID, last, outcomeWaits, s.at)
	return err
}

// waiting reports whether the member's pause that began on the day waits for a coach,
// and by which cause; where it does not, by which it would. The cause is the day, and
// from the second time on how often it came to wait.
func (s *step) waiting(about training.Member, day string) (waits bool, cause string, err error) {
	unheard, err := s.tx.Decided(s.team.ID, decisionUnheard, about.ID, day)
	if err != nil {
		return false, "", err
	}
	heard, err := s.tx.Decided(s.team.ID, decisionHeard, about.ID, day)
	if err != nil {
		return false, "", err
	}
	cause = day
	for n := 2; heard[cause] != ""; n++ {
		cause = fmt.Sprintf("%s %d", day, n)
	}
	return unheard[cause] == outcomeWaits, cause, nil
}

// tellWaiting tells a coach of each pause that runs still and waits to be told to
// one.
func (s *step) tellWaiting(coach training.Member) error {
	for _, about := range s.roster {
		if !about.Trains || about.ID == coach.ID {
			continue
		}
		running, ok, err := s.tx.Running(s.team.ID, about.ID)
		if err != nil {
			return err
		}
		if ok {
			err = s.tellOf(coach, about, running.From.String())
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// tellOf tells a coach of the member's pause that began on the day, if that waits to
// be told.
func (s *step) tellOf(coach, about training.Member, day string) error {
	waits, cause, err := s.waiting(about, day)
	if err != nil || !waits {
		return err
	}
	first, err := s.tx.Decide(s.team.ID, decisionHeard, about.ID, cause, outcomePost, s.at)
	if err != nil || !first {
		return err
	}
	return s.tell(pausedNotice(coach, about, words.Paused(s.called(about), s.programme.Work, false)))
}
