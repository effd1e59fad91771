package discord_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"rungbook/bot"
	"rungbook/bot/discord/discordtest"
	"rungbook/store/storetest"
)

// rowsAs is every row of every table of the database, a line each, as show writes a
// value.
func (s *stage) rowsAs(show func(any) string) []string {
	s.t.Helper()
	rows, err := storetest.Rows(s.path, show)
	if err != nil {
		s.t.Fatal(err)
	}
	return rows
}

const day = 24 * time.Hour

// masked writes a value without what differs from message to message: numbers of the
// platform's, instants finer than the day, hashes.
func masked(value any) string {
	switch value := value.(type) {
	case int64:
		if value > 1e12 && value%day.Milliseconds() != 0 {
			return "#"
		}
	case []byte:
		return fmt.Sprintf("%d bytes", len(value))
	}
	return fmt.Sprint(value)
}

func (s *stage) beat() {
	s.t.Helper()
	s.quiet()
	s.adapter.Rest()
	s.adapter.Beat(context.Background(), s.clock.Now())
	s.adapter.Rest()
}

// afterPause plays a team in which Bako does nothing but log and somebody is paused as
// act has it. Then more than the time goes by for which that can be taken back.
func afterPause(t *testing.T, coachKnown bool, act func(*stage)) []string {
	s := settled(t, discordtest.Options{})
	s.says("Priya", "3x18s high hold", 1)
	s.enrol(s.cast["Wen"], true)
	if coachKnown {
		s.says("Ilda", "3x18s high hold", 1)
	}
	s.clock.set(time.Date(2026, 10, 8, 18, 30, 0, 0, time.UTC))
	act(s)
	notices := s.fake.Direct(s.cast["Ilda"])
	s.await("notice", func(v discordtest.View) bool {
		return slices.ContainsFunc(v.Messages(notices), func(m *discordtest.Message) bool { return strings.Contains(m.Text, "is paused") })
	})
	s.says("Bako", "3x18s high hold", 1)
	s.clock.add(20 * time.Minute)
	s.beat()
	return s.rowsAs(masked)
}

// P10: who has the database cannot tell a report of pain from /pause: both leave the same
// rows, and nothing differs in them but numbers of the platform's own.
func TestPainLeavesTheRowsOfPause(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct{ pain, pause func(*stage) }{
		"beside sets": {
			func(s *stage) { s.says("Priya", "3x20s high hold, my elbow hurts 5/10", 1) },
			func(s *stage) { s.says("Priya", "3x20s high hold", 1); s.ask(s.rings, "Priya", "pause") },
		},
		"alone": {
			func(s *stage) { s.says("Priya", "my elbow hurts 5/10", 0) },
			func(s *stage) { s.ask(s.rings, "Priya", "pause") },
		},
		"to the bot alone": {
			func(s *stage) { s.saysAlone("Priya", "my elbow hurts 5/10", 1) },
			func(s *stage) { s.saysAlone("Priya", "/pause", 1) },
		},
		"by somebody never written to": {
			func(s *stage) { s.says("Wen", "my elbow hurts 5/10", 0) },
			func(s *stage) { s.ask(s.rings, "Wen", "pause") },
		},
		"asked about": {
			func(s *stage) {
				s.says("Priya", "shoulder alright so far", 0)
				s.pressAlone("Priya", bot.TapHurts)
			},
			func(s *stage) { s.ask(s.rings, "Priya", "pause") },
		},
	} {
		for _, coachKnown := range []bool{false, true} {
			t.Run(fmt.Sprint(name, " ", coachKnown), func(t *testing.T) {
				t.Parallel()
				pain, pause := afterPause(t, coachKnown, c.pain), afterPause(t, coachKnown, c.pause)
				if len(pain) < 20 {
					t.Fatalf("only the rows %q", pain)
				}
				if !slices.Equal(pain, pause) {
					t.Errorf("after pain:\n%s\n\nafter /pause:\n%s", strings.Join(pain, "\n"), strings.Join(pause, "\n"))
				}
			})
		}
	}
}

// pressAlone presses a button that somebody was shown alone.
func (s *stage) pressAlone(name string, button bot.Button) {
	s.t.Helper()
	channel := s.fake.Direct(s.cast[name])
	var on *discordtest.Message
	var id string
	s.await("a button", func(v discordtest.View) bool {
		for _, m := range v.Messages(channel) {
			for _, one := range customIDs(m) {
				if strings.HasPrefix(one, "tap:"+string(button)+":") {
					on, id = m, one
				}
			}
		}
		return on != nil
	})
	s.answered(s.fake.Press(on, s.cast[name], id))
}

// P10: nor can it be read when somebody said that they hurt, in the channel or alone: no
// number is that of the message, of the answer or of the notice, and no instant is
// theirs, but to the day.
func TestNoNumberTellsWhenPainWasSaid(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	for _, name := range []string{"Priya", "Wen", "Ilda"} {
		s.says(name, "3x18s high hold", 1)
	}
	s.saysAlone("Wen", "2x20s support", 1)
	s.clock.set(time.Date(2026, 10, 8, 11, 7, 13, 123e6, time.UTC))
	said := []time.Time{s.clock.Now().Add(time.Minute)}
	s.says("Priya", "my elbow hurts 5/10", 0)
	s.await("her answer", func(v discordtest.View) bool { return len(v.Messages(v.Direct(s.cast["Priya"]))) == 2 })
	s.clock.add(3 * time.Hour)
	said = append(said, s.clock.Now().Add(time.Minute))
	s.saysAlone("Wen", "my wrist hurts 5/10", 1)
	ilda := s.fake.Direct(s.cast["Ilda"])
	s.await("notices", func(v discordtest.View) bool { return len(v.Messages(ilda)) >= 3 })
	s.fake.Look(func(v discordtest.View) {
		resumes := 0
		for _, m := range v.Messages(ilda) {
			for _, id := range customIDs(m) {
				if strings.HasPrefix(id, "tap:resume:") {
					resumes++
				}
				if strings.HasPrefix(id, "tap:resume:") && !strings.HasPrefix(id, "tap:resume:0:") {
					t.Errorf("the button %s names a message", id)
				}
			}
		}
		if resumes != 2 {
			t.Errorf("%d buttons to resume", resumes)
		}
	})
	s.clock.add(3 * time.Hour)
	s.says("Bako", "3x18s high hold", 1)
	s.beat()
	s.end() // what is read again at the next start is kept no finer
	s.clock.add(time.Hour)
	s.start()
	s.says("Bako", "3x20s high hold", 1)
	s.beat()
	rows := s.rowsAs(func(value any) string {
		n, is := value.(int64)
		for _, at := range said {
			if is && (near(time.UnixMilli(n), at) || near(time.UnixMilli(n>>22+1420070400000), at) || near(time.Unix(n, 0), at)) {
				t.Errorf("%d tells that something was said about %s", n, at)
			}
		}
		return fmt.Sprint(value)
	})
	if t.Failed() {
		t.Log(strings.Join(rows, "\n"))
	}
}

// near reports whether an instant is finer than a day and within half an hour of the
// other.
func near(at, other time.Time) bool {
	return !at.Equal(at.Truncate(day)) && at.Sub(other).Abs() < 30*time.Minute
}
