package discord_test

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"rungbook/bot"
	"rungbook/bot/discord/discordtest"
	"rungbook/bot/slash"
	"rungbook/store"
	"rungbook/training"
)

// relation is how whoever asks stands to the server they ask in.
type relation struct {
	name                   string
	member, coach, manager bool // on the roster; holds the role; may manage
}

var relations = []relation{
	{name: "stranger"},
	{name: "member", member: true},
	{name: "coach", coach: true},
	{name: "member and coach", member: true, coach: true},
	{name: "manager", manager: true},
	{name: "coach elsewhere"},
}

// needs is who may give a command: the contract's table by the words of its
// first column.
func needs(name string) func(relation) bool {
	switch {
	case name == "help" || name == "log":
		return func(relation) bool { return true }
	case name == "mydata": // for whoever has left too, and by then all have logged
		return func(relation) bool { return true }
	case name == "setup":
		return func(r relation) bool { return r.manager }
	case strings.HasPrefix(name, "coach "):
		return func(r relation) bool { return r.coach }
	}
	return func(r relation) bool { return r.member || r.coach }
}

// values are options for a command as the platform sends them.
func values(s *stage, command slash.Command, member *discordtest.User) []opt {
	var options []opt
	for _, o := range command.Options {
		switch {
		case o.Kind == slash.Member && (o.Required || command.Name == "coach member"):
			options = append(options, opt{Name: o.Name, Value: member})
		case o.Kind == slash.Gate:
			options = append(options, opt{Name: o.Name, Value: "deep hang"})
		case o.Kind == slash.Day && o.Required:
			options = append(options, opt{Name: o.Name, Value: "today"})
		case o.Required && len(o.Choices) > 0:
			options = append(options, opt{Name: o.Name, Value: o.Choices[0]})
		case o.Name == "text":
			options = append(options, opt{Name: o.Name, Value: "1x20s support"})
		case o.Name == "days" && o.Required:
			options = append(options, opt{Name: o.Name, Value: "Mon Thu"})
		case command.Name == "setup" && o.Name == "zone":
			options = append(options, opt{Name: o.Name, Value: "Europe/Madrid"})
		case command.Name == "away" && o.Name == "until":
			options = append(options, opt{Name: o.Name, Value: "2026-10-20"})
		}
	}
	return options
}

// P9: every command by every relation, in two servers each with its own
// canaries: nobody acts outside their role, and no answer in one server holds
// anything of the other.
func TestNobodyActsOutsideTheirRoleOrServer(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	other := s.fake.Guild("Saltmarsh Climbers")
	channel := s.fake.Channel(other, "training")
	otherCoaches := s.fake.Role(other, "coach", 0)
	owner := s.fake.Person("Odete")
	s.fake.Join(other, owner, s.fake.Role(other, "steward", discordtest.ManageGuild), otherCoaches)
	canary := s.fake.Person("Canary-of-Saltmarsh")
	s.fake.Join(other, canary)
	made := s.fake.Slash(channel, owner, "setup", opt{Name: "coach-role", Value: otherCoaches}, opt{Name: "zone", Value: "Asia/Tokyo"}, opt{Name: "days", Value: "Tue Fri"})
	s.await("second team", func(discordtest.View) bool { return len(made.More) > 0 })
	s.clock.add(time.Minute)
	m := s.fake.Say(channel, canary, "3x77s high hold")
	s.await("answer", func(v discordtest.View) bool { return len(answersTo(v, m)) == 1 })
	s.says("Wen", "3x33s high hold", 1)

	for _, who := range relations {
		user := s.fake.Person("Asker " + who.name)
		var roles []*discordtest.Role
		if who.coach {
			roles = append(roles, s.coaches)
		}
		if who.manager {
			roles = append(roles, s.fake.Role(s.tide, "steward of "+who.name, discordtest.ManageGuild))
		}
		s.fake.Join(s.tide, user, roles...)
		if who.name == "coach elsewhere" {
			s.fake.Join(other, user, otherCoaches)
		}
		s.cast[user.Name] = user
		for _, command := range bot.Commands() {
			s.enrol(user, who.member)
			before := s.dump(other)
			asked := s.ask(s.rings, user.Name, command.Name, values(s, command, s.cast["Wen"])...)
			text, private := s.heard(asked)
			allowed := needs(command.Name)(who)
			if refused := refusal(text); refused == allowed {
				t.Errorf("%s, /%s: %q", who.name, command.Name, text)
			}
			if !allowed && !private {
				t.Errorf("%s, /%s: refused in public: %q", who.name, command.Name, text)
			}
			if strings.Contains(text, "Canary") || strings.Contains(text, "77") || strings.Contains(text, "Saltmarsh") {
				t.Errorf("%s, /%s: tells of another server: %q", who.name, command.Name, text)
			}
			if after := s.dump(other); after != before {
				t.Errorf("%s, /%s changed another server:\n%s\nbefore:\n%s", who.name, command.Name, after, before)
			}
		}
	}
}

func refusal(text string) bool {
	for _, words := range []string{"is for members", "is for this team's coach", "is for whoever may manage"} {
		if strings.Contains(text, words) {
			return true
		}
	}
	return false
}

// enrol puts somebody on the roster of Tidewater Rings, or off it, with nothing
// else known of them.
func (s *stage) enrol(user *discordtest.User, member bool) {
	s.t.Helper()
	id := training.PersonID(user.ID)
	err := s.db.Update(context.Background(), func(tx *store.Tx) error {
		if err := tx.Unblock(id, time.Unix(0, 0)); err != nil {
			return err
		}
		team, _, err := tx.Team(training.TeamID(s.tide.ID))
		if err != nil {
			return err
		}
		who, known, err := tx.Member(team.ID, id)
		if err != nil || !known && !member {
			return err
		}
		if !known {
			who = training.Member{ID: id, Name: user.Name, Zone: team.Zone, Since: s.clock.Now(), Joined: training.DayOf(s.clock.Now(), team.Zone), Nudges: true}
		}
		who.Trains = member
		return tx.PutMember(team.ID, who)
	})
	if err != nil {
		s.t.Fatal(err)
	}
}

// dump is what is kept of a server's team, as text.
func (s *stage) dump(g *discordtest.Guild) string {
	s.t.Helper()
	var out strings.Builder
	err := s.db.View(context.Background(), func(tx *store.Tx) error {
		team, _, err := tx.Team(training.TeamID(g.ID))
		if err != nil {
			return err
		}
		roster, err := tx.Roster(team.ID)
		if err != nil {
			return err
		}
		fmt.Fprintln(&out, team)
		for _, member := range roster {
			record, err := tx.Record(team.ID, member.ID)
			if err != nil {
				return err
			}
			fmt.Fprintf(&out, "%v %v\n", member, record)
		}
		return nil
	})
	if err != nil {
		s.t.Fatal(err)
	}
	return out.String()
}

// P9: a role taken away counts from the next command on, and what is said to
// coaches no longer goes there.
func TestARoleTakenAwayCountsAtOnce(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	second := s.cast["Bako"]
	s.fake.Grant(s.tide, second, s.coaches)
	if text, _ := s.heard(s.ask(s.rings, "Bako", "coach roster")); refusal(text) {
		t.Fatalf("a coach is refused: %q", text)
	}
	s.fake.Grant(s.tide, second)
	if text, _ := s.heard(s.ask(s.rings, "Bako", "coach roster")); !refusal(text) {
		t.Errorf("still a coach: %q", text)
	}
	roster := s.dump(s.tide)
	for _, line := range strings.Split(roster, "\n") {
		if strings.Contains(line, "Bako") && strings.Contains(line, "true true") {
			t.Errorf("still told what coaches are told: %s", line)
		}
	}
	s.says("Priya", "3x18s high hold", 1)
	s.says("Priya", "my elbow hurts, 5/10", 0)
	ilda := s.fake.Direct(s.cast["Ilda"])
	s.await("notice", func(v discordtest.View) bool { return len(v.Messages(ilda)) > 0 })
	if texts := s.texts(s.fake.Direct(second)); len(texts) != 0 {
		t.Errorf("told %q", texts)
	}
}
