package bot

import (
	"context"

	"rungbook/parser"
	"rungbook/training"
)

// meet is update for something said, edited or deleted. That its answers are
// still to be sent is remembered in the same transaction: a process that ends
// before they are out leaves them owed, not lost. Whoever sends them notes it.
func (b *Bot) meet(ctx context.Context, team training.TeamID, author Author, do func(*turn) error) ([]Post, error) {
	return b.update(ctx, team, author, func(t *turn) error {
		if err := do(t); err != nil {
			return err
		}
		return t.owe()
	})
}

func (t *turn) owe() error {
	var owed []training.MessageID
	if t.held.holds(t.id) {
		owed = append(owed, t.id)
	}
	for _, post := range t.posts {
		if post.Unasked == 0 && post.Answers != 0 {
			owed = append(owed, post.Answers)
		}
	}
	for _, id := range owed {
		if err := t.tx.Owe(t.team.ID, id, t.now()); err != nil {
			return err
		}
	}
	return nil
}

// again answers anew a message whose answer was lost on its way. What it gave
// stands, and nothing is decided again on its account.
func (t *turn) again(log training.Log, said parser.Result) error {
	switch {
	case log.State == training.LogLive:
		done, err := t.rekeep(log)
		if err != nil {
			return err
		}
		if said.Verdict != parser.Log { // kept as read
			t.answerKept(log, done)
			return nil
		}
		t.answerOrHold(log, done, remarksOf(said, nil))
	case log.State == training.LogEmpty && log.Silent:
		return t.withdrawAgain(log)
	case said.Verdict == parser.Unsure && (log.State == training.LogAsked || log.State == training.LogEmpty):
		return t.unsure(said, t.today())
	case log.State == training.LogUndone || log.State == training.LogDeleted:
		return t.withdrawAgain(log)
	}
	return nil
}

// rekeep puts the log out and in again, so that the record before it is known
// as it was when the log was new. Nobody sees what is in between.
func (t *turn) rekeep(log training.Log) (change, error) {
	if err := t.tx.PutLog(log.Without(training.LogEmpty)); err != nil {
		return change{}, err
	}
	return t.keep(log)
}

func (t *turn) withdrawAgain(log training.Log) error {
	record, err := t.tx.Record(t.team.ID, log.Member)
	if err != nil {
		return err
	}
	t.say(Post{Kind: Withdraw, To: stands(log), Person: t.who.ID, Name: t.who.Name, Answers: log.ID,
		Facts: t.withdrawn(change{before: record, after: record}, log.Days)})
	return nil
}

// hurtsAgain says anew what a message's pain was answered, if its pause still
// runs or it set none. The pause and what coaches hear of it stand.
func (t *turn) hurtsAgain(care training.Care) error {
	urgent := care == training.Urgent
	switch {
	case !care.Pauses():
		t.reply(ToPrivate, skinWords, nil)
		return nil
	case !t.hasRecord():
		t.reply(ToPrivate, strangerPainWords(t.programme.Work, urgent), nil)
		return nil
	}
	running, ok, err := t.tx.Running(t.team.ID, t.who.ID)
	if err != nil || !ok {
		return err
	}
	backs, err := t.tx.TakeBacks(t.team.ID, t.who.ID)
	if err != nil {
		return err
	}
	set := pauseSet{coachEnds: running.CoachEnds, coached: t.hasCoach(), coach: t.who.Coach}
	for _, back := range backs {
		if back.Cause == t.cause {
			set.again = !back.Opened
		}
	}
	t.reply(ToPrivate, painWords(t.programme.Work, urgent, set), nil, set.buttons()...)
	return nil
}

// holds reports whether the answer to the message is held back.
func (l *lateness) holds(id training.MessageID) bool {
	if l == nil {
		return false
	}
	for _, held := range l.logs {
		if held.log.ID == id {
			return true
		}
	}
	return false
}
