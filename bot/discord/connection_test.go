package discord_test

import (
	"context"
	"errors"
	"strconv"
	"strings"
	"testing"
	"time"

	"rungbook/bot/discord"
	"rungbook/bot/discord/discordtest"
)

// reconnects has the connection end somehow, and wants the next one to work.
func reconnects(t *testing.T, how func(*stage)) {
	t.Helper()
	s := settled(t, discordtest.Options{})
	var before int
	s.fake.Look(func(v discordtest.View) { before = v.Identifies() })
	how(s)
	s.await("a new connection", func(v discordtest.View) bool { return v.Identifies() > before && v.Links() == 1 })
	s.says("Priya", "3x18s high hold", 1)
}

func TestReconnectAfterOp7(t *testing.T) {
	t.Parallel()
	reconnects(t, func(s *stage) { s.fake.Reconnect() })
}

func TestReconnectAfterOp7DuringOpen(t *testing.T) {
	t.Parallel()
	reconnects(t, func(s *stage) {
		s.fake.EarlyReconnect(2)
		s.fake.Reconnect()
	})
}

func TestReconnectAfterInvalidSession(t *testing.T) {
	t.Parallel()
	reconnects(t, func(s *stage) {
		s.fake.Invalid(2)
		s.fake.Cut(4000)
	})
}

func TestReconnectAfterCloseCodes(t *testing.T) {
	t.Parallel()
	for _, code := range []int{4000, 4007, 4009, 1001, 1006} {
		t.Run(strconv.Itoa(code), func(t *testing.T) {
			t.Parallel()
			if code == 1006 { // never sent: the connection just ends
				code = 0
			}
			reconnects(t, func(s *stage) { s.fake.Cut(code) })
		})
	}
}

func TestReconnectWhenNoHelloComes(t *testing.T) {
	t.Parallel()
	s := newStage(t, discordtest.Options{})
	s.options = func(o *discord.Options) { discord.OpenWithin(o, 300*time.Millisecond) }
	s.fake.SilentHello(2)
	s.start()
	s.fake.Look(func(v discordtest.View) {
		if v.Dials() != 3 {
			t.Errorf("%d connections, want 3", v.Dials())
		}
	})
}

// A connection on which heartbeats are not answered is given up after one and a
// half of them.
func TestReconnectFromAZombie(t *testing.T) {
	t.Parallel()
	s := newStage(t, discordtest.Options{Heartbeat: 200 * time.Millisecond})
	s.start()
	s.fake.Deaf(true)
	began := time.Now()
	s.await("a new connection", func(v discordtest.View) bool { return v.Dials() > 1 })
	if took := time.Since(began); took > 5*time.Second {
		t.Errorf("a dead connection was kept for %s", took)
	}
	s.fake.Deaf(false)
	s.await("a connection", func(v discordtest.View) bool { return v.Links() == 1 })
}

// ends runs the bot until it gives up by itself.
func ends(t *testing.T, s *stage) error {
	t.Helper()
	s.open()
	s.run()
	select {
	case err := <-s.ended:
		s.close()
		return err
	case <-time.After(patience):
		t.Fatal("it went on")
		return nil
	}
}

func TestStopAtFatalCloseCodes(t *testing.T) {
	t.Parallel()
	for code, want := range map[int]error{4004: discord.ErrToken, 4010: discord.ErrShard, 4011: discord.ErrShard, 4012: discord.ErrVersion, 4013: discord.ErrVersion, 4014: discord.ErrIntent} {
		t.Run(strconv.Itoa(code), func(t *testing.T) {
			t.Parallel()
			s := newStage(t, discordtest.Options{})
			s.fake.Refuse(code)
			err := ends(t, s)
			if !errors.Is(err, want) || !discord.Final(err) {
				t.Errorf("%v, want %v", err, want)
			}
			s.fake.Look(func(v discordtest.View) {
				if v.Dials() != 1 {
					t.Errorf("it connected %d times", v.Dials())
				}
			})
		})
	}
}

func TestStopWhenTheIntentIsNotSwitchedOn(t *testing.T) {
	t.Parallel()
	s := newStage(t, discordtest.Options{NoContent: true})
	if err := ends(t, s); !errors.Is(err, discord.ErrIntent) || !strings.Contains(err.Error(), "Message Content") {
		t.Error(err)
	}
}

func TestStopWhenTheTokenIsWrong(t *testing.T) {
	t.Parallel()
	s := newStage(t, discordtest.Options{})
	s.options = func(o *discord.Options) { o.Token = "MTA0.wrong.secret" }
	err := ends(t, s)
	if !errors.Is(err, discord.ErrToken) {
		t.Error(err)
	}
	if strings.Contains(err.Error()+s.out.String(), "secret") {
		t.Error("the token stands in what was said")
	}
	s.fake.Look(func(v discordtest.View) {
		if n := len(v.Requests()); n != 1 {
			t.Errorf("a refused token was tried %d times", n)
		}
	})
}

func TestConnectionsOfADayAreCapped(t *testing.T) {
	t.Parallel()
	s := newStage(t, discordtest.Options{})
	s.fake.AllowIdentifies(1)
	waited := make(chan time.Duration, 64)
	s.options = func(o *discord.Options) {
		o.Wait = func(ctx context.Context, d time.Duration) error {
			select {
			case waited <- d:
			default:
			}
			if d > time.Hour {
				<-ctx.Done()
				return ctx.Err()
			}
			return shortly(ctx, d)
		}
	}
	s.start()
	s.fake.Cut(4000)
	for {
		select {
		case d := <-waited:
			if d > time.Hour { // it waits for the day to end
				s.fake.Look(func(v discordtest.View) {
					if v.Identifies() != 1 {
						t.Errorf("%d identifies", v.Identifies())
					}
				})
				return
			}
		case <-time.After(patience):
			t.Fatal("it did not wait")
		}
	}
}

func TestStopsInTimeWhateverItWaitsFor(t *testing.T) {
	t.Parallel()
	for name, bring := range map[string]func(*stage){
		"connected":        func(*stage) {},
		"no Hello":         func(s *stage) { s.fake.SilentHello(9); s.fake.Cut(0) },
		"platform is away": func(s *stage) { s.fake.Fail("GET /gateway/bot", 99, discordtest.CutBefore); s.fake.Cut(0) },
		"requests stall": func(s *stage) {
			s.fake.Fail("POST /channels/{channel_id}/messages", 99, discordtest.Stall)
			s.says("Priya", "3x18s high hold", 0)
		},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := settled(t, discordtest.Options{})
			bring(s)
			s.end() // which looks at the time
			s.fake.Unstall()
		})
	}
}

func TestHealthFollowsTheConnection(t *testing.T) {
	t.Parallel()
	s := newStage(t, discordtest.Options{})
	s.start()
	s.quiet()
	h := s.adapter.Health()
	if !h.Connected || !h.Well(s.clock.Now(), time.Minute) || h.Well(s.clock.Now().Add(10*time.Minute), time.Minute) {
		t.Errorf("%+v", h)
	}
	s.end()
	if h := s.adapter.Health(); h.Connected {
		t.Errorf("%+v after the end", h)
	}
}
