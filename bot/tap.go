package bot

import (
	"context"
	"errors"

	"rungbook/training"
)

// tap meets a button pressed under an answer.
func (b *Bot) tap(ctx context.Context, e Tap) ([]Post, error) {
	posts, err := b.update(ctx, e.Team, e.Author, func(t *turn) error {
		t.place, t.id, t.cause, t.at = e.Place, e.On, e.ID, e.At
		blocked, err := t.tx.Blocked(e.Author.ID)
		if err != nil {
			return err
		}
		if blocked {
			return refuseAlone(erasedWords)
		}
		return t.tapped(e)
	})
	var refused refusal
	if errors.As(err, &refused) {
		return b.view(ctx, e.Team, e.Author, func(t *turn) error {
			t.place, t.id, t.at = e.Place, e.On, e.At
			t.reply(ToPrivate, refused.text, nil)
			return nil
		})
	}
	return posts, err
}

func (t *turn) tapped(e Tap) error {
	switch e.Button {
	case TapWithdraw:
		return t.tapWithdraw(e)
	case TapGates:
		if !t.isMember() {
			return refuse("/gates is for members: post a first log and you are one.")
		}
		return t.showGates(t.who)
	case TapNext:
		if !t.isMember() {
			return refuse("/next is for members: post a first log and you are one.")
		}
		return t.showNext(t.who)
	case TapTell:
		return t.tapTell(e)
	case TapWitness:
		return t.tapWitness(e)
	case TapResume:
		return t.tapResume(e)
	case TapKeep:
		return t.tapKeep(e)
	case TapDrop:
		return t.tapDrop(e)
	case TapHurts, TapFine:
		return t.tapJoint(e)
	case TapMisread:
		if e.About != t.who.ID {
			return refuse("Only whose pause it is can say that it was misread.")
		}
		text, err := t.misread(e.On)
		if err != nil {
			return err
		}
		t.reply(ToPrivate, text, nil)
		return nil
	}
	return refuse("That button does nothing here.")
}

func (t *turn) tapWithdraw(e Tap) error {
	log, ok, err := t.tx.Log(e.On)
	switch {
	case err != nil:
		return err
	case !ok || log.State != training.LogLive:
		return refuse("That message gives no sets any more.")
	case log.Author != t.who.ID:
		return refuse("Only whoever wrote a log takes it back. A coach can /coach correct it.")
	}
	return t.undoLog(log)
}

// tapWitness marks every gate that the tapped log's session shows.
func (t *turn) tapWitness(e Tap) error {
	if !t.author.Coach {
		return refuse("Witnessing is for this team's coach.")
	}
	log, ok, err := t.tx.Log(e.On)
	if err != nil {
		return err
	}
	if !ok || log.State != training.LogLive {
		return refuse("That message gives no sets any more.")
	}
	who, ok := t.person(log.Member)
	if !ok {
		return refuse("Whoever logged that is not on the roster any more.")
	}
	record, err := t.tx.Record(t.team.ID, who.ID)
	if err != nil {
		return err
	}
	seen := false
	for _, day := range log.Days {
		session := training.Record{Sessions: []training.Session{record.Session(day.Day)}}
		for _, gate := range t.programme.Gates {
			if t.programme.Gate(&session, gate, day.Day).Status != training.Open {
				continue
			}
			seen = true
			if err := t.witness(who, gate, day.Day); err != nil {
				return err
			}
		}
	}
	if !seen {
		return refuse("That session shows no gate.")
	}
	return nil
}

func (t *turn) tapResume(e Tap) error {
	if !t.author.Coach {
		return refuse("Resuming somebody is for this team's coach.")
	}
	who, ok := t.person(e.About)
	if !ok {
		return refuse("They are not on the roster any more.")
	}
	return t.resumes(who, false)
}
