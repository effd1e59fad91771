package discord

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"maps"
	"net/http"
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

// catchUp reads the team's places from where they were last read, takes in
// what is new there, in order, and notes how far it came.
func (a *Adapter) catchUp(ctx context.Context, team training.TeamID) error {
	at, ok, err := a.placeOf(ctx, team)
	if err != nil || !ok {
		return err
	}
	now := a.clock()
	places, directs, err := a.toRead(ctx, team, at)
	if err != nil {
		return err
	}
	var all []happening
	newest := map[flake]flake{}
	e := &errand{places: map[training.MessageID]spot{}}
	for _, read := range append(places, directs...) {
		found, last, err := a.missed(ctx, team, read, now)
		switch {
		case refusedFor(err, codeUnknownChannel):
			a.report("forget a channel", a.store.Update(ctx, func(tx Tx) error { return tx.Unwatch(int64(read.place)) }))
		case err != nil:
			a.log.Warn("a place cannot be read", "team", int64(team), "place", int64(read.place), "cause", err)
		default:
			all, newest[read.place] = append(all, found...), last
		}
		for _, one := range found {
			e.places[eventID(one.event)] = read
		}
	}
	slices.SortStableFunc(all, func(x, y happening) int { return x.at.Compare(y.at) })
	events := make([]bot.Event, 0, len(all))
	for _, one := range all {
		events = append(events, one.event)
	}
	if len(events) > 0 {
		a.step(ctx, team, bot.CatchUp{Team: team, Events: events, At: now}, e)
	}
	return a.store.Update(ctx, func(tx Tx) error {
		for id, last := range newest {
			if err := tx.PutSeen(int64(id), training.MessageID(last)); err != nil {
				return err
			}
		}
		return nil
	})
}

// toRead lists the team's channel with its threads, and the places where
// somebody of this team alone talks to the bot.
func (a *Adapter) toRead(ctx context.Context, team training.TeamID, at place) (places, directs []spot, err error) {
	open, err := a.api.threads(ctx, flake(team), at.channel)
	if err != nil {
		return nil, nil, fmt.Errorf("list threads: %w", err)
	}
	err = a.store.Update(ctx, func(tx Tx) error {
		for _, id := range open {
			if err := watchThread(tx, team, at, id); err != nil {
				return err
			}
		}
		watched, err := tx.Watched(team)
		if err != nil {
			return err
		}
		alone, err := tx.Directs(team)
		for _, id := range watched {
			places = append(places, spot{flake(id), false})
		}
		for _, id := range alone {
			directs = append(directs, spot{flake(id), true})
		}
		return err
	})
	return places, directs, err
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

// missed reads one place and tells what happened there meanwhile, and how far
// it came.
func (a *Adapter) missed(ctx context.Context, team training.TeamID, read spot, now time.Time) ([]happening, flake, error) {
	var from, last flake
	sources := map[flake]source{}
	err := a.store.View(ctx, func(tx Tx) error {
		since, seen, _, err := tx.Seen(int64(read.place))
		if err != nil {
			return err
		}
		from, last = flakeAt(now.Add(-lookBack)), flake(seen)
		if seen != 0 {
			from = min(from, last)
		}
		from = max(from, flake(since))
		ids, err := tx.Sources(int64(read.place), training.MessageID(from)+1)
		if err != nil {
			return err
		}
		for _, id := range ids {
			whose, person, _, edited, _, err := tx.Source(id)
			if err != nil {
				return err
			}
			_, answers, err := tx.Answer(id)
			if err != nil {
				return err
			}
			if whose != team {
				continue
			}
			sources[flake(id)] = source{person: person, edited: edited, answered: len(answers) > 0}
		}
		return nil
	})
	if err != nil {
		return nil, 0, err
	}
	history, err := a.historyFrom(ctx, read.place, from)
	if err != nil {
		return nil, 0, err
	}
	ids := slices.Collect(maps.Keys(sources))
	for _, m := range history {
		last = max(last, m.ID)
		ids = append(ids, m.ID)
	}
	owed, err := a.owedOf(ctx, team, ids)
	if err != nil {
		return nil, 0, err
	}
	return a.compare(ctx, team, read, known{sources, owed}, history, now), last, nil
}

// known is what stands in the store about the messages of a place.
type known struct {
	sources map[flake]source
	owed    map[flake]bool // what they were answered is not out
}

// source is a message that gave a log, as it was taken in.
type source struct {
	person   training.PersonID
	edited   time.Time
	answered bool
}

// historyFrom reads all after the number, oldest first.
func (a *Adapter) historyFrom(ctx context.Context, id, from flake) ([]message, error) {
	var all []message
	for {
		page, err := a.historyPage(ctx, id, from)
		if err != nil {
			return nil, err
		}
		all = append(all, page...)
		if len(page) < pageSize {
			return all, nil
		}
		from = page[len(page)-1].ID
	}
}

// historyTries bounds how often a page is asked for again.
const historyTries = 6

// historyPage reads the page after the number, oldest first. A limit is waited
// for, a fault tried again for a while: what was missed must be read.
func (a *Adapter) historyPage(ctx context.Context, id, from flake) ([]message, error) {
	for try := 1; ; try++ {
		page, err := a.api.history(ctx, id, from, 0)
		var rate *outbox.RateError
		var final *refusal
		switch {
		case err == nil:
			slices.SortFunc(page, func(x, y message) int { return cmp.Compare(x.ID, y.ID) })
			return page, nil
		case errors.As(err, &rate):
			err = sleep(ctx, rate.After)
		case errors.As(err, &final) && final.status < http.StatusInternalServerError || try == historyTries || ctx.Err() != nil:
			return nil, err
		default:
			err = sleep(ctx, time.Duration(try)*200*time.Millisecond)
		}
		if err != nil {
			return nil, err
		}
	}
}

// compare tells messages, edits and deletions from what is known and what is
// there. A message that gave nothing is told again: it gives nothing again,
// unless its event was lost; one whose answer was lost is told as such.
func (a *Adapter) compare(ctx context.Context, team training.TeamID, read spot, known known, history []message, now time.Time) []happening {
	where := bot.Channel
	if read.direct {
		where = bot.Private
	}
	var found []happening
	there := map[flake]bool{}
	for _, m := range history {
		there[m.ID] = true
		if !m.typed(a.me()) || read.direct && !a.aloneIn(ctx, m, team, now) {
			continue
		}
		taken, gave := known.sources[m.ID]
		said := a.message(m, team, where, m.author(0))
		said.Again = known.owed[m.ID]
		switch {
		case gave && m.edited().After(taken.edited):
			a.memory.meet(read.place, m.ID, changed)
			found = append(found, happening{m.edited(), bot.Edit{Message: said, Edited: m.edited()}})
		case said.Again && taken.answered: // what stands there is not what was said last
			a.memory.meet(read.place, m.ID, changed)
			found = append(found, happening{said.At, bot.Edit{Message: said, Edited: later(said.At, m.edited())}})
		case !gave && a.memory.meet(read.place, m.ID, created), said.Again:
			found = append(found, happening{said.At, said})
		}
	}
	for id, gave := range known.sources {
		again := known.owed[id]
		if !there[id] && (a.memory.meet(read.place, id, deleted) || again) {
			found = append(found, happening{now, bot.Delete{
				ID: training.MessageID(id), Team: team, Author: bot.Author{ID: gave.person}, Place: where, At: now, Again: again,
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

// settle notes what the step has taken in, before anything is said: which
// messages gave a log or were answered where they were said, and how far their
// places were read.
func (a *Adapter) settle(ctx context.Context, team training.TeamID, event bot.Event, e *errand, posts []bot.Post) error {
	events := []bot.Event{event}
	if all, ok := event.(bot.CatchUp); ok {
		events = all.Events
	} else if len(posts) == 0 {
		return nil
	}
	answered, leaving := map[training.MessageID]bool{}, map[training.MessageID]bool{}
	for _, post := range posts {
		leaving[post.Answers] = true
		if (post.Kind == bot.Reply || post.Kind == bot.Revise) && post.To == bot.ToChannel {
			answered[post.Answers] = true
		}
	}
	return a.store.Update(ctx, func(tx Tx) error {
		for _, one := range events {
			if gone, is := one.(bot.Delete); is && leaving[gone.ID] {
				continue // forgotten when its answer is gone too
			}
			if err := settleOne(tx, team, one, e, answered); err != nil {
				return err
			}
		}
		return nil
	})
}

func settleOne(tx Tx, team training.TeamID, event bot.Event, e *errand, answered map[training.MessageID]bool) error {
	switch one := event.(type) {
	case bot.Message:
		return noteSource(tx, team, one, time.Time{}, e, answered)
	case bot.Edit:
		return noteSource(tx, team, one.Message, one.Edited, e, answered)
	case bot.Delete:
		return tx.DropSource(one.ID)
	}
	return nil
}

// noteSource keeps nothing of a message that gave no log and was answered
// privately: that would tell what it was about.
func noteSource(tx Tx, team training.TeamID, m bot.Message, edited time.Time, e *errand, answered map[training.MessageID]bool) error {
	blocked, err := tx.Blocked(m.Author.ID)
	if err != nil || blocked {
		return err
	}
	_, logged, err := tx.Log(m.ID)
	if err != nil || !logged && !answered[m.ID] {
		return err
	}
	channel := e.spot(m.ID).place
	if e.asked != nil {
		channel = 0
	}
	if err := tx.PutSource(team, m.ID, m.Author.ID, int64(channel), edited); err != nil {
		return err
	}
	if channel == 0 {
		return nil
	}
	return tx.PutSeen(int64(channel), m.ID)
}
