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

// tapped acts on a button by who may press it and in which state. Whatever it
// refuses, it refuses privately.
func (s *step) tapped(e Tap) error {
	switch e.Button {
	case TapWithdraw:
		return s.tapWithdraw(e)
	case TapGates:
		if !s.isMember() {
			return refuse(words.MembersOnly("gates"))
		}
		return s.showGates(s.who)
	case TapNext:
		if !s.isMember() {
			return refuse(words.MembersOnly("next"))
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
			return refuse(words.OthersPause)
		}
		text, err := s.misread(e.On)
		if err != nil {
			return err
		}
		s.reply(ToPrivate, text, nil)
		return nil
	}
	return refuse(words.NoSuchButton)
}

func (s *step) tapWithdraw(e Tap) error {
	log, ok, err := s.tx.Log(e.On)
	switch {
	case err != nil:
		return err
	case !ok || log.State != training.LogLive:
		return refuse(words.NoSetsAnyMore)
	case log.Author != s.who.ID:
		return refuse(words.OthersLog)
	}
	return s.undoLog(log)
}

// tapWitness marks every gate that the tapped log's session shows.
func (s *step) tapWitness(e Tap) error {
	if !s.author.Coach {
		return refuse(words.WitnessIsForCoach)
	}
	log, ok, err := s.tx.Log(e.On)
	if err != nil {
		return err
	}
	if !ok || log.State != training.LogLive {
		return refuse(words.NoSetsAnyMore)
	}
	who, ok := s.person(log.Member)
	if !ok {
		return refuse(words.LoggerIsGone)
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
		return refuse(words.ShowsNoGate)
	}
	return nil
}

func (s *step) tapResume(e Tap) error {
	if !s.author.Coach {
		return refuse(words.ResumingIsForCoach)
	}
	who, ok := s.person(e.About)
	if !ok {
		return refuse(words.PausedIsGone)
	}
	return s.resumes(who, false)
}
