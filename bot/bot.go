package bot

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"time"

	"rungbook/bot/words"
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
	store      Store
	programmes programmeCache
	log        *slog.Logger
}

// New returns a bot. It touches nothing.
func New(o Options) *Bot {
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	return &Bot{store: o.Store, programmes: programmeCache{programmes: o.Programmes, builtin: loadProgramme(o.Programme)}, log: o.Log}
}

// Step takes one event and returns what is to be sent, in order. What it
// stores, it stores in one transaction. The posts are safe to send even when
// err is not nil: then they say that something went wrong, and nothing of the
// event was stored.
func (b *Bot) Step(ctx context.Context, event Event) ([]Post, error) {
	posts, err := b.dispatch(ctx, event)
	if err == nil {
		return posts, nil
	}
	b.log.Error("step", "event", fmt.Sprintf("%T", event), "cause", err)
	return fault(event, b.faultText(event)), err
}

func (b *Bot) dispatch(ctx context.Context, event Event) ([]Post, error) {
	switch e := event.(type) {
	case Message:
		return b.message(ctx, e)
	case Edit:
		return b.edit(ctx, e, nil)
	case Delete:
		return b.delete(ctx, e, nil)
	case Tap:
		return b.tap(ctx, e)
	case CatchUp:
		return b.catchUp(ctx, e)
	case Beat:
		return b.beat(ctx, e)
	case CoachAppeared:
		return b.coachAppeared(ctx, e)
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
	if b.programmes.builtin.parser.Parse(text, clockOf(event.when(), time.UTC)).Care.Pauses() {
		return words.FaultPain(b.programmes.builtin.programme.Work)
	}
	return words.Fault
}

// errNoTeam says that the event's place is no team's: nothing to do.
var errNoTeam = errors.New("no team")

// step is one event being met: who spoke where, in which transaction, and what
// has been said to it so far.
type step struct {
	*Bot
	*loadedProgramme
	tx     Tx
	team   training.Team
	roster []training.Member

	author Author
	who    training.Member // the author as the roster has them; a stranger's is made up
	known  bool            // the author is on the roster

	place       Place
	channel     training.ChannelID // where on the platform the message was said; 0 for none
	mentioned   []Author           // whom the message names by ID
	id          training.MessageID // of the message, the command or the message tapped on: what is answered
	cause       training.MessageID // of the message, the command or the tap itself: what is done is done once for it
	at          time.Time          // the event's instant
	edited      time.Time          // the latest edit of the message; zero for none
	redelivered bool               // the event was met before, and what it was answered is not out
	mustAnswer  bool               // a message, an edit or a deletion: its answers get out even if the process ends first
	catchUp     *catchUp           // set while catching up, for answers to late logs to wait in

	posts  []Post
	erased bool // somebody's data were: the files are to forget them once this holds
}

// update runs do as a step in a writing transaction.
func (b *Bot) update(ctx context.Context, team training.TeamID, author Author, do func(*step) error) ([]Post, error) {
	return b.transact(ctx, b.store.Update, team, author, do)
}

// view runs do as a step in a reading transaction.
func (b *Bot) view(ctx context.Context, team training.TeamID, author Author, do func(*step) error) ([]Post, error) {
	return b.transact(ctx, b.store.View, team, author, do)
}

// transact loads the team once, runs do and returns what it says. What do had
// written is taken back with a refusal, which is the only thing said then.
func (b *Bot) transact(ctx context.Context, run func(context.Context, func(Tx) error) error,
	team training.TeamID, author Author, do func(*step) error) ([]Post, error) {
	var s *step
	err := run(ctx, func(tx Tx) error {
		s = &step{Bot: b, tx: tx}
		if err := s.loadTeam(team); err != nil {
			return err
		}
		s.setAuthor(author)
		if err := do(s); err != nil {
			return err
		}
		return s.markUnanswered()
	})
	var refused refusal
	switch {
	case errors.Is(err, errNoTeam):
		return nil, nil
	case errors.As(err, &refused):
		s.posts = nil
		s.reply(refused.audience(s), refused.text, nil)
		return s.posts, nil
	case err != nil:
		return nil, err
	}
	if s.erased {
		if err := b.store.Scrub(ctx); err != nil {
			b.log.Error("scrub after an erasure", "cause", err)
		}
	}
	return s.posts, nil
}

func (s *step) loadTeam(id training.TeamID) error {
	team, ok, err := s.tx.Team(id)
	if err != nil {
		return err
	}
	if !ok {
		return errNoTeam
	}
	s.team = team
	source, taken, err := s.tx.Programme(id)
	if err != nil {
		return err
	}
	if s.loadedProgramme, err = s.programmes.take(source, taken); err != nil {
		return err
	}
	s.roster, err = s.tx.Roster(id)
	return err
}

// setAuthor makes the author the one whom the step is about.
func (s *step) setAuthor(author Author) {
	s.author = author
	s.who, s.known = s.person(author.ID)
	if !s.known {
		s.who = training.Member{ID: author.ID, Name: author.Name, Zone: s.team.Zone, Nudges: true}
	}
}

func (s *step) person(id training.PersonID) (training.Member, bool) {
	for _, member := range s.roster {
		if member.ID == id {
			return member, true
		}
	}
	return training.Member{}, false
}

// putMember stores the member and keeps the roster as loaded up to date.
func (s *step) putMember(member training.Member) error {
	was, known := s.person(member.ID)
	if err := s.tx.PutMember(s.team.ID, member); err != nil {
		return err
	}
	if known && was.Zone.String() != member.Zone.String() {
		if err := s.pauseMoves(member); err != nil {
			return err
		}
	}
	if member.ID == s.who.ID {
		s.who, s.known = member, true
	}
	for i := range s.roster {
		if s.roster[i].ID == member.ID {
			s.roster[i] = member
			return nil
		}
	}
	s.roster = append(s.roster, member)
	return nil
}

// today is the training day of the event on the author's clock.
func (s *step) today() training.Day { return s.dayFor(s.who) }

// dayFor is the training day of the event on the member's clock.
func (s *step) dayFor(member training.Member) training.Day { return training.DayOf(s.at, member.Zone) }

// now is the instant at which the event is read.
func (s *step) now() time.Time {
	if s.catchUp != nil {
		return s.catchUp.now
	}
	return s.at
}

// say adds a post.
func (s *step) say(post Post) {
	post.Team = s.team.ID
	s.posts = append(s.posts, post)
}

// reply answers the event where the audience reads it.
func (s *step) reply(to Audience, text string, facts Facts, buttons ...Button) {
	s.say(Post{
		Kind: Reply, To: to, Person: s.who.ID, Name: s.who.Name, Answers: s.id, Text: text, Facts: facts, Buttons: buttons,
	})
}

// audience is who reads what is said where the author spoke.
func (s *step) audience() Audience {
	if s.place == Private {
		return ToPrivate
	}
	return ToChannel
}
