// Package training holds the rules of the trade: what a programme asks, what a
// set is worth, which gate is open, which day is free, what comes next.
//
// It is pure. It imports the standard library alone and must not read a clock,
// a file, a database or a chat. A day is a civil date, never an instant; times
// and reps are integers; every number comes with its reason as data.
package training

import (
	"fmt"
	"time"
)

// Day is a civil date, counted in days: 1 is 0001-01-01. The zero value means
// "no day" and marshals to null. Days subtract and compare as integers.
type Day int32

// DayStart is the hour of the local clock at which a training day begins: what
// is done before 04:00 belongs to the day before.
const DayStart = 4

// LogDays is how many days back a member may log; further back the coach does.
const LogDays = 60

// unixDay is the Day of 1970-01-01.
const unixDay = 719163

// Date returns the day of a proleptic Gregorian date; out-of-range months and
// days roll over as in time.Date.
func Date(year int, month time.Month, day int) Day {
	return Day(floorDiv(time.Date(year, month, day, 0, 0, 0, 0, time.UTC).Unix(), 86400) + unixDay)
}

// CivilDay returns the date a clock in zone shows at the instant.
func CivilDay(at time.Time, zone *time.Location) Day {
	year, month, day := at.In(zone).Date()
	return Date(year, month, day)
}

// DayOf returns the training day of an instant for someone in zone: the date
// that their clock shows, or the day before where it shows less than 04:00. It
// goes by what the clock shows, not by hours since midnight, so that clock
// changes need no special case.
func DayOf(at time.Time, zone *time.Location) Day {
	day := CivilDay(at, zone)
	if at.In(zone).Hour() < DayStart {
		day--
	}
	return day
}

// ParseDay reads YYYY-MM-DD. The error names the text.
func ParseDay(text string) (Day, error) {
	at, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return 0, fmt.Errorf("read day %q: want YYYY-MM-DD", text)
	}
	return Date(at.Date()), nil
}

// Civil returns year, month and day of the month.
func (d Day) Civil() (int, time.Month, int) { return d.midnight().Date() }

// Weekday returns the day of the week.
func (d Day) Weekday() time.Weekday { return d.midnight().Weekday() }

// Monday returns the first day of the day's ISO 8601 week.
func (d Day) Monday() Day { return d - Day(floorMod(int64(d)-1, 7)) } // day 1 was a Monday

// Week returns the day's ISO 8601 year and week number.
func (d Day) Week() (year, week int) { return d.midnight().ISOWeek() }

// String returns YYYY-MM-DD, or "none" for the zero value.
func (d Day) String() string {
	if d == 0 {
		return "none"
	}
	return d.midnight().Format(time.DateOnly)
}

// MarshalJSON writes "YYYY-MM-DD", or null for the zero value.
func (d Day) MarshalJSON() ([]byte, error) {
	if d == 0 {
		return []byte("null"), nil
	}
	return []byte(`"` + d.String() + `"`), nil
}

// UnmarshalJSON reads what MarshalJSON writes.
func (d *Day) UnmarshalJSON(data []byte) error {
	if string(data) == "null" {
		*d = 0
		return nil
	}
	if len(data) < 2 || data[0] != '"' {
		return fmt.Errorf("read day %s: want a string", data)
	}
	day, err := ParseDay(string(data[1 : len(data)-1]))
	if err != nil {
		return err
	}
	*d = day
	return nil
}

func (d Day) midnight() time.Time {
	return time.Unix((int64(d)-unixDay)*86400, 0).UTC()
}

func floorDiv(a, b int64) int64 {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

func floorMod(a, b int64) int64 { return a - b*floorDiv(a, b) }
