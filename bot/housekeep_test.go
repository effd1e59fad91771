package bot_test

import (
	"strings"
	"testing"

	"rungbook/bot"
)

// TestHousekeepingSaysNothingTwice forgets what is old, and neither welcomes
// anybody anew nor nudges for a day gone by.
func TestHousekeepingSaysNothingTwice(t *testing.T) {
	h := newHouse(t, "")
	first := h.says("2026-10-05 19:00", "Priya", "3x20s support")
	if !strings.Contains(texts(first), "notice to private: Welcome") {
		t.Fatalf("no welcome at a first log:\n%s", texts(first))
	}
	nudges := texts(h.step(bot.Beat{Team: team, At: h.at("2026-10-08 17:30")}))
	if !strings.Contains(nudges, "nudge to channel: Tomé, Priya") {
		t.Fatalf("no nudge on a team day:\n%s", nudges)
	}
	keep := func(stamp string) {
		t.Helper()
		if err := h.bot.Housekeep(t.Context(), h.at(stamp)); err != nil {
			t.Fatal(err)
		}
	}
	keep("2026-10-08 17:31")
	if again := h.step(bot.Beat{Team: team, At: h.at("2026-10-08 17:35")}); len(again) > 0 {
		t.Errorf("nudged twice:\n%s", texts(again))
	}
	keep("2027-05-05 04:00")
	if later := texts(h.says("2027-05-05 19:00", "Priya", "3x20s support")); strings.Contains(later, "Welcome") {
		t.Errorf("welcomed twice:\n%s", later)
	}
}
