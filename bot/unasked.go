package bot

import (
	"strconv"

	"rungbook/training"
)

// Kinds of decisions: what was said, or not said, without being asked.
const (
	decisionWelcome = "welcome" // subject: the member; cause: "first log"
	decisionUnheard = "unheard" // subject: the member; cause: the first day of a pause that waits for a coach, and how often it came to
	decisionHeard   = "heard"   // the same, once one was told
	decisionWord    = "word"    // subject: the member; cause: the command that changed their record
	decisionFirst   = "first"   // subject: the member; cause: the message of their first attempt done
	decisionTell    = "tell"    // the same, once they had it told to the team
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

// unasked says a post that nobody asked for, once for each kind, subject and cause.
// It is stored in this transaction, so that it is sent even if the process ends.
func (s *step) unasked(kind string, subject training.PersonID, cause string, post Post) error {
	first, err := s.tx.Decide(s.team.ID, kind, subject, cause, outcomePost, s.at)
	if err != nil || !first {
		return err
	}
	post, err = s.form(post)
	if err != nil {
		return err
	}
	if err := s.tx.PointAt(s.team.ID, kind, subject, cause, post.Unasked); err != nil {
		return err
	}
	s.say(post)
	return nil
}

// tell says a post that nobody asked for and that belongs to a pause. No decision is
// kept of it, which would tell when: whatever it is told of happens once.
func (s *step) tell(post Post) error {
	post.Traceless = true
	post, err := s.form(post)
	if err != nil {
		return err
	}
	s.say(post)
	return nil
}

// form stores a post that is to be sent and returns it with its number.
func (s *step) form(post Post) (Post, error) {
	payload, err := EncodePost(post)
	if err != nil {
		return Post{}, err
	}
	post.Unasked, err = s.tx.FormPost(s.team.ID, payload, s.at)
	return post, err
}

// tellCoaches sends each coach a notice about the member, in roster order, but not
// to the one who acted nor to the member. If there is no coach to tell, the notice
// waits for the first one who appears.
func (s *step) tellCoaches(about training.Member, text string) error {
	told := false
	for _, coach := range s.roster {
		if !coach.Coach || coach.ID == about.ID {
			continue
		}
		told = true
		if coach.ID == s.who.ID {
			continue
		}
		if err := s.tell(pausedNotice(coach, about, text)); err != nil {
			return err
		}
	}
	if told {
		return nil
	}
	return s.waitForCoach(about)
}

// pausedNotice tells a coach of a pause. It names no message that the pause came of.
func pausedNotice(coach, about training.Member, text string) Post {
	return Post{
		Kind: Notice, To: ToCoach, Person: coach.ID, Name: coach.Name, About: about.ID,
		Text: text, Buttons: []Button{TapResume},
	}
}

// tellMember sends a member a private notice about something done for them.
func (s *step) tellMember(member training.Member, text string) error {
	return s.unasked(decisionWord, member.ID, causeOf(s.cause), Post{
		Kind: Notice, To: ToPrivate, Person: member.ID, Name: member.Name, Cause: s.id, Text: text,
	})
}

// tellOfPause tells a member privately what a coach has done about their pause.
func (s *step) tellOfPause(member training.Member, text string) error {
	return s.tell(Post{Kind: Notice, To: ToPrivate, Person: member.ID, Name: member.Name, Text: text})
}

func causeOf(id training.MessageID) string { return strconv.FormatInt(int64(id), 10) }
