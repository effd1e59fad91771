package discord

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"sync"
	"time"

	"golang.org/x/time/rate"

	"rungbook/bot/outbox"
)

// The limits that the platform's reference gives, with room to spare.
const (
	perSecond   = 45   // of 50 requests a second in all
	burst       = 5    // of them at once
	unhurried   = 25   // requests a second for what nobody waits for
	mostRefused = 8000 // of 10,000 refused (401, 403, 429) in ten minutes, which ban the address
	refusedSpan = 10 * time.Minute
)

// limiter is the one way to the platform's REST: it sends each request to the
// base that was set, keeps all limits before they are broken, and learns them
// from the answers. Unlike the library's limiter its waits end with their
// context, and a global limit holds everything.
type limiter struct {
	base  *url.URL
	next  http.RoundTripper
	clock func() time.Time // that of the timers that wait

	all, slow *rate.Limiter // of all requests, and of those that nobody waits for

	mu      sync.Mutex
	shut    time.Time         // nothing leaves before
	routes  map[string]*quota // by routeOf
	refused []time.Time       // when, within refusedSpan; oldest first
	denied  bool              // the token was refused: nothing leaves any more
}

// quota is what a route has left until its limit begins anew.
type quota struct {
	left  int
	reset time.Time
}

func newLimiter(base *url.URL, next http.RoundTripper, clock func() time.Time) *limiter {
	return &limiter{
		base: base, next: next, clock: clock, routes: map[string]*quota{},
		all: rate.NewLimiter(perSecond, burst), slow: rate.NewLimiter(unhurried, burst),
	}
}

// errDenied says that the platform has refused the token.
var errDenied = errors.New("the platform refused the token")

// lane is a way through the limiter: for what somebody waits for, or for what
// nobody does.
type lane struct {
	*limiter
	background bool // it leaves room for the rest
}

// RoundTrip sends a request when the limits allow it. A limit of its own route
// is an *outbox.RateError at once; the global pace is waited for.
func (l lane) RoundTrip(r *http.Request) (*http.Response, error) {
	key := routeOf(r.Method, r.URL.Path)
	if err := l.enter(r.Context(), key, l.background); err != nil {
		if r.Body != nil {
			r.Body.Close()
		}
		return nil, err
	}
	sent := r.Clone(r.Context())
	sent.URL.Scheme, sent.URL.Host, sent.Host = l.base.Scheme, l.base.Host, l.base.Host
	if at := strings.Index(sent.URL.Path, "/v"); at >= 0 {
		sent.URL.Path, sent.URL.RawPath = l.base.Path+sent.URL.Path[at:], ""
	}
	if raw := r.URL.EscapedPath(); strings.Contains(raw, "%") {
		sent.URL.RawPath = l.base.Path + raw[strings.Index(raw, "/v"):]
	}
	resp, err := l.next.RoundTrip(sent)
	if err != nil {
		return nil, err
	}
	return l.learn(key, resp)
}

// enter waits for a slot, or refuses at once what would break a limit. What
// nobody waits for takes its slot among all when it has one among its like.
func (l *limiter) enter(ctx context.Context, key string, background bool) error {
	if background {
		if err := l.waitFor(ctx, l.slow); err != nil {
			return err
		}
	}
	if err := l.allow(key, l.clock()); err != nil {
		return err
	}
	if strings.HasPrefix(key, "POST /interactions") { // these are not counted
		return ctx.Err()
	}
	return l.waitFor(ctx, l.all)
}

// waitFor waits for a slot; the error is the context's.
func (l *limiter) waitFor(ctx context.Context, pace *rate.Limiter) error {
	now := l.clock()
	return outbox.Sleep(ctx, pace.ReserveN(now, 1).DelayFrom(now))
}

// allow takes one of what the route has left, unless that or another limit
// forbids it.
func (l *limiter) allow(key string, now time.Time) error {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.denied {
		return errDenied
	}
	if hold := l.shut.Sub(now); hold > 0 {
		return &outbox.RateError{After: hold, All: true}
	}
	if route := l.routes[key]; route != nil && route.reset.After(now) {
		if route.left < 1 {
			return &outbox.RateError{After: route.reset.Sub(now)}
		}
		route.left--
	}
	return nil
}

// learn takes the limits from an answer. A 429 becomes an error here, whatever
// it is written in.
func (l *limiter) learn(key string, resp *http.Response) (*http.Response, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	now := l.clock()
	left, err := strconv.Atoi(resp.Header.Get("X-RateLimit-Remaining"))
	if after := seconds(resp.Header.Get("X-RateLimit-Reset-After")); err == nil && after > 0 {
		l.tidy(now)
		l.routes[key] = &quota{left: left, reset: now.Add(after)}
	}
	switch resp.StatusCode {
	case http.StatusUnauthorized:
		l.denied = !strings.HasPrefix(key, "POST /interactions") && !strings.HasPrefix(key, "POST /webhooks")
		l.count(now)
	case http.StatusForbidden:
		l.count(now)
	case http.StatusTooManyRequests:
		l.count(now)
		return nil, l.limited(key, resp, now)
	}
	return resp, nil
}

// limited reads a 429 and holds what it binds.
func (l *limiter) limited(key string, resp *http.Response, now time.Time) error {
	raw, err := io.ReadAll(io.LimitReader(resp.Body, 64<<10))
	resp.Body.Close()
	var said struct {
		After  float64 `json:"retry_after"`
		Global bool    `json:"global"`
	}
	if err != nil || json.Unmarshal(raw, &said) != nil || said.After <= 0 { // HTML, from what stands before the platform
		said.After = max(1, seconds(resp.Header.Get("Retry-After")).Seconds())
		said.Global = true
	}
	limited := &outbox.RateError{
		After: time.Duration(said.After * float64(time.Second)),
		All:   said.Global || resp.Header.Get("X-RateLimit-Global") != "",
	}
	if limited.All {
		l.shut = now.Add(limited.After)
	} else {
		l.tidy(now)
		l.routes[key] = &quota{reset: now.Add(limited.After)}
	}
	return limited
}

// count keeps below the number of refusals for which the platform bans.
func (l *limiter) count(now time.Time) {
	l.refused = append(l.refused, now)
	for len(l.refused) > 0 && now.Sub(l.refused[0]) > refusedSpan {
		l.refused = l.refused[1:]
	}
	if len(l.refused) >= mostRefused {
		l.shut = l.refused[0].Add(refusedSpan)
	}
}

// tidy forgets routes whose limit is over, when there are many.
func (l *limiter) tidy(now time.Time) {
	if len(l.routes) < 4096 {
		return
	}
	for key, route := range l.routes {
		if !route.reset.After(now) {
			delete(l.routes, key)
		}
	}
}

func seconds(text string) time.Duration {
	s, err := strconv.ParseFloat(text, 64)
	if err != nil || s < 0 {
		return 0
	}
	return time.Duration(s * float64(time.Second))
}

// routeOf names what has a limit of its own: the method and the path, whose
// first number (channel, server, webhook) counts and whose others do not.
func routeOf(method, path string) string {
	if at := strings.Index(path, "/v"); at >= 0 {
		_, path, _ = strings.Cut(path[at+1:], "/")
	}
	parts := strings.Split(path, "/")
	for i := 2; i < len(parts); i++ {
		_, err := strconv.ParseUint(parts[i], 10, 64)
		if err == nil || parts[0] == "interactions" || parts[i-1] == "reactions" {
			parts[i] = "*"
		}
	}
	if parts[0] == "interactions" && len(parts) > 1 {
		parts[1] = "*"
	}
	return method + " /" + strings.Join(parts, "/")
}

// shown is a route as it may stand in an error or a log: without an
// interaction's token.
func shown(route string) string {
	parts := strings.Split(route, "/")
	if len(parts) > 3 && parts[1] == "webhooks" {
		parts[3] = "*"
	}
	return strings.Join(parts, "/")
}
