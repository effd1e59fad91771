package discord_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"rungbook/bot/discord/discordtest"
)

// members of the team who have each logged once, on the Thursday before.
func trained(t testing.TB, options discordtest.Options) *stage {
	s := settled(t, options)
	s.says("Priya", "3x18s high hold", 1)
	s.says("Wen", "3x18s high hold", 1)
	return s
}

// nudges are what the bot says in the channel at its own accord.
func nudges(v discordtest.View, channel *discordtest.Channel) (found []*discordtest.Message) {
	for _, m := range v.Messages(channel) {
		if m.Author.Bot && !m.Ephemeral && len(m.Pings) > 0 {
			found = append(found, m)
		}
	}
	return found
}

// thursday is a minute past the team's nudge time.
var thursday = time.Date(2026, 10, 8, 16, 30, 30, 0, time.UTC)

func TestANudgePingsThoseItNamesAndNobodyElse(t *testing.T) {
	t.Parallel()
	s := trained(t, discordtest.Options{})
	s.clock.set(thursday)
	s.adapter.Beat(context.Background(), s.clock.Now())
	s.await("nudge", func(v discordtest.View) bool { return len(nudges(v, s.rings)) > 0 })
	s.adapter.Beat(context.Background(), s.clock.Now().Add(30*time.Second))
	s.quiet()
	s.adapter.Rest()
	s.fake.Look(func(v discordtest.View) {
		all := nudges(v, s.rings)
		if len(all) != 1 || strings.Join(all[0].Pings, " ") != "Priya Wen" || strings.Contains(all[0].Text, "Priya") {
			t.Errorf("%d nudges, first %q pings %v", len(all), all[0].Text, all[0].Pings)
		}
	})
}

// P7: one visible nudge whatever is lost, with a restart in between as with
// none; with the receipt lost, and with two bots by mistake.
func TestOneNudgeWhateverIsLost(t *testing.T) {
	t.Parallel()
	for name, fault := range map[string]discordtest.Fault{
		"lost answer": discordtest.LostAnswer, "502 after it was done": discordtest.DoneBadGateway, "502": discordtest.BadGateway,
		"cut before": discordtest.CutBefore, "429 in HTML": discordtest.HTMLLimit, "global 429": discordtest.GlobalLimit,
	} {
		for _, restart := range []time.Duration{0, 10 * time.Second, 3 * time.Minute} {
			t.Run(name+" "+restart.String(), func(t *testing.T) {
				t.Parallel() // each has a platform of its own, and waits most of the time
				s := trained(t, discordtest.Options{})
				s.quiet()
				s.fake.Fail(creates, 2, fault)
				s.clock.set(thursday)
				s.adapter.Beat(context.Background(), s.clock.Now())
				s.await("a first try", func(v discordtest.View) bool { return tries(v, "session day") > 0 })
				if restart > 0 {
					s.end()
					s.clock.add(restart)
					s.start()
					s.adapter.Beat(context.Background(), s.clock.Now())
				}
				s.beatUntil("nudge", func(v discordtest.View) bool { return len(nudges(v, s.rings)) > 0 })
				s.quiet()
				for end := time.Now().Add(patience); s.unsent() > 0; s.quiet() {
					if time.Now().After(end) {
						t.Fatal("posts stay unsent")
					}
					s.adapter.Beat(context.Background(), s.clock.Now())
				}
				s.fake.Look(func(v discordtest.View) {
					if n := len(nudges(v, s.rings)); n != 1 {
						t.Errorf("%d nudges", n)
					}
				})
			})
		}
	}
}

// beatUntil waits as await does while the heart beats: an attempt that failed
// while what was left unsent was being sent is made again at the next beat.
func (s *stage) beatUntil(what string, holds func(discordtest.View) bool) {
	s.t.Helper()
	for end := time.Now().Add(patience); !s.fake.Await(time.Second, holds); s.adapter.Beat(context.Background(), s.clock.Now()) {
		if time.Now().After(end) {
			s.t.Fatalf("no %s in %s; log:\n%s", what, patience, s.out)
		}
	}
}

func (s *stage) unsent() int {
	ids, err := s.db.Unsent(context.Background())
	if err != nil {
		s.t.Error(err)
	}
	return len(ids)
}

// Two connections of one bot by mistake: each event comes twice, to two queues.
func TestTwoBotsByMistake(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	twin := *s
	twin.t = t
	twin.run() // on the same database
	s.await("two connections", func(v discordtest.View) bool { return v.Links() == 2 })
	m := s.says("Priya", "3x18s high hold", 1)
	s.says("Wen", "2x18s high hold", 1)
	s.quiet()
	twin.stop()
	if err := <-twin.ended; err != nil {
		t.Error(err)
	}
	twin.stop = nil
	s.fake.Look(func(v discordtest.View) {
		if n := len(answersTo(v, m)); n != 1 {
			t.Errorf("%d answers", n)
		}
	})
	if logs := s.logged("Priya"); len(logs) != 1 {
		t.Errorf("%d logs", len(logs))
	}
}

// P10: what somebody says of their body is in nothing that leaves but the text
// to themselves, and in nothing that stays; an erased member leaves nothing
// here or on the platform.
func TestNothingIsKeptOfBodiesAndOfTheErased(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	m := s.says("Priya", "3x18s high hold", 1)
	s.says("Priya", "zzcanary my left elbow hurts 7/10", 0)
	ilda := s.fake.Direct(s.cast["Ilda"])
	s.await("notice", func(v discordtest.View) bool { return len(v.Messages(ilda)) > 0 })
	priya := s.fake.Direct(s.cast["Priya"])
	s.await("private text", func(v discordtest.View) bool { return len(v.Messages(priya)) > 1 })
	for _, text := range append(s.texts(ilda), s.texts(s.rings)...) {
		if strings.Contains(text, "elbow") || strings.Contains(text, "zzcanary") || strings.Contains(text, "7/10") {
			t.Errorf("said to others: %q", text)
		}
	}
	for _, row := range s.rows() {
		if strings.Contains(row, "zzcanary") || strings.Contains(row, "7/10") {
			t.Error("kept in the database or its log")
		}
	}
	if strings.Contains(s.out.String(), "zzcanary") || strings.Contains(s.out.String(), "elbow") {
		t.Error("logged")
	}
	s.saysAlone("Priya", "2x20s support", 1)
	s.ask(s.rings, "Priya", "mydata", opt{Name: "what", Value: "erase"})
	t.Cleanup(func() {
		if t.Failed() {
			t.Logf("left: %q %q %q", s.texts(s.rings), s.texts(priya), s.texts(ilda))
		}
	})
	s.await("the bot's own posts about her removed", func(v discordtest.View) bool {
		return len(answersTo(v, m)) == 0 && len(own(v, priya)) == 0 && len(own(v, ilda)) == 0
	})
	s.quiet()
	s.end()
	for _, ending := range []string{"", "-wal"} {
		data, err := os.ReadFile(s.path + ending)
		if err != nil && !os.IsNotExist(err) {
			t.Fatal(err)
		}
		if strings.Contains(string(data), "Priya") || strings.Contains(string(data), s.cast["Priya"].ID.String()) {
			t.Errorf("%s still names her", filepath.Base(s.path+ending))
		}
	}
	s.start() // the look-back reads her messages again
	s.quiet()
	if logs := s.logged("Priya"); len(logs) != 0 {
		t.Errorf("read in again: %+v", logs)
	}
}

func own(v discordtest.View, channel *discordtest.Channel) (found []*discordtest.Message) {
	for _, m := range v.Messages(channel) {
		if m.Author.Bot && !m.Ephemeral {
			found = append(found, m)
		}
	}
	return found
}

// rows is the database as text.
func (s *stage) rows() []string {
	s.t.Helper()
	var rows []string
	for _, ending := range []string{"", "-wal"} {
		data, err := os.ReadFile(s.path + ending)
		if err != nil && !os.IsNotExist(err) {
			s.t.Fatal(err)
		}
		rows = append(rows, string(data))
	}
	return rows
}

// P11: any text is safe.
func TestAnyTextIsSafe(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	for _, text := range []string{
		strings.Repeat("3x30s deep hang, ", 230), strings.Repeat("a", 4000), strings.Repeat("9", 4000) + "s deep hang", strings.Repeat("(", 2000),
		"3x30s deep hang \u202e\u200b\u2066", "=cmd|' /C calc'!A0 3x10s high hold", "3x1s <@&1> @here @everyone high hold", "```\n3x30s\n```", strings.Repeat("👩‍🚀", 400),
	} {
		s.clock.add(time.Minute)
		s.fake.Say(s.rings, s.cast["Priya"], text)
	}
	s.quiet()
	s.fake.Look(func(v discordtest.View) {
		for _, m := range v.Messages(s.rings) {
			if m.Author.Bot && (len(m.Pings) > 0 || strings.Contains(m.Text, "\u202e")) {
				t.Errorf("%q pings %v", m.Text, m.Pings)
			}
		}
	})
	if strings.Contains(s.out.String(), "panic") {
		t.Error("a panic")
	}
}

// With no coach known a notice waits and reaches the first one seen.
func TestTheFirstCoachIsNamedAtSetup(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{}) // /setup named Ilda, who has said nothing yet
	s.says("Priya", "3x18s high hold", 1)
	s.says("Priya", "my elbow hurts, 5/10", 0)
	ilda := s.fake.Direct(s.cast["Ilda"])
	s.await("notice", func(v discordtest.View) bool { return len(v.Messages(ilda)) == 1 })
}

// What a command's /mydata export gives is a file with a description.
func TestExportIsAttached(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	s.says("Priya", "3x18s high hold", 1)
	asked := s.ask(s.rings, "Priya", "mydata", opt{Name: "what", Value: "export"})
	s.fake.Look(func(discordtest.View) {
		files := asked.Answer.Files
		if len(files) == 0 || files[0].Size == 0 || files[0].Description == "" || !asked.Answer.Ephemeral {
			t.Errorf("files %+v", files)
		}
	})
}
