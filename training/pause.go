package training

import "time"

// RunningPause is the pause somebody is in.
type RunningPause struct {
	From      Day
	CoachEnds bool // a coach has set it, or set it again: only a coach ends it
}

// TakeBack lets somebody take back what they were paused for. It is all that is
// kept of the message that caused the pause, and is kept until it expires.
type TakeBack struct {
	Cause   MessageID
	Day     Day  // the message's training day
	Opened  bool // the message began the pause; false where a pause ran already
	Expires time.Time
}
