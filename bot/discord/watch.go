package discord

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"io"
	"net"
	"sync"
	"time"
)

// watchedConn lies between the gateway's connection and the library, and makes up
// for faults of the library. It reads the frames as they pass, keeps the close
// code, and ends a connection that has gone quiet. It ends the connection too where
// the platform asks for a reconnect or says that the session is invalid: there the
// library would stand still for good or identify at the wrong moment. The frames
// are those of RFC 6455; the library asks for no compression.
type watchedConn struct {
	net.Conn
	alive func() // told of each frame

	buffer  []byte // read and not yet looked at
	ready   []byte // looked at and for the library
	started bool   // the handshake is over

	mu    sync.Mutex
	idle  time.Duration // how long it may be quiet
	why   ending
	ended bool
}

// ending is how a connection ended.
type ending struct {
	code  int    // the close code; 0 for none
	asked string // "reconnect" or "invalid session", where the platform asked
}

// firstIdle is how long a Hello is waited for; after it, one and a half
// heartbeats.
const firstIdle = 20 * time.Second

var errEnded = errors.New("the connection is over")

// Gateway operations that are looked for, from the platform's reference.
const (
	opReconnect = 7
	opInvalid   = 9
	opHello     = 10
)

// Read gives the library whole frames alone, after the handshake.
func (c *watchedConn) Read(into []byte) (int, error) {
	for len(c.ready) == 0 {
		c.mu.Lock()
		idle, ended := c.idle, c.ended
		c.mu.Unlock()
		if ended {
			return 0, errEnded
		}
		if err := c.SetReadDeadline(time.Now().Add(idle)); err != nil {
			return 0, err
		}
		more := make([]byte, 16<<10)
		n, err := c.Conn.Read(more)
		c.buffer = append(c.buffer, more[:n]...)
		if err != nil {
			return 0, err
		}
		c.look()
	}
	n := copy(into, c.ready)
	c.ready = c.ready[n:]
	return n, nil
}

// look moves what is whole from the buffer to the library.
func (c *watchedConn) look() {
	if !c.started {
		end := bytes.Index(c.buffer, []byte("\r\n\r\n"))
		if end < 0 {
			return
		}
		c.pass(end + 4)
		c.started = true
	}
	for {
		head, size, ok := frame(c.buffer)
		if !ok {
			return
		}
		c.alive()
		if c.over(c.buffer[0]&0x0f, c.buffer[head:head+size]) {
			return
		}
		c.pass(head + size)
	}
}

func (c *watchedConn) pass(n int) {
	c.ready = append(c.ready, c.buffer[:n]...)
	c.buffer = c.buffer[n:]
}

// frame measures the first frame; ok is false until it is whole.
func frame(data []byte) (head, size int, ok bool) {
	if len(data) < 2 {
		return 0, 0, false
	}
	head, size = 2, int(data[1]&0x7f)
	switch size {
	case 126:
		head = 4
	case 127:
		head = 10
	}
	if len(data) < head {
		return 0, 0, false
	}
	switch size {
	case 126:
		size = int(binary.BigEndian.Uint16(data[2:]))
	case 127:
		size = int(binary.BigEndian.Uint64(data[2:]) & (1<<31 - 1))
	}
	return head, size, len(data) >= head+size
}

// Frame types.
const (
	frameText  = 1
	frameClose = 8
)

// over reports whether the connection ends with this frame.
func (c *watchedConn) over(kind byte, payload []byte) bool {
	switch {
	case kind == frameClose:
		why := ending{}
		if len(payload) >= 2 {
			why.code = int(binary.BigEndian.Uint16(payload))
		}
		c.end(why)
		return true
	case kind != frameText || len(payload) > 4<<10:
		return false
	}
	var packet struct {
		Op   int `json:"op"`
		Data struct {
			Interval int64 `json:"heartbeat_interval"` // ms
		} `json:"d"`
	}
	json.Unmarshal(payload, &packet) // what is of another shape is none of those below; Op is read first
	switch packet.Op {
	case opHello:
		c.mu.Lock()
		c.idle = time.Duration(packet.Data.Interval) * time.Millisecond * 3 / 2
		c.mu.Unlock()
	case opReconnect:
		c.end(ending{asked: "reconnect"})
		return true
	case opInvalid:
		c.end(ending{asked: "invalid session"})
		return true
	}
	return false
}

func (c *watchedConn) end(why ending) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.why, c.ended = why, true
}

// reason is how the connection ended, as far as the platform said.
func (c *watchedConn) reason() ending {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.why
}

var _ io.ReadWriteCloser = (*watchedConn)(nil)
