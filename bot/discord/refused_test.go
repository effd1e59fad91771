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
	"rungbook/store"
	"rungbook/training/programme"
)

// Somebody erased who rejoins is read from then on: the look-back of the next start
// reads in nothing they wrote before, nor does an edit of it, nor a message to the bot
// alone.
func TestRejoinedAreReadFromThenOn(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	s.says("Priya", "3x17s high hold", 1)
	old := s.says("Priya", "3x18s high hold", 1)
	alone := s.saysAlone("Priya", "2x20s support", 1)
	s.ask(s.rings, "Priya", "mydata", opt{Name: "what", Value: "erase"})
	shutOut := s.says("Priya", "3x19s high hold", 0)
	s.quiet()
	s.ask(s.rings, "Priya", "me", opt{Name: "rejoin", Value: "yes"})
	s.end()
	s.clock.add(time.Minute)
	s.fake.Edit(shutOut, "3x20s high hold")
	s.start()
	s.clock.add(time.Minute)
	s.fake.Edit(old, "3x21s high hold, my elbow hurts 5/10")
	s.fake.Edit(alone, "2x22s support")
	s.quiet()
	s.adapter.Rest()
	if logs := s.logged("Priya"); len(logs) != 0 {
		t.Errorf("read in again: %+v", logs)
	}
	s.says("Priya", "3x22s high hold", 1)
	s.end()
	s.start() // now the bot knows where it is alone with her, and reads that too
	s.quiet()
	s.adapter.Rest()
	if logs := s.logged("Priya"); len(logs) != 1 {
		t.Errorf("logs %+v", logs)
	}
}

// What somebody of no team says to the bot alone is refused. It stays so when they
// are of a team and it is read again.
func TestRefusedAloneStaysRefused(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	refused := s.saysAlone("Priya", "2x20s support", 1)
	if text := s.only(refused); !strings.Contains(text, "team") {
		t.Fatalf("not refused: %q", text)
	}
	s.says("Priya", "3x18s high hold", 1)
	s.quiet()
	s.end()
	s.clock.add(time.Minute)
	s.start()
	s.quiet()
	s.adapter.Rest()
	if logs := s.logged("Priya"); len(logs) != 1 {
		t.Errorf("logs %+v", logs)
	}
	s.saysAlone("Priya", "2x21s support", 1)
	if logs := s.logged("Priya"); len(logs) != 2 {
		t.Errorf("logs %+v", logs)
	}
}

// noRoom is the bot's store, which has none while it is full.
type noRoom struct {
	store.As[bot.Tx]
	full *atomic.Bool
}

func (n noRoom) Update(ctx context.Context, do func(bot.Tx) error) error {
	if n.full.Load() {
		return errors.New("disk full")
	}
	return n.As.Update(ctx, do)
}

// A log that was refused on a full disk is not counted at the next start, beside the
// one that its author has written anew.
func TestRefusedOnAFullDiskStaysRefused(t *testing.T) {
	t.Parallel()
	var full atomic.Bool
	s := newStage(t, discordtest.Options{})
	s.options = func(o *discord.Options) {
		o.Bot = bot.New(bot.Options{Store: noRoom{store.As[bot.Tx]{DB: s.db}, &full}, Programme: programme.Builtin(), Programmes: programme.Library{}})
	}
	s.start()
	s.setup()
	s.says("Priya", "3x18s high hold", 1)
	priya := s.fake.Direct(s.cast["Priya"])
	full.Store(true)
	refused := s.says("Priya", "3x19s high hold", 0)
	s.await("a refusal", func(v discordtest.View) bool {
		said := own(v, priya)
		return len(said) > 0 && strings.Contains(said[len(said)-1].Text, "nothing was changed")
	})
	full.Store(false)
	s.clock.add(time.Minute)
	s.beat()
	s.says("Priya", "3x19s high hold", 1)
	s.end()
	s.clock.add(time.Minute)
	s.start()
	s.quiet()
	s.adapter.Rest()
	s.fake.Look(func(v discordtest.View) {
		if n := len(answersTo(v, refused)); n != 0 {
			t.Errorf("answered %d times", n)
		}
	})
	if logs := s.logged("Priya"); len(logs) != 2 {
		t.Errorf("logs %+v", logs)
	}
}
