package bot

import (
	"rungbook/bot/words"
	"rungbook/parser"
	"rungbook/training"
)

// markUnanswered remembers, in the step's own transaction, whose answers are
// still to be sent: a process that ends before they are out leaves their messages
// to be met again. Whoever sends them notes that they are. What a command or a
// button is answered is not remembered, for whoever gave it sees that nothing
// came; what it revises or withdraws is.
func (s *step) markUnanswered() error {
	var ids []training.MessageID
	if s.catchUp.holds(s.id) {
		ids = append(ids, s.id)
	}
	for _, post := range s.posts {
		changes := (post.Kind == Revise || post.Kind == Withdraw) && !post.Tapped
		if post.Unasked == 0 && post.Answers != 0 && (s.mustAnswer || changes) {
			ids = append(ids, post.Answers)
		}
	}
	for _, id := range ids {
		if err := s.tx.MarkUnanswered(s.team.ID, id, s.now()); err != nil {
			return err
		}
	}
	return nil
}

// repeatAnswer answers anew a message whose answer was lost on its way. What it gave
// stands, and nothing is decided again on its account.
func (s *step) repeatAnswer(log training.Log, parsed parser.Result) error {
	switch {
	case log.State == training.LogLive:
		done, err := s.putLogAnew(log)
		if err != nil {
			return err
		}
		if parsed.Verdict != parser.Log { // kept as read
			s.answerKept(log, done)
			return nil
		}
		s.answerOrHold(log, done, remarksOf(parsed, nil))
	case log.State == training.LogEmpty && log.Silent:
		return s.repeatWithdraw(log)
	case parsed.Verdict == parser.Unsure && (log.State == training.LogAsked || log.State == training.LogEmpty):
		return s.answerUnsure(parsed, s.today())
	case log.State == training.LogUndone || log.State == training.LogDeleted:
		return s.repeatWithdraw(log)
	}
	return nil
}

// putLogAnew puts the log out and in again, so that the record before it is known
// as it was when the log was new. Nobody sees what is in between.
func (s *step) putLogAnew(log training.Log) (change, error) {
	if err := s.tx.PutLog(log.Without(training.LogEmpty)); err != nil {
		return change{}, err
	}
	return s.putLog(log)
}

func (s *step) repeatWithdraw(log training.Log) error {
	record, err := s.tx.Record(s.team.ID, log.Member)
	if err != nil {
		return err
	}
	s.sayWithdrawn(s.who, log, s.withdrawn(change{before: record, after: record}, log.Days))
	return nil
}

// repeatPainAnswer says anew what a message's pain was answered, if its pause still
// runs or it set none. The pause and what coaches hear of it stand.
func (s *step) repeatPainAnswer(care training.Care) error {
	urgent := care == training.Urgent
	switch {
	case !care.Pauses():
		s.replyTraceless(words.SkinCare)
		return nil
	case !s.hasRecord():
		s.replyTraceless(words.StrangerPain(s.programme.Work, urgent))
		return nil
	}
	running, ok, err := s.tx.Running(s.team.ID, s.who.ID)
	if err != nil || !ok {
		return err
	}
	taken, _, err := s.takeBack(s.cause)
	if err != nil {
		return err
	}
	set := words.PauseSet{CoachEnds: running.CoachEnds, Coached: s.hasCoach(), Coach: s.who.Coach}
	if taken != nil {
		set.Again = !taken.Opened
	}
	s.replyTraceless(words.Pain(s.programme.Work, urgent, set), pauseButtons(set)...)
	return nil
}

// holds reports whether the answer to the message is held back.
func (l *catchUp) holds(id training.MessageID) bool {
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
