package discord

import (
	"context"
	"errors"
	"fmt"
	"time"

	"rungbook/bot"
	"rungbook/training"
)

// arriveWithin is how long a server may take to be shown after READY before its
// team's places are read without knowing what is new there.
const arriveWithin = 20 * time.Second

// last is the newest message of each place, as the platform shows a server.
type last map[flake]flake

// lastOf are those of the team's channel and of the threads under it.
func lastOf(g guild, at place) last {
	newest := last{}
	for _, c := range append(g.Channels, g.Threads...) {
		if c.ID == at.channel || c.Parent == at.channel {
			newest[c.ID] = c.Last
		}
	}
	return newest
}

// ready has every server awaited, and sends what was left unsent.
func (a *Adapter) ready(guilds []guild) {
	a.memory.mu.Lock()
	clear(a.memory.places)
	clear(a.memory.threads)
	clear(a.memory.level)
	a.memory.mu.Unlock()
	for _, g := range guilds {
		a.reads.expect(training.TeamID(g.ID), a.clock())
	}
	a.house()
	a.health.connected(true)
	a.resume(a.clock())
}

// arrive meets a server as the platform shows it. Where something was said that
// was not read, that is read before anything else of the team is met; where at
// most what was said before may have changed, behind all that others wait for;
// where not even that, not at all.
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
func (a *Adapter) compareNewest(ctx context.Context, team training.TeamID, g guild) (newest last, fresh, old bool, err error) {
	at, ok, err := a.placeOf(ctx, team)
	if err != nil || !ok {
		return nil, false, false, err
	}
	newest = lastOf(g, at)
	if err := a.watchAll(ctx, team, at, newest); err != nil {
		return nil, false, false, err
	}
	fresh, old, err = a.unread(ctx, team, newest)
	return newest, fresh, old, err
}

// watchAll has threads read that were opened meanwhile.
func (a *Adapter) watchAll(ctx context.Context, team training.TeamID, at place, newest last) error {
	var unknown []flake
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

// unread tells whether something was said in the team's places that was not
// read, or is still to be answered, and else whether anything can have changed
// there within the look-back. Where neither, they are level.
func (a *Adapter) unread(ctx context.Context, team training.TeamID, newest last) (fresh, old bool, err error) {
	cutoff := flakeAt(a.clock().Add(-lookBack))
	var level []flake
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
			said, shown := newest[flake(id)]
			fresh = fresh || said > flake(seen)
			old = old || !shown || said >= cutoff
			if shown && said <= flake(seen) {
				level = append(level, flake(id))
			}
		}
		owing, err := tx.HasUnanswered(team)
		if err != nil {
			return err
		}
		alone, err := tx.Directs(team)
		fresh, old = fresh || owing, old || len(alone) > 0
		return err
	})
	a.memory.levelled(level...)
	return fresh, old, err
}

// lookBackAt has a team's places read when nobody waits for anything more
// urgent, and what has changed there taken in in the team's order.
func (a *Adapter) lookBackAt(team training.TeamID, newest last) {
	one := a.reads.take(team, oldMessages, newest)
	if one == nil {
		return // that is about to be done
	}
	a.lines.add(a.reading, lineKey{readLine, flake(team)}, func(ctx context.Context) {
		read, err := a.readAll(ctx, team, one)
		a.lines.add(a.work, lineKey{intakeLine, flake(team)}, func(ctx context.Context) {
			defer a.reads.end(one)
			a.behind(team, errors.Join(err, a.takeIn(ctx, team, read)))
		})
	})
}

// catchUp reads a team's places at once and takes in what is new.
func (a *Adapter) catchUp(ctx context.Context, team training.TeamID, newest last) {
	one := a.reads.take(team, newMessages, newest)
	defer a.reads.end(one)
	read, err := a.readAll(a.reading, team, one)
	a.behind(team, errors.Join(err, a.takeIn(ctx, team, read)))
}

// behind notes that a team's places could not be read: they are again at a
// later beat.
func (a *Adapter) behind(team training.TeamID, err error) {
	if err != nil {
		a.memory.owe(team)
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

// readAll reads the team's places when it may. One that cannot be read
// holds up no other.
func (a *Adapter) readAll(ctx context.Context, team training.TeamID, one *teamRead) ([]reading, error) {
	defer a.reads.done(one)
	newest, err := a.reads.begin(ctx, one)
	if err != nil {
		return nil, err
	}
	at, ok, err := a.placeOf(ctx, team)
	if err != nil || !ok {
		return nil, err
	}
	spots, err := a.toRead(ctx, a.apiFor(one), team, at, newest)
	if err != nil {
		return nil, err
	}
	var all []reading
	var errs []error
	for _, read := range spots {
		got, err := a.read(ctx, a.apiFor(one), team, read)
		errs = append(errs, err)
		if got != nil && err == nil {
			all = append(all, *got)
		}
	}
	return all, errors.Join(errs...)
}

// apiFor is the API for the next request of a read: nobody waits for one until
// somebody does.
func (a *Adapter) apiFor(one *teamRead) *api {
	if a.reads.background(one) {
		return a.api.background()
	}
	return a.api
}

// takeIn takes in what was read, in order, and notes how far that came.
func (a *Adapter) takeIn(ctx context.Context, team training.TeamID, all []reading) error {
	if len(all) == 0 {
		return nil
	}
	now := a.clock()
	var found []happening
	e := &errand{places: map[training.MessageID]spot{}}
	for _, read := range all {
		known, err := a.known(ctx, team, read)
		if err != nil {
			return fmt.Errorf("compare what was read: %w", err)
		}
		here := a.compare(ctx, team, read, known, now)
		for _, one := range here {
			e.places[eventID(one.event)] = read.spot
		}
		found = append(found, here...)
	}
	if events := inOrder(found); len(events) > 0 {
		a.step(ctx, team, bot.CatchUp{Team: team, Events: events, At: now}, e)
	}
	err := a.store.Update(ctx, func(tx Tx) error {
		for _, read := range all {
			if err := tx.PutSeen(int64(read.place), training.MessageID(read.last)); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	for _, read := range all {
		a.memory.levelled(read.place)
	}
	return nil
}
