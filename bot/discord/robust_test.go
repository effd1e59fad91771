package discord_test

import (
	"context"
	"strings"
	"testing"
	"time"

	"rungbook/bot"
	"rungbook/bot/discord"
	"rungbook/bot/discord/discordtest"
)

// fragile is a bot that falls over one word.
type fragile struct{ discord.Bot }

func (f fragile) Step(ctx context.Context, event bot.Event) ([]bot.Post, error) {
	if m, ok := event.(bot.Message); ok && strings.Contains(m.Text, "zzcanary") {
		panic(m.Text)
	}
	return f.Bot.Step(ctx, event)
}

// A panic takes nothing with it, and what it was about is not logged.
func TestAPanicTakesNothingWithIt(t *testing.T) {
	t.Parallel()
	s := newStage(t, discordtest.Options{})
	s.options = func(o *discord.Options) { o.Bot = fragile{o.Bot} }
	s.start()
	s.setup()
	s.says("Priya", "zzcanary", 0)
	asked := s.fake.Slash(s.rings, s.cast["Priya"], "help", opt{Name: "topic", Value: "zzcanary"})
	s.says("Priya", "3x18s high hold", 1)
	s.answered(asked)
	if text, _ := s.heard(asked); !strings.Contains(text, "wrong") {
		t.Errorf("who asked hears %q", text)
	}
	if log := s.out.String(); !strings.Contains(log, "panic") || strings.Contains(log, "zzcanary") {
		t.Error("the log does not tell of it, or tells too much")
	}
}

// Messages removed at once by a moderator take their answers with them.
func TestMessagesDeletedAtOnce(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	one, two := s.says("Priya", "3x18s high hold", 1), s.says("Wen", "3x19s high hold", 1)
	s.fake.Delete(one, two)
	s.await("withdrawals", func(v discordtest.View) bool { return len(answersTo(v, one)) == 0 && len(answersTo(v, two)) == 0 })
	if logs := append(s.logged("Priya"), s.logged("Wen")...); len(logs) != 0 {
		t.Errorf("logs %+v", logs)
	}
}

// An interaction that can be answered no more, 15 minutes after, is answered the
// ordinary way: to one alone directly, to all in the channel.
func TestAnInteractionThatIsOver(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{AskedTime: 3 * time.Second})
	s.says("Priya", "3x18s high hold", 1)
	release := s.hold()
	alone := s.fake.Slash(s.rings, s.cast["Priya"], "history")
	public := s.fake.Slash(s.rings, s.cast["Priya"], "log", opt{Name: "text", Value: "3x19s high hold"})
	s.await("deferral", func(discordtest.View) bool {
		return alone.Callback == discordtest.Defers && public.Callback == discordtest.Defers
	})
	s.fake.Expire(alone)
	s.fake.Expire(public)
	release()
	s.await("answers", func(v discordtest.View) bool {
		said := strings.Join(textsOf(v, s.rings), "\n")
		return strings.Contains(said, "3×19 s") && strings.Contains(strings.Join(textsOf(v, v.Direct(s.cast["Priya"])), "\n"), "18")
	})
}

func textsOf(v discordtest.View, channel *discordtest.Channel) (texts []string) {
	for _, m := range v.Messages(channel) {
		if m.Author.Bot && !m.Ephemeral {
			texts = append(texts, m.Text)
		}
	}
	return texts
}

// Direct channels are opened one after the other: the platform takes many at
// once for spam.
func TestDirectChannelsAreOpenedOneByOne(t *testing.T) {
	t.Parallel()
	s := newStage(t, discordtest.Options{Clock: time.Now})
	s.options = func(o *discord.Options) { o.Clock = time.Now }
	s.start()
	s.setup()
	for _, name := range members[:4] {
		s.fake.Say(s.rings, s.cast[name], "3x18s high hold")
	}
	const opens = "POST /users/@me/channels"
	s.await("welcomes", func(v discordtest.View) bool { return asks(v, opens, 0) == 4 })
	s.fake.Look(func(v discordtest.View) {
		var last time.Time
		for _, r := range v.Requests() {
			if r.Method+" "+r.Route != opens {
				continue
			}
			if apart := r.At.Sub(last); apart < 400*time.Millisecond {
				t.Errorf("two within %s", apart)
			}
			last = r.At
		}
	})
}
