package room_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"
	"testing/iotest"
	"testing/synctest"
	"time"

	"rungbook/bot"
	"rungbook/bot/room"
)

// fake is a bot with simple rules of its own, its outbox and its people: a text
// with a digit is answered, "ow" tells the coach, a command is answered alone.
type fake struct {
	heard  []string
	show   func(bot.Post) error
	people []bot.Author
	unsent []bot.Post
	err    error
	lost   error // looking people up fails with it
}

func (f *fake) note(format string, values ...any) {
	f.heard = append(f.heard, fmt.Sprintf(format, values...))
}

func (f *fake) Step(_ context.Context, event bot.Event) ([]bot.Post, error) {
	switch e := event.(type) {
	case bot.Message:
		f.note("%s says %q in %s as %s", e.Author.Name, e.Text, e.Place, role(e.Author))
		return f.message(e), f.err
	case bot.Edit:
		f.note("%s edits to %q in %s, %v later", e.Author.Name, e.Text, e.Place, e.Edited.Sub(e.At))
		return []bot.Post{{Kind: bot.Revise, To: bot.ToChannel, Name: e.Author.Name, Answers: e.ID, Text: "now " + e.Text}}, f.err
	case bot.Delete:
		f.note("%s deletes in %s", e.Author.Name, e.Place)
		return []bot.Post{{Kind: bot.Withdraw, To: bot.ToChannel, Name: e.Author.Name, Answers: e.ID}}, f.err
	case bot.Tap:
		f.note("%s taps %s on a message of %d in %s", e.Author.Name, e.Button, e.About, e.Place)
		return nil, f.err
	case bot.Beat:
		f.note("beat at %s", e.At.UTC().Format("15:04"))
		return []bot.Post{{Kind: bot.Nudge, To: bot.ToChannel, Text: "today?"}}, f.err
	}
	return nil, fmt.Errorf("unexpected %T", event)
}

func (f *fake) message(e bot.Message) []bot.Post {
	post := bot.Post{Kind: bot.Reply, To: bot.ToChannel, Person: e.Author.ID, Name: e.Author.Name, Answers: e.ID, Text: "read " + e.Text}
	switch {
	case strings.HasPrefix(e.Text, "/"):
		post.To, post.Files = bot.ToPrivate, []bot.File{{Name: "all.csv", Data: []byte("12345")}}
	case strings.Contains(e.Text, "ow"):
		return []bot.Post{{Kind: bot.Notice, To: bot.ToCoach, Person: 9, Name: "Ilda", Cause: e.ID, Text: "a word", Buttons: []bot.Button{bot.TapResume}}}
	case strings.ContainsAny(e.Text, "0123456789"):
		post.Text, post.Buttons = "read\n"+e.Text, []bot.Button{bot.TapWithdraw, bot.TapGates}
	default:
		return nil
	}
	if e.Place == bot.Private {
		post.To = bot.ToPrivate
	}
	return []bot.Post{post}
}

func role(a bot.Author) string {
	return map[bool]string{true: "coach", false: "member"}[a.Coach]
}

func (f *fake) Deliver(_ context.Context, posts []bot.Post, _ time.Time) error {
	for _, post := range posts {
		if err := f.show(post); err != nil {
			return err
		}
	}
	return nil
}

func (f *fake) Resume(ctx context.Context, at time.Time) error {
	return f.Deliver(ctx, f.unsent, at)
}

func (f *fake) house(ctx context.Context) room.House {
	lisbon, err := time.LoadLocation("Europe/Lisbon")
	if err != nil {
		panic(err)
	}
	return room.House{
		Bot: f, Outbox: f, Team: 1, Zone: lisbon,
		People: func(context.Context) ([]bot.Author, error) { return f.people, f.lost },
	}
}

func newFake() *fake {
	return &fake{people: []bot.Author{{ID: 1, Name: "Priya"}, {ID: 2, Name: "Ana Rita"}, {ID: 9, Name: "Ilda", Coach: true, Manager: true}}}
}

// minutes is a clock that goes a minute at each look, from 19:00 in Lisbon.
func minutes() func() time.Time {
	at := time.Date(2026, 10, 5, 18, 0, 0, 0, time.UTC)
	return func() time.Time {
		at = at.Add(time.Second)
		return at
	}
}

// sit types lines into a room and returns what is on the screen below the
// greeting.
func sit(t *testing.T, f *fake, lines ...string) string {
	t.Helper()
	var screen bytes.Buffer
	r := room.New(room.Options{In: strings.NewReader(strings.Join(lines, "\n")), Out: &screen, Now: minutes()})
	f.show = r.Show
	if err := r.Run(context.Background(), f.house(t.Context())); err != nil {
		t.Fatal(err)
	}
	_, below, ok := strings.Cut(screen.String(), "leave\n")
	if !ok {
		t.Fatalf("no greeting on the screen:\n%s", screen.String())
	}
	return below
}

func check(t *testing.T, got, want string) {
	t.Helper()
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestConversation(t *testing.T) {
	f := newFake()
	check(t, sit(t, f,
		"morning all", "", "3x18s high hold", "> 12", "/gates", "/as ilda", "hello ow", "/who", "/as", "  /quit  ", "never said",
	), `19:00 Priya: morning all
19:00 Priya: 3x18s high hold
19:00 rungbook: read
      3x18s high hold
      [withdraw] [gates]
19:00 Priya: > 12
19:00 rungbook to Priya alone: read
      12
      [withdraw] [gates]
19:00 Priya: /gates
19:00 rungbook to Priya alone: read /gates
      (file all.csv, 5 bytes)
19:00 Priya: /as ilda
19:00 Ilda: hello ow
19:00 rungbook, notice to coach Ilda alone: a word
      [resume]
19:00 Ilda: /who
Here: Priya, Ana Rita, Ilda (coach). /as NAME speaks as one of them.
19:00 Ilda: /as
Here: Priya, Ana Rita, Ilda (coach). /as NAME speaks as one of them.
19:00 Ilda: /quit
`)
	check(t, strings.Join(f.heard, "\n"), `Priya says "morning all" in channel as member
Priya says "3x18s high hold" in channel as member
Priya says "12" in private as member
Priya says "/gates" in channel as member
Ilda says "hello ow" in channel as coach`)
}

func TestChanges(t *testing.T) {
	f := newFake()
	check(t, sit(t, f,
		"/edit 3", "/delete", "3x18s", "/edit 3x20s", "/edit", "/delete", "/delete", "/gates", "/edit 4",
	), `19:00 Priya: /edit 3
Priya has said nothing yet.
19:00 Priya: /delete
Priya has said nothing yet.
19:00 Priya: 3x18s
19:00 rungbook: read
      3x18s
      [withdraw] [gates]
19:00 Priya: /edit 3x20s
19:00 rungbook, instead of the answer to Priya's 19:00: now 3x20s
19:00 Priya: /edit
Write the new text behind it: /edit 3x20s high hold
19:00 Priya: /delete
      (the answer to Priya's 19:00 is taken down)
19:00 Priya: /delete
Priya has said nothing yet.
19:00 Priya: /gates
19:00 rungbook to Priya alone: read /gates
      (file all.csv, 5 bytes)
19:00 Priya: /edit 4
A command can't be changed. Say it again as you mean it; /undo takes your last log back.
`)
}

// A button is pressed under the latest answer that has it, if its presser can
// see that; what was said privately stays with whom it was said to.
func TestTaps(t *testing.T) {
	f := newFake()
	got := sit(t, f, "3x18s", "> 4", "/tap gates", "/as Ana Rita", "/tap gates", "ow", "/tap resume", "/as Ilda", "/tap resume", "/tap green", "/as Priya", "5", "/as Ana Rita", "6", "/as Priya", "/tap withdraw", "/as Ilda", "/tap withdraw")
	check(t, strings.Join(f.heard[2:], "\n"), `Priya taps gates on a message of 1 in private
Ana Rita taps gates on a message of 1 in channel
Ana Rita says "ow" in channel as member
Ilda taps resume on a message of 2 in channel
Priya says "5" in channel as member
Ana Rita says "6" in channel as member
Priya taps withdraw on a message of 1 in channel
Ilda taps withdraw on a message of 2 in channel`)
	for _, want := range []string{
		`No answer here has a button "resume" that Ana Rita can press.`, `No answer here has a button "green" that Ilda can press.`,
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not on the screen:\n%s", want, got)
		}
	}
}

// A name nobody has is a stranger. Who leaves the team stays in the room, but
// without a role.
func TestStrangersAndLeavers(t *testing.T) {
	f := newFake()
	var heard []string
	leaving := func(lines ...string) {
		got := sit(t, f, lines...)
		heard = append(heard, got)
	}
	leaving("/as Bako", "3", "/as Priya", "/as bako", "4")
	if !strings.Contains(heard[0], "Bako is new here.") || strings.Count(heard[0], "is new here") != 1 {
		t.Errorf("screen:\n%s", heard[0])
	}
	check(t, strings.Join(f.heard, "\n"), "Bako says \"3\" in channel as member\nBako says \"4\" in channel as member")

	f = newFake()
	f.heard = nil
	r := room.New(room.Options{In: io.MultiReader(strings.NewReader("/as Ilda\n1\n"), f.then(func() { f.people = f.people[:2] }), strings.NewReader("2\n")), Out: io.Discard, Now: minutes()})
	f.show = r.Show
	if err := r.Run(context.Background(), f.house(t.Context())); err != nil {
		t.Fatal(err)
	}
	check(t, strings.Join(f.heard, "\n"), "Ilda says \"1\" in channel as coach\nIlda says \"2\" in channel as member")
}

// then is a reader that has nothing to read, and does something when it is
// come to.
func (f *fake) then(do func()) io.Reader {
	return readerFunc(func([]byte) (int, error) { do(); return 0, io.EOF })
}

type readerFunc func([]byte) (int, error)

func (r readerFunc) Read(data []byte) (int, error) { return r(data) }

// What was left unsent is shown when the room opens; an earlier sitting's
// message is named by its author.
func TestLeftUnsent(t *testing.T) {
	f := newFake()
	f.unsent = []bot.Post{{Kind: bot.Mark, Name: "Priya", Answers: 7}, {Kind: bot.Digest, To: bot.ToCoach, Name: "Ilda", Text: "the week"}}
	check(t, sit(t, f), `      (✓ on an earlier message of Priya)
19:00 rungbook, digest to coach Ilda alone: the week
`)
}

// The bot's own fault is shown and ends nothing.
func TestFaults(t *testing.T) {
	f := newFake()
	f.err = errors.New("disk full\nreally")
	got := sit(t, f, "3", "4")
	if strings.Count(got, "(the bot's own fault: disk full; really)") != 2 || len(f.heard) != 2 {
		t.Errorf("screen:\n%s", got)
	}
}

func TestRoomThatCannotOpen(t *testing.T) {
	for name, f := range map[string]*fake{"nobody is in the team": {}, "gone": {lost: errors.New("gone")}} {
		r := room.New(room.Options{In: strings.NewReader(""), Out: io.Discard, Now: minutes()})
		if err := r.Run(context.Background(), f.house(t.Context())); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: got %v", name, err)
		}
	}
}

func TestKeyboardThatFails(t *testing.T) {
	f := newFake()
	r := room.New(room.Options{In: iotest.ErrReader(io.ErrNoProgress), Out: io.Discard, Now: minutes()})
	f.show = r.Show
	if err := r.Run(context.Background(), f.house(t.Context())); !errors.Is(err, io.ErrNoProgress) {
		t.Errorf("got %v", err)
	}
}

// Beats reach the bot while nobody types, and the room closes when its context
// ends though the keyboard is silent.
func TestBeatsAndClosing(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		ctx, cancel := context.WithCancel(t.Context())
		silent, keyboard := io.Pipe()
		var screen bytes.Buffer
		f := newFake()
		r := room.New(room.Options{In: silent, Out: &screen, Now: time.Now})
		f.show = r.Show
		beats := make(chan time.Time)
		house := f.house(ctx)
		house.Beats = beats
		done := make(chan error)
		go func() { done <- r.Run(ctx, house) }()
		time.Sleep(30 * time.Second) // in the bubble: no time goes by
		beats <- time.Now()
		synctest.Wait()
		if got := screen.String(); !strings.HasSuffix(got, "00:00 rungbook, nudge: today?\n") {
			t.Errorf("screen:\n%s", got)
		}
		cancel()
		if err := <-done; err != nil {
			t.Error(err)
		}
		keyboard.Close()
	})
}
