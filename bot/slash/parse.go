package slash

import (
	"slices"
	"strings"
)

// Values are what was typed of a command's options, by their names. None is
// empty; a choice is in lower case.
type Values map[string]string

// Parse reads what follows a command's name: the value of the bare option, if
// there is one, then name:value pairs in any order. A value in quotes, straight
// or curly, ends with them; any other runs to the next word that is one of the
// command's option names and a colon. The error is a *Fault: the first.
func (c *Command) Parse(rest string) (Values, error) {
	values := Values{}
	for _, p := range c.pieces(rest) {
		if err := c.take(p, values); err != nil {
			return nil, err
		}
	}
	for i := range c.Options {
		option := &c.Options[i]
		if _, given := values[option.Name]; option.Required && !given {
			return nil, &Fault{Kind: MissingOption, Command: c, Option: option}
		}
	}
	return values, nil
}

// piece is an option's value as it was typed.
type piece struct {
	option *Option // nil where the words stand before all names and no option is bare
	value  string
	junk   string // what stands between a closing quote and the next name
}

// pieces cuts the words at the option names in them.
func (c *Command) pieces(rest string) []piece {
	bare, next := c.untilOption(rest)
	all := []piece{{option: c.bare(), value: strings.TrimSpace(bare)}}
	for next != "" {
		name, after, _ := strings.Cut(next, ":")
		p := piece{option: c.Option(name)}
		p.value, p.junk, next = c.untilClosed(after)
		p.value, p.junk = strings.TrimSpace(p.value), strings.TrimSpace(p.junk)
		all = append(all, p)
	}
	return all
}

// take checks a piece and files its value.
func (c *Command) take(p piece, values Values) error {
	option, value := p.option, p.value
	switch {
	case p.junk != "":
		return &Fault{Kind: UnknownWords, Command: c, Value: p.junk}
	case option == nil && value != "":
		return &Fault{Kind: UnknownWords, Command: c, Value: value}
	case value == "" && (option == nil || option.Bare):
		return nil
	case value == "":
		return &Fault{Kind: EmptyValue, Command: c, Option: option}
	case values[option.Name] != "":
		return &Fault{Kind: GivenTwice, Command: c, Option: option, Value: value}
	}
	if len(option.Choices) > 0 {
		choice := strings.ToLower(value)
		if !option.Loose && !slices.Contains(option.Choices, choice) {
			return &Fault{Kind: NotAChoice, Command: c, Option: option, Value: value}
		}
		value = choice
	}
	values[option.Name] = value
	return nil
}

// untilClosed reads a value and returns what follows it, from an option's name
// on. junk is what stands between a closing quote and that name. A quote that is
// never closed is passed over.
func (c *Command) untilClosed(text string) (value, junk, next string) {
	text = strings.TrimLeft(text, " \t")
	for _, quote := range []string{`"`, "“", "”"} {
		inner, quoted := strings.CutPrefix(text, quote)
		if !quoted {
			continue
		}
		if end := strings.IndexAny(inner, quotes); end >= 0 {
			junk, next = c.untilOption(strings.TrimLeft(inner[end:], quotes))
			return inner[:end], junk, next
		}
		text = inner
	}
	value, next = c.untilOption(text)
	return value, "", next
}

// quotes are the characters that open and close a value. Any of them closes what
// any of them opened: a phone makes of two straight ones what it likes.
const quotes = `"“”`

// untilOption splits the text before the first word that is one of the command's
// option names and a colon.
func (c *Command) untilOption(text string) (before, from string) {
	for i := range len(text) {
		if (i == 0 || isBlank(text[i-1])) && c.beginsOption(text[i:]) {
			return text[:i], text[i:]
		}
	}
	return text, ""
}

func (c *Command) beginsOption(text string) bool {
	return slices.ContainsFunc(c.Options, func(o Option) bool {
		n := len(o.Name)
		return len(text) > n && text[n] == ':' && strings.EqualFold(text[:n], o.Name)
	})
}
