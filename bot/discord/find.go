package discord

import (
	"context"
	"fmt"
	"slices"
	"time"

	"rungbook/bot"
	"rungbook/bot/outbox"
	"rungbook/training"
)

// clockSkew is how much the platform's clock may differ from ours.
const clockSkew = 2 * time.Minute

// Find looks for a post that may have got through among what the bot has said in its
// place since the instant, and since the message it came of. The words alone never
// decide, for two people log the same and one is told the same twice; nor does the
// nonce, which the platform does not show in a history.
//
//   - A reply in the team's channel is known by its reference, whatever it says. One
//     that says something else than it should now is changed.
//   - Alone with somebody several words may reply to one message (of pain, of sets, a
//     question). There the reference must come with the same words or buttons.
//   - What carries a button that names its message is known by the button: private
//     words of pain, and a reply that had to go out without its reference.
//   - All else (private words without a button, notices, nudges, digests) must have the
//     same words and buttons, no reference, and must not be noted as another post's.
//
// Of what is said to one person alone nothing is stored, by which somebody could find
// the message that set a pause: that sign is in memory, and each that is found is noted
// there, so that of several with the same words as many are found as are there. A nudge
// pings, and is rather said once too few than twice.
func (s *sender) Find(ctx context.Context, post bot.Post, since time.Time) (training.MessageID, bool, error) {
	at, err := s.target(ctx, post)
	if err != nil {
		return 0, false, s.class(err)
	}
	sign := s.signOf(post, at)
	from := max(snowflakeAt(since.Add(-clockSkew)), snowflake(post.Answers), snowflake(post.Cause))
	sure := false
	found, err := s.search(ctx, post.Team, at, from, func(m *message) (on bool, err error) {
		if on, sure = sign.on(m); !on || sure {
			return on, nil
		}
		other, err := s.another(ctx, post, m.ID)
		return !other, err
	})
	if err != nil || found == nil {
		return 0, false, s.class(err)
	}
	if bodies := s.bodies(post); sure && len(bodies) == 1 && found.Content != sign.text {
		if err := s.api.edit(ctx, at.channel, found.ID, bodies[0]); err != nil {
			return 0, false, s.class(err)
		}
	}
	id := training.MessageID(found.ID)
	return id, true, s.note(ctx, post, at, []training.MessageID{id})
}

// search returns the first of the bot's messages in a place, from the one named on,
// for which is is true; nil for none. The error is ErrRefused where the history may
// not be read.
func (s *sender) search(
	ctx context.Context, team training.TeamID, at conversation, from snowflake, is func(*message) (bool, error),
) (*message, error) {
	history, err := s.api.historyFrom(ctx, at.channel, from-1)
	if err != nil {
		return nil, err
	}
	for i := range history {
		m := &history[i]
		if m.Author == nil || m.Author.ID != s.me() {
			continue
		}
		if ok, err := is(m); ok || err != nil {
			return m, err
		}
	}
	if at.direct || !endsEmpty(history) {
		return nil, nil
	}
	in, _, err := s.teamChannelOf(ctx, team)
	if err != nil {
		return nil, err
	}
	may, err := s.mayRead(ctx, s.api, team, in.channel)
	if err == nil && !may {
		err = fmt.Errorf("%w: the history may not be read", outbox.ErrRefused)
	}
	return nil, err
}

// sign is what the first message of a post shows, by which it is known.
type sign struct {
	reply snowflake // what it is a reply to; 0 for nothing
	alone bool      // it was said to somebody alone
	text  string
	taps  []string // its buttons; none where they stand under a later message
	names bool     // a button names the message that the post came of
}

func (s *sender) signOf(post bot.Post, at conversation) sign {
	all := s.bodies(post)
	g := sign{reply: s.repliesTo(post, at), alone: at.direct, text: all[0].Content}
	if len(all) == 1 {
		g.taps = tapIDs(post)
	}
	g.names = slices.ContainsFunc(g.taps, func(id string) bool {
		tap, ok := readTap(id)
		return ok && tap.On != 0
	})
	return g
}

// on reports whether a message of the bot's has the sign, and whether no other post
// has it too.
func (g sign) on(m *message) (on, sure bool) {
	taps := m.customIDs()
	shared := slices.ContainsFunc(taps, func(id string) bool { return slices.Contains(g.taps, id) })
	switch {
	case m.Reference != nil:
		return m.Reference.Message == g.reply && (!g.alone || shared || m.Content == g.text), true
	case g.names:
		return shared, true
	}
	return m.Content == g.text && slices.Equal(taps, g.taps), false
}

// another reports whether a message is noted as said by another post: as the answer to
// another message, or as something unasked where the post is an answer.
func (s *sender) another(ctx context.Context, post bot.Post, id snowflake) (other bool, err error) {
	if s.memory.saidForAnother(training.MessageID(id), post) {
		return true, nil
	}
	err = s.store.View(ctx, func(tx Tx) error {
		source, noted, err := tx.Noted(training.MessageID(id))
		if other = noted && post.Unasked == 0; source != 0 {
			other = source != post.Answers
		}
		return err
	})
	return other, err
}

// standing are the messages that answer what a post revises or withdraws: those that
// are noted, or where it is unsure whether one got through, the one that did.
func (s *sender) standing(ctx context.Context, post bot.Post) (channel snowflake, ids []training.MessageID, err error) {
	channel, ids, err = s.answerOf(ctx, post.Answers)
	if err != nil || len(ids) > 0 || !s.unsure {
		return channel, ids, err
	}
	at, err := s.saidIn(ctx, post.Answers)
	if err != nil || at.channel == 0 {
		return 0, nil, err
	}
	found, err := s.search(ctx, post.Team, at, snowflake(post.Answers), func(m *message) (bool, error) {
		refers := m.Reference != nil && m.Reference.Message == snowflake(post.Answers)
		return refers && !at.direct || m.answersLog(post.Answers), nil
	})
	if err != nil || found == nil {
		return 0, nil, err
	}
	return at.channel, []training.MessageID{training.MessageID(found.ID)}, nil
}

// saidIn is where a message was said that gave a log, or else was met just now.
func (s *sender) saidIn(ctx context.Context, id training.MessageID) (at conversation, err error) {
	err = s.store.View(ctx, func(tx Tx) error {
		log, ok, err := tx.Log(id)
		at = conversation{snowflake(log.Channel), log.Alone}
		if !ok {
			at = s.origin.conversation(id)
		}
		return err
	})
	return at, err
}

// answersLog reports whether a message of the bot's has a button of the answer to a
// log, which names the message; words of pain have others.
func (m *message) answersLog(id training.MessageID) bool {
	return slices.ContainsFunc(m.customIDs(), func(one string) bool {
		tap, ok := readTap(one)
		return ok && tap.On == id && !slices.Contains([]bot.Button{bot.TapMisread, bot.TapHurts, bot.TapFine}, tap.Button)
	})
}

// adopt notes the answer to a message that got through and was not noted, if there is
// one, so that it can be revised and withdrawn.
func (s *sender) adopt(ctx context.Context, post bot.Post) error {
	if !s.unsure {
		return nil
	}
	channel, ids, err := s.standing(ctx, post)
	if err != nil || len(ids) == 0 {
		return err
	}
	return s.store.Update(ctx, func(tx Tx) error {
		return tx.PutAnswer(post.Team, post.Answers, post.Person, int64(channel), ids)
	})
}
