package outbox

import (
	"context"
	"crypto/sha256"
	"encoding/base64"
	"errors"
	"fmt"
	"time"

	"rungbook/bot"
	"rungbook/training"
)

const (
	// nonceHolds is how long the platform surely knows a nonce ("the past few
	// minutes", its documentation says): after it an attempt is looked for.
	nonceHolds = time.Minute
	// patience is how long Deliver waits between attempts in all.
	patience = time.Minute
	// unreadable is how long a history that can't be read is asked again.
	unreadable = time.Hour
	// firstWait doubles with each attempt.
	firstWait = time.Second
	// leastWait is for a platform that asks for no time at all.
	leastWait = 50 * time.Millisecond
)

// Reasons of our own not to send.
var (
	errTooLate    = errors.New("its time is over")
	errUnreadable = errors.New("history can't be read")
)

// run is one call of Deliver or Resume.
type run struct {
	*Outbox
	sender   Sender
	at       time.Time
	waited   time.Duration
	patience time.Duration
}

func (r *run) now() time.Time {
	if r.clock != nil {
		return r.clock()
	}
	return r.at.Add(r.waited)
}

func (r *run) pause(ctx context.Context, d time.Duration) error {
	r.waited += d
	return r.wait(ctx, d)
}

// job is one post on its way.
type job struct {
	*run
	post        bot.Post
	nonce       string
	doubt       time.Time // the first attempt of which it isn't known that it failed; zero: none
	redelivered bool      // the history is asked before the next attempt, whatever the age of the doubt
}

// stored sends a stored post unless another call is at it.
func (r *run) stored(ctx context.Context, id int64) Outcome {
	if !r.take(id) {
		return Outcome{Result: Skipped}
	}
	defer r.leave(id)
	job, outcome := r.load(ctx, id)
	if job == nil {
		return outcome
	}
	return job.settle(ctx)
}

// load reads a stored post. It returns nil and the outcome for one that is
// settled, or lost because it can't be read.
func (r *run) load(ctx context.Context, id int64) (*job, Outcome) {
	team, payload, state, claimed, err := r.store.Post(ctx, id)
	if err != nil {
		return nil, Outcome{Result: Pending, Err: fmt.Errorf("load post %d: %w", id, err)}
	}
	if state != "formed" && state != "sending" {
		return nil, Outcome{Result: Skipped}
	}
	post, err := bot.DecodePost(payload)
	post.Team, post.Unasked = team, id
	j := &job{run: r, post: post, nonce: nonce("stored", id, int64(team), string(payload))}
	if err != nil {
		return nil, j.lose(ctx, Damaged, err)
	}
	if state == "sending" {
		j.doubt = claimed
	}
	return j, Outcome{}
}

// settle makes attempts until the post is out or lost, or patience ends.
func (j *job) settle(ctx context.Context) Outcome {
	left := j.patience
	for wait := firstWait; ; {
		message, err := j.attempt(ctx)
		var rate *RateError
		switch {
		case err == nil || errors.Is(err, ErrGone):
			return j.sent(ctx, message)
		case errors.Is(err, errUnreadable):
			return j.lose(ctx, Unreadable, err)
		case errors.Is(err, errTooLate):
			return j.lose(ctx, TooLate, err)
		case errors.Is(err, ErrClosed):
			return j.lose(ctx, Closed, err)
		case errors.Is(err, ErrRefused):
			return j.lose(ctx, Refused, err)
		case ctx.Err() != nil || errors.As(err, new(storeError)):
			return j.pending(err)
		case errors.As(err, &rate):
			err = j.yield(ctx, rate)
		case left < wait:
			return j.pending(err)
		default:
			err = j.pause(ctx, wait)
			left, wait = left-wait, 2*wait
		}
		if err != nil {
			return j.pending(err)
		}
	}
}

// attempt sends the post, or finds that it is out already.
func (j *job) attempt(ctx context.Context) (training.MessageID, error) {
	ticket, err := j.queue.Enter(ctx, priorityOf(j.post))
	if err != nil {
		return 0, err
	}
	defer ticket.Leave()
	now := j.now()
	late := !j.post.Until.IsZero() && now.After(j.post.Until)
	if !j.doubt.IsZero() && makesMessage(j.post) && (late || j.redelivered || !holds(j.doubt, now)) {
		message, found, err := j.find(ctx, now)
		switch {
		case errors.Is(err, errUnreadable) && !late && betterTwice(j.post): // the doubt stays
		case found || err != nil:
			return message, err
		default:
			j.doubt, j.redelivered = time.Time{}, false
		}
	}
	if late {
		return 0, errTooLate
	}
	first := j.doubt.IsZero()
	if first {
		if err := j.claim(ctx, now); err != nil {
			return 0, err
		}
	}
	message, err := j.sender.Send(ctx, j.post, j.nonce)
	if first && (errors.Is(err, ErrUnsent) || errors.As(err, new(*RateError))) {
		j.doubt = time.Time{}
	}
	return message, err
}

// find asks the history. Where that may not be read, or could not for long, the post
// is not left in doubt for ever.
func (j *job) find(ctx context.Context, now time.Time) (training.MessageID, bool, error) {
	message, found, err := j.sender.Find(ctx, j.post, j.doubt)
	final := errors.Is(err, ErrRefused) || errors.Is(err, ErrClosed)
	if err != nil && (final || !j.redelivered && now.Sub(j.doubt) > unreadable) {
		err = fmt.Errorf("%w: %v", errUnreadable, err)
	}
	return message, found, err
}

// betterTwice reports whether a post of which nobody can see whether it is out is
// better said twice than never. Answers and notices are: they may be about pain, and
// whoever logged waits for theirs. A nudge, which pings, and a digest are not.
func betterTwice(post bot.Post) bool { return post.Kind != bot.Nudge && post.Kind != bot.Digest }

// claim writes down that an attempt begins, before it does.
func (j *job) claim(ctx context.Context, now time.Time) error {
	j.doubt = now
	if j.post.Unasked == 0 {
		return nil
	}
	if err := j.store.Claim(ctx, j.post.Unasked, now); err != nil {
		return storeError{err}
	}
	return nil
}

// yield waits as long as the platform asks, and all others with it if it asks
// that of all.
func (j *job) yield(ctx context.Context, rate *RateError) error {
	if rate.All {
		j.queue.Hold()
		defer j.queue.Lift()
	}
	return j.pause(ctx, max(rate.After, leastWait))
}

func (j *job) sent(ctx context.Context, message training.MessageID) Outcome {
	if j.post.Unasked != 0 {
		// What is out is out: that is noted even while the process is being stopped.
		if err := j.store.Sent(context.WithoutCancel(ctx), j.post.Unasked); err != nil {
			return j.pending(err)
		}
	}
	return Outcome{Result: Sent, Message: message}
}

// lose tells that the post will never be sent, then marks it.
func (j *job) lose(ctx context.Context, why Result, cause error) Outcome {
	lost := Lost{Post: j.post, Why: why, Cause: cause, At: j.now()}
	if err := j.sender.Lost(ctx, lost); err != nil {
		return j.pending(fmt.Errorf("tell that it is lost: %w", err))
	}
	if j.post.Unasked != 0 {
		drop := j.store.Dropped
		if why == TooLate {
			drop = j.store.Missed
		}
		if err := drop(ctx, j.post.Unasked, string(why)); err != nil {
			return j.pending(err)
		}
	}
	return Outcome{Result: why, Err: j.named(fmt.Errorf("lost, %s: %w", why, cause))}
}

func (j *job) pending(err error) Outcome { return Outcome{Result: Pending, Err: j.named(err)} }

// named says which post an error is of.
func (j *job) named(err error) error {
	if j.post.Unasked == 0 {
		return fmt.Errorf("send %s: %w", j.post.Kind, err)
	}
	return fmt.Errorf("send post %d: %w", j.post.Unasked, err)
}

// storeError is the store's own failure: it is not for the sender's retries.
type storeError struct{ error }

func (e storeError) Unwrap() error { return e.error }

// holds reports whether the platform still knows the nonce of an attempt. A
// claim from the future means that the clock was set back: nobody knows.
func holds(claimed, now time.Time) bool {
	age := now.Sub(claimed)
	return age >= 0 && age < nonceHolds
}

// makesMessage reports whether sending the post twice would show it twice.
func makesMessage(post bot.Post) bool {
	return post.Kind != bot.Revise && post.Kind != bot.Withdraw && post.Kind != bot.Mark
}

// answerNonce is the same for the same answer to the same event, and for no
// other: a second tap on one message, or a text that is edited to and fro, is
// another event at another instant.
func answerNonce(post bot.Post, part int, at time.Time) string {
	return nonce("answer", int64(post.Answers), int64(post.Person), int64(part), at.UnixMilli(), string(post.Kind), post.Text)
}

// nonce is 24 characters, the most that fit below the platform's 25.
func nonce(parts ...any) string {
	hash := sha256.New()
	for _, part := range parts {
		fmt.Fprintf(hash, "%T %v\n", part, part)
	}
	return base64.RawURLEncoding.EncodeToString(hash.Sum(nil)[:18])
}
