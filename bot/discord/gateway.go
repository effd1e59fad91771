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

// wire is one connection to the gateway, and never more: a new one is made of
// everything each time.
type wire struct {
	session *discordgo.Session
	alive   func()
	open    time.Duration

	mu     sync.Mutex
	taps   []*tap
	closed chan struct{} // when the library has let go
	once   sync.Once
}

// newWire makes a connection that hands raw events to hear, which must not
// block.
func (a *api) newWire(token string, open time.Duration, alive func(), hear func(kind string, data json.RawMessage)) (*wire, error) {
	session, err := newSession(token, lane{a.limiter, false})
	if err != nil {
		return nil, err
	}
	w := &wire{session: session, alive: alive, open: open, closed: make(chan struct{})}
	session.SyncEvents = true
	session.Compress, session.Identify.Compress = false, false
	session.Identify.Intents = intents
	session.Identify.Properties.Browser, session.Identify.Properties.Device = "rungbook", "rungbook"
	session.Dialer = &websocket.Dialer{HandshakeTimeout: firstIdle, NetDialContext: w.dial, NetDialTLSContext: w.dialTLS}
	session.AddHandler(func(_ *discordgo.Session, e *discordgo.Event) { hear(e.Type, e.RawData) })
	session.AddHandler(func(*discordgo.Session, *discordgo.Disconnect) { w.once.Do(func() { close(w.closed) }) })
	return w, nil
}

func (w *wire) dial(ctx context.Context, network, address string) (net.Conn, error) {
	conn, err := (&net.Dialer{}).DialContext(ctx, network, address)
	if err != nil {
		return nil, err
	}
	return w.tapped(conn), nil
}

func (w *wire) dialTLS(ctx context.Context, network, address string) (net.Conn, error) {
	host, _, err := net.SplitHostPort(address)
	if err != nil {
		return nil, err
	}
	conn, err := (&tls.Dialer{Config: &tls.Config{ServerName: host, NextProtos: []string{"http/1.1"}}}).DialContext(ctx, network, address)
	if err != nil {
		return nil, err
	}
	return w.tapped(conn), nil
}

func (w *wire) tapped(conn net.Conn) net.Conn {
	t := &tap{Conn: conn, alive: w.alive, idle: firstIdle}
	w.mu.Lock()
	defer w.mu.Unlock()
	w.taps = append(w.taps, t)
	return t
}

// run connects, stays until the connection ends or ctx does, and lets go. The
// error is of the way to READY alone.
func (w *wire) run(ctx context.Context, ready func()) (ending, error) {
	opened := make(chan error, 1)
	go func() { opened <- w.session.Open() }()
	limit := time.NewTimer(w.open)
	defer limit.Stop()
	var err error
	select {
	case err = <-opened:
	case <-limit.C:
		w.cut()
		<-opened
		err = fmt.Errorf("not ready within %s", w.open)
	case <-ctx.Done():
		w.cut()
		<-opened
		err = ctx.Err()
	}
	if err != nil {
		w.letGo()
		return w.reason(), err
	}
	ready()
	select {
	case <-w.closed:
	case <-ctx.Done():
		w.cut()
		<-w.closed
	}
	return w.reason(), nil
}

// letGo ends what an Open that failed late has left running. It does nothing
// after one that failed early.
func (w *wire) letGo() {
	w.cut()
	w.session.Close()
}

// cut ends the connection under the library's feet: whatever it waits for
// returns.
func (w *wire) cut() {
	w.mu.Lock()
	defer w.mu.Unlock()
	for _, t := range w.taps {
		t.Close()
	}
}

func (w *wire) reason() ending {
	w.mu.Lock()
	defer w.mu.Unlock()
	if len(w.taps) == 0 {
		return ending{}
	}
	return w.taps[len(w.taps)-1].reason()
}
