package parser_test

import (
	"fmt"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"rungbook/parser"
)

// hostile are texts that would cost a careless reader far more than their
// length.
var hostile = []string{
	"1 ", "1/", "1,", "1:", "3x", "x", "(", "()", "\"", "\"a\" 1 ", "`1`", "~~1~~", "<", "<@1", "@", "@8 ", "+5 ", "-5kg ", "elbow ", "my elbow hurts and ", "elbow, ", "no ", "if elbow ",
	"hurts, ", "deep ", "deep hang ", "deap hang ", "3x30s ", "3x30s deep hang, ", "3x30s hold ", "3x30s deap hagn ", "and ", "then ", "last ", "last 1 ", "monday ", "23.11. ", "1 day ago ", "5/5/", "½ ",
	"é", "🙂 ", "\n", "1\n", "- 1\n", "e.g. ", "?", "3 rounds ", "2 rounds of 15s high hold + ", "rest ", "rest 60s ", "a ", "a couple ", "twenty-", "30s on 30s off ", "failed ", "muscle-up 1/3 ", "left right ", "\u202e3", "ｘ３", "0x0s ",
	"if my elbow hurts, ", "4/10, ", "\u200b", "a'", "'s ", "https://", "__", "**3**", "1 1 1 ", "3x30s dragon flag, ",
	"if ", "is it bad if ", "if both ", "never 1 dips ", "planned 1 dips ", "planned 1 dips, did 1 dips, ", "in 5s ", "word in 5s ", "1 > ", "deep hang > 1 ", "1st ", "1st 2s ", "2-3 ", "2 to 3 ", "2-3 sets ", "last week 4s, ", "every minute ",
	"tempo 3-1-1 ", "3-", "week 1: ", "elbowww ", "aab", "18:30 ", "1. ", "1: ", "(1) ", "3x30s (60s) ", "= 5 ", "5 = 5 ", "5 + ", "pain 3/10 ", "ouch. elbow. ", "right one ", "without hurts ", "mon/", "a week ago ", "last set @9, ",
}

// ordinary is what people write, as long as what is hostile.
var ordinary = repeated("3x30s deep hang, 2x60s transitions, then 5 pull-ups. ", "")

// mostOrdinary bounds what a hostile text may cost, in ordinary texts of its
// length. The worst costs 8; a look from each word at every other, at 10 ns each,
// would add 24.
const mostOrdinary = 24

// TestLinear holds P11's cost: a hostile text costs no more than so many
// ordinary ones of its length, whatever the machine and whoever else is on it.
// Where it seems to, both are timed beside each other, several times: what slows
// one down slows the other. What a text ends in has all that went before looked
// at once more.
func TestLinear(t *testing.T) {
	least := timeOf(ordinary, mostOrdinary)
	for _, piece := range hostile {
		for _, end := range []string{"", " my elbow hurts", " deep hang 3x30s, did mid hang"} {
			text := repeated(piece, end)
			sound(t, text, told(text))
			share := float64(timeOf(text, 1)) / float64(least)
			for round := 0; share > 1 && round < 20; round++ {
				allowed := timeOf(ordinary, mostOrdinary)
				share = min(share, float64(timeOf(text, 1))/float64(allowed))
				least = min(least, allowed)
			}
			if share > 1 {
				t.Errorf("%q, 4,000 characters of it, then %q: costs %.0f ordinary texts", piece, end, share*mostOrdinary)
			}
		}
	}
}

// repeated returns 4,000 characters of a piece again and again, then the end.
func repeated(piece, end string) string {
	text := strings.Repeat(piece, 4000/utf8.RuneCountInString(piece)+1)
	return string([]rune(text)[:4000-len(end)]) + end
}

// timeOf returns how long it takes to read a text so many times.
func timeOf(text string, times int) time.Duration {
	started := time.Now()
	for range times {
		told(text)
	}
	return time.Since(started)
}

// TestCaps holds that what is past a limit is answered, not cut.
func TestCaps(t *testing.T) {
	for _, c := range []struct{ text, code string }{
		{strings.Repeat("x", 4001) + " 3x30s deep hang", ""},
		{"3x30s deep hang" + strings.Repeat(" ", 4000), "too-long"},
		{"51x30s deep hang", "count-too-large"},
		{"50x30s deep hang", ""},
		{"2x61min transitions", "size-too-large"},
		{"3601s deep hang", "size-too-large"},
		{"3600s deep hang", ""},
		{"501 pull-ups", "size-too-large"},
		{"500 pull-ups", ""},
		{"3x5 pull-ups +201kg", "load-too-large"},
		{"3x5 pull-ups +200kg", ""},
		{"3x5 pull-ups rest 61 min", "rest-too-long"},
		{"muscle-up 1/51", "too-many-tries"},
		{"muscle-up 4/3", "more-done-than-tried"},
		{strings.Repeat("50x10s deep hang, ", 4) + "10s deep hang", "too-many-sets"},
		{"tomorrow's log for 2026-12-01: 3x30s deep hang", "future-day"},
		{"2026-12-01: 3x30s deep hang", "future-day"},
		{"2026-02-30: 3x30s deep hang", "bad-date"},
	} {
		got := read(c.text)
		code := ""
		if got.Verdict == parser.Unsure {
			code = got.Problems[0].Code
		}
		if code != c.code {
			t.Errorf("%.40q gives %q (%s), not %q", c.text, code, got.Verdict, c.code)
		}
		sound(t, c.text, got)
	}
}

// TestDay reads day phrases alone.
func TestDay(t *testing.T) {
	for text, want := range map[string]string{
		"yesterday": "2026-11-24", "today": "2026-11-25", "last Friday": "2026-11-20", "Wednesday": "2026-11-25", "thu": "2026-11-19",
		"23.11.": "2026-11-23", "23/11": "2026-11-23", "Nov 23": "2026-11-23", "23rd of November": "2026-11-23", "2026-11-23": "2026-11-23",
		"2 days ago": "2026-11-23", "a week ago": "2026-11-18", "Monday, Nov 23": "2026-11-23", " yesterday. ": "2026-11-24", "12 Dec": "2026-12-12", "ayer": "2026-11-24",
		"the day before yesterday": "2026-11-23", "yesterday morning": "2026-11-24", "on Monday": "2026-11-23",
	} {
		if got, ok := reader.Day(text, parser.Context{Today: today}); !ok || got.String() != want {
			t.Errorf("%q is %s (%v), not %s", text, got, ok, want)
		}
	}
	for _, text := range []string{"", "soon", "3x30s", "yesterday 3x30s", "Nov 31", "31.02.", "yesterday or today", "Tomé", "5", strings.Repeat("yesterday ", 20)} {
		if got, ok := reader.Day(text, parser.Context{Today: today}); ok {
			t.Errorf("%q is %s, though it is no day", text, got)
		}
	}
	night := parser.Context{Today: today, AfterMidnight: true}
	for _, text := range []string{"today", "2026-11-26", "Thursday", "yesterday"} {
		if got, ok := reader.Day(text, night); !ok || got != today {
			t.Errorf("after midnight %q is %s (%v), not the training day that runs", text, got, ok)
		}
	}
}

// TestAfterMidnight holds design 2: between 00:00 and 03:59 today, yesterday, the
// civil date and its weekday all mean the training day that runs.
func TestAfterMidnight(t *testing.T) {
	night := parser.Context{Today: today, AfterMidnight: true}
	for _, day := range []string{"today", "yesterday", "2026-11-26", "Nov 26", "Thursday", "Wednesday"} {
		got := reader.Parse(day+": 3x30s deep hang", night)
		if got.Verdict != parser.Log || got.First().Day != today {
			t.Errorf("%q after midnight: %s", day, shown(got))
		}
	}
	if got := reader.Parse("Tuesday: 3x30s deep hang", night); got.First().Day != today-1 {
		t.Errorf("Tuesday after midnight on Thursday is %s", got.First().Day)
	}
}

// TestPainScore holds that a number beside a report never becomes an effort,
// whatever stands between them: an effort is kept and shown.
func TestPainScore(t *testing.T) {
	for _, between := range []string{" ", ", ", ". ", "; ", ": ", " - ", " — ", " (", "\n", "! ", " … ", ", like ", ", about ", ", around ", ", felt like ", " at ", ", a ", " @"} {
		for _, score := range []string{"4/10", "4 out of 10", "4"} {
			text := fmt.Sprintf("3x8s deep hang, 3x22s support. right elbow sore%s%s", between, score)
			if strings.HasSuffix(between, "(") {
				text += ")"
			}
			got := read(text)
			// A number alone may be a set as well: that is asked about.
			read := got.Verdict == parser.Log && len(got.Sets()) == 6 || got.Verdict == parser.Unsure && score == "4"
			if !read || !got.Care.Pauses() {
				t.Errorf("%q: %s", text, shown(got))
				continue
			}
			for _, set := range got.Sets() {
				if set.Effort.Known {
					t.Errorf("%q: the score is kept as an effort: %s", text, shown(got))
					break
				}
			}
		}
	}
}

// TestNothingRepeated holds that no answer and no read-back repeats what was
// said of the body.
func TestNothingRepeated(t *testing.T) {
	for _, said := range []string{"my elbow hurts", "left wrist sore 3/10", "shoulder is numb", "sharp pain in the forearm", "ripped a callus", "elbow fine", "wrists felt okay", "golfers elbow is back", "can't straighten my elbow"} {
		for _, log := range []string{"3x30 transitions", "3x20s hold", "3x30s deep hang, 3x10 squats", "3x30s deep hang @11", "3x30s deep hang +5", "deep hang", "5/5/4", "30x3s deep hang"} {
			for _, text := range []string{log + ", " + said, said + ", " + log, log + ". " + said, said + "\n" + log} {
				got := told(text)
				readBack := parser.Problem{Say: strings.Join(got.Unread, " ")}
				for _, p := range append(got.Problems, readBack) {
					all := strings.ToLower(p.Say + " " + strings.Join(p.Suggest, " "))
					for _, word := range []string{"elbow", "wrist", "shoulder", "forearm", "hurt", "sore", "numb", "pain", "callus", "straighten", "fine", "okay", "3/10", "ripped", "golfers"} {
						if strings.Contains(all, word) {
							t.Errorf("%q is answered with %q", text, all)
						}
					}
				}
			}
		}
	}
}

// TestWholeSeconds holds that work_s is whole seconds, the nearest that meets no
// standard by rounding: deep hang's is 30 s.
func TestWholeSeconds(t *testing.T) {
	for text, want := range map[string]int{"deep hang 29.9 s": 29, "deep hang 9.7 s": 10, "deep hang 1.75 s": 2, "deep hang 2.5 s": 2, "deep hang 1.4secs": 1, "deep hang 5.6s": 6, "deep hang 0.5 min": 30, "deep hang 1.33 min": 80, "deep hang 1½ min": 90} {
		if got := read(text); len(got.Sets()) != 1 || got.Sets()[0].WorkS != want {
			t.Errorf("%q is %s, not %d s", text, shown(got), want)
		}
	}
}
