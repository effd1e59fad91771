package room

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"golang.org/x/term"
)

// console is the keyboard and the screen. Writing and reading may go on at the
// same time.
type console interface {
	io.Writer
	// open makes it ready; grow completes the text before the cursor. leave
	// puts everything back.
	open(grow func(head string) (string, []string)) (leave func(), err error)
	line() (string, error) // io.EOF when there is no more
	prompt(name string)
	echo(line string) // shows what was typed, where the keyboard does not
}

func newConsole(in io.Reader, out io.Writer) console {
	if file, ok := in.(*os.File); ok && term.IsTerminal(int(file.Fd())) {
		return &keyboard{file: file, out: out}
	}
	return &pipe{in: bufio.NewReader(in), Writer: out}
}

// pipe reads lines from anything that is no terminal.
type pipe struct {
	io.Writer
	in *bufio.Reader
}

func (p *pipe) open(func(string) (string, []string)) (func(), error) { return func() {}, nil }
func (p *pipe) prompt(string)                                        {}
func (p *pipe) echo(line string)                                     { fmt.Fprintln(p, line) }

func (p *pipe) line() (string, error) {
	line, err := p.in.ReadString('\n')
	if line != "" {
		err = nil
	}
	return strings.TrimRight(line, "\r\n"), err
}

// keyboard is a terminal with line editing, a history and completion.
type keyboard struct {
	file *os.File
	out  io.Writer
	term *term.Terminal
}

func (k *keyboard) open(grow func(string) (string, []string)) (func(), error) {
	descriptor := int(k.file.Fd())
	before, err := term.MakeRaw(descriptor)
	if err != nil {
		return nil, fmt.Errorf("take the terminal: %w", err)
	}
	k.term = newTerminal(k.file, k.out, grow)
	if width, height, err := term.GetSize(descriptor); err == nil && width > 0 {
		k.term.SetSize(width, height) // without one it takes 80 columns
	}
	k.term.SetBracketedPasteMode(true)
	return func() {
		k.term.SetBracketedPasteMode(false)
		term.Restore(descriptor, before)
		fmt.Fprintln(k.out)
	}, nil
}

// newTerminal edits lines over the given streams. The tab key completes.
func newTerminal(in io.Reader, out io.Writer, grow func(string) (string, []string)) *term.Terminal {
	edited := term.NewTerminal(struct {
		io.Reader
		io.Writer
	}{in, out}, "")
	edited.AutoCompleteCallback = func(line string, at int, key rune) (string, int, bool) {
		if key != '\t' {
			return "", 0, false
		}
		grown, choices := grow(line[:at])
		if len(choices) > 0 && grown == line[:at] {
			fmt.Fprintln(edited, strings.Join(choices, "  "))
		}
		return grown + line[at:], len(grown), true
	}
	return edited
}

func (k *keyboard) Write(data []byte) (int, error) { return k.term.Write(data) }
func (k *keyboard) prompt(name string)             { k.term.SetPrompt(name + "> ") }
func (k *keyboard) echo(string)                    {}

func (k *keyboard) line() (string, error) {
	line, err := k.term.ReadLine()
	if errors.Is(err, term.ErrPasteIndicator) {
		err = nil
	}
	return line, err
}
