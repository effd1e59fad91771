package bot

import (
	"context"
	"errors"
	"slices"
	"time"
	"unicode/utf8"

	"rungbook/parser"
	"rungbook/training"
)

// change meets a message's new text. The sets it gave before are replaced by
// those it gives now. late is nil unless the bot is catching up.
func (b *Bot) change(ctx context.Context, e Edit, late *lateness) ([]Post, error) {
	return b.meet(ctx, e.Team, e.Author, func(t *turn) error {
		blocked, err := t.tx.Blocked(e.Author.ID)
		if err != nil || blocked {
			return err
		}
		t.held = late
		t.hears(e.Message)
		first := t.zoneDay(e.Message)
		t.at = e.Edited
		said := parser.Result{Verdict: parser.Chat}
		if !isCommand(e.Text) {
			said = t.read(e.Message, first)
		}
		return t.edited(e, said, first.Today)
	})
}

// edited acts on an edit. today is the training day of the message's first
// instant, by which its day words count.
func (t *turn) edited(e Edit, said parser.Result, today training.Day) error {
	log, known, err := t.tx.Log(e.ID)
	if err != nil || known && log.State == training.LogDeleted {
		return err // an edit that comes behind the deletion says nothing any more
	}
	if known && len(said.Days) == 1 && !said.Days[0].Stated {
		said.Days = slices.Clone(said.Days)
		said.Days[0].Day = log.Day()
	}
	if !known { // an edit puts nobody back who has left
		if err := t.joins(said, today); err != nil {
			return err
		}
	}
	if err := t.hurts(said.Care); err != nil {
		return err
	}
	return errors.Join(t.follows(e, log, known, said, today), t.asksJoint(said.Care))
}

// follows makes what the message gives follow its new text.
func (t *turn) follows(e Edit, log training.Log, known bool, said parser.Result, today training.Day) error {
	days, old := recent(said.Days, today)
	if known && e.Again {
		if met, err := t.tappedBefore(log, said, days); met || err != nil {
			return err
		}
	}
	if settled, err := t.settled(log, known, said, &days, e); settled || err != nil {
		return err
	}
	switch {
	case said.Verdict == parser.Log && len(days) > 0:
		return t.relog(log, known, days, remarksOf(said, old), e)
	case known:
		return t.unlog(log, said, today)
	case said.Verdict == parser.Log:
		t.revise(tooOldWords(old), nil)
		return t.waits(e.At, nil)
	case said.Verdict == parser.Unsure:
		text, reading, buttons := t.doubt(said, today, answerRunes)
		t.revise(text, nil, buttons...)
		return t.waits(e.At, reading)
	}
	return nil
}

// tappedBefore says again what a tap was answered, where that did not get through:
// a log taken back, a doubtful one kept as it was read, or dropped.
func (t *turn) tappedBefore(log training.Log, said parser.Result, days []training.DaySets) (bool, error) {
	doubtful := said.Verdict == parser.Unsure
	switch {
	case log.State == training.LogUndone, doubtful && log.State == training.LogEmpty && log.Silent:
		return true, t.withdrawAgain(log)
	case doubtful && log.State == training.LogLive && slices.EqualFunc(days, log.Days, sameSets):
		done, err := t.rekeep(log)
		if err == nil {
			t.answerKept(log, done)
		}
		return true, err
	}
	return false, nil
}

func sameSets(a, b training.DaySets) bool { return a.Day == b.Day && slices.Equal(a.Sets, b.Sets) }

// settled meets an edit that can change nothing any more: of a message its
// author has taken back, or of one that a coach's correction stands for. Where
// that is so of some of the days only, those are taken out.
func (t *turn) settled(log training.Log, known bool, said parser.Result, days *[]training.DaySets, e Edit) (bool, error) {
	if known && log.State == training.LogUndone {
		if said.Verdict != parser.Log {
			return true, nil
		}
		t.revise(undoneStaysWords, nil)
		log.Silent = false
		return true, t.tx.PutLog(log)
	}
	if known && log.State == training.LogCorrected && said.Verdict != parser.Log && said.Verdict != parser.Unsure {
		return true, nil
	}
	if known && log.State == training.LogCorrected {
		t.reply(ToPrivate, correctedWords(log.Day()), nil)
		return true, nil
	}
	if said.Verdict != parser.Log {
		return false, nil
	}
	left, err := t.uncorrected(*days, e.At)
	if err != nil {
		return false, err
	}
	settled := len(left) == 0 && len(*days) > 0
	*days = left
	return settled, nil
}

// uncorrected leaves out days that the coach has corrected since an instant, and says
// so to their member alone.
func (t *turn) uncorrected(days []training.DaySets, since time.Time) (left []training.DaySets, err error) {
	for _, day := range days {
		at, corrected, err := t.tx.Corrected(t.team.ID, t.who.ID, day.Day)
		if err != nil {
			return nil, err
		}
		if corrected && since.Before(at) {
			t.reply(ToPrivate, correctedWords(day.Day), nil)
		} else {
			left = append(left, day)
		}
	}
	return left, nil
}

// relog replaces what the message gave and revises its answer.
func (t *turn) relog(log training.Log, known bool, days []training.DaySets, of remarks, e Edit) error {
	if !known {
		log = t.ownLog(e.At)
	}
	was := log.Days
	log.Days, log.State, log.Silent = days, training.LogLive, false
	done, err := t.keep(log)
	if err != nil {
		return err
	}
	done.from = was
	if t.held != nil && t.held.replace(t, log, done, of) {
		return nil
	}
	text, facts, buttons := t.answer(t.who, log, done, of)
	t.revise(text, facts, buttons...)
	return errors.Join(t.welcome(), t.firstDone(log, done))
}

// unlog takes the sets out of a message that is no log any more and says so.
// What was logged by the names of another programme stays.
func (t *turn) unlog(log training.Log, said parser.Result, today training.Day) error {
	if log.State == training.LogLive && t.foreign(log.Sets()) {
		t.reply(ToPrivate, foreignWords(log.Day()), nil)
		return nil
	}
	had, gave := log, log.State == training.LogLive
	log = log.Without(training.LogEmpty)
	room := answerRunes
	if gave {
		room -= utf8.RuneCountInString(emptiedWords(log.Days)) + 1
	}
	words, reading, buttons := t.nowWords(said, today, room)
	if reading != nil {
		log.State, log.Days = training.LogAsked, reading
	}
	log.Silent = !gave && said.Verdict == parser.Chat
	done, err := t.keep(log)
	if err != nil {
		return err
	}
	if t.held != nil {
		t.held.drop(log.ID)
	}
	switch {
	case gave:
		t.saysEmptied(had, done, words, buttons)
	case words != "":
		t.revise(words, nil, buttons...)
	case !had.Silent:
		t.say(Post{Kind: Withdraw, To: t.here(), Person: t.who.ID, Name: t.who.Name, Answers: log.ID, Facts: t.withdrawn(done, had.Days)})
	}
	return nil
}

// nowWords is what is said, in so many characters at most, to a message's new
// text that gives no sets; "" to chatter.
func (t *turn) nowWords(said parser.Result, today training.Day, room int) (words string, reading []training.DaySets, buttons []Button) {
	switch said.Verdict {
	case parser.Unsure:
		return t.doubt(said, today, room)
	case parser.Log:
		_, old := recent(said.Days, today)
		return tooOldWords(old), nil, nil
	}
	return "", nil, nil
}

// saysEmptied revises the answer of a log that has lost its sets.
func (t *turn) saysEmptied(had training.Log, done change, words string, buttons []Button) {
	emptied := had.Without(training.LogEmpty).Days
	if pausedAround(&done.after, t.today(), had) {
		t.revise(emptiedAnswer(emptied, nil, words), t.readBack(emptied), buttons...)
		return
	}
	facts := t.logFacts(done, emptied, t.today())
	facts.Gates = t.touched(&done.after, had.Sets(), t.today())
	t.revise(emptiedAnswer(emptied, &facts, words), facts, buttons...)
}

// foreign reports whether there are sets and the programme knows none of their
// rungs.
func (t *turn) foreign(sets []training.Set) bool {
	for _, set := range sets {
		if _, _, ok := t.programme.Find(set.Rung); ok {
			return false
		}
	}
	return len(sets) > 0
}

// revise puts text in the place of the message's earlier answer.
func (t *turn) revise(text string, facts Facts, buttons ...Button) {
	t.say(Post{Kind: Revise, To: t.here(), Person: t.who.ID, Name: t.who.Name, Answers: t.id, Text: text, Facts: facts, Buttons: buttons})
}

// remove meets a message gone: what it gave is gone with it, and so is its
// answer. Nothing is said.
func (b *Bot) remove(ctx context.Context, e Delete, late *lateness) ([]Post, error) {
	return b.meet(ctx, e.Team, e.Author, func(t *turn) error {
		t.held = late
		t.place, t.id, t.cause, t.at = e.Place, e.ID, e.ID, e.At
		log, ok, err := t.tx.Log(e.ID)
		if ok && e.Again && log.State == training.LogDeleted {
			return t.withdrawAgain(log)
		}
		if err != nil || !ok || log.State == training.LogDeleted {
			return err
		}
		state := training.LogDeleted
		if log.State == training.LogCorrected {
			state = training.LogCorrected
		}
		return t.takeDown(log, state)
	})
}

// takeDown stores the log in a state without its sets and removes its answer.
func (t *turn) takeDown(log training.Log, state training.LogState) error {
	silent := log.Silent
	log = log.Without(state)
	log.Silent = true
	done, err := t.keep(log)
	if err != nil {
		return err
	}
	if t.held != nil && t.held.drop(log.ID) || silent {
		return nil
	}
	owner, ok := t.person(log.Author)
	if !ok {
		owner = t.who
	}
	t.say(Post{Kind: Withdraw, To: stands(log), Person: owner.ID, Name: owner.Name, Answers: log.ID, Facts: t.withdrawn(done, log.Days)})
	return nil
}

// stands is the audience of the place where the log's answer is.
func stands(log training.Log) Audience {
	if log.Alone {
		return ToPrivate
	}
	return ToChannel
}

func (t *turn) withdrawn(done change, days []training.DaySets) WithdrawFacts {
	_, caused, resolved := t.violations(done, days)
	return WithdrawFacts{Day: days[0].Day, Violations: caused, Resolved: resolved}
}

// undo withdraws the author's own latest log that still gives sets.
func (t *turn) undo() error {
	log, ok, err := t.tx.LatestLog(t.team.ID, t.who.ID)
	if err != nil {
		return err
	}
	if !ok {
		t.reply(t.here(), nothingToUndoWords, nil)
		return nil
	}
	return t.undoLog(log)
}

// sayUndone answers a log taken back: what a coach logged for somebody else
// privately, with a word to the member.
func (t *turn) sayUndone(log training.Log) error {
	words := undoneWords(t.dayLines(log.Days))
	owner, known := t.person(log.Member)
	if log.Member == t.who.ID || !known {
		t.reply(t.here(), words, nil)
		return nil
	}
	t.reply(ToPrivate, words, nil)
	return t.tellMember(owner, undoneForYouWords(t.who.Name, log.Days))
}

func (t *turn) undoLog(log training.Log) error {
	if err := t.sayUndone(log); err != nil {
		return err
	}
	if err := t.takeDown(log, training.LogUndone); err != nil {
		return err
	}
	return t.tx.Owe(t.team.ID, log.ID, t.at) // the withdrawal
}
