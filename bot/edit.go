package bot

import (
	"context"
	"errors"
	"slices"
	"time"
	"unicode/utf8"

	"rungbook/bot/slash"
	"rungbook/bot/words"
	"rungbook/parser"
	"rungbook/training"
)

// edit takes a message's new text, whose sets replace those it gave before. late is
// nil unless the bot is catching up.
func (b *Bot) edit(ctx context.Context, e Edit, late *catchUp) ([]Post, error) {
	return b.update(ctx, e.Team, e.Author, func(s *step) error {
		if unread, err := s.unread(e.Message); err != nil || unread {
			return err
		}
		s.catchUp = late
		s.setMessage(e.Message)
		s.mustAnswer = true
		first := s.zoneDay(e.Message)
		s.at = e.Edited
		parsed := parser.Result{Verdict: parser.Chat}
		if !slash.IsCommand(e.Text) {
			parsed = s.read(e.Message, first)
		}
		if parsed.Care.Pauses() && s.hasRecord() && s.now().Sub(e.At) > editActs {
			parsed.Care = training.AskCare
		}
		return s.actOnEdit(e, parsed, first.Today)
	})
}

// actOnEdit acts on an edit. today is the training day of the message's first
// instant, by which its day words count.
func (s *step) actOnEdit(e Edit, parsed parser.Result, today training.Day) error {
	log, known, err := s.tx.Log(e.ID)
	if err != nil || known && log.State == training.LogDeleted {
		return err // an edit that comes after the deletion
	}
	if known && len(parsed.Days) == 1 && !parsed.Days[0].Stated {
		parsed.Days = slices.Clone(parsed.Days)
		parsed.Days[0].Day = log.Day()
	}
	if !known { // an edit of a known log puts nobody back on the roster
		if err := s.enrolOnLog(parsed, today); err != nil {
			return err
		}
	}
	if err := s.actOnPain(parsed.Care); err != nil {
		return err
	}
	if err := s.applyEdit(e, log, known, parsed, today); err != nil {
		return err
	}
	return errors.Join(s.asksJoint(parsed.Care), s.tx.NoteEdit(e.ID, e.Edited))
}

// applyEdit replaces the sets that the message gave by those of its new text, and
// revises the answer.
func (s *step) applyEdit(e Edit, log training.Log, known bool, parsed parser.Result, today training.Day) error {
	days, old := recent(parsed.Days, today)
	if known && e.Redelivered {
		if met, err := s.repeatTapAnswer(log, parsed, days); met || err != nil {
			return err
		}
	}
	if settled, err := s.editTooLate(log, known, parsed, &days, e); settled || err != nil {
		return err
	}
	switch {
	case parsed.Verdict == parser.Log && len(days) > 0:
		return s.relog(log, known, days, remarksOf(parsed, old), e)
	case known:
		return s.unlog(log, parsed, today)
	case parsed.Verdict == parser.Log:
		s.revise(words.TooOld(old), nil)
		return s.putUnlogged(e.At, nil)
	case parsed.Verdict == parser.Unsure:
		text, reading, buttons := s.doubt(parsed, today, words.AnswerRunes)
		s.revise(text, nil, buttons...)
		return s.putUnlogged(e.At, reading)
	}
	return nil
}

// repeatTapAnswer repeats the answer to a tap that did not get through: a log taken
// back, or a doubtful one kept or dropped.
func (s *step) repeatTapAnswer(log training.Log, parsed parser.Result, days []training.DaySets) (bool, error) {
	doubtful := parsed.Verdict == parser.Unsure
	switch {
	case log.State == training.LogUndone, doubtful && log.State == training.LogEmpty && log.Silent:
		return true, s.repeatWithdraw(log)
	case doubtful && log.State == training.LogLive && slices.EqualFunc(days, log.Days, sameSets):
		done, err := s.putLogAnew(log)
		if err == nil {
			s.answerKept(log, done)
		}
		return true, err
	}
	return false, nil
}

func sameSets(a, b training.DaySets) bool { return a.Day == b.Day && slices.Equal(a.Sets, b.Sets) }

// editTooLate reports whether an edit can change nothing any more, because its
// author has taken the message back or a coach has corrected its days. If only some
// days are corrected, it takes those out of days and returns false.
func (s *step) editTooLate(log training.Log, known bool, parsed parser.Result, days *[]training.DaySets, e Edit) (bool, error) {
	if known && log.State == training.LogUndone {
		if parsed.Verdict != parser.Log {
			return true, nil
		}
		s.revise(words.UndoneStays, nil)
		log.Silent = false
		return true, s.tx.PutLog(log)
	}
	if known && log.State == training.LogCorrected && parsed.Verdict != parser.Log && parsed.Verdict != parser.Unsure {
		return true, nil
	}
	if known && log.State == training.LogCorrected {
		s.reply(ToPrivate, words.Corrected(log.Day()), nil)
		return true, nil
	}
	if parsed.Verdict != parser.Log {
		return false, nil
	}
	left, err := s.uncorrected(*days, e.At)
	if err != nil {
		return false, err
	}
	settled := len(left) == 0 && len(*days) > 0
	*days = left
	return settled, nil
}

// uncorrected leaves out the days that a coach has corrected since the instant, and
// tells the member so privately.
func (s *step) uncorrected(days []training.DaySets, since time.Time) (left []training.DaySets, err error) {
	for _, day := range days {
		at, corrected, err := s.tx.Corrected(s.team.ID, s.who.ID, day.Day)
		if err != nil {
			return nil, err
		}
		if corrected && since.Before(at) {
			s.reply(ToPrivate, words.Corrected(day.Day), nil)
		} else {
			left = append(left, day)
		}
	}
	return left, nil
}

// relog replaces what the message gave and revises its answer.
func (s *step) relog(log training.Log, known bool, days []training.DaySets, of words.Remarks, e Edit) error {
	if !known {
		log = s.ownLog(e.At)
	}
	was := log.Days
	log.Days, log.State, log.Silent = days, training.LogLive, false
	done, err := s.putLog(log)
	if err != nil {
		return err
	}
	done.from = was
	if s.catchUp != nil && s.catchUp.replace(s, log, done, of) {
		return nil
	}
	text, facts, buttons := s.answer(s.who, log, done, of)
	s.revise(text, facts, buttons...)
	return errors.Join(s.welcome(), s.firstDone(log, done))
}

// unlog takes the sets out of a message that is no longer a log, and says so. Sets
// on rungs of another programme stay.
func (s *step) unlog(log training.Log, parsed parser.Result, today training.Day) error {
	if log.State == training.LogLive && s.foreign(log.Sets()) {
		s.reply(ToPrivate, words.Foreign(log.Day()), nil)
		return nil
	}
	had, gave := log, log.State == training.LogLive
	log = log.Without(training.LogEmpty)
	room := words.AnswerRunes
	if gave {
		room -= utf8.RuneCountInString(words.TakenOut(log.Days)) + 1
	}
	text, reading, buttons := s.nowText(parsed, today, room)
	if reading != nil {
		log.State, log.Days = training.LogAsked, reading
	}
	log.Silent = !gave && parsed.Verdict == parser.Chat
	done, err := s.putLog(log)
	if err != nil {
		return err
	}
	if s.catchUp != nil {
		s.catchUp.drop(log.ID)
	}
	switch {
	case gave:
		s.reviseEmptied(had, done, text, buttons)
	case text != "":
		s.revise(text, nil, buttons...)
	case !had.Silent:
		s.sayWithdrawn(s.who, log, s.withdrawn(done, had.Days))
	}
	return nil
}

// nowText answers, in at most so many characters, a new text that gives no sets;
// "" for chatter.
func (s *step) nowText(parsed parser.Result, today training.Day, room int) (text string, reading []training.DaySets, buttons []Button) {
	switch parsed.Verdict {
	case parser.Unsure:
		return s.doubt(parsed, today, room)
	case parser.Log:
		_, old := recent(parsed.Days, today)
		return words.TooOld(old), nil, nil
	}
	return "", nil, nil
}

// reviseEmptied revises the answer of a log that has lost its sets.
func (s *step) reviseEmptied(had training.Log, done change, text string, buttons []Button) {
	emptied := had.Without(training.LogEmpty).Days
	if pausedAround(&done.after, s.today(), had) {
		s.revise(words.Emptied(emptied, nil, text), s.readBack(emptied), buttons...)
		return
	}
	facts := s.logFacts(done, emptied, s.today())
	facts.Gates = s.touched(&done.after, had.Sets(), s.today())
	s.revise(words.Emptied(emptied, &facts, text), facts, buttons...)
}

// foreign reports whether there are sets, all on rungs that the programme does not
// have.
func (s *step) foreign(sets []training.Set) bool {
	for _, set := range sets {
		if _, _, ok := s.programme.Find(set.Rung); ok {
			return false
		}
	}
	return len(sets) > 0
}

// revise puts text in the place of the message's earlier answer.
func (s *step) revise(text string, facts Facts, buttons ...Button) {
	s.say(Post{
		Kind: Revise, To: s.audience(), Person: s.who.ID, Name: s.who.Name, Answers: s.id, Text: text, Facts: facts, Buttons: buttons,
	})
}
