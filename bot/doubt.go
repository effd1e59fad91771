package bot

import (
	"errors"
	"slices"
	"time"

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

// unsure answers a message that looks like a log and cannot be read whole. What
// could be read waits for its author's word.
func (t *turn) unsure(said parser.Result, today training.Day) error {
	text, reading, buttons := t.doubt(said, today, answerRunes)
	t.reply(t.here(), text, nil, buttons...)
	return t.waits(t.at, reading)
}

// doubt is what is said to a doubtful message in so many characters at most. The
// reading is what keeping it would store, nil where nothing can be kept; today
// is that of the message's first instant.
func (t *turn) doubt(said parser.Result, today training.Day, most int) (text string, reading []training.DaySets, buttons []Button) {
	reading, old := recent(said.Days, today)
	if len(reading) > 0 && len(old) == 0 {
		if text := t.questionWords(said, t.dayLines(reading), most); text != "" {
			return text, reading, []Button{TapKeep, TapDrop}
		}
	}
	return t.unsureWords(said, most), nil, nil
}

// waits keeps that a message written at the instant was answered though it gave
// nothing yet, so that an edit or a deletion finds the answer again, and its
// author's word finds the reading.
func (t *turn) waits(at time.Time, reading []training.DaySets) error {
	log := t.ownLog(at)
	log.State, log.Days = training.LogEmpty, training.OnDay(training.DayOf(at, t.who.Zone))
	if reading != nil {
		log.State, log.Days = training.LogAsked, reading
	}
	return t.tx.PutLog(log)
}

// ownLog is the log of the author's message written at the instant, still
// without its days.
func (t *turn) ownLog(at time.Time) training.Log {
	return training.Log{
		ID: t.id, Team: t.team.ID, Member: t.who.ID, Author: t.who.ID, At: at, Alone: t.place == Private, State: training.LogLive,
	}
}

// recent splits what was read into the days that a member may log and those that
// lie too far back.
func recent(read []parser.DaySets, today training.Day) (days []training.DaySets, old []training.Day) {
	for _, day := range merged(read) {
		if day.Day < today-oldest {
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
func (t *turn) tapKeep(e Tap) error {
	log, err := t.askedOf(e)
	if err != nil {
		return err
	}
	if t.foreign(log.Sets()) {
		return refuse("The programme has changed since, so nothing is logged. Write the sets again.")
	}
	days, err := t.uncorrected(log.Days, log.At)
	switch {
	case err != nil:
		return err
	case len(days) == 0:
		return t.tx.Owe(t.team.ID, log.ID, t.at)
	}
	log.Days = days
	if err := t.enrol(); err != nil {
		return err
	}
	log.State, t.cause = training.LogLive, log.ID
	done, err := t.keep(log)
	if err != nil {
		return err
	}
	t.answerKept(log, done)
	return errors.Join(t.welcome(), t.firstDone(log, done), t.tx.Owe(t.team.ID, log.ID, t.at))
}

// answerKept puts the log's answer in the place of the question. What was left
// unread is no longer known.
func (t *turn) answerKept(log training.Log, done change) {
	text, facts, buttons := t.answer(t.who, log, done, remarks{})
	t.say(Post{
		Kind: Revise, To: stands(log), Person: t.who.ID, Name: t.who.Name, Answers: log.ID,
		Text: text, Facts: facts, Buttons: buttons,
	})
}

// tapDrop forgets what waits for the tapper's word.
func (t *turn) tapDrop(e Tap) error {
	log, err := t.askedOf(e)
	if err != nil {
		return err
	}
	if err := t.takeDown(log, training.LogEmpty); err != nil {
		return err
	}
	return t.tx.Owe(t.team.ID, log.ID, t.at) // the withdrawal
}

// askedOf is the log whose question was tapped, if it waits and the tapper may
// answer; else the refusal says what became of it.
func (t *turn) askedOf(e Tap) (training.Log, error) {
	log, ok, err := t.tx.Log(e.On)
	switch {
	case err != nil:
		return log, err
	case ok && log.Author != t.who.ID:
		return log, refuse("Only whoever wrote that says whether it is kept.")
	case ok && log.State == training.LogAsked:
		return log, nil
	case ok && log.State == training.LogLive:
		return log, refuse("That is logged already; /undo takes your last log back.")
	case ok && log.State == training.LogUndone:
		return log, refuse("That was logged and taken back. Write the sets again to log them.")
	case ok && log.State == training.LogCorrected:
		return log, refuse("Your coach has corrected %s, so nothing of it is logged.", dayWords(log.Day()))
	case ok && log.State == training.LogEmpty && log.Silent:
		return log, refuse("That was dropped, and nothing of it is stored. Write the sets again to log them.")
	}
	return log, refuse("That is no longer asked, and nothing of it is stored. Write the sets again to log them.")
}

// settles takes down the questions to which the log just stored is the answer:
// those of its author's from shortly before, all of whose rungs it holds.
func (t *turn) settles(log training.Log) error {
	asked, err := t.tx.AskedLogs(t.team.ID, log.Author, log.At.Add(-settledWithin))
	if err != nil {
		return err
	}
	for _, question := range asked {
		if question.ID == log.ID || question.At.After(log.At) || !holdsRungs(log.Sets(), question.Sets()) {
			continue
		}
		if err := t.takeDown(question, training.LogEmpty); err != nil {
			return err
		}
	}
	return nil
}

// holdsRungs reports whether each rung of some sets is also one of the others.
func holdsRungs(others, sets []training.Set) bool {
	for _, set := range sets {
		if !slices.ContainsFunc(others, func(other training.Set) bool { return other.Rung == set.Rung }) {
			return false
		}
	}
	return true
}

// asksJoint asks a member alone whether what they said is of a joint: not while
// they are paused anyway, and seldom.
func (t *turn) asksJoint(care training.Care) error {
	if care != training.AskCare || !t.hasRecord() {
		return nil
	}
	_, paused, err := t.tx.Running(t.team.ID, t.who.ID)
	if err != nil || paused {
		return err
	}
	first, err := t.tx.AskJoint(t.team.ID, t.who.ID, t.now(), t.now().Add(jointAgain))
	if first {
		t.reply(ToPrivate, jointWords, nil, TapHurts, TapFine)
	}
	return err
}

// tapJoint meets the answer to whether a joint hurts: one that does is met as if
// the message had said so, and of one that does not nothing is kept.
func (t *turn) tapJoint(e Tap) error {
	if e.About != t.who.ID {
		return refuse("Only whoever was asked that can answer it.")
	}
	t.say(Post{Kind: Withdraw, To: ToPrivate, Person: t.who.ID, Name: t.who.Name, Answers: t.id, Tapped: true})
	if e.Button == TapFine {
		return nil
	}
	t.cause = e.On // so that it is taken back like any other
	before := len(t.posts)
	err := t.hurts(training.StopCare)
	if err == nil && len(t.posts) == before {
		t.reply(ToPrivate, "That is taken in already.", nil)
	}
	return err
}
