package discord_test

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"rungbook/bot"
	"rungbook/bot/discord"
	"rungbook/bot/discord/discordtest"
	"rungbook/bot/outbox"
)

// ending is where a process ends: what it would do from there on is not done.
type ending struct {
	sending atomic.Bool // nothing leaves any more
	noting  atomic.Bool // nothing that the adapter notes is kept
}

var errEnds = errors.New("the process ends here")

func (n *ending) install(s *stage) {
	s.options = func(o *discord.Options) {
		o.Store, o.Outbox = forgetful{o.Store, n}, mute{o.Outbox, n}
	}
}

type mute struct {
	discord.Outbox
	n *ending
}

func (m mute) Deliver(ctx context.Context, sender outbox.Sender, posts []bot.Post, at time.Time) []outbox.Outcome {
	if m.n.sending.Load() {
		return slices.Repeat([]outbox.Outcome{{Result: outbox.Pending, Err: errEnds}}, len(posts))
	}
	return m.Outbox.Deliver(ctx, sender, posts, at)
}

type forgetful struct {
	discord.Store
	n *ending
}

func (f forgetful) Update(ctx context.Context, do func(discord.Tx) error) error {
	if f.n.noting.Load() {
		return errEnds
	}
	return f.Store.Update(ctx, do)
}

// points are the places between a message's commit and the note that its answer
// is out.
var points = map[string]func(*ending){
	"before it is noted what was taken in": func(n *ending) { n.noting.Store(true); n.sending.Store(true) },
	"before anything is sent":              func(n *ending) { n.sending.Store(true) },
	"before it is noted what is out":       func(n *ending) { n.noting.Store(true) },
}

// P5 and P7 for answers: what was logged and whose answer was not sent, or sent
// and not noted, is answered after the next start, once.
func TestAnAnswerOutlivesItsProcess(t *testing.T) {
	t.Parallel()
	for point, end := range points {
		for _, away := range []time.Duration{5 * time.Second, 5 * time.Minute, 30 * time.Minute} {
			for _, text := range []string{"3x20s high hold", "3x20s depe hang"} {
				t.Run(fmt.Sprintf("%s, %s, %s", point, away, text), func(t *testing.T) {
					t.Parallel()
					s, n := newStage(t, discordtest.Options{}), &ending{}
					n.install(s)
					s.start()
					s.setup()
					s.says("Priya", "who brings the tape?", 0) // that she is no coach is noted
					s.quiet()
					s.adapter.Rest()
					end(n)
					m := s.says("Priya", text, 0)
					s.dies(n, away)
					s.await("an answer", func(v discordtest.View) bool { return len(answersTo(v, m)) == 1 })
					s.quiet()
					s.adapter.Rest()
					s.dies(n, time.Minute) // a second start has nothing to add
					s.fake.Look(func(v discordtest.View) {
						if all := answersTo(v, m); len(all) != 1 {
							t.Errorf("%d answers", len(all))
						}
					})
				})
			}
		}
	}
}

// dies has the process end where it was told to and another start later.
func (s *stage) dies(n *ending, later time.Duration) {
	s.t.Helper()
	s.quiet()
	s.adapter.Rest()
	s.end()
	n.sending.Store(false)
	n.noting.Store(false)
	s.clock.add(later)
	s.start()
	s.quiet()
	s.adapter.Rest()
}

// The same for what revises and withdraws an answer.
func TestARevisionOutlivesItsProcess(t *testing.T) {
	t.Parallel()
	for point, end := range points {
		t.Run(point, func(t *testing.T) {
			t.Parallel()
			s, n := newStage(t, discordtest.Options{}), &ending{}
			n.install(s)
			s.start()
			s.setup()
			edited, gone, undone := s.says("Priya", "3x18s high hold", 1), s.says("Wen", "3x19s high hold", 1), s.says("Bako", "3x17s high hold", 1)
			s.adapter.Rest()
			end(n)
			s.clock.add(time.Minute)
			s.fake.Edit(edited, "3x25s high hold")
			s.fake.Delete(gone)
			s.says("Bako", "/undo", 0)
			s.dies(n, time.Minute)
			s.await("revision and withdrawals", func(v discordtest.View) bool {
				all := answersTo(v, edited)
				return len(all) == 1 && strings.Contains(all[0].Text, "25 s") && len(answersTo(v, gone)) == 0 && len(answersTo(v, undone)) == 0
			})
		})
	}
}

// What somebody who hurts is told is never lost, and never told twice.
func TestWhatPainIsAnsweredOutlivesItsProcess(t *testing.T) {
	t.Parallel()
	for point, end := range points {
		t.Run(point, func(t *testing.T) {
			t.Parallel()
			s, n := newStage(t, discordtest.Options{}), &ending{}
			n.install(s)
			s.start()
			s.setup()
			s.says("Priya", "3x18s high hold", 1)
			s.await("welcome", func(v discordtest.View) bool { return len(v.Messages(v.Direct(s.cast["Priya"]))) == 1 })
			s.adapter.Rest()
			end(n)
			s.says("Priya", "my elbow hurts, 5/10", 0)
			s.dies(n, 5*time.Minute)
			told := func(name, words string) (n int) {
				channel := s.fake.Direct(s.cast[name])
				for _, text := range s.texts(channel) {
					if strings.Contains(text, words) {
						n++
					}
				}
				return n
			}
			s.dies(n, time.Minute)
			if priya := told("Priya", "Please stop"); priya != 1 {
				t.Errorf("she is told %d times", priya)
			}
			s.beatUntil("notice", func(v discordtest.View) bool { return len(v.Messages(v.Direct(s.cast["Ilda"]))) > 0 })
			if ilda := told("Ilda", "Priya is paused"); ilda != 1 {
				t.Errorf("her coach is told %d times", ilda)
			}
		})
	}
}

// The same for somebody of several teams who has not said which one they mean.
func TestWhatPainIsAnsweredBeforeATeamIsChosen(t *testing.T) {
	t.Parallel()
	for point, end := range points {
		t.Run(point, func(t *testing.T) {
			t.Parallel()
			s, n := newStage(t, discordtest.Options{}), &ending{}
			n.install(s)
			s.start()
			s.setup()
			other := s.fake.Guild("Saltmarsh Climbers")
			channel := s.fake.Channel(other, "training")
			s.fake.Join(other, s.cast["Rui"], s.fake.Role(other, "steward", discordtest.ManageGuild))
			s.fake.Join(other, s.cast["Priya"])
			made := s.fake.Slash(channel, s.cast["Rui"], "setup", opt{Name: "zone", Value: "Europe/Lisbon"}, opt{Name: "days", Value: "Tue Fri"})
			s.await("second team", func(discordtest.View) bool { return len(made.More) > 0 })
			s.says("Priya", "3x18s high hold", 1)
			m := s.fake.Say(channel, s.cast["Priya"], "3x17s high hold")
			s.await("answer", func(v discordtest.View) bool { return len(answersTo(v, m)) == 1 })
			s.saysAlone("Priya", "2x20s support", 1) // the place where they are alone is known
			s.quiet()
			s.adapter.Rest()
			end(n)
			hurt := s.saysAlone("Priya", "my elbow hurts, 5/10", 0)
			s.dies(n, 6*time.Minute)
			s.await("an answer", func(v discordtest.View) bool { return len(answersTo(v, hurt)) == 1 })
			s.dies(n, time.Minute)
			s.fake.Look(func(v discordtest.View) {
				if all := answersTo(v, hurt); len(all) != 1 || !strings.Contains(all[0].Text, "Please stop") {
					t.Errorf("%d answers", len(all))
				}
			})
		})
	}
}

// A platform that was not to be had for longer than an answer is tried is asked
// again at the next beat, while the same process goes on.
func TestAnAnswerOutlivesAnOutage(t *testing.T) {
	t.Parallel()
	for name, fault := range map[string]discordtest.Fault{
		"502": discordtest.BadGateway, "502 after it was done": discordtest.DoneBadGateway, "lost answer": discordtest.LostAnswer, "cut before": discordtest.CutBefore,
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := settled(t, discordtest.Options{})
			s.fake.Fail(creates, 1000, fault)
			m := s.says("Priya", "3x18s high hold", 0)
			s.await("tries", func(v discordtest.View) bool { return tries(v, "high hold") > 0 })
			s.adapter.Rest()
			s.adapter.Beat(t.Context(), s.clock.Now()) // it is still not to be had
			s.adapter.Rest()
			s.fake.Unstall()
			s.beatUntil("an answer", func(v discordtest.View) bool { return len(answersTo(v, m)) == 1 })
			s.adapter.Beat(t.Context(), s.clock.Now())
			s.adapter.Rest()
			s.fake.Look(func(v discordtest.View) {
				if all := answersTo(v, m); len(all) != 1 {
					t.Errorf("%d answers", len(all))
				}
			})
		})
	}
}

// The same for what a tap makes of a question: kept, it is answered as a log once;
// dropped, it is gone.
func TestATappedQuestionOutlivesItsProcess(t *testing.T) {
	t.Parallel()
	for point, end := range points {
		t.Run(point, func(t *testing.T) {
			t.Parallel()
			s, n := newStage(t, discordtest.Options{}), &ending{}
			n.install(s)
			s.start()
			s.setup()
			const doubtful = "3x30s deep hang, 3x20 transitions"
			kept, dropped := s.says("Priya", doubtful, 1), s.says("Wen", doubtful, 1)
			s.adapter.Rest()
			end(n)
			s.tapOn(kept, "Priya", "keep")
			s.tapOn(dropped, "Wen", "drop")
			s.dies(n, 5*time.Minute)
			s.await("the taps' answers", func(v discordtest.View) bool {
				of := answersTo(v, kept)
				return len(of) == 1 && strings.HasPrefix(of[0].Text, "Mon 5 Oct: 3×30 s deep hang.") && len(answersTo(v, dropped)) == 0
			})
			if logs := s.logged("Priya"); len(logs) != 1 || len(logs[0].Sets()) != 3 {
				t.Errorf("kept %+v", logs)
			}
			if logs := s.logged("Wen"); len(logs) != 0 {
				t.Errorf("dropped %+v", logs)
			}
		})
	}
}

// What a button is answered is not what its message waits for: a revision that could
// not be sent is still to be.
func TestATapDoesNotCountAsTheAnswer(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	m := s.says("Priya", "3x18s high hold", 1)
	s.adapter.Rest()
	const edits = "PATCH /channels/{channel_id}/messages/{message_id}"
	s.fake.Fail(edits, 1000, discordtest.BadGateway)
	s.clock.add(time.Minute)
	s.fake.Edit(m, "3x25s high hold")
	s.await("a try", func(v discordtest.View) bool { return asks(v, edits, 0) > 0 })
	s.adapter.Rest()
	s.fake.Unstall()
	s.tapOn(m, "Priya", "gates")
	s.quiet()
	s.adapter.Rest()
	if !s.hasUnanswered() {
		t.Error("the revision is taken for sent")
	}
	s.clock.add(time.Minute)
	s.adapter.Beat(t.Context(), s.clock.Now())
	s.await("revision", func(v discordtest.View) bool {
		all := answersTo(v, m)
		return len(all) == 1 && strings.Contains(all[0].Text, "25 s")
	})
}

// tapOn presses a button under the answer to a message.
func (s *stage) tapOn(m *discordtest.Message, name, button string) {
	s.t.Helper()
	s.clock.add(time.Second)
	var answer *discordtest.Message
	s.fake.Look(func(v discordtest.View) { answer = answersTo(v, m)[0] })
	for _, id := range customIDs(answer) {
		if strings.HasPrefix(id, "tap:"+button+":") {
			s.fake.Press(answer, s.cast[name], id)
			return
		}
	}
	s.t.Fatalf("no %s under %q", button, answer.Text)
}
