// Package outbox sends what the bot says, each post visibly once.
//
// What is said unasked is stored before it is sent: formed, then sending (the
// claim is committed before the first byte leaves), then sent or dropped. Each
// attempt carries the same nonce, by which the platform leaves out a double for
// a few minutes; an attempt older than that is looked for in the place's
// history before it is made again. Answers are not stored: they are sent at
// once, with a nonce too.
//
// The package must not decide what is said, and knows no platform and no SQL:
// they stand behind Sender and Book.
package outbox

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"
	"time"

	"rungbook/bot"
	"rungbook/training"
)

// Sender is the platform. Both methods may be called by several goroutines.
//
// Errors it may return, wrapped or not: ErrClosed, ErrRefused, ErrGone,
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
	Find(ctx context.Context, post bot.Post, nonce string, since time.Time) (message training.MessageID, found bool, err error)
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

// Book is the store's part: posts by number, in the states formed, sending,
// sent and dropped. Claim notes that an attempt to send begins; after a claim
// Post returns its instant.
type Book interface {
	Unsent(ctx context.Context) ([]int64, error) // formed or sending, oldest first
	Post(ctx context.Context, id int64) (team training.TeamID, payload []byte, state string, claimed time.Time, err error)
	Claim(ctx context.Context, id int64, at time.Time) error
	Sent(ctx context.Context, id int64, message training.MessageID, at time.Time) error
	Dropped(ctx context.Context, id int64, why string, at time.Time) error
	Missed(ctx context.Context, id int64, why string, at time.Time) error // Dropped, and what was decided to be said counts as missed
}

// Why is why a post will never be sent.
type Why string

const (
	Closed      Why = "closed"      // its recipient takes no messages
	Refused     Why = "refused"     // the platform will not have it
	Unreadable  Why = "unreadable"  // it may have got through, and the history that would tell can't be read
	TooLate     Why = "too late"    // its Until is over
	Unreachable Why = "unreachable" // an answer, and the platform was not to be had
	Damaged     Why = "damaged"     // what was stored can't be read
)

// Lost is a post that will never be sent. Post.Unasked is 0 for an answer.
type Lost struct {
	Post  bot.Post
	Why   Why
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

// WithLost gives what is told of each lost post, so that a coach hears of it
// (Unreadable, Refused, TooLate) or a neutral line takes its place (Closed). It
// is called before the post is marked as dropped, hence again if the process
// ends between the two: it must decide with the post's number as the cause. If
// it fails, the post stays as it is for the next Resume. It must not answer the
// loss of a notice with a notice to the same person. Without it the loss is an
// error of Deliver or Resume.
func WithLost(told func(context.Context, Lost) error) Option {
	return func(o *Outbox) { o.told = told }
}

// WithWidth sets how many posts may be on their way at once; 8 without it.
func WithWidth(posts int) Option { return func(o *Outbox) { o.gate = newGate(posts) } }

// Outbox sends posts. Its methods may be called by several goroutines: one that
// delivers for each team, and one that resumes.
type Outbox struct {
	book   Book
	sender Sender
	clock  func() time.Time
	wait   func(context.Context, time.Duration) error
	told   func(context.Context, Lost) error
	gate   *gate

	mu   sync.Mutex
	busy map[int64]bool // stored posts that a goroutine is at
}

// New returns an outbox. It touches nothing.
func New(book Book, sender Sender, options ...Option) *Outbox {
	o := &Outbox{book: book, sender: sender, wait: sleep, gate: newGate(8), busy: map[int64]bool{}}
	for _, option := range options {
		option(o)
	}
	return o
}

// Deliver sends posts in order, each to its end before the next: an attempt
// that fails is made again for up to a minute, not counting the time the
// platform asks for. A stored post that is still unsent then stays for Resume;
// an answer is lost. at is the instant of the event that the posts came of: the
// same event met twice gives the same nonces. The error joins those of all
// posts; one that fails holds up no other.
func (o *Outbox) Deliver(ctx context.Context, posts []bot.Post, at time.Time) error {
	return o.deliver(ctx, posts, at, false)
}

// Again is Deliver for answers that may be out already, sent by a process that
// ended before it noted so: each is looked for first, however young it is. at is
// the instant given when they were first sent.
func (o *Outbox) Again(ctx context.Context, posts []bot.Post, at time.Time) error {
	return o.deliver(ctx, posts, at, true)
}

func (o *Outbox) deliver(ctx context.Context, posts []bot.Post, at time.Time, again bool) error {
	r := &run{Outbox: o, at: at, patience: patience}
	parts := map[training.MessageID]int{}
	var errs []error
	for _, post := range posts {
		if post.Unasked != 0 {
			errs = append(errs, r.stored(ctx, post.Unasked))
			continue
		}
		nonce := answerNonce(post, parts[post.Answers], at)
		parts[post.Answers]++
		j := &job{run: r, post: post, nonce: nonce}
		if again {
			j.doubt, j.look = at, true
		}
		errs = append(errs, j.settle(ctx))
	}
	return errors.Join(errs...)
}

// Resume makes one attempt at each stored post that is not out yet: after a
// start, when the platform can be reached, and from time to time afterwards (at
// each beat, say), which is the retry of what Deliver gave up. Pain and replies
// come first, then nudges, then digests.
func (o *Outbox) Resume(ctx context.Context, at time.Time) error {
	ids, err := o.book.Unsent(ctx)
	if err != nil {
		return fmt.Errorf("resume: %w", err)
	}
	r := &run{Outbox: o, at: at}
	var errs []error
	var waiting []waiter
	for _, id := range ids {
		job, err := r.load(ctx, id)
		errs = append(errs, err)
		if job != nil {
			waiting = append(waiting, waiter{id, urgency(job.post)})
		}
	}
	slices.SortStableFunc(waiting, func(a, b waiter) int { return a.urgency - b.urgency })
	for _, w := range waiting {
		errs = append(errs, r.stored(ctx, w.id))
	}
	return errors.Join(errs...)
}

type waiter struct {
	id      int64
	urgency int
}

// urgency orders what waits for the platform, the most urgent first: what is
// said to one person (pain among it), replies, nudges, digests.
func urgency(post bot.Post) int {
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

func sleep(ctx context.Context, d time.Duration) error {
	timer := time.NewTimer(d)
	defer timer.Stop()
	select {
	case <-timer.C:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}
