package discord_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"rungbook/bot/discord"
	"rungbook/bot/discord/discordtest"
)

const (
	histories = "GET /channels/{channel_id}/messages"
	threads   = "GET /guilds/{guild_id}/threads/active"
)

// asks counts the requests of a route since so many requests.
func asks(v discordtest.View, route string, since int) (n int) {
	for _, r := range v.Requests()[since:] {
		if r.Method+" "+r.Route == route {
			n++
		}
	}
	return n
}

// A start asks for no more than it must: nothing where nothing can have
// changed, the look-back where only what was said before can have, all where
// something was said.
func TestCatchUpAsksForNoMoreThanItMust(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	s.says("Priya", "3x18s high hold", 1)
	s.says("Priya", "who brings the tape?", 0)
	for _, c := range []struct {
		away time.Duration
		says string
		asks int
	}{{time.Hour, "", 1}, {72 * time.Hour, "", 0}, {72 * time.Hour, "3x19s high hold", 1}, {time.Hour, "", 1}, {49 * time.Hour, "", 0}} {
		s.quiet()
		s.adapter.Rest()
		s.end()
		s.clock.add(c.away)
		if c.says != "" {
			s.fake.Say(s.rings, s.cast["Wen"], c.says)
		}
		var before int
		s.fake.Look(func(v discordtest.View) { before = len(v.Requests()) })
		s.start()
		s.quiet()
		s.adapter.Rest()
		s.fake.Look(func(v discordtest.View) {
			if n := asks(v, histories, before) - len(direct(v, before)); n != c.asks || asks(v, threads, before) != 0 {
				t.Errorf("%s later, %q: asked for %d pages of the channel, want %d, and %d times for threads", c.away, c.says, n, c.asks, asks(v, threads, before))
			}
		})
	}
}

// direct are the requests for what was said to the bot alone.
func direct(v discordtest.View, since int) (paths []string) {
	for _, r := range v.Requests()[since:] {
		for _, u := range v.People() {
			if r.Method+" "+r.Route == histories && strings.Contains(r.Path, "/"+v.Direct(u).ID.String()+"/") {
				paths = append(paths, r.Path)
			}
		}
	}
	return paths
}

// crowd is a stage with so many more servers, each with a team, in which
// something was said and taken in.
func crowd(t *testing.T, servers int) (*stage, []*discordtest.Channel) {
	s := settled(t, discordtest.Options{})
	places := []*discordtest.Channel{s.rings}
	for i := range servers {
		guild := s.fake.Guild(fmt.Sprintf("Tidewater Rings %d", i+2))
		channel := s.fake.Channel(guild, "rings")
		s.fake.Join(guild, s.cast["Rui"], s.fake.Role(guild, "steward", discordtest.ManageGuild))
		s.fake.Join(guild, s.cast["Wen"])
		made := s.fake.Slash(channel, s.cast["Rui"], "setup", opt{Name: "zone", Value: "Europe/Lisbon"}, opt{Name: "days", Value: "Tue Fri"})
		s.await("another team", func(discordtest.View) bool { return len(made.More) > 0 })
		places = append(places, channel)
	}
	s.clock.add(time.Minute)
	for _, channel := range places {
		s.fake.Say(channel, s.cast["Wen"], "who brings the tape?")
	}
	s.quiet()
	s.adapter.Rest()
	s.end()
	s.clock.add(time.Hour)
	return s, places
}

// What somebody waits for is met, and what is new is read, before what may have
// changed is looked for in all the other servers. Nothing is read while all of
// them are being shown, so that it is not the machine's speed that decides: the
// one with something new is shown last, and is read first.
func TestWhatIsNewComesFirst(t *testing.T) {
	t.Parallel()
	s, places := crowd(t, 20)
	var free func()
	s.prepare = func(a *discord.Adapter) { free = a.FillReading() }
	fresh, asking, last := places[len(places)-1], places[len(places)-2], places[len(places)-3]
	missed := s.fake.Say(fresh, s.cast["Wen"], "3x18s high hold")
	var before int
	s.fake.Look(func(v discordtest.View) { before = len(v.Requests()) })
	s.start()
	s.awaitBot("all servers shown", func() bool { return s.adapter.ToBeRead() == len(places) })
	asked := s.fake.Slash(asking, s.cast["Wen"], "help")
	said := s.fake.Say(last, s.cast["Wen"], "3x18s high hold")
	s.await("answers", func(v discordtest.View) bool { return asked.Callback != 0 && len(answersTo(v, said)) == 1 })
	free()
	s.await("an answer to what is new", func(v discordtest.View) bool { return len(answersTo(v, missed)) == 1 })
	s.fake.Look(func(v discordtest.View) {
		read := slices.DeleteFunc(slices.Clone(v.Requests()[before:]), func(r discordtest.Request) bool { return r.Method+" "+r.Route != histories })
		if first := read[0].Path; !strings.HasSuffix(first, "/"+fresh.ID.String()+"/messages") {
			t.Errorf("%s was read before what is new", first)
		}
	})
	for range discord.MostReading - 1 {
		free()
	}
	s.await("the look-back everywhere", func(v discordtest.View) bool {
		return asks(v, histories, before)-len(direct(v, before)) == len(places)
	})
}

// What somebody says to the bot alone is met behind what they said before it,
// while the bot was away.
func TestDirectMessagesKeepTheirOrder(t *testing.T) {
	t.Parallel()
	s, _ := crowd(t, 20)
	s.start()
	s.says("Priya", "3x18s high hold", 1)
	s.saysAlone("Priya", "2x20s support", 1)
	s.quiet()
	s.adapter.Rest()
	s.end()
	s.options = func(o *discord.Options) { discord.Slowly(o, 200*time.Millisecond) }
	s.clock.add(time.Minute)
	channel := s.fake.Direct(s.cast["Priya"])
	missed := s.fake.Say(channel, s.cast["Priya"], "2x21s support")
	s.start()
	said := s.fake.Say(channel, s.cast["Priya"], "2x22s support")
	s.await("an answer", func(v discordtest.View) bool { return len(answersTo(v, said)) == 1 })
	s.fake.Look(func(v discordtest.View) {
		before := answersTo(v, missed)
		if len(before) != 1 || before[0].ID > answersTo(v, said)[0].ID {
			t.Errorf("what was said before has %d answers", len(before))
		}
	})
}

// A server that is not shown after READY is read all the same.
func TestAServerThatIsNotShownIsRead(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	s.end()
	s.clock.add(time.Minute)
	m := s.fake.Say(s.rings, s.cast["Priya"], "3x18s high hold")
	s.fake.Drop(func(kind string) bool { return kind == "GUILD_CREATE" })
	s.start()
	s.quiet()
	s.clock.add(30 * time.Second)
	s.adapter.Beat(t.Context(), s.clock.Now())
	s.await("an answer", func(v discordtest.View) bool { return len(answersTo(v, m)) == 1 })
}

// What could not be read is not taken for read because of what was said after
// it: it is found however much later.
func TestAGapIsNotForgotten(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	s.says("Wen", "3x18s high hold", 1)
	s.adapter.Rest()
	s.end()
	s.clock.add(time.Minute)
	m := s.fake.Say(s.rings, s.cast["Priya"], "3x18s high hold")
	s.fake.Fail(histories, 1000, discordtest.BadGateway)
	s.start()
	s.says("Wen", "3x19s high hold", 1)
	s.adapter.Rest()
	s.adapter.Beat(t.Context(), s.clock.Now())
	s.adapter.Rest()
	s.end()
	s.fake.Unstall()
	s.clock.add(72 * time.Hour)
	s.start()
	s.await("mark", func(discordtest.View) bool { return len(m.Marks) == 1 })
	if logs := s.logged("Priya"); len(logs) != 1 {
		t.Errorf("logs %+v", logs)
	}
}

// A channel that is the team's no longer is not read any more.
func TestAFormerChannelIsNotRead(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	other := s.fake.Channel(s.tide, "training")
	s.ask(s.rings, "Rui", "setup", opt{Name: "channel", Value: discordtest.ChannelValue(other)})
	s.end()
	s.clock.add(time.Minute)
	old, now := s.fake.Say(s.rings, s.cast["Priya"], "3x18s high hold"), s.fake.Say(other, s.cast["Wen"], "3x18s high hold")
	s.start()
	s.await("an answer", func(v discordtest.View) bool { return len(answersTo(v, now)) == 1 })
	s.adapter.Rest()
	s.fake.Look(func(v discordtest.View) {
		if n := len(answersTo(v, old)); n != 0 {
			t.Errorf("%d answers in the former channel", n)
		}
	})
}
