package discord

import (
	"context"
	"crypto/tls"
	"encoding/json"
	"fmt"
	"net"
	"sync"
	"time"

	"github.com/bwmarrin/discordgo"
	"github.com/gorilla/websocket"
)

// intents are what the bot listens to: servers and their threads, messages and
// their text (a privileged one), direct messages.
const intents = discordgo.IntentGuilds | discordgo.IntentGuildMessages | discordgo.IntentDirectMessages | discordgo.IntentMessageContent

// openTime bounds the way from dialling to READY.
const openTime = 45 * time.Second

// gatewayLink is one connection to the gateway. It is used once: for the next
// connection all is made anew.
type gatewayLink struct {
	session *discordgo.Session
	alive   func()        // told of each frame that comes
	open    time.Duration // bounds the way from dialling to READY

	mu     sync.Mutex
	conns  []*watchedConn // all that the library has dialled, the latest last
	closed chan struct{}  // closed when the library has let go
	once   sync.Once      // closes it
}

// newGatewayLink makes a link that hands raw events to hear, which must not block.
func (a *api) newGatewayLink(
	token string, open time.Duration, alive func(), hear func(kind string, data json.RawMessage),
) (*gatewayLink, error) {
	session, err := newSession(token, lane{a.limiter, false})
	if err != nil {
		return nil, err
	}
	l := &gatewayLink{session: session, alive: alive, open: open, closed: make(chan struct{})}
	session.SyncEvents = true
	session.Compress, session.Identify.Compress = false, false
	session.Identify.Intents = intents
	session.Identify.Properties.Browser, session.Identify.Properties.Device = "rungbook", "rungbook"
	session.Dialer = &websocket.Dialer{HandshakeTimeout: firstIdle, NetDialContext: l.dial, NetDialTLSContext: l.dialTLS}
	session.AddHandler(func(_ *discordgo.Session, e *discordgo.Event) { hear(e.Type, e.RawData) })
	session.AddHandler(func(*discordgo.Session, *discordgo.Disconnect) { l.once.Do(func() { close(l.closed) }) })
	return l, nil
}

func (l *gatewayLink) dial(ctx context.Context, network, address string) (net.Conn, error) {
	conn, err := (&net.Dialer{}).DialContext(ctx, network, address)
	if err != nil {
		return nil, err
	}
	return l.watched(conn), nil
}

func (l *gatewayLink) dialTLS(ctx context.Context, network, address string) (net.Conn, error) {
	host, _, err := net.SplitHostPort(address)
	if err != nil {
		return nil, err
	}
	conn, err := (&tls.Dialer{Config: &tls.Config{ServerName: host, NextProtos: []string{"http/1.1"}}}).DialContext(ctx, network, address)
	if err != nil {
		return nil, err
	}
	return l.watched(conn), nil
}

// watched puts the watch between a connection and the library.
func (l *gatewayLink) watched(conn net.Conn) net.Conn {
	t := &watchedConn{Conn: conn, alive: l.alive, idle: firstIdle}
	l.mu.Lock()
	defer l.mu.Unlock()
	l.conns = append(l.conns, t)
	return t
}

// run connects, stays until the connection ends or ctx does, and lets go. The
// error is of the way to READY alone.
func (l *gatewayLink) run(ctx context.Context, ready func()) (ending, error) {
	opened := make(chan error, 1)
	go func() { opened <- l.session.Open() }()
	limit := time.NewTimer(l.open)
	defer limit.Stop()
	var err error
	select {
	case err = <-opened:
	case <-limit.C:
		l.cut()
		<-opened
		err = fmt.Errorf("not ready within %s", l.open)
	case <-ctx.Done():
		l.cut()
		<-opened
		err = ctx.Err()
	}
	if err != nil {
		l.letGo()
		return l.reason(), err
	}
	ready()
	select {
	case <-l.closed:
	case <-ctx.Done():
		l.cut()
		<-l.closed
	}
	return l.reason(), nil
}

// letGo ends what an Open that failed late has left running. It does nothing
// after one that failed early.
func (l *gatewayLink) letGo() {
	l.cut()
	l.session.Close()
}

// cut ends the connection under the library's feet: whatever it waits for
// returns.
func (l *gatewayLink) cut() {
	l.mu.Lock()
	defer l.mu.Unlock()
	for _, t := range l.conns {
		t.Close()
	}
}

func (l *gatewayLink) reason() ending {
	l.mu.Lock()
	defer l.mu.Unlock()
	if len(l.conns) == 0 {
		return ending{}
	}
	return l.conns[len(l.conns)-1].reason()
}
