// Package bot is the neutral core: one event comes in, posts go out.
//
// Step is synchronous and keeps between calls what the store keeps, and what could
// not be stored. The package must not know a chat platform, start a goroutine, read a
// clock or speak SQL: instants come with the events, and the store stands
// behind the interfaces declared here.
package bot

import (
	"time"

	"rungbook/training"
)

// Event is one thing that reached the bot. When is the instant it happened on the
// platform, not the one at which it was read; of an edit that of the edit.
type Event interface{ When() time.Time }

// Place is where something was said.
type Place string

const (
	Channel Place = "channel" // the team's channel
	Private Place = "private" // to the bot alone
)

// Author is who did something, with the roles that they hold at that moment.
type Author struct {
	ID      training.PersonID
	Name    string
	Coach   bool // holds the coach role, or was named a coach by /setup
	Manager bool // may manage the server
}

// Message is something said. A text that begins with a slash is a command.
type Message struct {
	ID          training.MessageID
	Team        training.TeamID
	Author      Author
	Place       Place
	Channel     training.ChannelID // where on the platform; 0 for a command from a form
	Text        string
	At          time.Time // its first instant
	Edited      time.Time // that of its latest edit, which Text has; zero for none
	ToBot       bool      // the text mentions the bot
	Redelivered bool      // the bot has met it before, and its answer is not out

	// Mentioned are people whom a command may name, by name or as <@ID>, though
	// they may not be on the roster yet.
	Mentioned []Author
}

// Edit is a message with its new text, as it stands since Edited.
type Edit struct{ Message }

// Delete is a message gone.
type Delete struct {
	ID          training.MessageID
	Team        training.TeamID
	Author      Author
	Place       Place
	At          time.Time
	Redelivered bool // the bot has met it before, and the answer still stands
}

// Tap is a button pressed under an answer.
type Tap struct {
	ID     training.MessageID // of the tap itself
	Team   training.TeamID
	Author Author
	Place  Place
	Button Button
	On     training.MessageID // the message whose answer carries the button
	About  training.PersonID  // who wrote that message
	At     time.Time
}

// CatchUp is what happened while the bot was away: messages, edits and
// deletions of one team in order. At is when it was read.
type CatchUp struct {
	Team   training.TeamID
	Events []Event
	At     time.Time
}

// Beat asks what is due for a team.
type Beat struct {
	Team training.TeamID
	At   time.Time
}

// CoachAppeared tells that somebody on the roster is a coach from now on.
type CoachAppeared struct {
	Team  training.TeamID
	Coach training.PersonID
	At    time.Time
}

// CoachGone tells that somebody on the roster is no coach any more: the platform's
// role was taken away from them, or they have left the server.
type CoachGone struct {
	Team  training.TeamID
	Coach training.PersonID
	At    time.Time
}

// When is the event's instant, as Event says, for each kind.
func (e Message) When() time.Time       { return e.At }
func (e Edit) When() time.Time          { return e.Edited }
func (e Delete) When() time.Time        { return e.At }
func (e Tap) When() time.Time           { return e.At }
func (e CatchUp) When() time.Time       { return e.At }
func (e Beat) When() time.Time          { return e.At }
func (e CoachAppeared) When() time.Time { return e.At }
func (e CoachGone) When() time.Time     { return e.At }

// Button is what can be tapped under an answer.
type Button string

const (
	TapWithdraw Button = "withdraw"
	TapGates    Button = "gates"
	TapNext     Button = "next"
	TapWitness  Button = "witness"
	TapResume   Button = "resume"
	TapMisread  Button = "misread"
	TapTell     Button = "tell"  // tell the team of a first attempt done
	TapKeep     Button = "keep"  // store a doubtful message as read
	TapDrop     Button = "drop"  // forget it
	TapHurts    Button = "hurts" // a joint does
	TapFine     Button = "fine"  // none does
)

// Buttons lists all buttons there are.
func Buttons() []Button {
	return []Button{TapWithdraw, TapGates, TapNext, TapWitness, TapResume, TapMisread, TapTell, TapKeep, TapDrop, TapHurts, TapFine}
}
