package rehearsal

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"time"

	"rungbook/bot"
	"rungbook/training"
)

// Options says what is played, on which house, and who writes it down. All but
// DB must be set.
type Options struct {
	Transcript *Transcript
	Open       Open
	DB         string // the database file to keep, which is continued if it is there; "" for one that is thrown away
	Scribe     Scribe
}

// Scribe writes a rehearsal down as it goes. An error of it ends the rehearsal.
type Scribe interface {
	// Begin: the event comes in. What fell due up to it has been said.
	Begin(event *Event) error
	// Say: the bot says or does something.
	Say(said Said) error
	// Rest: all that the event caused has been said.
	Rest(event *Event) error
	// Close: the conversation is over.
	Close() error
}

// Said is one thing the bot said or did.
type Said struct {
	bot.Post
	At    time.Time
	Event *Event // what it came of; nil for what fell due
	Line  int    // of the event of the transcript that caused it; 0 where nothing is answered
}

// team is the number of the only team of a rehearsal.
const team training.TeamID = 1

// Play plays the transcript from its first event to its last. What is due
// happens at exactly its instant, and all is at rest before the clock moves. A
// database that is not kept is removed also when ctx ends the rehearsal.
func Play(ctx context.Context, o Options) (err error) {
	if len(o.Transcript.Events) == 0 {
		return o.Scribe.Close()
	}
	p := &player{Options: o, stage: &stage{scribe: o.Scribe}, path: o.DB, cast: map[*Person]training.PersonID{}}
	if p.path == "" {
		dir, err := os.MkdirTemp("", "rungbook-rehearsal-")
		if err != nil {
			return fmt.Errorf("play: make room for a database: %w", err)
		}
		defer os.RemoveAll(dir)
		p.path = filepath.Join(dir, "rehearsal.db")
	}
	defer func() { err = errors.Join(err, p.shut()) }()
	for _, event := range o.Transcript.Events {
		if err := p.play(ctx, event); err != nil {
			return fmt.Errorf("play %s:%d: %w", o.Transcript.Name, event.Line, err)
		}
	}
	return o.Scribe.Close()
}

// player is a rehearsal under way.
type player struct {
	Options
	path   string
	house  *House
	stage  *stage
	cast   map[*Person]training.PersonID
	beaten time.Time // the last beat: all that was due by then has been asked for

	unasked bool // events have happened since, and no beat after them
	offline bool
	missed  []*Event // what the bot has to catch up on
}

// play brings the clock to the event and lets it happen.
func (p *player) play(ctx context.Context, event *Event) error {
	if p.house == nil {
		if err := p.openHouse(ctx, event.At); err != nil {
			return err
		}
	}
	if err := p.due(ctx, event); err != nil {
		return err
	}
	if err := p.Scribe.Begin(event); err != nil {
		return err
	}
	p.stage.event = event
	p.beaten = event.At
	if err := p.happen(ctx, event); err != nil {
		return err
	}
	p.stage.event = nil
	p.unasked = !p.offline
	return p.Scribe.Rest(event)
}

// openHouse opens the house for the first time and puts the team into it. A kept
// database is continued as if the bot had been away until now.
func (p *player) openHouse(ctx context.Context, at time.Time) (err error) {
	if p.house, err = p.Open(ctx, p.path, p.stage.show); err != nil {
		return err
	}
	if err := p.settle(ctx, at); err != nil {
		return err
	}
	return p.comeUp(ctx, at)
}

// comeUp is what the bot does at each start: it sends what was left unsent, and
// asks what is due.
func (p *player) comeUp(ctx context.Context, at time.Time) error {
	p.stage.at = at
	if err := p.house.Outbox.Resume(ctx, at); err != nil {
		return err
	}
	return p.beat(ctx, at)
}

func (p *player) beat(ctx context.Context, at time.Time) error {
	p.beaten, p.unasked = at, false
	return p.step(ctx, bot.Beat{Team: team, At: at}, at)
}

// due plays everything that falls due up to the event. It first asks for what the
// events before have made overdue, such as a nudge set to a time just past, as a
// bot at work does every half minute.
func (p *player) due(ctx context.Context, event *Event) error {
	until := event.At
	if event.Kind == End {
		until = until.Add(time.Minute - time.Millisecond)
	}
	if p.unasked && until.After(p.beaten) {
		if err := p.beat(ctx, p.beaten); err != nil {
			return err
		}
	}
	const mostADay = 1000 // far more than a team has: a bot that always has more due is an error
	left := mostADay * (1 + int(until.Sub(p.beaten)/(24*time.Hour)))
	for !p.offline {
		if err := ctx.Err(); err != nil {
			return err
		}
		at, ok, err := p.house.Bot.NextDue(ctx, team, p.beaten)
		if err != nil || !ok || at.After(until) {
			return err
		}
		if left--; left < 0 || !at.After(p.beaten) {
			return fmt.Errorf("the bot finds no rest: after %s something is due at %s",
				p.beaten.Format(time.RFC3339Nano), at.Format(time.RFC3339Nano))
		}
		if err := p.beat(ctx, at); err != nil {
			return err
		}
	}
	return nil
}

// happen gives the event to the bot, unless the bot is offline.
func (p *player) happen(ctx context.Context, event *Event) error {
	switch event.Kind {
	case Restart:
		return p.restart(ctx, event.At)
	case Offline:
		p.offline = true
		return nil
	case Online:
		return p.online(ctx, event.At)
	case End:
		return nil
	}
	if about := event.On; about != nil && event.Kind != Taps && about.Command() {
		return nil // a command is no message on a platform: nobody edits or deletes it
	}
	if p.offline {
		if event.Kind != Taps && !event.Command() {
			p.missed = append(p.missed, event)
		}
		return nil
	}
	p.stage.causes(event)
	heard, err := p.heard(ctx, event)
	if err != nil {
		return err
	}
	return p.step(ctx, heard, event.At)
}

func (p *player) restart(ctx context.Context, at time.Time) error {
	err := p.shut()
	if err != nil {
		return err
	}
	if p.house, err = p.Open(ctx, p.path, p.stage.show); err != nil || p.offline {
		return err
	}
	return p.comeUp(ctx, at)
}

// online has the bot take in what it missed, in order, and then asks what is due.
func (p *player) online(ctx context.Context, at time.Time) error {
	p.offline = false
	if len(p.missed) > 0 {
		missed := bot.CatchUp{Team: team, At: at}
		for _, event := range p.missed {
			p.stage.causes(event)
			heard, err := p.heard(ctx, event)
			if err != nil {
				return err
			}
			missed.Events = append(missed.Events, heard)
		}
		p.stage.missed, p.missed = p.missed, nil
		if err := p.step(ctx, missed, at); err != nil {
			return err
		}
		p.stage.missed = nil
	}
	return p.comeUp(ctx, at)
}

// shut closes the house if it is open.
func (p *player) shut() error {
	if p.house == nil {
		return nil
	}
	house := p.house
	p.house = nil
	return house.Close()
}

// step gives the bot one event and sends its posts. After a fault of the bot the
// posts that tell of it are sent too, and the rehearsal ends.
func (p *player) step(ctx context.Context, event bot.Event, at time.Time) error {
	p.stage.at = at
	posts, err := p.house.Bot.Step(ctx, event)
	return errors.Join(err, p.house.Outbox.Deliver(ctx, posts, at), p.stage.err)
}

// heard is the bot's event for an event of the transcript, as a platform would
// make it.
func (p *player) heard(ctx context.Context, event *Event) (bot.Event, error) {
	author, err := p.author(ctx, event.Who)
	if err != nil {
		return nil, err
	}
	switch event.Kind {
	case Edits:
		m := p.message(event.On, author, event.Text)
		m.Edited = event.At
		return bot.Edit{Message: m}, nil
	case Deletes:
		return bot.Delete{ID: event.On.ID(), Team: team, Author: author, Place: event.Place, At: event.At}, nil
	case Taps:
		return bot.Tap{
			ID: event.ID(), Team: team, Author: author, Place: event.Place,
			Button: event.Button, On: event.On.ID(), About: p.cast[event.On.Who], At: event.At,
		}, nil
	}
	return p.message(event, author, event.Text), nil
}

// author is somebody with the roles held now. A coach may have been appointed
// since the header was read.
func (p *player) author(ctx context.Context, who *Person) (bot.Author, error) {
	author := bot.Author{ID: p.cast[who], Name: who.Name, Coach: who.Coach, Manager: who.Manager}
	err := p.house.Store.View(ctx, func(tx bot.Tx) error {
		member, ok, err := tx.Member(team, author.ID)
		if ok {
			author.Coach = member.Coach
		}
		return err
	})
	return author, err
}

// mention speaks to the bot in the channel, as an at sign and a name do on a
// platform. The bot is told so, and gets the text without it.
var mention = regexp.MustCompile(`(?i)@rungbook\b[ ,:]*`)

// message is what somebody says. As on a platform everybody in the place can be
// named in it, strangers too.
func (p *player) message(event *Event, author bot.Author, text string) bot.Message {
	spoken := mention.ReplaceAllString(text, "")
	var everybody []bot.Author
	for _, person := range p.Transcript.People {
		everybody = append(everybody, bot.Author{ID: p.cast[person], Name: person.Name})
	}
	return bot.Message{
		ID: event.ID(), Team: team, Author: author, Place: event.Place, Text: strings.TrimSpace(spoken), At: event.At,
		ToBot: spoken != text, Mentioned: everybody,
	}
}
