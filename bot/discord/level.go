package discord

import (
	"context"

	"rungbook/training"
)

// A place is level when all that was said in it has been taken in since the
// connection began. From then on what passes is noted, so that the next start
// knows from where to read; in a place that is not, that would hide what was not
// read.

// pass notes that all up to a message of a place has been taken in.
func (s *state) pass(place, id flake) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.level[place] {
		s.passed[place] = max(s.passed[place], id)
	}
}

// levelled notes that a place is level.
func (s *state) levelled(places ...flake) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, place := range places {
		s.level[place] = true
	}
}

// flush keeps how far places were read.
func (a *Adapter) flush(ctx context.Context) error {
	a.memory.mu.Lock()
	passed := a.memory.passed
	a.memory.passed = map[flake]flake{}
	a.memory.mu.Unlock()
	if len(passed) == 0 {
		return nil
	}
	return a.store.Update(ctx, func(tx Tx) error {
		for place, id := range passed {
			if err := tx.PutSeen(int64(place), training.MessageID(id)); err != nil {
				return err
			}
		}
		return nil
	})
}
