package discord_test

import (
	"strings"
	"testing"
	"time"

	"rungbook/bot/discord/discordtest"
)

// Pain said to the bot alone by somebody of several teams holds in all of them
// at once; which team the message was for is only asked where it says more.
func TestPainBeforeATeamIsChosen(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	other := s.fake.Guild("Saltmarsh Climbers")
	channel := s.fake.Channel(other, "training")
	s.fake.Join(other, s.cast["Rui"], s.fake.Role(other, "steward", discordtest.ManageGuild))
	s.fake.Join(other, s.cast["Priya"])
	s.fake.Join(other, s.cast["Wen"])
	made := s.fake.Slash(channel, s.cast["Rui"], "setup", opt{Name: "zone", Value: "Europe/Lisbon"}, opt{Name: "days", Value: "Tue Fri"},
		opt{Name: "coach", Value: s.cast["Wen"]})
	s.await("second team", func(discordtest.View) bool { return len(made.More) > 0 })
	s.says("Priya", "3x18s high hold", 1)
	m := s.fake.Say(channel, s.cast["Priya"], "3x17s high hold")
	s.await("answer", func(v discordtest.View) bool { return len(answersTo(v, m)) == 1 })

	alone := map[string]*discordtest.Channel{"Ilda": s.fake.Direct(s.cast["Ilda"]), "Wen": s.fake.Direct(s.cast["Wen"])}
	heard := func(v discordtest.View, name string) (n int) {
		for _, one := range v.Messages(alone[name]) {
			if one.Author.Bot && strings.Contains(one.Text, "Priya is paused") {
				n++
			}
		}
		return n
	}
	hurt := s.saysAlone("Priya", "my left elbow hurts", 1)
	s.await("word to both coaches", func(v discordtest.View) bool { return heard(v, "Ilda") == 1 && heard(v, "Wen") == 1 })
	if text := s.only(hurt); !strings.Contains(text, "Please stop") || strings.Contains(text, "several teams") {
		t.Errorf("%q", text)
	}
	both := s.saysAlone("Priya", "2x20s support, my right wrist hurts", 2)
	if text := s.only(both); !strings.Contains(text, "Please stop") || !strings.Contains(text, "several teams") {
		t.Errorf("%q", text)
	}

	// and what is said while the bot is away
	s.end()
	s.clock.add(time.Minute)
	missed := s.fake.Say(both.Channel, s.cast["Priya"], "my right shoulder hurts too")
	asks := s.fake.Say(both.Channel, s.cast["Priya"], "2x21s support")
	s.start()
	s.await("both", func(v discordtest.View) bool { return len(answersTo(v, missed)) == 1 && len(answersTo(v, asks)) == 1 })
	if text := s.only(missed); !strings.Contains(text, "Please stop") {
		t.Errorf("%q", text)
	}
	if text := s.only(asks); !strings.Contains(text, "several teams") {
		t.Errorf("%q", text)
	}
	s.end()
	s.start()
	s.saysAlone("Priya", "2x22s support", 1)
	s.fake.Look(func(v discordtest.View) {
		if n := len(answersTo(v, asks)) + len(answersTo(v, missed)); n != 2 {
			t.Errorf("%d answers after another start", n)
		}
	})
}
