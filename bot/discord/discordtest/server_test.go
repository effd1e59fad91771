package discordtest_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/gorilla/websocket"
	"go.uber.org/goleak"

	"rungbook/bot/discord/discordtest"
)

func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }

// client is a client of the platform with nothing of the bot's.
type client struct {
	t    *testing.T
	s    *discordtest.Server
	conn *websocket.Conn
	seq  int
	id   string
}

type packet struct {
	Op   int             `json:"op"`
	Kind string          `json:"t"`
	Seq  int             `json:"s"`
	Data json.RawMessage `json:"d"`
}

func newServer(t *testing.T, o discordtest.Options) *discordtest.Server {
	s := discordtest.New(o)
	t.Cleanup(http.DefaultClient.CloseIdleConnections)
	t.Cleanup(s.Close)
	return s
}

func (c *client) call(method, path string, body any) (status int, shape map[string]any) {
	c.t.Helper()
	status, answer := c.ask(method, path, body)
	json.Unmarshal(answer, &shape) // lists and empty answers are not looked at
	return status, shape
}

// list is what stands in a list.
func (c *client) list(path string) (all []map[string]any) {
	c.t.Helper()
	status, answer := c.ask("GET", path, nil)
	if err := json.Unmarshal(answer, &all); err != nil || status != http.StatusOK {
		c.t.Errorf("%s: %d, %v", path, status, err)
	}
	return all
}

// ask makes a request; the status is 0 where no answer comes.
func (c *client) ask(method, path string, body any) (int, []byte) {
	c.t.Helper()
	raw, err := json.Marshal(body)
	if err != nil {
		c.t.Fatal(err)
	}
	r, err := http.NewRequest(method, c.s.URL()+"/v9"+path, bytes.NewReader(raw))
	if err != nil {
		c.t.Fatal(err)
	}
	r.Header.Set("Authorization", "Bot "+discordtest.Token)
	r.Header.Set("Content-Type", "application/json")
	resp, err := http.DefaultClient.Do(r)
	if err != nil {
		return 0, nil
	}
	defer resp.Body.Close()
	answer, err := io.ReadAll(resp.Body)
	if err != nil {
		return 0, nil
	}
	return resp.StatusCode, answer
}

func (c *client) dial() packet {
	c.t.Helper()
	_, said := c.call("GET", "/gateway", nil)
	conn, resp, err := websocket.DefaultDialer.Dial(said["url"].(string), nil)
	if err != nil {
		c.t.Fatal(err)
	}
	resp.Body.Close()
	c.conn = conn
	c.t.Cleanup(func() { conn.Close() })
	return c.next()
}

func (c *client) next() (p packet) {
	c.t.Helper()
	c.conn.SetReadDeadline(time.Now().Add(10 * time.Second))
	if err := c.conn.ReadJSON(&p); err != nil {
		c.t.Fatal(err)
	}
	if p.Seq > 0 {
		c.seq = p.Seq
	}
	return p
}

func (c *client) send(op int, data any) {
	c.t.Helper()
	if err := c.conn.WriteJSON(map[string]any{"op": op, "d": data}); err != nil {
		c.t.Fatal(err)
	}
}

func (c *client) login() {
	c.t.Helper()
	if hello := c.dial(); hello.Op != 10 {
		c.t.Fatalf("no Hello: %+v", hello)
	}
	c.send(2, map[string]any{"token": discordtest.Token, "intents": 1<<9 | 1<<12 | 1<<15})
	ready := c.next()
	var said struct {
		ID string `json:"session_id"`
	}
	if json.Unmarshal(ready.Data, &said); ready.Kind != "READY" || said.ID == "" {
		c.t.Fatalf("not ready: %+v", ready)
	}
	c.id = said.ID
	if created := c.next(); created.Kind != "GUILD_CREATE" {
		c.t.Fatalf("no server: %+v", created)
	}
}

func TestAnotherClientLogsInIsCutAndResumes(t *testing.T) {
	s := newServer(t, discordtest.Options{})
	g := s.Guild("Tidewater Rings")
	channel, priya := s.Channel(g, "rings"), s.Person("Priya")
	s.Join(g, priya)
	c := &client{t: t, s: s}
	c.login()
	s.Say(channel, priya, "one")
	if p := c.next(); p.Kind != "MESSAGE_CREATE" || !strings.Contains(string(p.Data), `"one"`) {
		t.Fatalf("%+v", p)
	}
	seq := c.seq
	c.conn.Close()
	s.Await(10*time.Second, func(v discordtest.View) bool { return v.Links() == 0 })
	s.Say(channel, priya, "two")
	c.dial()
	c.send(6, map[string]any{"token": discordtest.Token, "session_id": c.id, "seq": seq})
	if p := c.next(); p.Kind != "MESSAGE_CREATE" || !strings.Contains(string(p.Data), `"two"`) {
		t.Fatalf("what was missed: %+v", p)
	}
	if p := c.next(); p.Kind != "RESUMED" {
		t.Fatalf("%+v", p)
	}
	c.conn.Close()
	c.dial()
	c.send(6, map[string]any{"token": discordtest.Token, "session_id": "unknown", "seq": seq})
	if p := c.next(); p.Op != 9 {
		t.Fatalf("an unknown session is resumed: %+v", p)
	}
}

func TestNonces(t *testing.T) {
	now := time.Date(2026, 10, 5, 18, 0, 0, 0, time.UTC)
	s := newServer(t, discordtest.Options{Clock: func() time.Time { return now }})
	channel := s.Channel(s.Guild("Tidewater Rings"), "rings")
	c := &client{t: t, s: s}
	path := "/channels/" + channel.ID.String() + "/messages"
	body := map[string]any{"content": "hello", "nonce": "n1", "enforce_nonce": true, "allowed_mentions": map[string]any{"parse": []string{}}}
	_, first := c.call("POST", path, body)
	if _, again := c.call("POST", path, body); again["id"] != first["id"] {
		t.Error("a nonce makes two messages")
	}
	body["nonce"] = strings.Repeat("n", 26)
	if status, _ := c.call("POST", path, body); status != http.StatusBadRequest {
		t.Errorf("a nonce of 26 characters: %d", status)
	}
	body["nonce"] = "n1"
	c.call("DELETE", path+"/"+fmt.Sprint(first["id"]), nil)
	if _, gone := c.call("POST", path, body); gone["code"] != float64(10008) {
		t.Errorf("the nonce of a deleted message: %v", gone)
	}
	now = now.Add(10 * time.Minute)
	if _, later := c.call("POST", path, body); later["id"] == nil || later["id"] == first["id"] {
		t.Errorf("a nonce of ten minutes ago: %v", later)
	}
	s.Fail("POST /channels/{channel_id}/messages", 1, discordtest.LostAnswer)
	body["nonce"] = "n2"
	if status, _ := c.call("POST", path, body); status != 0 {
		t.Errorf("the answer was not lost: %d", status)
	}
	s.Look(func(v discordtest.View) {
		if n := len(v.Messages(channel)); n != 2 {
			t.Errorf("%d messages", n)
		}
	})
}

func TestPermissionsAndLimits(t *testing.T) {
	now := time.Date(2026, 10, 5, 18, 0, 0, 0, time.UTC)
	s := newServer(t, discordtest.Options{PerRoute: 2, Clock: func() time.Time { return now }})
	channel := s.Channel(s.Guild("Tidewater Rings"), "rings")
	c := &client{t: t, s: s}
	path := "/channels/" + channel.ID.String() + "/messages"
	body := map[string]any{"content": "hello", "allowed_mentions": map[string]any{"parse": []string{}}}
	for try, want := range []int{200, 200, 429} {
		if status, _ := c.call("POST", path, body); status != want {
			t.Errorf("try %d: %d, want %d", try, status, want)
		}
	}
	channel.Denied = discordtest.ViewChannel
	if status, said := c.call("GET", path, nil); status != 403 || said["code"] != float64(50001) {
		t.Errorf("hidden: %d %v", status, said)
	}
}

// Without the right to read the history its pages are empty, and neither can
// messages be asked for nor replied to.
func TestHistoryThatMayNotBeRead(t *testing.T) {
	s := newServer(t, discordtest.Options{})
	g := s.Guild("Tidewater Rings")
	channel, priya := s.Channel(g, "rings"), s.Person("Priya")
	s.Join(g, priya)
	c := &client{t: t, s: s}
	for _, at := range []*discordtest.Channel{channel, s.Thread(channel, "monday")} {
		m, gone := s.Say(at, priya, "one"), s.Say(at, priya, "two")
		s.Delete(gone)
		path := "/channels/" + at.ID.String() + "/messages"
		reply := map[string]any{
			"content": "hello", "allowed_mentions": map[string]any{"parse": []string{}}, "message_reference": map[string]any{"message_id": m.ID},
		}
		for _, right := range []bool{true, false} {
			channel.Denied = 0
			page, one, lost, made, code := 1, 200, 404, 200, 0.0
			if !right {
				channel.Denied = discordtest.ReadHistory
				page, one, lost, made, code = 0, 403, 403, 400, 160002.0
			}
			if n := len(c.list(path)); n != page {
				t.Errorf("right %t: a page of %d", right, n)
			}
			if status, _ := c.call("GET", path+"/"+m.ID.String(), nil); status != one {
				t.Errorf("right %t: a message: %d", right, status)
			}
			if status, said := c.call("GET", path+"/"+gone.ID.String(), nil); status != lost || right && said["code"] != 10008.0 {
				t.Errorf("right %t: a message gone: %d %v", right, status, said)
			}
			status, said := c.call("POST", path, reply)
			if got, _ := said["code"].(float64); status != made || got != code {
				t.Errorf("right %t: a reply: %d %v", right, status, said)
			}
			if right {
				c.call("DELETE", path+"/"+fmt.Sprint(said["id"]), nil)
			}
		}
	}
}

// A nonce comes back with the creation alone, and is its author's.
func TestWhoseNonceItIs(t *testing.T) {
	s := newServer(t, discordtest.Options{})
	g := s.Guild("Tidewater Rings")
	channel, other, priya := s.Channel(g, "rings"), s.Channel(g, "training"), s.Person("Priya")
	s.Join(g, priya)
	c := &client{t: t, s: s}
	hers := s.Post(&discordtest.Message{Channel: channel, Author: priya, Text: "hello", Nonce: "n1"})
	path := "/channels/" + channel.ID.String() + "/messages"
	body := map[string]any{"content": "hello", "nonce": "n1", "enforce_nonce": true, "allowed_mentions": map[string]any{"parse": []string{}}}
	_, made := c.call("POST", path, body)
	if made["id"] == hers.ID.String() || made["nonce"] != "n1" {
		t.Errorf("made %v", made)
	}
	if _, again := c.call("POST", "/channels/"+other.ID.String()+"/messages", body); again["id"] != made["id"] || again["nonce"] != "n1" {
		t.Errorf("the same nonce elsewhere: %v", again)
	}
	if _, one := c.call("GET", path+"/"+fmt.Sprint(made["id"]), nil); one["nonce"] != nil {
		t.Errorf("asked for: %v", one)
	}
	if page := c.list(path); len(page) != 2 || page[0]["nonce"] != nil || page[1]["nonce"] != nil {
		t.Errorf("in the history: %v", page)
	}
}
