package bot_test

import (
	"context"
	"errors"
	"testing"
	"time"

	"rungbook/bot"
	"rungbook/store"
	"rungbook/training"
	"rungbook/training/programme"
)

// logs are how many live logs the member has.
func (h *house) logs(name string) (n int) {
	h.t.Helper()
	err := h.db.View(h.t.Context(), func(tx *store.Tx) error {
		logs, err := tx.MemberLogs(team, h.cast[name].ID, training.Date(2026, 1, 1), training.Date(2027, 1, 1))
		n = len(logs)
		return err
	})
	if err != nil {
		h.t.Fatal(err)
	}
	return n
}

// caughtUp has the bot meet events of the time away.
func (h *house) caughtUp(stamp string, events ...bot.Event) []bot.Post {
	h.t.Helper()
	return h.step(bot.CatchUp{Team: team, Events: events, At: h.at(stamp)})
}

// TestNothingBeforeRejoiningIsReadIn gives the bot what somebody wrote before they
// were erased, and while they were, in every way there is.
func TestNothingBeforeRejoiningIsReadIn(t *testing.T) {
	h := newHouses(t)
	said := func(stamp, text string) bot.Message {
		h.last++
		return bot.Message{ID: h.last, Team: team, Author: h.cast["Priya"], Place: bot.Channel, Text: text, At: h.at(stamp)}
	}
	logged := said("2026-10-05 19:00", "3x20s support")
	if posts := h.step(logged); len(posts) == 0 || h.logs("Priya") != 1 {
		t.Fatalf("not logged: %s", texts(posts))
	}
	h.says("2026-10-05 19:10", "Priya", "/mydata erase")
	shutOut := said("2026-10-05 19:20", "3x25s support")
	h.step(shutOut)
	h.says("2026-10-05 19:30", "Priya", "/me rejoin:yes")
	for _, old := range []bot.Message{logged, shutOut, said("2026-10-05 19:15", "3x20s support, my elbow hurts 5/10")} {
		alone, edited := old, old
		alone.Place, edited.Edited = bot.Private, h.at("2026-10-05 19:40")
		again := old
		again.Redelivered = true
		for way, posts := range map[string][]bot.Post{
			"met": h.step(old), "met again": h.step(again), "alone": h.step(alone), "edited": h.step(bot.Edit{Message: edited}),
			"caught up": h.caughtUp("2026-10-05 19:45", old), "its edit caught up": h.caughtUp("2026-10-05 19:45", bot.Edit{Message: edited}),
		} {
			if len(posts) > 0 {
				t.Errorf("%s, %q: %s", way, old.Text, texts(posts))
			}
		}
		if n, err := h.bot.Import(t.Context(), team, []bot.Event{old}, h.at("2026-10-05 19:50")); n != 0 || err != nil {
			t.Errorf("%d imported, %v", n, err)
		}
		if posts, ask, err := h.bot.BeforeTeamChosen(t.Context(), alone); len(posts) > 0 || ask || err != nil {
			t.Errorf("before a team is chosen: %s, asked %t, %v", texts(posts), ask, err)
		}
	}
	if n := h.logs("Priya"); n != 0 || h.paused(team, "Priya", "2026-10-05 20:00") {
		t.Errorf("%d logs read in again", n)
	}
	h.says("2026-10-05 20:00", "Priya", "3x20s support")
	if n := h.logs("Priya"); n != 1 {
		t.Errorf("%d logs since", n)
	}
}

// switched is a store that has no room while it is full.
type switched struct {
	store.As[bot.Tx]
	full *bool
}

func (s switched) Update(ctx context.Context, do func(bot.Tx) error) error {
	if *s.full {
		return errors.New("disk full")
	}
	return s.As.Update(ctx, do)
}

// restart is a new bot on the same store, as after a restart, and what makes that
// store full.
func (h *house) restart() (full *bool) {
	full = new(bool)
	h.bot = bot.New(bot.Options{Store: switched{store.As[bot.Tx]{DB: h.db}, full}, Programme: programme.Builtin(), Programmes: programme.Library{}})
	return full
}

// refusesNow has the bot meet an event while there is no room.
func (h *house) refusesNow(full *bool, event bot.Event) {
	h.t.Helper()
	*full = true
	posts, err := h.bot.Step(h.t.Context(), event)
	*full = false
	if err == nil || len(posts) != 1 || posts[0].Kind != bot.Fault {
		h.t.Fatalf("%v, %s", err, texts(posts))
	}
}

// TestRefusedStaysRefused: what was refused on a full disk is not counted when it is
// read again, before or after a restart, though its author has written it anew.
func TestRefusedStaysRefused(t *testing.T) {
	h := newHouse(t, "")
	full := h.restart()
	first := bot.Message{ID: 7001, Team: team, Author: h.cast["Priya"], Place: bot.Channel, Text: "3x20s support", At: h.at("2026-10-05 19:00")}
	h.refusesNow(full, first)
	if posts := h.caughtUp("2026-10-05 19:01", first); len(posts) > 0 {
		t.Errorf("read again at once: %s", texts(posts))
	}
	*full = true
	if _, err := h.bot.Step(t.Context(), bot.Beat{Team: team, At: h.at("2026-10-05 19:02")}); err == nil {
		t.Fatal("a beat on a full disk went well")
	}
	*full = false
	h.step(bot.Beat{Team: team, At: h.at("2026-10-05 19:03")})
	full = h.restart()
	if posts := h.caughtUp("2026-10-05 19:05", first); len(posts) > 0 {
		t.Errorf("read again after a restart: %s", texts(posts))
	}
	anew := first
	anew.ID, anew.At = 7002, h.at("2026-10-05 19:06")
	h.step(anew)
	if n := h.logs("Priya"); n != 1 {
		t.Errorf("%d logs", n)
	}

	edit := bot.Edit{Message: anew}
	edit.Text, edit.Edited = "3x30s support", h.at("2026-10-05 19:10")
	h.refusesNow(full, edit)
	h.step(bot.Beat{Team: team, At: h.at("2026-10-05 19:11")})
	h.restart()
	if posts := h.caughtUp("2026-10-05 19:12", edit); len(posts) > 0 {
		t.Errorf("an edit read again: %s", texts(posts))
	}
	edit.Edited = edit.Edited.Add(10 * time.Minute)
	if posts := h.step(edit); len(posts) == 0 {
		t.Error("a later edit is not taken")
	}
	if err := h.bot.Housekeep(t.Context(), h.at("2026-10-12 09:00")); err != nil {
		t.Fatal(err)
	}
	if is, err := h.refusedStill(7001); is || err != nil {
		t.Errorf("kept for a week: %t, %v", is, err)
	}
}

func (h *house) refusedStill(id training.MessageID) (is bool, err error) {
	err = h.db.View(h.t.Context(), func(tx *store.Tx) (err error) {
		is, err = tx.Refused(id, time.Time{})
		return err
	})
	return is, err
}

// TestRefusedIsReadOnceWhereThatWasLost: if the process ends before there is room to
// store what was refused, a message is read once more, and answered.
func TestRefusedIsReadOnceWhereThatWasLost(t *testing.T) {
	h := newHouse(t, "")
	message := bot.Message{ID: 7001, Team: team, Author: h.cast["Priya"], Place: bot.Channel, Text: "3x20s support", At: h.at("2026-10-05 19:00")}
	h.refusesNow(h.restart(), message)
	h.restart()
	if posts := h.caughtUp("2026-10-05 19:05", message); len(posts) == 0 || h.logs("Priya") != 1 {
		t.Errorf("%d logs, %s", h.logs("Priya"), texts(posts))
	}
	if posts := h.caughtUp("2026-10-05 19:06", message); len(posts) > 0 {
		t.Errorf("read twice: %s", texts(posts))
	}
}

// What somebody says to the bot alone before they are of the team is refused, and
// stays so once they are.
func TestSaidAloneBeforeTheTeam(t *testing.T) {
	h := newHouse(t, "")
	before := h.alone("2026-10-05 18:00", "Noor", "3x20s support")
	h.says("2026-10-05 19:00", "Noor", "3x20s high hold")
	if posts := h.caughtUp("2026-10-05 19:30", before); len(posts) > 0 || h.logs("Noor") != 1 {
		t.Errorf("%d logs, %s", h.logs("Noor"), texts(posts))
	}
	if posts := h.step(h.alone("2026-10-05 20:00", "Noor", "3x20s support")); len(posts) == 0 || h.logs("Noor") != 2 {
		t.Errorf("%d logs, %s", h.logs("Noor"), texts(posts))
	}
}

// What a message has done is forgotten after some days. From then on an edit of it
// that tells of pain pauses nobody, who may have been paused by it before; they are
// asked alone.
func TestWhatAMessageDidIsForgotten(t *testing.T) {
	h := newHouse(t, "")
	said := bot.Message{ID: 7001, Team: team, Author: h.cast["Priya"], Place: bot.Channel, Text: "my elbow hurts 5/10", At: h.at("2026-10-05 19:00")}
	h.step(said)
	h.says("2026-10-05 19:30", "Ilda", "/coach resume member:Priya")
	edit := bot.Edit{Message: said}
	for _, c := range []struct {
		stamp, want string
		kept        bool
	}{
		{"2026-10-08 18:00", "", true},
		{"2026-10-10 18:00", "reply to private: Does a joint hurt? I ask only you, and keep no answer but yes.", false},
	} {
		if err := h.bot.Housekeep(t.Context(), h.at(c.stamp)); err != nil {
			t.Fatal(err)
		}
		if kept := h.actedStill(7001); kept != c.kept {
			t.Errorf("at %s it is kept that the message set a pause: %t", c.stamp, kept)
		}
		edit.Edited = h.at(c.stamp)
		if got := texts(h.step(edit)); got != c.want {
			t.Errorf("edited at %s: %s", c.stamp, got)
		}
	}
	if h.paused(team, "Priya", "2026-10-11 18:00") {
		t.Error("paused again")
	}
}

// actedStill reports whether it is kept that the message set a pause.
func (h *house) actedStill(id training.MessageID) (acted bool) {
	h.t.Helper()
	lookedAt := errors.New("only looked at")
	err := h.db.Update(h.t.Context(), func(tx *store.Tx) error {
		first, err := tx.ActOnce(id, "pause", h.at("2026-10-05 19:00"))
		acted = !first
		return errors.Join(err, lookedAt)
	})
	if !errors.Is(err, lookedAt) {
		h.t.Fatal(err)
	}
	return acted
}
