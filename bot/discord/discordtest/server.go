// Package discordtest is a fake Discord on a loopback listener: REST and
// gateway as far as the bot uses them, with the platform's rules for nonces,
// permissions, history pages, rate limits and interactions, and with its faults
// to be switched on. Tests and load runs start it.
//
// It must not know the bot: it answers any client. What a client sends that the
// platform's published description does not allow is kept in Faults.
package discordtest

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"strconv"
	"strings"
	"sync"
	"time"
)

// Options says what the fake is like. The zero value has a live clock and rate
// limits that no test meets.
type Options struct {
	Clock     func() time.Time // nil for time.Now; message numbers and stamps come from it
	Global    int              // requests a second in all; 0: no limit
	PerRoute  int              // message creations in each place in RouteTime; 0: no limit
	RouteTime time.Duration    // 0 for 5 s
	Heartbeat time.Duration    // asked of clients; 0 for 41.25 s
	AskedTime time.Duration    // within which an interaction is to be answered first; 0 for 3 s
	NoContent bool             // the privileged intent is not switched on: close code 4014
	Schema    *Schema          // nil: nothing is validated
}

// Token is the one that the fake takes.
const Token = "MTA0.tidewater.a-token-that-opens-nothing"

// ApplicationID is the bot's own number, as user and as application.
const ApplicationID Snowflake = 1040000000000000001

// Snowflake is a platform number; it is written as a string.
type Snowflake int64

func (s Snowflake) String() string { return strconv.FormatInt(int64(s), 10) }

// MarshalText writes the number.
func (s Snowflake) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads the number.
func (s *Snowflake) UnmarshalText(text []byte) error {
	n, err := strconv.ParseInt(string(text), 10, 64)
	*s = Snowflake(n)
	return err
}

// epoch is the platform's first instant.
const epoch = 1420070400000 // ms since 1970, from the platform's reference on snowflakes

// Server is the fake.
type Server struct {
	options Options
	http    *httptest.Server

	mu       sync.Mutex
	changed  chan struct{} // closed and made anew at each change
	last     Snowflake
	users    map[Snowflake]*User
	guilds   map[Snowflake]*Guild
	order    []Snowflake // of guilds
	channels map[Snowflake]*Channel
	asked    map[Snowflake]*Interaction
	nonces   map[authored]*Message
	links    []*link
	sessions map[string]*session
	faults   []string
	requests []Request
	plans    []*plan
	limits   limits
	state    gatewayState
	swept    func(*Message) bool
}

// New starts a fake Discord. Close ends it.
func New(o Options) *Server {
	if o.Clock == nil {
		o.Clock = time.Now
	}
	if o.RouteTime == 0 {
		o.RouteTime = 5 * time.Second
	}
	if o.Heartbeat == 0 {
		o.Heartbeat = 41250 * time.Millisecond
	}
	if o.AskedTime == 0 {
		o.AskedTime = 3 * time.Second
	}
	s := &Server{
		options: o, changed: make(chan struct{}),
		users: map[Snowflake]*User{}, guilds: map[Snowflake]*Guild{}, channels: map[Snowflake]*Channel{},
		asked: map[Snowflake]*Interaction{}, nonces: map[authored]*Message{}, sessions: map[string]*session{},
	}
	s.limits = limits{windows: map[string]*window{}}
	s.users[ApplicationID] = &User{ID: ApplicationID, Name: "Rungbook", Bot: true}
	s.http = httptest.NewServer(http.HandlerFunc(s.serve))
	return s
}

// URL is the base up to and without the version.
func (s *Server) URL() string { return s.http.URL + "/api" }

// Close cuts every connection and stops.
func (s *Server) Close() {
	s.mu.Lock()
	links := append([]*link(nil), s.links...)
	s.mu.Unlock()
	for _, l := range links {
		l.conn.Close()
	}
	s.http.CloseClientConnections()
	s.http.Close()
	for _, l := range links {
		<-l.done
	}
}

// Faults are the client's breaches of the platform's rules, in order.
func (s *Server) Faults() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return append([]string(nil), s.faults...)
}

// fault notes a breach; the lock must be held.
func (s *Server) fault(format string, values ...any) {
	s.faults = append(s.faults, fmt.Sprintf(format, values...))
}

// stir wakes whoever waits for a change; the lock must be held.
func (s *Server) stir() {
	close(s.changed)
	s.changed = make(chan struct{})
}

// Await waits until holds is true, looking again at each change, and reports
// whether it became so in time. holds must not call the Server's methods but
// those of its argument.
func (s *Server) Await(patience time.Duration, holds func(View) bool) bool {
	end := time.NewTimer(patience)
	defer end.Stop()
	for {
		s.mu.Lock()
		held, changed := holds(View{s}), s.changed
		s.mu.Unlock()
		if held {
			return true
		}
		select {
		case <-changed:
		case <-end.C:
			return false
		}
	}
}

// Look calls see with the state standing still.
func (s *Server) Look(see func(View)) {
	s.mu.Lock()
	defer s.mu.Unlock()
	see(View{s})
}

// View is the state while it stands still.
type View struct{ s *Server }

// Links counts the gateway connections that have identified or resumed.
func (v View) Links() int {
	n := 0
	for _, l := range v.s.links {
		if l.session != nil && !l.gone {
			n++
		}
	}
	return n
}

// Identifies counts the identifies ever taken, Resumes the resumes.
func (v View) Identifies() int { return v.s.state.identifies }

// Resumes counts the resumes ever taken.
func (v View) Resumes() int { return v.s.state.resumes }

// Dials counts the gateway connections ever made.
func (v View) Dials() int { return v.s.state.dials }

// Requests are the REST requests so far, in order.
func (v View) Requests() []Request { return v.s.requests }

// Messages are what stands in the place, oldest first.
func (v View) Messages(channel *Channel) []*Message { return channel.messages }

// Commands are those registered in the server.
func (v View) Commands(g *Guild) []map[string]any { return g.commands }

// Limited counts the requests refused for rate.
func (v View) Limited() int { return v.s.limits.refused }

// People are all there are, the bot among them.
func (v View) People() (all []*User) {
	for _, u := range v.s.users {
		all = append(all, u)
	}
	return all
}

// now is the platform's clock.
func (s *Server) now() time.Time { return s.options.Clock() }

// next gives the next number; numbers grow, with the clock and beyond it.
func (s *Server) next() Snowflake {
	id := Snowflake((s.now().UnixMilli() - epoch) << 22)
	if id <= s.last {
		id = s.last + 1
	}
	s.last = id
	return id
}

// TimeOf is the instant in a number.
func TimeOf(id Snowflake) time.Time { return time.UnixMilli(int64(id)>>22 + epoch).UTC() }

func stamp(at time.Time) string { return at.UTC().Format("2006-01-02T15:04:05.000000+00:00") }

func number(text string) Snowflake {
	n, _ := strconv.ParseInt(text, 10, 64) // 0 for what is no number, which is nothing's
	return Snowflake(n)
}

func after(text, prefix string) string { return strings.TrimPrefix(text, prefix) }

// Direct is the place where somebody and the bot are alone.
func (v View) Direct(u *User) *Channel { return v.s.direct(u) }
