package bot

import (
	"strconv"

	"rungbook/training"
)

// Kinds of decisions: what was said, or not said, without being asked.
const (
	decisionWelcome = "welcome" // subject: the member; cause: "first log"
	decisionPaused  = "paused"  // subject: the coach; cause: the message that set the pause
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
func (t *turn) tellCoaches(about training.Member, text string) error {
	for _, coach := range t.roster {
		if !coach.Coach || coach.ID == t.who.ID || coach.ID == about.ID {
			continue
		}
		post := Post{Kind: Notice, To: ToCoach, Person: coach.ID, Name: coach.Name, About: about.ID, Cause: t.id, Text: text, Buttons: []Button{TapResume}}
		if err := t.unasked(decisionPaused, coach.ID, causeOf(t.cause), post); err != nil {
			return err
		}
	}
	return nil
}

// tellMember sends a member a private notice about something done for them.
func (t *turn) tellMember(member training.Member, text string) error {
	return t.unasked(decisionWord, member.ID, causeOf(t.cause), Post{
		Kind: Notice, To: ToPrivate, Person: member.ID, Name: member.Name, Cause: t.id, Text: text,
	})
}

func causeOf(id training.MessageID) string { return strconv.FormatInt(int64(id), 10) }
