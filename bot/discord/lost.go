package discord

import (
	"context"
	"errors"
	"fmt"
	"time"

	"rungbook/bot"
	"rungbook/bot/outbox"
	"rungbook/bot/words"
	"rungbook/training"
)

// toldEvery is how seldom somebody is told in the channel that they cannot be
// reached.
const toldEvery = 20 * time.Hour

// Lost is told of posts that will never be sent. Coaches hear of one that was
// stored and may not be sent, or may not have arrived. Somebody whose direct
// messages are closed is told so in the team's channel, in words that say nothing
// of what it was about.
func (s *sender) Lost(ctx context.Context, l outbox.Lost) error {
	s.log.Warn("a post will not be sent", "kind", string(l.Post.Kind), "why", string(l.Why), "team", int64(l.Post.Team))
	switch l.Why {
	case outbox.Refused, outbox.Unreadable:
		if l.Post.Unasked != 0 && !errors.Is(l.Cause, errNoCoach) {
			s.tellCoaches(ctx, l)
		}
	case outbox.Closed:
		return s.sayClosed(ctx, l)
	}
	return nil
}

// tellCoaches tells each coach but the one it was for that something could not
// be said.
func (a *Adapter) tellCoaches(ctx context.Context, l outbox.Lost) {
	a.tellEachCoach(ctx, l.Post.Team, l.Post.Person, lostText(l), func(coach training.PersonID) string {
		return closedNonce(bot.Post{Unasked: l.Post.Unasked, Person: coach})
	})
}

// lostText says what could not be said and why, but not what it was about.
func lostText(l outbox.Lost) string {
	if l.Why == outbox.Unreadable {
		return words.Unheard(string(l.Post.Kind), l.Post.Name)
	}
	return words.Unsent(string(l.Post.Kind), l.Post.Name)
}

// sayClosed tells somebody in the channel that they cannot be written to.
func (a *Adapter) sayClosed(ctx context.Context, l outbox.Lost) error {
	team, ok, err := a.teamChannelOf(ctx, l.Post.Team)
	if err != nil || !ok {
		return err
	}
	a.memory.mu.Lock()
	last, told := a.memory.toldClosed[snowflake(l.Post.Person)]
	a.memory.mu.Unlock()
	if told && l.At.Sub(last) < toldEvery {
		return nil
	}
	_, err = a.api.create(ctx, team.channel, body{
		Content: "<@" + snowflake(l.Post.Person).String() + ">: " + words.CannotWrite, Mentions: nobody, Rows: []any{},
		Nonce: closedNonce(l.Post), Enforce: true,
	})
	if err != nil && !errors.Is(a.class(err), outbox.ErrRefused) && !refusedFor(err, codeUnknownMessage) {
		return err
	}
	a.memory.mu.Lock()
	defer a.memory.mu.Unlock()
	a.memory.toldClosed[snowflake(l.Post.Person)] = l.At
	return nil
}

// closedNonce is the same for the same person and cause.
func closedNonce(post bot.Post) string {
	return fmt.Sprintf("c%d-%d", post.Unasked, int64(post.Person)%1e9)
}
