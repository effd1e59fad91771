package store

import (
	"database/sql/driver"
	"errors"
	"fmt"
	"sync"
	"time"

	"rungbook/training"
)

// Days beyond these would not sort as text.
var firstDay, lastDay = training.Date(1, 1, 1), training.Date(9999, 12, 31)

// date is a day that must be there, YYYY-MM-DD in a row.
type date training.Day

// Value writes the day.
func (d date) Value() (driver.Value, error) {
	day := training.Day(d)
	if day == 0 {
		return nil, errNoDay
	}
	if day < firstDay || day > lastDay {
		return nil, fmt.Errorf("day %d is out of the calendar", day)
	}
	return day.String(), nil
}

// Scan reads the day.
func (d *date) Scan(value any) error {
	text, ok := value.(string)
	if !ok {
		return fmt.Errorf("read day: want text, have %T", value)
	}
	day, err := training.ParseDay(text)
	*d = date(day)
	return err
}

// maybeDate is a day that may be none, NULL in a row.
type maybeDate training.Day

// Value writes the day or NULL.
func (d maybeDate) Value() (driver.Value, error) {
	if d == 0 {
		return nil, nil
	}
	return date(d).Value()
}

// Scan reads the day or NULL.
func (d *maybeDate) Scan(value any) error {
	if value == nil {
		*d = 0
		return nil
	}
	return (*date)(d).Scan(value)
}

// instant is milliseconds since 1970 UTC in a row.
type instant time.Time

// Value writes the instant.
func (i instant) Value() (driver.Value, error) { return time.Time(i).UnixMilli(), nil }

// Scan reads the instant.
func (i *instant) Scan(value any) error {
	ms, ok := value.(int64)
	if !ok {
		return fmt.Errorf("read instant: want a number, have %T", value)
	}
	*i = instant(time.UnixMilli(ms).UTC())
	return nil
}

// maybeInstant is an instant that may be none, NULL in a row and the zero time.
type maybeInstant time.Time

// Value writes the instant or NULL.
func (i maybeInstant) Value() (driver.Value, error) {
	if time.Time(i).IsZero() {
		return nil, nil
	}
	return instant(i).Value()
}

// Scan reads the instant or NULL.
func (i *maybeInstant) Scan(value any) error {
	if value == nil {
		*i = maybeInstant{}
		return nil
	}
	return (*instant)(i).Scan(value)
}

// wholeDay rounds an instant down to the beginning of its day, UTC. Instants that
// may belong to a pause are kept so: a finer one could be found in the number of
// the message that set it.
func wholeDay(at time.Time) instant { return instant(at.UTC().Truncate(24 * time.Hour)) }

// dayOf is the day of an instant, UTC.
func dayOf(at time.Time) date { return date(training.Date(at.UTC().Date())) }

// optional is a number that may be unsaid, NULL in a row.
func optional(o training.Optional) any {
	if !o.Known {
		return nil
	}
	return int64(o.Value)
}

// zones loads each time zone once: loading takes longer than a query.
type zones struct {
	mu     sync.Mutex
	loaded map[string]*time.Location
}

func (z *zones) load(name string) (*time.Location, error) {
	z.mu.Lock()
	defer z.mu.Unlock()
	if zone, ok := z.loaded[name]; ok {
		return zone, nil
	}
	if name == "" || name == "Local" {
		return nil, fmt.Errorf("zone %q is no IANA name", name)
	}
	zone, err := time.LoadLocation(name)
	if err != nil {
		return nil, fmt.Errorf("load zone: %w", err)
	}
	if z.loaded == nil {
		z.loaded = map[string]*time.Location{}
	}
	z.loaded[name] = zone
	return zone, nil
}

// name returns the zone's name if it can be loaded by it again.
func (z *zones) name(zone *time.Location) (string, error) {
	if zone == nil {
		return "", errors.New("a zone is missing")
	}
	_, err := z.load(zone.String())
	return zone.String(), err
}
