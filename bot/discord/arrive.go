package discord

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	"rungbook/bot"
	"rungbook/training"
)

// arriveWithin is how long a server may take to be shown after READY before its
// team's channels are read without knowing what is new there.
const arriveWithin = 20 * time.Second

// newestMessages are those of a server's channels and threads, by channel, as the
// platform shows the server; 0 where nothing was ever said.
type newestMessages map[snowflake]snowflake

// newestOf are those of the team's channel and of the threads under it.
func newestOf(g guild, at teamChannel) newestMessages {
	newest := newestMessages{}
	for _, c := range append(g.Channels, g.Threads...) {
		if c.ID == at.channel || c.Parent == at.channel {
			newest[c.ID] = c.Last
		}
	}
	return newest
}

// ready begins a connection: each server is expected to be shown, and what was
// left unsent is sent.
func (a *Adapter) ready(guilds []guild) {
	a.memory.mu.Lock()
	clear(a.memory.teamChannels)
	clear(a.memory.threads)
	clear(a.memory.caughtUp)
	clear(a.memory.coachesAsked)
	clear(a.memory.directs)
	a.memory.mu.Unlock()
	for _, g := range guilds {
		a.reads.expect(training.TeamID(g.ID), a.clock())
	}
	a.deleteErasedPosts()
	a.health.connected(true)
	a.resume(a.clock())
}

// arrive meets a server as the platform shows it. What was said and not read is
// read before anything else of the team is met. Where at most what was said before
// may have changed, it is read after all that others wait for. Where nothing can
// have changed nothing is read.
func (a *Adapter) arrive(ctx context.Context, g guild) error {
	team := training.TeamID(g.ID)
	newest, fresh, old, err := a.compareNewest(ctx, team, g)
	switch {
	case fresh:
		a.catchUp(ctx, team, newest)
	case old || err != nil:
		a.lookBackAt(team, newest)
	default:
		a.reads.dismiss(team)
	}
	return err
}

// compareNewest tells what a server shows against what was read there.
func (a *Adapter) compareNewest(ctx context.Context, team training.TeamID, g guild) (newest newestMessages, fresh, old bool, err error) {
	at, ok, err := a.teamChannelOf(ctx, team)
	if err != nil || !ok {
		return nil, false, false, err
	}
	newest = newestOf(g, at)
	if err := a.watchAll(ctx, team, at, newest); err != nil {
		return nil, false, false, err
	}
	fresh, old, err = a.unread(ctx, team, newest)
	return newest, fresh, old, err
}

// watchAll has threads read that were opened meanwhile.
func (a *Adapter) watchAll(ctx context.Context, team training.TeamID, at teamChannel, newest newestMessages) error {
	var unknown []snowflake
	err := a.store.View(ctx, func(tx Tx) error {
		for id := range newest {
			if _, _, known, err := tx.Seen(int64(id)); err != nil {
				return err
			} else if !known {
				unknown = append(unknown, id)
			}
		}
		return nil
	})
	if err != nil || len(unknown) == 0 {
		return err
	}
	return a.store.Update(ctx, func(tx Tx) error {
		for _, id := range unknown {
			if err := watchThread(tx, team, at, id); err != nil {
				return err
			}
		}
		return nil
	})
}

// unread reports whether the team has news: something said in its channels that
// was not read, or that is still to be answered; and else whether anything said
// before can have changed there within the look-back. Channels without news are
// caught up.
func (a *Adapter) unread(ctx context.Context, team training.TeamID, newest newestMessages) (fresh, old bool, err error) {
	cutoff := snowflakeAt(a.clock().Add(-lookBack))
	var caughtUp []snowflake
	err = a.store.View(ctx, func(tx Tx) error {
		watched, err := tx.Watched(team)
		if err != nil {
			return err
		}
		for _, id := range watched {
			_, seen, _, err := tx.Seen(id)
			if err != nil {
				return err
			}
			said, shown := newest[snowflake(id)]
			fresh = fresh || said > snowflake(seen)
			old = old || !shown || said >= cutoff
			if shown && said <= snowflake(seen) {
				caughtUp = append(caughtUp, snowflake(id))
			}
		}
		unanswered, err := tx.HasUnanswered(team)
		if err != nil {
			return err
		}
		alone, err := tx.Directs(team)
		fresh, old = fresh || unanswered, old || len(alone) > 0
		return err
	})
	a.memory.noteCaughtUp(caughtUp...)
	return fresh, old, err
}

// lookBackAt has a team's channels read when nobody waits for anything more
// urgent, and what has changed there taken in in the order of the team's events.
func (a *Adapter) lookBackAt(team training.TeamID, newest newestMessages) {
	one := a.reads.take(team, oldMessages, newest)
	if one == nil {
		return // that is about to be done
	}
	a.queues.add(a.reading, queueKey{readQueue, snowflake(team)}, func(ctx context.Context) {
		read, err := a.readAll(ctx, team, one)
		a.queues.add(a.work, queueKey{intakeQueue, snowflake(team)}, func(ctx context.Context) {
			defer a.reads.end(one)
			a.behind(team, errors.Join(err, a.takeIn(ctx, team, read)))
		})
	})
}

// catchUp reads a team's channels at once and takes in what is new.
func (a *Adapter) catchUp(ctx context.Context, team training.TeamID, newest newestMessages) {
	one := a.reads.take(team, newMessages, newest)
	defer a.reads.end(one)
	read, err := a.readAll(a.reading, team, one)
	a.behind(team, errors.Join(err, a.takeIn(ctx, team, read)))
}

// behind notes that a team's channels could not be read: they are read again at
// a later beat.
func (a *Adapter) behind(team training.TeamID, err error) {
	if err != nil {
		a.memory.retryLater(team)
		a.report("catch up", err)
	}
}

// overdue has those teams read whose servers were not shown in time.
func (a *Adapter) overdue() {
	if !a.health.up() {
		return
	}
	for _, team := range a.reads.overdue(a.clock().Add(-arriveWithin)) {
		a.lookBackAt(team, nil)
	}
}

// readAll reads the team's channels when it may. One that cannot be read holds up
// no other.
func (a *Adapter) readAll(ctx context.Context, team training.TeamID, one *teamRead) ([]channelHistory, error) {
	defer a.reads.done(one)
	newest, err := a.reads.begin(ctx, one)
	if err != nil {
		return nil, err
	}
	at, ok, err := a.teamChannelOf(ctx, team)
	if err != nil || !ok {
		return nil, err
	}
	conversations, err := a.toRead(ctx, a.apiFor(one), team, at, newest)
	if err != nil {
		return nil, err
	}
	mayRead := sync.OnceValues(func() (bool, error) { return a.mayRead(ctx, a.apiFor(one), team, at.channel) })
	var all []channelHistory
	var errs []error
	for _, read := range conversations {
		got, err := a.readChannel(ctx, a.apiFor(one), team, read, mayRead)
		errs = append(errs, err)
		if got != nil && err == nil {
			all = append(all, *got)
		}
	}
	return all, errors.Join(errs...)
}

// apiFor is the API for the next request of a read, which somebody may have begun
// to wait for meanwhile.
func (a *Adapter) apiFor(one *teamRead) *api {
	if a.reads.background(one) {
		return a.api.background()
	}
	return a.api
}

// takeIn takes in what was read, in order, and notes how far that came.
func (a *Adapter) takeIn(ctx context.Context, team training.TeamID, all []channelHistory) error {
	if len(all) == 0 {
		return nil
	}
	now := a.clock()
	var found []happening
	o := &origin{conversations: map[training.MessageID]conversation{}}
	for _, read := range all {
		stored, err := a.storedOf(ctx, team, read)
		if err != nil {
			return fmt.Errorf("compare what was read: %w", err)
		}
		here := a.compare(ctx, team, read, stored, now)
		for _, one := range here {
			o.conversations[eventID(one.event)] = read.conversation
		}
		found = append(found, here...)
	}
	if events := inOrder(found); len(events) > 0 {
		a.step(ctx, team, bot.CatchUp{Team: team, Events: events, At: now}, o)
	}
	err := a.store.Update(ctx, func(tx Tx) error {
		for _, read := range all {
			if err := tx.PutSeen(int64(read.channel), training.MessageID(read.last)); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	for _, read := range all {
		a.memory.noteCaughtUp(read.channel)
		if read.direct {
			a.memory.noteDirectCaughtUp(read.channel)
		}
	}
	return nil
}
