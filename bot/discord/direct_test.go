package discord_test

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"rungbook/bot/discord/discordtest"
)

func (s *stage) saysAlone(name, text string, answers int) *discordtest.Message {
	s.t.Helper()
	s.clock.add(time.Minute)
	channel := s.fake.Direct(s.cast[name])
	m := s.fake.Say(channel, s.cast[name], text)
	s.await("answer to "+text, func(v discordtest.View) bool { return len(answersTo(v, m)) >= answers })
	return m
}

func TestDirectMessagesOfOneTeam(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	if m := s.saysAlone("Priya", "3x18s high hold", 1); !strings.Contains(s.only(m), "team") {
		t.Errorf("somebody of no team hears %q", s.only(m))
	}
	s.says("Priya", "3x18s high hold", 1)
	m := s.saysAlone("Priya", "2x20s support", 1)
	if logs := s.logged("Priya"); len(logs) != 2 {
		t.Errorf("logs %+v", logs)
	}
	s.fake.Edit(m, "2x22s support")
	s.await("revision", func(v discordtest.View) bool { return answersTo(v, m)[0].Edits == 1 })
	s.end()
	s.clock.add(time.Minute)
	s.fake.Delete(m)
	late := s.fake.Say(m.Channel, s.cast["Priya"], "2x25s support")
	s.start()
	s.await("what was missed", func(v discordtest.View) bool { return len(answersTo(v, m)) == 0 && len(answersTo(v, late)) == 1 })
	if m := s.saysAlone("Priya", "/gates", 1); !strings.Contains(s.only(m), "support") {
		t.Errorf("%q", s.only(m))
	}
}

func (s *stage) only(m *discordtest.Message) (text string) {
	s.fake.Look(func(v discordtest.View) {
		for _, one := range answersTo(v, m) {
			text += one.Text
		}
	})
	return text
}

// Roles do not come with a direct message: they are asked for.
func TestCommandsAloneAskForRoles(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	s.says("Priya", "3x18s high hold", 1)
	s.says("Ilda", "1x20s support", 1)
	if m := s.saysAlone("Ilda", "/coach roster", 1); !strings.Contains(s.only(m), "Priya") {
		t.Errorf("%q", s.only(m))
	}
	if m := s.saysAlone("Priya", "/coach roster", 1); !refusal(s.only(m)) {
		t.Errorf("%q", s.only(m))
	}
	s.fake.Leave(s.tide, s.cast["Ilda"].ID)
	s.fake.Join(s.fake.Guild("Elsewhere"), s.cast["Ilda"]) // so that the bot can still be written to
	if m := s.saysAlone("Ilda", "/coach roster", 1); !refusal(s.only(m)) {
		t.Errorf("a coach who has left: %q", s.only(m))
	}
}

func TestSeveralTeamsAreAskedOnce(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	other := s.fake.Guild("Saltmarsh Climbers")
	channel := s.fake.Channel(other, "training")
	s.fake.Join(other, s.cast["Rui"], s.fake.Role(other, "steward", discordtest.ManageGuild))
	s.fake.Join(other, s.cast["Priya"])
	made := s.fake.Slash(channel, s.cast["Rui"], "setup", opt{Name: "zone", Value: "Europe/Lisbon"}, opt{Name: "days", Value: "Tue Fri"})
	s.await("second team", func(discordtest.View) bool { return len(made.More) > 0 })
	s.says("Priya", "3x18s high hold", 1)
	m := s.fake.Say(channel, s.cast["Priya"], "3x17s high hold")
	s.await("answer", func(v discordtest.View) bool { return len(answersTo(v, m)) == 1 })

	first := s.saysAlone("Priya", "2x20s support", 1)
	if !strings.Contains(s.only(first), "several teams") {
		t.Fatalf("%q", s.only(first))
	}
	second := s.fake.Say(first.Channel, s.cast["Priya"], "2x21s support")
	var id string
	var asked *discordtest.Message
	s.fake.Look(func(v discordtest.View) {
		asked = answersTo(v, first)[0]
		for _, one := range customIDs(asked) {
			if strings.Contains(one, s.tide.ID.String()) {
				id = one
			}
		}
	})
	s.fake.Press(asked, s.cast["Priya"], id)
	s.await("answers", func(v discordtest.View) bool { return len(answersTo(v, first)) == 2 && len(answersTo(v, second)) == 1 })
	if logs := s.logged("Priya"); len(logs) != 3 {
		t.Errorf("logs %+v", logs)
	}
	s.saysAlone("Priya", "2x22s support", 1)
	s.clock.add(13 * time.Hour)
	if m := s.saysAlone("Priya", "2x23s support", 1); !strings.Contains(s.only(m), "several teams") {
		t.Errorf("a choice of thirteen hours ago holds: %q", s.only(m))
	}
}

// Somebody whose direct messages are closed is told so in the channel, in words
// that say nothing of what it was about.
func TestClosedDirectMessages(t *testing.T) {
	t.Parallel()
	for _, code := range []int{50007, 50278} {
		t.Run(strconv.Itoa(code), func(t *testing.T) {
			t.Parallel()
			s := settled(t, discordtest.Options{})
			s.cast["Priya"].Closed, s.cast["Priya"].Refusal = true, code
			s.says("Priya", "3x18s high hold", 1)
			s.says("Priya", "my elbow hurts, 5/10", 0)
			s.await("neutral line", func(v discordtest.View) bool { return neutral(v, s.rings) > 0 })
			s.quiet()
			s.fake.Look(func(v discordtest.View) {
				if n := neutral(v, s.rings); n != 1 {
					t.Errorf("%d neutral lines", n)
				}
				for _, m := range v.Messages(s.rings) {
					if m.Author.Bot && !m.Ephemeral && (strings.Contains(m.Text, "elbow") || strings.Contains(m.Text, "practitioner") || len(m.Pings) > 0) {
						t.Errorf("said in public: %q, pings %v", m.Text, m.Pings)
					}
				}
			})
		})
	}
}

func neutral(v discordtest.View, channel *discordtest.Channel) (n int) {
	for _, m := range v.Messages(channel) {
		if strings.Contains(m.Text, "cannot write to you directly") {
			n++
		}
	}
	return n
}

// The buttons under a private text work: a misreading is taken back; a coach
// resumes whom a notice is about.
func TestButtonsUnderPrivateTexts(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	s.says("Priya", "3x18s high hold", 1)
	press := func(name, word string) string {
		t.Helper()
		channel := s.fake.Direct(s.cast[name])
		var on *discordtest.Message
		var id string
		s.await("a button", func(v discordtest.View) bool {
			for _, m := range v.Messages(channel) {
				for _, one := range customIDs(m) {
					if strings.Contains(one, word) {
						on, id = m, one
					}
				}
			}
			return on != nil
		})
		asked := s.fake.Press(on, s.cast[name], id)
		s.answered(asked)
		text, _ := s.heard(asked)
		return text
	}
	s.says("Priya", "my elbow hurts, 5/10", 0)
	if text := press("Priya", "misread"); strings.Contains(text, "Only") || text == "" {
		t.Errorf("misread: %q", text)
	}
	s.says("Priya", "now the wrist hurts, 6/10", 0)
	s.await("second notice", func(v discordtest.View) bool { return len(v.Messages(v.Direct(s.cast["Ilda"]))) == 2 })
	if text := press("Ilda", "resume"); !strings.Contains(text, "Priya") {
		t.Errorf("resume: %q", text)
	}
}
