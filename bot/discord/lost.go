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
	a.tellEachCoach(ctx, l.Post.Team, l.Post.Person, !l.Post.Traceless, lostText(l), func(coach training.PersonID) string {
		return closedNonce(bot.Post{Unasked: l.Post.Unasked, Person: coach})
	})
}

// tellEachCoach tells each coach of the team but one, 0 for none. One who cannot be
// told either finds it in the log.
func (a *Adapter) tellEachCoach(
	ctx context.Context, team training.TeamID, but training.PersonID, note bool, text string, nonce func(training.PersonID) string,
) {
	var coaches []training.PersonID
	err := a.store.View(ctx, func(tx Tx) error {
		roster, err := tx.Roster(team)
		for _, who := range roster {
			if who.Coach && who.ID != but {
				coaches = append(coaches, who.ID)
			}
		}
		return err
	})
	a.report("list coaches", err)
	for _, id := range coaches {
		if err := a.tellCoach(ctx, team, id, note, text, nonce(id)); err != nil {
			a.log.Warn("tell a coach what could not be said", "cause", err)
		}
	}
}

// noteHistory takes in whether the history of the team's channel may be read. Each
// time it no longer may, the coaches are told, once for each process: it is
// remembered in memory alone, for a reminder after a start does no harm where
// nothing can be caught up. When it may again, it is read at a later beat.
func (a *Adapter) noteHistory(team training.TeamID, may bool) {
	if may {
		if a.memory.forgetHistory(team) {
			a.memory.retryLater(team)
		}
		return
	}
	a.memory.mu.Lock()
	told := a.memory.noHistory[team]
	a.memory.noHistory[team] = true
	a.memory.mu.Unlock()
	if told {
		return
	}
	at := a.clock()
	a.queues.add(a.work, queueKey{housekeepingQueue, snowflake(team)}, func(ctx context.Context) {
		in, ok, err := a.teamChannelOf(ctx, team)
		if err != nil || !ok {
			a.report("tell that history may not be read", err)
			return
		}
		a.tellEachCoach(ctx, team, 0, true, words.NoHistory("<#"+in.channel.String()+">"), func(coach training.PersonID) string {
			return fmt.Sprintf("h%d-%d", at.Unix(), int64(coach)%1e9)
		})
	})
}

// tellCoach writes to one who still is a coach. note says whether a direct channel
// that it opens may be noted: not for what belongs to a pause.
func (a *Adapter) tellCoach(ctx context.Context, team training.TeamID, id training.PersonID, note bool, text, nonce string) error {
	if err := a.stillCoach(ctx, team, id); err != nil {
		return err
	}
	channel, err := a.directWith(ctx, id, note)
	if err != nil {
		return err
	}
	_, err = a.api.create(ctx, channel, body{Content: text, Mentions: nobody, Rows: []any{}, Nonce: nonce, Enforce: true})
	return err
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
