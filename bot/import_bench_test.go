package bot_test

import (
	"context"
	"fmt"
	"testing"

	"rungbook/bot"
	"rungbook/store"
	"rungbook/training"
)

// BenchmarkHistory answers a member who has 50 sessions behind them, and one
// who has 1,000; the second may take 1.3 times as long.
func BenchmarkHistory(b *testing.B) {
	for _, sessions := range []int{50, 1000} {
		h := newHouse(b, shm(b))
		first := training.Date(2026, 10, 1) - training.Day(7*sessions/2)
		h.fill("Priya", first, sessions)
		id := training.MessageID(1_000_000)
		for _, text := range []string{"3x30s deep hang, 2x1min transitions", "/gates", "/next"} {
			b.Run(fmt.Sprintf("%s after %d sessions", text, sessions), func(b *testing.B) {
				for b.Loop() {
					id++
					m := bot.Message{ID: id, Team: team, Author: h.cast["Priya"], Place: bot.Channel, Text: text, At: h.at("2026-10-05 19:00")}
					if text[0] != '/' {
						m.ID = 1_000_000 // the same message anew, so that the record stays as long
						m.Edited = m.At
						_, err := h.bot.Step(context.Background(), bot.Edit{Message: m})
						if err != nil {
							b.Fatal(err)
						}
						continue
					}
					if _, err := h.bot.Step(context.Background(), m); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}

// BenchmarkDigest is the digest of a team of 50 over a year of sessions.
func BenchmarkDigest(b *testing.B) {
	h := newHouse(b, shm(b))
	for i := range 50 {
		name := fmt.Sprint("Member ", i)
		id := training.PersonID(1000 + i)
		h.cast[name] = bot.Author{ID: id, Name: name}
		err := h.db.Update(context.Background(), func(tx *store.Tx) error {
			return tx.PutMember(team, training.Member{ID: id, Name: name, Zone: h.zone, Trains: true, Joined: 739000, Since: h.at("2025-10-01 08:00")})
		})
		if err != nil {
			b.Fatal(err)
		}
		h.fill(name, training.Date(2025, 10, 6), 104)
	}
	id := training.MessageID(10_000_000)
	for b.Loop() {
		id++
		m := bot.Message{ID: id, Team: team, Author: h.cast["Ilda"], Place: bot.Private, Text: "/coach digest", At: h.at("2026-10-04 19:00")}
		if _, err := h.bot.Step(context.Background(), m); err != nil {
			b.Fatal(err)
		}
	}
}

// fill stores so many sessions of six sets, two a week.
func (h *house) fill(name string, first training.Day, sessions int) {
	h.t.Helper()
	who := h.cast[name].ID
	err := h.db.Update(context.Background(), func(tx *store.Tx) error {
		for i := range sessions {
			var sets []training.Set
			for range 3 {
				sets = append(sets, training.Set{Rung: "deep-hang", WorkS: 20 + i%12}, training.Set{Rung: "support", WorkS: 25})
			}
			h.last++
			err := tx.PutLog(training.Log{ID: 20_000_000 + h.last, Team: team, Member: who, Author: who, At: h.at("2025-10-01 08:00"),
				State: training.LogLive, Days: training.OnDay(first+training.Day(7*(i/2)+3*(i%2)), sets...)})
			if err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		h.t.Fatal(err)
	}
}
