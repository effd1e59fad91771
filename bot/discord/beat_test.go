package discord_test

import (
	"context"
	"testing"
	"time"

	"rungbook/bot/discord"
	"rungbook/bot/discord/discordtest"
	"rungbook/bot/outbox"
)

// delivers is an outbox that resumes nothing, so that what is said is sent where
// it was said.
type delivers struct{ discord.Outbox }

func (delivers) Resume(context.Context, time.Time) error { return nil }

// TestAnswersDoNotWaitForANudge: a nudge that hangs on its way holds up no
// answer in the same channel.
func TestAnswersDoNotWaitForANudge(t *testing.T) {
	t.Parallel()
	s := newStage(t, discordtest.Options{})
	s.options = func(o *discord.Options) {
		whole := o.Outbox
		o.Outbox = func(sender outbox.Sender, lost func(context.Context, outbox.Lost) error) discord.Outbox {
			return delivers{whole(sender, lost)}
		}
	}
	s.start()
	s.setup()
	s.says("Priya", "3x18s high hold", 1)
	s.adapter.Rest()
	s.clock.set(time.Date(2026, 10, 8, 16, 30, 0, 0, time.UTC)) // Thursday 17:30 in Lisbon
	s.fake.Fail("POST /channels/{channel_id}/messages", 1, discordtest.Stall)
	s.adapter.Beat(context.Background(), s.clock.Now())
	s.await("nudge on its way", func(v discordtest.View) bool { return tries(v, "session day") > 0 })
	s.says("Priya", "3x20s high hold", 1)
	s.fake.Look(func(v discordtest.View) {
		if n := len(nudges(v, s.rings)); n != 0 {
			t.Errorf("%d nudges while they hang", n)
		}
	})
	s.fake.Unstall()
	s.await("nudge", func(v discordtest.View) bool { return len(nudges(v, s.rings)) == 1 })
}
