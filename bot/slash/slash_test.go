package slash_test

import (
	"errors"
	"maps"
	"strings"
	"testing"

	"rungbook/bot/slash"
)

// kitchen is a table of nobody's bot, with each sort of option.
var kitchen = []slash.Command{
	{Name: "menu"},
	{Name: "brew", Options: []slash.Option{
		{Name: "cups", Kind: slash.Count, Bare: true},
		{Name: "for", Kind: slash.Member},
		{Name: "note", Kind: slash.Text},
		{Name: "note-by", Kind: slash.Member},
	}},
	{Name: "oven", Options: []slash.Option{{Name: "heat", Bare: true, Required: true, Choices: []string{"low", "high"}}}},
	{Name: "oven door", Options: []slash.Option{
		{Name: "side", Required: true, Choices: []string{"left", "right"}},
		{Name: "after", Kind: slash.Day, Required: true},
		{Name: "slam", Choices: []string{"yes"}},
	}},
	{Name: "oven days", Options: []slash.Option{{Name: "days", Required: true, Bare: true, Example: "Mon Thu"}}},
	{Name: "rest", Options: []slash.Option{{Name: "what", Bare: true, Loose: true, Choices: []string{"end"}}}},
}

func find(t *testing.T, name string) *slash.Command {
	t.Helper()
	command, rest := slash.Find(kitchen, "/"+name)
	if command == nil || command.Name != name || rest != "" {
		t.Fatalf("/%s finds %v and leaves %q", name, command, rest)
	}
	return command
}

func TestIsCommand(t *testing.T) {
	for text, want := range map[string]bool{
		"/menu": true, "/M": true, "  /menu \n": true, "/what is this": true, "\n/menu": true,
		"": false, "/": false, " / ": false, "/ menu": false, "/3x20": false, "//menu": false, "/é": false, "/[": false, "/@": false,
		"menu": false, "see /menu": false, "/`": false, "/{": false,
	} {
		if got := slash.IsCommand(text); got != want {
			t.Errorf("%q is a command: %v, want %v", text, got, want)
		}
	}
}

func TestFind(t *testing.T) {
	for _, test := range []struct{ line, name, rest string }{
		{"/menu", "menu", ""},
		{" /MeNu ", "menu", ""},
		{"/menu please", "menu", "please"},
		{"/menus", "", ""},
		{"/men", "", ""},
		{"menu", "", ""},
		{"/", "", ""},
		{"", "", ""},
		{"/ menu", "", ""},
		{"/oven", "oven", ""},
		{"/oven high", "oven", "high"},
		{"/oven door", "oven door", ""}, // the longest name wins
		{"/Oven Door side:left", "oven door", "side:left"},
		{"/oven  door", "oven", "door"}, // a name is typed as it is written
		{"/oven doors", "oven", "doors"},
		{"/oven\ndoor", "oven", "door"},
		{"/oven door\nside:left", "oven door", "side:left"},
		{"/brew\t4", "brew", "4"},
		{"/brew:4", "", ""},
		{"/brew\u00a04", "", ""},
		{"/brew  \n 4 \n", "brew", "4"},
	} {
		name := ""
		command, rest := slash.Find(kitchen, test.line)
		if command != nil {
			name = command.Name
		}
		if name != test.name || rest != test.rest {
			t.Errorf("%q finds %q and leaves %q, want %q and %q", test.line, name, rest, test.name, test.rest)
		}
		if test.name != "" && !slash.Names(test.line, test.name) || slash.Names(test.line, "fridge") {
			t.Errorf("%q names %q, want %q alone", test.line, "fridge", test.name)
		}
	}
	if slash.Names("/menu", "") {
		t.Error("a line names the command without a name")
	}
}

func TestParse(t *testing.T) {
	type values = slash.Values
	for _, test := range []struct {
		name, rest string
		want       values
	}{
		{"menu", "", values{}},
		{"menu", " \n ", values{}},
		{"brew", "", values{}},
		{"brew", "4", values{"cups": "4"}},
		{"brew", " 4 or 5\n", values{"cups": "4 or 5"}},
		{"brew", "cups:4", values{"cups": "4"}},
		{"brew", "CUPS:4 For:Wen", values{"cups": "4", "for": "Wen"}},
		{"brew", "4 for:Wen", values{"cups": "4", "for": "Wen"}},
		{"brew", "for:Wen cups:4", values{"cups": "4", "for": "Wen"}},
		{"brew", "for: Wen", values{"for": "Wen"}},
		{"brew", "for:Ana Rita cups:4", values{"for": "Ana Rita", "cups": "4"}},
		{"brew", "for:\nWen\ncups:4\n", values{"for": "Wen", "cups": "4"}},
		{"brew", "cups: for:Wen", values{"for": "Wen"}}, // the bare one may be named and left empty
		{"brew", "note:at 7:30, or so", values{"note": "at 7:30, or so"}},
		{"brew", "note:see afor:x", values{"note": "see afor:x"}}, // an option begins a word
		{"brew", "note:no sugar:none", values{"note": "no sugar:none"}},
		{"brew", "note-by:Wen", values{"note-by": "Wen"}},
		// quotes
		{"brew", `note:"for:Wen cups:4"`, values{"note": "for:Wen cups:4"}},
		{"brew", "note:“for:Wen cups:4”", values{"note": "for:Wen cups:4"}},
		{"brew", "note:”hot“", values{"note": "hot"}},
		{"brew", `note:"hot” for:Wen`, values{"note": "hot", "for": "Wen"}},
		{"brew", `note: "hot"  for:"Ana Rita"`, values{"note": "hot", "for": "Ana Rita"}},
		{"brew", `note:"hot"for:Wen`, values{"note": "hot", "for": "Wen"}},
		{"brew", `note:" hot "`, values{"note": "hot"}},
		{"brew", "note:\"two\nlines\"", values{"note": "two\nlines"}},
		{"brew", `note:"never closed for:Wen`, values{"note": "never closed", "for": "Wen"}},
		{"brew", `note:it's "hot" now`, values{"note": `it's "hot" now`}}, // no quote opens it
		{"brew", `"4" for:Wen`, values{"cups": `"4"`, "for": "Wen"}},      // only a named value is unquoted
		// choices
		{"oven", "HIGH", values{"heat": "high"}},
		{"oven", "heat:Low", values{"heat": "low"}},
		{"oven door", "side:left after:Mon", values{"side": "left", "after": "Mon"}},
		{"oven door", `after:"next Mon" slam:YES side:right`, values{"side": "right", "after": "next Mon", "slam": "yes"}},
		{"oven days", "Mon Thu", values{"days": "Mon Thu"}},
		{"rest", "END", values{"what": "end"}},
		{"rest", "I am Tired", values{"what": "i am tired"}}, // loose
	} {
		got, err := find(t, test.name).Parse(test.rest)
		if err != nil || !maps.Equal(got, test.want) {
			t.Errorf("/%s %q: %v, %v; want %v", test.name, test.rest, got, err, test.want)
		}
	}
}

func TestFaults(t *testing.T) {
	for _, test := range []struct {
		name, rest    string
		kind          slash.FaultKind
		option, value string
	}{
		{"menu", "please", slash.UnknownWords, "", "please"},
		{"menu", "cups:4", slash.UnknownWords, "", "cups:4"},
		{"oven door", "gently side:left", slash.UnknownWords, "", "gently"},
		{"oven door", "colour:red side:left", slash.UnknownWords, "", "colour:red"},
		{"brew", `note:"hot" and soon for:Wen`, slash.UnknownWords, "", "and soon"},
		{"brew", `note:"a "b" c"`, slash.UnknownWords, "", `b" c"`},
		{"brew", "for:", slash.EmptyValue, "for", ""},
		{"brew", "for: cups:4", slash.EmptyValue, "for", ""},
		{"brew", `for:""`, slash.EmptyValue, "for", ""},
		{"brew", `for:"  "`, slash.EmptyValue, "for", ""},
		{"brew", `for:"`, slash.EmptyValue, "for", ""},
		{"brew", "4 cups:5", slash.GivenTwice, "cups", "5"},
		{"brew", "for:Wen for:Wen", slash.GivenTwice, "for", "Wen"},
		{"brew", "for:Wen FOR:Bako", slash.GivenTwice, "for", "Bako"},
		{"oven", "", slash.MissingOption, "heat", ""},
		{"oven", "heat:", slash.MissingOption, "heat", ""},
		{"oven", "Medium", slash.NotAChoice, "heat", "Medium"},
		{"oven", `heat:"high "low"`, slash.UnknownWords, "", `low"`},
		{"oven door", "", slash.MissingOption, "side", ""},
		{"oven door", "side:left", slash.MissingOption, "after", ""},
		{"oven door", "side:left right after:Mon", slash.NotAChoice, "side", "left right"},
		{"oven door", "side:left after:Mon slam:Never", slash.NotAChoice, "slam", "Never"},
		{"oven door", "side:up after:", slash.NotAChoice, "side", "up"}, // the first of two
	} {
		command := find(t, test.name)
		values, err := command.Parse(test.rest)
		var fault *slash.Fault
		if !errors.As(err, &fault) || values != nil {
			t.Errorf("/%s %q: %v, %v; want a fault", test.name, test.rest, values, err)
			continue
		}
		option := ""
		if fault.Option != nil {
			option = fault.Option.Name
		}
		if fault.Kind != test.kind || fault.Command != command || option != test.option || fault.Value != test.value {
			t.Errorf("/%s %q: %s, option %q, value %q", test.name, test.rest, fault.Kind, option, fault.Value)
		}
		if text := err.Error(); test.value != "" && strings.Contains(text, test.value) || !strings.Contains(text, test.name) {
			t.Errorf("/%s %q: the error %q", test.name, test.rest, text)
		}
	}
}

func TestUsage(t *testing.T) {
	for name, want := range map[string]string{
		"menu":      "/menu",
		"brew":      "/brew [cups:] [for:] [note:] [note-by:]",
		"oven":      "/oven low or high",
		"oven door": "/oven door side:left or right after: [slam:yes]",
		"oven days": "/oven days Mon Thu",
		"rest":      "/rest [end]",
	} {
		if got := find(t, name).Usage(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestOption(t *testing.T) {
	brew := find(t, "brew")
	if o := brew.Option("NOTE"); o == nil || o.Kind != slash.Text {
		t.Errorf("note is %v", o)
	}
	if o := brew.Option("sugar"); o != nil {
		t.Errorf("sugar is %v", o)
	}
}

func TestLine(t *testing.T) {
	for _, test := range []struct {
		want, name string
		pairs      []slash.Pair
	}{
		{"/menu", "menu", nil},
		{`/oven door side:"left" after:"next Mon"`, "oven door", []slash.Pair{{"side", "left"}, {"after", "next Mon"}}},
		{"/brew note:\"said 'hot', 'now'\nfor:x\"", "brew", []slash.Pair{{"note", "said \"hot\", “now”\nfor:x"}}},
		{`/brew note:""`, "brew", []slash.Pair{{"note", ""}}},
	} {
		if got := slash.Line(test.name, test.pairs...); got != test.want {
			t.Errorf("%q, want %q", got, test.want)
		}
	}
}
