// Package outbox sends what the bot says, each post visibly once.
//
// What is said unasked is stored before it is sent: formed, then sending (the
// claim is committed before the first byte leaves), then sent or dropped. Each
// attempt carries the same nonce, by which the platform leaves out a double for
// a few minutes; an attempt older than that is looked for in the place's
// history before it is made again. Where that can't be read, an answer or a notice
// is said again, a nudge and a digest are not. Answers are not stored: they are sent at
// once, with a nonce too.
//
// The package must not decide what is said, and knows no platform and no SQL:
// they stand behind Sender and Store. A Sender comes with each call, so that it
// may know what the posts of that call go back to.
package outbox

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"
	"time"

	"rungbook/bot"
	"rungbook/bot/priority"
	"rungbook/training"
)

// Sender is the platform, as the posts of one call reach it. Its methods may be
// called by several goroutines.
//
// Errors of Send and Find, wrapped or not: ErrClosed, ErrRefused, ErrGone,
// ErrUnsent, a *RateError. After any other it is not known whether the post got
// through.
type Sender interface {
	// Send carries out a post once: it neither retries nor waits for rates. The
	// nonce is 24 characters of A-Z, a-z, 0-9, - and _. What Revise, Withdraw and
	// Mark ask for must do no harm when done twice. The message is the one made
	// or changed, 0 where there is none.
	Send(ctx context.Context, post bot.Post, nonce string) (training.MessageID, error)
	// Find looks for a post that may have got through among what the bot has said
	// in the post's place since the instant, give or take how much the platform's
	// clock may differ. It is not asked for Revise, Withdraw and Mark. The error
	// is ErrRefused where the history may not be read.
	Find(ctx context.Context, post bot.Post, since time.Time) (message training.MessageID, found bool, err error)
	// Lost is told of each post that will never be sent, so that a coach hears of
	// it (Unreadable, Refused, TooLate) or a neutral line takes its place (Closed).
	// It is called before the post is marked as dropped, hence again if the
	// process ends between the two: it must decide with the post's number as the
	// cause. After an error of any kind the post stays as it is for the next
	// Resume. It must not answer the loss of a notice with a notice to the same
	// person.
	Lost(ctx context.Context, lost Lost) error
}

// Classes of what a Sender may meet.
var (
	ErrClosed  = errors.New("recipient takes no messages")
	ErrRefused = errors.New("refused for good")
	ErrGone    = errors.New("sent before, and deleted since") // the platform knows the nonce, the message is no more: taken for sent
	ErrUnsent  = errors.New("never left")                     // certain that the platform has not seen it: may be sent anew
)

// RateError says that the platform wants to be left alone for a while. It has
// not taken the post.
type RateError struct {
	After time.Duration
	All   bool // the limit binds everything, not this post's place alone
}

func (e *RateError) Error() string { return fmt.Sprintf("rate limit: again after %s", e.After) }

// Store is what the outbox asks of the store: posts by number, in the states
// formed, sending, sent and dropped. A post is settled when it is sent or dropped;
// Claim, Dropped and Missed fail for one that is. After an error, of whatever
// kind, nothing is sent that was not claimed, and a post that is not settled stays
// as it is for the next Resume.
type Store interface {
	// Unsent lists the posts that are formed or sending, oldest first.
	Unsent(ctx context.Context) ([]int64, error)
	// Post reads a post as bot.EncodePost wrote it; nil once it is sent or dropped.
	// claimed is the instant of the latest claim; zero where there is none.
	Post(ctx context.Context, id int64) (team training.TeamID, payload []byte, state string, claimed time.Time, err error)
	// Claim makes a post sending: an attempt begins of which it may never be known
	// whether it got through.
	Claim(ctx context.Context, id int64, at time.Time) error
	// Sent makes a post sent.
	Sent(ctx context.Context, id int64) error
	// Dropped makes a post dropped: it will never be sent. why is a Result.
	Dropped(ctx context.Context, id int64, why string) error
	// Missed is Dropped for a post that was decided to be said and is too late.
	Missed(ctx context.Context, id int64, why string) error
}

// Result says what became of a post. All but Sent, Pending and Skipped say why
// it will never be sent.
type Result string

const (
	Sent       Result = "sent"
	Pending    Result = "pending"    // not known to be out: a stored post stays for Resume, an answer may be given to Redeliver
	Skipped    Result = "skipped"    // a stored post that was settled before, or that another call is at
	Closed     Result = "closed"     // its recipient takes no messages
	Refused    Result = "refused"    // the platform will not have it
	Unreadable Result = "unreadable" // it may have got through, the history that would tell can't be read, and twice is worse than never
	TooLate    Result = "too late"   // its Until is over
	Damaged    Result = "damaged"    // what was stored can't be read
)

// Outcome is what became of one post.
type Outcome struct {
	Result  Result
	Message training.MessageID // the one made, changed or found; 0 where there is none
	Err     error              // why it is not out; nil for Sent and Skipped
}

// Lost is a post that will never be sent. Post.Unasked is 0 for an answer.
type Lost struct {
	Post  bot.Post
	Why   Result
	Cause error // for the log, not for people
	At    time.Time
}

// Option changes how an Outbox works.
type Option func(*Outbox)

// WithClock gives the wall clock. Without it time stands still at the instant
// given to Deliver and Resume, but for what was waited, as a rehearsal wants it.
func WithClock(clock func() time.Time) Option { return func(o *Outbox) { o.clock = clock } }

// WithWait gives what waits between attempts; it returns early with an error
// when ctx is done. Without it a timer does.
func WithWait(wait func(context.Context, time.Duration) error) Option {
	return func(o *Outbox) { o.wait = wait }
}

// WithWidth sets how many posts may be on their way at once; 8 without it.
func WithWidth(posts int) Option { return func(o *Outbox) { o.queue = priority.New(posts) } }

// Outbox sends posts. Its methods may be called by several goroutines: one that
// delivers for each team, and one that resumes.
type Outbox struct {
	store Store
	clock func() time.Time
	wait  func(context.Context, time.Duration) error
	queue *priority.Queue

	mu   sync.Mutex
	busy map[int64]bool // stored posts that a goroutine is at
}

// New returns an outbox. It touches nothing.
func New(store Store, options ...Option) *Outbox {
	o := &Outbox{store: store, wait: Sleep, queue: priority.New(8), busy: map[int64]bool{}}
	for _, option := range options {
		option(o)
	}
	return o
}

// Deliver sends posts in order, each to its end before the next, and returns
// what became of each: an attempt that fails is made again for up to a minute,
// not counting the time the platform asks for. at is the instant of the event
// that the posts came of: the same event met twice gives the same nonces. A post
// that fails holds up no other.
func (o *Outbox) Deliver(ctx context.Context, sender Sender, posts []bot.Post, at time.Time) []Outcome {
	return o.deliver(ctx, sender, posts, at, false)
}

// Redeliver is Deliver for answers that may be out already, sent by a process
// that ended before it noted so: each is looked for first, however young it is.
// at is the instant given when they were first sent.
func (o *Outbox) Redeliver(ctx context.Context, sender Sender, posts []bot.Post, at time.Time) []Outcome {
	return o.deliver(ctx, sender, posts, at, true)
}

// deliver is Deliver and Redeliver.
func (o *Outbox) deliver(ctx context.Context, sender Sender, posts []bot.Post, at time.Time, redelivered bool) []Outcome {
	r := &run{Outbox: o, sender: sender, at: at, patience: patience}
	parts := map[training.MessageID]int{}
	outcomes := make([]Outcome, 0, len(posts))
	for _, post := range posts {
		if post.Unasked != 0 {
			outcomes = append(outcomes, r.stored(ctx, post.Unasked))
			continue
		}
		nonce := answerNonce(post, parts[post.Answers], at)
		parts[post.Answers]++
		j := &job{run: r, post: post, nonce: nonce}
		if redelivered {
			j.doubt, j.redelivered = at, true
		}
		outcomes = append(outcomes, j.settle(ctx))
	}
	return outcomes
}

// Resume makes one attempt at each stored post that is not out yet: after a
// start, when the platform can be reached, and from time to time afterwards (at
// each beat, say), which is the retry of what Deliver gave up. Pain and replies
// come first, then nudges, then digests. The outcomes are in that order; the
// error is of listing the posts.
func (o *Outbox) Resume(ctx context.Context, sender Sender, at time.Time) ([]Outcome, error) {
	ids, err := o.store.Unsent(ctx)
	if err != nil {
		return nil, fmt.Errorf("resume: %w", err)
	}
	r := &run{Outbox: o, sender: sender, at: at}
	var outcomes []Outcome
	var waiting []*job
	for _, id := range ids {
		job, outcome := r.load(ctx, id)
		if job != nil {
			waiting = append(waiting, job)
		} else {
			outcomes = append(outcomes, outcome)
		}
	}
	slices.SortStableFunc(waiting, func(a, b *job) int { return priorityOf(a.post) - priorityOf(b.post) })
	for _, job := range waiting {
		outcomes = append(outcomes, r.stored(ctx, job.post.Unasked))
	}
	return outcomes, nil
}

// Bound is an outbox whose posts all go one way.
type Bound struct {
	outbox *Outbox
	sender Sender
}

// To binds the outbox to one way for all posts.
func (o *Outbox) To(sender Sender) Bound { return Bound{o, sender} }

// Deliver is Outbox.Deliver. The error joins those of all posts that are not
// out.
func (b Bound) Deliver(ctx context.Context, posts []bot.Post, at time.Time) error {
	return joined(b.outbox.Deliver(ctx, b.sender, posts, at))
}

// Resume is Outbox.Resume. The error joins those of all posts that are not out.
func (b Bound) Resume(ctx context.Context, at time.Time) error {
	outcomes, err := b.outbox.Resume(ctx, b.sender, at)
	return errors.Join(err, joined(outcomes))
}

func joined(outcomes []Outcome) error {
	var errs []error
	for _, one := range outcomes {
		errs = append(errs, one.Err)
	}
	return errors.Join(errs...)
}

// priorityOf orders what waits for the platform, the lowest number first: what
// is said to one person (pain among it), replies, nudges, digests.
func priorityOf(post bot.Post) int {
	switch {
	case post.Kind == bot.Digest:
		return 3
	case post.Kind == bot.Nudge:
		return 2
	case post.To == bot.ToChannel:
		return 1
	}
	return 0
}

// take makes the caller the only one at a stored post; leave ends it.
func (o *Outbox) take(id int64) bool {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.busy[id] {
		return false
	}
	o.busy[id] = true
	return true
}

func (o *Outbox) leave(id int64) {
	o.mu.Lock()
	defer o.mu.Unlock()
	delete(o.busy, id)
}

// Sleep waits, or returns the context's error when that ends first.
func Sleep(ctx context.Context, d time.Duration) error {
	if d <= 0 {
		return ctx.Err()
	}
	timer := time.NewTimer(d)
	defer timer.Stop()
	select {
	case <-timer.C:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}
