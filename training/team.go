package training

import (
	"fmt"
	"strings"
	"time"
)

// TeamID and PersonID are the platform's numbers; zero is nobody.
type (
	TeamID   int64
	PersonID int64
)

// Clock is a time of day in minutes after midnight, 0-1439.
type Clock int

// ParseClock reads HH:MM, 00:00 to 23:59.
func ParseClock(text string) (Clock, error) {
	at, err := time.Parse("15:04", text)
	if err != nil || len(text) != len("15:04") {
		return 0, fmt.Errorf("read time %q: want HH:MM, as 17:30", text)
	}
	return Clock(at.Hour()*60 + at.Minute()), nil
}

// String returns HH:MM.
func (c Clock) String() string { return fmt.Sprintf("%02d:%02d", int(c)/60, int(c)%60) }

// Weekdays is a set of days of the week, one bit each, Sunday the lowest.
type Weekdays uint8

// Has reports whether the weekday is in the set.
func (w Weekdays) Has(day time.Weekday) bool { return w&(1<<day) != 0 }

// With returns the set with the weekday added.
func (w Weekdays) With(day time.Weekday) Weekdays { return w | 1<<day }

// Days lists the set from Monday to Sunday.
func (w Weekdays) Days() []time.Weekday {
	var days []time.Weekday
	for i := range 7 {
		if day := time.Weekday((i + 1) % 7); w.Has(day) {
			days = append(days, day)
		}
	}
	return days
}

// String returns the days by their first three letters: "Mon Thu".
func (w Weekdays) String() string {
	var words []string
	for _, day := range w.Days() {
		words = append(words, day.String()[:3])
	}
	return strings.Join(words, " ")
}

// ParseWeekday reads an English weekday or the first three letters of one, in
// any case.
func ParseWeekday(text string) (time.Weekday, error) {
	for day := time.Sunday; day <= time.Saturday; day++ {
		name := day.String()
		if strings.EqualFold(text, name) || strings.EqualFold(text, name[:3]) {
			return day, nil
		}
	}
	return 0, fmt.Errorf("read weekday %q: want one as Mon or Thursday", text)
}

// ParseWeekdays reads weekdays separated by blanks or commas; at least one.
func ParseWeekdays(text string) (Weekdays, error) {
	var days Weekdays
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' }) {
		day, err := ParseWeekday(word)
		if err != nil {
			return 0, err
		}
		days = days.With(day)
	}
	if days == 0 {
		return 0, fmt.Errorf("read team days %q: name at least one, as Mon Thu", text)
	}
	return days, nil
}

// Quiet is the part of a day, by the local clock, in which nothing late is said.
// It may span midnight. Where From equals Until, the zero value among them, it is
// empty.
type Quiet struct {
	From  Clock
	Until Clock // the first minute that is no longer quiet
}

// Holds reports whether the clock reading is in the quiet stretch.
func (q Quiet) Holds(c Clock) bool {
	if q.From <= q.Until {
		return c >= q.From && c < q.Until
	}
	return c >= q.From || c < q.Until
}

// Team is what a manager and a coach have settled for a team.
type Team struct {
	ID        TeamID
	Name      string
	Zone      *time.Location
	Days      Weekdays
	Nudge     Clock
	DigestDay time.Weekday
	Digest    Clock
	Quiet     Quiet
}

// Member is someone of a team: a member proper, a coach, or both.
type Member struct {
	ID      PersonID
	Name    string
	Zone    *time.Location // the team's, unless they chose their own
	Joined  Day            // the training day of Since; 0 for a coach who never logged and was not enrolled
	Since   time.Time      // the instant of enrolment; no nudge or digest due before it is owed
	Trains  bool           // on the roster as a member
	Coach   bool
	Manager bool
	Nudges  bool // wants to be nudged
}
