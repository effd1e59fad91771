package bot

import (
	"context"
	"strconv"

	"rungbook/training"
)

// Kinds of decisions: what was said, or not said, without being asked.
const (
	decisionWelcome = "welcome" // subject: the member; cause: "first log"
	decisionPaused  = "paused"  // subject: the coach; cause: the message that set the pause, or the pause's first day and its owner
	decisionUnheard = "unheard" // subject: the member; cause: the first day of a pause of which no coach could be told
	decisionHeard   = "heard"   // the same, once one was
	decisionWord    = "word"    // subject: the member; cause: the command that changed their record
	decisionFirst   = "first"   // subject: the member; cause: the message of their first attempt done
	decisionNudge   = "nudge"   // subject: the member; cause: the local date
	decisionDigest  = "digest"  // subject: the coach; cause: the local date
)

// Outcomes of a decision.
const (
	outcomePost   = "post"
	outcomeNone   = "none"   // nothing was to be said
	outcomeMissed = "missed" // too late to be said
	outcomeWaits  = "waits"  // for somebody to say it to
)

// unasked decides to say a post, once for kind, subject and cause, and stores
// it in this transaction: it will be sent even if the process ends here.
func (t *turn) unasked(kind string, subject training.PersonID, cause string, post Post) error {
	first, err := t.tx.Decide(t.team.ID, kind, subject, cause, outcomePost, t.at)
	if err != nil || !first {
		return err
	}
	post, err = t.form(post)
	if err != nil {
		return err
	}
	if err := t.tx.PointAt(t.team.ID, kind, subject, cause, post.Unasked); err != nil {
		return err
	}
	t.say(post)
	return nil
}

// form stores a post that is to be sent and returns it with its number.
func (t *turn) form(post Post) (Post, error) {
	payload, err := EncodePost(post)
	if err != nil {
		return Post{}, err
	}
	post.Unasked, err = t.tx.FormPost(t.team.ID, payload, t.at)
	return post, err
}

// tellCoaches sends each coach a notice about the member, in roster order: not
// to whoever did it, nor to the member themselves.
// With nobody to be told it waits for the first coach who is seen.
func (t *turn) tellCoaches(about training.Member, text string) error {
	told := false
	for _, coach := range t.roster {
		if !coach.Coach || coach.ID == about.ID {
			continue
		}
		told = true
		if coach.ID == t.who.ID {
			continue
		}
		if err := t.unasked(decisionPaused, coach.ID, causeOf(t.cause), t.pausedNotice(coach, about, text)); err != nil {
			return err
		}
	}
	if told {
		return nil
	}
	running, ok, err := t.tx.Running(t.team.ID, about.ID)
	if err != nil || !ok {
		return err
	}
	_, err = t.tx.Decide(t.team.ID, decisionUnheard, about.ID, running.From.String(), outcomeWaits, t.at)
	return err
}

func (t *turn) pausedNotice(coach, about training.Member, text string) Post {
	return Post{
		Kind: Notice, To: ToCoach, Person: coach.ID, Name: coach.Name, About: about.ID, Cause: t.id,
		Text: text, Buttons: []Button{TapResume},
	}
}

// coachSeen tells a coach just seen what waited for one.
func (b *Bot) coachSeen(ctx context.Context, e CoachSeen) ([]Post, error) {
	return b.update(ctx, e.Team, Author{}, func(t *turn) error {
		t.at = e.At
		coach, known := t.person(e.Coach)
		if !known || !coach.Coach {
			return nil
		}
		return t.tellWaiting(coach)
	})
}

// tellWaiting tells a coach of each pause that runs still and of which no coach
// could be told, once.
func (t *turn) tellWaiting(coach training.Member) error {
	for _, about := range t.roster {
		if !about.Trains || about.ID == coach.ID {
			continue
		}
		running, ok, err := t.tx.Running(t.team.ID, about.ID)
		if err != nil {
			return err
		}
		if ok {
			err = t.tellOf(coach, about, running.From.String())
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// tellOf tells a coach of the member's pause that began on the day, if that
// waits to be told.
func (t *turn) tellOf(coach, about training.Member, day string) error {
	waiting, err := t.tx.Decided(t.team.ID, decisionUnheard, about.ID, day)
	if err != nil || waiting[day] != outcomeWaits {
		return err
	}
	first, err := t.tx.Decide(t.team.ID, decisionHeard, about.ID, day, outcomePost, t.at)
	if err != nil || !first {
		return err
	}
	post := t.pausedNotice(coach, about, pausedWords(about.Name, t.programme.Work, false))
	return t.unasked(decisionPaused, coach.ID, day+" of "+causeOf(training.MessageID(about.ID)), post)
}

// tellMember sends a member a private notice about something done for them.
func (t *turn) tellMember(member training.Member, text string) error {
	return t.unasked(decisionWord, member.ID, causeOf(t.cause), Post{
		Kind: Notice, To: ToPrivate, Person: member.ID, Name: member.Name, Cause: t.id, Text: text,
	})
}

func causeOf(id training.MessageID) string { return strconv.FormatInt(int64(id), 10) }
