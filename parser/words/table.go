package words

import (
	"embed"
	"fmt"
	"strconv"
	"strings"

	"rungbook/parser/text"
)

//go:embed data/*.tsv
var data embed.FS

// Word is what the language knows of a word.
type Word struct {
	Classes Classes
	Value   int      // as its class says; 0 where no class has one
	Begins  Classes  // the classes of phrases that begin with this word
	phrases []phrase // the phrases that begin with this word, the longest first
}

// phrase is several words that mean one thing.
type phrase struct {
	rest  []string // its words but the first
	class Class
}

// Row is one line of a table: words that are of one class.
type Row struct {
	Class   Class
	Value   int
	Words   []string // folded; the words of a phrase are joined by a +
	Example string   // a message that holds one of them
}

// The language, which is read once and never changed: its rows in order, and what
// they say of each word.
var (
	rows  = mustRows()
	table = build(rows)
)

// Find returns what the language knows of a folded word; nil if it does not know
// it.
func Find(word []byte) *Word { return table[string(word)] }

// Known reports whether the language knows a folded word.
func Known(word string) bool { return table[word] != nil }

// Phrase finds the longest phrase of a class that begins at token i, and
// returns the token behind it. A single word is no phrase. ok is false where
// there is none.
func Phrase(t *text.Text, i int, of Class) (next int, ok bool) {
	word := Find(t.Word(i))
	if word == nil {
		return i, false
	}
	for _, p := range word.phrases {
		if p.class == of {
			if next, ok := p.at(t, i+1); ok {
				return next, true
			}
		}
	}
	return i, false
}

// at reports whether the words of the phrase but its first stand from token i on,
// and returns the token behind them. A hyphen may stand between words.
func (p *phrase) at(t *text.Text, i int) (next int, ok bool) {
	for _, word := range p.rest {
		if t.Is(i, '-') {
			i++
		}
		if string(t.Word(i)) != word {
			return i, false
		}
		i++
	}
	return i, true
}

// Rows reads all tables. The error names the first row that is not of the form
// that the head of its file tells.
func Rows() ([]Row, error) {
	files, err := data.ReadDir("data")
	if err != nil {
		return nil, err
	}
	var rows []Row
	for _, file := range files {
		source, err := data.ReadFile("data/" + file.Name())
		if err != nil {
			return nil, err
		}
		for n, line := range strings.Split(string(source), "\n") {
			if line == "" || line[0] == '#' {
				continue
			}
			row, err := readRow(line)
			if err != nil {
				return nil, fmt.Errorf("read %s, line %d: %w", file.Name(), n+1, err)
			}
			rows = append(rows, row)
		}
	}
	return rows, nil
}

func readRow(line string) (Row, error) {
	parts := strings.Split(line, "\t")
	if len(parts) != 4 {
		return Row{}, fmt.Errorf("%d columns, not 4", len(parts))
	}
	class, ok := classNames[parts[0]]
	if !ok {
		return Row{}, fmt.Errorf("no class %q", parts[0])
	}
	value, err := strconv.Atoi(parts[1])
	if err != nil {
		return Row{}, err
	}
	row := Row{Class: class, Value: value, Example: parts[3]}
	for word := range strings.FieldsSeq(parts[2]) {
		row.Words = append(row.Words, text.Fold(word))
	}
	return row, nil
}

// classNames are the classes as the tables write them.
var classNames = func() map[string]Class {
	names := map[string]Class{}
	for i, name := range strings.Fields(`ones tens hundred part couple few ordinal suffix second minute hour rep kilogram pound set round
		times goes often every and or then by of for at in on to from article the this my with without not was only full rest off between
		effort reserve feel level left right each both limb band bandkind toes floor partner assisted kip fail try made none load counter
		body weekday shortday month today yesterday ahead ago last span daypart noon calendar same total correct did plain harmless doubtful
		exercise unit label activity everyday note tempo hence against approx unaided planned compared negative address those header
		spelled all more adds retract tally scheme will vague now onrings cut phase reached`) {
		names[name] = Class(i)
	}
	if len(names) != int(classes) {
		panic("words: a class has no name") // a programmer's error, seen by every test
	}
	return names
}()

func mustRows() []Row {
	rows, err := Rows()
	if err != nil {
		panic("words: " + err.Error()) // the tables are part of the program
	}
	return rows
}

func build(rows []Row) map[string]*Word {
	all := map[string]*Word{}
	at := func(text string) *Word {
		if all[text] == nil {
			all[text] = &Word{}
		}
		return all[text]
	}
	for _, row := range rows {
		for _, entry := range row.Words {
			parts := strings.FieldsFunc(entry, func(c rune) bool { return c == '+' || c == '-' })
			word := at(parts[0])
			if len(parts) > 1 {
				word.addPhrase(phrase{rest: parts[1:], class: row.Class})
				continue
			}
			word.Classes[row.Class>>6] |= 1 << (row.Class & 63)
			if row.Value != 0 || row.Class == Ones {
				word.Value = row.Value
			}
		}
	}
	return all
}

// addPhrase adds a phrase where it belongs: the longest come first.
func (w *Word) addPhrase(p phrase) {
	i := 0
	for i < len(w.phrases) && len(w.phrases[i].rest) >= len(p.rest) {
		i++
	}
	w.Begins[p.class>>6] |= 1 << (p.class & 63)
	w.phrases = append(w.phrases[:i], append([]phrase{p}, w.phrases[i:]...)...)
}
