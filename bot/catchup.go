package bot

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"time"

	"rungbook/bot/slash"
	"rungbook/bot/words"
	"rungbook/training"
)

// lateAfter is the age from which a log counts as read late. A younger one is
// answered as if it had just been said.
const lateAfter = 10 * time.Minute

// catchUp holds back the answers to logs read late: each of these logs gets a
// mark, and each member one answer, to their last log. Nil when the bot is not
// catching up.
type catchUp struct {
	now   time.Time
	event int       // the one being met, from 1
	logs  []lateLog // in the order of their messages
}

type lateLog struct {
	log     training.Log
	done    change
	remarks words.Remarks
	member  training.Member
	at      time.Time // of the message or of its latest edit
	event   int
	to      Audience
}

// catchUp takes in what happened while the bot was away, in order. Each event has
// a transaction of its own, so that one that fails loses no other.
func (b *Bot) catchUp(ctx context.Context, c CatchUp) ([]Post, error) {
	late := &catchUp{now: c.At}
	var posts []Post
	var faults []error
	for i, event := range c.Events {
		late.event = i + 1
		answers, err := b.missed(ctx, event, late)
		if err != nil {
			faults = append(faults, err)
		}
		for k := range answers {
			answers[k].Event = late.event
		}
		posts = append(posts, answers...)
	}
	if len(late.logs) == 0 {
		return posts, errors.Join(faults...)
	}
	answers, err := b.update(ctx, c.Team, Author{}, func(s *step) error { return s.answerLate(late) })
	return append(posts, answers...), errors.Join(append(faults, err)...)
}

// missed takes in one event of the time away. Commands and taps of that time have
// expired on the platform and are left out.
func (b *Bot) missed(ctx context.Context, event Event, late *catchUp) ([]Post, error) {
	switch e := event.(type) {
	case Message:
		if slash.IsCommand(e.Text) {
			return nil, nil
		}
		return b.hear(ctx, e, late)
	case Edit:
		return b.edit(ctx, e, late)
	case Delete:
		return b.delete(ctx, e, late)
	}
	return nil, fmt.Errorf("catch up: unexpected event %T", event)
}

// late reports whether a message said at that instant is read late.
func (l *catchUp) late(at time.Time) bool { return l != nil && l.now.Sub(at) > lateAfter }

// hold keeps a log just stored, to be answered later.
func (l *catchUp) hold(s *step, log training.Log, done change, of words.Remarks) {
	l.logs = append(l.logs, lateLog{log: log, done: done, remarks: of, member: s.who, at: s.at, event: l.event, to: s.audience()})
}

// replace puts an edited log in the place of one still held; false if it is not.
func (l *catchUp) replace(s *step, log training.Log, done change, of words.Remarks) bool {
	i := slices.IndexFunc(l.logs, func(held lateLog) bool { return held.log.ID == log.ID })
	if i < 0 {
		return false
	}
	l.hold(s, log, done, of)
	last := len(l.logs) - 1
	l.logs[i] = l.logs[last]
	l.logs = l.logs[:last]
	return true
}

// drop forgets a held log; false if it is not held.
func (l *catchUp) drop(id training.MessageID) bool {
	before := len(l.logs)
	l.logs = slices.DeleteFunc(l.logs, func(held lateLog) bool { return held.log.ID == id })
	return len(l.logs) < before
}

// answerLate marks each late log and answers each member once, to the last of
// theirs, unless it is a quiet hour for them.
func (s *step) answerLate(late *catchUp) error {
	for _, held := range late.logs {
		s.say(held.post(Mark))
	}
	for i, held := range late.logs {
		if slices.ContainsFunc(late.logs[i+1:], func(later lateLog) bool { return later.member.ID == held.member.ID }) {
			continue
		}
		if local := late.now.In(held.member.Zone); s.team.Quiet.Holds(training.Clock(local.Hour()*60 + local.Minute())) {
			continue
		}
		if err := s.lateAnswer(late, held); err != nil {
			return err
		}
	}
	for _, held := range late.logs {
		if err := s.lateNotices(held); err != nil {
			return err
		}
	}
	return nil
}

// lateNotices sends the notices that a log brings beside its answer, as the record
// stands now: an event read since may have paused the member.
func (s *step) lateNotices(held lateLog) error {
	record, err := s.tx.Record(s.team.ID, held.member.ID)
	if err != nil {
		return err
	}
	s.who, s.id, s.cause, s.at = held.member, held.log.ID, held.log.ID, held.at
	return errors.Join(s.welcome(), s.firstDone(held.log, change{before: held.done.before, after: record}))
}

func (held lateLog) post(kind Kind) Post {
	return Post{Kind: kind, To: held.to, Person: held.member.ID, Name: held.member.Name, Answers: held.log.ID, Event: held.event}
}

// lateAnswer answers a member's last late log. It reads back all of their late
// sets, and its facts are of the record as it stands now.
func (s *step) lateAnswer(late *catchUp, last lateLog) error {
	record, err := s.tx.Record(s.team.ID, last.member.ID)
	if err != nil {
		return err
	}
	var sets []training.Set
	var all words.Remarks
	byDay := map[training.Day][]training.Set{}
	for _, held := range late.logs {
		if held.member.ID != last.member.ID {
			continue
		}
		sets, all = append(sets, held.log.Sets()...), all.And(held.remarks)
		for _, day := range held.log.Days {
			byDay[day.Day] = append(byDay[day.Day], day.Sets...)
		}
	}
	var told []words.DayFacts
	for _, day := range slices.Sorted(maps.Keys(byDay)) {
		told = append(told, words.DayFacts{Day: day, Logged: s.together(byDay[day])})
	}
	s.who, s.at, last.done.after = last.member, last.at, record
	post, notes := last.post(Reply), s.loggedNotes(sets, all)
	_, facts, buttons := s.answer(last.member, last.log, last.done, all)
	switch facts := facts.(type) {
	case words.LogFacts:
		facts.Logged, facts.Told = s.together(sets), told
		post.Text, post.Facts = words.Log(facts, notes, s.pulled(last.done, last.log), s.targetsAsked(&record, facts)), facts
	case words.ReadBackFacts:
		facts.Logged, facts.Told = s.together(sets), told
		post.Text, post.Facts = words.ReadBack(facts, notes), facts
	}
	post.Buttons = buttons
	s.say(post)
	return nil
}
