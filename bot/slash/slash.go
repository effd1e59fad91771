// Package slash is the grammar of typed commands: a slash, a name of one or more
// words, and values written name:value. It knows neither what a command does nor
// who may give it.
package slash

import (
	"slices"
	"strings"
)

// Command is a row of a table of commands. Its zero value has no name and is
// found by no line.
type Command struct {
	Name    string // lower-case words without the slash: "gates", "coach witness"
	What    string // one line of help
	Options []Option
}

// Option is a value that a command takes.
type Option struct {
	Name     string // one lower-case word, no colon
	Kind     Kind
	Required bool
	Bare     bool     // also taken without its name, before all others: /help safety; at most one of a command's
	Choices  []string // the only values, in lower case; any value where there are none
	Loose    bool     // values that are no choice are taken too
	Example  string   // stands for the option in the usage line, where it has no choices
}

// Kind says what an option's value is about. The grammar reads all kinds alike;
// completion and a platform's forms go by them.
type Kind string

const (
	Text   Kind = "text"
	Member Kind = "member"
	Gate   Kind = "gate"
	Day    Kind = "day"
	Zone   Kind = "zone"
	Count  Kind = "count"
)

// IsCommand reports whether a text is a command, known or not: a slash and a
// letter.
func IsCommand(text string) bool {
	text = strings.TrimSpace(text)
	return len(text) > 1 && text[0] == '/' && 'a' <= text[1]|0x20 && text[1]|0x20 <= 'z'
}

// Names reports whether a typed line begins with the command's name, in letters
// of either case.
func Names(line, name string) bool {
	_, ok := cutName(line, name)
	return ok
}

// Find returns the command whose name a typed line begins with, the longest such
// name, and what follows it; nil where there is none.
func Find(table []Command, line string) (found *Command, rest string) {
	for i := range table {
		name := table[i].Name
		after, ok := cutName(line, name)
		if ok && (found == nil || len(name) > len(found.Name)) {
			found, rest = &table[i], after
		}
	}
	return found, rest
}

// cutName returns what follows a command's name in a typed line. The name ends
// with the line or before a blank.
func cutName(line, name string) (rest string, ok bool) {
	words, ok := strings.CutPrefix(strings.TrimSpace(line), "/")
	if !ok || name == "" || len(words) < len(name) || !strings.EqualFold(words[:len(name)], name) {
		return "", false
	}
	rest = words[len(name):]
	if rest != "" && !isBlank(rest[0]) {
		return "", false
	}
	return strings.TrimSpace(rest), true
}

func isBlank(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' }

// Option returns the option of that name, in letters of either case, or nil.
func (c *Command) Option(name string) *Option {
	return c.first(func(o Option) bool { return strings.EqualFold(o.Name, name) })
}

func (c *Command) bare() *Option { return c.first(func(o Option) bool { return o.Bare }) }

func (c *Command) first(fits func(Option) bool) *Option {
	if i := slices.IndexFunc(c.Options, fits); i >= 0 {
		return &c.Options[i]
	}
	return nil
}

// Usage is the command as it is typed, what may be left out in brackets:
// /mydata export or erase, /log text: [day:] [member:].
func (c *Command) Usage() string {
	words := []string{"/" + c.Name}
	for i := range c.Options {
		word := c.Options[i].usage()
		if !c.Options[i].Required {
			word = "[" + word + "]"
		}
		words = append(words, word)
	}
	return strings.Join(words, " ")
}

func (o *Option) usage() string {
	choices := strings.Join(o.Choices, " or ")
	switch {
	case choices != "" && o.Bare:
		return choices
	case choices != "":
		return o.Name + ":" + choices
	case o.Example != "":
		return o.Example
	}
	return o.Name + ":"
}
