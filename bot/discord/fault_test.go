package discord_test

import (
	"strings"
	"testing"
	"time"

	"rungbook/bot/discord"
	"rungbook/bot/discord/discordtest"
)

const creates = "POST /channels/{channel_id}/messages"

// P7: whatever is lost on the way, one message is seen.
func TestOneAnswerWhateverIsLost(t *testing.T) {
	t.Parallel()
	for name, fault := range map[string]discordtest.Fault{
		"lost answer": discordtest.LostAnswer, "502 after it was done": discordtest.DoneBadGateway, "502": discordtest.BadGateway,
		"cut before": discordtest.CutBefore, "429 in HTML": discordtest.HTMLLimit, "global 429": discordtest.GlobalLimit,
		"200 without a body": discordtest.Empty, "200 without a body after it was done": discordtest.DoneEmpty,
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := settled(t, discordtest.Options{})
			s.fake.Fail(creates, 2, fault)
			m := s.says("Priya", "3x18s high hold", 1)
			s.quiet()
			s.fake.Look(func(v discordtest.View) {
				if n := len(answersTo(v, m)); n != 1 {
					t.Errorf("%d answers", n)
				}
			})
		})
	}
}

// The answer got through, its receipt was lost, and a moderator deleted it
// before the second try (10008): it is not said again.
func TestAnAnswerDeletedMeanwhileIsNotSaidAgain(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	s.fake.Fail(creates, 1, discordtest.LostAnswer)
	s.fake.OnCreate(func(m *discordtest.Message) bool { return strings.Contains(m.Text, "high hold") }) // deleted as it appears
	s.says("Priya", "3x18s high hold", 0)
	s.await("second try", func(v discordtest.View) bool { return tries(v, "high hold") == 2 })
	s.quiet()
	for _, text := range s.texts(s.rings) {
		if strings.Contains(text, "high hold") {
			t.Errorf("said again: %q", text)
		}
	}
}

func tries(v discordtest.View, words string) (n int) {
	for _, r := range v.Requests() {
		if r.Method+" "+r.Route == creates && strings.Contains(string(r.Raw), words) {
			n++
		}
	}
	return n
}

func TestEveryMessageHasNonceAndNoMentions(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	s.says("Priya", "3x18s high hold", 1)
	s.says("Bako", "3x30s depe hang", 1)
	s.says("Bako", "3x30s @everyone <@"+s.cast["Wen"].ID.String()+"> hang", 0)
	s.quiet()
	s.fake.Look(func(v discordtest.View) {
		for _, r := range v.Requests() {
			if r.Method+" "+r.Route != creates {
				continue
			}
			allowed, _ := r.Body["allowed_mentions"].(map[string]any)
			parse, isList := allowed["parse"].([]any)
			nonce, _ := r.Body["nonce"].(string)
			if !isList || len(parse) > 0 || allowed["users"] != nil || nonce == "" || len(nonce) > 25 || r.Body["enforce_nonce"] != true {
				t.Errorf("sent %s", r.Raw)
			}
		}
		for _, m := range v.Messages(s.rings) {
			if m.Author.Bot && len(m.Pings) > 0 {
				t.Errorf("%q pings %v", m.Text, m.Pings)
			}
		}
	})
}

// Rate limits of one place and of everything are kept before they are broken.
func TestRateLimitsAreKept(t *testing.T) {
	t.Parallel()
	s := newStage(t, discordtest.Options{PerRoute: 3, RouteTime: 400 * time.Millisecond, Clock: time.Now})
	s.options = func(o *discord.Options) { o.Clock = time.Now }
	s.start()
	s.setup()
	var said []*discordtest.Message
	for range 9 {
		said = append(said, s.fake.Say(s.rings, s.cast["Priya"], "3x18s high hold"))
	}
	s.await("all answers", func(v discordtest.View) bool {
		for _, m := range said {
			if len(answersTo(v, m)) != 1 {
				return false
			}
		}
		return true
	})
	s.fake.Look(func(v discordtest.View) {
		if v.Limited() > 1 { // the first window is learnt from its first answer
			t.Errorf("%d requests were refused for rate", v.Limited())
		}
	})
}

// An unknown component gives the library a message without an author, and
// fails a whole page of history.
func TestUnknownComponentTypes(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	s.clock.add(time.Minute)
	odd := s.fake.Post(&discordtest.Message{Channel: s.rings, Author: s.cast["Priya"], Text: "3x18s high hold", Odd: true})
	s.await("answer", func(v discordtest.View) bool { return len(answersTo(v, odd)) == 1 })
	s.end()
	s.clock.add(time.Minute)
	s.fake.Post(&discordtest.Message{Channel: s.rings, Author: s.cast["Priya"], Text: "no log at all", Odd: true})
	m := s.fake.Say(s.rings, s.cast["Wen"], "3x20s high hold")
	s.start()
	s.await("answer", func(v discordtest.View) bool { return len(answersTo(v, m)) == 1 })
}

func TestDoubledEventsAreOneLog(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	s.fake.Double(true)
	m := s.says("Priya", "3x18s high hold", 1)
	s.fake.Edit(m, "3x20s high hold")
	s.quiet()
	if logs := s.logged("Priya"); len(logs) != 1 || logs[0].Sets()[0].WorkS != 20 {
		t.Errorf("logs %+v", logs)
	}
	s.fake.Look(func(v discordtest.View) {
		if answers := answersTo(v, m); len(answers) != 1 || answers[0].Edits > 1 {
			t.Errorf("%d answers, revised %d times", len(answers), answers[0].Edits)
		}
	})
}

func TestReorderedEvents(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	s.fake.Hold()
	s.clock.add(time.Minute)
	edited := s.fake.Say(s.rings, s.cast["Priya"], "3x18s high hold")
	s.clock.add(time.Minute)
	s.fake.Edit(edited, "just chatting")
	gone := s.fake.Say(s.rings, s.cast["Wen"], "3x20s high hold")
	s.clock.add(time.Minute)
	s.fake.Delete(gone)
	kept := s.fake.Say(s.rings, s.cast["Wen"], "2x20s support")
	s.fake.Release(true) // the last first
	s.await("answer", func(v discordtest.View) bool { return len(answersTo(v, kept)) == 1 })
	s.quiet()
	if logs := s.logged("Priya"); len(logs) != 0 {
		t.Errorf("an edit met before its message was undone by it: %+v", logs)
	}
	if logs := s.logged("Wen"); len(logs) != 1 || len(logs[0].Sets()) != 2 {
		t.Errorf("a deletion met before its message was undone by it: %+v", logs)
	}
}

// P8 without a restart: what is lost on the way while connected is found at the
// next connection.
func TestDroppedEventsAreFoundAgain(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	early := s.says("Bako", "3x18s high hold", 1)
	s.fake.Drop(func(kind string) bool { return strings.HasPrefix(kind, "MESSAGE_") })
	lost := s.says("Priya", "3x18s high hold", 0)
	s.clock.add(time.Minute)
	s.fake.Edit(early, "3x25s high hold")
	s.fake.Drop(nil)
	s.says("Wen", "3x20s high hold", 1)
	s.fake.Reconnect()
	s.await("answer", func(v discordtest.View) bool { return len(answersTo(v, lost)) == 1 })
	s.await("revision", func(v discordtest.View) bool { return answersTo(v, early)[0].Edits == 1 })
}

func TestNobodyElseIsReadIn(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	machine := s.fake.Machine("Relay")
	s.fake.Join(s.tide, machine)
	text := "3x18s high hold"
	for _, m := range []*discordtest.Message{
		{Author: machine}, {Author: s.cast["Wen"], Webhook: true}, {Author: s.cast["Wen"], Type: 7}, {Author: s.cast["Wen"], Forward: true},
	} {
		m.Channel, m.Text = s.rings, text
		s.fake.Post(m)
	}
	other := s.fake.Channel(s.tide, "elsewhere")
	s.fake.Say(other, s.cast["Wen"], text)
	s.quiet()
	s.fake.Reconnect()
	s.await("a new connection", func(v discordtest.View) bool { return v.Identifies() == 2 && v.Links() == 1 })
	s.quiet()
	if logs := s.logged("Wen"); len(logs) != 0 {
		t.Errorf("read in: %+v", logs)
	}
	reply := s.fake.Post(&discordtest.Message{Channel: s.rings, Author: s.cast["Wen"], Text: text, Type: 19})
	s.await("answer", func(v discordtest.View) bool { return len(answersTo(v, reply)) == 1 })
}

func TestAPreviewIsNoEdit(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	m := s.says("Priya", "3x18s high hold", 1)
	s.fake.Touch(m)
	s.quiet()
	s.fake.Look(func(v discordtest.View) {
		if answersTo(v, m)[0].Edits != 0 {
			t.Error("revised")
		}
	})
}

func TestThreadsOfTheChannelAreRead(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	thread := s.fake.Thread(s.rings, "monday")
	m := s.fake.Say(thread, s.cast["Priya"], "3x18s high hold")
	s.await("answer in the thread", func(v discordtest.View) bool { return len(answersTo(v, m)) == 1 })
	s.end()
	s.clock.add(time.Minute)
	late := s.fake.Say(thread, s.cast["Wen"], "3x18s high hold")
	s.start()
	s.await("answer in the thread", func(v discordtest.View) bool { return len(answersTo(v, late)) == 1 })
}

// P8: what was posted, edited and deleted while the bot was away is taken in on
// return, in order, once, over several pages of history.
func TestCatchUpTakesInWhatWasMissed(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	kept := s.says("Priya", "3x18s high hold", 1)
	gone := s.says("Wen", "3x20s high hold", 1)
	bulk := []*discordtest.Message{s.says("Bako", "1x20s support", 1), s.says("Bako", "1x21s support", 1)}
	s.end()
	s.clock.add(time.Hour)
	s.fake.Edit(kept, "3x25s high hold")
	s.fake.Delete(gone)
	s.fake.Delete(bulk...)
	for range 150 {
		s.fake.Say(s.rings, s.cast["Sanna"], "who brings the tape?")
	}
	s.clock.add(time.Second)
	m := s.fake.Say(s.rings, s.cast["Mirela"], "2x22s high hold")
	s.start()
	s.await("what was missed", func(v discordtest.View) bool {
		revised := answersTo(v, kept)
		return len(revised) == 1 && revised[0].Edits == 1 && len(answersTo(v, gone)) == 0 && len(answersTo(v, bulk[0])) == 0 && len(answersTo(v, m)) == 1
	})
	for name, want := range map[string]int{"Priya": 1, "Wen": 0, "Bako": 0, "Mirela": 1, "Sanna": 0} {
		if logs := s.logged(name); len(logs) != want {
			t.Errorf("%s has %d logs, want %d", name, len(logs), want)
		}
	}
	before := len(s.texts(s.rings))
	s.end()
	s.start() // nothing is new now
	s.quiet()
	if after := len(s.texts(s.rings)); after != before {
		t.Errorf("said again after a second start: %d", after-before)
	}
}

func TestLateLogsGetAMarkAndOneAnswer(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	s.end()
	s.clock.add(time.Minute)
	first := s.fake.Say(s.rings, s.cast["Priya"], "3x18s high hold")
	s.clock.add(time.Minute)
	second := s.fake.Say(s.rings, s.cast["Priya"], "2x20s support")
	s.clock.add(time.Hour)
	s.start()
	s.await("marks and one answer", func(v discordtest.View) bool {
		return len(first.Marks) == 1 && len(second.Marks) == 1 && len(answersTo(v, first)) == 0 && len(answersTo(v, second)) == 1
	})
}

func TestWhatWasSaidBeforeTheTeamWasSettledIsNotRead(t *testing.T) {
	t.Parallel()
	s := newStage(t, discordtest.Options{})
	s.says("Wen", "3x20s high hold", 0)
	s.start()
	s.setup()
	s.fake.Reconnect()
	s.await("a new connection", func(v discordtest.View) bool { return v.Identifies() == 2 && v.Links() == 1 })
	s.quiet()
	if logs := s.logged("Wen"); len(logs) != 0 {
		t.Errorf("read in: %+v", logs)
	}
}
