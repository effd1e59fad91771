package training

import "time"

// RunningPause is the pause somebody is in.
type RunningPause struct {
	From      Day
	CoachEnds bool // a coach has set it, or set it again: only a coach ends it
}

// TakeBack lets somebody take the cause of a pause back until it expires. It is
// all that is kept of the cause, and no longer than that.
type TakeBack struct {
	Cause   MessageID
	Day     Day  // the training day on which the cause came
	Opened  bool // the pause began with this cause
	Expires time.Time
}
