package discord_test

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"rungbook/bot"
	"rungbook/bot/discord"
	"rungbook/bot/discord/discordtest"
	"rungbook/bot/outbox"
	"rungbook/bot/rehearsal"
	"rungbook/store"
	"rungbook/training"
	"rungbook/training/programme"
)

// untold are the events, by conversation and time, that Discord cannot express;
// they are left out, and all around them is played. Whole conversations that it
// cannot express there are none.
var untold = map[string]struct {
	why string
	at  []string
}{
	"pain-offline": {"history shows nothing of what was said and deleted while the bot was away, and of what was edited the last words alone", []string{"2026-10-08 17:12", "2026-10-08 17:20", "2026-10-08 17:21"}},
}

// TestConversationsOnDiscord plays the golden conversations twice: as a
// rehearsal does, and as people on the double of the platform before the
// adapter. What is said must be the same: when, what, to whom, in answer to
// what, words, pictures and facts.
func TestConversationsOnDiscord(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("../rehearsal/testdata/*.chat")
	if err != nil || len(files) == 0 {
		t.Fatalf("no conversations: %v", err)
	}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".chat")
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		ways := []away{stopped}
		if bytes.Contains(data, []byte("offline\n")) {
			ways = append(ways, cutOff)
		}
		for _, way := range ways {
			t.Run(name+way.String(), func(t *testing.T) {
				t.Parallel()
				transcript, err := rehearsal.Parse(file, data)
				if err != nil {
					t.Fatal(err)
				}
				leaveOut(t, transcript, untold[name].at)
				want := rehearsed(t, transcript)
				got := newChat(t, transcript, way).play()
				sameLines(t, got, want)
			})
		}
	}
}

// leaveOut takes the events of these times out.
func leaveOut(t *testing.T, transcript *rehearsal.Transcript, at []string) {
	t.Helper()
	for _, stamp := range at {
		before := len(transcript.Events)
		transcript.Events = slices.DeleteFunc(transcript.Events, func(e *rehearsal.Event) bool { return e.At.Format("2006-01-02 15:04") == stamp })
		if len(transcript.Events) != before-1 {
			t.Errorf("%d events at %s, want one to leave out", before-len(transcript.Events), stamp)
		}
	}
}

// away is how the bot comes to miss what happens while it is offline.
type away int

const (
	stopped away = iota // the process is stopped
	cutOff              // the gateway tells nothing and then ends the connection
)

func (w away) String() string { return []string{"", " cut off"}[w] }

// sameLines compares what was said line by line.
func sameLines(t *testing.T, got, want string) {
	t.Helper()
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range max(len(g), len(w)) {
		if i >= len(g) || i >= len(w) || g[i] != w[i] {
			t.Errorf("said %d:\non Discord  %s\nrehearsed   %s", i+1, g[min(i, len(g)-1)], w[min(i, len(w)-1)])
		}
	}
}

// rehearsed is what a rehearsal says, as JSON lines.
func rehearsed(t *testing.T, transcript *rehearsal.Transcript) string {
	t.Helper()
	return played(t, transcript, func(ctx context.Context, path string, show func(bot.Post) error) (*rehearsal.House, error) {
		db, err := store.Open(ctx, store.Options{Path: path, Key: []byte("a key for tests, 32 bytes long..")})
		if err != nil {
			return nil, err
		}
		core := bot.New(bot.Options{Store: store.As[bot.Tx]{DB: db}, Programme: programme.Builtin(), Programmes: programme.Library{}})
		return &rehearsal.House{Bot: core, Store: store.As[bot.Tx]{DB: db}, Outbox: outbox.New(db).To(outbox.Screen(show)), Close: db.Close}, nil
	})
}

func played(t *testing.T, transcript *rehearsal.Transcript, open rehearsal.Open) string {
	t.Helper()
	var out bytes.Buffer
	err := rehearsal.Play(context.Background(), rehearsal.Options{Transcript: transcript, Open: open, Scribe: rehearsal.NewJSON(&out, transcript)})
	if err != nil {
		t.Fatalf("%v, after\n%s", err, &out)
	}
	return out.String()
}

// chat plays a transcript's people on the platform's double. To the rehearsal
// it is a house whose bot answers nothing by itself: what is said there is shown
// as the adapter says it. The rehearsal's numbers of people and messages are its
// own; chat knows the platform's.
type chat struct {
	*stage
	transcript *rehearsal.Transcript
	way        away
	show       func(bot.Post) error
	core       discord.Bot
	steward    *discordtest.Role
	people     []*discordtest.User // by the rehearsal's number, less 1
	numbers    map[training.MessageID]training.MessageID
	theirs     map[training.MessageID]training.MessageID // the other way round
	said       map[training.MessageID]*discordtest.Message
	pressable  map[string]*discordtest.Message // by custom_id: the last message that had the button
}

func newChat(t *testing.T, transcript *rehearsal.Transcript, way away) *chat {
	now := &clock{now: transcript.Events[0].At.Add(-time.Hour)}
	c := &chat{
		stage: newStage(t, discordtest.Options{Clock: now.Now}), transcript: transcript, way: way,
		numbers: map[training.MessageID]training.MessageID{}, theirs: map[training.MessageID]training.MessageID{},
		said: map[training.MessageID]*discordtest.Message{}, pressable: map[string]*discordtest.Message{},
	}
	c.clock = now
	c.steward = c.fake.Role(c.tide, "steward", discordtest.ManageGuild)
	for _, person := range transcript.People {
		u := c.fake.Person(person.Name)
		c.people = append(c.people, u)
		c.fake.Join(c.tide, u)
	}
	c.options = func(o *discord.Options) {
		c.core = o.Bot
		through := func(sender outbox.Sender) outbox.Sender { return overheard{sender, c} }
		o.Outbox = via{outbox.New(c.db, outbox.WithClock(c.clock.Now), outbox.WithWait(shortly)), through}
	}
	return c
}

func (c *chat) play() string {
	lines := played(c.t.(*testing.T), c.transcript, c.open)
	if log := c.out.String(); strings.Contains(log, "level=ERROR") {
		c.t.Errorf("errors in the log:\n%s", log)
	}
	return lines
}

// open makes the house; the bot goes to work when it is told to come up.
func (c *chat) open(_ context.Context, path string, show func(bot.Post) error) (*rehearsal.House, error) {
	c.path, c.show = path, show
	c.stage.open()
	c.core = bot.New(bot.Options{Store: store.As[bot.Tx]{DB: c.db}, Programme: programme.Builtin(), Programmes: programme.Library{}})
	return &rehearsal.House{Bot: c, Store: troupe{c}, Outbox: c, Close: c.shut}, nil
}

func (c *chat) shut() error {
	if c.stop == nil {
		return c.db.Close()
	}
	c.end()
	return nil
}

// Deliver has nothing to do: the adapter delivers.
func (c *chat) Deliver(context.Context, []bot.Post, time.Time) error { return nil }

// Resume is what the rehearsal asks of a bot that comes up.
func (c *chat) Resume(_ context.Context, at time.Time) error {
	c.clock.set(at)
	c.up()
	return nil
}

// up has the bot connected and at rest.
func (c *chat) up() {
	if c.stop == nil {
		c.comesUp(c.run)
	}
}

// comesUp waits for the connection that do leads to.
func (c *chat) comesUp(do func()) {
	var before int
	c.fake.Look(func(v discordtest.View) { before = v.Identifies() })
	do()
	c.await("connection", func(v discordtest.View) bool { return v.Identifies() > before && v.Links() > 0 })
	c.rest()
}

// rest waits until the bot has met all that was done. A completion, of which
// the core knows nothing, is asked for last and so has everything before it
// queued.
func (c *chat) rest() {
	c.t.Helper()
	asked := c.fake.Complete(c.rings, c.cast["Rui"], "log", discordtest.Option{Name: "day", Value: "", Focused: true})
	c.await("completion", func(discordtest.View) bool { return asked.Callback != 0 })
	c.adapter.Rest()
	c.fake.Look(func(v discordtest.View) {
		for _, channel := range c.places(v) {
			for _, m := range v.Messages(channel) {
				for _, id := range customIDs(m) {
					c.pressable[channel.ID.String()+" "+id] = m
				}
			}
		}
	})
}

func (c *chat) places(v discordtest.View) []*discordtest.Channel {
	places := []*discordtest.Channel{c.rings}
	for _, u := range c.people {
		places = append(places, v.Direct(u))
	}
	return places
}

func (c *chat) team() training.TeamID { return training.TeamID(c.tide.ID) }

func (c *chat) user(id training.PersonID) *discordtest.User { return c.people[id-1] }

func (c *chat) person(id training.PersonID) training.PersonID {
	return training.PersonID(c.user(id).ID)
}

func (c *chat) back(id training.PersonID) training.PersonID {
	return training.PersonID(1 + slices.IndexFunc(c.people, func(u *discordtest.User) bool { return u.ID == discordtest.Snowflake(id) }))
}

// NextDue asks the core.
func (c *chat) NextDue(ctx context.Context, _ training.TeamID, after time.Time) (time.Time, bool, error) {
	return c.core.NextDue(ctx, c.team(), after)
}

// Step lets the event happen on the platform and waits until the bot is at
// rest.
func (c *chat) Step(ctx context.Context, event bot.Event) ([]bot.Post, error) {
	switch e := event.(type) {
	case bot.Beat:
		c.clock.set(e.At)
		c.adapter.Beat(ctx, e.At)
	case bot.CatchUp:
		return nil, c.missed(e)
	default:
		if err := c.happens(event); err != nil {
			return nil, err
		}
	}
	c.rest()
	return nil, nil
}

// missed lets events happen while the bot is away, and has it come back.
func (c *chat) missed(all bot.CatchUp) error {
	back := c.run
	switch {
	case c.stop == nil:
	case c.way == stopped:
		c.end()
		c.stage.open()
	default:
		c.fake.Drop(func(string) bool { return true })
		back = func() {
			c.fake.Drop(nil)
			c.fake.Cut(0)
		}
	}
	for _, event := range all.Events {
		if err := c.happens(event); err != nil {
			return err
		}
	}
	c.clock.set(all.At)
	c.comesUp(back)
	return nil
}

// happens lets somebody do something at its instant.
func (c *chat) happens(event bot.Event) error {
	switch e := event.(type) {
	case bot.Message:
		c.clock.set(e.At)
		c.says(e)
	case bot.Edit:
		c.clock.set(e.Edited)
		c.hold(e.Author)
		c.fake.Edit(c.said[e.ID], c.spoken(e.Message))
	case bot.Delete:
		c.clock.set(e.At)
		c.fake.Delete(c.said[e.ID])
	case bot.Tap:
		c.clock.set(e.At)
		return c.press(e)
	}
	return nil
}

// overheard shows the rehearsal what the adapter has said, once it stands on
// the platform as it was meant.
type overheard struct {
	outbox.Sender
	c *chat
}

func (o overheard) Send(ctx context.Context, post bot.Post, nonce string) (training.MessageID, error) {
	id, err := o.Sender.Send(ctx, post, nonce)
	if err != nil {
		return id, err
	}
	post.Event = 0 // of the events that the platform shows, which are fewer
	o.c.standing(post, discordtest.Snowflake(id))
	shown := post
	if shown.Answers != 0 {
		shown.Answers = o.c.numbers[post.Answers]
	}
	return id, o.c.show(shown)
}

// standing checks that a post is on the platform: its words where its audience
// reads them, and nobody else.
func (c *chat) standing(post bot.Post, id discordtest.Snowflake) {
	c.fake.Look(func(v discordtest.View) {
		var found *discordtest.Message
		for _, channel := range c.places(v) {
			for _, m := range v.Messages(channel) {
				if m.ID == id {
					found = m
				}
				if post.Kind == bot.Mark && m.ID == discordtest.Snowflake(post.Answers) && len(m.Marks) != 1 {
					c.t.Errorf("marks on the message: %q", m.Marks)
				}
				if post.Kind == bot.Withdraw && m.Author.ID == discordtest.ApplicationID && m.Answers == discordtest.Snowflake(post.Answers) && !m.Ephemeral {
					c.t.Errorf("still there after its withdrawal: %q", m.Text)
				}
			}
		}
		switch {
		case post.Kind == bot.Mark || post.Kind == bot.Withdraw:
		case found == nil:
			c.t.Errorf("nowhere: %s %q", post.Kind, post.Text)
		default:
			c.stands(post, found, v)
		}
	})
}

func (c *chat) stands(post bot.Post, m *discordtest.Message, v discordtest.View) {
	text := m.Text
	for _, u := range c.people {
		text = strings.ReplaceAll(text, "<@"+u.ID.String()+">", u.Name)
	}
	if !strings.HasPrefix(post.Text, text) || len(m.Files) != len(post.Files) && text == post.Text {
		c.t.Errorf("stands as %q with %d files, was %q with %d", text, len(m.Files), post.Text, len(post.Files))
	}
	public := m.Channel == c.rings && !m.Ephemeral
	if public != (post.To == bot.ToChannel) {
		c.t.Errorf("%s to %s stands in public: %t: %q", post.Kind, post.To, public, text)
	}
	if m.Channel != c.rings && m.Channel != v.Direct(c.user(c.back(post.Person))) {
		c.t.Errorf("%s to %s stands before somebody else: %q", post.Kind, post.Name, text)
	}
}
