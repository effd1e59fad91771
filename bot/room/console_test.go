package room

import (
	"bytes"
	"io"
	"slices"
	"strings"
	"testing"

	"rungbook/bot"
)

var crew = []string{"Priya", "Tomé", "Tomás", "Ana Rita"}

func TestComplete(t *testing.T) {
	for _, test := range []struct {
		head, want string
		choices    []string
	}{
		{"/ga", "/gates ", nil},
		{"/GA", "/gates ", nil},
		{"/und", "/undo", nil},
		{"/coach w", "/coach witness ", nil},
		{"/coach un", "/coach unwitness ", nil},
		{"/coach r", "/coach r", []string{"/coach resume ", "/coach roster"}},
		{"/nonsense", "/nonsense", nil},
		{"/as ", "/as ", []string{"Ana Rita", "Priya", "Tomás", "Tomé"}},
		{"/as p", "/as Priya", nil},
		{"/as to", "/as Tom", []string{"Tomás", "Tomé"}},
		{"/as ana r", "/as Ana Rita", nil},
		{"/tap w", "/tap wit", nil},
		{"/tap k", "/tap keep", nil},
		{"/tap hu", "/tap hurts", nil},
		{"/gates ", "/gates member:", nil},
		{"/gates member:", "/gates member:", []string{`member:"Ana Rita" `, "member:Priya ", "member:Tomás ", "member:Tomé "}},
		{"/gates member:pr", "/gates member:Priya ", nil},
		{`/gates member:"Ana`, `/gates member:"Ana Rita" `, nil},
		{"/coach witness member:Priya g", "/coach witness member:Priya gate:", nil},
		{"/coach resume void:", "/coach resume void:yes ", nil},
		{"/mydata e", "/mydata e", []string{"erase", "export"}},
		{"/log hello:w", "/log hello:w", nil},
		{"/gates membre:", "/gates membre:", nil},
		{"thanks pri", "thanks Priya", nil},
		{"thanks ", "thanks ", nil},
		{"", "", nil},
	} {
		grown, choices := complete(test.head, crew, bot.Commands())
		if test.head == "/tap w" { // two buttons begin with wit
			test.choices = []string{"withdraw", "witness"}
		}
		if grown != test.want || !slices.Equal(choices, test.choices) {
			t.Errorf("%q grows to %q %q, want %q %q", test.head, grown, choices, test.want, test.choices)
		}
	}
}

// Whatever is typed, completing it never loses or changes more than capitals.
func TestCompleteKeepsWhatWasTyped(t *testing.T) {
	for _, head := range []string{"/", "/c", "/coach ", "/coach correct member:T", `/log text:"3x20s hi`, "é", "to", "/as é", "/tap ", "/edit x"} {
		for range 3 {
			grown, _ := complete(head, crew, bot.Commands())
			if len(grown) < len(head) || !strings.EqualFold(grown[:len(head)], head) {
				t.Errorf("%q became %q", head, grown)
			}
			head = grown
		}
	}
}

// The terminal edits a line and completes it at the tab key; where it can't, it
// lists the choices above the line.
func TestTerminal(t *testing.T) {
	var screen bytes.Buffer
	keys := strings.NewReader("/as to\t\t\x7f\x7f\x7fPri\t\r\x04")
	edited := newTerminal(keys, &screen, func(head string) (string, []string) { return complete(head, crew, bot.Commands()) })
	board := &keyboard{term: edited}
	board.prompt("Wen")
	line, err := board.line()
	if err != nil || line != "/as Priya" {
		t.Errorf("typed %q, %v", line, err)
	}
	board.echo("nothing")
	if _, err := board.Write([]byte("written\n")); err != nil {
		t.Error(err)
	}
	if _, err := board.line(); err != io.EOF {
		t.Errorf("got %v at the end", err)
	}
	for _, want := range []string{"Wen> ", "Tomás  Tomé", "written"} {
		if !strings.Contains(screen.String(), want) {
			t.Errorf("no %q on the screen: %q", want, screen.String())
		}
	}
	if strings.Contains(screen.String(), "nothing") {
		t.Error("the keyboard echoes a line twice")
	}
}

// A line that was pasted is a line like any other.
func TestTerminalTakesPastedText(t *testing.T) {
	edited := newTerminal(strings.NewReader("\x1b[200~3x20s high hold\r\x1b[201~"), io.Discard, func(head string) (string, []string) { return head, nil })
	edited.SetBracketedPasteMode(true)
	if line, err := (&keyboard{term: edited}).line(); err != nil || line != "3x20s high hold" {
		t.Errorf("pasted %q, %v", line, err)
	}
}

// The last line counts though nothing ends it.
func TestPipe(t *testing.T) {
	lines := newConsole(strings.NewReader("one\r\n\ntwo"), io.Discard)
	var got []string
	for {
		line, err := lines.line()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		got = append(got, line)
	}
	if want := []string{"one", "", "two"}; !slices.Equal(got, want) {
		t.Errorf("read %q, want %q", got, want)
	}
}
