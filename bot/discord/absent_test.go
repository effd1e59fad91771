package discord_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"rungbook/bot/discord"
	"rungbook/bot/discord/discordtest"
)

const oneMessage = "GET /channels/{channel_id}/messages/{message_id}"

// Where the history may not be read nothing is taken for deleted; a coach hears of it
// once, and what is said there is answered without a reference. When it may be read
// again, all that happened meanwhile is taken in.
func TestHistoryTakenAwayRemovesNothing(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	thread := s.fake.Thread(s.rings, "monday")
	kept, gone := s.says("Priya", "3x18s high hold", 1), s.says("Wen", "3x19s high hold", 1)
	under := s.fake.Say(thread, s.cast["Bako"], "3x17s high hold")
	s.await("answer in the thread", func(v discordtest.View) bool { return len(answersTo(v, under)) == 1 })
	s.adapter.Rest()
	s.end()
	s.clock.add(time.Minute)
	s.fake.Deny(s.rings, discordtest.ReadHistory)
	s.fake.Delete(gone)
	missed := s.fake.Say(s.rings, s.cast["Sanna"], "3x16s high hold")
	s.start()
	s.quiet()
	s.adapter.Rest()
	for _, name := range []string{"Priya", "Wen", "Bako"} {
		if logs := s.logged(name); len(logs) != 1 {
			t.Errorf("%s has %d logs", name, len(logs))
		}
	}
	s.fake.Look(func(v discordtest.View) {
		if len(answersTo(v, kept)) != 1 || len(answersTo(v, under)) != 1 {
			t.Error("an answer was taken down")
		}
	})
	now := s.says("Mirela", "3x15s high hold", 0)
	s.await("an answer without a reference", func(v discordtest.View) bool { return said(v, s.rings, "15 s") == 1 })
	s.fake.Reconnect()
	s.await("a new connection", func(v discordtest.View) bool { return v.Identifies() == 3 && v.Links() == 1 })
	s.quiet()
	s.adapter.Rest()
	told := "In <#" + s.rings.ID.String() + "> I lack Read Message History."
	s.fake.Look(func(v discordtest.View) {
		if n := said(v, v.Direct(s.cast["Ilda"]), told); n != 1 || len(answersTo(v, now)) != 0 {
			t.Errorf("a coach is told %d times, and a reply got through: %d", n, len(answersTo(v, now)))
		}
	})
	s.fake.Allow(s.rings)
	s.says("Mirela", "3x20s high hold", 1) // by which it is seen
	s.beatUntil("what was missed", func(v discordtest.View) bool { return len(answersTo(v, missed)) == 1 && len(answersTo(v, gone)) == 0 })
	s.adapter.Rest()
	if logs := s.logged("Wen"); len(logs) != 0 {
		t.Errorf("what was deleted is kept: %+v", logs)
	}
	s.fake.Deny(s.rings, discordtest.ReadHistory)
	s.says("Mirela", "3x21s high hold", 0)
	s.await("the coach told of the second loss", func(v discordtest.View) bool { return said(v, v.Direct(s.cast["Ilda"]), told) == 2 })
}

// said counts the bot's messages in a place that hold the words.
func said(v discordtest.View, channel *discordtest.Channel, words string) (n int) {
	for _, m := range v.Messages(channel) {
		if m.Author.ID == discordtest.ApplicationID && strings.Contains(m.Text, words) {
			n++
		}
	}
	return n
}

// A message that a page does not show is asked for before its log is removed: here
// and alone with somebody.
func TestAbsenceIsNoDeletion(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	hidden, edited, gone := s.says("Priya", "3x18s high hold", 1), s.says("Wen", "3x19s high hold", 1), s.says("Bako", "3x17s high hold", 1)
	alone := s.saysAlone("Priya", "2x20s support", 1)
	s.adapter.Rest()
	s.end()
	s.clock.add(time.Minute)
	s.fake.Edit(edited, "3x25s high hold")
	s.fake.Hide(hidden, edited, alone)
	s.fake.Delete(gone)
	s.fake.Fail(oneMessage, 2, discordtest.HTMLLimit)
	s.start()
	s.await("what happened", func(v discordtest.View) bool {
		revised := answersTo(v, edited)
		return len(answersTo(v, gone)) == 0 && len(revised) == 1 && strings.Contains(revised[0].Text, "25 s")
	})
	s.quiet()
	s.adapter.Rest()
	for name, want := range map[string]int{"Priya": 2, "Wen": 1, "Bako": 0} {
		if logs := s.logged(name); len(logs) != want {
			t.Errorf("%s has %d logs, want %d", name, len(logs), want)
		}
	}
}

// Of many that are absent so many are asked for in one read, the others later.
func TestAbsentMessagesAreAskedForInMeasure(t *testing.T) {
	t.Parallel()
	s := newStage(t, discordtest.Options{})
	s.options = func(o *discord.Options) { discord.Slowly(o, time.Microsecond) }
	s.start()
	s.setup()
	const more = 20
	var all []*discordtest.Message
	for i := range discord.MostAsked + more {
		all = append(all, s.fake.Say(s.rings, s.cast["Priya"], fmt.Sprintf("1x%ds support", 5+i%20)))
	}
	s.await("answers", func(v discordtest.View) bool { return len(answersTo(v, all[len(all)-1])) == 1 })
	s.adapter.Rest()
	s.end()
	s.fake.Delete(all...)
	var before int
	s.fake.Look(func(v discordtest.View) { before = len(v.Requests()) })
	s.start()
	s.await("a read", func(v discordtest.View) bool { return asks(v, oneMessage, before) >= discord.MostAsked })
	s.quiet()
	s.adapter.Rest()
	s.fake.Look(func(v discordtest.View) {
		if n := asks(v, oneMessage, before); n != discord.MostAsked {
			t.Errorf("%d asked for at once", n)
		}
	})
	if logs := s.logged("Priya"); len(logs) != more {
		t.Errorf("%d logs are left, want %d", len(logs), more)
	}
	s.beatUntil("the rest", func(v discordtest.View) bool { return asks(v, oneMessage, before) == len(all) })
	s.adapter.Rest()
	if logs := s.logged("Priya"); len(logs) != 0 {
		t.Errorf("%d logs are left", len(logs))
	}
}
