package outbox

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	"rungbook/bot"
	"rungbook/training"
)

// nonceMemory is how long the fake platform knows a nonce. The real one says
// "the past few minutes" (Discord's documentation, Create Message,
// enforce_nonce).
const nonceMemory = 3 * time.Minute

// platform is a chat platform in memory that keeps the real one's nonce rules.
type platform struct {
	mu      sync.Mutex
	now     func() time.Time
	shown   []shown
	delayed []delayed
	unread  map[string]int // how often a text was looked for in vain, the history not being to be had
}

type shown struct {
	id      training.MessageID
	post    bot.Post
	nonce   string
	at      time.Time
	deleted bool
}

// delayed is a request that is still on its way.
type delayed struct {
	post  bot.Post
	nonce string
	at    time.Time
}

// create makes a message, or returns the one made with the nonce before.
func (p *platform) create(post bot.Post, nonce string) (training.MessageID, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.arrivals()
	return p.put(post, nonce, p.now())
}

func (p *platform) put(post bot.Post, nonce string, at time.Time) (training.MessageID, error) {
	for _, s := range p.shown {
		if s.nonce != nonce || at.Sub(s.at) > nonceMemory {
			continue
		}
		if s.deleted {
			return 0, fmt.Errorf("10008: unknown message: %w", ErrGone)
		}
		return s.id, nil
	}
	id := training.MessageID(len(p.shown) + 1)
	p.shown = append(p.shown, shown{id, post, nonce, at, false})
	return id, nil
}

// arrivals lets in the delayed requests whose time has come.
func (p *platform) arrivals() {
	var still []delayed
	for _, d := range p.delayed {
		if d.at.After(p.now()) {
			still = append(still, d)
		} else {
			_, _ = p.put(d.post, d.nonce, d.at) // its sender has long gone
		}
	}
	p.delayed = still
}

func (p *platform) delay(post bot.Post, nonce string, by time.Duration) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.delayed = append(p.delayed, delayed{post, nonce, p.now().Add(by)})
}

// history looks for a text: the real one does not give nonces back.
func (p *platform) history(post bot.Post, since time.Time) (training.MessageID, bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.arrivals()
	for _, s := range p.shown {
		if !s.deleted && s.post.Text == post.Text && !s.at.Before(since.Add(-time.Minute)) {
			return s.id, true
		}
	}
	return 0, false
}

func (p *platform) erase(text string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	for i, s := range p.shown {
		if s.post.Text == text {
			p.shown[i].deleted = true
		}
	}
}

// seen counts how often a text was ever shown.
func (p *platform) seen(text string) (times int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.arrivals()
	for _, s := range p.shown {
		if s.post.Text == text {
			times++
		}
	}
	return times
}

// reaction is what becomes of one request.
type reaction int

const (
	arrives    reaction = iota // and so does its answer
	answerLost                 // the post is there, an error comes back: a 502 after accept
	comesLate                  // the answer is given up, the request arrives all the same
	vanishes                   // nothing arrives, and nobody can know
	neverLeft
	limited
	limitedAll
	closed
	refused
)

// errWire is an error that tells nothing of what became of the request.
var errWire = errors.New("502 bad gateway")

// errDead is what everything returns once the process has ended.
var errDead = errors.New("the process has ended")

// fuse ends a process after so many steps, before or after the step does its
// work. The zero value never does.
type fuse struct {
	armed bool
	left  int
}

func (f *fuse) burn() error {
	if !f.armed {
		return nil
	}
	if f.left == 0 {
		return errDead
	}
	f.left--
	return nil
}

// step runs one piece of work of a process, which may end before it or after.
func (f *fuse) step(work func() error) error {
	if err := f.burn(); err != nil {
		return err
	}
	err := work()
	if dead := f.burn(); dead != nil {
		return dead
	}
	return err
}

// connection is the way from one process to the platform.
type connection struct {
	*platform
	*fuse
	send func(bot.Post) reaction // nil: all arrives
	find func() error            // nil: history can be read
	lost func(Lost) error        // nil: nobody hears of it
	sent []string                // nonces, one an attempt
}

func (c *connection) Send(_ context.Context, post bot.Post, nonce string) (id training.MessageID, err error) {
	c.sent = append(c.sent, nonce)
	err = c.step(func() error {
		id, err = c.carry(post, nonce)
		return err
	})
	return id, err
}

func (c *connection) carry(post bot.Post, nonce string) (training.MessageID, error) {
	reaction := arrives
	if c.send != nil {
		reaction = c.send(post)
	}
	switch reaction {
	case answerLost:
		_, _ = c.create(post, nonce) // whatever it says is lost
		return 0, errWire
	case comesLate:
		c.delay(post, nonce, 50*time.Second)
		return 0, errWire
	case vanishes:
		return 0, errWire
	case neverLeft:
		return 0, fmt.Errorf("connect: %w", ErrUnsent)
	case limited, limitedAll:
		return 0, fmt.Errorf("429: %w", &RateError{After: 3 * time.Second, All: reaction == limitedAll})
	case closed:
		return 0, fmt.Errorf("50007: %w", ErrClosed)
	case refused:
		return 0, fmt.Errorf("403: %w", ErrRefused)
	}
	return c.create(post, nonce)
}

func (c *connection) Find(_ context.Context, post bot.Post, since time.Time) (id training.MessageID, found bool, err error) {
	err = c.step(func() error {
		if c.find != nil {
			if err := c.find(); err != nil {
				c.unread[post.Text]++
				return err
			}
		}
		id, found = c.history(post, since)
		return nil
	})
	return id, found, err
}

func (c *connection) Lost(_ context.Context, lost Lost) error {
	if c.lost == nil {
		return nil
	}
	return c.step(func() error { return c.lost(lost) })
}

// memoryStore is a store in memory: what it holds outlives every process.
type memoryStore struct {
	mu   sync.Mutex
	rows []row
}

type row struct {
	payload []byte
	state   string
	claimed time.Time
	why     string
	missed  bool
}

const team training.TeamID = 7

// failer is what testing and rapid have in common.
type failer interface {
	Helper()
	Fatal(...any)
}

func (l *memoryStore) form(t failer, post bot.Post) bot.Post {
	t.Helper()
	payload, err := bot.EncodePost(post)
	if err != nil {
		t.Fatal(err)
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	l.rows = append(l.rows, row{payload: payload, state: "formed"})
	post.Unasked = int64(len(l.rows))
	return post
}

func (l *memoryStore) row(id int64) row {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.rows[id-1]
}

// change alters a row that is not settled yet.
func (l *memoryStore) change(id int64, do func(*row)) error {
	l.mu.Lock()
	defer l.mu.Unlock()
	row := &l.rows[id-1]
	if row.state == "sent" || row.state == "dropped" {
		return fmt.Errorf("post %d is %s", id, row.state)
	}
	do(row)
	return nil
}

// processStore is one process's access to the store.
type processStore struct {
	*memoryStore
	*fuse
}

func (b *processStore) Unsent(context.Context) (ids []int64, err error) {
	err = b.step(func() error {
		b.mu.Lock()
		defer b.mu.Unlock()
		for i, row := range b.rows {
			if row.state == "formed" || row.state == "sending" {
				ids = append(ids, int64(i+1))
			}
		}
		return nil
	})
	return ids, err
}

func (b *processStore) Post(_ context.Context, id int64) (training.TeamID, []byte, string, time.Time, error) {
	var got row
	err := b.step(func() error { got = b.row(id); return nil })
	return team, got.payload, got.state, got.claimed, err
}

func (b *processStore) Claim(_ context.Context, id int64, at time.Time) error {
	return b.step(func() error { return b.change(id, func(r *row) { r.state, r.claimed = "sending", at }) })
}

func (b *processStore) Sent(_ context.Context, id int64) error {
	return b.step(func() error {
		return b.change(id, func(r *row) { r.state, r.payload = "sent", nil })
	})
}

func (b *processStore) Dropped(_ context.Context, id int64, why string) error {
	return b.step(func() error { return b.change(id, func(r *row) { r.state, r.why, r.payload = "dropped", why, nil }) })
}

func (b *processStore) Missed(_ context.Context, id int64, why string) error {
	return b.step(func() error {
		return b.change(id, func(r *row) { r.state, r.why, r.payload, r.missed = "dropped", why, nil, true })
	})
}

// world is a clock, a platform and a store, on which processes come and go.
type world struct {
	time     time.Time
	platform *platform
	store    *memoryStore
	lost     map[string]Result // by text: what the bot was told of
}

func newWorld() *world {
	w := &world{time: time.Date(2026, 10, 5, 16, 30, 0, 0, time.UTC), store: &memoryStore{}, lost: map[string]Result{}}
	w.platform = &platform{now: func() time.Time { return w.time }, unread: map[string]int{}}
	return w
}

// process is one start of the program.
type process struct {
	outbox *Outbox
	conn   *connection
	fuse   *fuse
}

func (w *world) start() *process {
	f := &fuse{}
	l := &connection{platform: w.platform, fuse: f, lost: func(lost Lost) error { w.lost[lost.Post.Text] = lost.Why; return nil }}
	return &process{conn: l, fuse: f, outbox: New(&processStore{w.store, f},
		WithClock(func() time.Time { return w.time }),
		WithWait(func(_ context.Context, d time.Duration) error {
			if f.armed && f.left == 0 {
				return errDead
			}
			w.time = w.time.Add(d)
			return nil
		}))}
}

func (p *process) Deliver(ctx context.Context, posts []bot.Post, at time.Time) error {
	return unsettled(p.outbox.Deliver(ctx, p.conn, posts, at))
}

func (p *process) Redeliver(ctx context.Context, posts []bot.Post, at time.Time) error {
	return unsettled(p.outbox.Redeliver(ctx, p.conn, posts, at))
}

func (p *process) Resume(ctx context.Context, at time.Time) error {
	outcomes, err := p.outbox.Resume(ctx, p.conn, at)
	return errors.Join(err, unsettled(outcomes))
}

// unsettled are the errors of the posts that are neither out nor lost.
func unsettled(outcomes []Outcome) error {
	var errs []error
	for _, one := range outcomes {
		if one.Result == Pending {
			errs = append(errs, one.Err)
		}
	}
	return errors.Join(errs...)
}
