package outbox

import (
	"context"
	"errors"
	"fmt"
	"testing"
	"time"

	"rungbook/bot"
)

func TestCrashBetweenEveryTwoSteps(t *testing.T) {
	for _, pause := range []time.Duration{0, 30 * time.Second, 59 * time.Second, time.Minute, 2 * time.Minute, nonceMemory + time.Minute, 6 * time.Hour} {
		for _, lost := range []bool{false, true} {
			for first := range 10 {
				for second := range 12 {
					w := newWorld()
					post := w.store.form(t, notice("a word"))
					for i, after := range []int{first, second} {
						p := w.start()
						p.fuse.armed, p.fuse.left = true, after
						if lost {
							p.conn.send = func(bot.Post) reaction { return answerLost }
						}
						if i == 0 {
							_ = p.Deliver(t.Context(), []bot.Post{post}, w.time) // it dies on the way
						} else {
							_ = p.Resume(t.Context(), w.time)
						}
						w.time = w.time.Add(pause)
					}
					if err := w.start().Resume(t.Context(), w.time); err != nil {
						t.Fatal(err)
					}
					w.once(t, post, fmt.Sprintf("ended after %d and %d steps, %s apart, answers lost %t", first, second, pause, lost))
				}
			}
		}
	}
}

func TestResumeByAgeOfTheClaim(t *testing.T) {
	for _, c := range []struct {
		age    time.Duration
		looked bool
	}{{0, false}, {59 * time.Second, false}, {time.Minute, true}, {time.Hour, true}, {-time.Second, true}} {
		w := newWorld()
		post := w.store.form(t, notice("a word"))
		p := w.start()
		p.conn.send = func(bot.Post) reaction { return answerLost }
		p.fuse.armed, p.fuse.left = true, 5 // Post, Claim, and Send's work
		_ = p.Deliver(t.Context(), []bot.Post{post}, w.time)
		w.time = w.time.Add(c.age)
		next, looked := w.start(), false
		next.conn.find = func() error { looked = true; return nil }
		if err := next.Resume(t.Context(), w.time); err != nil {
			t.Fatal(err)
		}
		if looked != c.looked || !looked && next.conn.sent[0] != p.conn.sent[0] {
			t.Errorf("claim of age %s: looked for %t, nonces %v then %v", c.age, looked, p.conn.sent, next.conn.sent)
		}
		if c.age > -time.Second {
			w.once(t, post, fmt.Sprint("claim of age ", c.age))
		}
	}
}

// Where the history may not be read a nudge is not said again, and a notice is: it
// may be about pain.
func TestUnreadableHistory(t *testing.T) {
	for _, c := range []struct {
		post  bot.Post
		twice bool
	}{{nudge("a word"), false}, {bot.Post{Kind: bot.Digest, To: bot.ToCoach, Person: 2, Text: "a word"}, false}, {notice("a word"), true}} {
		w := newWorld()
		post := w.store.form(t, c.post)
		p := w.start()
		p.conn.send = func(bot.Post) reaction { return answerLost }
		p.fuse.armed, p.fuse.left = true, 5
		_ = p.Deliver(t.Context(), []bot.Post{post}, w.time) // it dies on the way
		w.time = w.time.Add(5 * time.Minute)
		p = w.start()
		p.conn.find = func() error { return errWire }
		if err := p.Resume(t.Context(), w.time); !errors.Is(err, errWire) || w.store.row(post.Unasked).state != "sending" || len(p.conn.sent) > 0 {
			t.Errorf("%s, history not to be had for now: %v, %v", post.Kind, err, w.store.row(post.Unasked))
		}
		p.conn.find = func() error { return ErrRefused }
		if err := p.Resume(t.Context(), w.time); err != nil {
			t.Error(err)
		}
		row, seen := w.store.row(post.Unasked), w.platform.seen("a word")
		if c.twice {
			if row.state != "sent" || seen != 2 || len(w.lost) > 0 {
				t.Errorf("%s, history may not be read: %v, shown %d times, told %v", post.Kind, row, seen, w.lost)
			}
		} else if row.state != "dropped" || row.why != "unreadable" || w.lost["a word"] != Unreadable || seen != 1 {
			t.Errorf("%s, history may not be read: %v, shown %d times, told %v", post.Kind, row, seen, w.lost)
		}
	}
}

func TestHistoryThatIsNeverToBeHad(t *testing.T) {
	for _, c := range []struct {
		post  bot.Post
		state string
	}{{nudge("a word"), "dropped"}, {notice("a word"), "sent"}} {
		w := newWorld()
		post := w.store.form(t, c.post)
		p := w.start()
		p.conn.send = func(bot.Post) reaction { return answerLost }
		p.fuse.armed, p.fuse.left = true, 5
		_ = p.Deliver(t.Context(), []bot.Post{post}, w.time)
		p = w.start()
		p.conn.find = func() error { return errWire }
		for range 59 {
			w.time = w.time.Add(time.Minute)
			_ = p.Resume(t.Context(), w.time)
		}
		if row := w.store.row(post.Unasked); row.state != "sending" {
			t.Errorf("%s after 59 minutes: %v", post.Kind, row)
		}
		w.time = w.time.Add(2 * time.Minute)
		if err := p.Resume(t.Context(), w.time); err != nil || w.store.row(post.Unasked).state != c.state {
			t.Errorf("%s after an hour: %v, %v, told %v", post.Kind, err, w.store.row(post.Unasked), w.lost)
		}
	}
}

func TestOutage(t *testing.T) {
	w := newWorld()
	begun := w.time
	stale, fresh := nudge("team day"), notice("a word")
	stale.Until = begun.Add(10 * time.Minute)
	stale, fresh = w.store.form(t, stale), w.store.form(t, fresh)
	p := w.start()
	p.conn.send = func(bot.Post) reaction { return neverLeft }
	p.conn.find = func() error { return errWire }
	for i, got := range p.outbox.Deliver(t.Context(), p.conn, []bot.Post{stale, fresh, reply("a read-back", 11)}, w.time) {
		if got.Result != Pending || !errors.Is(got.Err, ErrUnsent) || len(w.lost) > 0 {
			t.Errorf("deliver %d: %v, told %v", i, got, w.lost)
		}
	}
	if took := w.time.Sub(begun); took > 3*time.Minute {
		t.Errorf("three posts took %s", took)
	}
	for range 30 {
		w.time = w.time.Add(30 * time.Second)
		_ = p.Resume(t.Context(), w.time)
	}
	p.conn.send, p.conn.find = nil, nil
	if err := p.Resume(t.Context(), w.time); err != nil {
		t.Error(err)
	}
	w.once(t, fresh, "after the outage")
	if row := w.store.row(stale.Unasked); row.why != "too late" || !row.missed || w.platform.seen("team day") != 0 || w.lost["team day"] != TooLate {
		t.Errorf("stale nudge: %v, told %v", row, w.lost)
	}
}

// An answer whose sending nobody noted is looked for, however young it is, and
// sent only where it is not there.
func TestRedeliver(t *testing.T) {
	for _, out := range []bool{true, false} {
		for _, age := range []time.Duration{time.Second, 5 * time.Minute, 6 * time.Hour} {
			w := newWorld()
			post, at := reply("a read-back", 11), w.time
			if first := w.start(); out {
				if err := first.Deliver(t.Context(), []bot.Post{post}, at); err != nil {
					t.Fatal(err)
				}
			}
			w.time = w.time.Add(age)
			if err := w.start().Redeliver(t.Context(), []bot.Post{post}, at); err != nil {
				t.Fatal(err)
			}
			if seen := w.platform.seen("a read-back"); seen != 1 {
				t.Errorf("out %t, again after %s: shown %d times", out, age, seen)
			}
		}
	}
	w := newWorld()
	p := w.start()
	p.conn.find = func() error { return ErrRefused }
	if err := p.Redeliver(t.Context(), []bot.Post{reply("a read-back", 11)}, w.time); err != nil || w.platform.seen("a read-back") != 1 || len(w.lost) > 0 {
		t.Errorf("history may not be read: %v, shown %d times, told %v", err, w.platform.seen("a read-back"), w.lost)
	}
	w = newWorld()
	w.time = w.time.Add(6 * time.Hour)
	p = w.start()
	p.conn.find = func() error { return errWire } // not to be had for now: it stays owed, whoever asks again
	if err := p.Redeliver(t.Context(), []bot.Post{reply("a read-back", 11)}, w.time.Add(-6*time.Hour)); !errors.Is(err, errWire) || len(w.lost) > 0 {
		t.Errorf("history not to be had: %v, told %v", err, w.lost)
	}
}

func TestStaleButOut(t *testing.T) {
	w := newWorld()
	post := nudge("team day")
	post.Until = w.time.Add(20 * time.Second)
	post = w.store.form(t, post)
	p := w.start()
	p.conn.send = func(bot.Post) reaction { return answerLost }
	p.fuse.armed, p.fuse.left = true, 5
	_ = p.Deliver(t.Context(), []bot.Post{post}, w.time)
	w.time = w.time.Add(30 * time.Second)
	if err := w.start().Resume(t.Context(), w.time); err != nil {
		t.Error(err)
	}
	w.once(t, post, "stale but out")
}

func TestLossIsToldThoughTheProcessEnds(t *testing.T) {
	for after := range 12 {
		w := newWorld()
		post := w.store.form(t, notice("a word"))
		p := w.start()
		p.fuse.armed, p.fuse.left = true, after
		p.conn.send = func(bot.Post) reaction { return closed }
		_ = p.Deliver(t.Context(), []bot.Post{post}, w.time)
		next := w.start()
		next.conn.send = p.conn.send
		if err := next.Resume(t.Context(), w.time); err != nil {
			t.Error(err)
		}
		if row := w.store.row(post.Unasked); row.state != "dropped" || w.lost["a word"] != Closed {
			t.Errorf("ended after %d steps: %v, told %v", after, row, w.lost)
		}
	}
}

func TestLossThatCannotBeTold(t *testing.T) {
	w := newWorld()
	post := w.store.form(t, notice("a word"))
	cause := errors.New("disk full")
	l := &connection{platform: w.platform, fuse: &fuse{}, send: func(bot.Post) reaction { return closed }, lost: func(Lost) error { return cause }}
	o := New(&processStore{w.store, &fuse{}}).To(l)
	if err := o.Deliver(t.Context(), []bot.Post{post}, w.time); !errors.Is(err, cause) || w.store.row(1).state != "sending" {
		t.Errorf("%v, %v", err, w.store.row(1))
	}
	l.lost = nil
	if err := o.Resume(t.Context(), w.time); !errors.Is(err, ErrClosed) || w.store.row(1).state != "dropped" {
		t.Errorf("with nobody to tell: %v, %v", err, w.store.row(1))
	}
}

func TestDamagedPost(t *testing.T) {
	w := newWorld()
	w.store.rows = []row{{payload: []byte("{"), state: "formed"}}
	good := w.store.form(t, notice("a word"))
	if err := w.start().Resume(t.Context(), w.time); err != nil {
		t.Error(err)
	}
	if row := w.store.row(1); row.state != "dropped" || row.why != "damaged" {
		t.Errorf("%v", row)
	}
	w.once(t, good, "the one behind it")
}

func TestDoubtOutlivesLaterAttempts(t *testing.T) {
	w := newWorld()
	post := w.store.form(t, notice("a word"))
	p := w.start()
	p.conn.send = func(bot.Post) reaction {
		switch len(p.conn.sent) {
		case 1:
			return answerLost
		case 9:
			return arrives
		}
		w.time = w.time.Add(50 * time.Second)
		return limited
	}
	if err := p.Deliver(t.Context(), []bot.Post{post}, w.time); err != nil {
		t.Fatal(err)
	}
	w.once(t, post, "found at last")
}

func TestStoreFails(t *testing.T) {
	for _, c := range []struct{ steps, sent int }{{0, 0}, {2, 0}, {3, 0}, {4, 1}} { // reading, claiming, claimed all the same, noting
		w := newWorld()
		post := w.store.form(t, notice("a word"))
		full := &fuse{armed: true, left: c.steps}
		l := &connection{platform: w.platform, fuse: &fuse{}}
		waits := 0
		o := New(&processStore{w.store, full}, WithWait(func(context.Context, time.Duration) error { waits++; return nil })).To(l)
		if err := o.Deliver(t.Context(), []bot.Post{post}, w.time); !errors.Is(err, errDead) || waits > 0 || len(l.sent) != c.sent {
			t.Errorf("store fails after %d steps: %v, %d waits, %d attempts", c.steps, err, waits, len(l.sent))
		}
		if err := w.start().Resume(t.Context(), w.time); err != nil {
			t.Fatal(err)
		}
		w.once(t, post, "the store works again")
	}
}
