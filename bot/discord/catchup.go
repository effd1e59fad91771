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

// toRead lists the team's channel with its threads, and the places where
// somebody of this team alone talks to the bot; but for those of which it is
// known that nothing was said there within the look-back, nor anything new.
func (a *Adapter) toRead(ctx context.Context, api *api, team training.TeamID, at place, newest last) ([]spot, error) {
	if newest == nil {
		open, err := api.threads(ctx, flake(team), at.channel)
		if err != nil && !errors.Is(a.class(err), outbox.ErrRefused) { // refused where the bot is no longer in the server
			return nil, fmt.Errorf("list threads: %w", err)
		}
		unknown := last{}
		for _, id := range open {
			unknown[id] = 0
		}
		if err := a.watchAll(ctx, team, at, unknown); err != nil {
			return nil, err
		}
	}
	cutoff := flakeAt(a.clock().Add(-lookBack))
	var spots []spot
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
			if said, shown := newest[flake(id)]; !shown || said > flake(seen) || said >= cutoff {
				spots = append(spots, spot{flake(id), false})
			}
		}
		alone, err := tx.Directs(team)
		for _, id := range alone {
			spots = append(spots, spot{flake(id), true})
		}
		return err
	})
	return spots, err
}

// watchThread has a thread read from its beginning, but not from before its
// team was settled.
func watchThread(tx Tx, team training.TeamID, at place, thread flake) error {
	since, _, _, err := tx.Seen(int64(at.channel))
	if err != nil {
		return err
	}
	return tx.Watch(team, int64(thread), max(since, training.MessageID(thread)-1))
}

// reading is what a place held when it was read.
type reading struct {
	spot
	from    flake          // after which it was read
	last    flake          // the newest message read, now or before
	before  []training.Log // what its messages had given before it was read
	history []message      // oldest first
}

// read reads one place: from where it was last read, or the look-back if that
// is further. It returns nil for a place that is gone or cannot be read.
func (a *Adapter) read(ctx context.Context, api *api, team training.TeamID, at spot) (*reading, error) {
	got := &reading{spot: at}
	err := a.store.View(ctx, func(tx Tx) error {
		since, seen, _, err := tx.Seen(int64(at.place))
		if err != nil {
			return err
		}
		got.from, got.last = flakeAt(a.clock().Add(-lookBack)), flake(seen)
		if seen != 0 {
			got.from = min(got.from, got.last)
		}
		got.from = max(got.from, flake(since))
		got.before, err = tx.ChannelLogs(training.ChannelID(at.place), training.MessageID(got.from)+1)
		return err
	})
	if err != nil {
		return nil, err
	}
	got.history, err = api.historyFrom(ctx, at.place, got.from)
	switch {
	case refusedFor(err, codeUnknownChannel):
		return nil, a.store.Update(ctx, func(tx Tx) error { return tx.Unwatch(int64(at.place)) })
	case errors.Is(a.class(err), outbox.ErrRefused):
		a.log.Warn("a place cannot be read", "team", int64(team), "place", int64(at.place), "cause", err)
		return nil, nil
	case err != nil:
		return nil, fmt.Errorf("read a place: %w", err)
	}
	if n := len(got.history); n > 0 {
		got.last = max(got.last, got.history[n-1].ID)
	}
	return got, nil
}

// known is what stands in the store about the messages of a place.
type known struct {
	logs map[flake]knownLog
	owed map[flake]bool // what they were answered is not out
}

func (a *Adapter) known(ctx context.Context, team training.TeamID, read reading) (known, error) {
	all := known{logs: map[flake]knownLog{}}
	var ids []flake
	err := a.store.View(ctx, func(tx Tx) error {
		logs, err := tx.ChannelLogs(training.ChannelID(read.place), training.MessageID(read.from)+1)
		if err != nil {
			return err
		}
		for _, log := range logs {
			_, answers, err := tx.Answer(log.ID)
			if err != nil {
				return err
			}
			if log.Team == team && log.Author != 0 {
				id := flake(log.ID)
				all.logs[id], ids = knownLog{log, len(answers) > 0}, append(ids, id)
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
	all.owed, err = a.owedOf(ctx, team, ids)
	return all, err
}

// knownLog is what a message gave, as it was taken in.
type knownLog struct {
	training.Log
	answered bool // an answer to it stands
}

// compare tells messages, edits and deletions from what is known and what is
// there. A message that gave nothing is told again: it gives nothing again,
// unless its event was lost; one whose answer was lost is told as such.
func (a *Adapter) compare(ctx context.Context, team training.TeamID, read reading, known known, now time.Time) []happening {
	where := bot.Channel
	if read.direct {
		where = bot.Private
	}
	var found []happening
	there := map[flake]bool{}
	for _, m := range read.history {
		there[m.ID] = true
		if !m.typed(a.me()) {
			continue
		}
		if read.direct && !a.aloneIn(ctx, m, team, now) {
			if m.again = known.owed[m.ID]; m.again || !read.replied(m.ID, a.me()) {
				a.missedAlone(ctx, team, m, now)
			}
			continue
		}
		taken, gave := known.logs[m.ID]
		said := a.message(m, team, where, m.author(0))
		said.Redelivered = known.owed[m.ID]
		switch {
		case gave && m.edited().After(taken.Edited):
			a.memory.meet(read.place, m.ID, changed)
			found = append(found, happening{m.edited(), bot.Edit{Message: said}})
		case said.Redelivered && taken.answered: // what stands there is not what was said last
			a.memory.meet(read.place, m.ID, changed)
			said.Edited = later(said.At, said.Edited)
			found = append(found, happening{said.At, bot.Edit{Message: said}})
		case !gave && a.memory.meet(read.place, m.ID, created), said.Redelivered:
			found = append(found, happening{said.At, said})
		}
	}
	for _, before := range read.before {
		id, again := flake(before.ID), known.owed[flake(before.ID)]
		gave, still := known.logs[id]
		if still && !there[id] && (a.memory.meet(read.place, id, deleted) || again) {
			found = append(found, happening{now, bot.Delete{
				ID: training.MessageID(id), Team: team, Author: bot.Author{ID: gave.Author}, Place: where, At: now, Redelivered: again,
			}})
		}
	}
	slices.SortStableFunc(found, func(x, y happening) int { return cmp.Compare(eventID(x.event), eventID(y.event)) })
	return found
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
