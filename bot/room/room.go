// Package room lets people at one keyboard take part in a team's channel: as a
// member, as the coach, by turns. It is an adapter like that of a chat
// platform, with a live clock and no account anywhere.
//
// It must not know what a message means or what an answer says: it carries
// lines to the bot and posts to the screen. It reads no clock but the one it is
// given.
package room

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"sync/atomic"
	"time"

	"rungbook/bot"
	"rungbook/bot/words"
	"rungbook/training"
)

// Options is what a Room is made of. All must be set.
type Options struct {
	In  io.Reader // a terminal gets line editing and completion; anything else is read line by line
	Out io.Writer
	Now func() time.Time // the live clock
}

// Stepper is the part of the bot that a room needs; *bot.Bot is one.
type Stepper interface {
	Step(ctx context.Context, event bot.Event) ([]bot.Post, error)
}

// Outbox sends posts, which are to be shown by Show, and what was left unsent
// when the bot last stopped.
type Outbox interface {
	Deliver(ctx context.Context, posts []bot.Post, at time.Time) error
	Resume(ctx context.Context, at time.Time) error
}

// House is the bot at work for one team.
type House struct {
	Bot    Stepper
	Outbox Outbox
	Team   training.TeamID
	Zone   *time.Location
	Beats  <-chan time.Time // when to ask what is due; nil for never
	// People lists who may speak, with the roles they hold now. The first one
	// is whoever speaks when the room opens. It may grow and shrink.
	People func(ctx context.Context) ([]bot.Author, error)
}

// Room is one sitting at the keyboard. Its methods are for one goroutine.
type Room struct {
	console console
	now     func() time.Time
	house   House

	people  []bot.Author
	names   atomic.Pointer[[]string] // of people, for the keyboard's own goroutine
	speaker bot.Author
	lastID  training.MessageID
	said    map[training.MessageID]message
	latest  map[training.PersonID]training.MessageID // each one's last message
	taps    []bot.Post                               // answers with buttons, oldest first
}

// message is what the room remembers of something said.
type message struct {
	author  bot.Author
	place   bot.Place
	at      time.Time
	command bool
}

// New returns a room that nobody has entered.
func New(o Options) *Room {
	return &Room{
		console: newConsole(o.In, o.Out), now: o.Now,
		said: map[training.MessageID]message{}, latest: map[training.PersonID]training.MessageID{},
	}
}

// Run opens the room until the input ends, somebody types /quit or ctx ends.
// A reader of input that can't be interrupted is left behind when ctx ends.
func (r *Room) Run(ctx context.Context, house House) error {
	r.house = house
	if err := r.look(ctx); err != nil {
		return fmt.Errorf("open the room: %w", err)
	}
	if len(r.people) == 0 {
		return errors.New("open the room: nobody is in the team, so nobody can speak: " +
			"start with a database that has a team, or without one")
	}
	r.speaker = r.people[0]
	leave, err := r.console.open(r.complete)
	if err != nil {
		return fmt.Errorf("open the room: %w", err)
	}
	defer leave()
	r.say(words.RoomWelcome(r.speaker.Name))
	r.check(r.house.Outbox.Resume(ctx, r.now()))
	r.console.prompt(r.speaker.Name)
	return r.listen(ctx)
}

// listen takes lines and beats one after the other. It reads a line only when the
// one before is done, so that the prompt names who speaks next.
func (r *Room) listen(ctx context.Context) error {
	next, lines, ended := make(chan struct{}, 1), make(chan string, 1), make(chan error, 1)
	defer close(next)
	go func() {
		for range next {
			line, err := r.console.line()
			if err != nil {
				ended <- err
				return
			}
			lines <- line
		}
	}()
	next <- struct{}{}
	for {
		select {
		case <-ctx.Done():
			return nil
		case err := <-ended:
			if errors.Is(err, io.EOF) {
				return nil
			}
			return fmt.Errorf("read the keyboard: %w", err)
		case at := <-r.house.Beats:
			r.step(ctx, bot.Beat{Team: r.house.Team, At: at}, at)
		case line := <-lines:
			if r.meet(ctx, strings.TrimSpace(line)) {
				return nil
			}
			r.console.prompt(r.speaker.Name)
			next <- struct{}{}
		}
	}
}

// look asks who is in the team now. Whoever has left the team stays in the room as
// a stranger.
func (r *Room) look(ctx context.Context) error {
	people, err := r.house.People(ctx)
	if err != nil {
		return err
	}
	before := r.people
	r.people = people
	for _, person := range before {
		if !slices.ContainsFunc(people, func(p bot.Author) bool { return p.ID == person.ID }) {
			r.people = append(r.people, bot.Author{ID: person.ID, Name: person.Name})
		}
	}
	for _, person := range r.people {
		if person.ID == r.speaker.ID {
			r.speaker = person
		}
	}
	r.callNames()
	return nil
}

// callNames tells the keyboard the names it may complete.
func (r *Room) callNames() {
	var names []string
	for _, person := range r.people {
		names = append(names, person.Name)
	}
	r.names.Store(&names)
}

func (r *Room) find(name string) (bot.Author, bool) {
	for _, person := range r.people {
		if strings.EqualFold(person.Name, name) {
			return person, true
		}
	}
	return bot.Author{}, false
}

// step gives the bot an event and sends its posts. A fault is shown, and the room
// goes on.
func (r *Room) step(ctx context.Context, event bot.Event, at time.Time) {
	posts, err := r.house.Bot.Step(ctx, event)
	r.check(errors.Join(err, r.house.Outbox.Deliver(ctx, posts, at)))
}

func (r *Room) check(err error) {
	if err != nil {
		r.say(words.RoomFault(err))
	}
}

func (r *Room) say(text string) { fmt.Fprintln(r.console, text) }
