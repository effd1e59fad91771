package bot

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"time"

	"rungbook/training"
)

// Options is what a Bot is made of. All but Log must be set.
type Options struct {
	Store      Store
	Programme  *training.Programme // of a team whose coach has taken none
	Programmes Programmes
	Log        *slog.Logger // the bot's own faults; nil for none
}

// Bot answers events. It keeps nothing of its own between steps, so any number
// may stand on one store one after the other; Step itself is to be called by
// one goroutine at a time for a team.
type Bot struct {
	store Store
	shelf shelf
	log   *slog.Logger
}

// New returns a bot. It touches nothing.
func New(o Options) *Bot {
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	return &Bot{store: o.Store, shelf: shelf{programmes: o.Programmes, usual: newInForce(o.Programme)}, log: o.Log}
}

// Step takes one event and returns what is to be sent, in order. What it
// stores, it stores in one transaction. The posts are safe to send even when
// err is not nil: then they say that something went wrong, and nothing of the
// event was stored.
func (b *Bot) Step(ctx context.Context, event Event) ([]Post, error) {
	posts, err := b.step(ctx, event)
	if err == nil {
		return posts, nil
	}
	b.log.Error("step", "event", fmt.Sprintf("%T", event), "cause", err)
	return fault(event, b.faultText(event)), err
}

func (b *Bot) step(ctx context.Context, event Event) ([]Post, error) {
	switch e := event.(type) {
	case Message:
		return b.message(ctx, e)
	case Edit:
		return b.change(ctx, e, nil)
	case Delete:
		return b.remove(ctx, e, nil)
	case Tap:
		return b.tap(ctx, e)
	case CatchUp:
		return b.catchUp(ctx, e)
	case Beat:
		return b.beat(ctx, e)
	case CoachSeen:
		return b.coachSeen(ctx, e)
	}
	return nil, fmt.Errorf("step: unknown event %T", event)
}

// fault answers whoever spoke that the bot itself failed; a beat has nobody.
func fault(event Event, text string) []Post {
	post := Post{Kind: Fault, To: ToPrivate, Text: text}
	switch e := event.(type) {
	case Message:
		post.Person, post.Name, post.Answers = e.Author.ID, e.Author.Name, e.ID
	case Edit:
		post.Person, post.Name, post.Answers = e.Author.ID, e.Author.Name, e.ID
	case Tap:
		post.Person, post.Name, post.Answers = e.Author.ID, e.Author.Name, e.On
	default:
		return nil
	}
	return []Post{post}
}

// faultText is what somebody hears of the bot's own fault. That they should stop
// where it hurts needs no store.
func (b *Bot) faultText(event Event) string {
	text := ""
	switch e := event.(type) {
	case Message:
		text = e.Text
	case Edit:
		text = e.Text
	}
	if b.shelf.usual.parser.Parse(text, clockOf(event.when(), time.UTC)).Care.Pauses() {
		return faultPainWords(b.shelf.usual.programme.Work)
	}
	return faultWords
}

// errNoTeam says that the event's place is no team's: nothing to do.
var errNoTeam = errors.New("no team")

// turn is one event being met: who spoke where, in which transaction, and what
// has been said to it so far.
type turn struct {
	*Bot
	*inForce
	tx     Tx
	team   training.Team
	roster []training.Member

	author    Author
	who       training.Member // the author as the roster has them; a stranger's is made up
	known     bool            // the author is on the roster
	place     Place
	mentioned []Author           // whom the message names by ID
	id        training.MessageID // of the message, the command or the message tapped on: what is answered
	cause     training.MessageID // of the message, the command or the tap itself: what is done is done once for it
	at        time.Time          // the event's instant
	anew      bool               // the event was met before, and what it was answered is not out
	held      *lateness          // set while catching up, for answers to late logs to wait in

	posts  []Post
	erased bool // somebody's data were: the files are to forget them once this holds
}

// update runs do as a turn in a writing transaction.
func (b *Bot) update(ctx context.Context, team training.TeamID, author Author, do func(*turn) error) ([]Post, error) {
	return b.transact(ctx, b.store.Update, team, author, do)
}

// view runs do as a turn in a reading transaction.
func (b *Bot) view(ctx context.Context, team training.TeamID, author Author, do func(*turn) error) ([]Post, error) {
	return b.transact(ctx, b.store.View, team, author, do)
}

func (b *Bot) transact(ctx context.Context, run func(context.Context, func(Tx) error) error,
	team training.TeamID, author Author, do func(*turn) error) ([]Post, error) {
	var posts []Post
	erased := false
	err := run(ctx, func(tx Tx) error {
		t := &turn{Bot: b, tx: tx}
		if err := t.open(team); err != nil {
			return err
		}
		t.speaks(author)
		err := do(t)
		posts, erased = t.posts, t.erased
		return err
	})
	switch {
	case errors.Is(err, errNoTeam):
		return nil, nil
	case err != nil:
		return nil, err
	}
	if erased {
		if err := b.store.Scrub(ctx); err != nil {
			b.log.Error("scrub after an erasure", "cause", err)
		}
	}
	return posts, nil
}

func (t *turn) open(id training.TeamID) error {
	team, ok, err := t.tx.Team(id)
	if err != nil {
		return err
	}
	if !ok {
		return errNoTeam
	}
	t.team = team
	source, taken, err := t.tx.Programme(id)
	if err != nil {
		return err
	}
	if t.inForce, err = t.shelf.take(source, taken); err != nil {
		return err
	}
	t.roster, err = t.tx.Roster(id)
	return err
}

// speaks makes the author the one whose turn it is.
func (t *turn) speaks(author Author) {
	t.author = author
	t.who, t.known = t.person(author.ID)
	if !t.known {
		t.who = training.Member{ID: author.ID, Name: author.Name, Zone: t.team.Zone, Nudges: true}
	}
}

func (t *turn) person(id training.PersonID) (training.Member, bool) {
	for _, member := range t.roster {
		if member.ID == id {
			return member, true
		}
	}
	return training.Member{}, false
}

// put stores the member and keeps the turn's roster in step.
func (t *turn) put(member training.Member) error {
	was, known := t.person(member.ID)
	if err := t.tx.PutMember(t.team.ID, member); err != nil {
		return err
	}
	if known && was.Zone.String() != member.Zone.String() {
		if err := t.pauseMoves(member); err != nil {
			return err
		}
	}
	if member.ID == t.who.ID {
		t.who, t.known = member, true
	}
	for i := range t.roster {
		if t.roster[i].ID == member.ID {
			t.roster[i] = member
			return nil
		}
	}
	t.roster = append(t.roster, member)
	return nil
}

// today is the training day of the event on the author's clock.
func (t *turn) today() training.Day { return t.dayFor(t.who) }

// dayFor is the training day of the event on the member's clock.
func (t *turn) dayFor(member training.Member) training.Day { return training.DayOf(t.at, member.Zone) }

// now is the instant at which the event is read.
func (t *turn) now() time.Time {
	if t.held != nil {
		return t.held.now
	}
	return t.at
}

// say adds a post.
func (t *turn) say(post Post) {
	post.Team = t.team.ID
	t.posts = append(t.posts, post)
}

// reply answers the event where the audience reads it.
func (t *turn) reply(to Audience, text string, facts Facts, buttons ...Button) {
	t.say(Post{Kind: Reply, To: to, Person: t.who.ID, Name: t.who.Name, Answers: t.id, Text: text, Facts: facts, Buttons: buttons})
}

// here is the audience of the place the author spoke in.
func (t *turn) here() Audience {
	if t.place == Private {
		return ToPrivate
	}
	return ToChannel
}
