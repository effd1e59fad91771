package bot_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	"rungbook/bot"
	"rungbook/store"
	"rungbook/training/programme"
)

// full is a store with no room left.
type full struct{ store.As[bot.Tx] }

func (full) Update(context.Context, func(bot.Tx) error) error { return errors.New("disk full") }

// P6, for what matters most: whoever hurts is told to stop even when nothing
// can be stored.
func TestFaultStillSaysStop(t *testing.T) {
	h := newHouse(t, "")
	h.bot = bot.New(bot.Options{Store: full{store.As[bot.Tx]{DB: h.db}}, Programme: programme.Builtin(), Programmes: programme.Library{}})
	for _, c := range []struct {
		text string
		stop bool
	}{
		{"my elbow hurts", true},
		{"3x20s support, left wrist sore 3/10", true},
		{"3x20s support", false},
		{"my knee hurts, 3x20s support", false},
	} {
		message := bot.Message{ID: 5, Team: team, Author: h.cast["Priya"], Place: bot.Channel, Text: c.text, At: h.at("2026-10-05 19:00")}
		posts, err := h.bot.Step(t.Context(), message)
		if err == nil || len(posts) != 1 || posts[0].Kind != bot.Fault || posts[0].To != bot.ToPrivate {
			t.Fatalf("%q: %v, %s", c.text, err, texts(posts))
		}
		if got := strings.Contains(posts[0].Text, "Please stop"); got != c.stop || strings.Contains(posts[0].Text, "disk") {
			t.Errorf("%q: %s", c.text, posts[0].Text)
		}
	}
}
