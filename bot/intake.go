package bot

import (
	"context"
	"errors"
	"slices"
	"time"

	"rungbook/bot/slash"
	"rungbook/bot/words"
	"rungbook/parser"
	"rungbook/training"
)

// message takes something said. Most of it is chatter, for which the transaction
// writes nothing.
func (b *Bot) message(ctx context.Context, m Message) ([]Post, error) {
	if slash.IsCommand(m.Text) {
		return b.command(ctx, m)
	}
	return b.hear(ctx, m, nil)
}

// hear reads a message and acts on it. late is nil unless the bot is catching
// up on it.
func (b *Bot) hear(ctx context.Context, m Message, late *catchUp) ([]Post, error) {
	return b.update(ctx, m.Team, m.Author, func(s *step) error {
		s.catchUp = late
		s.setMessage(m)
		parsed := s.read(m, s.zoneDay(m))
		if parsed.Verdict == parser.Chat {
			return nil
		}
		if m.Place == Private && s.known && m.At.Before(s.who.Since) && !m.Redelivered {
			return nil // it was refused: its author was of no team yet
		}
		if unread, err := s.unread(m); err != nil || unread {
			return err
		}
		return s.actOnMessage(m, parsed)
	})
}

// unread reports whether the message is not to be read in: its author was erased, or
// has rejoined only since they wrote it, or it was refused.
func (s *step) unread(m Message) (bool, error) {
	if s.refused.holds(m) {
		return true, nil
	}
	out, err := s.tx.ShutOut(m.Author.ID, m.At)
	if err != nil || out {
		return out, err
	}
	return s.tx.Refused(m.ID, m.Edited)
}

// setMessage makes the message the one that the step answers.
func (s *step) setMessage(m Message) {
	s.place, s.channel, s.id, s.cause, s.at, s.edited = m.Place, m.Channel, m.ID, m.ID, m.At, m.Edited
	s.mentioned, s.redelivered, s.mustAnswer = m.Mentioned, m.Redelivered, !slash.IsCommand(m.Text)
}

// zoneDay is the context in which the message is read: its first instant by its
// author's clock.
func (s *step) zoneDay(m Message) parser.Context {
	read := clockOf(m.At, s.who.Zone)
	read.Addressed = m.Place == Private || m.ToBot
	return read
}

// clock is the context for a text said to the bot itself: the event's instant by
// its author's clock.
func (s *step) clock() parser.Context {
	read := clockOf(s.at, s.who.Zone)
	read.Addressed = true
	return read
}

func clockOf(at time.Time, zone *time.Location) parser.Context {
	return parser.Context{Today: training.DayOf(at, zone), AfterMidnight: at.In(zone).Hour() < training.DayStart}
}

func (s *step) read(m Message, ctx parser.Context) parser.Result { return s.parser.Parse(m.Text, ctx) }

// actOnMessage acts on what a new message says: pain first, then its sets.
func (s *step) actOnMessage(m Message, parsed parser.Result) error {
	log, known, err := s.tx.Log(m.ID)
	if err != nil || known && !m.Redelivered {
		return err // the same event twice is one log
	}
	if err := s.enrolOnLog(parsed, s.today()); err != nil {
		return err
	}
	if err := s.actOnPain(parsed.Care); err != nil {
		return err
	}
	switch {
	case known:
		err = s.repeatAnswer(log, parsed)
	case parsed.Verdict == parser.Log:
		err = s.storeLog(parsed, s.today())
	case parsed.Verdict == parser.Unsure:
		err = s.answerUnsure(parsed, s.today())
	}
	return errors.Join(err, s.asksJoint(parsed.Care))
}

// storeLog stores the sets of the author's message for the days it names, and
// answers it.
func (s *step) storeLog(parsed parser.Result, today training.Day) error {
	days, old := recent(parsed.Days, today)
	if len(days) == 0 {
		s.reply(s.audience(), words.TooOld(old), nil)
		return s.putUnlogged(s.at, nil)
	}
	log := s.ownLog(s.at)
	log.Days = days
	done, err := s.putLog(log)
	if err != nil {
		return err
	}
	if s.answerOrHold(log, done, remarksOf(parsed, old)) {
		return s.settles(log)
	}
	return errors.Join(s.welcome(), s.firstDone(log, done), s.settles(log))
}

// answerOrHold answers the author's log, or holds it back if it is read late.
func (s *step) answerOrHold(log training.Log, done change, of words.Remarks) (held bool) {
	if s.catchUp.late(log.At) {
		s.catchUp.hold(s, log, done, of)
		return true
	}
	text, facts, buttons := s.answer(s.who, log, done, of)
	s.reply(s.audience(), text, facts, buttons...)
	return false
}

// putLog puts the log and returns the member's record on either side of it.
func (s *step) putLog(log training.Log) (change, error) {
	before, err := s.tx.Record(s.team.ID, log.Member)
	if err != nil {
		return change{}, err
	}
	if err := s.tx.PutLog(log); err != nil {
		return change{}, err
	}
	after, err := s.tx.Record(s.team.ID, log.Member)
	return change{before: before, after: after}, err
}

// answer makes the text and facts for the log that was just stored for who. Where
// who is paused now, was paused on the log's days, or is off the roster, it is the
// read-back alone.
func (s *step) answer(who training.Member, log training.Log, done change, of words.Remarks) (string, Facts, []Button) {
	today, notes := s.dayFor(who), s.loggedNotes(log.Sets(), of)
	if pausedAround(&done.after, today, log) || !who.Trains {
		facts := s.readBack(log.Days)
		facts.Whose = s.whose(who)
		return words.ReadBack(facts, notes), facts, nil
	}
	facts := s.logFacts(done, log.Days, today)
	facts.Whose = s.whose(who)
	return words.Log(facts, notes, s.pulled(done, log), s.targetsAsked(&done.after, facts)), facts, []Button{TapWithdraw, TapGates, TapNext}
}

// loggedNotes is what the read-back has to say of how the sets were read, and of
// sets that lack the unit their rung counts in.
func (s *step) loggedNotes(sets []training.Set, of words.Remarks) []string {
	notes := of.Notes()
	for _, set := range sets {
		ladder, rung, ok := s.programme.Find(set.Rung)
		if !ok || ladder.Tries || rung.Work(&set) > 0 || set.Failed {
			continue
		}
		gate, gated := s.programme.GateOf(ladder)
		if !gated || ladder.Advice {
			continue
		}
		note := words.WouldCount(rung.Name, rung.Unit, s.programme.NameOf(gate.Rung))
		if !slices.Contains(notes, note) {
			notes = append(notes, note)
		}
	}
	return notes
}

// pausedAround reports whether the record's owner is paused, was so today, or on
// one of the log's days.
func pausedAround(record *training.Record, today training.Day, log training.Log) bool {
	paused := func(day training.DaySets) bool { return record.PausedOn(day.Day) }
	return record.Paused() || record.PausedOn(today) || slices.ContainsFunc(log.Days, paused)
}

// targetsAsked lists what the next team day asks on the ladders that count. It is
// for an answer in the channel. For somebody returning it is empty, since a smaller
// dose would tell of their pause; attempts are left out.
func (s *step) targetsAsked(record *training.Record, facts words.LogFacts) []training.Target {
	if facts.NextTeamDay == 0 || facts.NextTeamDay == facts.Today {
		return nil
	}
	if _, returning := s.programme.Returning(record, facts.NextTeamDay); returning {
		return nil
	}
	var asked []training.Target
	for _, target := range s.programme.Targets(record, s.team.Days, facts.NextTeamDay) {
		if ladder, _, ok := s.programme.Find(target.ID); ok && ladder.Counts && target.Tries == 0 {
			asked = append(asked, target)
		}
	}
	return asked
}

// pulled reports whether the log has pull work on a day that still counts as
// clear.
func (s *step) pulled(done change, log training.Log) bool {
	return slices.ContainsFunc(log.Days, func(day training.DaySets) bool {
		return !s.programme.Counts(done.after.Session(day.Day)) && s.programme.Pulls(&training.Session{Sets: day.Sets})
	})
}

// enrolOnLog enrols the author of a message that is going to be logged. It comes
// before acting on pain, so that a first log that tells of pain pauses its author.
func (s *step) enrolOnLog(parsed parser.Result, today training.Day) error {
	if days, _ := recent(parsed.Days, today); parsed.Verdict != parser.Log || len(days) == 0 {
		return nil
	}
	return s.enrol()
}

// enrol makes whoever posts a first log a member.
func (s *step) enrol() error {
	if s.who.Trains {
		return nil
	}
	return s.putMember(s.joined(s.who))
}

// joined is the member as one who trains here from now on.
func (s *step) joined(member training.Member) training.Member {
	member.Trains, member.Since, member.Joined = true, s.at, s.dayFor(member)
	return member
}

// welcome tells the author of a first log, privately and once, what is kept and
// what the bot is not.
func (s *step) welcome() error {
	return s.unasked(decisionWelcome, s.who.ID, "first log", Post{
		Kind: Notice, To: ToPrivate, Person: s.who.ID, Name: s.who.Name, Cause: s.id, Text: words.Welcome(s.programme),
	})
}
