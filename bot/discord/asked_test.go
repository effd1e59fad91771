package discord_test

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"rungbook/bot"
	"rungbook/bot/discord/discordtest"
	"rungbook/store"
	"rungbook/training"
)

type opt = discordtest.Option

// ask gives a slash command and waits for its first answer.
func (s *stage) ask(channel *discordtest.Channel, name, command string, options ...opt) *discordtest.Interaction {
	s.t.Helper()
	s.clock.add(time.Second)
	asked := s.fake.Slash(channel, s.cast[name], command, options...)
	s.await(fmt.Sprintf("answer to %s's /%s %v", name, command, options), func(discordtest.View) bool {
		return asked.Callback != 0 && (asked.Callback != discordtest.Defers || asked.Answer.Text != "")
	})
	return asked
}

func (s *stage) answered(asked *discordtest.Interaction) {
	s.t.Helper()
	s.await("an answer", func(discordtest.View) bool {
		return asked.Callback != 0 && (asked.Callback != discordtest.Defers || asked.Answer.Text != "")
	})
}

// heard is what whoever asked was told, first and after.
func (s *stage) heard(asked *discordtest.Interaction) (text string, private bool) {
	private = true
	s.fake.Look(func(discordtest.View) {
		for _, m := range append([]*discordtest.Message{asked.Answer}, asked.More...) {
			if m != nil {
				text += m.Text + "\n"
				private = private && m.Ephemeral
			}
		}
	})
	return text, private
}

func TestPrivateAnswersAreEphemeral(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	s.says("Priya", "3x18s high hold", 1)
	for _, command := range []string{"gates", "next", "history", "help", "me"} {
		text, private := s.heard(s.ask(s.rings, "Priya", command))
		if !private || text == "" {
			t.Errorf("/%s: %q, private %t", command, text, private)
		}
	}
}

func TestLogByCommandIsPublicAndUndone(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	asked := s.ask(s.rings, "Priya", "log", opt{Name: "text", Value: "3x18s high hold"})
	if text, private := s.heard(asked); private || !strings.Contains(text, "high hold") {
		t.Errorf("%q, private %t", text, private)
	}
	if logs := s.logged("Priya"); len(logs) != 1 {
		t.Fatalf("logs %+v", logs)
	}
	s.ask(s.rings, "Priya", "undo")
	s.await("withdrawal", func(v discordtest.View) bool {
		return !slices.Contains(v.Messages(s.rings), asked.Answer)
	})
	if logs := s.logged("Priya"); len(logs) != 0 {
		t.Errorf("logs %+v", logs)
	}
}

func TestButtonsUnderAnAnswer(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	m := s.says("Priya", "3x18s high hold", 1)
	press := func(name, word string) *discordtest.Interaction {
		var id string
		var on *discordtest.Message
		s.fake.Look(func(v discordtest.View) {
			on = answersTo(v, m)[0]
			for _, one := range customIDs(on) {
				if strings.Contains(one, word) {
					id = one
				}
			}
		})
		asked := s.fake.Press(on, s.cast[name], id)
		s.answered(asked)
		return asked
	}
	if text, private := s.heard(press("Priya", "gates")); !private || !strings.Contains(text, "high hold") && !strings.Contains(text, "deep hang") {
		t.Errorf("gates: %q %t", text, private)
	}
	if text, private := s.heard(press("Wen", "withdraw")); !private || !strings.Contains(text, "Only whoever") {
		t.Errorf("somebody else's withdrawal: %q %t", text, private)
	}
	press("Priya", "withdraw")
	s.await("withdrawal", func(v discordtest.View) bool { return len(answersTo(v, m)) == 0 })
}

// customIDs are those of the buttons under a message.
func customIDs(m *discordtest.Message) []string {
	raw, _ := json.Marshal(m.Parts) // it came as JSON
	var rows []struct {
		Components []struct {
			ID string `json:"custom_id"`
		}
	}
	json.Unmarshal(raw, &rows)
	var ids []string
	for _, row := range rows {
		for _, one := range row.Components {
			ids = append(ids, one.ID)
		}
	}
	return ids
}

func TestCommandsAreThoseOfTheTable(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	var names []string
	s.await("commands", func(v discordtest.View) bool { return len(v.Commands(s.tide)) > 0 })
	s.fake.Look(func(v discordtest.View) {
		for _, c := range v.Commands(s.tide) {
			raw, _ := json.Marshal(c)
			var shape struct {
				Name    string
				Options []struct {
					Type int
					Name string
				}
			}
			json.Unmarshal(raw, &shape)
			if len(shape.Options) == 0 || shape.Options[0].Type != 1 {
				names = append(names, shape.Name)
				continue
			}
			for _, sub := range shape.Options {
				names = append(names, shape.Name+" "+sub.Name)
			}
		}
	})
	var want []string
	for _, command := range bot.Commands() {
		want = append(want, command.Name)
	}
	slices.Sort(names)
	slices.Sort(want)
	if !slices.Equal(names, want) {
		t.Errorf("registered %v\nthe table %v", names, want)
	}
}

func TestCommandsAreComparedBeforeTheyAreSet(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	s.await("commands", func(v discordtest.View) bool { return len(v.Commands(s.tide)) > 0 })
	s.end()
	s.start()
	s.quiet()
	// the note of them is lost: they are read, found right, and not set again
	s.end()
	s.open()
	err := s.db.Update(context.Background(), func(tx *store.Tx) error { return tx.PutRegistered(training.TeamID(s.tide.ID), "another") })
	if err != nil {
		t.Fatal(err)
	}
	s.run()
	s.await("comparison", func(v discordtest.View) bool { return requests(v, "GET", "/commands") == 2 })
	s.quiet()
	s.fake.Look(func(v discordtest.View) {
		if puts := requests(v, "PUT", "/commands"); puts != 1 {
			t.Errorf("set %d times", puts)
		}
	})
}

func requests(v discordtest.View, method, ending string) (n int) {
	for _, r := range v.Requests() {
		if r.Method == method && strings.HasSuffix(r.Route, ending) && r.Status == 200 {
			n++
		}
	}
	return n
}

func TestCompletion(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	for _, one := range []struct {
		command string
		option  opt
		want    string
	}{
		{"coach witness", opt{Name: "gate", Value: "dee"}, "deep hang"},
		{"log", opt{Name: "text", Value: "3x30s de"}, "3x30s deep hang"},
		{"log", opt{Name: "day", Value: "yes"}, "yesterday"},
		{"me", opt{Name: "zone", Value: "lis"}, "Europe/Lisbon"},
	} {
		one.option.Focused = true
		asked := s.fake.Complete(s.rings, s.cast["Ilda"], one.command, one.option)
		s.await("completion", func(discordtest.View) bool { return asked.Callback == discordtest.Completes })
		raw, _ := json.Marshal(asked.Data)
		if !strings.Contains(string(raw), `"`+one.want+`"`) {
			t.Errorf("%s %s: %s, want %q", one.command, one.option.Value, raw, one.want)
		}
	}
}

func TestFormOfCorrect(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	s.says("Priya", "3x18s high hold", 1)
	asked := s.fake.Slash(s.rings, s.cast["Ilda"], "coach correct", opt{Name: "member", Value: s.cast["Priya"]})
	s.await("form", func(discordtest.View) bool { return asked.Callback == discordtest.Asks })
	id, _ := asked.Data["custom_id"].(string)
	sent := s.fake.Submit(s.rings, s.cast["Ilda"], id, map[string]string{"day": "today", "text": "2x25s \"high\" hold\nmember:<@1>"})
	s.answered(sent)
	if logs := s.logged("Priya"); len(logs) != 1 || len(logs[0].Sets()) != 3 || logs[0].Sets()[0].WorkS != 18 {
		t.Errorf("what cannot be read has changed something: %+v", logs)
	}
	sent = s.fake.Submit(s.rings, s.cast["Ilda"], id, map[string]string{"day": "today", "text": "2x25s high hold\n1x20s support"})
	s.answered(sent)
	if logs := s.logged("Priya"); len(logs) != 1 || len(logs[0].Sets()) != 3 {
		text, _ := s.heard(sent)
		t.Errorf("logs %+v after %q", logs, text)
	}
}

func TestFormOfSetup(t *testing.T) {
	t.Parallel()
	s := newStage(t, discordtest.Options{})
	s.start()
	asked := s.fake.Slash(s.rings, s.cast["Rui"], "setup")
	s.await("form", func(discordtest.View) bool { return asked.Callback == discordtest.Asks })
	id, _ := asked.Data["custom_id"].(string)
	sent := s.fake.Submit(s.rings, s.cast["Rui"], id, map[string]string{"zone": "Europe/Lisbon", "days": "Mon Tue", "nudge": "", "digest": ""})
	s.answered(sent)
	s.await("permissions", func(discordtest.View) bool { return len(sent.More) > 0 })
	text, private := s.heard(sent)
	if !private || !strings.Contains(text, "all permissions") {
		t.Errorf("%q %t", text, private)
	}
	s.says("Priya", "3x18s high hold", 1)
}

// A value cannot pass for another option.
func TestNoOptionInsideAValue(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	s.says("Wen", "3x18s high hold", 1)
	s.ask(s.rings, "Ilda", "log", opt{Name: "text", Value: `3x20s high hold" member:Wen day:"yesterday`})
	if logs := s.logged("Wen"); len(logs) != 1 {
		t.Errorf("logged for somebody else: %+v", logs)
	}
}

func TestASlowAnswerIsDeferred(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{AskedTime: 3 * time.Second})
	s.says("Priya", "3x18s high hold", 1)
	release := s.hold()
	asked := s.fake.Slash(s.rings, s.cast["Priya"], "gates")
	public := s.fake.Slash(s.rings, s.cast["Priya"], "log", opt{Name: "text", Value: "3x19s high hold"})
	s.await("deferral", func(discordtest.View) bool {
		return asked.Callback == discordtest.Defers && public.Callback == discordtest.Defers
	})
	release()
	s.answered(asked)
	if text, private := s.heard(asked); !private || !strings.Contains(text, "high hold") && !strings.Contains(text, "deep hang") {
		t.Errorf("%q, private %t", text, private)
	}
	s.await("a public answer", func(v discordtest.View) bool {
		for _, m := range v.Messages(s.rings) {
			if m.Author.Bot && !m.Ephemeral && strings.Contains(m.Text, "19") {
				return true
			}
		}
		return false
	})
}

// hold keeps the database busy until release is called.
func (s *stage) hold() (release func()) {
	begun, done, over := make(chan struct{}), make(chan struct{}), make(chan error, 1)
	go func() {
		over <- s.db.Update(context.Background(), func(*store.Tx) error {
			close(begun)
			<-done
			return nil
		})
	}()
	<-begun
	// readers go on, so the queue itself is stopped too
	s.adapter.Block(training.TeamID(s.tide.ID), done)
	return func() {
		close(done)
		if err := <-over; err != nil {
			s.t.Error(err)
		}
	}
}

// Whoever was erased is not met by a button either, and is told so alone.
func TestAButtonOfSomebodyErased(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	m := s.says("Priya", "3x18s high hold", 1)
	err := s.db.Update(t.Context(), func(tx *store.Tx) error { return tx.Erase(training.PersonID(s.cast["Wen"].ID)) })
	if err != nil {
		t.Fatal(err)
	}
	var on *discordtest.Message
	s.fake.Look(func(v discordtest.View) { on = answersTo(v, m)[0] })
	asked := s.fake.Press(on, s.cast["Wen"], customIDs(on)[0])
	s.answered(asked)
	if text, private := s.heard(asked); !private || !strings.Contains(text, "erased") {
		t.Errorf("%q, private %v", text, private)
	}
}
