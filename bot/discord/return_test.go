//go:build load

package discord_test

import (
	"testing"
	"time"

	"rungbook/bot/discord/discordtest"
)

// How soon the bot is back after a restart in 2,500 servers, each with a team
// that talked within the last two days, in one of ten of which somebody logged
// meanwhile and in one of fifty of which somebody asks at once.
const (
	mostReturn = 20 * time.Second // for all that was logged meanwhile: 250 pages at the pace of what nobody waits for, and room
	eachLogged = 10
	eachAsks   = 50
)

func TestReturn(t *testing.T) {
	l := newLoad(t)
	l.connect()
	l.settle()
	l.back() // with teams there now
	for _, s := range l.servers {
		l.fake.Say(s.channel, s.asks, "who brings the tape?")
	}
	l.rest()
	l.end()
	for i := 0; i < len(l.servers); i += eachLogged {
		s := l.servers[i]
		s.when, s.said = append(s.when, time.Now()), append(s.said, l.fake.Say(s.channel, s.logger, "3x18s high hold"))
	}
	start, began := l.requests(), time.Now()
	l.open()
	l.run()
	l.await("connection", func(v discordtest.View) bool { return v.Links() > 0 })
	for i := 1; i < len(l.servers); i += eachAsks {
		s := l.servers[i]
		l.asked = append(l.asked, l.fake.Slash(s.channel, s.asks, "gates"))
	}
	l.await("answers to what was logged", func(v discordtest.View) bool {
		for i := 0; i < len(l.servers); i += eachLogged {
			if len(answersTo(v, l.servers[i].said[0])) != 1 {
				return false
			}
		}
		return true
	})
	caught := time.Since(began)
	t.Logf("%d logs of the time away answered within %.1f s of the start, after %d requests", len(l.servers)/eachLogged, caught.Seconds(), l.requests()-start)
	l.quick()
	l.rest()
	t.Logf("all read, the look-back included, within %.1f s, after %d requests", time.Since(began).Seconds(), l.requests()-start)
	if caught > mostReturn {
		t.Errorf("what was logged was answered after %s", caught)
	}
	l.end()
	start, began = l.requests(), time.Now()
	l.back()
	t.Logf("and once more, with nothing new: %d requests in %.1f s", l.requests()-start, time.Since(began).Seconds())
}

// back starts the bot and waits until it is at rest.
func (l *load) back() {
	if l.stop != nil {
		l.end()
	}
	l.start()
	l.rest()
}
