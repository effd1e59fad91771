package outbox

import (
	"fmt"
	"testing"
	"time"

	"pgregory.net/rapid"

	"rungbook/bot"
)

// trial is a world in which everything goes wrong that can, and what is to be
// true of it whatever does.
type trial struct {
	*world
	r         *rapid.T
	bots      []*process // two by mistake, on one database
	posts     []bot.Post
	late      map[string]bool // a request for the text came late
	deleted   map[string]int
	reactions *rapid.Generator[reaction]
}

func newTrial(t *rapid.T) *trial {
	tr := &trial{world: newWorld(), r: t, late: map[string]bool{}, deleted: map[string]int{}}
	// Half of all requests arrive; a recipient who is closed for good, or a
	// refusal, is rare.
	tr.reactions = rapid.SampledFrom([]reaction{arrives, arrives, arrives, arrives, arrives, arrives, arrives,
		answerLost, answerLost, comesLate, vanishes, neverLeft, limited, limitedAll, closed, refused})
	tr.bots = []*process{tr.boot(), tr.boot()}
	return tr
}

func (tr *trial) boot() *process {
	p := tr.start()
	p.conn.send = func(post bot.Post) reaction {
		f := tr.reactions.Draw(tr.r, "reaction")
		tr.late[post.Text] = tr.late[post.Text] || f == comesLate
		return f
	}
	p.conn.find = func() error {
		return rapid.SampledFrom([]error{nil, nil, nil, errWire, &RateError{After: time.Second}, ErrRefused}).Draw(tr.r, "history")
	}
	return p
}

func (tr *trial) bot() *process { return rapid.SampledFrom(tr.bots).Draw(tr.r, "bot") }

// say forms posts and lets a bot deliver them, which may end on the way.
func (tr *trial) say(t *rapid.T) {
	var batch []bot.Post
	for range rapid.IntRange(1, 3).Draw(t, "posts") {
		text := fmt.Sprint("post ", len(tr.posts)+1)
		post := rapid.SampledFrom([]bot.Post{notice(text), nudge(text), {Kind: bot.Digest, To: bot.ToCoach, Person: 2, Text: text}}).Draw(t, "post")
		if rapid.Bool().Draw(t, "goes stale") {
			post.Until = tr.time.Add(time.Duration(rapid.IntRange(0, 1200).Draw(t, "seconds")) * time.Second)
		}
		post = tr.store.form(tr.r, post)
		tr.posts = append(tr.posts, post)
		batch = append(batch, post)
	}
	_ = tr.bot().Deliver(tr.r.Context(), batch, tr.time) // what it could not do, the end tells
}

func (tr *trial) resume(*rapid.T) { _ = tr.bot().Resume(tr.r.Context(), tr.time) }

func (tr *trial) crash(t *rapid.T) {
	i := rapid.IntRange(0, len(tr.bots)-1).Draw(t, "bot")
	f := tr.bots[i].fuse
	f.armed, f.left = true, rapid.IntRange(0, 12).Draw(t, "steps")
	tr.resume(t)
	tr.say(t)
	tr.bots[i] = tr.boot()
}

func (tr *trial) pass(t *rapid.T) {
	tr.time = tr.time.Add(rapid.SampledFrom([]time.Duration{time.Second, 20 * time.Second, time.Minute, 4 * time.Minute, 2 * time.Hour}).Draw(t, "time"))
}

func (tr *trial) delete(t *rapid.T) {
	if len(tr.posts) == 0 {
		return
	}
	text := rapid.SampledFrom(tr.posts).Draw(t, "deleted").Text
	if tr.platform.seen(text) > 0 {
		tr.deleted[text]++
		tr.platform.erase(text)
	}
}

// heal lets all go well from now on.
func (tr *trial) heal() {
	tr.time = tr.time.Add(2 * time.Minute)
	p := tr.start()
	if err := p.Resume(tr.r.Context(), tr.time); err != nil {
		tr.r.Fatalf("when all is well: %v", err)
	}
	tr.time = tr.time.Add(2 * time.Minute)
}

// check holds P7: each decision visibly once, or told to be lost; and nothing
// is said when its time is over.
func (tr *trial) check() {
	for _, s := range tr.platform.shown {
		if until := s.post.Until; !until.IsZero() && s.at.After(until) && !tr.late[s.post.Text] {
			tr.r.Fatalf("%s shown at %s, until %s", s.post.Text, s.at, until)
		}
	}
	for _, post := range tr.posts {
		row, seen, told := tr.store.row(post.Unasked), tr.platform.seen(post.Text), tr.lost[post.Text]
		state := fmt.Sprintf("%s: %s %s, shown %d times, told %q", post.Text, row.state, row.why, seen, told)
		if seen > 1+tr.deleted[post.Text]+tr.again(post) {
			tr.r.Fatalf("shown twice: %s", state)
		}
		switch row.state {
		case "sent":
			if seen == 0 {
				tr.r.Fatalf("never shown: %s", state)
			}
		case "dropped":
			if told == "" {
				tr.r.Fatalf("lost without a word: %s", state)
			}
			// Only these are sure that nobody has seen it.
			if told == TooLate && seen > tr.deleted[post.Text] && !tr.late[post.Text] {
				tr.r.Fatalf("too late, yet shown: %s", state)
			}
			if told == TooLate && post.Until.IsZero() {
				tr.r.Fatalf("never stale: %s", state)
			}
		default:
			tr.r.Fatalf("left over: %s", state)
		}
	}
}

// again is how often a post may be shown anew because nobody could see that it was
// out.
func (tr *trial) again(post bot.Post) int {
	if post.Kind == bot.Nudge || post.Kind == bot.Digest {
		return 0
	}
	return tr.platform.unread[post.Text]
}

// P7: each decision is visibly once, through lost answers, errors after the post
// was accepted, late requests, rate limits, deletions, ends of the process at
// any step, and two bots by mistake.
func TestEachDecisionVisiblyOnce(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		tr := newTrial(r)
		r.Repeat(map[string]func(*rapid.T){"say": tr.say, "resume": tr.resume, "crash": tr.crash, "pass": tr.pass, "delete": tr.delete})
		tr.heal()
		tr.check()
	})
}

// P7 for answers: one is shown at most once, and once where that is its outcome;
// one that is lost is told.
func TestEachAnswerVisiblyOnce(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		tr := newTrial(r)
		var batch []bot.Post
		for i := range rapid.IntRange(1, 4).Draw(r, "answers") {
			batch = append(batch, reply(fmt.Sprint("answer ", i), 11))
		}
		begun := tr.time
		outcomes := [][]Outcome{
			tr.bots[0].outbox.Deliver(r.Context(), tr.bots[0].conn, batch, begun),
			tr.bots[1].outbox.Deliver(r.Context(), tr.bots[1].conn, batch, begun),
		}
		took := tr.time.Sub(begun)
		tr.time = tr.time.Add(2 * time.Minute)
		for i, post := range batch {
			seen := tr.platform.seen(post.Text)
			if seen > 1 && took < nonceMemory {
				r.Fatalf("%s: shown %d times", post.Text, seen)
			}
			for _, of := range outcomes {
				one, told := of[i], tr.lost[post.Text]
				holds := one.Err != nil && told != ""
				switch one.Result {
				case Sent:
					holds = one.Err == nil && seen > 0
				case Pending:
					holds = one.Err != nil
				}
				if !holds {
					r.Fatalf("%s: shown %d times, outcome %v, told %q", post.Text, seen, one, told)
				}
			}
		}
	})
}
