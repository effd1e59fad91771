package discordtest

import (
	"encoding/json"
	"net/http"
	"slices"
	"strings"
	"time"

	"github.com/gorilla/websocket"
)

// gatewayState is what is to go wrong at the gateway, and what has happened there.
type gatewayState struct {
	identifies, resumes, dials int

	silent  int   // connections that get no Hello
	early   int   // connections that get a reconnect request in the place of READY
	invalid int   // identifies answered with an invalid session
	refuse  []int // close codes for the next identifies
	deaf    bool  // heartbeats are not acknowledged
	hold    bool  // events wait
	held    []event
	drop    func(kind string) bool
	double  bool
	allowed int // identifies left today; 0: not counted
}

// event is one dispatch on its way to whom it concerns.
type event struct {
	kind    string
	data    map[string]any
	channel *Channel
	guild   *Guild
}

// session is what a client may resume.
type session struct {
	id     string
	intent int
	seq    int
	log    []map[string]any
}

// link is one gateway connection.
type link struct {
	conn    *websocket.Conn
	out     chan any
	done    chan struct{}
	session *session
	gone    bool
}

const (
	guildMessages  = 1 << 9
	directMessages = 1 << 12
	messageContent = 1 << 15
)

// SilentHello lets the next n connections wait for a Hello that never comes.
func (s *Server) SilentHello(n int) { s.set(func(g *gatewayState) { g.silent = n }) }

// EarlyReconnect asks the next n connections to reconnect before they are ready.
func (s *Server) EarlyReconnect(n int) { s.set(func(g *gatewayState) { g.early = n }) }

// Invalid answers the next n identifies or resumes with an invalid session.
func (s *Server) Invalid(n int) { s.set(func(g *gatewayState) { g.invalid = n }) }

// Refuse closes the next identifies with these codes, one each.
func (s *Server) Refuse(codes ...int) { s.set(func(g *gatewayState) { g.refuse = codes }) }

// Deaf says whether heartbeats go unanswered and events unsent.
func (s *Server) Deaf(deaf bool) { s.set(func(g *gatewayState) { g.deaf = deaf }) }

// Drop loses the events for which lose is true; nil loses none.
func (s *Server) Drop(lose func(kind string) bool) { s.set(func(g *gatewayState) { g.drop = lose }) }

// Double sends every event twice.
func (s *Server) Double(twice bool) { s.set(func(g *gatewayState) { g.double = twice }) }

// Hold keeps events back until Release.
func (s *Server) Hold() { s.set(func(g *gatewayState) { g.hold = true }) }

func (s *Server) set(change func(*gatewayState)) {
	s.mu.Lock()
	defer s.mu.Unlock()
	change(&s.state)
}

// Release sends the events held back, the last first if reversed.
func (s *Server) Release(reversed bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	held := s.state.held
	s.state.hold, s.state.held = false, nil
	if reversed {
		slices.Reverse(held)
	}
	for _, e := range held {
		s.dispatch(e.kind, e.data, e.channel, e.guild)
	}
}

// Reconnect asks every connection to reconnect (op 7).
func (s *Server) Reconnect() {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, l := range s.links {
		l.send(map[string]any{"op": 7, "d": nil})
	}
}

// Cut ends every connection: with a close code, or without a word for 0.
func (s *Server) Cut(code int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, l := range s.links {
		if code != 0 {
			l.send(closing(code))
		} else {
			l.conn.Close()
		}
	}
}

type closing int

func (l *link) send(what any) {
	if l.gone {
		return
	}
	select {
	case l.out <- what:
	default: // a client that reads so slowly is cut off
		l.conn.Close()
	}
}

// gateway serves one connection until it ends.
func (s *Server) gateway(w http.ResponseWriter, r *http.Request) {
	upgrader := websocket.Upgrader{}
	conn, err := upgrader.Upgrade(w, r, nil)
	if err != nil {
		return // the upgrader has answered
	}
	l := &link{conn: conn, out: make(chan any, 1<<15), done: make(chan struct{})}
	s.mu.Lock()
	s.links = append(s.links, l)
	s.state.dials++
	silent := s.state.silent > 0
	if silent {
		s.state.silent--
	}
	s.stir()
	s.mu.Unlock()
	written := make(chan struct{})
	go func() {
		defer close(written)
		l.write()
	}()
	if !silent {
		l.out <- map[string]any{"op": 10, "d": map[string]any{"heartbeat_interval": s.options.Heartbeat.Milliseconds()}}
	}
	s.read(l)
	s.mu.Lock()
	l.gone = true
	close(l.out)
	s.links = slices.DeleteFunc(s.links, func(other *link) bool { return other == l })
	s.stir()
	s.mu.Unlock()
	conn.Close()
	<-written
	close(l.done)
}

// write sends a client what is queued for it.
func (l *link) write() {
	for what := range l.out {
		if code, ok := what.(closing); ok {
			l.conn.WriteControl(websocket.CloseMessage, websocket.FormatCloseMessage(int(code), ""), time.Now().Add(time.Second))
			continue
		}
		data, ok := what.([]byte)
		if !ok {
			var err error
			if data, err = json.Marshal(what); err != nil {
				panic(err) // our own shapes
			}
		}
		if l.conn.WriteMessage(websocket.TextMessage, data) != nil {
			l.conn.Close()
		}
	}
}

// read meets what the client sends.
func (s *Server) read(l *link) {
	for {
		var packet struct {
			Op   int
			Data json.RawMessage `json:"d"`
		}
		if l.conn.ReadJSON(&packet) != nil {
			return
		}
		s.mu.Lock()
		switch packet.Op {
		case 1:
			if !s.state.deaf {
				l.send(map[string]any{"op": 11})
			}
		case 2:
			s.identify(l, packet.Data)
		case 6:
			s.resume(l, packet.Data)
		}
		s.stir()
		s.mu.Unlock()
	}
}

// identify begins a session, where the token and the intents allow it.
func (s *Server) identify(l *link, data json.RawMessage) {
	var who struct {
		Token   string
		Intents int
	}
	if err := json.Unmarshal(data, &who); err != nil {
		l.send(closing(4002))
		return
	}
	s.state.identifies++
	switch {
	case len(s.state.refuse) > 0:
		l.send(closing(s.state.refuse[0]))
		s.state.refuse = s.state.refuse[1:]
		return
	case strings.TrimPrefix(who.Token, "Bot ") != Token:
		l.send(closing(4004))
		return
	case who.Intents&messageContent != 0 && s.options.NoContent:
		l.send(closing(4014))
		return
	case s.state.invalid > 0:
		s.state.invalid--
		l.send(map[string]any{"op": 9, "d": false})
		return
	case s.state.early > 0:
		s.state.early--
		l.send(map[string]any{"op": 7, "d": nil})
		return
	}
	for id, old := range s.sessions { // whoever identifies anew gives the old session up
		if s.linkOf(old) == nil {
			delete(s.sessions, id)
		}
	}
	l.session = &session{id: "session-" + s.next().String(), intent: who.Intents}
	s.sessions[l.session.id] = l.session
	s.ready(l)
}

// ready tells a client of the session that begins.
func (s *Server) ready(l *link) {
	guilds := []any{}
	for _, id := range s.order {
		if s.guilds[id].in(ApplicationID) {
			guilds = append(guilds, map[string]any{"id": id, "unavailable": true})
		}
	}
	l.tell("READY", map[string]any{
		"v": 9, "user": s.userJSON(s.users[ApplicationID]), "guilds": guilds, "session_id": l.session.id,
		"resume_gateway_url": s.wsURL(), "application": map[string]any{"id": ApplicationID, "flags": 0},
	})
	for _, id := range s.order {
		if g := s.guilds[id]; g.in(ApplicationID) && (s.state.drop == nil || !s.state.drop("GUILD_CREATE")) {
			l.tell("GUILD_CREATE", s.guildEvent(g))
		}
	}
}

// resume goes on with a session after the last event that the client has seen.
func (s *Server) resume(l *link, data json.RawMessage) {
	var who struct {
		Token     string
		SessionID string `json:"session_id"`
		Seq       int
	}
	err := json.Unmarshal(data, &who)
	known := s.sessions[who.SessionID]
	if err != nil || known == nil || strings.TrimPrefix(who.Token, "Bot ") != Token || s.state.invalid > 0 || who.Seq > known.seq {
		s.state.invalid = max(0, s.state.invalid-1)
		l.send(map[string]any{"op": 9, "d": false})
		return
	}
	s.state.resumes++
	l.session = known
	for _, packet := range known.log[who.Seq:] {
		l.send(packet)
	}
	l.tell("RESUMED", map[string]any{})
}

// tell sends one dispatch on a connection and keeps it for a resume.
func (l *link) tell(kind string, data map[string]any) {
	l.session.tell(kind, data, l)
}

// tell sends an event.
func (n *session) tell(kind string, data map[string]any, l *link) {
	n.seq++
	packet := map[string]any{"op": 0, "t": kind, "s": n.seq, "d": data}
	n.log = append(n.log, packet)
	if l != nil {
		raw, err := json.Marshal(packet)
		if err != nil {
			panic(err) // our own shapes
		}
		l.send(raw)
	}
}

// dispatch tells every session that may know of it; the lock must be held.
func (s *Server) dispatch(kind string, data map[string]any, channel *Channel, guild *Guild) {
	defer s.stir()
	if channel != nil && s.may(ApplicationID, channel)&ViewChannel == 0 || guild != nil && !guild.in(ApplicationID) {
		return
	}
	if s.state.hold {
		s.state.held = append(s.state.held, event{kind, data, channel, guild})
		return
	}
	if s.state.deaf || s.state.drop != nil && s.state.drop(kind) {
		return
	}
	s.options.Schema.event(s, kind, data)
	times := 1
	if s.state.double {
		times = 2
	}
	for _, n := range s.sessions {
		if !n.wants(kind, channel) {
			continue
		}
		for range times {
			n.tell(kind, n.visible(data, channel), s.linkOf(n))
		}
	}
}

func (s *Server) linkOf(n *session) *link {
	for _, l := range s.links {
		if l.session == n && !l.gone {
			return l
		}
	}
	return nil
}

func (n *session) wants(kind string, channel *Channel) bool {
	if !strings.HasPrefix(kind, "MESSAGE_") {
		return true
	}
	if channel.Guild == nil {
		return n.intent&directMessages != 0
	}
	return n.intent&guildMessages != 0
}

// visible is the event as a client without the privileged intent sees it.
func (n *session) visible(data map[string]any, channel *Channel) map[string]any {
	text, said := data["content"].(string)
	if !said || n.intent&messageContent != 0 || channel.Guild == nil || strings.Contains(text, "<@"+ApplicationID.String()+">") {
		return data
	}
	blank := map[string]any{}
	for key, value := range data {
		blank[key] = value
	}
	blank["content"] = ""
	return blank
}

func (s *Server) wsURL() string { return "ws" + after(s.http.URL, "http") + "/gateway" }
