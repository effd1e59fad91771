package rehearsal

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"rungbook/bot"
	"rungbook/bot/words"
	"rungbook/training"
)

// botMark begins each of the bot's lines, which the reader skips.
const botMark = "~"

// NewText returns a scribe that writes the transcript out with the bot's lines
// in it. What it writes is a transcript that gives the same again. Silence is
// shown where somebody might have been answered.
func NewText(w io.Writer, t *Transcript) Scribe {
	text := &text{w: w, t: t, messages: map[training.MessageID]*Event{}}
	for _, event := range t.Events {
		if event.Kind == Says {
			text.messages[event.ID()] = event
		}
	}
	return text
}

type text struct {
	w        io.Writer
	t        *Transcript
	messages map[training.MessageID]*Event
	next     int // the transcript's next line
	events   int // begun so far
	said     bool
	offline  bool
}

// Begin writes the lines up to the event and its own.
func (s *text) Begin(event *Event) error {
	s.events++
	s.said = false
	return s.copy(event.last + 1)
}

// Say writes what the bot says. Where it fell due, it stands above the coming
// event and the comments attached to that.
func (s *text) Say(said Said) error {
	s.said = true
	if said.Event == nil && s.events < len(s.t.Events) {
		if err := s.copy(s.attached(s.t.Events[s.events])); err != nil {
			return err
		}
	}
	_, err := io.WriteString(s.w, s.words(said))
	return err
}

// Rest shows silence.
func (s *text) Rest(event *Event) error {
	switch event.Kind {
	case Offline:
		s.offline = true
	case Online:
		s.offline = false
	case Says, Edits, Deletes, Taps:
		if !s.said && !s.offline {
			_, err := io.WriteString(s.w, botMark+" (silence)\n")
			return err
		}
	}
	return nil
}

// Close writes the rest of the transcript.
func (s *text) Close() error { return s.copy(len(s.t.lines)) }

// copy writes the transcript's own lines before the given one.
func (s *text) copy(until int) error {
	var out strings.Builder
	for ; s.next < until; s.next++ {
		out.WriteString(s.t.lines[s.next].text)
		out.WriteByte('\n')
	}
	_, err := io.WriteString(s.w, out.String())
	return err
}

// attached is the first of the comment lines right above the event.
func (s *text) attached(event *Event) int {
	first := event.first
	for first > s.next && strings.HasPrefix(strings.TrimSpace(s.t.lines[first-1].text), "#") {
		first--
	}
	return first
}

// words are the bot's lines for one thing it says or does.
func (s *text) words(said Said) string {
	var head strings.Builder
	head.WriteString(botMark + " ")
	if said.Event == nil || !said.At.Equal(said.Event.At) {
		head.WriteString(s.clock(said.At) + " ")
	}
	switch said.Kind {
	case bot.Withdraw:
		if said.Tapped {
			return head.String() + "the question to " + said.Name + " alone is taken down\n"
		}
		return head.String() + "the answer to " + s.message(said) + " is taken down\n"
	case bot.Mark:
		return head.String() + "✓ on " + s.message(said) + "\n"
	case bot.Reply, bot.Revise:
	case bot.Fault:
		head.WriteString("fault ")
	default:
		head.WriteString(string(said.Kind) + " ")
	}
	head.WriteString(where(said.Post))
	if said.Answers != 0 && !answersEvent(said) {
		head.WriteString(" on " + s.message(said))
	}
	if said.Kind == bot.Revise {
		head.WriteString(", instead")
	}
	whole := said.Text
	if s.t.ShortWelcome && isWelcome(said.Post) {
		whole = "(welcome)"
	}
	lines := strings.Split(strings.ReplaceAll(whole, "\r", ""), "\n")
	last := len(lines) - 1
	lines[last] += extras(said.Post)
	lines[0] = head.String() + ": " + lines[0]
	for i, line := range lines[1:] {
		lines[i+1] = botMark + " | " + line
	}
	for i, line := range lines {
		lines[i] = strings.TrimRight(line, " ")
	}
	return strings.Join(lines, "\n") + "\n"
}

// isWelcome reports whether the post is the notice that a newcomer is told once.
func isWelcome(post bot.Post) bool {
	return post.Kind == bot.Notice && post.To == bot.ToPrivate && words.IsWelcome(post.Text)
}

func where(post bot.Post) string {
	switch post.To {
	case bot.ToCoach:
		return "to coach " + post.Name
	case bot.ToPrivate:
		return "to " + post.Name + " alone"
	}
	return "in the channel"
}

// answersEvent reports whether the answer is to the very message that the event
// is or is about, so that it need not be named.
func answersEvent(said Said) bool {
	if said.Event == nil {
		return false
	}
	return slices.ContainsFunc([]*Event{said.Event, said.Event.On}, func(event *Event) bool {
		return event != nil && event.ID() == said.Answers
	})
}

// extras are the buttons under an answer and the files with it.
func extras(post bot.Post) string {
	var out strings.Builder
	for _, button := range post.Buttons {
		fmt.Fprintf(&out, " [%s]", button)
	}
	for _, file := range post.Files {
		fmt.Fprintf(&out, " (file %s)", file.Name)
	}
	return out.String()
}

// message names the message answered by its author and time.
func (s *text) message(said Said) string {
	at, name := instantOf(said.Answers), said.Name
	if event, ok := s.messages[said.Answers]; ok {
		at, name = event.At, event.Who.Name
	}
	clock := s.clock(at)
	if date, time, _ := strings.Cut(clock, " "); date == said.At.In(s.t.Team.Zone).Format("2006-01-02") {
		clock = time
	}
	return name + "'s " + clock
}

func (s *text) clock(at time.Time) string { return at.In(s.t.Team.Zone).Format(reading) }
