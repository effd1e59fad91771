package scheduler

import (
	"testing"
	"time"
	_ "time/tzdata"

	"rungbook/training"
)

func zoneOf(t testing.TB, name string) *time.Location {
	t.Helper()
	zone, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return zone
}

func instant(t testing.TB, text string) time.Time {
	t.Helper()
	at, err := time.Parse(time.RFC3339, text)
	if err != nil {
		t.Fatal(err)
	}
	return at
}

func dayOf(t testing.TB, text string) training.Day {
	t.Helper()
	day, err := training.ParseDay(text)
	if err != nil {
		t.Fatal(err)
	}
	return day
}

func clockOf(t testing.TB, text string) training.Clock {
	t.Helper()
	clock, err := training.ParseClock(text)
	if err != nil {
		t.Fatal(err)
	}
	return clock
}

// TestInstantOnTheOddDays holds P1 on the days on which clocks do what nobody
// expects: dates that never were, came back or had nothing left. The changes
// themselves are as the IANA time zone database has them: files australasia,
// europe, northamerica.
func TestInstantOnTheOddDays(t *testing.T) {
	for _, c := range []struct {
		why, zone, day, clock string
		want                  string // empty: the date does not exist
	}{
		{"the day before the gap is whole", "Pacific/Apia", "2011-12-29", "23:59", "2011-12-29T23:59:00-10:00"},
		{"Samoa went from the 29th to the 31st", "Pacific/Apia", "2011-12-30", "17:30", ""},
		{"and the 31st began at once", "Pacific/Apia", "2011-12-31", "00:00", "2011-12-31T00:00:00+14:00"},
		{"the Line Islands skipped a day", "Pacific/Kiritimati", "1994-12-31", "17:30", ""},
		{"the day after it", "Pacific/Kiritimati", "1995-01-01", "17:30", "1995-01-01T17:30:00+14:00"},
		{"half an hour skipped: the first instant after", "Australia/Lord_Howe", "2026-10-04", "02:10", "2026-10-04T02:30:00+11:00"},
		{"half an hour twice: the first time", "Australia/Lord_Howe", "2026-04-05", "01:45", "2026-04-05T01:45:00+11:00"},
		{"after the doubled half hour", "Australia/Lord_Howe", "2026-04-05", "02:00", "2026-04-05T02:00:00+10:30"},
		{"the date goes back at 00:01: Saturday's 23:30 comes twice", "America/St_Johns", "2010-11-06", "23:30", "2010-11-06T23:30:00-02:30"},
		{"Sunday's first minute comes twice", "America/St_Johns", "2010-11-07", "00:00", "2010-11-07T00:00:00-02:30"},
		{"its second minute only after Saturday's return", "America/St_Johns", "2010-11-07", "00:01", "2010-11-07T00:01:00-03:30"},
		{"23:00 to midnight skipped: the date's last minute", "America/Nuuk", "2026-03-28", "23:30", "2026-03-28T22:59:00-02:00"},
		{"what is left of that date is as ever", "America/Nuuk", "2026-03-28", "22:59", "2026-03-28T22:59:00-02:00"},
		{"spring in Berlin", "Europe/Berlin", "2026-03-29", "02:30", "2026-03-29T03:00:00+02:00"},
		{"autumn in Berlin", "Europe/Berlin", "2026-10-25", "02:30", "2026-10-25T02:30:00+02:00"},
		{"an hour that comes once", "Europe/Berlin", "2026-10-25", "03:00", "2026-10-25T03:00:00+01:00"},
		{"spring in New York", "America/New_York", "2026-03-08", "02:30", "2026-03-08T03:00:00-04:00"},
		{"autumn in New York", "America/New_York", "2026-11-01", "01:30", "2026-11-01T01:30:00-04:00"},
		{"no clock changes at all", "UTC", "2026-11-01", "17:30", "2026-11-01T17:30:00Z"},
		{"Lisbon, any day", "Europe/Lisbon", "2026-10-05", "17:30", "2026-10-05T17:30:00+01:00"},
		{"an offset of 44 min 30 s", "Africa/Monrovia", "1971-06-01", "17:30", "1971-06-01T18:14:30Z"},
	} {
		got, ok := Instant(dayOf(t, c.day), clockOf(t, c.clock), zoneOf(t, c.zone))
		switch {
		case !ok && c.want != "":
			t.Errorf("%s: %s %s %s: no such date, want %s", c.why, c.zone, c.day, c.clock, c.want)
		case ok && c.want == "":
			t.Errorf("%s: %s %s %s = %s, want no such date", c.why, c.zone, c.day, c.clock, got)
		case ok && !got.Equal(instant(t, c.want)):
			t.Errorf("%s: %s %s %s = %s, want %s", c.why, c.zone, c.day, c.clock, got, c.want)
		}
	}
}
