package bot

import (
	"context"
	"errors"

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
	day := said.First().Day
	if known && !said.First().Stated {
		day = log.Day
	}
	if !known { // an edit puts nobody back who has left
		if err := t.joins(said, day, today); err != nil {
			return err
		}
	}
	if err := t.hurts(said.Care); err != nil {
		return err
	}
	if known && e.Again && log.State == training.LogUndone {
		return t.withdrawAgain(log)
	}
	if settled, err := t.settled(log, known, said, day, e); settled || err != nil {
		return err
	}
	switch {
	case said.Verdict == parser.Log && day >= today-oldest:
		return t.relog(log, known, said, day, e)
	case known:
		return t.unlog(log, said)
	case said.Verdict == parser.Log:
		t.revise(tooOldWords(day), nil)
	case said.Verdict == parser.Unsure:
		t.revise(t.unsureWords(said), nil)
	default:
		return nil
	}
	return t.empty(e.At)
}

// settled meets an edit that can change nothing any more: of a message its
// author has taken back, or of one that a coach's correction stands for.
func (t *turn) settled(log training.Log, known bool, said parser.Result, day training.Day, e Edit) (bool, error) {
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
		t.reply(ToPrivate, correctedWords(log.Day), nil)
		return true, nil
	}
	if said.Verdict != parser.Log {
		return false, nil
	}
	at, corrected, err := t.tx.Corrected(t.team.ID, t.who.ID, day)
	if err != nil || !corrected || !e.At.Before(at) {
		return false, err
	}
	t.reply(ToPrivate, correctedWords(day), nil)
	return true, nil
}

// relog replaces what the message gave and revises its answer.
func (t *turn) relog(log training.Log, known bool, said parser.Result, day training.Day, e Edit) error {
	if !known {
		log = training.Log{ID: e.ID, Team: t.team.ID, Member: t.who.ID, Author: t.who.ID, At: e.At, Alone: t.place == Private}
	}
	was := log.Day
	log.Day, log.Sets, log.State, log.Silent = day, said.Sets(), training.LogLive, false
	done, err := t.keep(log)
	if err != nil {
		return err
	}
	done.moved = was
	if t.held != nil && t.held.replace(t, log, done, said.Guesses) {
		return nil
	}
	text, facts, buttons := t.answer(t.who, log, done, said.Guesses)
	t.revise(text, facts, buttons...)
	return errors.Join(t.welcome(), t.firstDone(log, done))
}

// unlog takes the sets out of a message that is no log any more and says so.
// What was logged by the names of another programme stays.
func (t *turn) unlog(log training.Log, said parser.Result) error {
	if t.foreign(log.Sets) {
		t.reply(ToPrivate, foreignWords(log.Day), nil)
		return nil
	}
	had := log
	log.Sets, log.State = nil, training.LogEmpty
	log.Silent = had.State == training.LogEmpty && said.Verdict == parser.Chat
	done, err := t.keep(log)
	if err != nil {
		return err
	}
	if t.held != nil {
		t.held.drop(log.ID)
	}
	switch {
	case had.State == training.LogEmpty && said.Verdict == parser.Log:
		t.revise(tooOldWords(said.First().Day), nil)
	case had.State == training.LogEmpty && said.Verdict == parser.Unsure:
		t.revise(t.unsureWords(said), nil)
	case had.Silent:
	case had.State == training.LogEmpty:
		t.say(Post{Kind: Withdraw, To: t.here(), Person: t.who.ID, Name: t.who.Name, Answers: log.ID, Facts: t.withdrawn(done, log.Day)})
	case done.after.Paused() || done.after.PausedOn(t.today()) || done.after.PausedOn(log.Day):
		t.revise(t.emptiedWords(log.Day, nil, said), ReadBack{Day: log.Day, Logged: t.together(nil)})
	default:
		facts := t.logFacts(done, log.Day, nil, t.today())
		facts.Gates = t.touched(&done.after, had.Sets, t.today())
		t.revise(t.emptiedWords(log.Day, &facts, said), facts)
	}
	return nil
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
		if log.State != training.LogCorrected {
			log.State = training.LogDeleted
		}
		return t.takeDown(log)
	})
}

// takeDown stores the log without its sets and removes its answer.
func (t *turn) takeDown(log training.Log) error {
	silent := log.Silent
	log.Sets, log.Silent = nil, true
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
	t.say(Post{Kind: Withdraw, To: stands(log), Person: owner.ID, Name: owner.Name, Answers: log.ID, Facts: t.withdrawn(done, log.Day)})
	return nil
}

// stands is the audience of the place where the log's answer is.
func stands(log training.Log) Audience {
	if log.Alone {
		return ToPrivate
	}
	return ToChannel
}

func (t *turn) withdrawn(done change, day training.Day) WithdrawFacts {
	_, caused, resolved := t.violations(done, day)
	return WithdrawFacts{Day: day, Violations: caused, Resolved: resolved}
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
	words := undoneWords(log.Day, t.together(log.Sets))
	owner, known := t.person(log.Member)
	if log.Member == t.who.ID || !known {
		t.reply(t.here(), words, nil)
		return nil
	}
	t.reply(ToPrivate, words, nil)
	return t.tellMember(owner, undoneForYouWords(t.who.Name, log.Day))
}

func (t *turn) undoLog(log training.Log) error {
	if err := t.sayUndone(log); err != nil {
		return err
	}
	log.State = training.LogUndone
	if err := t.takeDown(log); err != nil {
		return err
	}
	return t.tx.Owe(t.team.ID, log.ID, t.at) // the withdrawal
}
