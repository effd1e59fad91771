package discord_test

import (
	"slices"
	"testing"

	"rungbook/bot/discord/discordtest"
)

// Whoever takes a log back before its answer is out finds no answer of it left.
func TestTakenBackBeforeItsAnswer(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	s.fake.Fail("POST /interactions/{interaction_id}/{interaction_token}/callback", 1, discordtest.Stall)
	asked := s.fake.Slash(s.rings, s.cast["Priya"], "log", opt{Name: "text", Value: "3x18s high hold"})
	s.await("a log", func(discordtest.View) bool { return len(s.logged("Priya")) == 1 })
	s.ask(s.rings, "Priya", "undo")
	s.fake.Unstall()
	s.answered(asked)
	s.await("withdrawal", func(v discordtest.View) bool {
		return asked.Answer != nil && !slices.Contains(v.Messages(s.rings), asked.Answer)
	})
}
