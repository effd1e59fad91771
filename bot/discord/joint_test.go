package discord_test

import (
	"context"
	"slices"
	"strings"
	"testing"
	"time"

	"rungbook/bot"
	"rungbook/bot/discord"
	"rungbook/bot/discord/discordtest"
)

// asking is a bot that asks of a joint, besides, whoever says "odd".
type asking struct{ discord.Bot }

const jointQuestion = "Does a joint hurt?"

func (a asking) Step(ctx context.Context, event bot.Event) ([]bot.Post, error) {
	m, ok := event.(bot.Message)
	if !ok || !strings.Contains(m.Text, ", odd") {
		return a.Bot.Step(ctx, event)
	}
	m.Text = strings.ReplaceAll(m.Text, ", odd", "")
	posts, err := a.Bot.Step(ctx, m)
	return append(posts, bot.Post{Kind: bot.Reply, Team: m.Team, To: bot.ToPrivate, Person: m.Author.ID, Name: m.Author.Name, Answers: m.ID,
		Text: jointQuestion, Buttons: []bot.Button{bot.TapHurts, bot.TapFine}, Traceless: true}), err
}

// asked is the question of a joint that stands in a place, nil for none.
func asked(v discordtest.View, channel *discordtest.Channel) *discordtest.Message {
	for _, m := range v.Messages(channel) {
		if m.Text == jointQuestion {
			return m
		}
	}
	return nil
}

// press presses a button of the question in a place and waits for its answer.
func (s *stage) press(name, button string, channel *discordtest.Channel) *discordtest.Interaction {
	s.t.Helper()
	var question *discordtest.Message
	s.await("a question", func(v discordtest.View) bool { question = asked(v, channel); return question != nil })
	ids := customIDs(question)
	at := slices.IndexFunc(ids, func(id string) bool { return strings.HasPrefix(id, "tap:"+button+":") })
	if len(ids) != 2 || at < 0 {
		s.t.Fatalf("buttons %q", ids)
	}
	s.clock.add(time.Second)
	pressed := s.fake.Press(question, s.cast[name], ids[at])
	s.answered(pressed)
	return pressed
}

// TestJointQuestion is asked alone, beside the answer to what was said, and is
// taken down by its own buttons without touching that.
func TestJointQuestion(t *testing.T) {
	t.Parallel()
	s := newStage(t, discordtest.Options{})
	s.options = func(o *discord.Options) { o.Bot = asking{o.Bot} }
	s.start()
	s.setup()
	alone := s.fake.Direct(s.cast["Priya"])

	log := s.says("Priya", "3x18s high hold, odd", 1)
	s.press("Priya", "fine", alone)
	s.await("the question gone", func(v discordtest.View) bool { return asked(v, alone) == nil })
	if got := s.only(log); !strings.Contains(got, "high hold") {
		t.Errorf("the log's answer reads %q", got)
	}

	direct := s.saysAlone("Priya", "3x20s support, odd", 2)
	s.fake.Edit(direct, "3x25s support")
	s.await("revision", func(v discordtest.View) bool {
		of := answersTo(v, direct)
		return len(of) == 2 && of[0].Edits+of[1].Edits == 1 && asked(v, alone).Edits == 0
	})
	pressed := s.press("Priya", "hurts", alone)
	s.await("a pause", func(v discordtest.View) bool {
		return asked(v, alone) == nil && strings.Contains(pressed.Answer.Text, "Please stop ring work now.")
	})
	ilda := s.fake.Direct(s.cast["Ilda"])
	s.await("a word to the coach", func(v discordtest.View) bool {
		return slices.ContainsFunc(v.Messages(ilda), func(m *discordtest.Message) bool { return strings.Contains(m.Text, "Priya is paused") })
	})
}

// TestJointQuestionBesideACommand can be seen by one alone, and can't be removed:
// it becomes a word.
func TestJointQuestionBesideACommand(t *testing.T) {
	t.Parallel()
	s := newStage(t, discordtest.Options{})
	s.options = func(o *discord.Options) { o.Bot = asking{o.Bot} }
	s.start()
	s.setup()
	for name, button := range map[string]string{"Priya": "fine", "Wen": "hurts"} {
		s.ask(s.rings, name, "log", opt{Name: "text", Value: "3x20s support, odd"})
		pressed := s.press(name, button, s.rings)
		s.await("the question gone", func(v discordtest.View) bool {
			return asked(v, s.rings) == nil && pressed.Callback == discordtest.Touches
		})
		if button == "hurts" {
			s.await("a pause", func(discordtest.View) bool {
				return len(pressed.More) == 1 && pressed.More[0].Ephemeral && strings.Contains(pressed.More[0].Text, "Please stop ring work now.")
			})
		}
	}
}
