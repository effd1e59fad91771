package discord_test

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"rungbook/bot/discord"
	"rungbook/bot/discord/discordtest"
	"rungbook/store"
	"rungbook/training"
)

func TestNoTeamYet(t *testing.T) {
	t.Parallel()
	s := newStage(t, discordtest.Options{})
	s.start()
	if text, private := s.heard(s.ask(s.rings, "Priya", "gates")); !private || !strings.Contains(text, "/setup") {
		t.Errorf("%q %t", text, private)
	}
	for _, one := range []struct {
		name    string
		options []opt
		want    string
	}{
		{"Priya", []opt{{Name: "zone", Value: "Europe/Lisbon"}, {Name: "days", Value: "Mon"}}, "manage"},
		{"Rui", []opt{{Name: "days", Value: "Mon"}}, "time zone"},
		{"Rui", []opt{{Name: "zone", Value: "Moon/Base"}, {Name: "days", Value: "Mon"}}, "time zone"},
		{"Rui", []opt{{Name: "zone", Value: "Europe/Lisbon"}}, "days"},
	} {
		if text, private := s.heard(s.ask(s.rings, one.name, "setup", one.options...)); !private || !strings.Contains(text, one.want) {
			t.Errorf("%s %v: %q %t", one.name, one.options, text, private)
		}
	}
	var teams []training.TeamID
	s.db.View(context.Background(), func(tx *store.Tx) (err error) {
		teams, err = tx.Teams()
		return err
	})
	if len(teams) != 0 {
		t.Error("a team all the same")
	}
}

func TestSetupNamesMissingPermissions(t *testing.T) {
	t.Parallel()
	s := newStage(t, discordtest.Options{})
	s.rings.Denied = discordtest.AddReactions | discordtest.AttachFiles
	s.start()
	s.setup()
	asked := s.ask(s.rings, "Rui", "setup", opt{Name: "nudge", Value: "18:00"})
	s.await("permissions", func(discordtest.View) bool { return len(asked.More) > 0 })
	if text, _ := s.heard(asked); !strings.Contains(text, "Add Reactions, Attach Files") {
		t.Errorf("%q", text)
	}
	err := s.adapter.CheckPermissions(context.Background())
	var lack *discord.PermissionError
	if !errorAs(err, &lack) || len(lack.Lines) != 1 || !strings.Contains(lack.Lines[0], "Add Reactions, Attach Files") {
		t.Errorf("check: %v", err)
	}
	s.fake.Allow(s.rings)
	if err := s.adapter.CheckPermissions(context.Background()); err != nil {
		t.Error(err)
	}
}

func TestSetupSaysWhetherTheWeekKeepsTheRestRule(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	text, _ := s.heard(s.ask(s.rings, "Rui", "setup", opt{Name: "days", Value: "Mon Tue"}))
	if !strings.Contains(text, "Mon") {
		t.Errorf("%q", text)
	}
}

func TestImportReadsPastWeeksWithAProgressLine(t *testing.T) {
	t.Parallel()
	s := newStage(t, discordtest.Options{})
	var first *discordtest.Message
	for day := range 130 {
		s.clock.add(time.Hour)
		m := s.fake.Say(s.rings, s.cast["Priya"], fmt.Sprintf("3x%ds high hold", 10+day%20))
		if first == nil {
			first = m
		}
	}
	s.start()
	s.setup()
	asked := s.ask(s.rings, "Rui", "setup", opt{Name: "nudge", Value: "18:00"})
	s.await("an offer", func(discordtest.View) bool { return len(asked.More) > 0 })
	id := customIDs(asked.More[0])[0]
	refused := s.fake.Press(asked.More[0], s.cast["Priya"], id)
	s.answered(refused)
	pressed := s.fake.Press(asked.More[0], s.cast["Rui"], id)
	s.await("the end", func(discordtest.View) bool {
		return pressed.Answer != nil && strings.Contains(pressed.Answer.Text, "130 messages of the past")
	})
	if text, _ := s.heard(pressed); !strings.Contains(text, "130 of them were logs") {
		t.Errorf("%q", text)
	}
	if logs := s.logged("Priya"); len(logs) != 130 {
		t.Fatalf("%d logs", len(logs))
	}
	s.fake.Look(func(v discordtest.View) {
		for _, m := range v.Messages(s.rings) {
			if m.Author.Bot && !m.Ephemeral || len(m.Marks) > 0 {
				t.Fatalf("answered %q, marks %v", m.Text, m.Marks)
			}
		}
	})
	s.fake.Edit(first, "3x44s high hold")
	s.await("an edit of what was imported", func(v discordtest.View) bool { return len(answersTo(v, first)) == 1 })
}
