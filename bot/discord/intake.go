package discord

import (
	"context"
	"encoding/json"
	"errors"
	"time"

	"rungbook/bot"
	"rungbook/bot/slash"
	"rungbook/training"
)

// hear takes a raw event from the gateway. It is called on the connection's own
// goroutine: it decodes, puts the event into its queue and returns.
func (a *Adapter) hear(kind string, data json.RawMessage) {
	defer func() {
		if fault := recover(); fault != nil {
			a.log.Error("an event ended in a panic", "kind", kind)
		}
	}()
	if err := a.route(kind, data); err != nil {
		a.log.Warn("an event cannot be read", "kind", kind)
	}
}

// route decodes an event and puts it into its queue. Kinds of events that the bot
// does not act on are ignored; the error is of decoding.
func (a *Adapter) route(kind string, data json.RawMessage) error {
	switch kind {
	case "MESSAGE_CREATE", "MESSAGE_UPDATE":
		return decoded(data, func(m message) { a.queueMessage(m, kind == "MESSAGE_UPDATE") })
	case "MESSAGE_DELETE", "MESSAGE_DELETE_BULK":
		return decoded(data, a.queueDeletion)
	case "INTERACTION_CREATE":
		return decoded(data, func(i interaction) { a.queueAsked(&i) })
	case "READY":
		return decoded(data, func(r readied) {
			a.self.Store(int64(r.User.ID))
			a.ready(r.Guilds)
		})
	case "GUILD_CREATE":
		return decoded(data, a.queueGuild)
	case "GUILD_ROLE_DELETE":
		return decoded(data, func(gone deletion) { a.memory.forgetCoaches(training.TeamID(gone.Guild)) })
	case "THREAD_CREATE", "THREAD_DELETE", "CHANNEL_DELETE":
		return decoded(data, func(c channel) { a.queueChannel(c, kind == "THREAD_CREATE") })
	}
	return nil
}

// decoded hands on what the data hold; the error is of decoding.
func decoded[T any](data json.RawMessage, meet func(T)) error {
	var what T
	if err := json.Unmarshal(data, &what); err != nil {
		return err
	}
	meet(what)
	return nil
}

// readied is what READY tells: the servers the bot is in, and who it is.
type readied struct {
	Guilds []guild `json:"guilds"`
	User   user    `json:"user"`
}

// deletion is one message gone, or several at once, or something else of a server.
type deletion struct {
	ID      snowflake   `json:"id"`
	IDs     []snowflake `json:"ids"`
	Channel snowflake   `json:"channel_id"`
	Guild   snowflake   `json:"guild_id"`
}

// queueMessage takes a message or an edit: into the queue of its team, or of its
// author where that one is alone with the bot. What nobody typed is only noted as
// taken in.
func (a *Adapter) queueMessage(m message, edit bool) {
	if !m.typed(a.me()) || edit && m.Edited == nil {
		if m.Guild != 0 {
			a.queues.add(a.work, queueKey{intakeQueue, m.Guild}, func(context.Context) { a.memory.pass(m.Channel, m.ID) })
		}
		return
	}
	if m.Guild == 0 {
		a.queues.add(a.work, queueKey{directQueue, m.Author.ID}, func(ctx context.Context) { a.direct(ctx, m, edit) })
		return
	}
	a.reads.promote(training.TeamID(m.Guild), newMessages)
	a.queues.add(a.work, queueKey{intakeQueue, m.Guild}, func(ctx context.Context) {
		err := a.meetMessage(ctx, m, edit)
		a.report("take a message in", err)
		if err == nil {
			a.memory.pass(m.Channel, m.ID)
		}
	})
}

// report logs what went wrong inside; nobody waits for it.
func (a *Adapter) report(what string, err error) {
	if err != nil && !errors.Is(err, context.Canceled) {
		a.log.Error(what, "cause", err)
	}
}

// meetMessage meets a message or an edit in a server.
func (a *Adapter) meetMessage(ctx context.Context, m message, edit bool) error {
	team := training.TeamID(m.Guild)
	at, ok, err := a.teamChannelOf(ctx, team)
	if err != nil || !ok {
		return err
	}
	if inside, err := a.within(ctx, at, m.Channel); err != nil || !inside {
		return err
	}
	what := created
	if edit {
		what = changed
	}
	if !a.memory.meet(m.Channel, m.ID, what) {
		return nil
	}
	author := m.author(at.coaches)
	if m.Member != nil {
		if err := a.seeAuthor(ctx, team, author, timeOf(m.ID)); err != nil {
			return err
		}
	}
	if text, _ := m.text(a.me()); slash.IsCommand(text) {
		if err := a.coachByHand(ctx, team, &author); err != nil {
			return err
		}
	}
	if slash.Names(m.Content, "setup") && m.Member != nil {
		if author.Manager, err = a.manages(ctx, m.Guild, m.Member.Roles, m.Author.ID); err != nil {
			return err
		}
	}
	return a.take(ctx, team, m, edit, bot.Channel, author)
}

// take hands a message or an edit to the bot.
func (a *Adapter) take(ctx context.Context, team training.TeamID, m message, edit bool, where bot.Place, author bot.Author) error {
	said := a.message(m, team, where, author)
	o := &origin{source: said.ID, channel: m.Channel, direct: where == bot.Private}
	if !edit {
		a.step(ctx, team, said, o)
		return nil
	}
	known, err := a.takenIn(ctx, said.ID, m.edited())
	if err != nil || known {
		return err
	}
	a.step(ctx, team, bot.Edit{Message: said}, o)
	return nil
}

func (a *Adapter) message(m message, team training.TeamID, where bot.Place, author bot.Author) bot.Message {
	text, toBot := m.text(a.me())
	return bot.Message{
		ID: training.MessageID(m.ID), Team: team, Author: author, Place: where, Channel: training.ChannelID(m.Channel), Text: text,
		At: timeOf(m.ID), Edited: m.edited(), ToBot: toBot, Mentioned: m.named(a.me()),
	}
}

// takenIn reports whether an edit of a message that gave a log was taken in
// before.
func (a *Adapter) takenIn(ctx context.Context, id training.MessageID, edited time.Time) (taken bool, err error) {
	err = a.store.View(ctx, func(tx Tx) error {
		log, ok, err := tx.Log(id)
		taken = ok && !edited.After(log.Edited)
		return err
	})
	return taken, err
}

// queueDeletion takes a deletion of one or several messages.
func (a *Adapter) queueDeletion(gone deletion) {
	if gone.ID != 0 {
		gone.IDs = append(gone.IDs, gone.ID)
	}
	if gone.Guild != 0 {
		a.queues.add(a.work, queueKey{intakeQueue, gone.Guild}, func(ctx context.Context) { a.gone(ctx, gone) })
		return
	}
	// the store knows whose it was: the deletion goes to the queue of that team
	a.queues.add(a.work, queueKey{housekeepingQueue, gone.Channel}, func(ctx context.Context) {
		for _, id := range gone.IDs {
			one := gone
			one.IDs = []snowflake{id}
			team, _, ok, err := a.sourceOf(ctx, id)
			a.report("take a deletion in", err)
			if ok {
				a.queues.add(a.work, queueKey{intakeQueue, snowflake(team)}, func(ctx context.Context) { a.gone(ctx, one) })
			}
		}
	})
}

// sourceOf is whose a message was and for which team; ok is false where it gave
// nothing.
func (a *Adapter) sourceOf(ctx context.Context, id snowflake) (team training.TeamID, person training.PersonID, ok bool, err error) {
	err = a.store.View(ctx, func(tx Tx) error {
		log, known, err := tx.Log(training.MessageID(id))
		team, person, ok = log.Team, log.Author, known && log.Author != 0
		return err
	})
	return team, person, ok, err
}

// gone meets deleted messages. One that gave no log means nothing.
func (a *Adapter) gone(ctx context.Context, gone deletion) {
	for _, id := range gone.IDs {
		if !a.memory.meet(gone.Channel, id, deleted) {
			continue
		}
		team, person, ok, err := a.sourceOf(ctx, id)
		if err != nil || !ok {
			a.report("take a deletion in", err)
			continue
		}
		where := bot.Channel
		if gone.Guild == 0 {
			where = bot.Private
		}
		a.step(ctx, team, bot.Delete{
			ID: training.MessageID(id), Team: team, Author: bot.Author{ID: person}, Place: where, At: a.clock(),
		}, &origin{source: training.MessageID(id), channel: gone.Channel, direct: where == bot.Private})
	}
}

// queueGuild learns a server's name, what was said there, and sets its commands.
func (a *Adapter) queueGuild(g guild) {
	a.memory.mu.Lock()
	a.memory.serverNames[training.TeamID(g.ID)] = g.Name
	a.memory.mu.Unlock()
	a.queues.add(a.work, queueKey{housekeepingQueue, g.ID}, func(ctx context.Context) {
		a.report("register commands", a.register(ctx, g.ID))
	})
	a.queues.add(a.work, queueKey{intakeQueue, g.ID}, func(ctx context.Context) { a.report("meet a server", a.arrive(ctx, g)) })
}

// queueChannel learns of a thread opened, or of a channel or thread gone.
func (a *Adapter) queueChannel(c channel, opened bool) {
	if c.Guild == 0 {
		return
	}
	team := training.TeamID(c.Guild)
	a.queues.add(a.work, queueKey{intakeQueue, c.Guild}, func(ctx context.Context) {
		at, ok, err := a.teamChannelOf(ctx, team)
		if err != nil || !ok || opened && c.Parent != at.channel {
			a.report("read where a team is", err)
			return
		}
		a.memory.thread(c.ID, opened)
		if opened {
			a.memory.noteCaughtUp(c.ID)
		}
		a.report("watch a thread", a.store.Update(ctx, func(tx Tx) error {
			if !opened {
				return tx.Unwatch(int64(c.ID))
			}
			return watchThread(tx, team, at, c.ID)
		}))
	})
}
