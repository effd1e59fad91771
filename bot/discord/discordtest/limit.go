package discordtest

import (
	"fmt"
	"net/http"
	"strings"
	"time"
)

// limits counts requests as the platform does.
type limits struct {
	windows map[string]*window
	global  window
	refused int
}

// window counts requests in a stretch of time.
type window struct {
	start time.Time
	used  int
}

// take counts one more and says how long until there is room again; 0: it fits.
func (w *window) take(now time.Time, most int, length time.Duration) time.Duration {
	if now.Sub(w.start) >= length {
		w.start, w.used = now, 0
	}
	if w.used >= most {
		return w.start.Add(length).Sub(now)
	}
	w.used++
	return 0
}

// limit refuses a request that is too much, as 429.
func (s *Server) limit(route *route, c *call) (answer, http.Header, bool) {
	now := s.now()
	if s.options.Global > 0 && !strings.HasPrefix(route.path, "/interactions") {
		if wait := s.limits.global.take(now, s.options.Global, time.Second); wait > 0 {
			return s.tooMany(wait, true)
		}
	}
	if key := bucket(route, c); s.options.PerRoute > 0 && key != "" {
		w := s.limits.windows[key]
		if w == nil {
			w = &window{}
			s.limits.windows[key] = w
		}
		if wait := w.take(now, s.options.PerRoute, s.options.RouteTime); wait > 0 {
			return s.tooMany(wait, false)
		}
	}
	return answer{}, nil, false
}

// bucket names what is limited by itself: messages made in one place.
func bucket(route *route, c *call) string {
	if route.method == "POST" && route.path == "/channels/{channel_id}/messages" {
		return route.path + " " + c.ids["channel_id"]
	}
	return ""
}

func (s *Server) tooMany(wait time.Duration, all bool) (answer, http.Header, bool) {
	s.limits.refused++
	seconds := wait.Seconds()
	headers := http.Header{"Retry-After": {fmt.Sprintf("%.3f", seconds)}, "X-Ratelimit-Reset-After": {fmt.Sprintf("%.3f", seconds)}}
	if all {
		headers.Set("X-RateLimit-Global", "true")
	}
	body := map[string]any{"message": "You are being rate limited.", "retry_after": seconds, "global": all}
	return answer{http.StatusTooManyRequests, body}, headers, true
}

// limitHeaders tells what is left of a route's limit.
func (s *Server) limitHeaders(route *route, c *call) http.Header {
	w := s.limits.windows[bucket(route, c)]
	if w == nil {
		return nil
	}
	left := w.start.Add(s.options.RouteTime).Sub(s.now())
	return http.Header{
		"X-Ratelimit-Limit":       {fmt.Sprint(s.options.PerRoute)},
		"X-Ratelimit-Remaining":   {fmt.Sprint(s.options.PerRoute - w.used)},
		"X-Ratelimit-Reset-After": {fmt.Sprintf("%.3f", left.Seconds())},
		"X-Ratelimit-Bucket":      {"messages"},
	}
}

// plan is a fault that waits for its request.
type plan struct {
	route string
	left  int
	kind  Fault
	until chan struct{}
}

// Fault is how a request goes wrong.
type Fault int

const (
	BadGateway     Fault = iota + 1 // 502, and nothing was done
	LostAnswer                      // it was done, and the connection is cut before the answer
	DoneBadGateway                  // it was done, and 502 comes back
	HTMLLimit                       // 429 in HTML, for a while, from what stands before the platform
	CutBefore                       // the connection is cut, and nothing was done
	GlobalLimit                     // 429 that binds everything
	Stall                           // nothing comes until Unstall
	Empty                           // 200 without a body, and nothing was done
	DoneEmpty                       // it was done, and 200 comes back without a body
)

// Fail lets the next n requests of the route go wrong. The route is a method
// and a path of the published description, as "POST /channels/{channel_id}/messages".
func (s *Server) Fail(route string, n int, kind Fault) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.plans = append(s.plans, &plan{route: route, left: n, kind: kind, until: make(chan struct{})})
}

// Unstall lets what stalls go on, and forgets all faults planned.
func (s *Server) Unstall() {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, p := range s.plans {
		close(p.until)
	}
	s.plans = nil
}

func (s *Server) planFor(c *call) *plan {
	for _, p := range s.plans {
		if p.left > 0 && p.route == c.Method+" "+c.Route {
			p.left--
			return p
		}
	}
	return nil
}

// before acts out a fault in which nothing is done; it reports whether it did.
func (p *plan) before(w http.ResponseWriter, r *http.Request) bool {
	if p == nil {
		return false
	}
	switch p.kind {
	case BadGateway:
		w.WriteHeader(http.StatusBadGateway)
	case HTMLLimit:
		w.Header().Set("Content-Type", "text/html")
		w.Header().Set("Retry-After", "1")
		w.WriteHeader(http.StatusTooManyRequests)
		fmt.Fprint(w, "<html><body>slow down</body></html>")
	case GlobalLimit:
		w.Header().Set("X-RateLimit-Global", "true")
		w.Header().Set("Retry-After", "1")
		w.Header().Set("Content-Type", "application/json")
		w.WriteHeader(http.StatusTooManyRequests)
		fmt.Fprint(w, `{"message":"You are being rate limited.","retry_after":0.3,"global":true}`)
	case CutBefore:
		cut(w)
	case Empty:
		w.WriteHeader(http.StatusOK)
	case Stall:
		select {
		case <-p.until:
		case <-r.Context().Done():
		}
		return false
	default:
		return false
	}
	return true
}

// after acts out a fault in which the request was done.
func (p *plan) after(w http.ResponseWriter, _ *http.Request) bool {
	if p == nil {
		return false
	}
	switch p.kind {
	case LostAnswer:
		cut(w)
	case DoneBadGateway:
		w.WriteHeader(http.StatusBadGateway)
	case DoneEmpty:
		w.WriteHeader(http.StatusOK)
	default:
		return false
	}
	return true
}

// cut ends the connection without an answer.
func cut(w http.ResponseWriter) {
	conn, _, err := w.(http.Hijacker).Hijack()
	if err == nil {
		conn.Close()
	}
}
