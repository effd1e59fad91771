package discord

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"rungbook/bot"
	"rungbook/bot/outbox"
)

// canned answers every request with the same.
type canned struct {
	status int
	header http.Header
	body   string

	mu   sync.Mutex
	seen int
	at   []time.Time // each
}

func (c *canned) RoundTrip(*http.Request) (*http.Response, error) {
	c.mu.Lock()
	c.seen++
	c.at = append(c.at, time.Now())
	c.mu.Unlock()
	head := http.Header{}
	for key, values := range c.header {
		head[key] = values
	}
	return &http.Response{StatusCode: c.status, Header: head, Body: io.NopCloser(strings.NewReader(c.body))}, nil
}

func testLimiter(next http.RoundTripper) *limiter {
	return newLimiter(&url.URL{Scheme: "http", Host: "127.0.0.1", Path: "/api"}, next, time.Now)
}

func (l *limiter) pass(ctx context.Context, path string) error {
	r, err := http.NewRequestWithContext(ctx, http.MethodGet, "http://127.0.0.1/api/v9/"+path, nil)
	if err != nil {
		return err
	}
	resp, err := lane{l, false}.RoundTrip(r)
	if resp != nil {
		resp.Body.Close()
	}
	return err
}

// A limit binds what the platform says it binds, until it is over, whatever it
// is written in; nothing is sent meanwhile.
func TestALimitBindsWhatItSays(t *testing.T) {
	for name, c := range map[string]struct {
		answer *canned
		after  time.Duration
		all    bool
	}{
		"one route":     {&canned{status: 429, body: `{"message":"slow","retry_after":2.5,"global":false}`}, 2500 * time.Millisecond, false},
		"all":           {&canned{status: 429, body: `{"message":"slow","retry_after":3,"global":true}`}, 3 * time.Second, true},
		"all by header": {&canned{status: 429, header: http.Header{"X-Ratelimit-Global": {"true"}}, body: `{"message":"slow","retry_after":3}`}, 3 * time.Second, true},
		"HTML":          {&canned{status: 429, header: http.Header{"Retry-After": {"4"}}, body: "<html>"}, 4 * time.Second, true},
		"nothing left":  {&canned{status: 200, header: http.Header{"X-Ratelimit-Remaining": {"0"}, "X-Ratelimit-Reset-After": {"1.5"}}}, 1500 * time.Millisecond, false},
	} {
		t.Run(name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				l := testLimiter(c.answer)
				_ = l.pass(t.Context(), "channels/1/messages") // learns the limit
				var rate *outbox.RateError
				if err := l.pass(t.Context(), "channels/1/messages"); !errors.As(err, &rate) || rate.All != c.all || rate.After != c.after {
					t.Errorf("the same channel: %v", err)
				}
				if c.answer.seen != 1 {
					t.Errorf("%d requests left", c.answer.seen)
				}
				if _ = l.pass(t.Context(), "channels/2/messages"); c.all != (c.answer.seen == 1) {
					t.Errorf("another channel: %d requests left, all %t", c.answer.seen, c.all)
				}
				time.Sleep(c.after + time.Millisecond)
				before := c.answer.seen
				if _ = l.pass(t.Context(), "channels/1/messages"); c.answer.seen != before+1 {
					t.Error("held after it was over")
				}
			})
		})
	}
}

// Below the number of refusals in ten minutes for which the platform bans an
// address (10,000, its reference on rate limits) nothing is sent any more.
func TestRefusalsStayBelowTheBan(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		next := &canned{status: 403}
		l := testLimiter(next)
		for i := range 20000 {
			_ = l.pass(t.Context(), fmt.Sprintf("channels/%d/messages", i))
		}
		if next.seen >= 10000 {
			t.Errorf("%d refused", next.seen)
		}
		before := next.seen
		time.Sleep(refusedSpan + time.Second)
		if _ = l.pass(t.Context(), "channels/1/messages"); next.seen != before+1 {
			t.Error("nothing is sent after ten minutes")
		}
	})
}

// A token that was refused is not tried again.
func TestARefusedTokenIsNotTriedAgain(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		next := &canned{status: 401}
		l := testLimiter(next)
		for range 3 {
			_ = l.pass(t.Context(), "users/@me")
		}
		if err := l.pass(t.Context(), "users/@me"); next.seen != 1 || !errors.Is(err, errDenied) {
			t.Errorf("%d requests, then %v", next.seen, err)
		}
	})
}

// What waits for the pace stops waiting with its context.
func TestAWaitEndsWithItsContext(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		l := testLimiter(&canned{status: 200})
		for i := range 1000 {
			go func() { _ = l.pass(t.Context(), fmt.Sprintf("channels/%d/messages", i)) }()
		}
		synctest.Wait()
		ctx, cancel := context.WithTimeout(t.Context(), time.Second)
		defer cancel()
		began := time.Now()
		if err := l.pass(ctx, "channels/1/messages"); !errors.Is(err, context.DeadlineExceeded) || time.Since(began) != time.Second {
			t.Errorf("%v after %s", err, time.Since(began))
		}
		time.Sleep(time.Minute)
	})
}

// However many come at once, no second sees more than the platform's limit.
func TestPace(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		began := time.Now()
		next := &canned{status: 200}
		l := testLimiter(next)
		var all sync.WaitGroup
		for i := range 500 {
			all.Go(func() { _ = l.pass(t.Context(), fmt.Sprintf("channels/%d/messages", i)) })
		}
		all.Wait()
		for i := range next.at {
			if i >= 50 && next.at[i].Sub(next.at[i-50]) < time.Second {
				t.Fatalf("51 requests within %s", next.at[i].Sub(next.at[i-50]))
			}
		}
		if took := time.Since(began); len(next.at) != 500 || took > 500*time.Second/50*12/10 {
			t.Errorf("%d of 500 in %s: more than 1.2 times the limit's floor", len(next.at), took)
		}
	})
}

// What nobody waits for takes no more than its share, and leaves the rest to
// what somebody does.
func TestTheBackgroundLeavesRoom(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		next := &canned{status: 200}
		l := testLimiter(next)
		var all sync.WaitGroup
		for range 250 {
			all.Go(func() {
				r, err := http.NewRequestWithContext(t.Context(), http.MethodGet, "http://127.0.0.1/api/v9/channels/1/messages", nil)
				if err != nil {
					t.Error(err)
					return
				}
				if resp, err := (lane{l, true}).RoundTrip(r); err != nil {
					t.Error(err)
				} else {
					resp.Body.Close()
				}
			})
		}
		time.Sleep(5 * time.Second)
		began := time.Now()
		if err := l.pass(t.Context(), "channels/2/messages"); err != nil || time.Since(began) > time.Second/perSecond {
			t.Errorf("%v after %s", err, time.Since(began))
		}
		all.Wait()
	})
}

// Files beyond what a message carries (10 MiB each, 25 MiB in all: the
// platform's reference on uploads) are left out, and that is said.
func TestFilesThatDoNotFit(t *testing.T) {
	files := []bot.File{{Name: "small.json", Data: make([]byte, 1<<20)}, {Name: "large.json", Data: make([]byte, mostFile+1)}}
	for i := range 3 {
		files = append(files, bot.File{Name: fmt.Sprintf("part-%d.json", i), Data: make([]byte, 9<<20)})
	}
	all := (&Adapter{}).bodies(bot.Post{Kind: bot.Reply, Text: "All I keep is attached.", Files: files})
	last := all[len(all)-1]
	if len(last.files) != 3 || len(last.Files) != 3 || !strings.Contains(last.Content, "large.json is too large") || !strings.Contains(last.Content, "part-2.json is too large") {
		t.Errorf("%d files, %q", len(last.files), last.Content)
	}
}
