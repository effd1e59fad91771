package bot_test

import (
	"path/filepath"
	"strings"
	"testing"
	"time"
	_ "time/tzdata"

	"rungbook/bot"
	"rungbook/store"
	"rungbook/training"
	"rungbook/training/programme"
)

// house is a bot on a database of its own, with the demo team.
type house struct {
	t    testing.TB
	db   *store.DB
	bot  *bot.Bot
	zone *time.Location
	cast map[string]bot.Author
	last training.MessageID
}

const team training.TeamID = 1

func newHouse(t testing.TB, path string) *house {
	t.Helper()
	if path == "" {
		path = filepath.Join(t.TempDir(), "rungbook.db")
	}
	db, err := store.Open(t.Context(), store.Options{Path: path, Key: []byte("a key for tests, 32 bytes long..")})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { db.Close() })
	zone, err := time.LoadLocation("Europe/Lisbon")
	if err != nil {
		t.Fatal(err)
	}
	h := &house{t: t, db: db, zone: zone, cast: map[string]bot.Author{}}
	h.bot = bot.New(bot.Options{Store: store.As[bot.Tx]{DB: db}, Programme: programme.Builtin(), Programmes: programme.Library{}})
	h.enrol("2026-10-05 08:00")
	return h
}

// enrol puts the demo team on the roster.
func (h *house) enrol(stamp string) {
	at := h.at(stamp)
	settled := training.Team{ID: team, Name: "Tidewater Rings", Zone: h.zone, Nudge: 17*60 + 30, DigestDay: time.Sunday, Digest: 18 * 60,
		Quiet: training.Quiet{From: 22 * 60, Until: 7 * 60}}
	settled.Days = settled.Days.With(time.Monday).With(time.Thursday)
	err := h.db.Update(h.t.Context(), func(tx *store.Tx) error {
		if err := tx.PutTeam(settled); err != nil {
			return err
		}
		for i, name := range []string{"Ilda", "Tomé", "Priya", "Wen", "Sanna", "Bako", "Mirela"} {
			id := training.PersonID(i + 1)
			member := training.Member{ID: id, Name: name, Zone: h.zone, Since: at, Nudges: true}
			if name == "Ilda" {
				member.Coach = true
			} else {
				member.Trains, member.Joined = true, training.DayOf(at, h.zone)
			}
			h.cast[name] = bot.Author{ID: id, Name: name, Coach: member.Coach}
			if err := tx.PutMember(team, member); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		h.t.Fatal(err)
	}
	h.cast["Noor"] = bot.Author{ID: 90, Name: "Noor"}
	h.cast["Rui"] = bot.Author{ID: 91, Name: "Rui", Manager: true}
}

func (h *house) at(stamp string) time.Time {
	at, err := time.ParseInLocation("2006-01-02 15:04", stamp, h.zone)
	if err != nil {
		h.t.Fatal(err)
	}
	return at
}

// says plays a message in the channel and returns the posts.
func (h *house) says(stamp, name, text string) []bot.Post {
	h.t.Helper()
	h.last++
	return h.step(bot.Message{ID: h.last, Team: team, Author: h.cast[name], Place: bot.Channel, Text: text, At: h.at(stamp)})
}

func (h *house) step(event bot.Event) []bot.Post {
	h.t.Helper()
	posts, err := h.bot.Step(h.t.Context(), event)
	if err != nil {
		h.t.Fatalf("step %+v: %v", event, err)
	}
	return posts
}

// texts are the posts in short: kind, audience and words.
func texts(posts []bot.Post) string {
	var lines []string
	for _, post := range posts {
		lines = append(lines, strings.TrimSpace(string(post.Kind)+" to "+string(post.To)+": "+post.Text))
	}
	return strings.Join(lines, "\n")
}
