package rehearsal_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"time"

	"rungbook/bot"
	"rungbook/bot/rehearsal"
	"rungbook/training"

	_ "time/tzdata"
)

// fakeDisk is what the fake house keeps over a restart, by path.
type fakeDisk map[string]*fakeStore

// fakeStore keeps a team and its people. It lacks all that a rehearsal does not
// ask for, and panics where that is asked.
type fakeStore struct {
	bot.Tx
	team    training.Team
	roster  []training.Member
	blocked map[training.PersonID]bool
	decided map[string]bool
	unsent  []bot.Post
}

func (s *fakeStore) Update(_ context.Context, do func(bot.Tx) error) error { return do(s) }
func (s *fakeStore) Scrub(context.Context) error                           { return nil }

func (s *fakeStore) View(_ context.Context, do func(bot.Tx) error) error { return do(s) }

func (s *fakeStore) Team(training.TeamID) (training.Team, bool, error) {
	return s.team, s.team.ID != 0, nil
}
func (s *fakeStore) PutTeam(team training.Team) error { s.team = team; return nil }
func (s *fakeStore) Roster(training.TeamID) ([]training.Member, error) {
	return slices.Clone(s.roster), nil
}
func (s *fakeStore) Member(_ training.TeamID, id training.PersonID) (training.Member, bool, error) {
	i := slices.IndexFunc(s.roster, func(m training.Member) bool { return m.ID == id })
	if i < 0 {
		return training.Member{}, false, nil
	}
	return s.roster[i], true, nil
}
func (s *fakeStore) Blocked(id training.PersonID) (bool, error) { return s.blocked[id], nil }
func (s *fakeStore) PutMember(_ training.TeamID, member training.Member) error {
	for i := range s.roster {
		if s.roster[i].ID == member.ID {
			s.roster[i] = member
			return nil
		}
	}
	s.roster = append(s.roster, member)
	return nil
}

// fakeBot answers by simple rules of its own, so that a test of the rehearsal
// tests no grammar: a text with a digit is answered, "lines" in two lines, a
// command privately, "first" with a welcome; everything else is met with silence. A nudge falls due at
// the team's nudge time of each day in its zone.
type fakeBot struct {
	store *fakeStore
	heard []string // every event that came in
	show  func(bot.Post) error
	open  bool
	stuck bool // NextDue makes no progress
	fails string
}

var errFake = errors.New("fake fault")

func (b *fakeBot) Step(ctx context.Context, event bot.Event) ([]bot.Post, error) {
	if !b.open {
		return nil, errors.New("the bot is closed")
	}
	switch e := event.(type) {
	case bot.Message:
		b.note("%s says %q in %s at %s%s", e.Author.Name, e.Text, e.Place, e.At.UTC().Format("15:04"),
			marks(map[string]bool{"to-bot": e.ToBot, "coach": e.Author.Coach, "manager": e.Author.Manager}))
		return b.message(e)
	case bot.Edit:
		b.note("%s edits %d to %q", e.Author.Name, e.ID%1_000_000, e.Text)
		return []bot.Post{b.post(bot.Revise, e.Place, e.Author, e.ID, "now "+e.Text)}, nil
	case bot.Delete:
		b.note("%s deletes %d", e.Author.Name, e.ID%1_000_000)
		return []bot.Post{b.post(bot.Withdraw, e.Place, e.Author, e.ID, "")}, nil
	case bot.Tap:
		b.note("%s taps %s on %d of %d", e.Author.Name, e.Button, e.On%1_000_000, e.About)
		return []bot.Post{b.post(bot.Reply, bot.Private, e.Author, e.On, "tapped "+string(e.Button))}, nil
	case bot.CatchUp:
		return b.catchUp(ctx, e)
	case bot.Beat:
		return b.beat(e)
	}
	return nil, fmt.Errorf("unknown event %T", event)
}

func (b *fakeBot) note(format string, values ...any) {
	b.heard = append(b.heard, fmt.Sprintf(format, values...))
}

// marks lists what is true, each after a blank.
func marks(of map[string]bool) string {
	out := ""
	for _, name := range []string{"to-bot", "coach", "manager"} {
		if of[name] {
			out += " " + name
		}
	}
	return out
}

func (b *fakeBot) message(e bot.Message) ([]bot.Post, error) {
	switch {
	case b.fails != "" && strings.Contains(e.Text, b.fails):
		return []bot.Post{{Kind: bot.Fault, To: bot.ToPrivate, Name: e.Author.Name, Answers: e.ID, Text: "my fault"}}, errFake
	case strings.HasPrefix(e.Text, "/"):
		return []bot.Post{b.post(bot.Reply, bot.Private, e.Author, e.ID, "done <"+e.Text+">")}, nil
	case strings.Contains(e.Text, "ow"):
		return []bot.Post{
			b.post(bot.Reply, bot.Private, e.Author, e.ID, "stop now"),
			{Kind: bot.Notice, To: bot.ToCoach, Person: 1, Name: "Ilda", Cause: e.ID, Text: "a word please", Buttons: []bot.Button{bot.TapResume}},
		}, nil
	case strings.Contains(e.Text, "first"):
		welcome := bot.Post{Kind: bot.Notice, To: bot.ToPrivate, Person: e.Author.ID, Name: e.Author.Name, Text: "Welcome. One\ntwo"}
		back := welcome
		back.Text = "Welcome back."
		return []bot.Post{welcome, back}, nil
	case strings.Contains(e.Text, "lines"):
		post := b.post(bot.Reply, e.Place, e.Author, e.ID, "one\r\n\ntwo & three")
		post.Buttons = []bot.Button{bot.TapWithdraw, bot.TapGates}
		post.Files = []bot.File{{Name: "gates.png"}, {Name: "data.csv"}}
		return []bot.Post{post}, nil
	case strings.ContainsAny(e.Text, "0123456789"):
		return []bot.Post{b.post(bot.Reply, e.Place, e.Author, e.ID, "read "+strings.ReplaceAll(e.Text, "\n", " / "))}, nil
	}
	return nil, nil
}

func (b *fakeBot) post(kind bot.Kind, place bot.Place, to bot.Author, answers training.MessageID, text string) bot.Post {
	audience := bot.ToChannel
	if place == bot.Private {
		audience = bot.ToPrivate
	}
	return bot.Post{Kind: kind, To: audience, Person: to.ID, Name: to.Name, Answers: answers, Text: text}
}

// catchUp marks what would have been answered, and revises what was edited.
func (b *fakeBot) catchUp(ctx context.Context, e bot.CatchUp) ([]bot.Post, error) {
	b.note("catches up on %d", len(e.Events))
	var posts []bot.Post
	for _, event := range e.Events {
		said, err := b.Step(ctx, event)
		if err != nil {
			return nil, err
		}
		for _, post := range said {
			if post.Kind == bot.Reply {
				post.Kind, post.Text, post.Buttons = bot.Mark, "", nil
			}
			posts = append(posts, post)
		}
	}
	return posts, nil
}

func (b *fakeBot) beat(e bot.Beat) ([]bot.Post, error) {
	day := e.At.In(b.store.team.Zone).Format(time.DateOnly)
	at, ok, _ := b.NextDue(context.Background(), 1, e.At.Add(-1))
	if !ok || !at.Equal(e.At) || b.store.decided[day] {
		return nil, nil
	}
	b.store.decided[day] = true
	b.note("nudges at %s", e.At.UTC().Format(time.DateTime))
	return []bot.Post{{Kind: bot.Nudge, To: bot.ToChannel, Text: "a session today?"}}, nil
}

func (b *fakeBot) NextDue(_ context.Context, _ training.TeamID, after time.Time) (time.Time, bool, error) {
	if b.stuck {
		return after.Add(1), true, nil
	}
	local := after.In(b.store.team.Zone)
	for day := 0; ; day++ {
		at := time.Date(local.Year(), local.Month(), local.Day()+day, 0, int(b.store.team.Nudge), 0, 0, local.Location())
		if at.After(after) && b.store.team.Days.Has(at.Weekday()) {
			return at, true, nil
		}
		if day > 7 {
			return time.Time{}, false, nil
		}
	}
}

// Deliver shows the posts; Resume shows those left over by the last run.
func (b *fakeBot) Deliver(_ context.Context, posts []bot.Post, _ time.Time) error {
	for _, post := range posts {
		if err := b.show(post); err != nil {
			return err
		}
	}
	return nil
}

func (b *fakeBot) Resume(ctx context.Context, at time.Time) error {
	b.note("resumes")
	unsent := b.store.unsent
	b.store.unsent = nil
	return b.Deliver(ctx, unsent, at)
}

// fakeHouse opens fake bots on a fake disk. The last of them is now.
type fakeHouse struct {
	disk  fakeDisk
	now   *fakeBot
	heard []string // of bots that were closed
	paths []string
	set   func(*fakeBot)
}

func (h *fakeHouse) open(_ context.Context, path string, show func(bot.Post) error) (*rehearsal.House, error) {
	if h.disk == nil {
		h.disk = fakeDisk{}
	}
	if h.disk[path] == nil {
		h.disk[path] = &fakeStore{blocked: map[training.PersonID]bool{}, decided: map[string]bool{}}
	}
	if err := os.WriteFile(path, nil, 0o600); err != nil { // the folder must be there
		return nil, err
	}
	h.paths = append(h.paths, path)
	h.now = &fakeBot{store: h.disk[path], show: show, open: true}
	if h.set != nil {
		h.set(h.now)
	}
	mine := h.now
	return &rehearsal.House{Bot: mine, Store: mine.store, Outbox: mine, Close: func() error {
		if !mine.open {
			return errors.New("closed twice")
		}
		mine.open = false
		h.heard = append(h.heard, mine.heard...)
		return nil
	}}, nil
}

// render plays a transcript on a fake house and returns the text.
func render(h *fakeHouse, input string) (string, error) {
	return playAs(h, input, "", rehearsal.NewText)
}

func playAs(h *fakeHouse, input, db string, scribe func(io.Writer, *rehearsal.Transcript) rehearsal.Scribe) (string, error) {
	transcript, err := rehearsal.Parse("test.chat", []byte(input))
	if err != nil {
		return "", err
	}
	var out bytes.Buffer
	err = rehearsal.Play(context.Background(), rehearsal.Options{
		Transcript: transcript, Open: h.open, DB: db, Scribe: scribe(&out, transcript),
	})
	return out.String(), err
}

func authorOf(name string) bot.Author { return bot.Author{ID: 4, Name: name} }

// dueOnce is a house in which one beat is due, and the time of each is kept as
// Lisbon's summer clock shows it.
type dueOnce struct {
	at    time.Time
	beats []string
}

func (d *dueOnce) play(input string) error {
	transcript, err := rehearsal.Parse("test.chat", []byte(input))
	if err != nil {
		return err
	}
	house := &fakeHouse{}
	return rehearsal.Play(context.Background(), rehearsal.Options{
		Transcript: transcript, Scribe: rehearsal.NewText(io.Discard, transcript),
		Open: func(ctx context.Context, path string, show func(bot.Post) error) (*rehearsal.House, error) {
			opened, err := house.open(ctx, path, show)
			if err == nil {
				opened.Bot = d
			}
			return opened, err
		},
	})
}

func (d *dueOnce) Step(_ context.Context, event bot.Event) ([]bot.Post, error) {
	if beat, ok := event.(bot.Beat); ok {
		d.beats = append(d.beats, beat.At.UTC().Add(time.Hour).Format("15:04"))
	}
	return nil, nil
}

func (d *dueOnce) NextDue(_ context.Context, _ training.TeamID, after time.Time) (time.Time, bool, error) {
	return d.at, d.at.After(after), nil
}
