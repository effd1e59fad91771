package discord_test

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"rungbook/bot/discord/discordtest"
	"rungbook/store"
	"rungbook/training"
)

const askMember = "/guilds/{guild_id}/members/{user_id}"

// unled is the stage with a team whose coaches are so by the role alone.
func unled(t *testing.T) *stage {
	t.Helper()
	s := newStage(t, discordtest.Options{})
	s.start()
	asked := s.fake.Slash(s.rings, s.cast["Rui"], "setup",
		discordtest.Option{Name: "channel", Value: discordtest.ChannelValue(s.rings)}, discordtest.Option{Name: "coach-role", Value: s.coaches},
		discordtest.Option{Name: "zone", Value: "Europe/Lisbon"}, discordtest.Option{Name: "days", Value: "Mon Thu"},
		discordtest.Option{Name: "digest", Value: "Sun 18:00"})
	s.await("an answer to /setup", func(discordtest.View) bool { return len(asked.More) > 0 })
	return s
}

// led is the stage with a team whose only coach is Ilda, by the role.
func led(t *testing.T) *stage {
	t.Helper()
	s := unled(t)
	s.ask(s.rings, "Ilda", "coach roster")
	return s
}

// told is what somebody was told alone.
func (s *stage) told(name string) []string { return s.texts(s.fake.Direct(s.cast[name])) }

// awaitTold waits until somebody is told so many things alone.
func (s *stage) awaitTold(name string, n int) {
	s.t.Helper()
	channel := s.fake.Direct(s.cast[name])
	s.await("word to "+name, func(v discordtest.View) bool { return len(v.Messages(channel)) >= n })
}

// coach reports whether the roster has somebody as a coach.
func (s *stage) coach(name string) (is bool) {
	s.t.Helper()
	err := s.db.View(context.Background(), func(tx *store.Tx) error {
		who, _, err := tx.Member(training.TeamID(s.tide.ID), training.PersonID(s.cast[name].ID))
		is = who.Coach
		return err
	})
	if err != nil {
		s.t.Fatal(err)
	}
	return is
}

// awaitNoCoach waits until the roster has somebody as a coach no longer.
func (s *stage) awaitNoCoach(name string) {
	s.t.Helper()
	s.awaitBot(name+" off the roster as a coach", func() bool { return !s.coach(name) })
}

// awaitAllSent waits, beat by beat, until no post is to be sent any more.
func (s *stage) awaitAllSent() {
	s.t.Helper()
	s.awaitBot("end of what is to be sent", func() bool {
		s.adapter.Beat(context.Background(), s.clock.Now())
		return s.unsent() == 0
	})
}

// questions is how often the platform was asked for somebody.
func (s *stage) questions(v discordtest.View, name string) (n int) {
	for _, r := range v.Requests() {
		if r.Route == askMember && strings.HasSuffix(r.Path, "/"+s.cast[name].ID.String()) {
			n++
		}
	}
	return n
}

func (s *stage) asked(name string) (n int) {
	s.fake.Look(func(v discordtest.View) { n = s.questions(v, name) })
	return n
}

// leave takes somebody out of the server. They share another with the bot, which
// could write to them still.
func (s *stage) leave(name string) {
	s.fake.Join(s.fake.Guild("Saltmarsh Climbers"), s.cast[name])
	s.fake.Leave(s.tide, s.cast[name].ID)
}

// hurts has a member say that something hurts, which a coach is told.
func (s *stage) hurts(name string) {
	s.t.Helper()
	s.says(name, "3x18s high hold", 1)
	s.says(name, "my elbow hurts, 5/10", 0)
	s.awaitTold(name, 1)
}

// Of whoever is no coach any more, though the platform has not told so, nothing is
// said to them; the next coach is told.
func TestNoNoticeToWhoIsNoCoachAnyMore(t *testing.T) {
	t.Parallel()
	for name, ends := range map[string]func(s *stage){
		"role taken away": func(s *stage) { s.fake.Grant(s.tide, s.cast["Ilda"]) },
		"left the server": func(s *stage) { s.leave("Ilda") },
		"role removed":    func(s *stage) { s.fake.RemoveRole(s.tide, s.coaches) },
		"role moved": func(s *stage) {
			other := s.fake.Role(s.tide, "trainer", 0)
			s.fake.Grant(s.tide, s.cast["Bako"], other)
			s.ask(s.rings, "Rui", "setup", opt{Name: "coach-role", Value: other})
		},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := led(t)
			ends(s)
			s.hurts("Priya")
			s.awaitNoCoach("Ilda")
			asked := s.fake.Slash(s.rings, s.cast["Rui"], "setup", opt{Name: "coach", Value: s.cast["Bako"]})
			s.answered(asked)
			s.awaitTold("Bako", 1)
			if texts := s.told("Bako"); !strings.Contains(texts[0], "Priya is paused") {
				t.Errorf("the next coach is told %q", texts)
			}
			if texts := s.told("Ilda"); len(texts) != 0 {
				t.Errorf("who is no coach is told %q", texts)
			}
			s.awaitAllSent()
		})
	}
}

// A digest is for who is a coach when it is sent.
func TestNoDigestToWhoIsNoCoachAnyMore(t *testing.T) {
	t.Parallel()
	s := led(t)
	s.fake.Grant(s.tide, s.cast["Bako"], s.coaches)
	s.ask(s.rings, "Bako", "coach roster")
	s.says("Priya", "3x18s high hold", 1)
	s.fake.Grant(s.tide, s.cast["Ilda"])
	s.clock.set(time.Date(2026, 10, 11, 17, 0, 30, 0, time.UTC)) // Sunday, 18:00 in Lisbon
	s.adapter.Beat(context.Background(), s.clock.Now())
	s.awaitTold("Bako", 1)
	s.awaitNoCoach("Ilda")
	s.awaitAllSent()
	if texts := s.told("Ilda"); len(texts) != 0 {
		t.Errorf("told %q", texts)
	}
	if texts := s.told("Bako"); len(texts) != 1 {
		t.Errorf("a coach is told %q", texts)
	}
}

// What a coach was told of goes to the next one too, once no coach is left.
func TestTheNextCoachIsToldOfPausesThatRun(t *testing.T) {
	t.Parallel()
	s := led(t)
	s.hurts("Priya")
	s.awaitTold("Ilda", 1)
	s.fake.Grant(s.tide, s.cast["Ilda"])
	s.says("Ilda", "good evening", 0)
	s.awaitNoCoach("Ilda")
	s.fake.Grant(s.tide, s.cast["Bako"], s.coaches)
	s.says("Bako", "good evening", 0)
	s.awaitTold("Bako", 1)
	s.fake.Grant(s.tide, s.cast["Bako"])
	s.fake.Grant(s.tide, s.cast["Ilda"], s.coaches)
	s.says("Bako", "good night", 0)
	s.says("Ilda", "good night", 0)
	s.awaitTold("Ilda", 2)
	if ilda, bako := s.told("Ilda"), s.told("Bako"); len(ilda) != 2 || len(bako) != 1 {
		t.Errorf("told %q and %q", ilda, bako)
	}
}

// While the platform can't say who is a coach, what is for coaches waits.
func TestANoticeWaitsForThePlatformsWord(t *testing.T) {
	t.Parallel()
	for name, fault := range map[string]discordtest.Fault{
		"502": discordtest.BadGateway, "no answer": discordtest.CutBefore, "slow down": discordtest.HTMLLimit,
	} {
		for _, stays := range []bool{true, false} {
			t.Run(fmt.Sprintf("%s, stays a coach: %t", name, stays), func(t *testing.T) {
				t.Parallel()
				s := led(t)
				s.fake.Fail("GET "+askMember, 1000, fault)
				s.hurts("Priya")
				s.await("three questions", func(v discordtest.View) bool { return s.questions(v, "Ilda") >= 3 })
				if texts := s.told("Ilda"); len(texts) != 0 || !s.coach("Ilda") {
					t.Fatalf("told %q, a coach: %t", texts, s.coach("Ilda"))
				}
				if !stays {
					s.fake.Grant(s.tide, s.cast["Ilda"])
				}
				s.fake.Unstall()
				if stays {
					s.awaitTold("Ilda", 1)
				} else {
					s.awaitNoCoach("Ilda")
				}
				s.awaitAllSent()
				want := 0
				if stays {
					want = 1
				}
				if texts := s.told("Ilda"); len(texts) != want {
					t.Errorf("told %q, want %d", texts, want)
				}
			})
		}
	}
}

// Many things said to a coach at once ask the platform once; later ones ask again.
func TestACoachIsAskedForOnceAtATime(t *testing.T) {
	t.Parallel()
	s := led(t)
	for _, name := range []string{"Priya", "Wen", "Sanna"} {
		s.says(name, "3x18s high hold", 1)
	}
	for _, name := range []string{"Priya", "Wen", "Sanna"} {
		s.fake.Say(s.rings, s.cast[name], "my elbow hurts")
	}
	s.awaitTold("Ilda", 3)
	if n := s.asked("Ilda"); n != 1 {
		t.Errorf("asked %d times for three notices", n)
	}
	s.hurts("Mirela")
	s.awaitTold("Ilda", 4)
	if n := s.asked("Ilda"); n != 2 {
		t.Errorf("asked %d times for one more, later", n)
	}
}

// Whom /setup named a coach is told what coaches are, and commands as they do, until
// /coach member remove: or until they leave the server.
func TestACoachNamedByHand(t *testing.T) {
	t.Parallel()
	s := unled(t)
	s.ask(s.rings, "Rui", "setup", opt{Name: "coach", Value: s.cast["Bako"]})
	s.ask(s.rings, "Rui", "setup", opt{Name: "coach", Value: s.cast["Wen"]})
	s.hurts("Priya")
	s.awaitTold("Bako", 1)
	if text, _ := s.heard(s.ask(s.rings, "Bako", "coach roster")); refusal(text) {
		t.Errorf("by the form: %q", text)
	}
	if m := s.says("Bako", "/coach roster", 0); m != nil {
		s.awaitTold("Bako", 2)
	}
	if text := s.told("Bako")[1]; refusal(text) || !strings.Contains(text, "Priya") {
		t.Errorf("typed: %q", text)
	}
	if m := s.saysAlone("Bako", "/coach roster", 1); refusal(s.only(m)) {
		t.Errorf("alone: %q", s.only(m))
	}
	text, _ := s.heard(s.ask(s.rings, "Wen", "coach member", opt{Name: "name", Value: s.cast["Bako"]}, opt{Name: "remove", Value: "yes"}))
	if !strings.Contains(text, "no coach here any more") || s.coach("Bako") {
		t.Errorf("removed: %q", text)
	}
	if text, _ := s.heard(s.ask(s.rings, "Bako", "coach roster")); !refusal(text) {
		t.Errorf("commands after it: %q", text)
	}
	before := len(s.told("Bako"))
	s.leave("Wen")
	if m := s.saysAlone("Wen", "/coach roster", 1); !refusal(s.only(m)) || s.coach("Wen") {
		t.Errorf("left the server: %q, a coach: %t", s.only(m), s.coach("Wen"))
	}
	s.hurts("Mirela")
	if texts := s.told("Bako"); len(texts) != before {
		t.Errorf("told after it: %q", texts)
	}
}

// A coach by the role is one until it is taken away: /coach member remove: says so.
func TestARoleOutlastsRemove(t *testing.T) {
	t.Parallel()
	s := led(t)
	s.fake.Grant(s.tide, s.cast["Bako"], s.coaches)
	s.ask(s.rings, "Bako", "coach roster")
	text, _ := s.heard(s.ask(s.rings, "Ilda", "coach member", opt{Name: "name", Value: s.cast["Bako"]}, opt{Name: "remove", Value: "yes"}))
	if !strings.Contains(text, "coach role") || !s.coach("Bako") {
		t.Errorf("%q, a coach: %t", text, s.coach("Bako"))
	}
}

// A member's name follows the platform's, so that no name of before stands for
// somebody who is called so now.
func TestANameFollowsThePlatform(t *testing.T) {
	t.Parallel()
	s := led(t)
	s.says("Priya", "3x18s high hold", 1)
	s.says("Bako", "3x25s high hold", 1)
	priya, bako := s.cast["Priya"], s.cast["Bako"]
	s.fake.Rename(priya, "Sol")
	s.fake.Rename(bako, "Priya")
	s.says("Priya", "good evening", 0)
	s.says("Bako", "good evening", 0)
	m := s.saysAlone("Ilda", "/history member:Priya", 1)
	if text := s.only(m); strings.Contains(text, "18 s") || !strings.Contains(text, "25 s") {
		t.Errorf("by a name that was another's: %q", text)
	}
	roster, _ := s.heard(s.ask(s.rings, "Ilda", "coach roster"))
	if !strings.Contains(roster, "Sol") || strings.Contains(roster, "Bako") {
		t.Errorf("roster %q", roster)
	}
	s.fake.Rename(priya, "Priya")
	s.says("Priya", "good night", 0)
	m = s.saysAlone("Ilda", "/history member:Priya", 1)
	if text := s.only(m); !strings.Contains(text, "Several") || !strings.Contains(text, priya.ID.String()) {
		t.Errorf("by a name of two: %q", text)
	}
	m = s.saysAlone("Bako", "/history member:Priya", 1)
	if text := s.only(m); !refusal(text) {
		t.Errorf("by a name of two, no coach: %q", text)
	}
}
