package explain_test

import (
	"bufio"
	"encoding/json"
	"flag"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"rungbook/parser/explain"
	"rungbook/parser/sets"
	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
	"rungbook/training/programme"
)

var update = flag.Bool("update", false, "rewrite the golden file of testdata")

var (
	builtin = programme.Builtin()
	names   = words.NewNames(builtin)
	told    = explain.New(builtin, names, func(word []byte) bool { return slices.Contains(bodyWords, string(word)) })
	ctx     = sets.Context{Today: training.Date(2026, 11, 25)}

	bodyWords = []string{"elbow", "wrist", "sore", "hurts"}
)

// message is a message that was read.
type message struct {
	text text.Text
	read *sets.Reading
}

func read(written string) *message {
	m := &message{}
	m.text.Scan(written)
	m.read = sets.NewReader(names).Read(&m.text, ctx)
	return m
}

func whole(written string) bool {
	m := read(written)
	return len(m.read.Days) > 0 && len(m.read.Doubts) == 0
}

func (m *message) problem(d sets.Doubt) (at sets.Span, say string, suggest []string) {
	say, suggest = told.Problem(&m.text, m.read, d, whole)
	return told.Place(&m.text, m.read, d), say, suggest
}

// first returns the first doubt; a name alone lacks its size.
func (m *message) first() (sets.Doubt, bool) {
	if len(m.read.Doubts) > 0 {
		return m.read.Doubts[0], true
	}
	if len(m.read.Days) > 0 {
		return sets.Doubt{}, false
	}
	return told.Lacking(&m.text)
}

// sets counts the sets that were read.
func (m *message) sets() (n int) {
	for _, day := range m.read.Days {
		n += len(day.Sets)
	}
	return n
}

// runes returns where a span stands in characters.
func (m *message) runes(span sets.Span) [2]int {
	count := func(end int32) int { return utf8.RuneCountInString(m.text.Message[:end]) }
	return [2]int{count(m.text.Tokens[span.From].From), count(m.text.Tokens[span.To-1].To)}
}

// otherCodes are codes of errors.jsonl for which the grammar has one of its own.
var otherCodes = map[sets.Code]sets.Code{sets.TwoSizes: sets.MissingSkill, sets.UnknownSkill: sets.AmbiguousSkill}

// noDoubts are lines of errors.jsonl in which the grammar finds no doubt, and why.
var noDoubts = map[string]string{
	"e038": "what is said of a body is not the grammar's",
	"e064": "a unit carries across a list",
}

// TestErrors holds what is said of testdata/errors.jsonl to the code, the place and
// the words that each line asks for.
func TestErrors(t *testing.T) {
	file, err := os.Open("../testdata/errors.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	for scan := bufio.NewScanner(file); scan.Scan(); {
		var line struct {
			ID, Text string
			Error    struct {
				Code        sets.Code
				Span        [2]int   `json:"span_runes"`
				MustMention []string `json:"must_mention"`
				Suggestion  string
			}
		}
		if err := json.Unmarshal(scan.Bytes(), &line); err != nil {
			t.Fatal(err)
		}
		m, want := read(line.Text), line.Error
		d, ok := m.first()
		if !ok {
			if noDoubts[line.ID] == "" {
				t.Errorf("%s %q is not doubted", line.ID, line.Text)
			}
			continue
		}
		at, say, suggest := m.problem(d)
		if d.Code != want.Code && otherCodes[d.Code] != want.Code {
			t.Errorf("%s %q is %s, not %s", line.ID, line.Text, d.Code, want.Code)
		}
		if got := m.runes(at); got != want.Span {
			t.Errorf("%s %q is doubted at %v, not at %v", line.ID, line.Text, got, want.Span)
		}
		for _, mention := range want.MustMention {
			if !strings.Contains(say+"\n"+strings.Join(suggest, "\n"), mention) {
				t.Errorf("%s %q: %q is not said: %s %q", line.ID, line.Text, mention, say, suggest)
			}
		}
		if !slices.ContainsFunc(suggest, func(s string) bool { return strings.Contains(s, want.Suggestion) }) && want.Suggestion != "" {
			t.Errorf("%s %q: %q is not suggested but %q", line.ID, line.Text, want.Suggestion, suggest)
		}
	}
}

// TestDoubts holds testdata/doubts.txt: each message with a caret line under the
// place at fault, what is said, and what is offered.
func TestDoubts(t *testing.T) {
	const golden = "testdata/doubts.txt"
	data, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	blocks := strings.Split(strings.TrimSpace(string(data)), "\n\n")
	out := blocks[0] + "\n"
	for _, block := range blocks[1:] {
		written, _, _ := strings.Cut(block, "\n")
		m := read(written)
		d, ok := m.first()
		if !ok {
			t.Errorf("%q is not doubted", written)
			continue
		}
		at, say, suggest := m.problem(d)
		place := m.runes(at)
		carets := strings.Repeat(" ", place[0]) + strings.Repeat("^", place[1]-place[0])
		out += "\n" + written + "\n" + carets + " " + string(d.Code) + "\n" + say + "\n"
		for _, s := range suggest {
			out += "> " + s + "\n"
		}
	}
	if *update {
		if err := os.WriteFile(golden, []byte(out), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if out != string(data) {
		t.Errorf("%s is not what is said (-update rewrites it); now:\n%s", golden, out)
	}
}

// wrong are codes of which the place itself is wrong, so that no suggestion may
// repeat it.
var wrong = []sets.Code{
	sets.ZeroSize, sets.SizeTooLarge, sets.BadUnit, sets.LetterForDigit, sets.BadClock, sets.SuspiciousOrder, sets.CountTooLarge,
	sets.FractionalCount, sets.FractionalReps, sets.Range, sets.EffortRange, sets.EffortWord, sets.LoadTooLarge, sets.RestTooLong,
	sets.BadDate, sets.FutureDay, sets.MoreDoneThanTry, sets.UnitMismatch, sets.NoSuchSet,
}

// TestSuggestions holds every suggestion: it is read whole, keeps each set and each
// skill of the message, repeats no wrong figure and nothing of a body.
func TestSuggestions(t *testing.T) {
	suggested := 0
	for _, file := range []string{"testdata/doubts.txt", "../testdata/bad.txt"} {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for block := range strings.SplitSeq(string(data), "\n\n") {
			written, _, _ := strings.Cut(block, "\n")
			m := read(written)
			for _, d := range m.read.Doubts {
				at, say, suggest := m.problem(d)
				suggested += len(suggest)
				if n := utf8.RuneCountInString(say); n == 0 || n > 230 || strings.Contains(say, "%") {
					t.Errorf("%q: %s is said", written, say)
				}
				if len(suggest) > 3 {
					t.Errorf("%q: %d suggestions", written, len(suggest))
				}
				for _, s := range suggest {
					m.sound(t, d, at, s)
				}
			}
		}
	}
	if suggested < 100 {
		t.Errorf("only %d suggestions in all", suggested)
	}
}

// sound holds one suggestion.
func (m *message) sound(t *testing.T, d sets.Doubt, at sets.Span, suggestion string) {
	t.Helper()
	again := read(suggestion)
	if !whole(suggestion) {
		t.Errorf("%q: %q is not read whole", m.text.Message, suggestion)
	}
	if again.sets() <= m.sets() && at == d.Span && lacks(d.Code) {
		t.Errorf("%q: %q has no more sets than were read", m.text.Message, suggestion)
	}
	if again.sets() < m.sets() {
		t.Errorf("%q: %q loses sets", m.text.Message, suggestion)
	}
	for _, skill := range m.read.Skills {
		kept := slices.ContainsFunc(again.read.Skills, func(other sets.Mention) bool { return other.Rung == skill.Rung })
		if doubted := skill.From >= at.From && skill.To <= at.To; !kept && !doubted {
			t.Errorf("%q: %q loses %s", m.text.Message, suggestion, names.Rungs[skill.Rung].Name)
		}
	}
	if slices.Contains(wrong, d.Code) && again.holds(m.text.Written(at.From, at.To)) {
		t.Errorf("%q: %q repeats what is wrong", m.text.Message, suggestion)
	}
	for _, word := range bodyWords {
		if strings.Contains(suggestion, word) {
			t.Errorf("%q: %q speaks of a body", m.text.Message, suggestion)
		}
	}
}

// lacks reports whether the doubt kept a size from being read.
func lacks(code sets.Code) bool {
	return slices.Contains([]sets.Code{sets.UnknownSkill, sets.MissingSkill, sets.MissingUnit, sets.MissingSize, sets.Range}, code)
}

// holds reports whether tokens are written so in the message.
func (m *message) holds(written string) bool {
	for from := range m.text.Tokens {
		for to := from + 1; to < len(m.text.Tokens); to++ {
			if m.text.Written(from, to) == written {
				return true
			}
		}
	}
	return false
}

// TestEveryCode holds that each code of the grammar has words.
func TestEveryCode(t *testing.T) {
	file, err := parser.ParseFile(token.NewFileSet(), "../sets/code.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	m, codes := read("3x30s deep hang"), 0
	ast.Inspect(file, func(n ast.Node) bool {
		literal, ok := n.(*ast.BasicLit)
		if !ok {
			return true
		}
		code, err := strconv.Unquote(literal.Value)
		if err != nil {
			t.Fatal(err)
		}
		codes++
		d := sets.Doubt{Code: sets.Code(code), Span: sets.Span{From: 2, To: 4}, Rung: -1}
		if say, _ := told.Problem(&m.text, m.read, d, whole); say == "" {
			t.Errorf("nothing is said of %s", code)
		}
		return true
	})
	if codes < 40 {
		t.Errorf("only %d codes are found", codes)
	}
}

// TestTyped holds that nothing typed is taken for a mark, that quotations are cut,
// and that nothing of a body is quoted.
func TestTyped(t *testing.T) {
	for _, c := range []struct{ written, want string }{
		{"%q %n 100% 3x30s", "“%q %n 100%”"},
		{strings.Repeat("plinko", 10), "“" + strings.Repeat("plinko", 6) + "plin…”"},
		{"sore plinko", "that"},
		{"plinko\n  zorb", "“plinko zorb”"},
	} {
		m := read(c.written)
		end := len(m.text.Tokens) - 1
		if strings.HasSuffix(c.written, "3x30s") {
			end -= 4
		}
		d := sets.Doubt{Code: sets.Changed, Span: sets.Span{From: 0, To: end}, Rung: -1}
		say, _ := told.Problem(&m.text, m.read, d, whole)
		if want := "I can't tell whether " + c.want + " changes it."; say != want {
			t.Errorf("%q: %s, not %s", c.written, say, want)
		}
	}
}

// FuzzProblem holds that no doubt of any message is beyond words.
func FuzzProblem(f *testing.F) {
	for _, seed := range []string{
		"3x30s deep hang, 3x20s hold", "mid hang 20/10 x 8", "5-6 dips yesterday (8)", "3x1:75 support @hard +5", "muscle-up 5/3 on 11/12",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, written string) {
		m := read(written)
		for _, d := range m.read.Doubts {
			if at, say, _ := m.problem(d); say == "" || at.From < 0 || at.To <= at.From || at.To > len(m.text.Tokens) {
				t.Fatalf("%s at %v: %q", d.Code, at, say)
			}
		}
	})
}
