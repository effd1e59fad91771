package words_test

import (
	"strings"
	"testing"

	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
	"rungbook/training/programme"
)

// TestExamples holds that every row's example holds one of its words, so that a
// reader of the tables sees what each is for.
func TestExamples(t *testing.T) {
	rows, err := words.Rows()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) < 200 {
		t.Fatalf("only %d rows", len(rows))
	}
	for _, row := range rows {
		if !holds(row.Example, row.Words) {
			t.Errorf("%q holds none of %v", row.Example, row.Words)
		}
	}
}

// holds reports whether a message holds one of the words or phrases of a row.
func holds(message string, of []string) bool {
	said := " " + strings.Join(scanned(message), " ") + " "
	for _, entry := range of {
		phrase := strings.Join(strings.FieldsFunc(entry, func(c rune) bool { return c == '+' || c == '-' }), " ")
		if strings.Contains(said, " "+phrase+" ") {
			return true
		}
	}
	return false
}

func scanned(message string) (out []string) {
	var t text.Text
	t.Scan(message)
	for i := range t.Tokens {
		if word := t.Word(i); len(word) > 0 {
			out = append(out, string(word))
		}
	}
	return out
}

// TestValuesAgree holds that no word has two values, since it can only have one.
func TestValuesAgree(t *testing.T) {
	rows, err := words.Rows()
	if err != nil {
		t.Fatal(err)
	}
	values := map[string]int{}
	for _, row := range rows {
		for _, word := range row.Words {
			if row.Value == 0 {
				continue
			}
			if have, ok := values[word]; ok && have != row.Value {
				t.Errorf("%q is worth %d in one row and %d in another", word, have, row.Value)
			}
			values[word] = row.Value
		}
	}
}

func TestNames(t *testing.T) {
	names := words.NewNames(programme.Builtin())
	for message, want := range map[string]string{
		"deep hang 3x30s": "deep hang", "pull-ups": "pull-ups", "pull ups": "pull-ups", "pullup": "pull-ups", "Rows": "ring rows",
		"false grip hang": "deep hang", "false grip high hold": "high hold", "muscle ups": "muscle-up", "toe-support": "toe support",
	} {
		var x text.Text
		x.Scan(message)
		name, _, ok := names.At(&x, 0)
		if !ok || name.Ladder || names.Rungs[name.At].Name != want {
			t.Errorf("%q begins with %+v (%v), not %s", message, name, ok, want)
		}
	}
	for message, words := range map[string]int{"deep hang 3x30s": 2, "false grip high hold": 4, "pull-ups": 3} {
		var x text.Text
		x.Scan(message)
		if _, next, _ := names.At(&x, 0); next != words {
			t.Errorf("the name that %q begins with ends before token %d, not %d", message, next, words)
		}
	}
}

// TestNear holds the slips a name may have: none up to four letters, one up to
// seven, two beyond, and never of a word with a sense of its own.
func TestNear(t *testing.T) {
	names := words.NewNames(programme.Builtin())
	for typed, want := range map[string]string{
		"dipps": "dips", "deephnag": "deep hang", "deapehang": "deep hang", "suport": "support", "transitoins": "transitions", "trnsitons": "transitions",
		"pullusp": "pull-ups", "dpis": "", "rwos": "", "sport": "", "chips": "", "hips": "", "trxxsxtions": "", "dxxphxng": "",
	} {
		got := ""
		if at, ok := names.Near(typed); ok {
			got = names.Rungs[at].Name
		}
		if got != want {
			t.Errorf("%q is near %q, not %q", typed, got, want)
		}
	}
	for typed, want := range map[string]string{"dh": "deep hang", "mh": "mid hang", "supp": "support", "trans": "transitions", "toetrans": "toe transitions", "s": "", "pu": "pull-ups", "ri": ""} {
		got := ""
		if at, ok := names.Short(typed); ok {
			got = names.Rungs[at].Name
		}
		if got != want {
			t.Errorf("%q is short for %q, not %q", typed, got, want)
		}
	}
}

// TestNoStandardByRounding holds that a time is told to the nearest second, save
// that it never rises to what a gate or a move-on standard asks for.
func TestNoStandardByRounding(t *testing.T) {
	p := &training.Programme{
		Ladders: []training.Ladder{{Rungs: []training.Rung{
			{ID: "a", Name: "a"}, {ID: "b", Name: "b"}, {ID: "c", Name: "c", MoveOn: training.Standard{Sets: 3, Work: 30}},
		}}},
		Gates: []training.Gate{{Rung: "b", Standard: training.Standard{Sets: 1, Work: 30}}},
	}
	for i, want := range []int{30, 29, 29} {
		rung := words.NewNames(p).Rungs[i]
		if got := rung.Seconds(29_600); got != want {
			t.Errorf("29.6 s of %s is %d s, not %d", rung.ID, got, want)
		}
		for milli, want := range map[int64]int{28_600: 29, 28_500: 28, 31_500: 32, 30_400: 30, 30_000: 30} {
			if got := rung.Seconds(milli); got != want {
				t.Errorf("%d ms of %s is %d s, not %d", milli, rung.ID, got, want)
			}
		}
	}
}
