package main

import (
	"bytes"
	"context"
	"net"
	"net/http"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"rungbook/bot/discord/discordtest"
)

// record is a writer that may be read while it is written to.
type record struct {
	mutex sync.Mutex
	text  bytes.Buffer
}

func (r *record) Write(p []byte) (int, error) {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	return r.text.Write(p)
}

func (r *record) String() string {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	return r.text.String()
}

// TestServe starts the binary against the double of the platform, with nothing
// but its settings, and takes a team from /setup to an answered log; health and
// check are asked while it runs.
func TestServe(t *testing.T) {
	fake := discordtest.New(discordtest.Options{})
	defer fake.Close()
	tide := fake.Guild("Tidewater Rings")
	rings := fake.Channel(tide, "rings")
	coaches := fake.Role(tide, "coach", 0)
	priya, ilda, rui := fake.Person("Priya"), fake.Person("Ilda"), fake.Person("Rui")
	fake.Join(tide, priya)
	fake.Join(tide, ilda)
	fake.Grant(tide, ilda, coaches)
	fake.Join(tide, rui, fake.Role(tide, "steward", discordtest.ManageGuild))

	env := map[string]string{
		"RUNGBOOK_DB": filepath.Join(t.TempDir(), "rungbook.db"), "RUNGBOOK_TOKEN": discordtest.Token,
		"RUNGBOOK_DISCORD_API": fake.URL(), "RUNGBOOK_LISTEN": free(t),
	}
	var out, errs record
	ctx, stop := context.WithCancel(t.Context())
	ended := make(chan int, 1)
	go func() {
		ended <- program{args: []string{"serve"}, getenv: func(name string) string { return env[name] }, stdin: strings.NewReader(""),
			stdout: &out, stderr: &errs, now: time.Now}.run(ctx)
	}()
	await := func(what string, holds func(discordtest.View) bool) {
		t.Helper()
		if !fake.Await(20*time.Second, holds) {
			t.Fatalf("no %s; stderr:\n%s", what, &errs)
		}
	}
	await("connection", func(v discordtest.View) bool { return v.Links() > 0 })
	asked := fake.Slash(rings, rui, "setup",
		discordtest.Option{Name: "channel", Value: discordtest.ChannelValue(rings)}, discordtest.Option{Name: "coach-role", Value: coaches},
		discordtest.Option{Name: "zone", Value: "Europe/Lisbon"}, discordtest.Option{Name: "days", Value: "Mon Thu"},
		discordtest.Option{Name: "nudge", Value: "17:30"}, discordtest.Option{Name: "digest", Value: "Sun 18:00"})
	await("answer to /setup", func(discordtest.View) bool { return asked.Callback != 0 && len(asked.More) > 0 })
	said := fake.Say(rings, priya, "3x18s high hold, 3x20s toe support")
	await("answer to a log", func(v discordtest.View) bool {
		for _, m := range v.Messages(rings) {
			if m.Author.ID == discordtest.ApplicationID && m.Answers == said.ID && strings.Contains(m.Text, "3×18 s high hold") {
				return true
			}
		}
		return false
	})
	if got := run(t, "", env, "health"); got.status != statusDone || !strings.Contains(got.out, `"connected":true`) {
		t.Errorf("health: %d %s%s", got.status, got.out, got.err)
	}
	if got := run(t, "", env, "check"); got.status != statusDone || !strings.Contains(got.out, "sound: permissions on Discord") {
		t.Errorf("check: %d\n%s%s", got.status, got.out, got.err)
	}
	if answer, err := http.Get("http://" + env["RUNGBOOK_LISTEN"] + "/metrics"); err != nil || answer.StatusCode != http.StatusOK {
		t.Errorf("metrics: %v %v", answer, err)
	} else {
		answer.Body.Close()
	}
	stop()
	select {
	case status := <-ended:
		if status != statusDone {
			t.Errorf("exit status %d; stderr:\n%s", status, &errs)
		}
	case <-time.After(10 * time.Second):
		t.Error("still running 10 s after the signal")
	}
	if got := run(t, "", env, "export", "--member", "Priya"); !strings.Contains(got.out, `"work_s": 18`) {
		t.Errorf("export after it: %d %s%s", got.status, got.out, got.err)
	}
	if strings.Contains(out.String()+errs.String(), discordtest.Token) {
		t.Error("the token stands in the output")
	}
}

// TestServeNeedsItsSettings says what lacks in one line.
func TestServeNeedsItsSettings(t *testing.T) {
	db := filepath.Join(t.TempDir(), "rungbook.db")
	for _, c := range []struct {
		env  map[string]string
		want string
	}{
		{map[string]string{"RUNGBOOK_DB": db}, "RUNGBOOK_TOKEN_FILE"},
		{map[string]string{"RUNGBOOK_DB": db, "RUNGBOOK_TOKEN_FILE": "/nowhere/token"}, "/nowhere/token"},
		{map[string]string{"RUNGBOOK_DB": db, "RUNGBOOK_TOKEN": "x", "RUNGBOOK_DISCORD_API": "http://127.0.0.1:1", "RUNGBOOK_LISTEN": "nowhere"}, "RUNGBOOK_LISTEN"},
	} {
		got := run(t, "", c.env, "serve")
		if got.status != statusUse || strings.Count(got.err, "\n") != 1 || !strings.Contains(got.err, c.want) {
			t.Errorf("serve with %v: %d %q", c.env, got.status, got.err)
		}
	}
	fake := discordtest.New(discordtest.Options{})
	defer fake.Close()
	got := run(t, "", map[string]string{"RUNGBOOK_DB": db, "RUNGBOOK_TOKEN": "wrong", "RUNGBOOK_DISCORD_API": fake.URL()}, "serve")
	if got.status != statusUse || !strings.Contains(got.err, "token") {
		t.Errorf("serve with a wrong token: %d %q", got.status, got.err)
	}
	if got := run(t, "", map[string]string{"RUNGBOOK_LISTEN": free(t)}, "health"); got.status != statusFaults || !strings.Contains(got.err, "running") {
		t.Errorf("health of nobody: %d %q", got.status, got.err)
	}
}

// TestServeEndsWhereTryingAgainIsOfNoUse: the close codes after which the
// platform's reference says not to connect again (Gateway, close event codes)
// each end the binary with one line and the status of wrong settings, which the
// unit in deploy/ does not start again.
func TestServeEndsWhereTryingAgainIsOfNoUse(t *testing.T) {
	for code, want := range map[int]string{
		4004: "token", 4010: "several connections", 4011: "several connections", 4012: "upgrade", 4013: "upgrade", 4014: "Message Content Intent",
	} {
		t.Run(strconv.Itoa(code), func(t *testing.T) {
			t.Parallel()
			fake := discordtest.New(discordtest.Options{})
			defer fake.Close()
			fake.Refuse(code)
			got := run(t, "", map[string]string{
				"RUNGBOOK_DB": filepath.Join(t.TempDir(), "rungbook.db"), "RUNGBOOK_TOKEN": discordtest.Token,
				"RUNGBOOK_DISCORD_API": fake.URL(), "RUNGBOOK_LOG": "error",
			}, "serve")
			if got.status != statusUse || strings.Count(got.err, "\n") != 1 || !strings.Contains(got.err, want) {
				t.Errorf("%d %q", got.status, got.err)
			}
		})
	}
}

// free returns an address on loopback that nobody listens on.
func free(t *testing.T) string {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer listener.Close()
	return listener.Addr().String()
}
