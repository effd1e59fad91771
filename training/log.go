package training

import "time"

// MessageID is the platform's number of a message; numbers grow with time.
type MessageID int64

// ChannelID is the platform's number of a channel, a thread or a conversation
// with one person; 0 for none.
type ChannelID int64

// LogState says what has become of a log.
type LogState string

const (
	LogLive      LogState = "live"      // gives its sets
	LogAsked     LogState = "asked"     // its author is asked whether to keep its sets, which count for nothing until then
	LogEmpty     LogState = "empty"     // edited into something that is no log; may give sets again
	LogDeleted   LogState = "deleted"   // its message is gone
	LogUndone    LogState = "undone"    // withdrawn by its author; stays so whatever is edited
	LogCorrected LogState = "corrected" // a coach's correction stands in its place
)

// Holds reports whether a log of the state has sets.
func (s LogState) Holds() bool { return s == LogLive || s == LogAsked }

// Log is all that is kept of one message that gave sets or was asked about. The
// message's words are not kept. Only a live log and one that is asked about have
// sets.
type Log struct {
	ID      MessageID
	Team    TeamID
	Member  PersonID  // whose sets they are
	Author  PersonID  // who wrote the message: the member, or a coach for them; 0 once erased
	At      time.Time // the message's first instant
	Channel ChannelID // where it was said; 0 for a command from a form, which cannot be edited or deleted
	Edited  time.Time // its latest edit that was taken in; zero for none
	Alone   bool      // said to the bot alone, not in the team's channel
	Silent  bool      // the bot's answer to it has been taken down
	State   LogState
	Days    []DaySets // in the order typed, no day twice; one at least, with or without sets
}

// DaySets are sets of one training day.
type DaySets struct {
	Day  Day
	Sets []Set // in the order typed
}

// OnDay returns the Days of a log whose sets are all of one day.
func OnDay(day Day, sets ...Set) []DaySets { return []DaySets{{day, sets}} }

// Day is the first day of the log.
func (l *Log) Day() Day { return l.Days[0].Day }

// On returns the log's sets of the day; nil where it has none.
func (l *Log) On(day Day) []Set {
	for _, one := range l.Days {
		if one.Day == day {
			return one.Sets
		}
	}
	return nil
}

// Sets are those of all days of the log, in the order typed.
func (l *Log) Sets() []Set { return SetsOf(l.Days) }

// SetsOf are the sets of several days, in the order typed.
func SetsOf(days []DaySets) []Set {
	if len(days) == 1 {
		return days[0].Sets
	}
	var sets []Set
	for _, day := range days {
		sets = append(sets, day.Sets...)
	}
	return sets
}

// Without returns the log in another state, with its days but without their sets.
func (l Log) Without(state LogState) Log {
	l.State = state
	days := make([]DaySets, len(l.Days))
	for i, day := range l.Days {
		days[i].Day = day.Day
	}
	l.Days = days
	return l
}
