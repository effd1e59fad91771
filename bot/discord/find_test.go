package discord_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"rungbook/bot/discord/discordtest"
)

// known has people of whom it is noted that they are no coaches, so that nothing else
// is noted of them where a process is to end.
func known(t *testing.T, names ...string) (*stage, *ending) {
	s, n := newStage(t, discordtest.Options{}), &ending{}
	n.install(s)
	s.start()
	s.setup()
	for _, name := range names {
		s.says(name, "who brings the tape?", 0)
	}
	s.quiet()
	s.adapter.Rest()
	return s, n
}

// unnoted has somebody say something whose answer gets out and is not noted, and
// unsent something whose answer does not get out; the process ends behind them.
func (s *stage) unnoted(n *ending, name, text string) *discordtest.Message {
	s.t.Helper()
	n.noting.Store(true)
	m := s.says(name, text, 1)
	s.quiet()
	s.adapter.Rest()
	return m
}

func (s *stage) unsaid(n *ending, name, text string) *discordtest.Message {
	s.t.Helper()
	n.sending.Store(true)
	m := s.says(name, text, 0)
	s.quiet()
	s.adapter.Rest()
	return m
}

// Two people log the same within a minute of the process's end, of whom one was
// answered: the other is too, and what they change and delete afterwards is changed
// and deleted under their own.
func TestTwoWhoLogTheSameAreBothAnswered(t *testing.T) {
	t.Parallel()
	for _, away := range []time.Duration{5 * time.Second, 5 * time.Minute} {
		t.Run(away.String(), func(t *testing.T) {
			t.Parallel()
			s, n := known(t, "Priya", "Wen")
			hers, his := s.unnoted(n, "Priya", "3x20s high hold"), s.unsaid(n, "Wen", "3x20s high hold")
			s.dies(n, away)
			each := func(v discordtest.View) bool { return len(answersTo(v, hers)) == 1 && len(answersTo(v, his)) == 1 }
			s.await("an answer to each", each)
			s.dies(n, time.Minute) // a second start has nothing to add
			s.fake.Look(func(v discordtest.View) {
				if !each(v) {
					t.Errorf("%d and %d answers", len(answersTo(v, hers)), len(answersTo(v, his)))
				}
			})
			s.clock.add(time.Minute)
			s.fake.Edit(hers, "3x25s high hold")
			s.await("a revision", func(v discordtest.View) bool { return strings.Contains(answersTo(v, hers)[0].Text, "25 s") })
			s.fake.Delete(his)
			s.await("a withdrawal", func(v discordtest.View) bool { return len(answersTo(v, his)) == 0 })
			s.fake.Look(func(v discordtest.View) {
				if all := answersTo(v, hers); len(all) != 1 || !strings.Contains(all[0].Text, "25 s") {
					t.Errorf("what is his took hers along: %d", len(all))
				}
			})
		})
	}
}

// What got out and was not noted is found again: an edit and a deletion, made while
// the bot was away or after its return, find the one answer there is.
func TestAnAnswerThatWasNotNotedIsRevised(t *testing.T) {
	t.Parallel()
	for _, away := range []time.Duration{5 * time.Second, 30 * time.Minute} {
		for _, after := range []bool{false, true} {
			t.Run(fmt.Sprintf("%s, after the return %t", away, after), func(t *testing.T) {
				t.Parallel()
				s, n := known(t, "Priya", "Wen")
				edited, gone := s.unnoted(n, "Priya", "3x20s high hold"), s.unnoted(n, "Wen", "3x20s high hold")
				s.unnoted(n, "Priya", "2x20s support") // late, each is answered once, to the last
				s.unnoted(n, "Wen", "2x20s support")
				change := func() {
					s.fake.Edit(edited, "3x25s high hold")
					s.fake.Delete(gone)
				}
				s.end()
				n.noting.Store(false)
				s.clock.add(away)
				if !after {
					change()
				}
				s.start()
				s.quiet()
				s.adapter.Rest()
				if after {
					s.clock.add(time.Minute)
					change()
				}
				s.await("revision and withdrawal", func(v discordtest.View) bool {
					all := answersTo(v, edited)
					return len(all) == 1 && strings.Contains(all[0].Text, "25 s") && len(answersTo(v, gone)) == 0
				})
			})
		}
	}
}

// The same where the process goes on, and the platform is not to be had.
func TestAnAnswerInDoubtIsRevised(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	s.fake.Fail(creates, 1000, discordtest.LostAnswer)
	edited, gone := s.says("Priya", "3x20s high hold", 0), s.says("Wen", "3x20s high hold", 0)
	s.await("tries", func(v discordtest.View) bool { return len(answersTo(v, edited)) == 1 && len(answersTo(v, gone)) == 1 })
	for _, method := range []string{"PATCH", "DELETE"} {
		s.fake.Fail(method+" /channels/{channel_id}/messages/{message_id}", 1000, discordtest.BadGateway)
	}
	s.quiet()
	s.adapter.Rest()
	s.clock.add(time.Minute)
	s.fake.Edit(edited, "3x25s high hold")
	s.fake.Delete(gone)
	s.quiet()
	s.adapter.Rest()
	s.fake.Unstall()
	s.beatUntil("revision and withdrawal", func(v discordtest.View) bool {
		all := answersTo(v, edited)
		return len(all) == 1 && strings.Contains(all[0].Text, "25 s") && len(answersTo(v, gone)) == 0
	})
}

// Of several private words about pain with the same words each is said, around the
// process's end; with the button that names what was said, and without one, where a
// coach has set the pause.
func TestEachWordAboutPainIsSaid(t *testing.T) {
	t.Parallel()
	for _, coached := range []bool{false, true} {
		for out := range 4 {
			t.Run(fmt.Sprintf("a coach's pause %t, %d out", coached, out), func(t *testing.T) {
				t.Parallel()
				s, n := known(t, "Priya")
				s.says("Priya", "3x18s high hold", 1)
				s.says("Priya", "my elbow hurts, 5/10", 0)
				words := func() (all []string) {
					for _, text := range s.texts(s.fake.Direct(s.cast["Priya"])) {
						if strings.Contains(text, "stop") || strings.Contains(text, "paused") {
							all = append(all, text)
						}
					}
					return all
				}
				s.quiet()
				s.adapter.Rest()
				if coached {
					s.ask(s.rings, "Ilda", "coach pause", opt{Name: "member", Value: s.cast["Priya"]})
					s.adapter.Rest()
				}
				before := len(words())
				for i := range 3 {
					if i < out {
						n.noting.Store(true)
					} else {
						n.sending.Store(true)
					}
					s.says("Priya", "my elbow hurts, 5/10", 0)
					s.quiet()
					s.adapter.Rest()
				}
				if said := len(words()) - before; said != out {
					t.Fatalf("%d are out: %q", said, words())
				}
				s.dies(n, 5*time.Second)
				s.dies(n, time.Minute)
				if all := words()[before:]; len(all) != 3 || all[0] != all[2] {
					t.Errorf("said %d times: %q", len(all), all)
				}
			})
		}
	}
}

// Two notices with the same words are two, though the second is in doubt.
func TestTheSecondOfTwoNoticesIsSaid(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	s.says("Priya", "3x18s high hold", 1)
	log := func() {
		s.clock.add(10 * time.Second)
		s.ask(s.rings, "Ilda", "log", opt{Name: "text", Value: "2x20s support"}, opt{Name: "member", Value: s.cast["Priya"]})
	}
	told := func(v discordtest.View) int { return said(v, v.Direct(s.cast["Priya"]), "support") }
	log()
	s.await("a notice", func(v discordtest.View) bool { return told(v) == 1 })
	s.adapter.Rest()
	s.fake.Fail(creates, 1000, discordtest.BadGateway)
	log()
	s.await("a try", func(v discordtest.View) bool { return tries(v, "support") > 1 })
	s.end()
	s.fake.Unstall()
	s.clock.add(3 * time.Minute)
	s.start()
	s.beatUntil("the second", func(v discordtest.View) bool { return told(v) == 2 })
}
