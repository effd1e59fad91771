package slash

import (
	"errors"
	"maps"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// drawCommand draws a command with up to five options, at most one of them bare.
func drawCommand(t *rapid.T) Command {
	word := rapid.StringMatching(`[a-z][a-z-]{0,4}`)
	command := Command{Name: strings.Join(rapid.SliceOfN(word, 1, 3).Draw(t, "name"), " ")}
	bare := rapid.IntRange(0, 8).Draw(t, "bare")
	for i, name := range rapid.SliceOfNDistinct(word, 0, 5, rapid.ID).Draw(t, "options") {
		option := Option{Name: name, Bare: i == bare, Required: rapid.Bool().Draw(t, "required")}
		if rapid.IntRange(0, 3).Draw(t, "has choices") == 0 {
			option.Choices = rapid.SliceOfN(word, 1, 3).Draw(t, "choices")
			option.Loose = rapid.Bool().Draw(t, "loose")
		}
		command.Options = append(command.Options, option)
	}
	return command
}

// drawWords draws words that look much like the command's own grammar.
func drawWords(t *rapid.T, command *Command) string {
	parts := []string{" ", "\n", `"`, "“", "”", "'", ":", "\xff", "é", "3x20", "/" + command.Name}
	for _, option := range command.Options {
		parts = append(parts, option.Name, " "+option.Name+":", option.Name+`:"`)
		parts = append(parts, option.Choices...)
	}
	return strings.Join(rapid.SliceOfN(rapid.SampledFrom(parts), 1, 12).Draw(t, "words"), "")
}

// What Line writes is found and parsed again, whatever the values hold: double
// quotes become apostrophes, blanks at the ends are lost, and nothing else changes.
func TestLineIsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		command := drawCommand(t)
		want := Values{}
		var pairs []Pair
		for _, option := range rapid.Permutation(command.Options).Draw(t, "order") {
			if !option.Required && rapid.Bool().Draw(t, "left out") {
				continue
			}
			value := "|" + drawWords(t, &command) + rapid.SampledFrom([]string{"|", " ", "\""}).Draw(t, "end")
			if option.Choices != nil {
				value = rapid.SampledFrom(option.Choices).Draw(t, "choice")
			}
			pairs = append(pairs, Pair{option.Name, value})
			for _, quote := range []string{`"`, "“", "”"} {
				value = strings.ReplaceAll(value, quote, "'")
			}
			want[option.Name] = strings.TrimSpace(value)
		}
		line := Line(command.Name, pairs...)
		first, _, _ := strings.Cut(command.Name, " ")
		found, rest := Find([]Command{command, {Name: first}, {Name: command.Name + "s"}}, line)
		if !IsCommand(line) || found == nil || found.Name != command.Name {
			t.Fatalf("%q finds %v", line, found)
		}
		if got, err := found.Parse(rest); err != nil || !maps.Equal(got, want) {
			t.Fatalf("%q is read as %q, %v; want %q", line, got, err, want)
		}
	})
}

// Values that no quote and no blank at an end can change come back as they are.
func TestQuoteChangesNothingElse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		value := rapid.String().Filter(func(s string) bool { return !strings.ContainsAny(s, quotes) }).Draw(t, "value")
		if got := Quote(value); got != `"`+value+`"` {
			t.Errorf("%q becomes %s", value, got)
		}
	})
}

// Whatever is typed is read or is a fault that names one of the command's own
// options; what is read stands in the words, in their order, and no byte of it
// twice.
func FuzzParse(f *testing.F) {
	command := &Command{Name: "brew", Options: []Option{
		{Name: "cups", Bare: true}, {Name: "for"}, {Name: "note", Required: true}, {Name: "note-by"},
		{Name: "hot", Choices: []string{"yes", "no"}}, {Name: "milk", Loose: true, Choices: []string{"oat"}},
	}}
	for _, words := range []string{
		"", "4", `4 note:"for:Wen cups:5" for:Ana Rita`, "note:“hot” HOT:Yes milk:OAT", `note:"never closed for:x`, `note:""for:"`,
		"note: \n for:", "cups:cups:cups:", `note:"a" b for:c`, "note-by:note:note-by", "\xff note:\xe2\x80 for:”“", "hot:maybe",
	} {
		f.Add(words)
	}
	f.Fuzz(func(t *testing.T, words string) {
		at := 0
		for _, p := range command.pieces(words) {
			for _, part := range []string{p.value, p.junk} {
				i := strings.Index(words[at:], part)
				if i < 0 {
					t.Fatalf("%q does not stand in %q", part, words[at:])
				}
				at += i + len(part)
			}
		}
		values, err := command.Parse(words)
		var fault *Fault
		switch {
		case err == nil && values["note"] == "":
			t.Errorf("%q gives no note, which is required", words)
		case err == nil:
			for name, value := range values {
				if command.Option(name) == nil || value != strings.TrimSpace(value) || value == "" {
					t.Errorf("%q gives %q for %q", words, value, name)
				}
			}
		case !errors.As(err, &fault) || fault.Command != command:
			t.Errorf("%q: %v", words, err)
		case (fault.Option == nil) != (fault.Kind == UnknownWords):
			t.Errorf("%q: %v", words, err)
		case fault.Option != nil && !slices.ContainsFunc(command.Options, func(o Option) bool { return o.Name == fault.Option.Name }):
			t.Errorf("%q: %v", words, err)
		}
	})
}

// Whatever is typed, what is found is a command's name and what follows it.
func FuzzFind(f *testing.F) {
	table := []Command{{Name: "brew"}, {Name: "oven"}, {Name: "oven door"}}
	for _, line := range []string{"/brew", "/OVEN door left", "/oven\tdoor", "/ovendoor", "  /oven door\n\nx ", "/\xff", "/brew\u00a0x"} {
		f.Add(line)
	}
	f.Fuzz(func(t *testing.T, line string) {
		found, rest := Find(table, line)
		if found == nil {
			if rest != "" {
				t.Errorf("%q finds nothing and leaves %q", line, rest)
			}
			return
		}
		if !IsCommand(line) || !Names(line, found.Name) || !strings.HasSuffix(strings.TrimSpace(line), rest) {
			t.Errorf("%q finds %q and leaves %q", line, found.Name, rest)
		}
	})
}
