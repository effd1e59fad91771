package discord

import (
	"context"
	"errors"
	"fmt"
	"net/http"

	"rungbook/bot"
	"rungbook/bot/outbox"
	"rungbook/bot/words"
	"rungbook/training"
)

// sender carries out the posts of one event for the outbox.
type sender struct {
	*Adapter
	origin    *origin
	completes training.MessageID // the message that counts as answered once the post is out; 0 for none
	noted     bool               // it was written down that completes is answered
	unsure    bool               // an answer to what the post answers may be out that was not noted
}

var _ outbox.Sender = (*sender)(nil)

// write keeps what a post has come to and, with the last post to a message, that
// the message is answered.
func (s *sender) write(ctx context.Context, do func(Tx) error) error {
	err := s.store.Update(ctx, func(tx Tx) error {
		if err := do(tx); err != nil || s.completes == 0 {
			return err
		}
		return tx.MarkAnswered(s.completes)
	})
	if s.completes != 0 {
		s.noted = err == nil
	}
	return err
}

// Send carries out one post, once.
func (s *sender) Send(ctx context.Context, post bot.Post, nonce string) (training.MessageID, error) {
	id, err := s.send(ctx, post, nonce)
	return training.MessageID(id), s.class(err)
}

// send carries out a post as its kind asks, with the platform's own errors.
func (s *sender) send(ctx context.Context, post bot.Post, nonce string) (snowflake, error) {
	switch post.Kind {
	case bot.Mark:
		return 0, errors.Join(s.adopt(ctx, post), s.mark(ctx, post))
	case bot.Withdraw:
		if post.Tapped {
			return 0, s.withdrawTapped(ctx)
		}
		return 0, s.withdraw(ctx, post)
	case bot.Revise:
		return s.revise(ctx, post, nonce)
	}
	if post.To == bot.ToCoach {
		if err := s.stillCoach(ctx, post.Team, post.Person); err != nil {
			return 0, err
		}
	}
	if s.origin.answers(post) {
		id, done, err := s.answer(ctx, post)
		if done || err != nil {
			return id, err
		}
	}
	at, err := s.target(ctx, post)
	if err != nil {
		return 0, err
	}
	return s.say(ctx, post, at, nonce)
}

// class makes an error of the outbox's classes of the platform's.
func (a *Adapter) class(err error) error {
	var r *refusal
	switch {
	case err == nil || !errors.As(err, &r):
		return err
	case r.code == codeClosed || r.code == codeClosedToo:
		return fmt.Errorf("%w: %w", outbox.ErrClosed, err)
	case r.code == codeUnknownMessage:
		return fmt.Errorf("%w: %w", outbox.ErrGone, err)
	case r.status >= http.StatusBadRequest && r.status < http.StatusInternalServerError && r.status != http.StatusUnauthorized:
		return fmt.Errorf("%w: %w", outbox.ErrRefused, err)
	}
	return err
}

// target is where a post belongs: back to where it was said, or to the team's
// channel, or to somebody alone.
func (s *sender) target(ctx context.Context, post bot.Post) (conversation, error) {
	at := s.origin.conversation(post.Answers)
	switch {
	case post.To == bot.ToChannel && post.Unasked == 0 && at.channel != 0 && !at.direct:
		return at, nil
	case post.To == bot.ToChannel:
		team, ok, err := s.teamChannelOf(ctx, post.Team)
		if err == nil && !ok {
			err = fmt.Errorf("%w: the team has no channel", outbox.ErrRefused)
		}
		return conversation{channel: team.channel}, err
	case at.direct && at.channel != 0 && post.Unasked == 0:
		return at, nil
	}
	id, err := s.directWith(ctx, post.Person, !post.Traceless)
	return conversation{id, true}, err
}

// say sends a post's messages and notes them.
func (s *sender) say(ctx context.Context, post bot.Post, at conversation, nonce string) (snowflake, error) {
	var ids []training.MessageID
	for i, b := range s.bodies(post) {
		b.Nonce, b.Enforce = partNonce(nonce, i), true
		if to := s.repliesTo(post, at); i == 0 && to != 0 {
			b.Reference = &replyTo{Message: to}
		}
		id, err := s.create(ctx, post.Team, at, b)
		if err != nil {
			return 0, err
		}
		ids = append(ids, training.MessageID(id))
	}
	return snowflake(ids[0]), s.note(ctx, post, at, ids)
}

// repliesTo is the message to which a post is shown as a reply: the one it answers,
// in the place where that was said. 0 for none.
func (s *sender) repliesTo(post bot.Post, at conversation) snowflake {
	if post.Unasked == 0 && post.Answers != 0 && s.origin.conversation(post.Answers).channel == at.channel {
		return snowflake(post.Answers)
	}
	return 0
}

// create makes a message; a reply becomes a message of its own where the bot may not
// read the history, for there the platform takes none.
func (s *sender) create(ctx context.Context, team training.TeamID, at conversation, b body) (snowflake, error) {
	id, err := s.api.create(ctx, at.channel, b)
	if b.Reference == nil || at.direct {
		return id, err
	}
	if err == nil {
		s.noteHistory(team, true)
	}
	if refusedFor(err, codeNoReply) {
		s.noteHistory(team, false)
		b.Reference = nil
		return s.api.create(ctx, at.channel, b)
	}
	return id, err
}

// partNonce tells the pieces of one post apart within the platform's 25
// characters.
func partNonce(nonce string, part int) string {
	if part == 0 {
		return nonce
	}
	return nonce + string(rune('a'+(part-1)%26))
}

// note writes down which messages say a post: those that answer a log, to revise and
// withdraw the answer, and those in the channel about somebody, to remove them when
// that person is erased. Of what is said to one person alone, unasked or to something
// said in public, no number is kept, which would tell when there was something to say;
// it is found again in their direct channel, and of a notice about somebody else it is
// kept who was told.
func (s *sender) note(ctx context.Context, post bot.Post, at conversation, ids []training.MessageID) error {
	erased, late := false, false
	if post.To != bot.ToChannel {
		s.memory.rememberSaid(ids, post)
	}
	err := s.write(ctx, func(tx Tx) error {
		people, err := unblocked(tx, about(post))
		if erased = len(people) < len(about(post)); erased || err != nil {
			return err
		}
		private := post.To != bot.ToChannel
		unseen := private && at.direct && !s.origin.conversation(post.Answers).direct
		switch {
		case private && (post.Unasked != 0 || unseen || post.Traceless):
			return noteTold(tx, post)
		case post.Unasked != 0:
			return noteSaid(tx, post.Team, people, at, ids)
		case post.Answers == 0 || post.Answers != s.origin.source && s.origin.conversations == nil:
			return nil
		case private && !s.origin.conversation(post.Answers).direct:
			return nil // seen by one alone, and gone by itself
		}
		log, logged, err := tx.Log(post.Answers)
		if err != nil || private && !logged {
			return err
		}
		late = logged && log.Silent // taken down while it was on its way
		return tx.PutAnswer(post.Team, post.Answers, post.Person, int64(at.channel), ids)
	})
	if err == nil && late {
		return s.withdraw(ctx, post)
	}
	if err != nil || !erased || post.Facts == nil && post.Unasked == 0 {
		return err
	}
	// somebody it is about was erased while it was on its way
	for _, id := range ids {
		if err := s.api.remove(ctx, at.channel, snowflake(id)); err != nil && !errors.Is(s.class(err), outbox.ErrRefused) {
			return err
		}
	}
	return nil
}

// unblocked leaves out those who have been erased and want to stay so.
func unblocked(tx Tx, people []training.PersonID) (left []training.PersonID, err error) {
	for _, id := range people {
		blocked, err := tx.Blocked(id)
		if err != nil {
			return nil, err
		}
		if !blocked {
			left = append(left, id)
		}
	}
	return left, nil
}

// noteTold notes of a notice about a member that its coach was told.
func noteTold(tx Tx, post bot.Post) error {
	if post.About == 0 {
		return nil
	}
	return tx.PutTold(post.Team, post.About, post.Person)
}

func noteSaid(tx Tx, team training.TeamID, people []training.PersonID, at conversation, ids []training.MessageID) error {
	for _, person := range people {
		for _, id := range ids {
			if err := tx.PutBotMessage(team, person, int64(at.channel), id); err != nil {
				return err
			}
		}
	}
	return nil
}

// about lists whom a post is about or to.
func about(post bot.Post) []training.PersonID {
	var people []training.PersonID
	for _, id := range []training.PersonID{post.Person, post.About} {
		if id != 0 {
			people = append(people, id)
		}
	}
	for _, who := range post.Mentions {
		people = append(people, who.ID)
	}
	return people
}

// answerOf are the messages that answer a source now.
func (a *Adapter) answerOf(ctx context.Context, id training.MessageID) (channel snowflake, ids []training.MessageID, err error) {
	err = a.store.View(ctx, func(tx Tx) error {
		in, found, err := tx.Answer(id)
		channel, ids = snowflake(in), found
		return err
	})
	return channel, ids, err
}

// revise changes the earlier answer into the post, piece by piece. Where that
// answer is gone, or there was none, the post is said anew.
func (s *sender) revise(ctx context.Context, post bot.Post, nonce string) (snowflake, error) {
	channel, ids, err := s.standing(ctx, post)
	if err != nil {
		return 0, err
	}
	parts := s.bodies(post)
	for i, b := range parts {
		if i >= len(ids) {
			break
		}
		err := s.api.edit(ctx, channel, snowflake(ids[i]), b)
		if refusedFor(err, codeUnknownMessage) {
			ids = ids[:i]
			break
		}
		if err != nil {
			return 0, err
		}
	}
	if len(ids) == 0 {
		at, err := s.target(ctx, post)
		if err != nil {
			return 0, err
		}
		return s.say(ctx, post, at, nonce)
	}
	for len(ids) > len(parts) {
		if err := s.api.remove(ctx, channel, snowflake(ids[len(ids)-1])); err != nil {
			return 0, err
		}
		ids = ids[:len(ids)-1]
	}
	for i := len(ids); i < len(parts); i++ {
		b := parts[i]
		b.Nonce, b.Enforce = partNonce(nonce, i), true
		id, err := s.api.create(ctx, channel, b)
		if err != nil {
			return 0, err
		}
		ids = append(ids, training.MessageID(id))
	}
	return snowflake(ids[0]), s.write(ctx, func(tx Tx) error {
		return tx.PutAnswer(post.Team, post.Answers, post.Person, int64(channel), ids)
	})
}

// withdraw removes the earlier answer.
func (s *sender) withdraw(ctx context.Context, post bot.Post) error {
	channel, ids, err := s.standing(ctx, post)
	if err != nil || len(ids) == 0 {
		return err
	}
	for _, id := range ids {
		if err := s.api.remove(ctx, channel, snowflake(id)); err != nil {
			return err
		}
	}
	return s.write(ctx, func(tx Tx) error { return tx.DropAnswer(post.Answers) })
}

// withdrawTapped removes the answer whose button was tapped. One that its reader
// alone can see can't be removed, and becomes a word.
func (s *sender) withdrawTapped(ctx context.Context) error {
	o, i := s.origin, s.origin.asked
	if i == nil || i.Message == nil {
		return nil
	}
	if i.Guild == 0 {
		return s.api.remove(ctx, i.Channel, i.Message.ID)
	}
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.state != unanswered {
		return nil
	}
	o.stop()
	_, err := s.api.respond(ctx, i, answerTouches, body{Content: words.TakenDown, Mentions: nobody, Rows: []any{}}, nil)
	if err == nil {
		o.state = answered
	}
	return ignoreOver(err)
}

// mark puts the mark on the message.
func (s *sender) mark(ctx context.Context, post bot.Post) error {
	at := s.origin.conversation(post.Answers)
	if at.channel == 0 {
		return fmt.Errorf("%w: nobody knows where the message is", outbox.ErrRefused)
	}
	return s.api.mark(ctx, at.channel, snowflake(post.Answers))
}
