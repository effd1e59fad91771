package discord

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"rungbook/bot"
	"rungbook/bot/outbox"
	"rungbook/training"
)

// lookBack is how far back messages are read again for edits and deletions,
// which history does not show as such.
const lookBack = 48 * time.Hour

// happening is something that happened while the bot was away.
type happening struct {
	at    time.Time
	event bot.Event
}

// inOrder are the events of happenings, the earliest first.
func inOrder(all []happening) []bot.Event {
	slices.SortStableFunc(all, func(x, y happening) int { return x.at.Compare(y.at) })
	events := make([]bot.Event, 0, len(all))
	for _, one := range all {
		events = append(events, one.event)
	}
	return events
}

// toRead lists what is to be read of a team: its channel and the threads under
// it, and where somebody who is in no other team talks to the bot alone. It leaves
// out those in which, as is known, nothing was said within the look-back, nor
// anything that was not read.
func (a *Adapter) toRead(
	ctx context.Context, api *api, team training.TeamID, at teamChannel, newest newestMessages,
) ([]conversation, error) {
	if newest == nil {
		open, err := api.threads(ctx, snowflake(team), at.channel)
		if err != nil && !errors.Is(a.class(err), outbox.ErrRefused) { // refused where the bot is no longer in the server
			return nil, fmt.Errorf("list threads: %w", err)
		}
		unknown := newestMessages{}
		for _, id := range open {
			unknown[id] = 0
		}
		if err := a.watchAll(ctx, team, at, unknown); err != nil {
			return nil, err
		}
	}
	cutoff := snowflakeAt(a.clock().Add(-lookBack))
	var conversations []conversation
	err := a.store.View(ctx, func(tx Tx) error {
		watched, err := tx.Watched(team)
		if err != nil {
			return err
		}
		for _, id := range watched {
			_, seen, _, err := tx.Seen(id)
			if err != nil {
				return err
			}
			if said, shown := newest[snowflake(id)]; !shown || said > snowflake(seen) || said >= cutoff {
				conversations = append(conversations, conversation{snowflake(id), false})
			}
		}
		alone, err := tx.Directs(team)
		for _, id := range alone {
			conversations = append(conversations, conversation{snowflake(id), true})
		}
		return err
	})
	return conversations, err
}

// watchThread has a thread read from its beginning, but not from before its
// team was settled.
func watchThread(tx Tx, team training.TeamID, at teamChannel, thread snowflake) error {
	since, _, _, err := tx.Seen(int64(at.channel))
	if err != nil {
		return err
	}
	return tx.Watch(team, int64(thread), max(since, training.MessageID(thread)-1))
}

// channelHistory is what a channel held when it was read.
type channelHistory struct {
	conversation
	from    snowflake      // after which it was read
	last    snowflake      // the newest message read, now or before; in a direct channel the day's beginning
	before  []training.Log // what its messages had given before it was read
	history []message      // oldest first

	gone map[snowflake]bool // of those before, the messages that are deleted
}

// readChannel reads one channel: from where it was read last, or the look-back if
// that is further. It returns nil for a channel that is gone or may not be read,
// which mayRead reports of all but the direct ones.
func (a *Adapter) readChannel(
	ctx context.Context, api *api, team training.TeamID, at conversation, mayRead func() (bool, error),
) (*channelHistory, error) {
	got := &channelHistory{conversation: at, gone: map[snowflake]bool{}}
	err := a.store.View(ctx, func(tx Tx) error {
		since, seen, _, err := tx.Seen(int64(at.channel))
		if err != nil {
			return err
		}
		got.from, got.last = snowflakeAt(a.clock().Add(-lookBack)), snowflake(seen)
		if seen != 0 {
			got.from = min(got.from, got.last)
		}
		got.from = max(got.from, snowflake(since))
		if at.direct {
			got.last = snowflakeAt(beginning(a.clock()))
		}
		got.before, err = tx.ChannelLogs(training.ChannelID(at.channel), training.MessageID(got.from)+1)
		return err
	})
	if err != nil {
		return nil, err
	}
	got.history, err = api.historyFrom(ctx, at.channel, got.from)
	switch {
	case refusedFor(err, codeUnknownChannel):
		return nil, a.store.Update(ctx, func(tx Tx) error { return tx.Unwatch(int64(at.channel)) })
	case errors.Is(a.class(err), outbox.ErrRefused):
		a.log.Warn("a channel cannot be read", "team", int64(team), "channel", int64(at.channel), "cause", err)
		return nil, nil
	case err != nil:
		return nil, fmt.Errorf("read a channel: %w", err)
	}
	if n := len(got.history); n > 0 && !at.direct {
		got.last = max(got.last, got.history[n-1].ID)
	}
	believed, err := a.doubt(ctx, team, got, mayRead)
	if err != nil {
		return nil, fmt.Errorf("read a channel: %w", err)
	}
	if !believed {
		a.log.Warn("a channel's history may not be read", "team", int64(team), "channel", int64(at.channel))
		return nil, nil
	}
	return got, nil
}

// storedMessages is what stands in the store about the messages of a channel.
type storedMessages struct {
	logs       map[snowflake]storedLog
	unanswered map[snowflake]bool // their answers are not out
}

// storedOf looks up what a channel's messages have given to the team so far.
func (a *Adapter) storedOf(ctx context.Context, team training.TeamID, read channelHistory) (storedMessages, error) {
	all := storedMessages{logs: map[snowflake]storedLog{}}
	var ids []snowflake
	err := a.store.View(ctx, func(tx Tx) error {
		logs, err := tx.ChannelLogs(training.ChannelID(read.channel), training.MessageID(read.from)+1)
		if err != nil {
			return err
		}
		for _, log := range logs {
			_, answers, err := tx.Answer(log.ID)
			if err != nil {
				return err
			}
			if log.Team == team && log.Author != 0 {
				id := snowflake(log.ID)
				all.logs[id], ids = storedLog{log, len(answers) > 0}, append(ids, id)
			}
		}
		return nil
	})
	if err != nil {
		return all, err
	}
	for _, m := range read.history {
		ids = append(ids, m.ID)
	}
	all.unanswered, err = a.unansweredOf(ctx, team, ids)
	return all, err
}

// storedLog is the log that a message gave, as it was taken in.
type storedLog struct {
	training.Log
	answered bool // an answer to it stands
}

// compare finds what happened in a channel that was not taken in: messages, edits
// and deletions, by what is stored and what is there. A message without a log is
// among them, since its event may have been lost; if it was not, it gives nothing
// again. A message whose answer is not out is told as redelivered.
func (a *Adapter) compare(
	ctx context.Context, team training.TeamID, read channelHistory, stored storedMessages, now time.Time,
) []happening {
	where := bot.Channel
	if read.direct {
		where = bot.Private
	}
	var found []happening
	for _, m := range read.history {
		if !m.typed(a.me()) {
			continue
		}
		if read.direct && !a.aloneIn(ctx, m, team, now) {
			if m.redelivered = stored.unanswered[m.ID]; m.redelivered || !read.replied(m.ID, a.me()) {
				a.missedAlone(ctx, team, m, now)
			}
			continue
		}
		said := a.message(m, team, where, m.author(0))
		said.Redelivered = stored.unanswered[m.ID]
		if one, ok := a.compareMessage(read, m, said, stored); ok {
			found = append(found, one)
		}
	}
	for _, before := range read.before {
		id, again := snowflake(before.ID), stored.unanswered[snowflake(before.ID)]
		gave, still := stored.logs[id]
		if still && read.gone[id] && (a.memory.meet(read.channel, id, deleted) || again) {
			found = append(found, happening{now, bot.Delete{
				ID: training.MessageID(id), Team: team, Author: bot.Author{ID: gave.Author}, Place: where, At: now, Redelivered: again,
			}})
		}
	}
	slices.SortStableFunc(found, func(x, y happening) int { return cmp.Compare(eventID(x.event), eventID(y.event)) })
	return found
}

// compareMessage finds what has happened to a message that stands in its channel: it
// is new, it was edited, or it is to be met again; ok is false for none of these.
func (a *Adapter) compareMessage(read channelHistory, m message, said bot.Message, stored storedMessages) (one happening, ok bool) {
	taken, gave := stored.logs[m.ID]
	switch {
	case gave && m.edited().After(taken.Edited):
		a.memory.meet(read.channel, m.ID, changed)
		return happening{m.edited(), bot.Edit{Message: said}}, true
	case said.Redelivered && taken.answered: // the answer that stands there is not the latest
		a.memory.meet(read.channel, m.ID, changed)
		said.Edited = later(said.At, said.Edited)
		return happening{said.At, bot.Edit{Message: said}}, true
	case !gave && a.memory.meet(read.channel, m.ID, created), said.Redelivered:
		return happening{said.At, said}, true
	}
	return happening{}, false
}

func later(x, y time.Time) time.Time {
	if y.After(x) {
		return y
	}
	return x
}

func eventID(event bot.Event) training.MessageID {
	switch e := event.(type) {
	case bot.Message:
		return e.ID
	case bot.Edit:
		return e.ID
	case bot.Delete:
		return e.ID
	}
	return 0
}

// aloneIn reports whether what somebody said to the bot alone is this team's.
func (a *Adapter) aloneIn(ctx context.Context, m message, team training.TeamID, now time.Time) bool {
	mine, ok, err := a.teamOf(ctx, training.PersonID(m.Author.ID), now)
	a.report("ask whose a direct message is", err)
	return ok && mine == team
}
