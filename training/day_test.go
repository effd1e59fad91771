package training_test

import (
	"fmt"
	"testing"
	"time"
	_ "time/tzdata"

	"pgregory.net/rapid"

	"rungbook/training"
)

func TestDayJSON(t *testing.T) {
	for _, c := range []struct{ text, back string }{{`"2026-03-29"`, `"2026-03-29"`}, {`null`, `null`}} {
		var d training.Day
		if err := d.UnmarshalJSON([]byte(c.text)); err != nil {
			t.Fatal(err)
		}
		if data, err := d.MarshalJSON(); err != nil || string(data) != c.back {
			t.Errorf("%s comes back as %s, %v", c.text, data, err)
		}
	}
	for _, text := range []string{`"2026-02-30"`, `"2026-3-1"`, `7`, `"`, `""`} {
		var d training.Day
		if err := d.UnmarshalJSON([]byte(text)); err == nil {
			t.Errorf("%s is read as %v", text, d)
		}
	}
}

// TestDayArithmetic checks the count of days against the standard library's
// calendar, also before year 1970 and over leap days.
func TestDayArithmetic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := time.Date(rapid.IntRange(1, 9998).Draw(t, "year"), 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, rapid.IntRange(0, 366).Draw(t, "days"))
		d := training.Date(at.Date())
		next := at.AddDate(0, 0, 1)
		if d+1 != training.Date(next.Date()) || d.String() != at.Format(time.DateOnly) || d.Weekday() != at.Weekday() {
			t.Fatalf("%v is day %v, a %v, and %v follows", at, d, d.Weekday(), training.Date(next.Date()))
		}
		year, month, day := d.Civil()
		if back, err := training.ParseDay(d.String()); err != nil || back != d || training.Date(year, month, day) != d {
			t.Fatalf("%v comes back as %v, %v", d, back, err)
		}
	})
}

// TestISOWeek: ISO 8601 week dates, as in isoWeekTests of Go's
// src/time/time_test.go.
func TestISOWeek(t *testing.T) {
	for text, want := range map[string]string{
		"2005-01-01": "2004-W53-6", "2005-01-02": "2004-W53-7", "2005-12-31": "2005-W52-6", "2006-01-01": "2005-W52-7",
		"2006-01-02": "2006-W01-1", "2007-12-31": "2008-W01-1", "2008-12-29": "2009-W01-1", "2009-12-31": "2009-W53-4",
		"2010-01-03": "2009-W53-7", "2026-12-31": "2026-W53-4", "2027-01-01": "2026-W53-5",
	} {
		d := day(t, text)
		year, week := d.Week()
		if got := fmt.Sprintf("%d-W%02d-%d", year, week, d-d.Monday()+1); got != want {
			t.Errorf("%s is %s, want %s", text, got, want)
		}
	}
}

// TestMonday walks a century: the standard library's week changes exactly where
// Monday does.
func TestMonday(t *testing.T) {
	for d := training.Date(1969, 12, 25); d < training.Date(2070, 1, 10); d++ {
		if d.Monday().Weekday() != time.Monday || d.Monday() > d || d-d.Monday() > 6 {
			t.Fatalf("the Monday of %v is %v", d, d.Monday())
		}
		y1, w1 := d.Week()
		y2, w2 := (d + 1).Week()
		if same := y1 == y2 && w1 == w2; same != (d.Monday() == (d + 1).Monday()) {
			t.Fatalf("%v and the next day: same ISO week is %v", d, same)
		}
	}
}

// TestDaysNotHours: 18:00 two days apart is 47, 48 or 49 hours, but always two
// days. Hours by the IANA time zone database, worked out with Python's zoneinfo.
func TestDaysNotHours(t *testing.T) {
	for _, c := range []struct {
		zone, from, until string
		hours             int
	}{
		{"Europe/Berlin", "2026-03-28T18:00", "2026-03-30T18:00", 47},
		{"Europe/Berlin", "2026-10-24T18:00", "2026-10-26T18:00", 49},
		{"America/New_York", "2026-03-07T18:00", "2026-03-09T18:00", 47},
		{"America/New_York", "2026-10-31T18:00", "2026-11-02T18:00", 49},
		{"UTC", "2026-03-28T18:00", "2026-03-30T18:00", 48},
	} {
		zone := location(t, c.zone)
		from, until := local(t, c.from, zone), local(t, c.until, zone)
		if until.Sub(from) != time.Duration(c.hours)*time.Hour {
			t.Errorf("%s: %v from %s to %s, want %d h", c.zone, until.Sub(from), c.from, c.until, c.hours)
		}
		if gone := training.DayOf(until, zone) - training.DayOf(from, zone); gone != 2 {
			t.Errorf("%s: %d days from %s to %s, want 2", c.zone, gone, c.from, c.until)
		}
	}
}

// TestTrainingDay: the day begins at 04:00 of the reading, on nights of clock
// changes as on any other.
func TestTrainingDay(t *testing.T) {
	for _, c := range []struct{ zone, at, want string }{
		{"Europe/Lisbon", "2026-10-05T04:00", "2026-10-05"},
		{"Europe/Lisbon", "2026-10-05T03:59", "2026-10-04"},
		{"Europe/Lisbon", "2026-10-05T00:00", "2026-10-04"},
		{"Europe/Lisbon", "2026-10-05T23:59", "2026-10-05"},
		{"Europe/Berlin", "2026-03-29T03:59", "2026-03-28"}, // an hour short that night
		{"Europe/Berlin", "2026-03-29T04:00", "2026-03-29"},
		{"Europe/Berlin", "2026-10-25T03:59", "2026-10-24"}, // an hour long that night
		{"Europe/Berlin", "2026-10-25T04:00", "2026-10-25"},
		{"America/New_York", "2026-03-08T03:59", "2026-03-07"},
		{"America/New_York", "2026-03-08T04:00", "2026-03-08"},
		{"America/New_York", "2026-11-01T03:59", "2026-10-31"},
		{"America/New_York", "2026-11-01T04:00", "2026-11-01"},
		{"UTC", "2026-01-01T03:59", "2025-12-31"},
	} {
		zone := location(t, c.zone)
		if got := training.DayOf(local(t, c.at, zone), zone); got != day(t, c.want) {
			t.Errorf("%s %s is of the training day %v, want %s", c.zone, c.at, got, c.want)
		}
	}
	at := local(t, "2026-10-05T02:00", time.UTC)
	if got := training.DayOf(at, location(t, "Asia/Tokyo")); got != day(t, "2026-10-05") {
		t.Errorf("02:00 UTC is 11:00 in Tokyo, but of the day %v", got)
	}
	if got := training.CivilDay(at, time.UTC); got != day(t, "2026-10-05") {
		t.Errorf("the civil day of 02:00 is %v", got)
	}
}

func location(t testing.TB, name string) *time.Location {
	t.Helper()
	zone, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return zone
}

func local(t testing.TB, text string, zone *time.Location) time.Time {
	t.Helper()
	at, err := time.ParseInLocation("2006-01-02T15:04", text, zone)
	if err != nil {
		t.Fatal(err)
	}
	return at
}
