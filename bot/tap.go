package bot

import (
	"context"

	"rungbook/bot/words"
	"rungbook/training"
)

// tap meets a button pressed under an answer.
func (b *Bot) tap(ctx context.Context, e Tap) ([]Post, error) {
	return b.update(ctx, e.Team, e.Author, func(s *step) error {
		s.place, s.id, s.cause, s.at = e.Place, e.On, e.ID, e.At
		blocked, err := s.tx.Blocked(e.Author.ID)
		if err != nil {
			return err
		}
		if blocked {
			return refuseAlone(words.Erased)
		}
		return s.tapped(e)
	})
}

func (s *step) tapped(e Tap) error {
	switch e.Button {
	case TapWithdraw:
		return s.tapWithdraw(e)
	case TapGates:
		if !s.isMember() {
			return refuse("/gates is for members: post a first log and you are one.")
		}
		return s.showGates(s.who)
	case TapNext:
		if !s.isMember() {
			return refuse("/next is for members: post a first log and you are one.")
		}
		return s.showNext(s.who)
	case TapTell:
		return s.tapTell(e)
	case TapWitness:
		return s.tapWitness(e)
	case TapResume:
		return s.tapResume(e)
	case TapKeep:
		return s.tapKeep(e)
	case TapDrop:
		return s.tapDrop(e)
	case TapHurts, TapFine:
		return s.tapJoint(e)
	case TapMisread:
		if e.About != s.who.ID {
			return refuse("Only whose pause it is can say that it was misread.")
		}
		text, err := s.misread(e.On)
		if err != nil {
			return err
		}
		s.reply(ToPrivate, text, nil)
		return nil
	}
	return refuse("That button does nothing here.")
}

func (s *step) tapWithdraw(e Tap) error {
	log, ok, err := s.tx.Log(e.On)
	switch {
	case err != nil:
		return err
	case !ok || log.State != training.LogLive:
		return refuse("That message gives no sets any more.")
	case log.Author != s.who.ID:
		return refuse("Only whoever wrote a log takes it back. A coach can /coach correct it.")
	}
	return s.undoLog(log)
}

// tapWitness marks every gate that the tapped log's session shows.
func (s *step) tapWitness(e Tap) error {
	if !s.author.Coach {
		return refuse("Witnessing is for this team's coach.")
	}
	log, ok, err := s.tx.Log(e.On)
	if err != nil {
		return err
	}
	if !ok || log.State != training.LogLive {
		return refuse("That message gives no sets any more.")
	}
	who, ok := s.person(log.Member)
	if !ok {
		return refuse("Whoever logged that is not on the roster any more.")
	}
	record, err := s.tx.Record(s.team.ID, who.ID)
	if err != nil {
		return err
	}
	seen := false
	for _, day := range log.Days {
		session := training.Record{Sessions: []training.Session{record.Session(day.Day)}}
		for _, gate := range s.programme.Gates {
			if s.programme.Gate(&session, gate, day.Day).Status != training.Open {
				continue
			}
			seen = true
			if err := s.witness(who, gate, day.Day); err != nil {
				return err
			}
		}
	}
	if !seen {
		return refuse("That session shows no gate.")
	}
	return nil
}

func (s *step) tapResume(e Tap) error {
	if !s.author.Coach {
		return refuse("Resuming somebody is for this team's coach.")
	}
	who, ok := s.person(e.About)
	if !ok {
		return refuse("They are not on the roster any more.")
	}
	return s.resumes(who, false)
}
