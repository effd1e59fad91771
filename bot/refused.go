package bot

import (
	"sync"
	"time"

	"rungbook/bot/slash"
	"rungbook/training"
)

// refusedMessages are those whose authors were told that nothing was changed, because
// nothing could be stored. A message is read again after a start, and would then be
// counted behind its author's back, who has written it anew. That it was refused
// can't be stored either, so it is remembered here until the team's next beat can
// store it. If the process ends before, the message is read once more, and answered
// then. The zero value is ready.
type refusedMessages struct {
	mu  sync.Mutex
	all map[refusedMessage]training.TeamID
}

// refusedMessage is a message, or an edit of one.
type refusedMessage struct {
	id     training.MessageID
	edited int64 // ms since 1970; 0 for the message as it was first
}

func refusalOf(m Message) refusedMessage {
	one := refusedMessage{id: m.ID}
	if !m.Edited.IsZero() {
		one.edited = m.Edited.UnixMilli()
	}
	return one
}

func (r *refusedMessages) add(m Message) {
	if slash.IsCommand(m.Text) { // no command is read again
		return
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.all == nil {
		r.all = map[refusedMessage]training.TeamID{}
	}
	r.all[refusalOf(m)] = m.Team
}

func (r *refusedMessages) holds(m Message) bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	_, held := r.all[refusalOf(m)]
	return held
}

// of lists those of the team.
func (r *refusedMessages) of(team training.TeamID) (some []refusedMessage) {
	r.mu.Lock()
	defer r.mu.Unlock()
	for one, of := range r.all {
		if of == team {
			some = append(some, one)
		}
	}
	return some
}

func (r *refusedMessages) drop(some []refusedMessage) {
	r.mu.Lock()
	defer r.mu.Unlock()
	for _, one := range some {
		delete(r.all, one)
	}
}

// keepRefused stores which of the team's messages were refused.
func (s *step) keepRefused() error {
	s.stored = s.refused.of(s.team.ID)
	for _, one := range s.stored {
		var edited time.Time
		if one.edited != 0 {
			edited = time.UnixMilli(one.edited)
		}
		if err := s.tx.MarkRefused(one.id, edited, s.at); err != nil {
			return err
		}
	}
	return nil
}
