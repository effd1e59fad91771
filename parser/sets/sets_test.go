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
			"deep hang twenty-five seconds": "deep hang 25s", "y'day: 3x20s support": "24 Nov: 3x support 20s", "Friday 20 Nov 3x8 rows": "20 Nov: 3x ring rows 8", "Friday 19 Nov 3x8 rows": "3x ring rows 8 ? wrong-weekday “Friday 19 Nov”", "transitions a minute and a half": "transitions 90s", "transitions 1½ min": "transitions 90s",
			"transitions 1:30": "transitions 90s", "transitions 1 min 15": "transitions 75s", "transitions PT1M30S": "transitions 90s", "deep hang 30″": "deep hang 30s",
			"transitions half a minute": "transitions 30s", "transitions 1,5 min": "transitions 90s", "half a dozen dips": "dips 6", "deep hang 2x.5 min": "2x deep hang 30s",
			"deep hang 40ish seconds": "deep hang 40s", "transitions 3/4 min": "transitions 45s", "deep hang 30 secodns": "deep hang 30s",
		}},
		{"counts", map[string]string{
			"3x30s deep hang": "3x deep hang 30s", "30s x 3 deep hang": "3x deep hang 30s", "3 sets of 30 s deep hang": "3x deep hang 30s", "3 goes of 30s deep hang": "3x deep hang 30s",
			"30s deep hang three times": "3x deep hang 30s", "deep hang 30s*3": "3x deep hang 30s", "4 mid hangs, 25s each": "4x mid hang 25s", "3 deep hangs, 30 29 and 27 seconds": "deep hang 30s, deep hang 29s, deep hang 27s",
			"3x3 slow lowers of 5s": "3x slow lowers 3 5s", "5 x dips x 6": "5x dips 6", "pull-ups three fives and a four": "3x pull-ups 5, pull-ups 4",
			"set one 8 dips, set two 7": "dips 8, dips 7", "dips x8": "dips 8", "2 warm up sets of 15s deep hang": "2x deep hang 15s", "2/3 sets of 30s deep hang": "2x deep hang 30s",
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
			"ring dips 4x6, dropped to 5 in the last set":                   "3x ring dips 6, ring dips 5",
			"4 rounds, 15s support + 20s plank, 1 min off after each round": "4x support 15s rest 60s other “20s plank”",
			"support 3x20s, toes brushing the floor in the third":           "2x support 20s, toe support 20s", "support 3x30s, one foot down the last 5 seconds": "3x toe support 30s ? changed “the last 5 seconds”",
			"mid hang 20s, 20s, 15s. RPE 6, 7 and 9": "mid hang 20s @6, mid hang 20s @7, mid hang 15s @9", "dips 8 (rpe 6), 8 (rpe 7), 7 (rpe 9)": "dips 8 @6, dips 8 @7, dips 7 @9", "planned four sets of dips: 8, 8, 7": "2x dips 8, dips 7",
			"went for a 60s deep hang. Failed at 43": "deep hang 43s failed", "50s deep hang, then slipped at 30": "deep hang 50s, deep hang 30s", "maybe 20 seconds of high hold": "high hold 20s",
			"4x3 pull-ups, my mate gave me a push under the feet each time": "4x pull-ups 3 partner",
			"dips 4x6, stopped after set 3":                                 "4x dips 6 ? changed “stopped after set 3”", "dips 3x6, stopped after set 3": "3x dips 6", "dips, 7 each": "? left-over “7”", "forgot my band so 3x6 pull-ups": "3x band pull-ups 6 ? changed “band”",
			"pushed a pram (25 kg) uphill. dips 6, 6": "2x dips 6 ? changed “25 kg”", "dips 3x8, easy, like a 6": "3x dips 8 @6",
			"dips 3x8 +5kg, dropped the weight for the last one": "2x dips 8 5kg, dips 8", "dips 3x6, no lockout on the last": "3x dips 6 ? changed “no lockout”", "dips 3x6, last two with some help": "dips 6, 2x dips 6 partner", "deep hang 42s, ten out of ten": "deep hang 42s @10", "3x30s deep hang, two of them fine": "3x deep hang 30s", "3x20s high hold with one foot on the chair": "3x high hold 20s ? changed “foot on the chair”",
			"slow lowers 4x3, about 6 seconds down each rep": "4x slow lowers 3", "slow lowers 4, 4, 3. Lowering took six seconds each": "2x slow lowers 4, slow lowers 3", "pull-ups 3x4 with a 2 second pause at the top": "3x pull-ups 4",
			"negatvies 3x4, 5 sec down each": "3x slow lowers 4", "ring dips 3x4, lowering took five seconds": "3x ring dips 4", "5s lowering": "slow lowers 5s",
			"ring dips 3x5, lowering 3x4":   "3x ring dips 5, 3x slow lowers 4",
			"high hold L 7s R 6s, two sets": "high hold 7s left, high hold 6s right, high hold 7s left, high hold 6s right", "sets: 4 reps: 6 dips": "4x dips 6", "support for forty seconds and again forty and then thirty two": "2x support 40s, support 32s", "3 of the 4 sets of 6 dips": "3x dips 6", "3 mid hangs of 20s. Still, 20 each": "3x mid hang 20s", "high hold 3x14s, hm, the video says different, 12 12 13": "3x high hold 14s, 2x high hold 12s, high hold 13s ? correction “12” unread “different”", "reps 9, sets 2, ring rows": "2x ring rows 9", "dips: sets 3, reps 7": "3x dips 7", "6 and a half pull-ups": "? fractional-reps “6 and a half”", "high hold L/R 12s/10s": "high hold 12s, high hold 10s ? changed “L/R”", "3x30s deep hang, no time for a second set": "3x deep hang 30s",
			"4x10s support, the fourth doesn't count": "3x support 10s", "2x40s toe support, the third doesn't count": "2x toe support 40s", "8 dips, the last two had a leg kick": "dips 8 ? changed “leg kick”",
			"3x25s support, last one was cheated": "3x support 25s ? changed “cheated”", "3x30s deep hang, wasn't easy": "3x deep hang 30s", "was supposed to do 5x5 dips, did 3x4 instead": "3x dips 4",
			"+10kg dips 3x5, the last set without weight": "2x dips 5 10kg, dips 5", "Band only for set two! Pull-ups 6, 6, 6": "pull-ups 6, band pull-ups 6, pull-ups 6", "pull-ups 3x6, no band on the last": "? changed “no band”",
			"support 3x20s, toes down for the last one": "2x support 20s, toe support 20s", "dips 3x7 with a spotter on the last set": "2x dips 7, dips 7 partner", "rows with a 10kg vest: 9, 9. Then without: 12": "2x ring rows 9 10kg, ring rows 12",
			"transitions: 25s with toes, then 25s without": "toe transitions 25s, transitions 25s", "dips 5 alone, 5 alone, 4 with the band": "2x dips 5, dips 4 band", "Jo held my feet for 3x4 pull-ups": "3x pull-ups 4 partner",
			"4x3 pull-ups, my coach gave me a push every rep": "4x pull-ups 3 partner", "pull-ups 3x4, Jo held my ankles on the last one": "2x pull-ups 4, pull-ups 4 partner", "pull-ups 4x4, band on 3 and 4": "? left-over “3”",
			"band pull-ups 3x8, last set no band": "2x band pull-ups 8, pull-ups 8", "dips 3x5, vest off: one of 9": "3x dips 5, dips 9", "10 kg taken off, pull-ups 3x6": "3x pull-ups 6 -10kg",
			"dips 4x6, took about 90 s after each": "4x dips 6 rest 90s", "dips 3x6, pauses were short, 45 seconds or so": "3x dips 6 rest 45s", "rows 3x9, then 2x15s support, rest 1 min each": "3x ring rows 9 rest 60s, 2x support 15s rest 60s",
			"3 rounds:\n4 dips\n15s support\n90s rest after each round": "3x dips 4, 3x support 15s rest 90s", "support 20s, 1 min break, 20s, 1 min break, 15s": "2x support 20s rest 60s, support 15s rest 60s", "dips 9, rest, 9, rest, 7": "2x dips 9, dips 7",
			"dips 9 (waited 1 min) 8 (waited 2 min) 7": "dips 9 rest 60s, dips 8 rest 120s, dips 7", "rows 4x9, r 75": "4x ring rows 9 rest 75s",
			"rows 3x9 and I had 3 more in me": "3x ring rows 9 @7", "dips 7, five rounds, left one in the tank": "5x dips 7 @9", "pull-ups 4x5, could've done two more each set": "4x pull-ups 5 @8",
			"dips 9 9 9, rpe 7, 8, 9": "dips 9 @7, dips 9 @8, dips 9 @9", "dips 9 9 9, rpe 7, 8": "? left-over “rpe 7, 8”", "3x20s support, could have held 5 more seconds": "3x support 20s", "dips 3x9, RIR 2, 2, 0": "2x dips 9 @8, dips 9 @10",
			"mid hang 3x25s rpe 7, the last one a solid 9": "2x mid hang 25s @7, mid hang 25s @9", "dips 3x6, last set at 9": "2x dips 6, dips 6 @9", "dips 3x12, last set at 9": "? left-over “last set at 9”",
			"dips 6 with 3 left, 6 with 1 left": "dips 6 @7, dips 6 @9", "slow lowers 4 4 4 effort around an eight": "3x slow lowers 4 @8",
			"30s on 60s off deep hang x3": "3x deep hang 30s rest 60s", "3x5 pull-ups with a red band": "3x band pull-ups 5", "support 3x15s, toes on the floor": "3x toe support 15s", "3x5 pull-ups -10kg": "3x pull-ups 5 -10kg",
			"rows 8L 8R": "ring rows 8 left, ring rows 8 right", "pull-ups 5 strict, 3 band": "pull-ups 5, band pull-ups 3", "transitions 3x60s, first two with a partner": "2x transitions 60s partner, transitions 60s",
			"deep hang 30s @7, 28s @8": "deep hang 30s @7, deep hang 28s @8", "3x30s deep hang no band": "3x deep hang 30s",
		}},
		{"outcomes", map[string]string{
			"3x30s deep hang, last one 24s": "2x deep hang 30s, deep hang 24s", "3x30s deep hang, failed the last at 22s": "2x deep hang 30s, deep hang 22s failed", "support 30 30 x": "2x support 30s, support failed", "mid hang 30, 30, last one 21": "2x mid hang 30s, mid hang 21s", "mid hang 30/30/28, the last 26": "2x mid hang 30s, mid hang 26s",
			"mid hang 35 35 then let go at 21": "2x mid hang 35s, mid hang 21s", "support 25s, 25s, 25s, third I quit at 14": "2x support 25s, support 14s", "dips 7 7 then third set nothing": "2x dips 7, dips failed",
			"mid hang 16 s then 14 s then nothing": "mid hang 16s, mid hang 14s, mid hang failed", "4x20s support, stopped at 13": "4x support 20s ? left-over “stopped at 13”", "dips 6, 6, third got stuck after 2": "2x dips 6, dips 2 failed",
			"5/5/4F pull-ups": "2x pull-ups 5, pull-ups 4 failed", "muscle-up 1/3": "muscle-up 1/3", "5 tries at the muscle-up, 2 made": "muscle-up 2/5", "muscle-up: 4 attempts": "muscle-up 0/4 unsaid", "mu: fail fail": "muscle-up 0/2",
		}},
		{"corrections", map[string]string{
			"deep hang 3x30 no wait, 2x30": "2x deep hang 30s", "deep hang 30/30/28, no 29": "2x deep hang 30s, deep hang 29s", "support 3x30 actually toe support": "3x toe support 30s", "3x30s deep hang. scrap that, was mid hang": "3x mid hang 30s",
			"3x30s deep hang → 2x30s": "2x deep hang 30s", "deep hang 30 30 28, make that 26 for the last": "2x deep hang 30s, deep hang 26s", "~~3x30s~~ 2x30s deep hang": "2x deep hang 30s",
			"4x9 dips, nvm 4x8": "4x dips 8", "4x9 dips. Sorry, I misread my own chalk, 4x8": "4x dips 8 unread “misread” unread “own”", "3x9 rows, 2x7 dips, no wait rows 3x8": "3x ring rows 8, 2x dips 7",
			"3x9 rows and 2x7 dips → 3x8 rows and 2x6 dips": "3x ring rows 8, 2x dips 6", "3x9 rows, 2x7 dips. The rows were 3x8, I see now": "3x ring rows 8, 2x dips 7",
			"3x9 rows, rows were 2 sets": "2x ring rows 9", "4x12 rows + 1x9, sorry 1x7": "4x ring rows 12, ring rows 7", "3x9, no 3x8 dips": "3x dips 8",
			"mid hang 3x25s, no 2": "2x mid hang 25s", "3x25s mid hang, sorry 2 sets": "2x mid hang 25s", "3x9 dips, make that four": "3x dips 9 ? correction “four”",
			"pull-ups 7, 7, 5, wait 7, 6, 5": "pull-ups 7, pull-ups 6, pull-ups 5", "three uh no four sets of 9 dips": "4x dips 9", "3x9 dips, 3x8 sorry": "3x dips 8",
			"3x20s support, toe support I mean": "3x toe support 20s", "3x9 dips but it was 3x8": "3x dips 8", "dips 3x9, last week it was 3x8": "3x dips 9",
			"felt like a 40s deep hang, stopwatch said 33s": "deep hang 33s", "yesterday, no, Monday: 3x9 dips": "23 Nov: 3x dips 9", "not 3 but 4 sets of 9 dips": "4x dips 9",
			"sheet said 3x9 dips, reality 3x7": "3x dips 7 unread “sheet”", "3x7 dips rather than 3x9": "3x dips 7", "meant to do 3x9 dips, did 3x7": "3x dips 7",
		}},
		{"which sets are corrected", map[string]string{
			"dips 9, 9, 8. The second was 7 and the third was 6 I see now": "dips 9, dips 7, dips 6", "dips 9, 8, 7. Second one is wrong, it was 6": "dips 9, dips 6, dips 7",
			"dips 9, 8, 7, the 8 was a 6": "dips 9, dips 6, dips 7", "4x9 dips, the third and fourth were 7": "2x dips 9, 2x dips 7", "dips 9/9/9, set 2 was really 7": "dips 9, dips 7, dips 9",
			"4x25s mid hang, scratch the last one, that was 19": "3x mid hang 25s, mid hang 19s",
		}},
		{"taken back", map[string]string{
			"4x9 dips, scratch the last one": "3x dips 9", "4x9 dips, the fourth doesn't count": "3x dips 9", "dips 9, 8, 7, take the 7 out": "dips 9, dips 8", "dips 9, 7, 7 (delete one of the sevens)": "dips 9, dips 7",
			"3x9 dips, 3x5 pull-ups. Forget the dips, that was yesterday": "3x pull-ups 5", "3x9 dips, strike the 9": "3x dips 9 ? changed “strike the 9”", "dips 9 9 9 but the last doesn't count": "2x dips 9",
		}},
		{"told twice", map[string]string{
			"4x9 dips tired 4x8": "4x dips 9, 4x dips 8 ? correction “4x8”", "3x9 dips, by the board 3x8 dips": "3x dips 9, 3x dips 8 ? correction “3x8” unread “board”",
			"3x9 dips or 4x9": "? range “4x9”", "3x9 dips this morning, and tonight again 3x8": "3x dips 9, 3x dips 8", "3x9 dips, 3x8": "3x dips 9, 3x dips 8", "3x9 dips with Bo watching, 3x7 dips alone": "3x dips 9, 3x dips 7 unread “Bo watching”", "dips 3x9, then 3x8": "3x dips 9, 3x dips 8",
			"dips 3x9, so 9, 9, 7": "2x dips 9, dips 7", "3x9 ring dips(?) yes 9": "3x ring dips 9",
			"dips 9, 8 and then six or seven": "? range “seven”", "4x9 dips but for the 3rd, except the 3rd": "4x dips 9 ? changed “except”",
		}},
		{"totals", map[string]string{
			"36 dips, four sets of nine": "4x dips 9", "36 dips in total, 4x9": "4x dips 9", "36 dips as four nines": "4x dips 9", "18 rows in two halves, 9 and 9": "2x ring rows 9 unread “halves”",
			"dips 10, 9, 8, that's 27": "dips 10, dips 9, dips 8", "9 9 9 dips, so three sets of 9": "3x dips 9", "36 dips altogether": "? total “36”", "18 dips, 2 sets, 9 each": "2x dips 9", "dips 6, 3, 3": "dips 6, 2x dips 3",
			"60 dips, split into four sets": "dips 60 ? left-over “four sets”", "3x9 dips and then a sad 6": "3x dips 9, dips 6 unread “sad”",
			"6 dips, then 3 and 3": "dips 6, 2x dips 3",
		}},
		{"days", map[string]string{
			"yesterday: 3x30s deep hang": "24 Nov: 3x deep hang 30s", "3x30s deep hang on Monday": "23 Nov: 3x deep hang 30s", "3x30s deep hang, better than Monday": "3x deep hang 30s", "today 3x30s deep hang, yesterday rest": "3x deep hang 30s",
			"Mon: 3x30s deep hang\nTue: 5 dips": "23 Nov: 3x deep hang 30s | 24 Nov: dips 5", "3x30s deep hang yesterday, 5 dips today": "24 Nov: 3x deep hang 30s | dips 5", "3x30s deep hang, coach back on the 30th": "3x deep hang 30s",
			"3x30s deep hang tomorrow": "? future-day “tomorrow”", "2026-02-30: 3x30s deep hang": "3x deep hang 30s ? bad-date “2026-02-30”", "3x30s deep hang yesterday, 5 dips": "24 Nov: 3x deep hang 30s, dips 5 ? which-day “yesterday”",
		}},
		{"days in talk", map[string]string{
			"ontem à noite fiz 3x8 dips": "24 Nov: 3x dips 8", "ayer por la tarde 3x8 dips": "24 Nov: 3x dips 8", "yesterday at around nine I did 3x8 rows": "24 Nov: 3x ring rows 8", "yesterday 3x20s - mid hang": "24 Nov: 3x mid hang 20s",
			"Friday I squeezed in 3x5 dips before work": "20 Nov: 3x dips 5", "Sunday with the kids, 3x5 dips in the garden": "22 Nov: 3x dips 5", "Sunday I was ill, 3x5 dips": "3x dips 5 ? which-day “Sunday”",
			"3x5 dips. This was on Sunday": "22 Nov: 3x dips 5", "forgot to write yesterday, 3x5 dips": "24 Nov: 3x dips 5", "his plan from Sunday is mad. 3x5 dips": "3x dips 5", "3x5 dips, we meet again Friday": "3x dips 5",
			"no training on Sunday, 3x5 dips": "3x dips 5", "3x5 dips. Did these on Sunday btw": "22 Nov: 3x dips 5",
		}},
		{"days and clocks", map[string]string{
			"Mo: 3x5 dips, Di: frei, Mi: 3x6 dips": "23 Nov: 3x dips 5 | 3x dips 6", "heute um halb acht 3x5 dips": "3x dips 5", "9.00 support 20s\n9.05 support 18s": "support 20s, support 18s",
			"Friday 22 Nov: 3x5 dips": "3x dips 5 ? wrong-weekday “Friday 22 Nov”", "next Monday: 3x5 dips": "? future-day “next Monday”",
			"Monday the 20th 3x5 dips": "3x dips 5 ? wrong-weekday “Monday the 20th”", "breakfast 20s support, dinner 25s": "support 20s, support 25s", "support 2x20s, in the evening another 20s since it rained": "3x support 20s unread “rained”",
			"hoy 3 de 5 dips": "3x dips 5", "a note on the door: 3x5 dips": "3x dips 5",
		}},
		{"several days", map[string]string{
			"Today: 2x5 dips. Monday: 3x4.": "2x dips 5 | 23 Nov: 3x dips 4", "Mon and Tue 3x5 dips both days": "23 Nov: 3x dips 5 | 24 Nov: 3x dips 5", "Mon or Tue, 3x5 dips": "23 Nov: 3x dips 5 ? conflicting-dates “Mon”",
			"Mon - off\nTue - 3x5 dips": "24 Nov: 3x dips 5", "23/11 dips 5 5, 22/11 none": "23 Nov: 2x dips 5", "20 Nov: 3x5 dips and the day before 3x4": "20 Nov: 3x dips 5 | 19 Nov: 3x dips 4",
			"2x5 dips on Monday and 2x6 on Tuesday": "23 Nov: 2x dips 5 | 24 Nov: 2x dips 6", "Monday was: 3x5 dips": "23 Nov: 3x dips 5", "the dips on Friday never got logged, 3x5": "20 Nov: 3x dips 5",
			"2x5 dips, 2x5 rows. The rows were Monday": "2x dips 5, 2x ring rows 5 ? which-day “Monday”", "Monday 3x5 dips and today the same plus 5 pull-ups": "23 Nov: 3x dips 5, pull-ups 5 ? which-day “today”",
			"last week 3x4, today 3x5 dips": "3x dips 5", "last Friday only 2x4 dips, today 3x5": "3x dips 5", "last Friday 2x4 dips, now 3x5": "20 Nov: 2x dips 4 | 3x dips 5 ? which-day “last Friday”",
			"the other day 3x5 dips": "3x dips 5 ? vague-day “the other day”", "3x5 dips, Saturday I'll try 3x6": "3x dips 5", "3x5 dips, tomorrow 3x30s deep hang": "3x dips 5",
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
		{"numbers beside sets that are none", map[string]string{
			"the hall was 9 degrees colder, at 58 one feels it. 3x20s support": "3x support 20s", "it was 31 outside, deep hang 3x25s": "3x deep hang 25s",
			"my aunt, 66, was there for me, 3x4 dips": "3x dips 4", "lost 19-21 at darts, then 2x6 pull-ups": "2x pull-ups 6",
			"parking cost 7,20, ring rows 3x9": "3x ring rows 9", "rings low, 1.10, rows 3x9": "3x ring rows 9", "12,000 steps and 3x20s mid hang": "3x mid hang 20s",
			"sled 2x50m, dips 3x7": "3x dips 7", "quarter past 7 already: support 2x30s": "2x support 30s", "did 40, then 2x30s support": "2x support 30s ? unknown-skill “did”",
			"blorps 18, 3x20s mid hang": "3x mid hang 20s ? unknown-skill “blorps”", "3x8 dips, Friday I'll do 4x8": "3x dips 8", "3x5 ring dips, 4 seconds down": "3x ring dips 5",
			"slow lowers 3/3 @ 5 sec down": "2x slow lowers 3", "between 20 and 30 dips": "dips 30 ? left-over “20”",
		}},
		{"totals", map[string]string{
			"32 ring rows today, four sets of eight": "4x ring rows 8", "40 dips. 5x8.": "5x dips 8", "60 s of support as 3x20s": "3x support 20s",
			"8 pull-ups over 2 sets of 4": "2x pull-ups 4", "8 pull-ups, then 2x4": "pull-ups 8, 2x pull-ups 4", "deep hang 3x20s, 60 s all told": "3x deep hang 20s",
			"90 s of support in three equal sets": "? total “90 s of support in three equal sets”", "I promised them my 4 sets, mid hang 20s": "mid hang 20s ? left-over “4 sets”",
		}},
		{"sets by their place", map[string]string{
			"third set of dips 5, the first two 7": "2x dips 7, dips 5", "rows first two sets 9, last three sets 8": "2x ring rows 9, 3x ring rows 8",
			"pull-ups: first 8, second 7, third 6": "pull-ups 8, pull-ups 7, pull-ups 6", "deep hang 3x30s, first one 35": "deep hang 35s, 2x deep hang 30s",
			"four sets of dips, the first three were six reps and the last one was four": "3x dips 6, dips 4", "set 1: 9\nset 2: 8\nring rows": "ring rows 9, ring rows 8",
		}},
		{"spoken sizes", map[string]string{
			"nine, nine, eight on the ring rows": "2x ring rows 9, ring rows 8", "four fives on the dips": "4x dips 5", "3 sets of dips, all sixes": "3x dips 6",
			"twice the support for 30 seconds and then once for twenty": "2x support 30s, support 20s", "um three sets of six dips": "3x dips 6",
			"deep hang 40s, after that two of 25": "deep hang 40s, 2x deep hang 25s", "dips four of 5": "? left-over “four of 5” ? missing-size “dips”", "three dips. Then two.": "dips 3, dips 2",
			"support 4 time 20 second": "4x support 20s", "20s in each of the 3 high holds": "3x high hold 20s", "dips tonight. tens": "",
		}},
		{"typing", map[string]string{
			"support: 1 min, 1 min, 50 sec": "2x support 60s, support 50s", "dips🔟🔟7️⃣": "2x dips 10, dips 7", "ringdips8ringdips7": "ring dips 8, ring dips 7",
			"pu:6.6.5.5": "2x pull-ups 6, 2x pull-ups 5", "rows 8-10 reps, 3 sets": "? range “8-10 reps”", "row 9\nrow 8\ndips 3x5": "ring rows 9, ring rows 8, 3x dips 5",
			"pu 3x5, rd 3x6 (pull-ups, ring dips)": "3x pull-ups 5, 3x ring dips 6", "dips x6, three sets": "3x dips 6", "dips pyramid 1 3 5 3 1": "dips 1, dips 3, dips 5, dips 3, dips 1",
			"emom 10 min, 3 dips": "10x dips 3", "3x4 pull-ups 2x7 dps": "3x pull-ups 4, 2x pull-ups 7 ? unknown-skill “dps” unread “dps”",
		}},
		{"so many minutes", map[string]string{
			"3 dips every 2 min for 10 minutes": "5x dips 3", "emom 6 min, 4 rows each minute, all six": "6x ring rows 4",
			"emom 9 min: 2 dips and 3 rows":            "9x dips 2, 9x ring rows 3 ? changed “emom 9 min”",
			"emom 8 min, 3 dips, quit after 6 minutes": "8x dips 3 ? changed “emom 8 min”", "each minute felt long, 3x5 dips": "3x dips 5",
			"2 dips every 45 s for 10 minutes": "dips 2 ? changed “every 45 s for 10 minutes”", "rows amrap: 19": "ring rows 19", "amrap 5 min, 40 rows": "ring rows 40 ? changed “amrap 5 min”",
			"3x6 dips. 7/10.": "3x dips 6 @7", "3x20s support, effort went 6, 7, 9": "support 20s @6, support 20s @7, support 20s @9",
		}},
		{"a number counts holds", map[string]string{
			"3 high holds, 12s": "3x high hold 12s", "Two mid hangs. 25s both": "2x mid hang 25s", "4 deep hangs of 35": "4x deep hang 35s",
			"2 supports, 25s, 20s": "support 25s, support 20s", "3 transition sets, 40s": "3x transitions 40s", "two supports 20s off the box": "2x support 20s",
			"five transitions, 40s": "? ambiguous-list “five transitions, 40s”",
		}},
		{"one more", map[string]string{
			"seven dips, a rest, four more": "dips 7, dips 4", "mid hang 20s. Again 18s": "mid hang 20s, mid hang 18s", "dips. 9. 8. 8.": "dips 9, 2x dips 8",
			"so I did two dips sets of nine": "2x dips 9",
			"3 singles of ring dips":         "3x ring dips 1", "3x6 dips no sorry 3x5": "3x dips 5",
		}},
		{"named and not done", map[string]string{
			"- dips 3x8\n- support: skipped": "3x dips 8", "high hold - not today, rows 4x9": "4x ring rows 9",
			"rows 4x9, scratch that, wrong chat": "4x ring rows 9 ? changed “scratch that”",
		}},
		{"so", map[string]string{
			"4x9 rows. The first one was warm-up. So 3x9.": "3x ring rows 9", "support 20s, 20s. So 20 and 18": "support 20s, support 18s",
			"dips 8, 7, so 8, 7": "dips 8, dips 7", "dips 8, 8, 7. So 6": "2x dips 8, dips 6 ? left-over “6”", "dips 3x8. So 2x9 more": "3x dips 8 ? left-over “2x9”",
		}},
		{"rounds of several", map[string]string{
			"got 3 rounds before closing: 5 dips, 15s support": "3x dips 5, 3x support 15s", "5 rows with 5 dips, 3 sets of both": "3x ring rows 5, 3x dips 5",
			"R1 4 dips 6 rows, R2 4 dips 5 rows": "dips 4, ring rows 6, dips 4, ring rows 5", "4 full rounds: 3 pull-ups, 10s high hold": "4x pull-ups 3, 4x high hold 10s",
		}},
		{"sizes and skills apart", map[string]string{
			"floor was wet, so only rows. five by eight. home now": "5x ring rows 8", "some support at last, toes down, 25s 25s": "2x toe support 25s",
			"3x15s, felt long. High hold.": "3x high hold 15s", "so I did 3x15s mid": "3x mid hang 15s", "my hangs: deep, 30 25": "deep hang 30s, deep hang 25s",
			"support 3x30s, in the evening another 2x20s since I was there": "3x support 30s, 2x support 20s",
		}},
		{"attempts", map[string]string{
			"got it on the 5th try, muscle-up!": "muscle-up 1/5", "muscle-up today, on try number 3": "muscle-up 1/3", "muscle-up, six tries two over": "muscle-up 2/6",
			"7 tries at the muscle-up with two in the bag": "muscle-up 2/7", "muscle-up attempts, 4 of them, 1 ok": "muscle-up 1/4", "one muscle-up session: five tries, none made": "muscle-up 0/5",
			"30s deep hang on the 2nd try": "deep hang 30s", "muscle-up, failed on the 3rd try": "muscle-up 0/3",
		}},
		{"other languages", map[string]string{
			"gestern 3x5 Klimmzüge": "24 Nov: 3x pull-ups 5", "Dips an den Ringen 4x6": "4x ring dips 6", "3x20s Stütz an den Ringen": "3x support 20s", "dominadas con banda 3x8": "3x band pull-ups 8",
			"fondos en anillas 5/5/4": "2x ring dips 5, ring dips 4", "4x3 descentes lentes": "4x slow lowers 3", "3 séries de 8 tractions, repos 90 s": "3x pull-ups 8 rest 90s", "barra fixa 4x5, descansei 2 min": "4x pull-ups 5 rest 120s",
			"domingo: suporte nas argolas 3x15s": "22 Nov: 3x support 15s", "trazioni 3x6 con elastico": "3x band pull-ups 6", "3 tractors": "",
		}},
		{"glosses", map[string]string{
			"RR 3x8, TS 2x30s (ring rows, toe support)": "3x ring rows 8, 2x toe support 30s", "Klimmzüge (pull-ups) 5/5": "2x pull-ups 5", "sl 3x3, sl = slow lowers": "3x slow lowers 3",
		}},
		{"names elsewhere", map[string]string{
			"4x12s, a minute between. High hold, that was": "4x high hold 12s rest 60s", "Planned 4x30s of deep hang, got 3x25s": "3x deep hang 25s", "A few ring rows to end the day. 9, 8, 8": "ring rows 9, 2x ring rows 8",
			"Nia did 4x6, I did 4x5. Dips.": "4x dips 6, 4x dips 5 ? left-over “4x5” ? correction “4x5”", "finally my hangs again: mid, 20 20": "2x mid hang 20s", "back to 2x15s mid": "2x mid hang 15s", "held deep for 20s": "deep hang 20s", "went 30m deep": "",
		}},
		{"told last", map[string]string{
			"dips 4x6, last set a grind, effort 9": "3x dips 6, dips 6 @9 unread “grind”", "3x20s support, the third felt like a 9": "2x support 20s, support 20s @9",
			"ring rows 5 sets 10, 10, 9, 9, 8": "2x ring rows 10, 2x ring rows 9, ring rows 8", "4 sets of 6, 6, 5 dips": "? count-mismatch “4 sets of 6, 6, 5”",
			"mid hang 20s, then another minute": "mid hang 20s ? left-over “another”", "nine dips, then seven, then five by the door": "dips 9, dips 7, dips 5 unread “door”",
			"mid hang 25s; deep hang 30s. Thrice through.": "3x mid hang 25s, 3x deep hang 30s", "one arm rows, 4 sets, 6 each side": "4x ring rows 6 each",
			"rows 9 rows 8 rows 5 dog is barking": "ring rows 9, ring rows 8, ring rows 5 unread “dog” unread “barking”", "a set of six dips and a set of five": "dips 6, dips 5",
			"deep hang 25s, then a second go, 19s": "deep hang 25s, deep hang 19s unread “go”", "4 ring dips sets of 6": "4x ring dips 6",
			"pull-ups 5, 5, and the third set nothing came": "2x pull-ups 5, pull-ups failed", "pull-ups 5, 5, the third set my strap tore": "2x pull-ups 5 ? left-over “the third set”",
			"mid hang 3x20s, call it a 7": "3x mid hang 20s @7", "deep hang 20s, same again": "2x deep hang 20s", "dips set one nine set two eight": "dips 9, dips 8",
			"pull-ups 4 no band, 2x7 with it": "pull-ups 4, 2x pull-ups 7 ? changed “with it”", "queued 40 min, then 3x6 dips": "3x dips 6",
			"14 rows, 13 rows, 90s rest": "ring rows 14 rest 90s, ring rows 13 rest 90s", "several sets of rows, 12": "ring rows 12 ? changed “several sets”",
			"2x9 + 1x7 dips, sorry, 1x9 and 2x7": "2x dips 9, 3x dips 7 ? correction “1x9”", "dips 6 6, hoped for six but it was four": "2x dips 6 ? left-over “was four”",
			"wrote 9 rows, actual: 3x8 rows": "3x ring rows 8 unread “wrote”", "2x8 dips, 2x6 ring dips, forget the plain dips": "2x ring dips 6",
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
