package discord

import (
	"context"
	"errors"
	"io"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"sync"
	"time"

	"encoding/json"

	"rungbook/bot/outbox"
)

// The limits that the platform's reference gives, with room to spare.
const (
	perSecond   = 45 // of 50 requests a second in all
	burst       = 4
	unhurried   = 25   // requests a second for what nobody waits for
	mostRefused = 8000 // of 10,000 refused (401, 403, 429) in ten minutes, which ban the address
	refusedSpan = 10 * time.Minute
)

// gate is the one way to the platform's REST: it sends each request to the base
// that was set, keeps all limits before they are broken, and learns them from
// the answers. Unlike the library's limiter its waits end with their context,
// and a global limit holds everything.
type gate struct {
	base *url.URL
	next http.RoundTripper

	mu      sync.Mutex
	all     pace
	slow    pace
	shut    time.Time // nothing leaves before
	places  map[string]*room
	refused []time.Time
	denied  bool // the token was refused: nothing leaves any more
}

// room is what a route has left.
type room struct {
	left  int
	reset time.Time
}

// pace spaces requests evenly but for a small burst (the generic cell rate
// algorithm, ITU-T I.371).
type pace struct {
	every time.Duration
	burst int
	due   time.Time
}

// take books the next slot and says how long until it comes.
func (p *pace) take(now time.Time) time.Duration {
	if p.due.Before(now) {
		p.due = now
	}
	wait := p.due.Sub(now) - time.Duration(p.burst)*p.every
	p.due = p.due.Add(p.every)
	return max(0, wait)
}

func newGate(base *url.URL, next http.RoundTripper) *gate {
	return &gate{
		base: base, next: next, places: map[string]*room{},
		all:  pace{every: time.Second / perSecond, burst: burst},
		slow: pace{every: time.Second / unhurried, burst: burst},
	}
}

// errDenied says that the platform has refused the token.
var errDenied = errors.New("the platform refused the token")

// lane is a way through the gate: for what somebody waits for, or for what
// nobody does.
type lane struct {
	*gate
	background bool // it leaves room for the rest
}

// RoundTrip sends a request when the limits allow it. A limit of its own route
// is an *outbox.RateError at once; the global pace is waited for.
func (g lane) RoundTrip(r *http.Request) (*http.Response, error) {
	key := routeOf(r.Method, r.URL.Path)
	if err := g.enter(r.Context(), key, g.background); err != nil {
		if r.Body != nil {
			r.Body.Close()
		}
		return nil, err
	}
	sent := r.Clone(r.Context())
	sent.URL.Scheme, sent.URL.Host, sent.Host = g.base.Scheme, g.base.Host, g.base.Host
	if at := strings.Index(sent.URL.Path, "/v"); at >= 0 {
		sent.URL.Path, sent.URL.RawPath = g.base.Path+sent.URL.Path[at:], ""
	}
	if raw := r.URL.EscapedPath(); strings.Contains(raw, "%") {
		sent.URL.RawPath = g.base.Path + raw[strings.Index(raw, "/v"):]
	}
	resp, err := g.next.RoundTrip(sent)
	if err != nil {
		return nil, err
	}
	return g.learn(key, resp)
}

// enter waits for a slot, or refuses at once what would break a limit.
func (g *gate) enter(ctx context.Context, key string, background bool) error {
	g.mu.Lock()
	now := time.Now()
	if g.denied {
		g.mu.Unlock()
		return errDenied
	}
	if hold := g.shut.Sub(now); hold > 0 {
		g.mu.Unlock()
		return &outbox.RateError{After: hold, All: true}
	}
	if place := g.places[key]; place != nil && place.reset.After(now) {
		if place.left < 1 {
			g.mu.Unlock()
			return &outbox.RateError{After: place.reset.Sub(now)}
		}
		place.left--
	}
	var wait time.Duration
	if !strings.HasPrefix(key, "POST /interactions") { // these are not counted
		if background {
			wait = g.slow.take(now)
		}
		wait = max(wait, g.all.take(now))
	}
	g.mu.Unlock()
	if wait == 0 {
		return ctx.Err()
	}
	return sleep(ctx, wait)
}

func sleep(ctx context.Context, d time.Duration) error {
	timer := time.NewTimer(d)
	defer timer.Stop()
	select {
	case <-timer.C:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}

// learn takes the limits from an answer. A 429 becomes an error here, whatever
// it is written in.
func (g *gate) learn(key string, resp *http.Response) (*http.Response, error) {
	g.mu.Lock()
	defer g.mu.Unlock()
	now := time.Now()
	left, err := strconv.Atoi(resp.Header.Get("X-RateLimit-Remaining"))
	if after := seconds(resp.Header.Get("X-RateLimit-Reset-After")); err == nil && after > 0 {
		g.tidy(now)
		g.places[key] = &room{left: left, reset: now.Add(after)}
	}
	switch resp.StatusCode {
	case http.StatusUnauthorized:
		g.denied = !strings.HasPrefix(key, "POST /interactions") && !strings.HasPrefix(key, "POST /webhooks")
		g.count(now)
	case http.StatusForbidden:
		g.count(now)
	case http.StatusTooManyRequests:
		g.count(now)
		return nil, g.limited(key, resp, now)
	}
	return resp, nil
}

// limited reads a 429 and holds what it binds.
func (g *gate) limited(key string, resp *http.Response, now time.Time) error {
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
	rate := &outbox.RateError{
		After: time.Duration(said.After * float64(time.Second)),
		All:   said.Global || resp.Header.Get("X-RateLimit-Global") != "",
	}
	if rate.All {
		g.shut = now.Add(rate.After)
	} else {
		g.tidy(now)
		g.places[key] = &room{reset: now.Add(rate.After)}
	}
	return rate
}

// count keeps below the number of refusals for which the platform bans.
func (g *gate) count(now time.Time) {
	g.refused = append(g.refused, now)
	for len(g.refused) > 0 && now.Sub(g.refused[0]) > refusedSpan {
		g.refused = g.refused[1:]
	}
	if len(g.refused) >= mostRefused {
		g.shut = g.refused[0].Add(refusedSpan)
	}
}

// tidy forgets routes whose limit is over, when there are many.
func (g *gate) tidy(now time.Time) {
	if len(g.places) < 4096 {
		return
	}
	for key, place := range g.places {
		if !place.reset.After(now) {
			delete(g.places, key)
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
