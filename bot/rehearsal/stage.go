package rehearsal

import (
	"time"

	"rungbook/bot"
	"rungbook/training"
)

// stage stands where a chat platform would: what is sent appears on it at once,
// at the clock's instant, and is written down.
type stage struct {
	scribe Scribe
	at     time.Time
	event  *Event                     // being played; nil while things fall due
	missed []*Event                   // what the bot is catching up on
	lines  map[training.MessageID]int // the line that last had to do with a message
	err    error                      // the scribe's first; it ends the rehearsal
}

// causes notes the event as the latest about its message.
func (s *stage) causes(event *Event) {
	if s.lines == nil {
		s.lines = map[training.MessageID]int{}
	}
	s.lines[event.ID()] = event.Line
	if event.On != nil {
		s.lines[event.On.ID()] = event.Line
	}
}

// show writes down one post. To the bot it always succeeds: a fault of the scribe
// is no fault of the platform, and trying again would not help.
func (s *stage) show(post bot.Post) error {
	said := Said{Post: post, At: s.at, Event: s.event}
	if post.Answers != 0 {
		said.Line = s.line(post)
	}
	if s.err == nil {
		s.err = s.scribe.Say(said)
	}
	return nil
}

// line is the line of the event that an answer came of: the event being played;
// while catching up, the one that the post names; else the latest about the message
// that is answered.
func (s *stage) line(post bot.Post) int {
	if post.Event > 0 && post.Event <= len(s.missed) {
		return s.missed[post.Event-1].Line
	}
	if s.event != nil && s.event.Kind != Online && s.event.Kind != Restart {
		return s.event.Line
	}
	if line, ok := s.lines[post.Answers]; ok {
		return line
	}
	if s.event != nil {
		return s.event.Line
	}
	return 0
}
