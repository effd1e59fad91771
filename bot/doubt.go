package bot

import (
	"errors"
	"slices"
	"time"

	"rungbook/bot/words"
	"rungbook/parser"
	"rungbook/training"
)

const (
	// askedFor is how long a reading waits for its author's word.
	askedFor = 7 * 24 * time.Hour
	// settledWithin is how long after a doubtful message one that is read whole
	// settles it.
	settledWithin = 10 * time.Minute
	// jointAgain is how long nobody is asked of their joints a second time.
	jointAgain = 12 * time.Hour
)

// answerUnsure answers a message that looks like a log and cannot be read whole.
// The sets that could be read wait for their author's word.
func (s *step) answerUnsure(parsed parser.Result, today training.Day) error {
	text, reading, buttons := s.doubt(parsed, today, words.AnswerRunes)
	s.reply(s.audience(), text, nil, buttons...)
	return s.putUnlogged(s.at, reading)
}

// doubt answers a doubtful message in at most so many characters. reading holds
// the sets that keep would store, nil if there are none; today is the training day
// of the message's first instant.
func (s *step) doubt(parsed parser.Result, today training.Day, most int) (text string, reading []training.DaySets, buttons []Button) {
	reading, old := recent(parsed.Days, today)
	if len(reading) > 0 && len(old) == 0 {
		if text := s.question(parsed, s.dayLines(reading), most); text != "" {
			return text, reading, []Button{TapKeep, TapDrop}
		}
	}
	return s.unsure(parsed, most), nil, nil
}

// unsure helps with a message that is nearly a log, in at most so many characters.
func (f *loadedProgramme) unsure(parsed parser.Result, most int) string {
	return words.Unsure(doubtOf(parsed), f.example(), most)
}

// question asks whether a doubtful message is to be kept as it was read.
func (f *loadedProgramme) question(parsed parser.Result, days []words.DayFacts, most int) string {
	return words.Question(days, remarksOf(parsed, nil), doubtOf(parsed), most)
}

// doubtOf is the first problem of a message. Where that speaks of a body too no
// word of it is repeated.
func doubtOf(parsed parser.Result) words.Doubt {
	if len(parsed.Problems) == 0 || parsed.Care != "" {
		return words.Doubt{}
	}
	return words.Doubt{Say: parsed.Problems[0].Say, Suggest: parsed.Problems[0].Suggest}
}

// remarksOf is what was read beside the sets. Where the message speaks of a body
// no word of it is repeated.
func remarksOf(parsed parser.Result, old []training.Day) words.Remarks {
	of := words.Remarks{Old: old}
	for _, guess := range parsed.Guesses {
		if guess.Kind != "day" { // the day stands before the sets anyway
			of.Guessed = append(of.Guessed, guess.Took)
		}
	}
	if parsed.Care == "" {
		of.Unread, of.NotCounted = parsed.Unread, parsed.NotCounted
	}
	return of
}

// putUnlogged stores a message of the given instant that was answered but gives no
// sets yet, so that an edit or a deletion finds its answer, and keep finds the
// reading.
func (s *step) putUnlogged(at time.Time, reading []training.DaySets) error {
	log := s.ownLog(at)
	log.State, log.Days = training.LogEmpty, training.OnDay(training.DayOf(at, s.who.Zone))
	if reading != nil {
		log.State, log.Days = training.LogAsked, reading
	}
	return s.tx.PutLog(log)
}

// ownLog is the log of the author's message of the given instant, without days.
func (s *step) ownLog(at time.Time) training.Log {
	return training.Log{
		ID: s.id, Team: s.team.ID, Member: s.who.ID, Author: s.who.ID, At: at, Channel: s.channel, Edited: s.edited,
		Alone: s.place == Private, State: training.LogLive,
	}
}

// recent splits what was read into the days that a member may log and those that
// lie too far back.
func recent(read []parser.DaySets, today training.Day) (days []training.DaySets, old []training.Day) {
	for _, day := range merged(read) {
		if day.Day < today-training.LogDays {
			old = append(old, day.Day)
		} else {
			days = append(days, day)
		}
	}
	return days, old
}

// merged is what was read by days, no day twice.
func merged(read []parser.DaySets) (days []training.DaySets) {
	for _, one := range read {
		at := slices.IndexFunc(days, func(d training.DaySets) bool { return d.Day == one.Day })
		if at < 0 {
			days = append(days, training.DaySets{Day: one.Day, Sets: one.Sets})
			continue
		}
		days[at].Sets = append(slices.Clip(days[at].Sets), one.Sets...)
	}
	return days
}

// tapKeep stores what waits for the tapper's word and answers it as a log.
func (s *step) tapKeep(e Tap) error {
	log, err := s.askedOf(e)
	if err != nil {
		return err
	}
	if s.foreign(log.Sets()) {
		return refuse(words.ProgrammeChanged)
	}
	days, err := s.uncorrected(log.Days, log.At)
	switch {
	case err != nil:
		return err
	case len(days) == 0: // uncorrected has said why
		return nil
	}
	log.Days = days
	if err := s.enrol(); err != nil {
		return err
	}
	log.State, s.cause = training.LogLive, log.ID
	done, err := s.putLog(log)
	if err != nil {
		return err
	}
	s.answerKept(log, done)
	return errors.Join(s.welcome(), s.firstDone(log, done))
}

// answerKept replaces the question by the log's answer. It names no unread words:
// they were not stored.
func (s *step) answerKept(log training.Log, done change) {
	text, facts, buttons := s.answer(s.who, log, done, words.Remarks{})
	s.say(Post{
		Kind: Revise, To: audienceOf(log), Person: s.who.ID, Name: s.who.Name, Answers: log.ID,
		Text: text, Facts: facts, Buttons: buttons,
	})
}

// tapDrop forgets what waits for the tapper's word.
func (s *step) tapDrop(e Tap) error {
	log, err := s.askedOf(e)
	if err != nil {
		return err
	}
	return s.emptyLog(log, training.LogEmpty)
}

// askedOf returns the log whose question was tapped. The refusal says what became
// of it if it no longer waits, or that the tapper may not answer.
func (s *step) askedOf(e Tap) (training.Log, error) {
	log, ok, err := s.tx.Log(e.On)
	switch {
	case err != nil:
		return log, err
	case ok && log.Author != s.who.ID:
		return log, refuse(words.OthersDoubt)
	case ok && log.State == training.LogAsked:
		return log, nil
	case ok && log.State == training.LogLive:
		return log, refuse(words.KeptAlready)
	case ok && log.State == training.LogUndone:
		return log, refuse(words.KeptAndUndone)
	case ok && log.State == training.LogCorrected:
		return log, refuse(words.CorrectedSince(log.Day()))
	case ok && log.State == training.LogEmpty && log.Silent:
		return log, refuse(words.DroppedAlready)
	}
	return log, refuse(words.AskedNoMore)
}

// settles removes the questions that the log just stored answers: those asked of
// its author shortly before, if the log holds each of their rungs.
func (s *step) settles(log training.Log) error {
	asked, err := s.tx.AskedLogs(s.team.ID, log.Author, log.At.Add(-settledWithin))
	if err != nil {
		return err
	}
	for _, question := range asked {
		if question.ID == log.ID || question.At.After(log.At) || !holdsRungs(log.Sets(), question.Sets()) {
			continue
		}
		if err := s.emptyLog(question, training.LogEmpty); err != nil {
			return err
		}
	}
	return nil
}

// holdsRungs reports whether each rung of the question is also in the log.
func holdsRungs(log, question []training.Set) bool {
	for _, set := range question {
		if !slices.ContainsFunc(log, func(other training.Set) bool { return other.Rung == set.Rung }) {
			return false
		}
	}
	return true
}

// asksJoint asks a member privately whether a joint hurts, where their words leave
// it open; not while they are paused, and at most once in jointAgain.
func (s *step) asksJoint(care training.Care) error {
	if care != training.AskCare || !s.hasRecord() {
		return nil
	}
	_, paused, err := s.tx.Running(s.team.ID, s.who.ID)
	if err != nil || paused {
		return err
	}
	first, err := s.tx.AskJoint(s.team.ID, s.who.ID, s.now(), s.now().Add(jointAgain))
	if first {
		s.replyTraceless(words.JointQuestion, TapHurts, TapFine)
	}
	return err
}

// tapJoint takes the answer to whether a joint hurts. Hurts is acted on as if the
// message had said so; of fine nothing is kept.
func (s *step) tapJoint(e Tap) error {
	if e.About != s.who.ID {
		return refuse(words.OthersJoint)
	}
	s.say(Post{Kind: Withdraw, To: ToPrivate, Person: s.who.ID, Name: s.who.Name, Answers: s.id, Tapped: true})
	if e.Button == TapFine {
		return nil
	}
	s.cause = e.On // so that it is taken back like any other
	before := len(s.posts)
	err := s.actOnPain(training.StopCare)
	if err == nil && len(s.posts) == before {
		s.replyTraceless(words.JointKnown)
	}
	return err
}
