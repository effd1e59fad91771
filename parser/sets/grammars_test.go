package sets

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
	"rungbook/training/programme"
)

// smallGrammar is one of the small grammars that sizes and what is said of them are made
// of, with inputs that it reads whole, and inputs that it does not.
type smallGrammar struct {
	read  func(r *reader) (value string, to int, ok bool) // from the first token on
	good  []string                                        // "input = value"
	bad   []string
	wrong []string // "input = value" of those that are not read so, though they should be
}

// smallGrammars are read alone, but for effort and load, which stand behind sets.
var smallGrammars = map[string]smallGrammar{
	"number": {
		func(r *reader) (string, int, bool) {
			n, to, ok := r.number(0)
			return decimal(n.milli, 1000), to, ok
		},
		[]string{
			"0 = 0", "7 = 7", "007 = 7", "30 = 30", "1.5 = 1.5", "2,5 min = 2.5", ".5 = 0.5", "½ = 0.5", "1½ = 1.5", "1/2 min = 0.5",
			"1,200 s = 1200", "٣ = 3", "３０ = 30", "twelve = 12", "twenty-five = 25", "twenty five = 25", "a hundred = 100", "two hundred and ten = 210",
			"a dozen pull-ups = 12", "one hundred and five = 105", "thirty-one and a half minutes = 31.5", "three quarters of a minute = 0.75", "half a minute = 0.5", "one and a half minutes = 1.5", "2 and a half minutes = 2.5", "a couple of sets = 2", "a minute = 1",
		},
		[]string{"", "x", "abc", "-", "pull-ups", "+", "deep hang", "first", "a", "half", "half hearted", "e5", "(3)", "#3"},
		nil,
	},
	"duration": {
		func(r *reader) (string, int, bool) {
			a, ok := r.amount(0)
			return decimal(a.milli, 1000), a.to, ok && a.unit == seconds && a.fault == ""
		},
		[]string{
			"30s = 30", "30 s = 30", "30sec = 30", "30 secs = 30", "1min30s = 90", "1'30'' = 90", "2 minutes 5 = 125", "three quarters of a minute = 45", "0:30 min = 30", "1h = 3600", "an hour = 3600", "30 seconds = 30", "thirty seconds = 30", "30\" = 30", "1' = 60", "1'30 = 90", "1'30\" = 90",
			"1:30 = 90", "0:45 = 45", "1:02:03 = 3723", "1m30 = 90", "1 min 30 = 90", "1 min 30 sec = 90", "1 minute and 30 seconds = 90", "1.5 min = 90",
			"1,5 min = 90", "a minute = 60", "half a minute = 30", "a minute and a half = 90", "one full minute = 60", "2 mins = 120", "PT1M30S = 90", "30-second = 30",
			"90 segundos = 90", "22.5s = 22.5",
		},
		[]string{"30", "30 reps", "5kg", "5 km", "s", "min", "1:75", "1:5", "30x", "abc s", "minute", "10%", "3o s", "30 d", "1:2:3"},
		nil,
	},
	"date": {
		func(r *reader) (string, int, bool) {
			whole := &Reader{*r}
			day, ok := whole.Day(r.t, Context{Today: r.today})
			return day.String(), len(r.t.Tokens) - 1, ok
		},
		[]string{
			"today = 2026-11-25", "yesterday = 2026-11-24", "Monday = 2026-11-23", "mon = 2026-11-23", "last Friday = 2026-11-20", "Wednesday = 2026-11-25",
			"2026-11-23 = 2026-11-23", "23.11. = 2026-11-23", "23.11.2026 = 2026-11-23", "23/11 = 2026-11-23", "11/23 = 2026-11-23", "23 Nov = 2026-11-23",
			"Nov 23rd = 2026-11-23", "the 23rd of November = 2026-11-23", "on the 23rd = 2026-11-23", "2 days ago = 2026-11-23", "a week ago = 2026-11-18",
			"Mon 23 Nov = 2026-11-23", "the day before yesterday = 2026-11-23", "last night = 2026-11-24", "this morning = 2026-11-25", "29 Feb 2024 = 2024-02-29",
			"20261123 = 2026-11-23", "24 Dec = 2026-12-24", "31 Oct = 2026-10-31", "the first of November = 2026-11-01", "1st Nov = 2026-11-01", "22 November 2025 = 2025-11-22", "tomorrow = 2026-11-26", "Monday, Nov 23 = 2026-11-23", "lunes = 2026-11-23", "gestern = 2026-11-24", "anteayer = 2026-11-23",
		},
		[]string{
			"", "soon", "31.11.", "2026-02-30", "29 Feb 2025", "32 Nov", "13/13", "Fri 23 Nov", "5", "30s", "last week", "the other day", "Mondayish", "yesterday or Monday", "7/12", "30.", "in 2 days and a bit", "Nov 31",
		},
		[]string{"next Monday = 2026-11-30"},
	},
	"effort": {
		func(r *reader) (string, int, bool) {
			return behindSets(r, effort, func(p *phrase) string {
				var levels []string
				for _, level := range p.levels {
					levels = append(levels, decimal(int64(level), 10))
				}
				return strings.Join(levels, " ")
			})
		},
		[]string{
			"@8 = 8", "@ 8 = 8", "@8.5 = 8.5", "@8/10 = 8", "@RPE 8 = 8", "RPE 8 = 8", "RPE: 8 = 8", "rpe8 = 8", "RPE 8.5 = 8.5", "effort 7 = 7", "effort: 7/10 = 7",
			"8/10 effort = 8", "effort 8 out of 10 = 8", "2 RIR = 8", "RIR 2 = 8", "2 reps in reserve = 8", "2 left in the tank = 8", "felt like 8 = 8", "felt like an 8 = 8",
			"@7/8/9 = 7 8 9", "RPE 7-8 = 8", "RPE 10 = 10", "7 RPE = 7", "effort was 8 = 8", "rpe ~8 = 8", "0 RIR = 10", "RIR 1-2 = 9", "@8,5 = 8.5", "RPE 7, 8, 9 = 7 8 9", "@11 = 11", "@0 = 0",
		},
		[]string{
			"@", "@home", "@hard", "RPE", "effort", "8", "easy", "@7pm", "@-3", "felt good", "in reserve", "RPE x", "@5kg", "8%",
		},
		[]string{"RPE 8,5 = 8.5"},
	},
	"load": {
		func(r *reader) (string, int, bool) {
			return behindSets(r, load, func(p *phrase) string { return decimal(int64(p.n), 10) })
		},
		[]string{
			"+5kg = 5", "+5 kg = 5", "5kg = 5", "with 5 kg = 5", "+2.5kg = 2.5", "+2,5 kg = 2.5", "@5kg = 5", "+10lb = 4.5", "10 lbs = 4.5", "12.5 kg vest = 12.5",
			"vest 5 kg = 5", "weighted +5kg = 5", "-10kg = -10", "10kg counterweight = -10", "counterweight 10kg = -10", "bw+5 = 5", "bodyweight +5kg = 5", "+0.5kg = 0.5",
			"five kilos = 5", "+5 kilograms = 5", "(+5kg) = 5", "20 lb vest = 9.1", "+1.25kg = 1.3", "½ kg = 0.5", "-20kg band = -20", "5 kilo vest = 5",
		},
		[]string{"+5", "kg", "5", "vest", "bw", "bodyweight", "bw 72", "72 kg bodyweight", "5 km", "5-8kg", "+kg", "450 kg", "5 kgs of rice", "x kg", "5%"},
		nil,
	},
}

// behindSets reads the one phrase of a kind that stands behind sets, and nothing
// but signs with it.
func behindSets(r *reader, of kind, value func(*phrase) string) (string, int, bool) {
	r.phrase()
	at := slices.IndexFunc(r.phrases, func(p phrase) bool { return p.from >= tokensOfSets })
	if at < 0 {
		return "", 0, false
	}
	rest := slices.DeleteFunc(slices.Clone(r.phrases[at:]), func(p phrase) bool { return p.kind == separator })
	if len(rest) != 1 || rest[0].kind != of || rest[0].fault != "" {
		return fmt.Sprint(rest), 0, false
	}
	return value(&rest[0]), len(r.t.Tokens) - 1, true
}

// setsBefore stand before an effort or a load, in so many tokens.
const (
	setsBefore   = "3x5 dips "
	tokensOfSets = 4
)

// decimal writes a number of parts.
func decimal(n, parts int64) string { return fmt.Sprint(float64(n) / float64(parts)) }

// TestSmallGrammars reads each good input whole, as what it means, and none of the
// bad ones whole.
func TestSmallGrammars(t *testing.T) {
	names := words.NewNames(programme.Builtin())
	for name, grammar := range smallGrammars {
		read := func(input string) (string, bool) {
			if name == "effort" || name == "load" {
				input = setsBefore + input
			}
			var x text.Text
			x.Scan(input)
			r := NewReader(names)
			r.begin(&x, Context{Today: training.Date(2026, 11, 25)}) // a Wednesday
			value, to, ok := grammar.read(&r.reader)
			return value, ok && (to == len(x.Tokens)-1 || name == "number")
		}
		t.Run(name, func(t *testing.T) {
			if len(grammar.good) < 15 || len(grammar.bad) < 10 {
				t.Errorf("%d good and %d bad inputs", len(grammar.good), len(grammar.bad))
			}
			for _, row := range grammar.good {
				input, want, _ := strings.Cut(row, " = ")
				if got, ok := read(input); !ok || got != want {
					t.Errorf("%q is read as %s (%t), want %s", input, got, ok, want)
				}
			}
			for _, row := range grammar.wrong {
				input, want, _ := strings.Cut(row, " = ")
				if got, ok := read(input); ok && got == want {
					t.Errorf("%q is read as it should be: move it to the good ones", input)
				}
			}
			for _, input := range grammar.bad {
				if got, ok := read(input); ok {
					t.Errorf("%q is read as %s", input, got)
				}
			}
		})
	}
}
