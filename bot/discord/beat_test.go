package discord_test

import (
	"context"
	"errors"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"rungbook/bot"
	"rungbook/bot/discord"
	"rungbook/bot/discord/discordtest"
	"rungbook/bot/outbox"
	"rungbook/training"
)

// delivers is an outbox that resumes nothing, so that what is said is sent where
// it was said.
type delivers struct{ discord.Outbox }

func (delivers) Resume(context.Context, outbox.Sender, time.Time) ([]outbox.Outcome, error) {
	return nil, nil
}

// TestAnswersDoNotWaitForANudge: a nudge that hangs on its way holds up no
// answer in the same channel.
func TestAnswersDoNotWaitForANudge(t *testing.T) {
	t.Parallel()
	s := newStage(t, discordtest.Options{})
	s.options = func(o *discord.Options) { o.Outbox = delivers{o.Outbox} }
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

// failing is a bot whose store cannot be written to now and then.
type failing struct {
	discord.Bot
	beats *atomic.Int32 // that fail
}

func (f failing) Step(ctx context.Context, event bot.Event) ([]bot.Post, error) {
	if _, beat := event.(bot.Beat); beat && f.beats.Add(-1) >= 0 {
		return nil, errors.New("the disk is full")
	}
	return f.Bot.Step(ctx, event)
}

// nudged beats and reports whether the nudge of the day is out.
func (s *stage) nudged(at time.Time) (n int) {
	s.t.Helper()
	s.clock.set(at)
	s.adapter.Beat(s.t.Context(), at)
	s.adapter.Rest()
	s.fake.Look(func(v discordtest.View) { n = len(nudges(v, s.rings)) })
	return n
}

// A beat that fails is made again, though nothing else is due before tomorrow.
func TestABeatThatFailsIsMadeAgain(t *testing.T) {
	t.Parallel()
	s, fails := newStage(t, discordtest.Options{}), &atomic.Int32{}
	s.options = func(o *discord.Options) { o.Bot = failing{o.Bot, fails} }
	s.start()
	s.setup()
	s.says("Priya", "3x18s high hold", 1)
	fails.Store(2)
	for i, want := range []int{0, 0, 1} {
		if n := s.nudged(thursday.Add(time.Duration(i) * 30 * time.Second)); n != want {
			t.Errorf("beat %d: %d nudges", i, n)
		}
	}
}

// What is known of the next due instant is forgotten when the clock is set back
// and when somebody moves to where it comes earlier.
func TestABeatFollowsTheClockAndTheZone(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	s.says("Priya", "3x18s high hold", 1)
	s.nudged(thursday.AddDate(0, 0, -2).Add(20 * time.Hour)) // Wednesday, by a clock that is wrong
	if n := s.nudged(thursday.AddDate(0, 0, -3).Add(4 * time.Hour)); n != 0 {
		t.Fatalf("%d nudges on a Monday", n)
	}
	s.nudged(time.Date(2026, 10, 8, 13, 0, 0, 0, time.UTC)) // Thursday, 14:00 in Lisbon
	s.ask(s.rings, "Priya", "me", opt{Name: "zone", Value: "Europe/Athens"})
	if n := s.nudged(time.Date(2026, 10, 8, 14, 30, 20, 0, time.UTC)); n != 1 { // 17:30 in Athens
		t.Errorf("%d nudges", n)
	}
}

// Teams that are busy hold up no nudge of another's.
func TestABeatPassesTeamsThatAreBusy(t *testing.T) {
	t.Parallel()
	s, places := crowd(t, 6)
	s.start()
	last := places[len(places)-1]
	m := s.fake.Say(last, s.cast["Wen"], "3x18s high hold")
	s.await("answer", func(v discordtest.View) bool { return len(answersTo(v, m)) == 1 })
	s.quiet()
	s.adapter.Rest()
	done := make(chan struct{})
	for _, channel := range places[:len(places)-1] {
		s.adapter.Block(training.TeamID(channel.Guild.ID), done)
	}
	s.clock.set(thursday.AddDate(0, 0, 1))
	s.adapter.Beat(t.Context(), s.clock.Now())
	s.await("nudge", func(v discordtest.View) bool { return len(nudges(v, last)) == 1 })
	close(done)
}

// P3: a nudge that the platform did not take before its time was over is told
// to the coach in the digest, and to nobody before.
func TestANudgeThatCameTooLateIsInTheDigest(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	s.says("Priya", "3x18s high hold", 1)
	s.adapter.Rest()
	s.fake.Fail(creates, 1000, discordtest.BadGateway)
	s.nudged(thursday)
	s.fake.Unstall()
	if n := s.nudged(thursday.Add(5 * time.Hour)); n != 0 { // 22:30 in Lisbon
		t.Errorf("%d nudges late in the evening", n)
	}
	ilda := s.fake.Direct(s.cast["Ilda"])
	if said := s.texts(ilda); len(said) > 0 {
		t.Errorf("told before the digest: %q", said)
	}
	s.nudged(time.Date(2026, 10, 11, 17, 0, 20, 0, time.UTC)) // Sunday, 18:00 in Lisbon
	s.await("digest", func(v discordtest.View) bool { return len(v.Messages(ilda)) == 1 })
	if said := s.texts(ilda); !strings.Contains(said[0], "Not nudged") || !strings.Contains(said[0], "Priya on 8 Oct") {
		t.Errorf("digest %q", said)
	}
}
