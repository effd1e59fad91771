package sets_test

import (
	"fmt"
	"strings"
	"testing"

	"rungbook/parser/sets"
	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
	"rungbook/training/programme"
)

var (
	today = training.Date(2026, 11, 25) // a Wednesday
	names = words.NewNames(programme.Builtin())
)

// read writes what the grammar makes of a message: "2x deep hang 30s | 23 Nov: 5
// pull-ups ? left-over “7”".
func read(message string) string {
	var x text.Text
	x.Scan(message)
	r := sets.NewReader(names).Read(&x, sets.Context{Today: today})
	var days []string
	for _, day := range r.Days {
		head := ""
		if day.Day != today {
			_, month, d := day.Day.Civil()
			head = fmt.Sprintf("%d %s: ", d, month.String()[:3])
		}
		days = append(days, head+written(day.Sets))
	}
	out := strings.Join(days, " | ")
	for _, d := range r.Doubts {
		out += fmt.Sprintf(" ? %s “%s”", d.Code, x.Written(d.From, max(d.To, d.From+1)))
	}
	for _, s := range r.Unread {
		out += fmt.Sprintf(" unread “%s”", x.Written(s.From, s.To))
	}
	for _, s := range r.Others {
		out += fmt.Sprintf(" other “%s”", x.Written(s.From, s.To))
	}
	return strings.TrimSpace(out)
}

// written writes sets, equal neighbours together.
func written(list []training.Set) string {
	var parts []string
	for i := 0; i < len(list); {
		n := 1
		for i+n < len(list) && list[i+n] == list[i] {
			n++
		}
		part := setWritten(list[i])
		if n > 1 {
			part = fmt.Sprintf("%dx %s", n, part)
		}
		parts = append(parts, part)
		i += n
	}
	return strings.Join(parts, ", ")
}

func setWritten(s training.Set) string {
	at, _ := names.Find(s.Rung)
	out := names.Rungs[at].Name
	for _, part := range []struct {
		said bool
		text string
	}{
		{s.Reps > 0, fmt.Sprintf(" %d", s.Reps)}, {s.WorkS > 0, fmt.Sprintf(" %ds", s.WorkS)}, {s.Tries > 0, fmt.Sprintf(" %d/%d", s.Done.Value, s.Tries)},
		{s.Tries > 0 && !s.Done.Known, " unsaid"}, {s.Failed, " failed"}, {s.LoadHg != 0, fmt.Sprintf(" %skg", training.Hecto(s.LoadHg))},
		{s.Help != "", " " + s.Help}, {s.Side != "", " " + string(s.Side)}, {s.RestS.Known, fmt.Sprintf(" rest %ds", s.RestS.Value)},
		{s.Effort.Known, fmt.Sprintf(" @%d", s.Effort.Value)},
	} {
		if part.said {
			out += part.text
		}
	}
	return out
}

// TestBodyChangesNoSets holds that a word of the body can't change how sets are
// read: with another unknown word in its place the same is read.
func TestBodyChangesNoSets(t *testing.T) {
	for _, message := range []string{
		"3x30s deep hang, %s fine", "3x30s deep hang and my %s is sore", "%s hurts. 3x5 pull-ups, 3x20s support", "support 3x20s @8 %s 2/10",
		"deep hang 30, 30, 25 my %s gave up", "%s: 3x8 ring rows", "did 3x30s deep hang with my %s taped", "3x30s deep hang pain: right %s 4",
	} {
		want := strings.ReplaceAll(read(strings.ReplaceAll(message, "%s", "blorp")), "blorp", "%s")
		for _, word := range []string{"elbow", "wrist", "shoulder", "forearm", "thumb"} {
			if got := strings.ReplaceAll(read(strings.ReplaceAll(message, "%s", word)), word, "%s"); got != want {
				t.Errorf("%q with %s is %s, with another word %s", message, word, got, want)
			}
		}
	}
}

func TestRead(t *testing.T) {
	for _, group := range []struct {
		name  string
		lines map[string]string
	}{
		{"numbers and durations", map[string]string{
			"deep hang twenty-five seconds": "deep hang 25s", "transitions a minute and a half": "transitions 90s", "transitions 1½ min": "transitions 90s",
			"transitions 1:30": "transitions 90s", "transitions 1 min 15": "transitions 75s", "transitions PT1M30S": "transitions 90s", "deep hang 30″": "deep hang 30s",
			"transitions half a minute": "transitions 30s", "transitions 1,5 min": "transitions 90s", "half a dozen dips": "dips 6", "deep hang 2x.5 min": "2x deep hang 30s",
			"deep hang 40ish seconds": "deep hang 40s", "transitions 3/4 min": "transitions 45s", "deep hang 30 secodns": "deep hang 30s",
		}},
		{"counts", map[string]string{
			"3x30s deep hang": "3x deep hang 30s", "30s x 3 deep hang": "3x deep hang 30s", "3 sets of 30 s deep hang": "3x deep hang 30s", "3 goes of 30s deep hang": "3x deep hang 30s",
			"30s deep hang three times": "3x deep hang 30s", "deep hang 30s*3": "3x deep hang 30s", "4 mid hangs, 25s each": "4x mid hang 25s", "3 deep hangs, 30 29 and 27 seconds": "deep hang 30s, deep hang 29s, deep hang 27s",
			"3x3 slow lowers of 5s": "3x slow lowers 3 5s", "dips x8": "dips 8", "2 warm up sets of 15s deep hang": "2x deep hang 15s", "2/3 sets of 30s deep hang": "2x deep hang 30s",
		}},
		{"lists", map[string]string{
			"pull-ups 5/5/4": "2x pull-ups 5, pull-ups 4", "8,8,7 ring rows": "2x ring rows 8, ring rows 7", "deep hang: 30, 28, 25": "deep hang 30s, deep hang 28s, deep hang 25s",
			"3x30s deep hang (30, 28, 25)": "deep hang 30s, deep hang 28s, deep hang 25s", "5 pull-ups (3+2)": "pull-ups 3, pull-ups 2", "five. then four. pull-ups": "",
			"deep hang, mid hang, high hold: 30s, 25s, 20s": "deep hang 30s, mid hang 25s, high hold 20s", "3 sets: 7, 6, 5 pull-ups": "pull-ups 7, pull-ups 6, pull-ups 5",
		}},
		{"circuits", map[string]string{
			"3 rounds: 20s deep hang, 15s support": "3x deep hang 20s, 3x support 15s", "(deep hang 30s + support 30s) x 3": "3x deep hang 30s, 3x support 30s",
			"deep hang 30, support 30, x3": "3x deep hang 30s, 3x support 30s", "3x(30s deep hang, 5 dips)": "3x deep hang 30s, 3x dips 5", "2 rounds of 15s high hold + 10s mid hang": "2x high hold 15s, 2x mid hang 10s",
		}},
		{"shared sizes", map[string]string{
			"3x20s deep hang and support": "3x deep hang 20s, 3x support 20s", "deep hang and support 3x20s each": "3x deep hang 20s, 3x support 20s", "3x20s deep and mid hang": "3x deep hang 20s, 3x mid hang 20s",
			"false grip: deep 3x30s, mid 3x20s": "3x deep hang 30s, 3x mid hang 20s", "deep 30 30 25": "2x deep hang 30s, deep hang 25s",
		}},
		{"asides", map[string]string{
			"3x30s deep hang rest 60s @8": "3x deep hang 30s rest 60s @8", "pull-ups 5/5/4 effort 8": "2x pull-ups 5 @8, pull-ups 4 @8", "3x5 pull-ups +5kg": "3x pull-ups 5 5kg", "3x5 pull-ups, 2 RIR": "3x pull-ups 5 @8",
			"30s on 60s off deep hang x3": "3x deep hang 30s rest 60s", "3x5 pull-ups with a red band": "3x band pull-ups 5", "support 3x15s, toes on the floor": "3x toe support 15s", "3x5 pull-ups -10kg": "3x pull-ups 5 -10kg",
			"rows 8L 8R": "ring rows 8 left, ring rows 8 right", "pull-ups 5 strict, 3 band": "pull-ups 5, band pull-ups 3", "transitions 3x60s, first two with a partner": "2x transitions 60s partner, transitions 60s",
			"deep hang 30s @7, 28s @8": "deep hang 30s @7, deep hang 28s @8", "3x30s deep hang no band": "3x deep hang 30s",
		}},
		{"outcomes", map[string]string{
			"3x30s deep hang, last one 24s": "2x deep hang 30s, deep hang 24s", "3x30s deep hang, failed the last at 22s": "2x deep hang 30s, deep hang 22s failed", "support 30 30 x": "2x support 30s, support failed",
			"5/5/4F pull-ups": "2x pull-ups 5, pull-ups 4 failed", "muscle-up 1/3": "muscle-up 1/3", "5 tries at the muscle-up, 2 made": "muscle-up 2/5", "muscle-up: 4 attempts": "muscle-up 0/4 unsaid", "mu: fail fail": "muscle-up 0/2",
		}},
		{"corrections", map[string]string{
			"deep hang 3x30 no wait, 2x30": "2x deep hang 30s", "deep hang 30/30/28, no 29": "2x deep hang 30s, deep hang 29s", "support 3x30 actually toe support": "3x toe support 30s", "3x30s deep hang. scrap that, was mid hang": "3x mid hang 30s",
			"3x30s deep hang → 2x30s": "2x deep hang 30s", "deep hang 30 30 28, make that 26 for the last": "2x deep hang 30s, deep hang 26s", "~~3x30s~~ 2x30s deep hang": "2x deep hang 30s",
		}},
		{"days", map[string]string{
			"yesterday: 3x30s deep hang": "24 Nov: 3x deep hang 30s", "3x30s deep hang on Monday": "23 Nov: 3x deep hang 30s", "3x30s deep hang, better than Monday": "3x deep hang 30s", "today 3x30s deep hang, yesterday rest": "3x deep hang 30s",
			"Mon: 3x30s deep hang\nTue: 5 dips": "23 Nov: 3x deep hang 30s | 24 Nov: dips 5", "3x30s deep hang yesterday, 5 dips today": "24 Nov: 3x deep hang 30s | dips 5", "3x30s deep hang, coach back on the 30th": "3x deep hang 30s",
			"3x30s deep hang tomorrow": "? future-day “tomorrow”", "2026-02-30: 3x30s deep hang": "3x deep hang 30s ? bad-date “2026-02-30”", "3x30s deep hang yesterday, 5 dips": "24 Nov: 3x deep hang 30s, dips 5 ? which-day “yesterday”",
		}},
		{"no sizes", map[string]string{
			"3x30s deep hang, 45 min all in": "3x deep hang 30s", "week 6 day 2: 3x30s deep hang": "3x deep hang 30s", "18:30 3x30s deep hang": "3x deep hang 30s", "3x30s deep hang with 6 people": "3x deep hang 30s", "3x30s deep hang, 3 blisters": "3x deep hang 30s",
			"aimed for 5 pull-ups, got 4": "pull-ups 4", "3x30s deep hang, next time 3x35s": "3x deep hang 30s", "deep hang 45s, up from 40s": "deep hang 45s", "5x5 pull-ups = 25": "5x pull-ups 5", "row 12": "",
		}},
		{"doubts", map[string]string{
			"nearly 3x30s deep hang": "3x deep hang 30s ? changed “nearly”", "3x30s deep hang with bent arms": "3x deep hang 30s ? changed “bent arms”", "3x30 transitions": "? missing-unit “30”", "3x20-25s deep hang": "? range “3x20-25s”",
			"25 pull-ups in 5 sets": "? total “25 pull-ups in 5 sets”", "3x30s deep hang, 3x10 yxcvb": "3x deep hang 30s ? unknown-skill “yxcvb”", "3x20s hold": "? ambiguous-skill “hold”", "3x30s deep hang (60s)": "? in-brackets “60s”",
		}},
		{"other exercises", map[string]string{
			"3x30s deep hang, 3x10 squats": "3x deep hang 30s other “3x10 squats”", "dead hang 3x30s": "other “dead hang 3x30s”", "3x10 ring push ups": "other “3x10 ring push ups”",
		}},
		{"unread", map[string]string{"3x30s spicy deep hang": "3x deep hang 30s unread “spicy”", "dep hang 3x30s": "3x deep hang 30s"}},
	} {
		t.Run(group.name, func(t *testing.T) {
			for message, want := range group.lines {
				if got := read(message); got != want {
					t.Errorf("%q is %s; want %s", message, got, want)
				}
			}
		})
	}
}
