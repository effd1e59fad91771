package bot

import (
	"time"

	"rungbook/training"
)

// Kind says what a post is.
type Kind string

const (
	Reply    Kind = "reply"    // answers an event
	Revise   Kind = "revise"   // stands in the place of the earlier answer
	Withdraw Kind = "withdraw" // the earlier answer is removed, or the one tapped; Text is empty
	Mark     Kind = "mark"     // a ✓ on the message; Text is empty
	Nudge    Kind = "nudge"
	Digest   Kind = "digest"
	Notice   Kind = "notice" // unasked, to a coach or privately to a member
	Fault    Kind = "error"  // the bot's own fault
)

// Audience says who reads a post.
type Audience string

const (
	ToChannel Audience = "channel"
	ToPrivate Audience = "private" // to Person alone
	ToCoach   Audience = "coach"   // to the coach Person alone
)

// Post is one thing the bot says or does. The adapter sends it as it is, with
// mentions off but for those of Mentions.
type Post struct {
	Kind     Kind
	Team     training.TeamID // whose channel, or whose member or coach Person is
	To       Audience
	Person   training.PersonID  // whose message is answered, or who is written to; 0 for a nudge
	Name     string             // of Person
	About    training.PersonID  // whom a notice to a coach is about; 0 for any other
	Answers  training.MessageID // 0 where nothing is answered
	Cause    training.MessageID // the message an unasked post came of; 0 for none
	Event    int                // which event of a CatchUp is answered, from 1; 0 for any other
	Text     string
	Facts    Facts // what Text is made from; nil for {}
	Buttons  []Button
	Mentions []Mention // who may be pinged: those whom Text names, in its order
	Files    []File
	Tapped   bool      // of a Withdraw: what is removed is the very answer whose button was tapped
	Until    time.Time // the last moment to send what is said unasked; zero: it never goes stale
	Unasked  int64     // the stored post's number; 0 for an answer, which is not stored

	// Traceless says that the post belongs to a pause, or to what somebody said of
	// their body: nothing that tells when it was sent is to be kept.
	Traceless bool
}

// Mention is somebody whom a text names and who may be pinged by it. Name is as
// it stands in the text.
type Mention struct {
	ID   training.PersonID
	Name string
}

// Facts is the data behind a post's words, as the contract's JSON names it: one of
// the facts of package words, or StoredFacts.
type Facts interface{ Facts() }

// File is something attached to a post.
type File struct {
	Name string
	Data []byte
}
