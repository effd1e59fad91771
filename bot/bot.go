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
	Programme  *training.Programme // for teams whose coach has chosen none
	Programmes Programmes
	Log        *slog.Logger // the bot's own faults; nil for none
}

// Bot answers events. It keeps nothing between steps but a cache of programmes, and
// what it refused while nothing could be stored, until that can be stored: a new Bot
// on the same store goes on where another ended. For one team, Step is
// called by one goroutine at a time.
type Bot struct {
	store      Store
	programmes programmeCache
	refused    refusedMessages
	log        *slog.Logger
}

// New returns a bot. It touches nothing.
func New(o Options) *Bot {
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	return &Bot{store: o.Store, programmes: programmeCache{programmes: o.Programmes, builtin: loadProgramme(o.Programme)}, log: o.Log}
}

// Step takes one event and returns the posts to send, in order. All that it
// stores, it stores in one transaction. When err is not nil, nothing of the event
// was stored, and the posts say so: they are to be sent all the same. Errors are
// those of the Store.
func (b *Bot) Step(ctx context.Context, event Event) ([]Post, error) {
	posts, err := b.dispatch(ctx, event)
	if err == nil {
		return posts, nil
	}
	switch e := event.(type) {
	case Message:
		b.refused.add(e)
	case Edit:
		b.refused.add(e.Message)
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
	case CoachGone:
		return b.coachGone(ctx, e)
	}
	return nil, fmt.Errorf("step: unknown event %T", event)
}

// fault tells whoever spoke that the bot itself failed. A beat has nobody to tell.
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

// faultText is what the bot says of its own fault. Someone in pain is told to
// stop, which needs no store.
func (b *Bot) faultText(event Event) string {
	text := ""
	switch e := event.(type) {
	case Message:
		text = e.Text
	case Edit:
		text = e.Text
	}
	if b.programmes.builtin.parser.Parse(text, clockOf(event.When(), time.UTC)).Care.Pauses() {
		return words.FaultPain(b.programmes.builtin.programme.Work)
	}
	return words.Fault
}

// errNoTeam says that the event belongs to no known team, so that nothing is done.
var errNoTeam = errors.New("no team")

// step is one event on its way through one transaction: who spoke where, and the
// posts so far. A step that erased somebody has the files scrubbed at its end.
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
	id          training.MessageID // the message to answer: the one said, or the one under whose answer a button was tapped
	cause       training.MessageID // the message said or the tap itself: whatever may be done once only is done once for it
	at          time.Time          // the event's instant
	edited      time.Time          // the latest edit of the message; zero for none
	redelivered bool               // the event was met before, and its answer is not out
	mustAnswer  bool               // answers are sent even if the process ends first: true for messages, edits, deletions
	catchUp     *catchUp           // holds the answers to late logs while catching up; nil otherwise

	posts  []Post
	erased bool             // somebody was erased: the files must forget them after the commit
	stored []refusedMessage // what was refused before and is now stored to be so
}

// update runs do as a step in a writing transaction.
func (b *Bot) update(ctx context.Context, team training.TeamID, author Author, do func(*step) error) ([]Post, error) {
	return b.transact(ctx, b.store.Update, team, author, do)
}

// view runs do as a step in a reading transaction.
func (b *Bot) view(ctx context.Context, team training.TeamID, author Author, do func(*step) error) ([]Post, error) {
	return b.transact(ctx, b.store.View, team, author, do)
}

// transact loads the team, runs do and returns its posts. A refusal undoes what do
// has written, and is the only post then.
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
	b.refused.drop(s.stored)
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
	if s.loadedProgramme, err = s.programmes.get(source, taken); err != nil {
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
		s.who = s.stranger(author)
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

// today is the event's training day by the author's clock.
func (s *step) today() training.Day { return s.dayFor(s.who) }

// date is the date that the author's clock shows at the event.
func (s *step) date() training.Day { return training.CivilDay(s.at, s.who.Zone) }

// dayFor is the event's training day by the member's clock.
func (s *step) dayFor(member training.Member) training.Day { return training.DayOf(s.at, member.Zone) }

// now is the event's own instant or, while catching up, the instant at which it is
// read. No clock tells how long a live event took to get here.
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
