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

// tap lies between the gateway's connection and the library, which has the
// faults that it hides: it reads the frames as they pass, ends the connection
// where the platform asks for a reconnect or says that the session is invalid
// (the library would stand still for good or identify in the wrong place),
// keeps the close code, and ends a connection that has gone quiet. The frames
// are those of RFC 6455; the library asks for no compression.
type tap struct {
	net.Conn
	alive func() // told of each frame

	buffer  []byte // read and not yet looked at
	ready   []byte // looked at and for the library
	started bool   // the handshake is over

	mu    sync.Mutex
	idle  time.Duration
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

func (t *tap) Read(into []byte) (int, error) {
	for len(t.ready) == 0 {
		t.mu.Lock()
		idle, ended := t.idle, t.ended
		t.mu.Unlock()
		if ended {
			return 0, errEnded
		}
		if err := t.SetReadDeadline(time.Now().Add(idle)); err != nil {
			return 0, err
		}
		more := make([]byte, 16<<10)
		n, err := t.Conn.Read(more)
		t.buffer = append(t.buffer, more[:n]...)
		if err != nil {
			return 0, err
		}
		t.look()
	}
	n := copy(into, t.ready)
	t.ready = t.ready[n:]
	return n, nil
}

// look moves what is whole from the buffer to the library.
func (t *tap) look() {
	if !t.started {
		end := bytes.Index(t.buffer, []byte("\r\n\r\n"))
		if end < 0 {
			return
		}
		t.pass(end + 4)
		t.started = true
	}
	for {
		head, size, ok := frame(t.buffer)
		if !ok {
			return
		}
		t.alive()
		if t.over(t.buffer[0]&0x0f, t.buffer[head:head+size]) {
			return
		}
		t.pass(head + size)
	}
}

func (t *tap) pass(n int) {
	t.ready = append(t.ready, t.buffer[:n]...)
	t.buffer = t.buffer[n:]
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
func (t *tap) over(kind byte, payload []byte) bool {
	switch {
	case kind == frameClose:
		why := ending{}
		if len(payload) >= 2 {
			why.code = int(binary.BigEndian.Uint16(payload))
		}
		t.end(why)
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
		t.mu.Lock()
		t.idle = time.Duration(packet.Data.Interval) * time.Millisecond * 3 / 2
		t.mu.Unlock()
	case opReconnect:
		t.end(ending{asked: "reconnect"})
		return true
	case opInvalid:
		t.end(ending{asked: "invalid session"})
		return true
	}
	return false
}

func (t *tap) end(why ending) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.why, t.ended = why, true
}

// reason is how the connection ended, as far as the platform said.
func (t *tap) reason() ending {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.why
}

var _ io.ReadWriteCloser = (*tap)(nil)
