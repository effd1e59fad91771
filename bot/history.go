package bot

import (
	"context"
	"time"

	"rungbook/parser"
	"rungbook/training"
)

// Import takes in what a team's channel held before the bot came: logs alone,
// without answering any. Pain said weeks ago pauses nobody now. It returns how
// many logs it stored; what is known already is left as it is. Authors become
// members from their first log on, and nothing is owed to them for the past.
func (b *Bot) Import(ctx context.Context, team training.TeamID, events []Event, at time.Time) (logs int, err error) {
	for _, event := range events {
		m, ok := event.(Message)
		if !ok || isCommand(m.Text) {
			continue
		}
		_, err := b.update(ctx, team, m.Author, func(t *turn) error {
			stored, err := t.importLog(m, at)
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
func (t *turn) importLog(m Message, at time.Time) (stored bool, err error) {
	blocked, err := t.tx.Blocked(m.Author.ID)
	if err != nil || blocked {
		return false, err
	}
	if _, known, err := t.tx.Log(m.ID); err != nil || known {
		return false, err
	}
	t.hears(m)
	said := t.read(m, t.zoneDay(m))
	days, _ := recent(said.Days, t.today())
	if said.Verdict != parser.Log || len(days) == 0 {
		return false, nil
	}
	if !t.who.Trains {
		member := t.joined(t.who)
		member.Since = at // what fell due before is not owed
		if err := t.put(member); err != nil {
			return false, err
		}
	}
	log := t.ownLog(m.At)
	log.Days = days
	return true, t.tx.PutLog(log)
}
