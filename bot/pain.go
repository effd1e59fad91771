package bot

import (
	"context"
	"errors"
	"strings"
	"time"

	"rungbook/bot/slash"
	"rungbook/bot/words"
	"rungbook/parser"
	"rungbook/training"
)

// takeBackFor is how long a pause set by the bot or the member can be taken
// back as a misreading.
const takeBackFor = 15 * time.Minute

// What a message may do once each, and a command too. An edit that says the same
// again does nothing; one that says the other for the first time does.
const (
	actPause = "pause"
	actSkin  = "skin"
)

// editActs is how long after a message was written an edit of it can set a pause.
// Later it is forgotten whether the message had set one, and its author is asked.
const editActs = 3 * 24 * time.Hour

// actOnPain acts on what a message says of its author's body, once for each
// message: a joint or tendon pauses, skin brings advice on hand care. The words
// said are in no post, row or log.
func (s *step) actOnPain(care training.Care) error {
	act := actPause
	switch {
	case care == training.SkinCare:
		act = actSkin
	case !care.Pauses():
		return nil
	}
	first, err := s.tx.ActOnce(s.cause, act, s.now())
	if err == nil && !first && s.redelivered {
		return s.repeatPainAnswer(care)
	}
	if err != nil || !first {
		return err
	}
	if act == actSkin {
		s.replyTraceless(words.SkinCare)
		return nil
	}
	return s.stopWork(care == training.Urgent)
}

// stopWork pauses the author, and tells them and their coaches. When it was said to
// the bot alone, it holds in all of their teams and is answered once.
func (s *step) stopWork(urgent bool) error {
	others, err := s.otherTeams()
	if err != nil {
		return err
	}
	answered := false
	for _, in := range append([]*step{s}, others...) {
		if !in.hasRecord() {
			continue
		}
		set, err := in.pause(in.who, false)
		if err != nil {
			return err
		}
		if !answered {
			s.replyTraceless(words.Pain(in.programme.Work, urgent, set), pauseButtons(set)...)
		}
		answered = true
		if err := in.tellCoaches(in.who, words.Paused(in.called(in.who), in.programme.Work, set.Again)); err != nil {
			return err
		}
	}
	if !answered {
		s.replyTraceless(words.StrangerPain(s.programme.Work, urgent))
	}
	for _, in := range others {
		s.posts = append(s.posts, in.posts...)
	}
	return nil
}

// replyTraceless answers the author alone in what belongs to a pause or a body.
func (s *step) replyTraceless(text string, buttons ...Button) {
	s.reply(ToPrivate, text, nil, buttons...)
	s.posts[len(s.posts)-1].Traceless = true
}

// hasRecord reports whether there is a record to keep the author's pause in.
func (s *step) hasRecord() bool { return s.who.Trains || s.who.Joined != 0 }

// otherTeams are the same step in the author's other teams, for what is said to the
// bot alone; none for what is said in a channel.
func (s *step) otherTeams() ([]*step, error) {
	if s.place != Private {
		return nil, nil
	}
	teams, err := s.tx.TeamsOf(s.who.ID)
	if err != nil {
		return nil, err
	}
	var others []*step
	for _, id := range teams {
		if id == s.team.ID {
			continue
		}
		other := &step{Bot: s.Bot, tx: s.tx}
		if err := other.loadTeam(id); err != nil {
			return nil, err
		}
		other.setAuthor(Author{ID: s.author.ID, Name: s.author.Name})
		other.place, other.id, other.cause, other.at, other.catchUp = s.place, s.id, s.cause, s.at, s.catchUp
		others = append(others, other)
	}
	return others, nil
}

// BeforeTeamChosen takes what somebody of several teams says to the bot alone before
// they have chosen the team it is for; m.Team is any of them. Pain is acted on at
// once, in all teams. ask reports whether the rest waits for the choice. Errors are
// those of the Store, and the posts then say that the bot failed.
func (b *Bot) BeforeTeamChosen(ctx context.Context, m Message) (posts []Post, ask bool, err error) {
	if slash.IsCommand(m.Text) {
		return nil, true, nil
	}
	ask = true
	posts, err = b.update(ctx, m.Team, m.Author, func(s *step) error {
		if unread, err := s.unread(m); err != nil || unread {
			ask = false
			return err
		}
		s.setMessage(m)
		parsed := s.read(m, s.zoneDay(m))
		ask = parsed.Verdict != parser.Pain
		return errors.Join(s.actOnPain(parsed.Care), s.asksJoint(parsed.Care))
	})
	if err != nil {
		b.log.Error("act before a team is chosen", "cause", err)
		b.refused.add(m)
		return fault(m, b.faultText(m)), false, err
	}
	return posts, ask, nil
}

// hasCoach reports whether the team has a coach other than the author.
func (s *step) hasCoach() bool { return s.hasCoachBeside(s.who.ID) }

// pauseButtons are those under the answer to whoever is paused.
func pauseButtons(set words.PauseSet) []Button {
	if set.CoachEnds {
		return nil
	}
	return []Button{TapMisread}
}

// pause starts a pause on the member's training day, or adds a cause to the pause
// that runs. A cause that a coach sets cannot be taken back; any other can, for
// takeBackFor.
func (s *step) pause(member training.Member, byCoach bool) (set words.PauseSet, err error) {
	running, again, err := s.tx.Running(s.team.ID, member.ID)
	if err != nil {
		return set, err
	}
	day := s.dayFor(member)
	if !again {
		running.From = day
	}
	running.CoachEnds = running.CoachEnds || byCoach
	set = words.PauseSet{Again: again, CoachEnds: running.CoachEnds, Coached: s.hasCoach(), Coach: member.Coach}
	// That somebody was asked of a joint would tell why they are paused.
	err = errors.Join(s.tx.PutRunning(s.team.ID, member.ID, running), s.tx.ForgetJoint(member.ID))
	if err != nil || byCoach {
		return set, err
	}
	return set, s.tx.PutTakeBack(s.team.ID, member.ID, s.cause, training.TakeBack{
		Day: day, Opened: !again, Expires: s.now().Add(takeBackFor),
	})
}

// misread takes back what the message caused, in this team and, if it was said to
// the bot alone, in the author's others. It returns the text of the first team in
// which there was something to take back.
func (s *step) misread(cause training.MessageID) (string, error) {
	text, err := s.voidCause(cause)
	if err != nil {
		return "", err
	}
	others, err := s.otherTeams()
	for _, in := range others {
		elsewhere, err := in.voidCause(cause)
		if err != nil {
			return "", err
		}
		if text == words.NotPaused {
			text = elsewhere
		}
	}
	return text, err
}

// voidCause undoes a cause of the running pause as if it had never been, without a
// return phase. Cause 0 is the member's latest. The pause goes on if it has another
// cause.
func (s *step) voidCause(cause training.MessageID) (string, error) {
	running, ok, err := s.tx.Running(s.team.ID, s.who.ID)
	if err != nil {
		return "", err
	}
	if !ok {
		return words.NotPaused, nil
	}
	if running.CoachEnds {
		return words.CoachEnds, nil
	}
	taken, rest, err := s.takeBack(cause)
	switch {
	case err != nil:
		return "", err
	case taken == nil:
		return words.TooLateToTakeBack, nil
	}
	if err := s.tx.DropTakeBack(s.team.ID, s.who.ID, taken.Number); err != nil {
		return "", err
	}
	return s.without(running, *taken, rest)
}

// takeBack finds the author's take-back of the cause, the latest for cause 0; nil if
// there is none that has not expired. rest is the others, oldest first.
func (s *step) takeBack(cause training.MessageID) (taken *training.TakeBack, rest []training.TakeBack, err error) {
	number, ok := int64(0), true
	if cause != 0 {
		number, ok, err = s.tx.TakeBackOf(s.team.ID, s.who.ID, cause)
	}
	if err != nil || !ok {
		return nil, nil, err
	}
	backs, err := s.tx.TakeBacks(s.team.ID, s.who.ID)
	if err != nil {
		return nil, nil, err
	}
	taken, rest = pick(backs, number, s.at)
	return taken, rest, nil
}

// without takes one cause out of the running pause. If that cause opened the pause,
// the next one opens it now; if there is none, the pause is void.
func (s *step) without(running training.RunningPause, taken training.TakeBack, rest []training.TakeBack) (string, error) {
	switch {
	case !taken.Opened:
		return words.StillPaused, nil
	case len(rest) == 0:
		return words.TakenBack, s.tx.VoidRunning(s.team.ID, s.who.ID)
	}
	running.From = min(rest[0].Day, s.today())
	if err := s.tx.OpenTakeBack(s.team.ID, s.who.ID, rest[0].Number); err != nil {
		return "", err
	}
	return words.StillPaused, s.tx.PutRunning(s.team.ID, s.who.ID, running)
}

// pauseMoves moves the first day of a running pause to today for a member whose new
// zone has not reached that day yet.
func (s *step) pauseMoves(member training.Member) error {
	running, ok, err := s.tx.Running(s.team.ID, member.ID)
	if err != nil || !ok || running.From <= s.dayFor(member) {
		return err
	}
	running.From = s.dayFor(member)
	return s.tx.PutRunning(s.team.ID, member.ID, running)
}

// pick finds the number among those that have not expired, the latest of them for 0;
// nil if there is none. rest is the others, oldest first.
func pick(backs []training.TakeBack, number int64, now time.Time) (taken *training.TakeBack, rest []training.TakeBack) {
	for i := range backs {
		if !backs[i].Expires.After(now) {
			continue
		}
		if number == 0 || backs[i].Number == number {
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

// resume ends a member's pause with all its causes. If void, the pause never was;
// otherwise the return phase begins today. It reports whether there was a pause to
// end, or to void.
func (s *step) resume(member training.Member, void bool) (bool, error) {
	_, ok, err := s.tx.Running(s.team.ID, member.ID)
	if err != nil {
		return false, err
	}
	if !ok && void {
		return s.tx.VoidLatest(s.team.ID, member.ID)
	}
	if !ok {
		return false, nil
	}
	if err := s.tx.DropTakeBacks(s.team.ID, member.ID); err != nil {
		return false, err
	}
	if void {
		return true, s.tx.VoidRunning(s.team.ID, member.ID)
	}
	return true, s.tx.EndRunning(s.team.ID, member.ID, s.dayFor(member))
}

// painFound is the error of a command whose words speak of its author's body: that
// is acted on instead of the command.
type painFound struct {
	care   training.Care
	unsaid bool // the command was /log: its sets are not logged, and that is said
}

func (painFound) Error() string { return "words of a body behind a command" }

// painBehind looks for pain in words that the command does not take. The words are
// never repeated. If the command names a member they are hardly about its author,
// and are refused.
func (s *step) painBehind(cmd *command, text, rest string) error {
	behind := rest
	if cmd == nil {
		behind = strings.TrimPrefix(text, "/")
	}
	if behind == "" || cmd != nil && (cmd.takesFreeText || cmd.ignoresFreeText) {
		return nil
	}
	return s.painIn(cmd, behind)
}

// painIn returns painFound if the text speaks of a body, a refusal if it is not
// about the author, else nil.
func (s *step) painIn(cmd *command, text string) error {
	text = strings.ReplaceAll(text, `"`, " ") // around an option's value they are the form's, and quote nobody
	care := s.parser.Parse(text, s.clock()).Care
	switch {
	case care == "":
		return nil
	case cmd != nil && (cmd.who > member && cmd.takesFreeText || gives(text, "member") || gives(text, "name")):
		return refuseAlone(words.OfABody(cmd.Name, cmd.Usage()))
	}
	blocked, err := s.tx.Blocked(s.author.ID)
	if err != nil {
		return err
	}
	if blocked {
		return refuseAlone(words.Erased)
	}
	return painFound{care, cmd != nil && cmd.Name == "log"}
}
