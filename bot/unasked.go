package bot

import (
	"context"
	"strconv"

	"rungbook/bot/words"
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
		if err := s.unasked(decisionPaused, coach.ID, causeOf(s.cause), s.pausedNotice(coach, about, text)); err != nil {
			return err
		}
	}
	if told {
		return nil
	}
	running, ok, err := s.tx.Running(s.team.ID, about.ID)
	if err != nil || !ok {
		return err
	}
	_, err = s.tx.Decide(s.team.ID, decisionUnheard, about.ID, running.From.String(), outcomeWaits, s.at)
	return err
}

func (s *step) pausedNotice(coach, about training.Member, text string) Post {
	return Post{
		Kind: Notice, To: ToCoach, Person: coach.ID, Name: coach.Name, About: about.ID, Cause: s.id,
		Text: text, Buttons: []Button{TapResume},
	}
}

// coachAppeared tells a coach who has just appeared what waited for one.
func (b *Bot) coachAppeared(ctx context.Context, e CoachAppeared) ([]Post, error) {
	return b.update(ctx, e.Team, Author{}, func(s *step) error {
		s.at = e.At
		coach, known := s.person(e.Coach)
		if !known || !coach.Coach {
			return nil
		}
		return s.tellWaiting(coach)
	})
}

// tellWaiting tells a coach of each pause that runs still and of which no coach
// could be told, once.
func (s *step) tellWaiting(coach training.Member) error {
	for _, about := range s.roster {
		if !about.Trains || about.ID == coach.ID {
			continue
		}
		running, ok, err := s.tx.Running(s.team.ID, about.ID)
		if err != nil {
			return err
		}
		if ok {
			err = s.tellOf(coach, about, running.From.String())
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// tellOf tells a coach of the member's pause that began on the day, if that
// waits to be told.
func (s *step) tellOf(coach, about training.Member, day string) error {
	waiting, err := s.tx.Decided(s.team.ID, decisionUnheard, about.ID, day)
	if err != nil || waiting[day] != outcomeWaits {
		return err
	}
	first, err := s.tx.Decide(s.team.ID, decisionHeard, about.ID, day, outcomePost, s.at)
	if err != nil || !first {
		return err
	}
	post := s.pausedNotice(coach, about, words.Paused(about.Name, s.programme.Work, false))
	return s.unasked(decisionPaused, coach.ID, day+" of "+causeOf(training.MessageID(about.ID)), post)
}

// tellMember sends a member a private notice about something done for them.
func (s *step) tellMember(member training.Member, text string) error {
	return s.unasked(decisionWord, member.ID, causeOf(s.cause), Post{
		Kind: Notice, To: ToPrivate, Person: member.ID, Name: member.Name, Cause: s.id, Text: text,
	})
}

func causeOf(id training.MessageID) string { return strconv.FormatInt(int64(id), 10) }
