package parser_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/tj/go-naturaldate"
	"github.com/xhit/go-str2duration/v2"

	"rungbook/parser"
	"rungbook/training"
)

// apart lists the day phrases on which this parser and a general-purpose library
// differ, each with the reason.
var apart = func() map[string]string {
	out := map[string]string{
		"a day ago":  "the library takes a for no number and says today",
		"a week ago": "the library takes a for no number and says today",
	}
	for w := time.Sunday; w <= time.Saturday; w++ {
		out[w.String()] = "on that very weekday the name is today here, for a log is written after the sets; the library says a week before"
	}
	return out
}()

// TestSecondOpinionDays holds day phrases, made up by the dozen on every weekday,
// against a library for natural dates (tj/go-naturaldate, MIT).
func TestSecondOpinionDays(t *testing.T) {
	differ := map[string]bool{}
	for on := training.Date(2026, 2, 26); on < training.Date(2026, 3, 12); on++ {
		y, m, d := on.Civil()
		noon := time.Date(y, m, d, 12, 0, 0, 0, time.UTC)
		for _, phrase := range dayPhrases() {
			theirs, err := naturaldate.Parse(phrase, noon, naturaldate.WithDirection(naturaldate.Past))
			if err != nil {
				t.Fatalf("%q: %v", phrase, err)
			}
			ours, ok := reader.Day(phrase, parser.Context{Today: on})
			if ok && ours == training.Date(theirs.Date()) {
				continue
			}
			if apart[phrase] == "" {
				t.Errorf("on %s, %s, %q is %s (%v); the library says %s", on.Weekday(), on, phrase, ours, ok, theirs.Format(time.DateOnly))
			}
			differ[phrase] = true
		}
	}
	for phrase, why := range apart {
		if !differ[phrase] {
			t.Errorf("%q agrees now: take it off the list (%s)", phrase, why)
		}
	}
}

func dayPhrases() []string {
	out := []string{"today", "yesterday", "a day ago", "one week ago", "a week ago"}
	for n := 1; n <= 12; n++ {
		out = append(out, fmt.Sprintf("%d days ago", n))
	}
	for n := 1; n <= 4; n++ {
		out = append(out, fmt.Sprintf("%d weeks ago", n))
	}
	for w := time.Sunday; w <= time.Saturday; w++ {
		out = append(out, "last "+w.String(), w.String())
	}
	return out
}

// TestSecondOpinionDurations holds durations in every spelling of their units
// against a library that reads them (xhit/go-str2duration, BSD-3).
func TestSecondOpinionDurations(t *testing.T) {
	for s := 1; s <= 600; s++ {
		spelled := []string{fmt.Sprintf("%ds", s)}
		if s >= 60 {
			spelled = append(spelled, fmt.Sprintf("%dm%ds", s/60, s%60))
		}
		if s%60 == 0 {
			spelled = append(spelled, fmt.Sprintf("%dm", s/60))
		}
		if s%6 == 0 && s >= 60 {
			spelled = append(spelled, fmt.Sprintf("%d.%dm", s/60, s%60/6))
		}
		for _, text := range spelled {
			theirs, err := str2duration.ParseDuration(text)
			if err != nil {
				t.Fatalf("%q: %v", text, err)
			}
			got := read("deep hang " + text)
			if len(got.Sets()) != 1 || time.Duration(got.Sets()[0].WorkS)*time.Second != theirs {
				t.Errorf("%q is read as %s; the library says %s", text, shown(got), theirs)
			}
		}
	}
}
