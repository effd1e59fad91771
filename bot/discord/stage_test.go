package discord_test

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
	_ "time/tzdata" // zones on any machine

	"go.uber.org/goleak"

	"rungbook/bot"
	"rungbook/bot/discord"
	"rungbook/bot/discord/discordtest"
	"rungbook/bot/outbox"
	"rungbook/store"
	"rungbook/training"
	"rungbook/training/programme"
)

// TestMain runs many tests at once, whatever the number of processors: each has
// a platform and a database of its own, and nearly all its time goes by waiting
// for connections to close. -parallel says otherwise.
func TestMain(m *testing.M) {
	if err := flag.Set("test.parallel", "16"); err != nil {
		panic(err)
	}
	goleak.VerifyTestMain(m)
}

// description is the platform's published one, where it lies beside the
// module; without it everything is run but the comparison of bodies with it.
var description = sync.OnceValues(func() (*discordtest.Schema, error) {
	data, err := os.ReadFile(filepath.FromSlash("../../../shared/discord/openapi.json"))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	return discordtest.NewSchema(data)
})

// patience is how long a test waits for what does not come. It is no promise:
// what comes is never waited for longer than it takes, and on a busy machine
// that may be long.
const patience = 2 * time.Minute

// clock can be set; it stands still in between.
type clock struct {
	mu  sync.Mutex
	now time.Time
}

func (c *clock) Now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.now
}

func (c *clock) set(at time.Time) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.now = at
}

func (c *clock) add(d time.Duration) { c.set(c.Now().Add(d)) }

// stage is Tidewater Rings on the fake platform, with the bot at work.
type stage struct {
	t       testing.TB
	fake    *discordtest.Server
	clock   *clock
	db      *store.DB
	path    string
	tide    *discordtest.Guild
	rings   *discordtest.Channel
	coaches *discordtest.Role
	cast    map[string]*discordtest.User
	out     *lockedBuffer
	options func(*discord.Options)
	prepare func(*discord.Adapter) // before it runs; nil for nothing
	defers  time.Duration          // when the bot asks for time; 0: when it does on the platform

	adapter *discord.Adapter
	stop    context.CancelFunc
	ended   chan error
}

type lockedBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *lockedBuffer) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(p)
}

func (l *lockedBuffer) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.String()
}

var members = []string{"Tomé", "Priya", "Wen", "Sanna", "Bako", "Mirela"}

// newStage sets the stage without the bot. It is Monday evening.
func newStage(t testing.TB, options discordtest.Options) *stage {
	t.Helper()
	schema, err := description()
	if err != nil {
		t.Fatal(err)
	}
	if schema == nil {
		t.Log("the platform's description is not there: bodies are not compared with it")
	}
	options.Schema = schema
	s := &stage{t: t, clock: &clock{now: time.Date(2026, 10, 5, 18, 0, 0, 0, time.UTC)}, cast: map[string]*discordtest.User{}, out: &lockedBuffer{},
		path: filepath.Join(t.TempDir(), "rungbook.db")}
	if options.Clock == nil {
		options.Clock = s.clock.Now
	}
	if options.AskedTime == 0 { // that the bot answers in time is for tests of that alone
		options.AskedTime, s.defers = patience, patience
	}
	s.fake = discordtest.New(options)
	t.Cleanup(s.fake.Close)
	t.Cleanup(func() {
		for _, fault := range s.fake.Faults() {
			t.Errorf("against the platform's rules: %s", fault)
		}
		if strings.Contains(s.out.String(), discordtest.Token) {
			t.Error("the token stands in the log")
		}
		if t.Failed() {
			t.Logf("log:\n%s", s.out)
		}
	})
	s.tide = s.fake.Guild("Tidewater Rings")
	s.rings = s.fake.Channel(s.tide, "rings")
	s.coaches = s.fake.Role(s.tide, "coach", 0)
	for _, name := range append([]string{"Ilda"}, members...) {
		s.cast[name] = s.fake.Person(name)
		s.fake.Join(s.tide, s.cast[name])
	}
	s.fake.Grant(s.tide, s.cast["Ilda"], s.coaches)
	s.cast["Rui"] = s.fake.Person("Rui")
	s.fake.Join(s.tide, s.cast["Rui"], s.fake.Role(s.tide, "steward", discordtest.ManageGuild))
	return s
}

// start opens the database and sets the bot to work; it is ready when start
// returns.
func (s *stage) start() {
	s.t.Helper()
	s.open()
	s.run()
	s.await("a connection", func(v discordtest.View) bool { return v.Links() > 0 })
}

func (s *stage) open() {
	s.t.Helper()
	db, err := store.Open(context.Background(), store.Options{Path: s.path, Key: []byte("a key for tests, 32 bytes long..")})
	if err != nil {
		s.t.Fatal(err)
	}
	s.db = db
}

func (s *stage) run() {
	s.t.Helper()
	log := slog.New(slog.NewTextHandler(s.out, nil))
	core := bot.New(bot.Options{Store: store.As[bot.Tx]{DB: s.db}, Programme: programme.Builtin(), Programmes: programme.Library{}, Log: log})
	o := discord.Options{
		Token: discordtest.Token, API: s.fake.URL(), Store: store.As[discord.Tx]{DB: s.db}, Programme: programme.Builtin(), Log: log, Clock: s.clock.Now,
		Bot: core, Import: core.Import, Scrub: s.db.Scrub,
		Outbox: outbox.New(s.db, outbox.WithClock(s.clock.Now), outbox.WithWidth(32), outbox.WithWait(shortly)),
		Wait:   shortly,
	}
	discord.DeferAfter(&o, s.defers)
	if s.options != nil {
		s.options(&o)
	}
	adapter, err := discord.New(o)
	if err != nil {
		s.t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	if s.prepare != nil {
		s.prepare(adapter)
	}
	s.adapter, s.stop, s.ended = adapter, stop, make(chan error, 1)
	go func() { s.ended <- adapter.Run(ctx) }()
	s.t.Cleanup(s.end)
}

// via is an outbox that sends through something of the test's.
type via struct {
	*outbox.Outbox
	through func(outbox.Sender) outbox.Sender
}

func (v via) Deliver(ctx context.Context, sender outbox.Sender, posts []bot.Post, at time.Time) []outbox.Outcome {
	return v.Outbox.Deliver(ctx, v.through(sender), posts, at)
}

func (v via) Redeliver(ctx context.Context, sender outbox.Sender, posts []bot.Post, at time.Time) []outbox.Outcome {
	return v.Outbox.Redeliver(ctx, v.through(sender), posts, at)
}

func (v via) Resume(ctx context.Context, sender outbox.Sender, at time.Time) ([]outbox.Outcome, error) {
	return v.Outbox.Resume(ctx, v.through(sender), at)
}

// shortly waits a hundredth of the time asked for.
func shortly(ctx context.Context, d time.Duration) error {
	select {
	case <-time.After(d / 100):
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}

// end stops the bot and closes its database; twice is once.
func (s *stage) end() {
	if s.stop == nil {
		return
	}
	s.stop()
	began := time.Now()
	if err := <-s.ended; err != nil {
		s.t.Errorf("stopping: %v", err)
	}
	if took := time.Since(began); took > 10*time.Second {
		s.t.Errorf("stopping took %s", took)
	}
	s.close()
}

func (s *stage) close() {
	s.stop = nil
	if err := s.db.Close(); err != nil {
		s.t.Error(err)
	}
}

// settled is a stage with the bot at work and the team set up by Rui.
func settled(t testing.TB, options discordtest.Options) *stage {
	t.Helper()
	s := newStage(t, options)
	s.start()
	s.setup()
	return s
}

func (s *stage) setup() {
	s.t.Helper()
	asked := s.fake.Slash(s.rings, s.cast["Rui"], "setup",
		discordtest.Option{Name: "channel", Value: discordtest.ChannelValue(s.rings)}, discordtest.Option{Name: "coach-role", Value: s.coaches},
		discordtest.Option{Name: "zone", Value: "Europe/Lisbon"}, discordtest.Option{Name: "days", Value: "Mon Thu"},
		discordtest.Option{Name: "nudge", Value: "17:30"}, discordtest.Option{Name: "digest", Value: "Sun 18:00"},
		discordtest.Option{Name: "coach", Value: s.cast["Ilda"]})
	s.await("an answer to /setup", func(discordtest.View) bool { return asked.Callback != 0 && len(asked.More) > 0 })
}

// await waits for the fake to come into a state.
func (s *stage) await(what string, holds func(discordtest.View) bool) {
	s.t.Helper()
	if !s.fake.Await(patience, holds) {
		s.fake.Look(func(v discordtest.View) {
			for _, r := range v.Requests()[max(0, len(v.Requests())-3):] {
				s.t.Logf("lately: %s %s: %d", r.Method, r.Route, r.Status)
			}
		})
		s.t.Fatalf("no %s in %s; log:\n%s", what, patience, s.out)
	}
}

// awaitBot waits for the bot itself to come into a state: the fake has no word
// of it, so that it is looked at again and again.
func (s *stage) awaitBot(what string, holds func() bool) {
	s.t.Helper()
	for end := time.Now().Add(patience); !s.fake.Await(10*time.Millisecond, func(discordtest.View) bool { return holds() }); {
		if time.Now().After(end) {
			s.t.Fatalf("no %s in %s; log:\n%s", what, patience, s.out)
		}
	}
}

// says has somebody say something in the team's channel a minute later, and
// waits for so many answers of the bot to it.
func (s *stage) says(name, text string, answers int) *discordtest.Message {
	s.t.Helper()
	s.clock.add(time.Minute)
	m := s.fake.Say(s.rings, s.cast[name], text)
	if answers > 0 {
		s.await(fmt.Sprintf("answer to %q", text), func(v discordtest.View) bool { return len(answersTo(v, m)) == answers })
	}
	return m
}

// answersTo are the bot's messages that answer one.
func answersTo(v discordtest.View, m *discordtest.Message) []*discordtest.Message {
	var found []*discordtest.Message
	for _, one := range v.Messages(m.Channel) {
		if one.Author.ID == discordtest.ApplicationID && one.Answers == m.ID {
			found = append(found, one)
		}
	}
	return found
}

// texts are what the bot has said in a place.
func (s *stage) texts(channel *discordtest.Channel) []string {
	var all []string
	s.fake.Look(func(v discordtest.View) {
		for _, m := range v.Messages(channel) {
			if m.Author.ID == discordtest.ApplicationID && !m.Ephemeral {
				all = append(all, m.Text)
			}
		}
	})
	return all
}

// logged are the live logs of a member.
func (s *stage) logged(name string) []training.Log {
	s.t.Helper()
	var logs []training.Log
	err := s.db.View(context.Background(), func(tx *store.Tx) (err error) {
		logs, err = tx.MemberLogs(training.TeamID(s.tide.ID), training.PersonID(s.cast[name].ID), training.Date(2020, 1, 1), training.Date(2030, 1, 1))
		return err
	})
	if err != nil {
		s.t.Fatal(err)
	}
	return logs
}

// quiet waits until the bot has met all that was said: a last word in the
// channel is answered behind everything before it.
func (s *stage) quiet() {
	s.t.Helper()
	asked := s.fake.Slash(s.rings, s.cast["Rui"], "help")
	s.await("quiet", func(discordtest.View) bool { return asked.Callback != 0 })
}

func errorAs[T error](err error, into *T) bool { return errors.As(err, into) }
