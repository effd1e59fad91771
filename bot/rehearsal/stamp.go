package rehearsal

import (
	"regexp"
	"strconv"
	"strings"
	"time"
)

// reading is how a stamp is written, and how answers name a message.
const reading = "2006-01-02 15:04"

// The offset may stand apart, but not the letter Z: it could be a name.
var stampForm = regexp.MustCompile(`^(\d{4}-\d{2}-\d{2})[ \t]+(\d{2}:\d{2})` + offsetForm + `(?:[ \t]+|$)`)

// Message numbers hold the milliseconds since 1970 and have to fit.
const firstYear, lastYear = 1970, 2199

// stamp reads the date, the time and the offset at the beginning of an event
// and returns the rest of the line.
func (r *reader) stamp(text string) (at time.Time, rest string, err error) {
	form := stampForm.FindStringSubmatch(text)
	if form == nil {
		if key, _, _ := strings.Cut(text, " "); headerKeys[key].read != nil {
			return at, "", r.fault("%s is a header line; move it above the first blank line", key)
		}
		return at, "", r.fault("an event begins with a date and a time, as 2026-10-05 19:12; " +
			"a comment with #; a further line of a text with blanks and |")
	}
	at, err = r.instant(form[1]+" "+form[2], form[3])
	return at, text[len(form[0]):], err
}

// instant returns when the team's clock shows the reading, or a clock at the
// offset where one is given.
func (r *reader) instant(clock, offset string) (time.Time, error) {
	shown, err := time.Parse(reading, clock)
	if err != nil {
		return time.Time{}, r.fault("there is no %s; write a date and a time as 2026-10-05 19:12", clock)
	}
	if shown.Year() < firstYear || shown.Year() > lastYear {
		return time.Time{}, r.fault("the year %d is out of reach; use one from %d to %d", shown.Year(), firstYear, lastYear)
	}
	if offset = strings.TrimSpace(offset); offset != "" {
		east, ok := seconds(offset)
		if !ok {
			return time.Time{}, r.fault("there is no offset %s; write one as +01:00", offset)
		}
		return shown.Add(-east).In(r.Team.Zone), nil
	}
	at, ok := firstReading(shown, r.Team.Zone)
	if !ok {
		return time.Time{}, r.fault("the clock in %s never shows %s: it is set forward over it; choose another time or give an offset",
			r.Team.Zone, clock)
	}
	return at, nil
}

// seconds reads an offset east of Greenwich. No zone is further than 15:13.
func seconds(offset string) (time.Duration, bool) {
	if offset == "Z" {
		return 0, true
	}
	digits := strings.ReplaceAll(offset[1:], ":", "") + "00"
	hours, _ := strconv.Atoi(digits[:2])
	minutes, _ := strconv.Atoi(digits[2:4])
	east := time.Duration(hours)*time.Hour + time.Duration(minutes)*time.Minute
	if offset[0] == '-' {
		east = -east
	}
	return east, hours <= 15 && minutes < 60
}

// firstReading returns the first instant at which a clock in the zone shows the
// reading, which is given as if it were UTC. It tries every offset in force
// around that time, since Go leaves open which of two it would choose.
func firstReading(shown time.Time, zone *time.Location) (first time.Time, ok bool) {
	const widest = 26 * time.Hour
	for at := shown.Add(-widest).In(zone); ; {
		_, east := at.Zone()
		when := shown.Add(-time.Duration(east) * time.Second).In(zone)
		if when.Format(reading) == shown.Format(reading) && (!ok || when.Before(first)) {
			first, ok = when, true
		}
		_, end := at.ZoneBounds()
		if end.IsZero() || end.After(shown.Add(widest)) {
			return first, ok
		}
		at = end
	}
}
