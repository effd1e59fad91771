package bot

import (
	"context"
	"errors"
	"time"

	"rungbook/parser"
	"rungbook/training"
)

// takeBackFor is how long a pause set by the bot or the member can be taken
// back as a misreading.
const takeBackFor = 15 * time.Minute

// What a message does once, so that an edit that says it again does nothing,
// and one that says the other for the first time does.
const (
	actPause = "pause"
	actSkin  = "skin"
	actTell  = "tell" // a first attempt done, told to the team
)

// hurts acts on what a message says of its author's body, once a message: a
// pause and its private text for a joint or tendon, hand care for skin. What
// was said is in no post, row or log.
func (t *turn) hurts(care training.Care) error {
	act := actPause
	switch {
	case care == training.SkinCare:
		act = actSkin
	case !care.Pauses():
		return nil
	}
	first, err := t.tx.ActOnce(t.cause, act)
	if err == nil && !first && t.anew {
		return t.hurtsAgain(care)
	}
	if err != nil || !first {
		return err
	}
	if act == actSkin {
		t.reply(ToPrivate, skinWords, nil)
		return nil
	}
	return t.stopsWork(care == training.Urgent)
}

// stopsWork pauses whoever speaks and tells them and their coaches. Said to the
// bot alone it holds in all of their teams, and is answered once.
func (t *turn) stopsWork(urgent bool) error {
	others, err := t.others()
	if err != nil {
		return err
	}
	answered := false
	for _, in := range append([]*turn{t}, others...) {
		if !in.hasRecord() {
			continue
		}
		set, err := in.pause(in.who, false)
		if err != nil {
			return err
		}
		if !answered {
			t.reply(ToPrivate, painWords(in.programme.Work, urgent, set), nil, set.buttons()...)
		}
		answered = true
		if err := in.tellCoaches(in.who, pausedWords(in.who.Name, in.programme.Work, set.again)); err != nil {
			return err
		}
	}
	if !answered {
		t.reply(ToPrivate, strangerPainWords(t.programme.Work, urgent), nil)
	}
	for _, in := range others {
		t.posts = append(t.posts, in.posts...)
	}
	return nil
}

// hasRecord reports whether there is a record to keep the author's pause in.
func (t *turn) hasRecord() bool { return t.who.Trains || t.who.Joined != 0 }

// others are the same turn in the other teams of whoever speaks to the bot
// alone; none for what is said in a channel.
func (t *turn) others() ([]*turn, error) {
	if t.place != Private {
		return nil, nil
	}
	teams, err := t.tx.TeamsOf(t.who.ID)
	if err != nil {
		return nil, err
	}
	var others []*turn
	for _, id := range teams {
		if id == t.team.ID {
			continue
		}
		other := &turn{Bot: t.Bot, tx: t.tx}
		if err := other.open(id); err != nil {
			return nil, err
		}
		other.speaks(Author{ID: t.author.ID, Name: t.author.Name})
		other.place, other.id, other.cause, other.at, other.held = t.place, t.id, t.cause, t.at, t.held
		others = append(others, other)
	}
	return others, nil
}

// Undecided meets what somebody of several teams says to the bot alone before
// they have told which one it is for; m.Team is any of them. What it says of
// their body is acted on at once, in all of them. ask reports whether the rest
// waits for that answer.
func (b *Bot) Undecided(ctx context.Context, m Message) (posts []Post, ask bool, err error) {
	if isCommand(m.Text) {
		return nil, true, nil
	}
	ask = true
	posts, err = b.meet(ctx, m.Team, m.Author, func(t *turn) error {
		blocked, err := t.tx.Blocked(m.Author.ID)
		if err != nil || blocked {
			return err
		}
		t.hears(m)
		said := t.read(m, t.zoneDay(m))
		ask = said.Verdict != parser.Pain
		return errors.Join(t.hurts(said.Care), t.asksJoint(said.Care))
	})
	if err != nil {
		b.log.Error("act before a team is chosen", "cause", err)
		return fault(m, b.faultText(m)), false, err
	}
	return posts, ask, nil
}

// hasCoach reports whether somebody else is there to be told.
func (t *turn) hasCoach() bool {
	for _, coach := range t.roster {
		if coach.Coach && coach.ID != t.who.ID {
			return true
		}
	}
	return false
}

// pauseSet is what a pause came to.
type pauseSet struct {
	again     bool // one was running already
	coachEnds bool // only a coach ends it, however lately it was set
	coached   bool // there is a coach to be told
	coach     bool // who is paused is one, and ends it themselves
}

// buttons are those under the answer to whoever is paused.
func (p pauseSet) buttons() []Button {
	if p.coachEnds {
		return nil
	}
	return []Button{TapMisread}
}

// pause sets a pause for the member's whole training day on, or adds a cause
// to the one that runs (again). A cause that a coach sets cannot be taken back;
// any other can, for a while.
func (t *turn) pause(member training.Member, byCoach bool) (set pauseSet, err error) {
	running, again, err := t.tx.Running(t.team.ID, member.ID)
	if err != nil {
		return set, err
	}
	day := t.dayFor(member)
	if !again {
		running.From = day
	}
	running.CoachEnds = running.CoachEnds || byCoach
	set = pauseSet{again: again, coachEnds: running.CoachEnds, coached: t.hasCoach(), coach: member.Coach}
	if err := t.tx.PutRunning(t.team.ID, member.ID, running); err != nil {
		return set, err
	}
	if byCoach {
		return set, nil
	}
	return set, t.tx.PutTakeBack(t.team.ID, member.ID, training.TakeBack{
		Cause: t.cause, Day: day, Opened: !again, Expires: t.now().Add(takeBackFor),
	})
}

// misread takes the message's cause back in this team and, where it was said to
// the bot alone, in their others. It answers for the first that had anything.
func (t *turn) misread(cause training.MessageID) (string, error) {
	text, err := t.takeBack(cause)
	if err != nil {
		return "", err
	}
	others, err := t.others()
	for _, in := range others {
		elsewhere, err := in.takeBack(cause)
		if err != nil {
			return "", err
		}
		if text == notPausedWords {
			text = elsewhere
		}
	}
	return text, err
}

// takeBack makes a cause void: as if it had never been, without a return
// phase. The zero cause means the member's latest. What another cause holds
// goes on.
func (t *turn) takeBack(cause training.MessageID) (string, error) {
	running, ok, err := t.tx.Running(t.team.ID, t.who.ID)
	if err != nil {
		return "", err
	}
	if !ok {
		return notPausedWords, nil
	}
	if running.CoachEnds {
		return coachEndsWords, nil
	}
	backs, err := t.tx.TakeBacks(t.team.ID, t.who.ID)
	if err != nil {
		return "", err
	}
	taken, rest := pick(backs, cause, t.at)
	if taken == nil {
		return tooLateToTakeBackWords, nil
	}
	if err := t.tx.DropTakeBack(t.team.ID, t.who.ID, taken.Cause); err != nil {
		return "", err
	}
	return t.without(running, *taken, rest)
}

// without takes one cause out of the running pause. A cause that did not open
// the pause leaves it as it was; one that did hands it to the next, if any.
func (t *turn) without(running training.RunningPause, taken training.TakeBack, rest []training.TakeBack) (string, error) {
	switch {
	case !taken.Opened:
		return stillPausedWords, nil
	case len(rest) == 0:
		return takenBackWords, t.tx.VoidRunning(t.team.ID, t.who.ID)
	}
	next := rest[0]
	next.Opened = true
	running.From = min(next.Day, t.today())
	if err := t.tx.PutTakeBack(t.team.ID, t.who.ID, next); err != nil {
		return "", err
	}
	return stillPausedWords, t.tx.PutRunning(t.team.ID, t.who.ID, running)
}

// pauseMoves keeps a running pause running for a member who moves to a zone
// where the day it was set on is still to come.
func (t *turn) pauseMoves(member training.Member) error {
	running, ok, err := t.tx.Running(t.team.ID, member.ID)
	if err != nil || !ok || running.From <= t.dayFor(member) {
		return err
	}
	running.From = t.dayFor(member)
	return t.tx.PutRunning(t.team.ID, member.ID, running)
}

// pick finds the cause, or the latest for the zero cause, among those that
// have not expired; rest is the others, oldest first.
func pick(backs []training.TakeBack, cause training.MessageID, now time.Time) (taken *training.TakeBack, rest []training.TakeBack) {
	for i := range backs {
		if !backs[i].Expires.After(now) {
			continue
		}
		if cause == 0 || backs[i].Cause == cause {
			if taken != nil {
				rest = append(rest, *taken)
			}
			taken = &backs[i]
			continue
		}
		rest = append(rest, backs[i])
	}
	return taken, rest
}

// resume ends all causes of a member's pause at once. void says that it never
// was; else the return phase begins today. It reports false where there was
// nothing to end.
func (t *turn) resume(member training.Member, void bool) (bool, error) {
	_, ok, err := t.tx.Running(t.team.ID, member.ID)
	if err != nil {
		return false, err
	}
	if !ok && void {
		return t.tx.VoidLatest(t.team.ID, member.ID)
	}
	if !ok {
		return false, nil
	}
	if err := t.tx.DropTakeBacks(t.team.ID, member.ID); err != nil {
		return false, err
	}
	if void {
		return true, t.tx.VoidRunning(t.team.ID, member.ID)
	}
	return true, t.tx.EndRunning(t.team.ID, member.ID, t.dayFor(member))
}
