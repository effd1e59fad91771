// Package discord is the adapter between the bot and Discord: it turns what
// happens there into the bot's events, in one order a team, and carries out the
// bot's posts within the platform's limits.
//
// It must not decide what is said: whatever it says itself (setup, closed
// direct messages, the choice of a team) is about the platform. It reads no
// message beyond whether it is a command, keeps no text, and never logs one, nor
// the token, nor the library's own errors, which carry it.
package discord

import (
	"context"
	"fmt"
	"log/slog"
	"sync"
	"sync/atomic"
	"time"

	"golang.org/x/time/rate"

	"rungbook/bot"
	"rungbook/bot/outbox"
	"rungbook/bot/slash"
	"rungbook/training"
)

// Bot is the neutral core; *bot.Bot is one. Its errors are logged and told to
// nobody: what whoever asked is to hear stands in the posts.
type Bot interface {
	Step(ctx context.Context, event bot.Event) ([]bot.Post, error)
	BeforeTeamChosen(ctx context.Context, m bot.Message) (posts []bot.Post, ask bool, err error)
	NextDue(ctx context.Context, team training.TeamID, after time.Time) (at time.Time, ok bool, err error)
}

// Outbox sends posts, each visibly once; an *outbox.Outbox is one.
type Outbox interface {
	Deliver(ctx context.Context, sender outbox.Sender, posts []bot.Post, at time.Time) []outbox.Outcome
	Redeliver(ctx context.Context, sender outbox.Sender, posts []bot.Post, at time.Time) []outbox.Outcome // of answers that may be out
	Resume(ctx context.Context, sender outbox.Sender, at time.Time) ([]outbox.Outcome, error)
}

// Options is what an Adapter is made of. Token, Bot, Store, Programme and
// Outbox must be set.
type Options struct {
	Token     string
	API       string // the platform's address up to and without the version; empty for the public one
	Bot       Bot
	Store     Store
	Outbox    Outbox
	Programme *training.Programme // for completing names of gates and rungs

	// Import takes in what a channel's past weeks hold, without answering; nil
	// where that cannot be done, and then it is not offered.
	Import func(ctx context.Context, team training.TeamID, events []bot.Event, at time.Time) (logs int, err error)

	// Scrub makes the files forget which messages were removed for an erasure; nil
	// for nothing.
	Scrub func(ctx context.Context) error

	Log   *slog.Logger                               // nil for none
	Clock func() time.Time                           // nil for time.Now
	Wait  func(context.Context, time.Duration) error // between connections; nil for a timer

	openTime   time.Duration // 0 for the constant's
	deferAfter time.Duration // 0 for the constant's
	slow       time.Duration // between requests that nobody waits for; 0 for the limit's
}

// Adapter is the bot on Discord. Its methods may be called from any goroutine;
// Run once.
type Adapter struct {
	token     string
	api       *api
	bot       Bot
	store     Store
	programme *training.Programme
	outbox    Outbox
	imports   func(context.Context, training.TeamID, []bot.Event, time.Time) (int, error)
	scrub     func(context.Context) error
	log       *slog.Logger
	clock     func() time.Time
	wait      func(context.Context, time.Duration) error
	openTime  time.Duration
	defers    time.Duration // deferAfter, but in tests

	self   atomic.Int64
	health pulse
	queues queues
	reads  *teamReads
	starts []time.Time // identifies, oldest first; the supervisor's alone

	work        context.Context // of all jobs; ends at the end of Run, after the drain
	stop        context.CancelFunc
	reading     context.Context // of reading channels; ends before the drain: the next process reads what is left
	stopReading context.CancelFunc

	memory   *memory
	resuming atomic.Bool
	directs  *rate.Limiter // of new direct channels
}

// New returns an adapter. It touches nothing; the error is of the options.
func New(o Options) (*Adapter, error) {
	api, err := newAPI(o.Token, o.API, time.Now)
	if err != nil {
		return nil, fmt.Errorf("discord: %w", err)
	}
	a := &Adapter{
		token: o.Token, api: api, bot: o.Bot, store: o.Store, outbox: o.Outbox, programme: o.Programme,
		imports: o.Import, scrub: o.Scrub, log: o.Log, clock: o.Clock, wait: o.Wait, openTime: o.openTime, defers: o.deferAfter,
	}
	a.work, a.stop = context.WithCancel(context.Background())
	a.reading, a.stopReading = context.WithCancel(a.work)
	if a.log == nil {
		a.log = slog.New(slog.DiscardHandler)
	}
	if a.clock == nil {
		a.clock = time.Now
	}
	if a.wait == nil {
		a.wait = outbox.Sleep
	}
	if o.slow != 0 {
		api.limiter.slow.SetLimit(rate.Every(o.slow))
	}
	if a.openTime == 0 {
		a.openTime = openTime
	}
	if a.defers == 0 {
		a.defers = deferAfter
	}
	a.health.clock, a.queues.log = a.clock, a.log
	a.memory, a.reads = newMemory(), newTeamReads()
	a.directs = rate.NewLimiter(rate.Every(directSpace), 1)
	return a, nil
}

// me is the bot's own number; 0 before it is known.
func (a *Adapter) me() snowflake { return snowflake(a.self.Load()) }

// Beat asks what is due for each team, in the order of its events, and sends
// what was left unsent.
func (a *Adapter) Beat(ctx context.Context, at time.Time) {
	a.resume(at)
	a.retry()
	a.overdue()
	a.queues.add(a.work, queueKey{housekeepingQueue, flushQueue}, func(ctx context.Context) {
		a.report("keep how far channels were read", a.flush(ctx))
	})
	a.deleteErasedPosts()
	teams, err := a.teams(ctx)
	if err != nil {
		a.log.Error("beat", "cause", err)
		return
	}
	a.queues.add(a.work, queueKey{housekeepingQueue, beatQueue}, func(ctx context.Context) { a.beatAll(ctx, teams, at) })
}

// mostBeats is how many teams are asked at once what is due. Where thousands have
// the same hour, people's own requests must not wait for the store behind them all.
const mostBeats = 4

// beatPatience is how long a team whose queue is busy holds up the beats of the
// others.
const beatPatience = time.Second

// beatAll puts a beat into the queue of each team to which one could do something.
func (a *Adapter) beatAll(ctx context.Context, teams []training.TeamID, at time.Time) {
	slots := make(chan struct{}, mostBeats)
	for _, team := range teams {
		if !a.memory.due(team, at) {
			continue
		}
		select {
		case slots <- struct{}{}:
		case <-ctx.Done():
			return
		}
		free := sync.OnceFunc(func() { <-slots })
		busy := time.AfterFunc(beatPatience, free)
		a.reads.promote(team, newMessages)
		a.queues.add(a.work, queueKey{intakeQueue, snowflake(team)}, func(ctx context.Context) {
			defer free()
			defer busy.Stop()
			a.beat(ctx, team, at)
		})
	}
}

// beat has the bot decide what is due for a team, at the instant at which the
// team's queue comes to it, which may be later than at. After a beat that went well
// it is kept when something is due next, unless an event was met meanwhile.
func (a *Adapter) beat(ctx context.Context, team training.TeamID, at time.Time) {
	if now := a.clock(); now.After(at) {
		at = now
	}
	event := bot.Beat{Team: team, At: at}
	posts, err := a.bot.Step(ctx, event)
	a.follow(ctx, team, event, posts, nil)
	if err != nil {
		a.log.Error("beat", "team", int64(team), "cause", err)
		return
	}
	events := a.memory.eventCount(team)
	next, ok, err := a.bot.NextDue(ctx, team, at)
	if err != nil {
		a.log.Error("ask what is due next", "team", int64(team), "cause", err)
		return
	}
	a.memory.setDue(team, events, at, next, ok)
}

// resume sends what was left unsent, unless that is going on.
func (a *Adapter) resume(at time.Time) {
	if !a.health.up() || !a.resuming.CompareAndSwap(false, true) {
		return
	}
	a.queues.add(a.work, queueKey{housekeepingQueue, resumeQueue}, func(ctx context.Context) {
		defer a.resuming.Store(false)
		outcomes, err := a.outbox.Resume(ctx, &sender{Adapter: a, origin: &origin{}}, at)
		if err != nil {
			a.log.Warn("resume", "cause", err)
		}
		for _, one := range outcomes {
			a.logPending(one)
		}
	})
}

func (p *pulse) up() bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.now.Connected
}

func (a *Adapter) teams(ctx context.Context) (teams []training.TeamID, err error) {
	err = a.store.View(ctx, func(tx Tx) error {
		teams, err = tx.Teams()
		return err
	})
	return teams, err
}

// step has the bot take an event in and sends what it says: at once where that
// answers an interaction, else after what was said before in the team. o is nil for
// an event that comes from nowhere.
func (a *Adapter) step(ctx context.Context, team training.TeamID, event bot.Event, o *origin) {
	posts, err := a.bot.Step(ctx, event)
	if err != nil {
		a.log.Error("step", "event", fmt.Sprintf("%T", event), "cause", err)
	}
	a.follow(ctx, team, event, posts, o)
}

// follow sends what the bot said to an event, and ends an interaction to which it
// said nothing.
func (a *Adapter) follow(ctx context.Context, team training.TeamID, event bot.Event, posts []bot.Post, o *origin) {
	a.memory.forgetDue(team)
	if o == nil {
		o = &origin{}
	}
	if m, ok := event.(bot.Message); ok && slash.Names(m.Text, "mydata") {
		a.deleteErasedPosts() // somebody may have been erased
	}
	if _, caught := event.(bot.CatchUp); len(posts) == 0 && !caught {
		o.finish(ctx, a)
		return
	}
	for i := range posts {
		if posts[i].Team == 0 { // a fault
			posts[i].Team = team
		}
	}
	a.memory.countInFlight(posts, 1)
	key := queueKey{outQueue, snowflake(team)}
	if o.asked != nil {
		key = queueKey{askedQueue, o.asked.ID}
	} else if _, due := event.(bot.Beat); due {
		key.kind = dueQueue // answers do not wait for a nudge that waits for the limit
	}
	a.queues.add(a.work, key, func(ctx context.Context) {
		a.deliver(ctx, team, event, posts, o)
		o.finish(ctx, a)
	})
}
