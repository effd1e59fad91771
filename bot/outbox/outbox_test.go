package outbox

import (
	"bytes"
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"testing"
	"time"

	"rungbook/bot"
	"rungbook/bot/words"
	"rungbook/training"
)

func nudge(text string) bot.Post {
	return bot.Post{Kind: bot.Nudge, To: bot.ToChannel, Text: text, Mentions: []bot.Mention{{ID: 3, Name: "Tomé"}, {ID: 4, Name: "Wen"}}}
}

func notice(text string) bot.Post {
	return bot.Post{Kind: bot.Notice, To: bot.ToCoach, Person: 2, Name: "Ilda", Text: text}
}

func reply(text string, answers training.MessageID) bot.Post {
	return bot.Post{Kind: bot.Reply, To: bot.ToChannel, Team: team, Person: 3, Name: "Priya", Answers: answers, Text: text}
}

// once fails unless the text was shown once and the post is noted as that message.
func (w *world) once(t *testing.T, post bot.Post, why string) {
	t.Helper()
	row := w.store.row(post.Unasked)
	if seen := w.platform.seen(post.Text); seen != 1 || row.state != "sent" || row.payload != nil {
		t.Errorf("%s: shown %d times, noted as %s", why, seen, row.state)
	}
}

func TestDeliverSendsAndNotes(t *testing.T) {
	w := newWorld()
	p := w.start()
	posts := []bot.Post{reply("3 x 30 s deep hang", 11), w.store.form(t, notice("Priya logged a first time")), w.store.form(t, nudge("Tomé, Wen: team day"))}
	if err := p.Deliver(t.Context(), posts, w.time); err != nil {
		t.Fatal(err)
	}
	var texts []string
	for _, s := range w.platform.shown {
		texts = append(texts, s.post.Text)
		if s.post.Team != team {
			t.Errorf("%q went to team %d", s.post.Text, s.post.Team)
		}
	}
	if want := []string{posts[0].Text, posts[1].Text, posts[2].Text}; !slices.Equal(texts, want) {
		t.Errorf("shown %q, want %q", texts, want)
	}
	w.once(t, posts[1], "notice")
	w.once(t, posts[2], "nudge")
	if err := p.Deliver(t.Context(), posts[1:], w.time); err != nil || len(w.platform.shown) != 3 {
		t.Errorf("delivered again: %v, %d messages", err, len(w.platform.shown))
	}
}

// A stored post comes to the Sender whole, its facts as the JSON they were.
func TestStoredPostComesWhole(t *testing.T) {
	w := newWorld()
	post := nudge("Tomé, Wen: <team day> & more")
	post.Facts = words.NudgeFacts{Mentioned: []string{"Tomé", "<Wen>"}}
	post.Buttons, post.Cause, post.Name = []bot.Button{bot.TapNext}, 9, "x"
	post.Files = []bot.File{{Name: "a.png", Data: []byte{1, 2}}}
	post.Until = w.time.Add(time.Hour)
	want, err := json.Marshal(post.Facts)
	if err != nil {
		t.Fatal(err)
	}
	post = w.store.form(t, post)
	if err := w.start().Resume(t.Context(), w.time); err != nil {
		t.Fatal(err)
	}
	got := w.platform.shown[0].post
	facts, err := json.Marshal(got.Facts)
	if err != nil || !bytes.Equal(facts, want) {
		t.Errorf("facts %s, %v; want %s", facts, err, want)
	}
	got.Facts, post.Facts, post.Team = nil, nil, team
	if a, b := fmt.Sprintf("%+v", got), fmt.Sprintf("%+v", post); a != b {
		t.Errorf("sent\n%s\nformed\n%s", a, b)
	}
}

// The process ends before or after each step of Deliver and again of the first
// Resume; some time later the next one sees to it.
// A claim younger than a minute is posted again with the nonce it had; an older
// one, or one from a clock that was ahead, is looked for first.
// What a Sender says decides what becomes of a post.
func TestClassesOfErrors(t *testing.T) {
	for _, c := range []struct {
		reaction reaction
		state    string
		attempts int
		lost     Result
	}{
		{closed, "dropped", 1, Closed},
		{refused, "dropped", 1, Refused},
		{answerLost, "sent", 2, ""},
		{vanishes, "sent", 2, ""},
		{neverLeft, "sent", 2, ""},
		{limited, "sent", 2, ""},
		{limitedAll, "sent", 2, ""},
		{comesLate, "sent", 2, ""},
	} {
		w := newWorld()
		post := w.store.form(t, notice("a word"))
		p := w.start()
		reactions := []reaction{c.reaction}
		p.conn.send = func(bot.Post) reaction {
			if len(reactions) == 0 {
				return arrives
			}
			reactions = nil
			return c.reaction
		}
		got := p.outbox.Deliver(t.Context(), p.conn, []bot.Post{post}, w.time)[0]
		want := c.lost
		if want == "" {
			want = Sent
		}
		if got.Result != want || (got.Err == nil) != (want == Sent) || (got.Message != 0) != (want == Sent) {
			t.Errorf("reaction %d: outcome %v", c.reaction, got)
		}
		if row := w.store.row(post.Unasked); row.state != c.state || row.why != string(c.lost) || len(p.conn.sent) != c.attempts || w.lost["a word"] != c.lost {
			t.Errorf("reaction %d: %d attempts, %v, told %v", c.reaction, len(p.conn.sent), row, w.lost)
		}
		if c.state == "sent" {
			w.time = w.time.Add(2 * time.Minute)
			w.once(t, post, fmt.Sprintf("reaction %d", c.reaction))
		}
	}
}

// Sent, its answer lost, and deleted by somebody before the second attempt.
func TestDeletedMeanwhile(t *testing.T) {
	w := newWorld()
	post := w.store.form(t, notice("a word"))
	p := w.start()
	p.conn.send = func(bot.Post) reaction {
		if len(p.conn.sent) == 1 {
			return answerLost
		}
		w.platform.erase("a word")
		return arrives
	}
	if err := p.Deliver(t.Context(), []bot.Post{post}, w.time); err != nil {
		t.Error(err)
	}
	if row := w.store.row(post.Unasked); row.state != "sent" || w.platform.seen("a word") != 1 {
		t.Errorf("%v, shown %d times", row, w.platform.seen("a word"))
	}
}

// What a platform that gives no answer leaves, the next beats see to.
// Too late to send is not too late to have been sent.
// The loss is told before it is noted: a process that ends between the two
// tells it again.
func TestResumeSendsTheUrgentFirst(t *testing.T) {
	w := newWorld()
	for _, post := range []bot.Post{
		{Kind: bot.Digest, To: bot.ToCoach, Text: "digest"}, nudge("nudge"), notice("notice 1"),
		{Kind: bot.Reply, To: bot.ToChannel, Text: "reply"}, notice("notice 2"),
	} {
		w.store.form(t, post)
	}
	if err := w.start().Resume(t.Context(), w.time); err != nil {
		t.Fatal(err)
	}
	var order []string
	for _, s := range w.platform.shown {
		order = append(order, s.post.Text)
	}
	if want := []string{"notice 1", "notice 2", "reply", "nudge", "digest"}; !slices.Equal(order, want) {
		t.Errorf("order %q, want %q", order, want)
	}
}

func TestNonces(t *testing.T) {
	at := time.Date(2026, 10, 5, 19, 12, 0, 0, time.UTC)
	base := answerNonce(reply("a", 11), 0, at)
	// At most 25 characters: Discord's documentation, Create Message, nonce.
	if !regexp.MustCompile(`^[A-Za-z0-9_-]{24}$`).MatchString(base) {
		t.Errorf("nonce %q", base)
	}
	if base != answerNonce(reply("a", 11), 0, at) {
		t.Error("the same answer has two nonces")
	}
	seen := map[string]string{base: "base"}
	for why, nonce := range map[string]string{
		"another message": answerNonce(reply("a", 12), 0, at), "another text": answerNonce(reply("b", 11), 0, at),
		"the second part": answerNonce(reply("a", 11), 1, at), "a later event": answerNonce(reply("a", 11), 0, at.Add(time.Second)),
		"stored": nonce("stored", int64(11), int64(7), "x"), "stored, other number": nonce("stored", int64(12), int64(7), "x"),
		"stored, other database": nonce("stored", int64(11), int64(7), "y"),
	} {
		if other, twice := seen[nonce]; twice {
			t.Errorf("%s has the nonce of %s", why, other)
		}
		seen[nonce] = why
	}
}

// Taking an answer down twice does no harm: nothing is looked for.
func TestHarmlessTwice(t *testing.T) {
	w := newWorld()
	p := w.start()
	p.conn.find = func() error { t.Error("history was asked"); return nil }
	p.conn.send = func(bot.Post) reaction {
		if len(p.conn.sent) > 1 {
			return arrives
		}
		w.time = w.time.Add(2 * time.Minute)
		return answerLost
	}
	post := bot.Post{Kind: bot.Withdraw, To: bot.ToChannel, Answers: 11}
	if err := p.Deliver(t.Context(), []bot.Post{post}, w.time); err != nil || len(p.conn.sent) != 2 {
		t.Errorf("%v, %d attempts", err, len(p.conn.sent))
	}
}

// An attempt that may have got through stays in doubt whatever is known of
// later ones: when the nonce is forgotten it is looked for.
// A store that fails is no platform that fails: nothing leaves unclaimed, and
// nothing is tried again before the store works.
func TestWaitsAsLongAsAsked(t *testing.T) {
	w := newWorld()
	p := w.start()
	p.conn.send = func(bot.Post) reaction {
		if len(p.conn.sent) <= 40 {
			return limited
		}
		return arrives
	}
	begun := w.time
	if err := p.Deliver(t.Context(), []bot.Post{w.store.form(t, notice("a word"))}, begun); err != nil {
		t.Fatal(err)
	}
	if took := w.time.Sub(begun); took != 2*time.Minute {
		t.Errorf("40 limits of 3 s took %s", took)
	}
}
