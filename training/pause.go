package training

import "time"

// RunningPause is the pause somebody is in.
type RunningPause struct {
	From      Day
	CoachEnds bool // a coach has set it, or set it again: only a coach ends it
}

// TakeBack lets somebody take back what they were paused for. It is all that is
// kept of the message or command that caused the pause, and is kept until it expires.
type TakeBack struct {
	Number  int64 // the store's; 0 before it was put
	Day     Day   // the training day of the message or command that caused the pause
	Opened  bool  // that began the pause; false where a pause ran already
	Expires time.Time
}
