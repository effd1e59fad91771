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
}

func (c *canned) RoundTrip(*http.Request) (*http.Response, error) {
	c.mu.Lock()
	c.seen++
	c.mu.Unlock()
	head := http.Header{}
	for key, values := range c.header {
		head[key] = values
	}
	return &http.Response{StatusCode: c.status, Header: head, Body: io.NopCloser(strings.NewReader(c.body))}, nil
}

func testGate(next http.RoundTripper) *gate {
	return newGate(&url.URL{Scheme: "http", Host: "127.0.0.1", Path: "/api"}, next)
}

func (g *gate) pass(ctx context.Context, path string) error {
	r, err := http.NewRequestWithContext(ctx, http.MethodGet, "http://127.0.0.1/api/v9/"+path, nil)
	if err != nil {
		return err
	}
	resp, err := lane{g, false}.RoundTrip(r)
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
				g := testGate(c.answer)
				_ = g.pass(t.Context(), "channels/1/messages") // learns the limit
				var rate *outbox.RateError
				if err := g.pass(t.Context(), "channels/1/messages"); !errors.As(err, &rate) || rate.All != c.all || rate.After != c.after {
					t.Errorf("the same place: %v", err)
				}
				if c.answer.seen != 1 {
					t.Errorf("%d requests left", c.answer.seen)
				}
				if _ = g.pass(t.Context(), "channels/2/messages"); c.all != (c.answer.seen == 1) {
					t.Errorf("another place: %d requests left, all %t", c.answer.seen, c.all)
				}
				time.Sleep(c.after + time.Millisecond)
				before := c.answer.seen
				if _ = g.pass(t.Context(), "channels/1/messages"); c.answer.seen != before+1 {
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
		g := testGate(next)
		for i := range 20000 {
			_ = g.pass(t.Context(), fmt.Sprintf("channels/%d/messages", i))
		}
		if next.seen >= 10000 {
			t.Errorf("%d refused", next.seen)
		}
		before := next.seen
		time.Sleep(refusedSpan + time.Second)
		if _ = g.pass(t.Context(), "channels/1/messages"); next.seen != before+1 {
			t.Error("nothing is sent after ten minutes")
		}
	})
}

// A token that was refused is not tried again.
func TestARefusedTokenIsNotTriedAgain(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		next := &canned{status: 401}
		g := testGate(next)
		for range 3 {
			_ = g.pass(t.Context(), "users/@me")
		}
		if err := g.pass(t.Context(), "users/@me"); next.seen != 1 || !errors.Is(err, errDenied) {
			t.Errorf("%d requests, then %v", next.seen, err)
		}
	})
}

// What waits for the pace stops waiting with its context.
func TestAWaitEndsWithItsContext(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		g := testGate(&canned{status: 200})
		for i := range 1000 {
			go func() { _ = g.pass(t.Context(), fmt.Sprintf("channels/%d/messages", i)) }()
		}
		synctest.Wait()
		ctx, cancel := context.WithTimeout(t.Context(), time.Second)
		defer cancel()
		began := time.Now()
		if err := g.pass(ctx, "channels/1/messages"); !errors.Is(err, context.DeadlineExceeded) || time.Since(began) != time.Second {
			t.Errorf("%v after %s", err, time.Since(began))
		}
		time.Sleep(time.Minute)
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
