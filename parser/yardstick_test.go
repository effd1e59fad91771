package parser_test

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"

	"rungbook/training"
	"rungbook/training/programme"
)

// Two other ways to read a log stand here as yardsticks for speed: a grammar for
// a parser library, and a pipeline of regular expressions. Both reach sizes,
// names on either side of them, rest, effort, load and some days; the pipeline
// also lists, clock times, sides, help and failed sets. Neither knows moods but by
// a few words, pain, circuits, misspellings or what to suggest.

// knownNames maps every name and alias to its rung, in lower case.
var knownNames = func() map[string]training.RungID {
	out := map[string]training.RungID{}
	for _, ladder := range programme.Builtin().Ladders {
		for _, rung := range ladder.Rungs {
			for _, name := range append([]string{rung.Name}, rung.Aliases...) {
				out[strings.ToLower(name)] = rung.ID
			}
		}
	}
	return out
}()

type grammarLog struct {
	Day     string           `parser:"( @Day ':'? )?"`
	Clauses []*grammarClause `parser:"@@ ( ( ',' | '&' | 'and' | 'then' ) @@ )*"`
}

type grammarClause struct {
	Name []string      `parser:"( @Word+ ':'? )?"`
	Size *grammarSize  `parser:"@@"`
	On   []string      `parser:"@Word*"`
	Mods []*grammarMod `parser:"@@*"`
}

type grammarSize struct {
	Count *int   `parser:"( @Int Times )?"`
	N     int    `parser:"@Int"`
	Unit  string `parser:"@Unit?"`
}

type grammarMod struct {
	Effort *int     `parser:"'@' @Int"`
	Load   *float64 `parser:"| '+' @( Int | Float ) Kg"`
	Rest   *int     `parser:"| 'rest' @Int Unit?"`
}

var grammar = participle.MustBuild[grammarLog](
	participle.Lexer(lexer.MustSimple([]lexer.SimpleRule{
		{Name: "Day", Pattern: `(?i)\b(today|yesterday|monday|tuesday|wednesday|thursday|friday|saturday|sunday)\b`},
		{Name: "Float", Pattern: `\d+\.\d+`},
		{Name: "Int", Pattern: `\d+`},
		{Name: "Unit", Pattern: `(?i)\b(seconds|second|secs|sec|s|minutes|minute|mins|min|m|reps|rep)\b`},
		{Name: "Kg", Pattern: `(?i)\b(kg|kgs)\b`},
		{Name: "Times", Pattern: `[xX×*]`},
		{Name: "Join", Pattern: `(?i)\b(and|then|rest)\b`},
		{Name: "Word", Pattern: `[\pL][\pL'-]*`},
		{Name: "Punct", Pattern: `[,&:@+]`},
		{Name: "Blank", Pattern: `\s+`},
	})),
	participle.Elide("Blank"), participle.CaseInsensitive("Join"), participle.UseLookahead(4),
)

func viaGrammar(text string) (out []training.Set) {
	log, err := grammar.ParseString("", spaced(text))
	if err != nil {
		return nil
	}
	for _, c := range log.Clauses {
		set := training.Set{Rung: knownNames[strings.ToLower(strings.Join(append(c.Name, c.On...), " "))]}
		measure(&set, c.Size.N, c.Size.Unit)
		for _, m := range c.Mods {
			switch {
			case m.Effort != nil:
				set.Effort = training.Known(*m.Effort)
			case m.Load != nil:
				set.LoadHg = int(*m.Load * 10)
			case m.Rest != nil:
				set.RestS = training.Known(*m.Rest)
			}
		}
		out = repeat(out, set, c.Size.Count)
	}
	return out
}

// spaced sets units and times signs off from their numbers, which the library's
// lexer needs.
func spaced(text string) string { return glued.ReplaceAllString(text, "$1 $2 ") }

var glued = regexp.MustCompile(`(\d)([a-zA-Z×*]+)`)

func measure(set *training.Set, n int, unit string) {
	switch {
	case strings.HasPrefix(strings.ToLower(unit), "m"):
		set.WorkS = n * 60
	case strings.HasPrefix(strings.ToLower(unit), "s"):
		set.WorkS = n
	default:
		set.Reps = n
	}
}

func repeat(out []training.Set, set training.Set, count *int) []training.Set {
	n := 1
	if count != nil {
		n = *count
	}
	for range n {
		out = append(out, set)
	}
	return out
}

const unitsOf = `(seconds?|secs?|s|minutes?|mins?|m|reps?)?`

var (
	signs     = regexp.MustCompile(`[×*]`)
	noLog     = regexp.MustCompile(`\?|\b(tomorrow|gonna|will|plan|goal|should|could|would|if|never|didn't|always)\b`)
	dayFirst  = regexp.MustCompile(`\b(today|yesterday|monday|tuesday|wednesday|thursday|friday|saturday|sunday)\b:?`)
	joints    = regexp.MustCompile(`\s*(?:,|&|\band\b|\bthen\b|\n)\s*`)
	sizeFirst = regexp.MustCompile(`^(?:(\d+)\s*x\s*)?(\d+)\s*` + unitsOf + `\s+([a-z][a-z' -]*?)\s*$`)
	nameFirst = regexp.MustCompile(`^([a-z][a-z' -]*?)\s*:?\s*(?:(\d+)\s*x\s*)?(\d+)\s*` + unitsOf + `\s*$`)
	effortOf  = regexp.MustCompile(`\s*@\s*(\d+)`)
	restOf    = regexp.MustCompile(`\s*\brest\s+(\d+)\s*s?\b`)
	loadOf    = regexp.MustCompile(`\s*\+(\d+(?:\.\d+)?)\s*kg\b`)
	clockOf   = regexp.MustCompile(`(\d+):([0-5]\d)\b`)
	sideOf    = regexp.MustCompile(`\s*\b(left|right|each side)\b`)
	bandOf    = regexp.MustCompile(`\s*\b(?:with (?:a )?)?(?:\w+ )?band\b`)
	toesOf    = regexp.MustCompile(`\s*\b(?:with )?toes (?:down|on the floor)\b`)
	failOf    = regexp.MustCompile(`\s*\bfail(?:ed)?\b`)
	listFirst = regexp.MustCompile(`^(\d+(?:/\d+)+)\s*` + unitsOf + `\s+([a-z][a-z' -]*?)\s*$`)
	listLast  = regexp.MustCompile(`^([a-z][a-z' -]*?)\s*:?\s*(\d+(?:/\d+)+)\s*` + unitsOf + `\s*$`)
	bodyWords = regexp.MustCompile(`\b(elbow|wrist|shoulder|forearm)s?\b`)
)

func viaExpressions(text string) (out []training.Set) {
	text = signs.ReplaceAllString(strings.ToLower(text), "x")
	if noLog.MatchString(text) || bodyWords.MatchString(text) {
		return nil
	}
	text = dayFirst.ReplaceAllString(text, "")
	text = clockOf.ReplaceAllStringFunc(text, func(clock string) string {
		m := clockOf.FindStringSubmatch(clock)
		minutes, _ := strconv.Atoi(m[1])
		seconds, _ := strconv.Atoi(m[2])
		return strconv.Itoa(minutes*60+seconds) + "s"
	})
	for _, part := range joints.Split(text, -1) {
		sets := expressed(part)
		if sets == nil {
			return nil
		}
		out = append(out, sets...)
	}
	return out
}

// expressed reads one part: what stands beside the size first, then the size.
func expressed(part string) []training.Set {
	set := training.Set{}
	cut := func(re *regexp.Regexp) (string, bool) {
		m := re.FindStringSubmatchIndex(part)
		if m == nil {
			return "", false
		}
		said := ""
		if len(m) > 2 {
			said = part[m[2]:m[3]]
		}
		part = part[:m[0]] + part[m[1]:]
		return said, true
	}
	if v, ok := cut(effortOf); ok {
		n, _ := strconv.Atoi(v)
		set.Effort = training.Known(n)
	}
	if v, ok := cut(restOf); ok {
		n, _ := strconv.Atoi(v)
		set.RestS = training.Known(n)
	}
	if v, ok := cut(loadOf); ok {
		n, _ := strconv.ParseFloat(v, 64)
		set.LoadHg = int(n * 10)
	}
	if v, ok := cut(sideOf); ok {
		set.Side = training.Side(strings.TrimSuffix(v, " side"))
	}
	if _, ok := cut(bandOf); ok {
		set.Help = "band"
	}
	if _, ok := cut(toesOf); ok {
		set.Help = "toes"
	}
	_, set.Failed = cut(failOf)
	return expressedSize(set, strings.TrimSpace(part))
}

func expressedSize(set training.Set, part string) []training.Set {
	count, list, unit, name := "", "", "", ""
	if m := sizeFirst.FindStringSubmatch(part); m != nil {
		count, list, unit, name = m[1], m[2], m[3], m[4]
	} else if m := nameFirst.FindStringSubmatch(part); m != nil {
		name, count, list, unit = m[1], m[2], m[3], m[4]
	} else if m := listFirst.FindStringSubmatch(part); m != nil {
		list, unit, name = m[1], m[2], m[3]
	} else if m := listLast.FindStringSubmatch(part); m != nil {
		name, list, unit = m[1], m[2], m[3]
	} else {
		return nil
	}
	set.Rung = knownNames[strings.TrimSpace(name)]
	times := 1
	if c, err := strconv.Atoi(count); err == nil {
		times = c
	}
	var out []training.Set
	for _, n := range strings.Split(list, "/") {
		size, err := strconv.Atoi(n)
		if err != nil {
			return nil
		}
		one := set
		measure(&one, size, unit)
		out = repeat(out, one, &times)
	}
	return out
}

// yardLines are what all three must read alike.
var yardLines = []string{
	typical,
	"3x30s deep hang rest 60s @8, 5 pull-ups +5kg",
	"yesterday: 3x20s toe support",
	"deep hang 3x30s, 2x8 ring rows",
	"3 x 30 sec mid hang and 2x60s transitions",
}

// TestYardsticks holds the yardsticks to the same sets, so that their speed may
// be compared.
func TestYardsticks(t *testing.T) {
	for _, text := range yardLines {
		want := read(text).Sets()
		if got := viaGrammar(text); !slices.Equal(got, want) {
			t.Errorf("%q by the grammar: %+v, not %+v", text, got, want)
		}
	}
	for _, text := range append(yardLines, "pull-ups 5/5/4", "2x1:30 transitions", "3x10s mid hang left", "30/28/25s deep hang @9") {
		want := read(text).Sets()
		if got := viaExpressions(text); !slices.Equal(got, want) {
			t.Errorf("%q by expressions: %+v, not %+v", text, got, want)
		}
	}
}

func BenchmarkYardstick(b *testing.B) {
	for _, way := range []struct {
		name string
		read func(string) []training.Set
	}{
		{"this", func(text string) []training.Set { return read(text).Sets() }},
		{"grammar", viaGrammar},
		{"expressions", viaExpressions},
	} {
		b.Run(way.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				for _, text := range yardLines {
					keptSets = way.read(text)
				}
			}
		})
	}
}

var keptSets []training.Set
