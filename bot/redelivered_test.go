package bot_test

import (
	"reflect"
	"strings"
	"testing"
	"time"

	"rungbook/bot"
	"rungbook/store"
	"rungbook/training"
)

// owes reports whether the message's answer is remembered as one to be sent.
func (h *house) owes(id training.MessageID) (owed bool) {
	h.t.Helper()
	err := h.db.View(h.t.Context(), func(tx *store.Tx) (err error) {
		owed, err = tx.Unanswered(id)
		return err
	})
	if err != nil {
		h.t.Fatal(err)
	}
	return owed
}

// answers are the posts that are no notices: those are stored and sent anyhow.
func answers(posts []bot.Post) (left []bot.Post) {
	for _, post := range posts {
		if post.Unasked == 0 {
			left = append(left, post)
		}
	}
	return left
}

// What a message was answered is said again word for word, however often, and
// its notices are not; without the word that it is owed nothing is said twice.
func TestUnansweredAreAnsweredAgain(t *testing.T) {
	for _, c := range []struct {
		text string
		owed bool
	}{
		{"3x20s high hold", true},
		{"3x30s deep hang, 2x1min transitions", true},
		{"3x30s depe hang", true}, // cannot be read whole
		{"my elbow hurts, 5/10", true},
		{"3x20s high hold, my elbow hurts, 5/10", true},
		{"my hands are torn", true},
		{"who brings the tape?", false},
	} {
		h := newHouse(t, "")
		h.says("2026-10-05 18:00", "Priya", "3x18s high hold")
		first := answers(h.says("2026-10-08 19:00", "Priya", c.text))
		if owed := h.owes(h.last); owed != c.owed || owed != (len(first) > 0) {
			t.Errorf("%q: owed %t, answered\n%s", c.text, owed, texts(first))
		}
		message := bot.Message{ID: h.last, Team: team, Author: h.cast["Priya"], Place: bot.Channel, Text: c.text, At: h.at("2026-10-08 19:00")}
		if twice := h.step(message); len(twice) > 0 {
			t.Errorf("%q: said twice\n%s", c.text, texts(twice))
		}
		message.Redelivered = true
		for range 2 {
			again := h.step(bot.CatchUp{Team: team, Events: []bot.Event{message}, At: h.at("2026-10-08 19:05")})
			for i := range again {
				again[i].Event = 0
			}
			if !reflect.DeepEqual(again, first) {
				t.Errorf("%q: said again\n%s\nfirst\n%s", c.text, texts(again), texts(first))
			}
		}
	}
}

// Long afterwards a log is answered as one read late is.
func TestUnansweredLate(t *testing.T) {
	h := newHouse(t, "")
	h.says("2026-10-08 19:00", "Priya", "3x20s high hold")
	again := bot.Message{ID: h.last, Team: team, Author: h.cast["Priya"], Place: bot.Channel, Text: "3x20s high hold", At: h.at("2026-10-08 19:00"), Redelivered: true}
	posts := h.step(bot.CatchUp{Team: team, Events: []bot.Event{again}, At: h.at("2026-10-08 20:00")})
	if len(posts) != 2 || posts[0].Kind != bot.Mark || posts[1].Kind != bot.Reply {
		t.Errorf("%s", texts(posts))
	}
}

func TestUnansweredWithdrawals(t *testing.T) {
	h := newHouse(t, "")
	sent := h.at("2026-10-08 19:00")
	message := func(again bool) bot.Message {
		return bot.Message{ID: h.last, Team: team, Author: h.cast["Priya"], Place: bot.Channel, Text: "3x20s high hold", At: sent, Redelivered: again}
	}
	h.says("2026-10-08 19:00", "Priya", "3x20s high hold")
	h.pay(h.last)
	gone := bot.Delete{ID: h.last, Team: team, Author: h.cast["Priya"], Place: bot.Channel, At: sent.Add(time.Minute)}
	first := h.step(gone)
	if !h.owes(h.last) || !strings.HasPrefix(texts(first), "withdraw") {
		t.Errorf("owed %t: %s", h.owes(h.last), texts(first))
	}
	if twice := h.step(gone); len(twice) > 0 {
		t.Errorf("twice: %s", texts(twice))
	}
	gone.Redelivered = true
	if again := h.step(gone); texts(again) != texts(first) {
		t.Errorf("again: %s", texts(again))
	}
	h.says("2026-10-08 19:10", "Priya", "3x20s high hold")
	log := h.last
	h.pay(log)
	h.says("2026-10-08 19:12", "Priya", "/undo")
	h.last = log
	if !h.owes(log) {
		t.Error("what /undo withdraws is not owed")
	}
	edited := message(true)
	edited.Edited = sent.Add(time.Second)
	for _, event := range []bot.Event{message(true), bot.Edit{Message: edited}} {
		if again := h.step(event); len(again) != 1 || again[0].Kind != bot.Withdraw {
			t.Errorf("undone, again: %s", texts(again))
		}
	}
}

func (h *house) pay(id training.MessageID) {
	h.t.Helper()
	if err := h.db.Update(h.t.Context(), func(tx *store.Tx) error { return tx.MarkAnswered(id) }); err != nil {
		h.t.Fatal(err)
	}
}

// Pain whose pause is over, taken back or ended, is not spoken of again.
func TestUnansweredPainOfAPauseThatIsOver(t *testing.T) {
	h := newHouse(t, "")
	h.says("2026-10-08 19:00", "Priya", "my elbow hurts, 5/10")
	pain := bot.Message{ID: h.last, Team: team, Author: h.cast["Priya"], Place: bot.Channel, Text: "my elbow hurts, 5/10", At: h.at("2026-10-08 19:00"), Redelivered: true}
	h.says("2026-10-09 09:00", "Priya", "/pause end")
	h.says("2026-10-09 09:01", "Ilda", "/coach resume member:Priya")
	if again := h.step(pain); len(again) > 0 {
		t.Errorf("%s", texts(again))
	}
}
