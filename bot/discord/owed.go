package discord

import (
	"context"
	"strings"
	"time"

	"rungbook/bot"
	"rungbook/bot/outbox"
	"rungbook/training"
)

// occasion is what a message's answer came of.
type occasion struct {
	at    time.Time
	again bool // it may be out already
}

// deliver sends what was said to an event, one post after the other. Each goes
// with the instant of what it answers, so that its nonce is the same whenever it
// is sent. What is out is owed no more; what could not be sent is tried again
// later.
func (a *Adapter) deliver(ctx context.Context, team training.TeamID, event bot.Event, posts []bot.Post, e *errand) {
	defer a.memory.way(posts, -1)
	of := occasions(event)
	unanswered, missed := unansweredBy(event, posts), map[training.MessageID]bool{}
	for i, post := range posts {
		one, known := of[post.Answers]
		if !known {
			one.at = happened(event)
		}
		send := a.outbox.Deliver
		if one.again {
			send = a.outbox.Redeliver
		}
		s := &sender{Adapter: a, errand: e}
		if unanswered[post.Answers] == i && !missed[post.Answers] {
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
	for id := range missed {
		delete(unanswered, id)
	}
	a.report("note what is out", a.markAnswered(ctx, unanswered))
	if len(missed) > 0 {
		a.memory.owe(team)
	}
}

// logPending logs why a post is not out yet.
func (a *Adapter) logPending(one outbox.Outcome) {
	if one.Result == outbox.Pending {
		a.log.Warn("a post is not out yet", "cause", one.Err)
	}
}

// occasions are the messages that an event tells of.
func occasions(event bot.Event) map[training.MessageID]occasion {
	all := map[training.MessageID]occasion{}
	switch e := event.(type) {
	case bot.Message:
		all[e.ID] = occasion{at: e.At, again: e.Redelivered}
	case bot.Edit:
		all[e.ID] = occasion{at: e.Edited, again: e.Redelivered}
	case bot.Delete:
		all[e.ID] = occasion{at: e.At, again: e.Redelivered}
	case bot.CatchUp:
		for _, one := range e.Events {
			for id, of := range occasions(one) {
				all[id] = of
			}
		}
	}
	return all
}

// unansweredBy lists the messages that the bot holds to be unanswered until the
// posts are out, each with the index of the last post to it; -1 for one that was
// met again and brought nothing. What a command or a button is answered is not
// waited for, but what it withdraws or revises is.
func unansweredBy(event bot.Event, posts []bot.Post) map[training.MessageID]int {
	last := map[training.MessageID]int{}
	for id, one := range occasions(event) {
		if one.again {
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
		return strings.HasPrefix(strings.TrimSpace(e.Text), "/")
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

// owedOf tells which of the messages have an answer that is still to be sent
// and is not on its way.
func (a *Adapter) owedOf(ctx context.Context, team training.TeamID, ids []flake) (map[flake]bool, error) {
	owed := map[flake]bool{}
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
			if is && !a.memory.under(training.MessageID(id)) {
				owed[id] = true
			}
		}
		return nil
	})
	return owed, err
}

// retry has the teams read again in which an answer could not be sent, or whose
// places could not be read.
func (a *Adapter) retry() {
	if !a.health.up() {
		return
	}
	for _, team := range a.memory.debtors() {
		a.lookBackAt(team, nil)
	}
}

// way notes that posts are on their way, or no longer.
func (s *state) way(posts []bot.Post, by int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, post := range posts {
		if post.Unasked != 0 || post.Answers == 0 {
			continue
		}
		if s.onWay[post.Answers] += by; s.onWay[post.Answers] <= 0 {
			delete(s.onWay, post.Answers)
		}
	}
}

// under reports whether an answer to the message is on its way.
func (s *state) under(id training.MessageID) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.onWay[id] > 0
}

// owe notes that an answer of the team's could not be sent.
func (s *state) owe(team training.TeamID) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.owing[team] = true
}

// debtors are the teams noted since they were last asked for.
func (s *state) debtors() (teams []training.TeamID) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for team := range s.owing {
		teams = append(teams, team)
	}
	clear(s.owing)
	return teams
}
