package bot

import (
	"context"
	"errors"
	"slices"
	"time"

	"rungbook/parser"
	"rungbook/training"
)

// oldest is how many days back a member may log; further back the coach does.
const oldest = 60

// message meets something said. Most of what a team says is chatter, which is
// read and let go without a writing transaction.
func (b *Bot) message(ctx context.Context, m Message) ([]Post, error) {
	if isCommand(m.Text) {
		return b.command(ctx, m)
	}
	quiet := false
	_, err := b.view(ctx, m.Team, m.Author, func(t *turn) error {
		quiet = silent(t.read(m, t.zoneDay(m)))
		return nil
	})
	if err != nil || quiet {
		return nil, err
	}
	return b.hear(ctx, m, nil)
}

// hear reads a message and acts on it. late is nil unless the bot is catching
// up on it.
func (b *Bot) hear(ctx context.Context, m Message, late *lateness) ([]Post, error) {
	return b.meet(ctx, m.Team, m.Author, func(t *turn) error {
		blocked, err := t.tx.Blocked(m.Author.ID)
		if err != nil || blocked {
			return err
		}
		t.held = late
		t.hears(m)
		said := t.read(m, t.zoneDay(m))
		if silent(said) {
			return nil
		}
		return t.said(m, said)
	})
}

// silent reports whether what was read asks for no answer and no write.
func silent(said parser.Result) bool {
	return said.Verdict == parser.Chat
}

// hears makes the message the one that the turn answers.
func (t *turn) hears(m Message) {
	t.place, t.id, t.cause, t.at, t.mentioned, t.anew = m.Place, m.ID, m.ID, m.At, m.Mentioned, m.Again
}

// zoneDay is how the message's first instant reads on its author's clock.
func (t *turn) zoneDay(m Message) parser.Context {
	read := clockOf(m.At, t.who.Zone)
	read.Addressed = m.Place == Private || m.ToBot
	return read
}

// clock is how the event's instant reads on its author's clock, for what is
// said to the bot itself.
func (t *turn) clock() parser.Context {
	read := clockOf(t.at, t.who.Zone)
	read.Addressed = true
	return read
}

func clockOf(at time.Time, zone *time.Location) parser.Context {
	return parser.Context{Today: training.DayOf(at, zone), AfterMidnight: at.In(zone).Hour() < training.DayStart}
}

func (t *turn) read(m Message, ctx parser.Context) parser.Result { return t.parser.Parse(m.Text, ctx) }

// said acts on what a new message says: pain first, then its sets.
func (t *turn) said(m Message, said parser.Result) error {
	log, known, err := t.tx.Log(m.ID)
	if err != nil || known && !m.Again {
		return err // the same event twice is one log
	}
	if err := t.joins(said, t.today()); err != nil {
		return err
	}
	if err := t.hurts(said.Care); err != nil {
		return err
	}
	switch {
	case known:
		err = t.again(log, said)
	case said.Verdict == parser.Log:
		err = t.logs(said, t.today())
	case said.Verdict == parser.Unsure:
		err = t.unsure(said, t.today())
	}
	return errors.Join(err, t.asksJoint(said.Care))
}

// logs stores the sets of the author's message for the days it names, and
// answers it.
func (t *turn) logs(said parser.Result, today training.Day) error {
	days, old := recent(said.Days, today)
	if len(days) == 0 {
		t.reply(t.here(), tooOldWords(old), nil)
		return t.waits(t.at, nil)
	}
	log := t.ownLog(t.at)
	log.Days = days
	done, err := t.keep(log)
	if err != nil {
		return err
	}
	if t.answerOrHold(log, done, remarksOf(said, old)) {
		return t.settles(log)
	}
	return errors.Join(t.welcome(), t.firstDone(log, done), t.settles(log))
}

// answerOrHold answers the author's log, or has a late one answered with others.
func (t *turn) answerOrHold(log training.Log, done change, of remarks) (held bool) {
	if t.held.late(log.At) {
		t.held.hold(t, log, done, of)
		return true
	}
	text, facts, buttons := t.answer(t.who, log, done, of)
	t.reply(t.here(), text, facts, buttons...)
	return false
}

// keep puts the log and returns the member's record on either side of it.
func (t *turn) keep(log training.Log) (change, error) {
	before, err := t.tx.Record(t.team.ID, log.Member)
	if err != nil {
		return change{}, err
	}
	if err := t.tx.PutLog(log); err != nil {
		return change{}, err
	}
	after, err := t.tx.Record(t.team.ID, log.Member)
	return change{before: before, after: after}, err
}

// answer makes the words and facts for who's log just stored: on a paused day,
// or to somebody paused now or off the roster, the read-back alone.
func (t *turn) answer(who training.Member, log training.Log, done change, of remarks) (string, Facts, []Button) {
	today, notes := t.dayFor(who), t.loggedNotes(log.Sets(), of)
	if pausedAround(&done.after, today, log) || !who.Trains {
		facts := t.readBack(log.Days)
		facts.whose = t.whose(who)
		return readBackWords(facts, notes), facts, nil
	}
	facts := t.logFacts(done, log.Days, today)
	facts.whose = t.whose(who)
	return logWords(facts, notes, t.pulled(done, log), t.asks(&done.after, facts)), facts, []Button{TapWithdraw, TapGates, TapNext}
}

// pausedAround reports whether the record's owner is paused, was so today, or on
// one of the log's days.
func pausedAround(record *training.Record, today training.Day, log training.Log) bool {
	paused := func(day training.DaySets) bool { return record.PausedOn(day.Day) }
	return record.Paused() || record.PausedOn(today) || slices.ContainsFunc(log.Days, paused)
}

// asks is what the next team day asks of the ladders that count. It is for an
// answer in the channel: to somebody returning it says nothing, since a smaller
// dose would tell of their pause, and of attempts it is silent.
func (t *turn) asks(record *training.Record, facts LogFacts) []training.Target {
	if facts.NextTeamDay == 0 || facts.NextTeamDay == facts.today {
		return nil
	}
	if _, returning := t.programme.Returning(record, facts.NextTeamDay); returning {
		return nil
	}
	var asked []training.Target
	for _, target := range t.programme.Targets(record, t.team.Days, facts.NextTeamDay) {
		if ladder, _, ok := t.programme.Find(target.ID); ok && ladder.Counts && target.Tries == 0 {
			asked = append(asked, target)
		}
	}
	return asked
}

// pulled reports whether the log has pull work on a day that it leaves a clear
// one.
func (t *turn) pulled(done change, log training.Log) bool {
	return slices.ContainsFunc(log.Days, func(day training.DaySets) bool {
		return !t.programme.Counts(done.after.Session(day.Day)) && t.programme.Pulls(&training.Session{Sets: day.Sets})
	})
}

// joins enrols whoever's message is going to be logged, before what it says of
// their body is met: a first log with pain is a member's, who is paused.
func (t *turn) joins(said parser.Result, today training.Day) error {
	if days, _ := recent(said.Days, today); said.Verdict != parser.Log || len(days) == 0 {
		return nil
	}
	return t.enrol()
}

// enrol makes whoever posts a first log a member.
func (t *turn) enrol() error {
	if t.who.Trains {
		return nil
	}
	return t.put(t.joined(t.who))
}

// joined is the member as one who trains here from now on.
func (t *turn) joined(member training.Member) training.Member {
	member.Trains, member.Since, member.Joined = true, t.at, t.dayFor(member)
	return member
}

// welcome tells whoever logs for the first time ever, privately, what is kept
// and what the bot is not.
func (t *turn) welcome() error {
	return t.unasked(decisionWelcome, t.who.ID, "first log", Post{
		Kind: Notice, To: ToPrivate, Person: t.who.ID, Name: t.who.Name, Cause: t.id, Text: welcomeWords(t.programme),
	})
}
