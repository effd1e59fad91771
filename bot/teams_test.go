package bot_test

import (
	"strings"
	"testing"
	"time"

	"rungbook/bot"
	"rungbook/store"
	"rungbook/training"
)

const saltmarsh training.TeamID = 2

// newHouses is a house with a second team, coached by Mirela, of which Priya is
// a member too.
func newHouses(t *testing.T) *house {
	h := newHouse(t, "")
	at := h.at("2026-10-05 08:00")
	second := training.Team{ID: saltmarsh, Name: "Saltmarsh Climbers", Zone: h.zone, Nudge: 17*60 + 30, DigestDay: time.Sunday, Digest: 18 * 60}
	second.Days = second.Days.With(time.Tuesday).With(time.Friday)
	err := h.db.Update(t.Context(), func(tx *store.Tx) error {
		if err := tx.PutTeam(second); err != nil {
			return err
		}
		mirela := training.Member{ID: h.cast["Mirela"].ID, Name: "Mirela", Zone: h.zone, Since: at, Nudges: true, Coach: true}
		if err := tx.PutMember(saltmarsh, mirela); err != nil {
			return err
		}
		priya := training.Member{ID: h.cast["Priya"].ID, Name: "Priya", Zone: h.zone, Since: at, Nudges: true, Trains: true, Joined: training.DayOf(at, h.zone)}
		return tx.PutMember(saltmarsh, priya)
	})
	if err != nil {
		t.Fatal(err)
	}
	return h
}

func (h *house) paused(in training.TeamID, name, stamp string) bool {
	h.t.Helper()
	var paused bool
	err := h.db.View(h.t.Context(), func(tx *store.Tx) error {
		record, err := tx.Record(in, h.cast[name].ID)
		paused = record.PausedOn(training.DayOf(h.at(stamp), h.zone))
		return err
	})
	if err != nil {
		h.t.Fatal(err)
	}
	return paused
}

func (h *house) alone(stamp, name, text string) bot.Message {
	h.last++
	return bot.Message{ID: h.last, Team: team, Author: h.cast[name], Place: bot.Private, Text: text, At: h.at(stamp)}
}

// told says who reads the posts: the kinds and names in order.
func told(posts []bot.Post) string {
	var to []string
	for _, post := range posts {
		to = append(to, string(post.Kind)+" "+post.Name)
	}
	return strings.Join(to, ", ")
}

func TestPainSaidAloneHoldsInEveryTeam(t *testing.T) {
	h := newHouses(t)
	parsed := h.alone("2026-10-05 19:00", "Priya", "my left elbow hurts")
	posts := h.step(parsed)
	if got := told(posts); got != "reply Priya, notice Ilda, notice Mirela" {
		t.Errorf("told: %s", got)
	}
	if !h.paused(team, "Priya", "2026-10-05 19:01") || !h.paused(saltmarsh, "Priya", "2026-10-05 19:01") {
		t.Error("not paused in both teams")
	}
	if got := h.step(parsed); len(got) != 0 {
		t.Errorf("the same message again: %s", texts(got))
	}
	h.last++
	posts = h.step(bot.Tap{ID: h.last, Team: team, Author: h.cast["Priya"], Place: bot.Private, Button: bot.TapMisread, On: parsed.ID, About: h.cast["Priya"].ID, At: h.at("2026-10-05 19:05")})
	if got := told(posts); got != "reply Priya" {
		t.Errorf("told: %s", texts(posts))
	}
	if h.paused(team, "Priya", "2026-10-05 19:06") || h.paused(saltmarsh, "Priya", "2026-10-05 19:06") {
		t.Error("a misread pause still holds")
	}
}

func TestPainSaidInAChannelHoldsThere(t *testing.T) {
	h := newHouses(t)
	if got := told(h.says("2026-10-05 19:00", "Priya", "my left elbow hurts")); got != "reply Priya, notice Ilda" {
		t.Errorf("told: %s", got)
	}
	if !h.paused(team, "Priya", "2026-10-05 19:01") || h.paused(saltmarsh, "Priya", "2026-10-05 19:01") {
		t.Error("what is said in a team's channel is that team's")
	}
}

// A coach who trains elsewhere is paused where they train.
func TestPainOfACoachWhoTrainsElsewhere(t *testing.T) {
	h := newHouses(t)
	parsed := h.alone("2026-10-05 19:00", "Mirela", "sharp pain in my right wrist")
	parsed.Team = saltmarsh
	posts := h.step(parsed)
	if got := told(posts); got != "reply Mirela, notice Ilda" {
		t.Errorf("told: %s", texts(posts))
	}
	if !strings.Contains(posts[0].Text, "paused") || !h.paused(team, "Mirela", "2026-10-05 19:01") {
		t.Errorf("not paused: %s", posts[0].Text)
	}
}

func TestUndecided(t *testing.T) {
	h := newHouses(t)
	for _, c := range []struct {
		text, told string
		ask        bool
	}{
		{"my left elbow hurts", "reply Priya, notice Ilda, notice Mirela", false},
		{"3x20s support, my left elbow hurts 4/10", "reply Priya, notice Ilda, notice Mirela", true},
		{"3x20s support", "", true},
		{"/gates", "", true},
	} {
		parsed := h.alone("2026-10-05 19:00", "Priya", c.text)
		posts, ask, err := h.bot.BeforeTeamChosen(t.Context(), parsed)
		if err != nil {
			t.Fatal(err)
		}
		if got := told(posts); got != c.told || ask != c.ask {
			t.Errorf("%q: told %q, ask %v", c.text, got, ask)
		}
		if c.text != "/gates" && ask {
			for _, post := range h.step(parsed) { // once the team is known, the rest follows
				if post.Kind == bot.Reply && strings.Contains(post.Text, "stop") || post.To == bot.ToCoach {
					t.Errorf("%q, then: %s", c.text, texts([]bot.Post{post}))
				}
			}
		}
	}
}
