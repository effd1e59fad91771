package scheduler

import (
	_ "embed"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"rungbook/training"
)

//go:embed testdata/zones.txt
var zoneNames string

// The years whose clock changes are looked at: from the first that every zone's
// history is kept for to the last that 32-bit clocks knew.
var (
	censusFrom  = time.Date(1970, 1, 1, 0, 0, 0, 0, time.UTC)
	censusUntil = time.Date(2038, 1, 1, 0, 0, 0, 0, time.UTC)
)

// A history is a zone that differs from all others in when its offset changes.
type history struct {
	zone    *time.Location
	changes []time.Time // one ordinary instant where it never does
}

// histories returns every distinct one of the tz database.
func histories(t testing.TB) []history {
	var all []history
	seen := map[string]bool{}
	for line := range strings.Lines(zoneNames) {
		name := strings.TrimSpace(line)
		if name == "" || strings.HasPrefix(name, "#") {
			continue
		}
		h := history{zone: zoneOf(t, name)}
		_, offset := censusFrom.In(h.zone).Zone()
		key := fmt.Sprint(offset)
		for at := censusFrom.In(h.zone); ; {
			_, end := at.ZoneBounds()
			if end.IsZero() || !end.Before(censusUntil) {
				break
			}
			if _, next := end.Zone(); next != offset {
				h.changes = append(h.changes, end)
				key += fmt.Sprint(" ", end.Unix(), next)
				offset = next
			}
			at = end
		}
		if h.changes == nil {
			h.changes = []time.Time{time.Date(2000, 1, 1, 0, 0, 0, 0, h.zone)}
		}
		if !seen[key] {
			seen[key] = true
			all = append(all, h)
		}
	}
	return all
}

// A scanned date is what a look at the clock, minute by minute, saw of it.
type scanned struct {
	first []int64 // by clock: Unix seconds of the first reading at or after it; shorter where none was left
	over  int64   // the end of the last reading of the date
}

// scan looks at a clock in zone at every minute of a stretch (at every second
// where offsets are no whole minutes) and notes what it shows. It knows nothing
// of when the offset changes.
func scan(zone *time.Location, from, until training.Day) map[training.Day]*scanned {
	const widest = 16 * 3600
	epoch := training.Date(1970, 1, 1)
	begin, end := int64(from-epoch)*86400-widest, int64(until+1-epoch)*86400+widest
	step := int64(60)
	dates := map[training.Day]*scanned{}
	var date *scanned
	var today training.Day
	for at := begin; at < end; at += step {
		_, offset := time.Unix(at, 0).In(zone).Zone()
		if offset%60 != 0 && step == 60 {
			step, at = 1, begin-1
			clear(dates)
			date = nil
			continue
		}
		local := at + int64(offset)
		day := epoch + training.Day(math.Floor(float64(local)/86400))
		if date == nil || day != today {
			today = day
			if date = dates[day]; date == nil {
				date = &scanned{}
				dates[day] = date
			}
		}
		clock := int(local-int64(day-epoch)*86400) / 60
		for len(date.first) <= clock {
			date.first = append(date.first, at)
		}
		date.over = at + step
	}
	return dates
}

// checkChange holds Instant against the scan for every minute of every date
// near a clock change, and returns how many cases that was.
func checkChange(t *testing.T, zone *time.Location, change time.Time) (cases int64) {
	from := min(training.CivilDay(change.Add(-time.Second), zone), training.CivilDay(change, zone)) - 1
	until := max(training.CivilDay(change.Add(-time.Second), zone), training.CivilDay(change, zone)) + 1
	dates := scan(zone, from, until)
	for day := from; day <= until; day++ {
		date := dates[day]
		for clock := range training.Clock(24 * 60) {
			cases++
			got, ok := Instant(day, clock, zone)
			if ok != (date != nil) {
				t.Errorf("%s %s %s: exists %t, scan says %t", zone, day, clock, ok, date != nil)
				break
			}
			if !ok {
				continue
			}
			want := date.over - 60
			if int(clock) < len(date.first) {
				want = date.first[clock]
			}
			if got.Unix() != want || got.Nanosecond() != 0 {
				t.Errorf("%s %s %s = %s, scan says %s", zone, day, clock, got, time.Unix(want, 0).In(zone))
				break
			}
		}
	}
	return cases
}

// check goes through the changes that pick chooses of each history.
func check(t *testing.T, pick func([]time.Time) []time.Time) (changes, cases int64) {
	type job struct {
		zone   *time.Location
		change time.Time
	}
	jobs := make(chan job)
	var done sync.WaitGroup
	var total atomic.Int64
	for range runtime.GOMAXPROCS(0) {
		done.Go(func() {
			for j := range jobs {
				total.Add(checkChange(t, j.zone, j.change))
			}
		})
	}
	for _, h := range histories(t) {
		for _, change := range pick(h.changes) {
			changes++
			jobs <- job{h.zone, change}
		}
	}
	close(jobs)
	done.Wait()
	return changes, total.Load()
}

// TestInstantAgainstAScanOfTheClock holds P1, the first instant of every date at
// or after a clock time, against a look at each minute: the everyday sample of
// the census, every zone and a few of its changes.
func TestInstantAgainstAScanOfTheClock(t *testing.T) {
	draw := rand.New(rand.NewPCG(1970, 2037))
	changes, cases := check(t, func(all []time.Time) []time.Time {
		return []time.Time{all[0], all[draw.IntN(len(all))], all[len(all)-1]}
	})
	if changes < 900 {
		t.Errorf("only %d changes looked at: are all zones there?", changes)
	}
	t.Logf("%d changes, %d cases", changes, cases)
}
