//go:build load

package discord_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"rungbook/bot"
	"rungbook/bot/discord"
	"rungbook/bot/discord/discordtest"
	"rungbook/bot/outbox"
	"rungbook/store"
	"rungbook/training"
)

// What the load is, and what must hold under it.
const (
	loadServers  = 2500 // where the platform begins to ask for a second connection, from its reference
	loadLogs     = 1200 // 20 a second for a minute
	loadAsked    = 300  // 5 a second
	loadTime     = time.Minute
	loadGlobal   = 50  // requests a second in all, from the platform's reference
	loadPerRoute = 5   // messages in one place in 5 s, as the platform's headers commonly say; from memory
	mostDrain    = 1.2 // times the limit's floor
	mostAnswer   = 2 * time.Second
	mostReply    = 5 * time.Second // to what is said: it goes before the nudges
)

// TestLoad holds P3's bound on sending. It has the team of each of 2,500
// servers nudged at 18:00 while sets are logged and commands are given in them
// for a minute, on one process, within the platform's rates and in real time.
func TestLoad(t *testing.T) {
	l := newLoad(t)
	l.connect()
	l.settle()
	before := memory()
	began := time.Now()
	start := l.requests()
	l.adapter.Beat(context.Background(), l.clock())
	next := time.AfterFunc(30*time.Second, func() { l.adapter.Beat(context.Background(), l.clock()) })
	defer next.Stop()
	l.talk(began)
	l.rest()
	l.drained(began, start)
	l.answered()
	l.quick()
	t.Logf("memory, the double's included: heap %d MiB before, %d MiB after; resident %s, at most %s",
		before>>20, memory()>>20, status("VmRSS:"), status("VmHWM:"))
}

// load is a stage with many servers on a clock that runs.
type load struct {
	*stage
	clock   func() time.Time
	servers []*server
	asked   []*discordtest.Interaction

	mu    sync.Mutex
	out   map[training.MessageID]time.Time // when a reply was out, by what it answers
	nudge map[training.TeamID][]time.Time
}

// server is one with a team: somebody who logs, and somebody who asks.
type server struct {
	guild        *discordtest.Guild
	channel      *discordtest.Channel
	coaches      *discordtest.Role
	coach        *discordtest.User
	logger, asks *discordtest.User
	said         []*discordtest.Message
	when         []time.Time // each was said
}

func (s *server) team() training.TeamID { return training.TeamID(s.guild.ID) }

// newLoad starts the bot in one server, so that what it registers there is
// known, and builds the others.
func newLoad(t *testing.T) *load {
	began := time.Now()
	six := time.Date(2026, 10, 8, 17, 0, 0, 0, time.UTC) // a Thursday, 18:00 in Lisbon
	clock := func() time.Time { return six.Add(time.Since(began)) }
	l := &load{
		clock: clock, out: map[training.MessageID]time.Time{}, nudge: map[training.TeamID][]time.Time{},
		stage: newStage(t, discordtest.Options{Clock: clock, Global: loadGlobal, PerRoute: loadPerRoute, AskedTime: 3 * time.Second}),
	}
	l.options = func(o *discord.Options) {
		o.Clock, o.Wait = clock, nil
		through := func(sender outbox.Sender) outbox.Sender { return timed{sender, l} }
		o.Outbox = via{outbox.New(l.db, outbox.WithClock(clock), outbox.WithWidth(32)), through}
	}
	for i := range loadServers - 1 {
		guild := l.fake.Guild(fmt.Sprintf("Tidewater Rings %d", i+2))
		s := &server{guild: guild, channel: l.fake.Channel(guild, "rings"), coaches: l.fake.Role(guild, "coach", 0)}
		for _, who := range []struct {
			name string
			as   **discordtest.User
		}{{"Ilda", &s.coach}, {"Priya", &s.logger}, {"Sanna", &s.asks}} {
			*who.as = l.fake.Person(who.name)
			l.fake.Join(guild, *who.as)
		}
		l.fake.Grant(guild, s.coach, s.coaches)
		l.servers = append(l.servers, s)
	}
	l.servers = append(l.servers, &server{guild: l.tide, channel: l.rings, coaches: l.coaches, coach: l.cast["Ilda"], logger: l.cast["Priya"], asks: l.cast["Sanna"]})
	return l
}

// connect has the bot in all servers, with its commands registered as they are
// at any start but the first.
func (l *load) connect() {
	l.open()
	hash := l.registered()
	err := l.db.Update(context.Background(), func(tx *store.Tx) error {
		for _, s := range l.servers {
			if err := tx.PutRegistered(s.team(), hash); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		l.t.Fatal(err)
	}
	began := time.Now()
	l.run()
	l.await("connection", func(v discordtest.View) bool { return v.Links() > 0 })
	l.rest()
	l.t.Logf("connected and at rest in %d servers: %.1f s", len(l.servers), time.Since(began).Seconds())
}

// registered is what the bot keeps of the commands it has set.
func (l *load) registered() (hash string) {
	other := newStage(l.t, discordtest.Options{})
	other.start()
	other.await("commands", func(v discordtest.View) bool { return len(v.Commands(other.tide)) > 0 })
	other.adapter.Rest()
	err := other.db.View(context.Background(), func(tx *store.Tx) (err error) {
		hash, err = tx.Registered(training.TeamID(other.tide.ID))
		return err
	})
	other.end()
	if err != nil || hash == "" {
		l.t.Fatalf("no commands registered: %v", err)
	}
	return hash
}

// rest waits until all that was done is met and answered.
func (l *load) rest() {
	asked := l.fake.Complete(l.rings, l.cast["Rui"], "log", discordtest.Option{Name: "day", Value: "", Focused: true})
	l.await("completion", func(discordtest.View) bool { return asked.Callback != 0 })
	l.adapter.Rest()
}

// settle puts a team of two and their coach into each server, who know the bot.
func (l *load) settle() {
	began := l.clock()
	err := l.db.Update(context.Background(), func(tx *store.Tx) error {
		for _, s := range l.servers {
			if err := s.settle(tx, began); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		l.t.Fatal(err)
	}
	for _, s := range l.servers {
		l.adapter.Settled(s.team())
	}
}

func (s *server) settle(tx *store.Tx, at time.Time) error {
	zone, err := time.LoadLocation("Europe/Lisbon")
	if err != nil {
		return err
	}
	days, err := training.ParseWeekdays("Mon Thu")
	if err != nil {
		return err
	}
	err = errors.Join(
		tx.PutTeam(training.Team{ID: s.team(), Name: s.guild.Name, Zone: zone, Days: days, Nudge: 18 * 60, DigestDay: time.Sunday, Digest: 18 * 60}),
		tx.PutTeamChannel(s.team(), int64(s.channel.ID), int64(s.coaches.ID)),
		tx.Watch(s.team(), int64(s.channel.ID), training.MessageID(s.channel.ID)),
		tx.PutMember(s.team(), training.Member{ID: training.PersonID(s.coach.ID), Name: "Ilda", Zone: zone, Since: at, Coach: true}),
		tx.PutCoachByRole(s.team(), training.PersonID(s.coach.ID), true))
	for _, u := range []*discordtest.User{s.logger, s.asks} {
		id, joined := training.PersonID(u.ID), training.DayOf(at, zone)-14
		_, welcomed := tx.Decide(s.team(), "welcome", id, "first log", "none", at)
		err = errors.Join(err, welcomed,
			tx.PutMember(s.team(), training.Member{ID: id, Name: u.Name, Zone: zone, Since: at.AddDate(0, 0, -14), Nudges: true, Trains: true, Joined: joined}))
	}
	return err
}

// timed notes when each post was out.
type timed struct {
	outbox.Sender
	l *load
}

func (s timed) Send(ctx context.Context, post bot.Post, nonce string) (training.MessageID, error) {
	id, err := s.Sender.Send(ctx, post, nonce)
	if err != nil {
		return id, err
	}
	s.l.mu.Lock()
	defer s.l.mu.Unlock()
	if post.Kind == bot.Nudge {
		s.l.nudge[post.Team] = append(s.l.nudge[post.Team], time.Now())
	} else {
		s.l.out[post.Answers] = time.Now()
	}
	return id, nil
}

// talk has sets logged and commands given, spread over the servers, for a
// minute.
func (l *load) talk(began time.Time) {
	every := loadTime / loadLogs
	perAsked := loadLogs / loadAsked
	for i := range loadLogs {
		time.Sleep(time.Until(began.Add(time.Duration(i) * every)))
		s := l.servers[i*7919%len(l.servers)] // a prime: every server once before any twice
		s.when = append(s.when, time.Now())
		s.said = append(s.said, l.fake.Say(s.channel, s.logger, fmt.Sprintf("3x%ds high hold", 10+i%10)))
		if i%perAsked != 0 {
			continue
		}
		other := l.servers[(i*7919+1)%len(l.servers)]
		switch i / perAsked % 3 {
		case 0:
			l.asked = append(l.asked, l.fake.Slash(other.channel, other.asks, "gates"))
		case 1:
			l.asked = append(l.asked, l.fake.Slash(other.channel, other.asks, "log", discordtest.Option{Name: "text", Value: "3x20s support"}))
		case 2:
			l.asked = append(l.asked, l.fake.Slash(other.channel, other.asks, "me", discordtest.Option{Name: "nudges", Value: "on"}))
		}
	}
}

// requests are those that count against the limit, so far.
func (l *load) requests() (n int) {
	l.fake.Look(func(v discordtest.View) {
		for _, r := range v.Requests() {
			if !strings.HasPrefix(r.Route, "/interactions") {
				n++
			}
		}
	})
	return n
}

// drained holds the nudges: one a team, all out within the limit's floor and a
// fifth, none refused.
func (l *load) drained(began time.Time, start int) {
	var last time.Time
	for _, s := range l.servers {
		sent := l.nudge[s.team()]
		if len(sent) != 1 {
			l.t.Errorf("%d nudges in %s", len(sent), s.guild.Name)
			continue
		}
		if sent[0].After(last) {
			last = sent[0]
		}
	}
	counted, refused := 0, 0
	end := l.clock().Add(time.Until(last))
	l.fake.Look(func(v discordtest.View) {
		for _, r := range v.Requests() {
			if !strings.HasPrefix(r.Route, "/interactions") && !r.At.After(end) {
				counted++
			}
		}
		refused = v.Limited()
	})
	counted -= start
	took, floor := last.Sub(began), time.Duration(counted)*time.Second/loadGlobal
	l.t.Logf("%d nudges and what was answered meanwhile: %d requests in %.1f s, %.2f of the limit's floor of %.1f s; refused for rate: %d",
		len(l.nudge), counted, took.Seconds(), took.Seconds()/floor.Seconds(), floor.Seconds(), refused)
	if float64(took) > mostDrain*float64(floor) {
		l.t.Errorf("the nudges took %s, floor %s", took, floor)
	}
	if refused > 0 {
		l.t.Errorf("%d requests were refused for rate", refused)
	}
}

// answered holds the logs: each stored and answered once.
func (l *load) answered() {
	var waits []time.Duration
	stored := 0
	for _, s := range l.servers {
		for i, m := range s.said {
			out, ok := l.out[training.MessageID(m.ID)]
			if !ok {
				l.t.Errorf("no answer to a log in %s", s.guild.Name)
				continue
			}
			waits = append(waits, out.Sub(s.when[i]))
		}
		l.fake.Look(func(v discordtest.View) {
			for _, m := range s.said {
				if n := len(answersTo(v, m)); n != 1 {
					l.t.Errorf("%d answers to a log in %s", n, s.guild.Name)
				}
			}
		})
		err := l.db.View(context.Background(), func(tx *store.Tx) error {
			for _, m := range s.said {
				if _, ok, err := tx.Log(training.MessageID(m.ID)); err != nil {
					return err
				} else if ok {
					stored++
				}
			}
			return nil
		})
		if err != nil {
			l.t.Fatal(err)
		}
	}
	if stored != loadLogs {
		l.t.Errorf("%d of %d logs are stored", stored, loadLogs)
	}
	l.t.Logf("%d logs answered: half within %s, 99 of 100 within %s, the last within %s", len(waits), at(waits, 50), at(waits, 99), at(waits, 100))
	if at(waits, 99) > mostReply {
		l.t.Errorf("99 of 100 logs answered within %s", at(waits, 99))
	}
	if log := l.stage.out.String(); strings.Contains(log, "level=ERROR") {
		l.t.Errorf("errors in the log:\n%s", log)
	}
}

// quick holds the commands: each answered, 99 of 100 in time and with what was
// asked for, not with a promise.
func (l *load) quick() {
	var took []time.Duration
	promised := 0
	for _, asked := range l.asked {
		switch asked.Callback {
		case 0:
			l.t.Error("a command was not answered")
		case discordtest.Defers:
			promised++
		}
		took = append(took, asked.Took)
	}
	l.t.Logf("%d commands answered: half within %s, 99 of 100 within %s, the last within %s; first with a promise: %d",
		len(took), at(took, 50), at(took, 99), at(took, 100), promised)
	if at(took, 99) > mostAnswer || promised*100 > len(took) {
		l.t.Errorf("99 of 100 commands within %s, %d with a promise first", at(took, 99), promised)
	}
}

// at is the percentile of durations, to the millisecond.
func at(all []time.Duration, percent int) time.Duration {
	if len(all) == 0 {
		return 0
	}
	slices.Sort(all)
	return all[(len(all)-1)*percent/100].Round(time.Millisecond)
}

// memory is what is in use on the heap.
func memory() uint64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

// status is a line of what Linux says of the process.
func status(key string) string {
	data, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return "not told on this system"
	}
	_, after, _ := strings.Cut(string(data), key)
	line, _, _ := strings.Cut(after, "\n")
	return strings.TrimSpace(line)
}
