package training

import "time"

// MessageID is the platform's number of a message; numbers grow with time.
type MessageID int64

// LogState says what has become of a log.
type LogState string

const (
	LogLive      LogState = "live"      // gives its sets
	LogEmpty     LogState = "empty"     // edited into something that is no log; may give sets again
	LogDeleted   LogState = "deleted"   // its message is gone
	LogUndone    LogState = "undone"    // withdrawn by its author; stays so whatever is edited
	LogCorrected LogState = "corrected" // a coach's correction stands in its place
)

// Log is what one message gave, without its words. Only a live log has sets.
type Log struct {
	ID     MessageID
	Team   TeamID
	Member PersonID  // whose sets they are
	Author PersonID  // who wrote the message: the member, or a coach for them
	At     time.Time // the message's first instant
	Day    Day       // the training day the sets belong to
	Alone  bool      // said to the bot alone, not in the channel
	Silent bool      // what it was answered has been taken down
	State  LogState
	Sets   []Set // in the order typed
}
