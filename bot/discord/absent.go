package discord

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"rungbook/bot/outbox"
	"rungbook/bot/words"
	"rungbook/training"
)

// A log is removed for good once its message is taken for deleted, so that a history
// is not believed in what it does not show. Where it lacks a message that gave a log,
// or ends in an empty page, the platform is asked first whether the bot may read it
// at all, and then for each message by its number.

// mostAsked bounds how many messages of a channel are asked for by number in one
// read. The others are asked for in the next, at a later beat.
const mostAsked = 100

// doubt looks into a history that was read. It reports whether it can be believed;
// then all that is absent is there or gone after all, or was not asked for yet.
// mayRead reports whether the bot may read the team's channels.
func (a *Adapter) doubt(ctx context.Context, team training.TeamID, got *channelHistory, mayRead func() (bool, error)) (bool, error) {
	absent := got.absent(team)
	if !got.direct && (len(absent) > 0 || endsEmpty(got.history)) {
		if may, err := mayRead(); err != nil || !may {
			return false, err
		}
	}
	if len(absent) > mostAsked {
		absent = absent[:mostAsked]
		a.memory.retryLater(team)
	}
	for _, id := range absent {
		m, gone, err := a.ask(ctx, got.channel, id)
		switch {
		case errors.Is(a.class(err), outbox.ErrRefused):
			return false, nil
		case err != nil:
			return false, err
		case gone:
			got.gone[id] = true
		default:
			got.history = append(got.history, m)
		}
	}
	slices.SortFunc(got.history, func(x, y message) int { return cmp.Compare(x.ID, y.ID) })
	return true, nil
}

// absent are the messages that gave the team a log and that the history does not
// show, the oldest first.
func (r *channelHistory) absent(team training.TeamID) (ids []snowflake) {
	shown := map[snowflake]bool{}
	for _, m := range r.history {
		shown[m.ID] = true
	}
	for _, log := range r.before {
		if id := snowflake(log.ID); log.Team == team && log.Author != 0 && !shown[id] {
			ids = append(ids, id)
		}
	}
	return ids
}

// ask asks for one message, at the pace of what nobody waits for, with patience.
func (a *Adapter) ask(ctx context.Context, channel, id snowflake) (m message, gone bool, err error) {
	err = patiently(ctx, func() (err error) {
		m, err = a.api.background().message(ctx, channel, id)
		return err
	})
	if refusedFor(err, codeUnknownMessage) {
		return m, true, nil
	}
	return m, false, err
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
		a.tellEachCoach(ctx, team, 0, words.NoHistory("<#"+in.channel.String()+">"), func(coach training.PersonID) string {
			return fmt.Sprintf("h%d-%d", at.Unix(), int64(coach)%1e9)
		})
	})
}

// forgetHistory forgets that a team's history may not be read, and reports whether
// that was known.
func (m *memory) forgetHistory(team training.TeamID) bool {
	m.mu.Lock()
	defer m.mu.Unlock()
	known := m.noHistory[team]
	delete(m.noHistory, team)
	return known
}
