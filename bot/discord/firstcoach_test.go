package discord_test

import (
	"strings"
	"testing"

	"rungbook/bot/discord/discordtest"
)

// With no coach known a notice waits, and goes to the first who is seen to hold
// the role, once.
func TestNoticeWaitsForTheFirstCoach(t *testing.T) {
	t.Parallel()
	s := newStage(t, discordtest.Options{})
	s.start()
	asked := s.fake.Slash(s.rings, s.cast["Rui"], "setup",
		discordtest.Option{Name: "channel", Value: discordtest.ChannelValue(s.rings)}, discordtest.Option{Name: "coach-role", Value: s.coaches},
		discordtest.Option{Name: "zone", Value: "Europe/Lisbon"}, discordtest.Option{Name: "days", Value: "Mon Thu"})
	s.await("an answer to /setup", func(discordtest.View) bool { return len(asked.More) > 0 })
	s.says("Priya", "3x18s high hold", 1)
	s.saysAlone("Priya", "my left elbow hurts", 1)

	heard := func(v discordtest.View, channel *discordtest.Channel) (n int) {
		for _, m := range v.Messages(channel) {
			if m.Author.Bot && strings.Contains(m.Text, "Priya is paused") {
				n++
			}
		}
		return n
	}
	ilda := s.fake.Direct(s.cast["Ilda"])
	s.says("Ilda", "good evening", 0)
	s.await("word to the coach", func(v discordtest.View) bool { return heard(v, ilda) == 1 })
	s.end()
	s.start()
	s.says("Ilda", "still here", 0)
	s.says("Ilda", "1x20s support", 1)
	s.fake.Look(func(v discordtest.View) {
		if n := heard(v, ilda); n != 1 {
			t.Errorf("told %d times", n)
		}
	})
}
