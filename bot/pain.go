package bot

import (
	"time"

	"rungbook/training"
)

// takeBackFor is how long a pause set by the bot or the member can be taken
// back as a misreading.
const takeBackFor = 15 * time.Minute

// acting drops the reports that ask for nothing: a score of 0.
func acting(reports []training.PainReport) []training.PainReport {
	var left []training.PainReport
	for _, report := range reports {
		if report.Pauses() || report.Site == training.Skin || report.Care == training.SkinCare {
			left = append(left, report)
		}
	}
	return left
}

// hurts acts on what a message says of its author's body, once a message: a
// pause and its private text for a joint or tendon, hand care for skin. What
// was said is in no post, row or log.
func (t *turn) hurts(reports []training.PainReport) error {
	reports = acting(reports)
	if len(reports) == 0 {
		return nil
	}
	first, err := t.tx.ActOnce(t.cause)
	if err != nil || !first {
		return err
	}
	pauses, urgent := false, false
	for _, report := range reports {
		pauses = pauses || report.Pauses()
		urgent = urgent || report.Care == training.Urgent
	}
	if !pauses {
		t.reply(ToPrivate, skinWords, nil)
		return nil
	}
	if !t.who.Trains {
		t.reply(ToPrivate, strangerPainWords(t.programme.Work, urgent), nil)
		return nil
	}
	set, err := t.pause(t.who, false)
	if err != nil {
		return err
	}
	t.reply(ToPrivate, painWords(t.programme.Work, urgent, set), nil, set.buttons()...)
	return t.tellCoaches(t.who, pausedWords(t.who.Name, t.programme.Work, set.again))
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
	set = pauseSet{again: again, coachEnds: running.CoachEnds, coached: t.hasCoach()}
	if err := t.tx.PutRunning(t.team.ID, member.ID, running); err != nil {
		return set, err
	}
	if byCoach {
		return set, nil
	}
	return set, t.tx.PutTakeBack(t.team.ID, member.ID, training.TakeBack{Cause: t.cause, Day: day, Opened: !again, Expires: t.now().Add(takeBackFor)})
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
	if err := t.tx.DropTakeBack(taken.Cause); err != nil {
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
	running.From = next.Day
	if err := t.tx.PutTakeBack(t.team.ID, t.who.ID, next); err != nil {
		return "", err
	}
	return stillPausedWords, t.tx.PutRunning(t.team.ID, t.who.ID, running)
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
