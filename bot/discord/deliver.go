package discord

import (
	"context"
	"time"

	"rungbook/bot"
	"rungbook/bot/outbox"
	"rungbook/bot/slash"
	"rungbook/training"
)

// occasion is the event by which a message is answered.
type occasion struct {
	at          time.Time
	redelivered bool // its answer may be out already
}

// deliver sends the posts that an event brought, one after the other. Each goes
// with the instant of the message it answers, so that its nonce is the same
// whenever it is sent. A message whose posts are out is answered; those of which
// one is not are met again at a later beat.
func (a *Adapter) deliver(ctx context.Context, team training.TeamID, event bot.Event, posts []bot.Post, o *origin) {
	defer a.memory.countInFlight(posts, -1)
	of := occasions(event)
	unanswered, missed := unansweredBy(event, posts), map[training.MessageID]bool{}
	for i, post := range posts {
		one, known := of[post.Answers]
		if !known {
			one.at = event.When()
		}
		send := a.outbox.Deliver
		if one.redelivered {
			send = a.outbox.Redeliver
		}
		s := &sender{Adapter: a, origin: o, unsure: one.redelivered || a.memory.isUnsure(post.Answers)}
		if last, waits := unanswered[post.Answers]; waits && last == i && !missed[post.Answers] {
			s.completes = post.Answers
		}
		for _, outcome := range send(ctx, s, []bot.Post{post}, one.at) {
			a.logPending(outcome)
			if post.Unasked == 0 && outcome.Result == outbox.Pending {
				missed[post.Answers] = true
			}
		}
		if s.noted {
			delete(unanswered, post.Answers)
		}
	}
	a.memory.setUnsure(of, missed)
	for id := range missed {
		delete(unanswered, id)
	}
	a.report("note what is out", a.markAnswered(ctx, unanswered))
	if len(missed) > 0 {
		a.memory.retryLater(team)
	}
}

// logPending logs why a post is not out yet.
func (a *Adapter) logPending(one outbox.Outcome) {
	if one.Result == outbox.Pending {
		a.log.Warn("a post is not out yet", "cause", one.Err)
	}
}

// occasions are those of the messages that an event tells of.
func occasions(event bot.Event) map[training.MessageID]occasion {
	all := map[training.MessageID]occasion{}
	switch e := event.(type) {
	case bot.Message:
		all[e.ID] = occasion{at: e.At, redelivered: e.Redelivered}
	case bot.Edit:
		all[e.ID] = occasion{at: e.Edited, redelivered: e.Redelivered}
	case bot.Delete:
		all[e.ID] = occasion{at: e.At, redelivered: e.Redelivered}
	case bot.CatchUp:
		for _, one := range e.Events {
			for id, of := range occasions(one) {
				all[id] = of
			}
		}
	}
	return all
}

// unansweredBy lists the messages that count as unanswered until the posts are
// out, each with the index of the last post to it; -1 for one that was met again
// and brought nothing. A command or a button does not count itself, but the
// messages whose answers it withdraws or revises do.
func unansweredBy(event bot.Event, posts []bot.Post) map[training.MessageID]int {
	last := map[training.MessageID]int{}
	for id, one := range occasions(event) {
		if one.redelivered {
			last[id] = -1
		}
	}
	for i, post := range posts {
		changes := post.Kind == bot.Withdraw && !post.Tapped || post.Kind == bot.Revise
		if post.Unasked == 0 && post.Answers != 0 && (changes || !byCommand(event)) {
			last[post.Answers] = i
		}
	}
	return last
}

// byCommand reports whether an event is a command or a button, whose giver sees
// whether an answer comes.
func byCommand(event bot.Event) bool {
	switch e := event.(type) {
	case bot.Message:
		return slash.IsCommand(e.Text)
	case bot.Tap:
		return true
	}
	return false
}

// markAnswered notes that the messages' answers are out, or that there are none.
func (a *Adapter) markAnswered(ctx context.Context, ids map[training.MessageID]int) error {
	if len(ids) == 0 {
		return nil
	}
	return a.store.Update(ctx, func(tx Tx) error {
		for id := range ids {
			if err := tx.MarkAnswered(id); err != nil {
				return err
			}
		}
		return nil
	})
}

// unansweredOf picks the messages whose answer is still to be sent and is not on
// its way.
func (a *Adapter) unansweredOf(ctx context.Context, team training.TeamID, ids []snowflake) (map[snowflake]bool, error) {
	unanswered := map[snowflake]bool{}
	err := a.store.View(ctx, func(tx Tx) error {
		any, err := tx.HasUnanswered(team)
		if err != nil || !any {
			return err
		}
		for _, id := range ids {
			is, err := tx.Unanswered(training.MessageID(id))
			if err != nil {
				return err
			}
			if is && !a.memory.inFlight(training.MessageID(id)) {
				unanswered[id] = true
			}
		}
		return nil
	})
	return unanswered, err
}

// retry has the teams' channels read again in which an answer could not be sent,
// or that could not be read.
func (a *Adapter) retry() {
	if !a.health.up() {
		return
	}
	for _, team := range a.memory.teamsToRetry() {
		a.lookBackAt(team, nil)
	}
}

// countInFlight adds by, 1 or -1, to how many posts are on their way to what each
// answers.
func (m *memory) countInFlight(posts []bot.Post, by int) {
	m.mu.Lock()
	defer m.mu.Unlock()
	for _, post := range posts {
		if post.Unasked != 0 || post.Answers == 0 {
			continue
		}
		if m.sending[post.Answers] += by; m.sending[post.Answers] <= 0 {
			delete(m.sending, post.Answers)
		}
	}
}

// setUnsure notes of the messages met whether an answer to them may be out of which
// that is not known.
func (m *memory) setUnsure(met map[training.MessageID]occasion, missed map[training.MessageID]bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	for id := range met {
		delete(m.unsure, id)
	}
	for id := range missed {
		m.unsure[id] = true
	}
}

// isUnsure reports whether that is so of a message.
func (m *memory) isUnsure(id training.MessageID) bool {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.unsure[id]
}

// inFlight reports whether an answer to the message is on its way.
func (m *memory) inFlight(id training.MessageID) bool {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.sending[id] > 0
}

// retryLater has the team's channels read again at the next beat.
func (m *memory) retryLater(team training.TeamID) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.toRetry[team] = true
}

// teamsToRetry are the teams for which retryLater was called since.
func (m *memory) teamsToRetry() (teams []training.TeamID) {
	m.mu.Lock()
	defer m.mu.Unlock()
	for team := range m.toRetry {
		teams = append(teams, team)
	}
	clear(m.toRetry)
	return teams
}
