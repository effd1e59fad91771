package bot

import (
	"context"
	"time"

	"rungbook/bot/slash"
	"rungbook/parser"
	"rungbook/training"
)

// Import takes in what a team's channel held before the bot came: logs alone,
// without answering any. Pain said weeks ago pauses nobody now. It returns how
// many logs it stored; what is known already is left as it is. Authors become
// members at their first log; nudges and digests of the past are not due to them.
// Errors are those of the Store; the logs before it stay stored.
func (b *Bot) Import(ctx context.Context, team training.TeamID, events []Event, at time.Time) (logs int, err error) {
	for _, event := range events {
		m, ok := event.(Message)
		if !ok || slash.IsCommand(m.Text) {
			continue
		}
		_, err := b.update(ctx, team, m.Author, func(s *step) error {
			stored, err := s.importLog(m, at)
			if stored {
				logs++
			}
			return err
		})
		if err != nil {
			return logs, err
		}
	}
	return logs, nil
}

// importLog stores one message's sets, if it is a log that is not known.
func (s *step) importLog(m Message, at time.Time) (stored bool, err error) {
	if unread, err := s.unread(m); err != nil || unread {
		return false, err
	}
	if _, known, err := s.tx.Log(m.ID); err != nil || known {
		return false, err
	}
	s.setMessage(m)
	parsed := s.read(m, s.zoneDay(m))
	days, _ := recent(parsed.Days, s.today())
	if parsed.Verdict != parser.Log || len(days) == 0 {
		return false, nil
	}
	if !s.who.Trains {
		member := s.joined(s.who)
		member.Since = at // nothing falls due for them before
		if err := s.putMember(member); err != nil {
			return false, err
		}
	}
	log := s.ownLog(m.At)
	log.Days = days
	return true, s.tx.PutLog(log)
}
