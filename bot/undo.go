package bot

import (
	"context"

	"rungbook/bot/words"
	"rungbook/training"
)

// delete meets a message gone: what it gave is gone with it, and so is its
// answer. Nothing is said.
func (b *Bot) delete(ctx context.Context, e Delete, late *catchUp) ([]Post, error) {
	return b.update(ctx, e.Team, e.Author, func(s *step) error {
		s.catchUp = late
		s.place, s.id, s.cause, s.at, s.mustAnswer = e.Place, e.ID, e.ID, e.At, true
		log, ok, err := s.tx.Log(e.ID)
		if ok && e.Redelivered && log.State == training.LogDeleted {
			return s.repeatWithdraw(log)
		}
		if err != nil || !ok || log.State == training.LogDeleted {
			return err
		}
		state := training.LogDeleted
		if log.State == training.LogCorrected {
			state = training.LogCorrected
		}
		return s.emptyLog(log, state)
	})
}

// emptyLog stores the log in a state without its sets and removes its answer.
func (s *step) emptyLog(log training.Log, state training.LogState) error {
	silent := log.Silent
	log = log.Without(state)
	log.Silent = true
	done, err := s.putLog(log)
	if err != nil {
		return err
	}
	if s.catchUp != nil && s.catchUp.drop(log.ID) || silent {
		return nil
	}
	owner, ok := s.person(log.Author)
	if !ok {
		owner = s.who
	}
	s.sayWithdrawn(owner, log, s.withdrawn(done, log.Days))
	return nil
}

// sayWithdrawn has the log's answer removed.
func (s *step) sayWithdrawn(owner training.Member, log training.Log, facts Facts) {
	s.say(Post{Kind: Withdraw, To: audienceOf(log), Person: owner.ID, Name: owner.Name, Answers: log.ID, Facts: facts})
}

// audienceOf is the audience of the place where the log's answer is.
func audienceOf(log training.Log) Audience {
	if log.Alone {
		return ToPrivate
	}
	return ToChannel
}

func (s *step) withdrawn(done change, days []training.DaySets) words.WithdrawFacts {
	_, caused, resolved := s.violations(done, days)
	return words.WithdrawFacts{Day: days[0].Day, Violations: caused, Resolved: resolved}
}

// undo withdraws the author's own latest log that still gives sets.
func (s *step) undo() error {
	log, ok, err := s.tx.LatestLog(s.team.ID, s.who.ID)
	if err != nil {
		return err
	}
	if !ok {
		s.reply(s.audience(), words.NothingToUndo, nil)
		return nil
	}
	return s.undoLog(log)
}

// sayUndone answers a log taken back: what a coach logged for somebody else
// privately, with a word to the member.
func (s *step) sayUndone(log training.Log) error {
	text := words.Undone(s.dayLines(log.Days))
	owner, known := s.person(log.Member)
	if log.Member == s.who.ID || !known {
		s.reply(s.audience(), text, nil)
		return nil
	}
	s.reply(ToPrivate, text, nil)
	return s.tellMember(owner, words.UndoneForYou(s.who.Name, log.Days))
}

func (s *step) undoLog(log training.Log) error {
	if err := s.sayUndone(log); err != nil {
		return err
	}
	return s.emptyLog(log, training.LogUndone)
}
