// Package rehearsal plays a written conversation through the whole bot on a
// simulated clock, and writes down what was said: as text that is itself such a
// conversation, or as JSON lines.
//
// It must not read a clock, a message's meaning or an answer's words: instants
// come from the transcript, and what is said is between the people in it and
// the bot. Only the welcome is known by its first word, so that a header can ask
// for it in short. The same transcript gives the same bytes on any machine.
package rehearsal

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
	"time"
	"unicode/utf8"

	"rungbook/bot"
	"rungbook/training"
)

// Transcript is a conversation read whole: who is there, and what they do in
// order of time.
type Transcript struct {
	Name   string        // of the file, for errors
	Team   training.Team // as the header has it, with defaults where it is silent; ID is 0
	People []*Person     // in order of first mention
	Events []*Event

	// ShortWelcome has NewText write "(welcome)" for the notice that a newcomer is
	// told once. It is set by the header line "welcome short".
	ShortWelcome bool

	members []string       // as the header enrols them
	keys    map[string]int // header keys that were given, with their lines
	lines   []line         // the file without the bot's lines
}

// Person is somebody the header names.
type Person struct {
	Name    string
	Zone    *time.Location // nil for the team's
	Member  bool
	Coach   bool
	Guest   bool // a stranger, who becomes a member by a first log
	Manager bool // may manage the server
}

// EventKind says what an event is.
type EventKind string

const (
	Says    EventKind = "says"
	Edits   EventKind = "edits"
	Deletes EventKind = "deletes"
	Taps    EventKind = "taps"
	Restart EventKind = "restart" // the bot stops and starts on the same database
	Offline EventKind = "offline" // from here to online the bot hears nothing
	Online  EventKind = "online"
	End     EventKind = "end" // the conversation is watched to the end of this minute
)

// Event is one thing that happens. Who is nil for restart, offline, online and
// end. On is the message that an edit, a deletion or a tap is about.
type Event struct {
	Kind   EventKind
	Line   int // in the file, from 1
	At     time.Time
	Who    *Person
	Place  bot.Place // where it is said; of an edit or deletion, where the message stands
	Text   string    // of Says and Edits
	Button bot.Button
	On     *Event

	first, last int // the lines it takes, as indices into the transcript's
}

// linesPerMillisecond leaves room for every line in a message's number.
const linesPerMillisecond = 1_000_000

// ID is the platform's number of the message or tap: it grows with time, and
// with the lines where the time is the same.
func (e *Event) ID() training.MessageID {
	return training.MessageID(e.At.UnixMilli()*linesPerMillisecond + int64(e.Line))
}

// instantOf returns the instant that went into a message's number.
func instantOf(id training.MessageID) time.Time {
	return time.UnixMilli(int64(id) / linesPerMillisecond)
}

// Command reports whether the event is a command, a slash and a name, which a
// platform does not treat as a message: it can't be edited, deleted or read
// later.
func (e *Event) Command() bool { return e.Kind == Says && commandForm.MatchString(e.Text) }

var commandForm = regexp.MustCompile(`^/[A-Za-z]`)

// Fault is what is wrong with a transcript, and what to do about it.
type Fault struct {
	File string
	Line int
	Say  string
}

// Error returns "file:line: what is wrong; what to do".
func (f *Fault) Error() string { return fmt.Sprintf("%s:%d: %s", f.File, f.Line, f.Say) }

// line is one line of the file, without its end.
type line struct {
	number int
	text   string
}

// reader reads a transcript line by line.
type reader struct {
	*Transcript
	at       line
	state    readState
	skipping bool // the lines just above are the bot's
	zones    []ownZone
	byName   map[string]*Person
	names    []*Person // longest name first
	said     map[string][]*Event
	offline  *Event
}

type readState int

const (
	beforeHeader readState = iota
	inHeader
	inBody
)

var continuation = regexp.MustCompile(`^[ \t]+\|[ ]?`)

// Parse reads a transcript whole. The name is the file's, for errors. The error
// is a *Fault: the first thing that can't be read.
func Parse(name string, data []byte) (*Transcript, error) {
	r := &reader{
		Transcript: &Transcript{Name: name, keys: map[string]int{}},
		byName:     map[string]*Person{}, said: map[string][]*Event{},
	}
	lines, err := r.split(data)
	if err != nil {
		return nil, err
	}
	for _, at := range lines {
		r.at = at
		if err := r.read(); err != nil {
			return nil, err
		}
	}
	if r.state != inBody {
		if err := r.endHeader(); err != nil {
			return nil, err
		}
	}
	if r.offline != nil {
		r.at.number = r.offline.Line
		return nil, r.fault("offline has no online; add the line on which the bot is back")
	}
	for _, event := range r.Events {
		event.Text = strings.TrimSpace(event.Text)
	}
	return r.Transcript, nil
}

// split cuts the file into lines. A byte order mark and carriage returns before
// a line's end are dropped: they are no part of what was said.
func (r *reader) split(data []byte) ([]line, error) {
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	var lines []line
	for text := range bytes.Lines(data) {
		r.at.number++
		if !utf8.Valid(text) {
			return nil, r.fault("this is not UTF-8; save the file as UTF-8 text")
		}
		if r.at.number >= linesPerMillisecond {
			return nil, r.fault("too long: a transcript has fewer than %d lines; split it and keep the database with --db",
				linesPerMillisecond)
		}
		lines = append(lines, line{r.at.number, string(bytes.TrimRight(text, "\r\n"))})
	}
	return lines, nil
}

func (r *reader) fault(format string, values ...any) error {
	return &Fault{File: r.Name, Line: r.at.number, Say: fmt.Sprintf(format, values...)}
}

// read takes in one line. Those of the bot are skipped with their
// continuations, so that a rendering reads like what it was made from.
func (r *reader) read() error {
	text := strings.TrimSpace(r.at.text)
	switch {
	case text == "" || strings.HasPrefix(text, "#"):
		r.lines = append(r.lines, r.at)
		if text == "" && r.state == inHeader {
			return r.endHeader()
		}
		return nil
	case strings.HasPrefix(r.at.text, botMark):
		r.skipping = true
		return nil
	case continuation.MatchString(r.at.text):
		if r.skipping {
			return nil
		}
		r.lines = append(r.lines, r.at)
		return r.continuation()
	}
	r.skipping = false
	r.lines = append(r.lines, r.at)
	if r.state == inBody {
		return r.event(text)
	}
	return r.header(text)
}

// continuation adds a line to the text of the event above.
func (r *reader) continuation() error {
	if len(r.Events) == 0 {
		return r.fault("a line that begins with | continues the text of a message, and there is none above it")
	}
	event := r.Events[len(r.Events)-1]
	if event.Kind != Says && event.Kind != Edits {
		return r.fault("a line that begins with | continues a text, and %q above it has none", event.Kind)
	}
	event.Text += "\n" + continuation.ReplaceAllString(r.at.text, "")
	event.last = len(r.lines) - 1
	return nil
}
