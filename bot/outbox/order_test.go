package outbox

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"rungbook/bot"
	"rungbook/training"
)

// slow is a platform in a bubble that takes its time.
type slow struct {
	*platform
	takes  time.Duration
	limits map[string]*RateError // by text: the first attempt meets it

	mu         sync.Mutex
	order      []string
	busy, most int
}

func newSlow(takes time.Duration) *slow {
	return &slow{platform: &platform{now: time.Now}, takes: takes, limits: map[string]*RateError{}}
}

func (s *slow) Send(ctx context.Context, post bot.Post, nonce string) (training.MessageID, error) {
	s.mu.Lock()
	s.order = append(s.order, post.Text)
	s.busy++
	s.most = max(s.most, s.busy)
	limit := s.limits[post.Text]
	delete(s.limits, post.Text)
	s.mu.Unlock()
	defer func() {
		s.mu.Lock()
		s.busy--
		s.mu.Unlock()
	}()
	if limit != nil {
		return 0, limit
	}
	if err := Sleep(ctx, s.takes); err != nil {
		return 0, err
	}
	return s.create(post, nonce)
}

func (s *slow) Find(context.Context, bot.Post, time.Time) (training.MessageID, bool, error) {
	return 0, false, errors.New("history was asked")
}

func (s *slow) Lost(context.Context, Lost) error { return errors.New("a post was lost") }

// deliver delivers each post by a goroutine of its own, in order of arrival.
func deliver(t *testing.T, o Bound, posts ...bot.Post) *sync.WaitGroup {
	var all sync.WaitGroup
	for _, post := range posts {
		all.Go(func() {
			if err := o.Deliver(t.Context(), []bot.Post{post}, time.Now()); err != nil {
				t.Error(err)
			}
		})
		synctest.Wait()
	}
	return &all
}

func TestTheUrgentPassFirst(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s, l := newSlow(time.Second), &memoryStore{}
		o := New(&processStore{l, &fuse{}}, WithClock(time.Now), WithWidth(1)).To(s)
		digest := l.form(t, bot.Post{Kind: bot.Digest, To: bot.ToCoach, Text: "digest"})
		pain := bot.Post{Kind: bot.Reply, To: bot.ToPrivate, Answers: 12, Text: "to one person"}
		deliver(t, o, reply("under way", 10), digest, l.form(t, nudge("nudge 1")), reply("reply", 11), l.form(t, nudge("nudge 2")), l.form(t, notice("notice")), pain).Wait()
		want := []string{"under way", "notice", "to one person", "reply", "nudge 1", "nudge 2", "digest"}
		if !slices.Equal(s.order, want) {
			t.Errorf("order %q, want %q", s.order, want)
		}
		if s.most != 1 {
			t.Errorf("%d at once", s.most)
		}
	})
}

func TestAsManyAtOnceAsAreLetIn(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s, begun := newSlow(time.Second), time.Now()
		o := New(&processStore{&memoryStore{}, &fuse{}}, WithClock(time.Now)).To(s)
		var posts []bot.Post
		for i := range training.MessageID(24) {
			posts = append(posts, reply(fmt.Sprint(i), i+1))
		}
		deliver(t, o, posts...).Wait()
		if took := time.Since(begun); took != 3*time.Second || s.most != 8 {
			t.Errorf("24 posts of a second took %s, %d at once", took, s.most)
		}
	})
}

// A limit on one place holds up that post alone; a limit on everything holds
// up all that has not begun.
func TestRateLimits(t *testing.T) {
	for _, all := range []bool{false, true} {
		synctest.Test(t, func(t *testing.T) {
			s, begun := newSlow(0), time.Now()
			s.limits["limited"] = &RateError{After: 10 * time.Second, All: all}
			o := New(&processStore{&memoryStore{}, &fuse{}}, WithClock(time.Now)).To(s)
			deliver(t, o, reply("limited", 10), reply("other", 11)).Wait()
			for _, shown := range s.shown {
				after := shown.at.Sub(begun)
				waited := after == 10*time.Second
				if after != 0 && !waited || waited != (all || shown.post.Text == "limited") {
					t.Errorf("limit on all %t: %s shown after %s", all, shown.post.Text, after)
				}
			}
			if len(s.shown) != 2 {
				t.Errorf("%d shown", len(s.shown))
			}
		})
	}
}

// P7 with two programs by mistake on one database, and two goroutines in each.
func TestFourAtOnce(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s, l := newSlow(100*time.Millisecond), &memoryStore{}
		var posts []bot.Post
		for i := range 50 {
			posts = append(posts, l.form(t, notice(fmt.Sprint("post ", i))))
		}
		var all sync.WaitGroup
		for range 2 {
			o := New(&processStore{l, &fuse{}}, WithClock(time.Now)).To(s)
			all.Go(func() { _ = o.Resume(t.Context(), time.Now()) }) // it may find a post settled by the other
			all.Go(func() { _ = o.Deliver(t.Context(), posts, time.Now()) })
		}
		all.Wait()
		for _, post := range posts {
			if row := l.row(post.Unasked); s.seen(post.Text) != 1 || row.state != "sent" {
				t.Errorf("%s: shown %d times, %s", post.Text, s.seen(post.Text), row.state)
			}
		}
		if attempts := len(s.order); attempts > 100 {
			t.Errorf("%d attempts at 50 posts: more than one in a program", attempts)
		}
	})
}

// While the program is being stopped nothing waits on, and what got out is noted.
func TestStop(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		ctx, stop := context.WithCancel(t.Context())
		l := &memoryStore{}
		s := newSlow(0)
		for _, text := range []string{"limited", "limited too"} {
			s.limits[text] = &RateError{After: time.Hour, All: true}
		}
		o := New(&processStore{l, &fuse{}}, WithClock(time.Now), WithWidth(1)).To(s)
		var all sync.WaitGroup
		for _, text := range []string{"limited", "behind it"} {
			post := l.form(t, notice(text))
			all.Go(func() {
				if err := o.Deliver(ctx, []bot.Post{post}, time.Now()); !errors.Is(err, context.Canceled) {
					t.Errorf("%s: %v", text, err)
				}
			})
			synctest.Wait()
		}
		begun := time.Now()
		stop()
		all.Wait()
		if took := time.Since(begun); took != 0 {
			t.Errorf("stopping took %s", took)
		}
		if err := o.Resume(t.Context(), time.Now()); err != nil || len(s.shown) != 2 {
			t.Errorf("a hold outlived its post: %v, %d shown", err, len(s.shown))
		}
	})
}

// stopping stops the program in the very moment in which a post gets out.
type stopping struct {
	*slow
	stop func()
}

func (s stopping) Send(ctx context.Context, post bot.Post, nonce string) (training.MessageID, error) {
	id, err := s.slow.Send(ctx, post, nonce)
	s.stop()
	return id, err
}

// heedful is a store that does nothing once its context is done, as a store does.
type heedful struct{ *processStore }

func (b heedful) Sent(ctx context.Context, id int64) error {
	if ctx.Err() != nil {
		return ctx.Err()
	}
	return b.processStore.Sent(ctx, id)
}

func TestWhatIsOutIsNoted(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		ctx, stop := context.WithCancel(t.Context())
		l := &memoryStore{}
		post := l.form(t, notice("a word"))
		o := New(heedful{&processStore{l, &fuse{}}}, WithClock(time.Now)).To(stopping{newSlow(0), stop})
		if err := o.Deliver(ctx, []bot.Post{post}, time.Now()); err != nil || l.row(post.Unasked).state != "sent" {
			t.Errorf("%v, noted as %s", err, l.row(post.Unasked).state)
		}
	})
}
