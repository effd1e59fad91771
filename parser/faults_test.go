package parser_test

import (
	"slices"
	"strings"
	"testing"

	"rungbook/parser"
	"rungbook/training"
)

// TestFaultsOfTheFirstReader holds what was seen stored wrongly, lost or met with
// silence before the reader was rebuilt. The sets are in canonical form; "not
// stored" is a question or silence.
func TestFaultsOfTheFirstReader(t *testing.T) {
	const notStored = "not stored"
	for text, want := range map[string]string{
		"deep hang 3x30 no wait, 2x30":            "2x30s deep hang",
		"3x30s deep hang, 3x10 shoulder taps":     "3x30s deep hang",
		"pull-ups 5, 5, 4 at home":                "2x5 pull-ups, 4 pull-ups",
		"pull-ups 5,5,5 w band":                   "3x5 band pull-ups",
		"support 30 30 x":                         "2x30s support, 1x fail support",
		"3x30s deep hang by 7pm":                  "3x30s deep hang",
		"warm up 10 min, 3x30s deep hang":         "3x30s deep hang",
		"today 3x30s deep hang, yesterday rest":   "3x30s deep hang",
		"3x30s deep hang, coach back on the 30th": "3x30s deep hang",
		"3x30s deep hang - not today":             notStored,
		"deep hang x3: 30s, 28s, 26s":             "30s deep hang, 28s deep hang, 26s deep hang",
		"3x30s deep hang // 3x20s support":        "3x30s deep hang, 3x20s support",
		"pull-ups 5/5/4, dpis 8/8/7":              notStored,
		"kipping muscle up x1":                    notStored,
		"deep hang 3x.3min":                       "3x18s deep hang",
		"deep hang 30s*3":                         "3x30s deep hang",
		"30s*3":                                   notStored,
		"no toes support hold 3x12s":              "3x12s support",
		"heute kein 3x30s deep hang":              notStored,
	} {
		got := read(text)
		written := notStored
		if got.Verdict == parser.Log {
			written = reader.Format(got.Sets())
			if got.First().Day != today {
				written += " on " + got.First().Day.String()
			}
		}
		if written != want {
			t.Errorf("%q is %s, not %s: %s", text, written, want, shown(got))
		}
	}
	if got := read("3x30s deep hang, 3x10 shoulder taps"); !slices.Equal(got.NotCounted, []string{"3x10 shoulder taps"}) || got.Care != "" {
		t.Errorf("shoulder taps: %s", shown(got))
	}
	if got := read("pull-ups 5/5/4, dpis 8/8/7"); got.Verdict != parser.Unsure || len(got.Sets()) != 3 {
		t.Errorf("dpis are met with %s", shown(got))
	}
	if got := read("FIRST MUSCLE UP!!!!!"); reader.Format(got.Sets()) != "muscle-up 1/1" {
		t.Errorf("a first muscle-up is met with %s", shown(got))
	}
}

// TestJointsMissedByTheFirstReader holds sore joints that were met with silence,
// and one of somebody else's that was not.
func TestJointsMissedByTheFirstReader(t *testing.T) {
	for text, heard := range map[string]bool{
		"all good except my elbow":                                true,
		"ouch. that was too much. elbow.":                         true,
		"a friend of mine has golfer's elbow, any tips?":          false,
		"squeezed in 3x30s deep hang":                             false,
		"keep your elbows in and your shoulders back, 3x30s hold": false,
	} {
		got := read(text)
		if stops := got.Care.Pauses(); stops && !heard || heard && !stops && got.Care != training.AskCare {
			t.Errorf("%q: %s", text, shown(got))
		}
	}
}

// TestBodyWordsAreNotReadBack holds that words that may speak of a body are not read
// back as unknown ones, also where no care was heard.
func TestBodyWordsAreNotReadBack(t *testing.T) {
	for _, text := range []string{"3x20s support wrist wraps on", "3x20s support zorble elbow sleeves"} {
		for _, word := range read(text).Unread {
			if strings.Contains(word, "wrist") || strings.Contains(word, "elbow") {
				t.Errorf("%q: %q is read back", text, word)
			}
		}
	}
	if got := read("3x20s zorble support"); !slices.Equal(got.Unread, []string{"zorble"}) {
		t.Errorf("zorble is read back as %q", got.Unread)
	}
}
