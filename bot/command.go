package bot

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
)

// role says who may give a command.
type role int

const (
	anyone role = iota
	member      // on the roster, or a coach
	coach
	manager
)

// Command is one thing that can be asked for with a slash. The table is the
// one place from which help, checks and registration on a platform derive.
type Command struct {
	Name    string // without the slash: "gates", "coach witness"
	Options []Option
	What    string // one line for help

	who   role
	reads bool // needs no writing transaction
	here  bool // answered where it is said, refusals too, unless a member is named
	text  bool // takes words of any kind, and meets what they say of a body itself
	blind bool // takes words of any kind, and reads none of them
	run   func(*step, args) error
}

// Option is a value a command takes, written name:value.
type Option struct {
	Name     string
	Kind     OptionKind
	Required bool
	Bare     bool     // also taken without its name: /help safety
	Choices  []string // the only values, where there are any
	Example  string   // how a bare one is shown in use
	Loose    bool     // other words than its choices are taken too, and mean nothing more
}

// OptionKind says what an option's value is.
type OptionKind string

const (
	TextOption   OptionKind = "text"
	MemberOption OptionKind = "member"
	GateOption   OptionKind = "gate"
	DayOption    OptionKind = "day"
	ZoneOption   OptionKind = "zone"
	CountOption  OptionKind = "count"
)

// refusal is an error whose text is meant for the one who asked. Whatever the
// command had written is taken back with it.
type refusal struct {
	text    string
	alone   bool // to be said privately wherever it was asked
	inPlace bool // to be said where it was asked, unless it is to be said privately
}

func (r refusal) audience(s *step) Audience {
	if r.inPlace && !r.alone {
		return s.audience()
	}
	return ToPrivate
}

func (r refusal) Error() string { return r.text }

func refuse(format string, values ...any) error { return refusal{text: fmt.Sprintf(format, values...)} }

// refuseAlone refuses what is not this person's to ask.
func refuseAlone(format string, values ...any) error {
	return refusal{text: fmt.Sprintf(format, values...), alone: true}
}

// isCommand reports whether the text is a slash and a name.
func isCommand(text string) bool {
	text = strings.TrimSpace(text)
	return len(text) > 1 && text[0] == '/' && (text[1]|0x20 >= 'a' && text[1]|0x20 <= 'z')
}

// command meets a message that is a command.
func (b *Bot) command(ctx context.Context, m Message) ([]Post, error) {
	table := commands()
	cmd, rest := find(table, strings.TrimSpace(m.Text)[1:])
	run := b.update
	if cmd == nil || cmd.reads {
		run = b.view
	}
	posts, err := run(ctx, m.Team, m.Author, func(s *step) error {
		s.setMessage(m)
		return refusedInPlace(s.obey(cmd, m.Text, rest), cmd, rest)
	})
	var found painFound
	if !errors.As(err, &found) {
		return posts, err
	}
	return b.update(ctx, m.Team, m.Author, func(s *step) error {
		s.setMessage(m)
		err := errors.Join(s.actOnPain(found.care), s.asksJoint(found.care))
		switch {
		case found.unsaid:
			s.reply(s.audience(), unloggedWords, nil)
		case len(s.posts) == 0: // asked before, or paused already
			s.reply(ToPrivate, untakenWords, nil)
		}
		return err
	})
}

// refusedInPlace has a refusal of a command that is answered where it is said
// said there too, unless the command names a member.
func refusedInPlace(err error, cmd *Command, rest string) error {
	var refused refusal
	if !errors.As(err, &refused) || cmd == nil {
		return err
	}
	refused.inPlace = cmd.here && !strings.Contains(rest, "member:")
	return refused
}

// obey checks who asks for what, and runs it.
func (s *step) obey(cmd *Command, text, rest string) error {
	if err := s.painBehind(cmd, text, rest); err != nil {
		return err
	}
	if cmd == nil {
		return s.unknown(strings.Fields(text)[0])
	}
	if err := s.allowed(cmd, rest); err != nil {
		return err
	}
	values, err := cmd.parse(rest)
	if err == nil {
		err = cmd.run(s, args{step: s, command: cmd, values: values})
	}
	if cmd.text && errors.As(err, new(refusal)) {
		if ails := s.painIn(cmd, rest); ails != nil {
			return ails
		}
	}
	return err
}

// unknown refuses a word that is no command; of the first word of several, those
// are named to whoever may give them.
func (s *step) unknown(word string) error {
	var under []string
	for _, command := range commands() {
		if strings.HasPrefix("/"+command.Name, strings.ToLower(word)+" ") {
			under = append(under, "/"+command.Name)
		}
	}
	switch {
	case len(under) == 0:
		return refuse(unknownCommandWords, word)
	case !s.author.Coach:
		return refuse("%s is for this team's coach.", word)
	}
	return refuse("%s takes a second word: %s.", word, strings.Join(under, ", "))
}

// allowed refuses a command to someone without its role.
func (s *step) allowed(cmd *Command, rest string) error {
	blocked, err := s.tx.Blocked(s.author.ID)
	if err != nil {
		return err
	}
	rejoins := cmd.Name == "me" && strings.Contains(rest, "rejoin:")
	switch {
	case blocked && cmd.Name != "help" && !rejoins:
		return refuseAlone(erasedWords)
	case cmd.who == member && cmd.Name == "mydata" && s.known: // who has left can still have their data
	case cmd.who == member && !s.isMember() && !rejoins:
		return refuseAlone("/%s is for members: post a first log and you are one.", cmd.Name)
	case cmd.who == coach && !s.author.Coach:
		return refuseAlone("/%s is for this team's coach.", cmd.Name)
	case cmd.who == manager && !s.author.Manager:
		return refuseAlone("/%s is for whoever may manage this server.", cmd.Name)
	}
	return nil
}

func (s *step) isMember() bool { return s.who.Trains || s.author.Coach }

// find returns the command that the words begin with, the longest name first,
// and what follows it; nil where there is none.
func find(table []Command, words string) (*Command, string) {
	var best *Command
	for i := range table {
		name := table[i].Name
		if len(words) < len(name) || !strings.EqualFold(words[:len(name)], name) {
			continue
		}
		if ends := len(words) == len(name) || isBlank(words[len(name)]); ends && (best == nil || len(name) > len(best.Name)) {
			best = &table[i]
		}
	}
	if best == nil {
		return nil, ""
	}
	return best, strings.TrimSpace(words[len(best.Name):])
}

func isBlank(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' }

// parse reads name:value pairs. A value with blanks stands in double quotes, or
// runs to the next option's name.
func (c *Command) parse(rest string) (map[string]string, error) {
	values := map[string]string{}
	bare, next := c.untilOption(rest)
	if err := c.take(values, c.bareOption(), bare); err != nil {
		return nil, err
	}
	for next != "" {
		name, value, _ := strings.Cut(next, ":")
		value, junk, following := c.value(value)
		next = following
		if junk = strings.TrimSpace(junk); junk != "" {
			return nil, refuse("/%s does not know %s. %s", c.Name, c.quote(junk), c.usage())
		}
		if err := c.take(values, c.option(name), value); err != nil {
			return nil, err
		}
	}
	for _, option := range c.Options {
		if _, ok := values[option.Name]; !option.Required || ok {
			continue
		}
		if option.Bare && len(option.Choices) > 0 {
			return nil, refuse("/%s needs a word more. %s", c.Name, c.usage())
		}
		return nil, refuse("/%s needs %s:. %s", c.Name, option.Name, c.usage())
	}
	return values, nil
}

// take files one value, checked against the option's choices.
func (c *Command) take(values map[string]string, option *Option, value string) error {
	value = strings.TrimSpace(value)
	switch {
	case option == nil && value == "":
		return nil
	case option == nil:
		return refuse("/%s does not know %s. %s", c.Name, c.quote(value), c.usage())
	case value == "" && option.Bare:
		return nil
	case value == "":
		return refuse("/%s got nothing after %s:. %s", c.Name, option.Name, c.usage())
	}
	if _, twice := values[option.Name]; twice {
		return refuse("/%s got %s: twice. Say it once.", c.Name, option.Name)
	}
	if len(option.Choices) > 0 && !option.Loose && !slices.Contains(option.Choices, strings.ToLower(value)) {
		return refuse("/%s does not know “%s”. %s", c.Name, brief(value), c.usage())
	}
	if len(option.Choices) > 0 {
		value = strings.ToLower(value)
	}
	values[option.Name] = value
	return nil
}

// quote repeats words that a command does not take, but never for all to read:
// they may be of anything.
func (c *Command) quote(words string) string {
	if c.here {
		return "all of those words"
	}
	return "“" + brief(words) + "”"
}

func (c *Command) option(name string) *Option {
	for i := range c.Options {
		if strings.EqualFold(c.Options[i].Name, name) {
			return &c.Options[i]
		}
	}
	return nil
}

func (c *Command) bareOption() *Option {
	for i := range c.Options {
		if c.Options[i].Bare {
			return &c.Options[i]
		}
	}
	return nil
}

// value reads a value and returns what follows it from an option's name on.
// junk is what stands between a closing quote and that.
func (c *Command) value(text string) (value, junk, next string) {
	text = strings.TrimLeft(text, " \t")
	for _, quote := range []string{`"`, "“", "”"} {
		inner, ok := strings.CutPrefix(text, quote)
		if !ok {
			continue
		}
		if end := strings.IndexAny(inner, `"”“`); end >= 0 {
			after := strings.TrimLeft(inner[end:], `"”“`)
			junk, next = c.untilOption(after)
			return inner[:end], junk, next
		}
		text = inner
	}
	value, next = c.untilOption(text)
	return value, "", next
}

// untilOption splits the text before the first word that is one of the
// command's option names and a colon.
func (c *Command) untilOption(text string) (before, from string) {
	for i := 0; i < len(text); i++ {
		if i > 0 && !isBlank(text[i-1]) {
			continue
		}
		for _, option := range c.Options {
			end := i + len(option.Name)
			if end < len(text) && text[end] == ':' && strings.EqualFold(text[i:end], option.Name) {
				return text[:i], text[i:]
			}
		}
	}
	return text, ""
}

// usage is the command as it is typed.
func (c *Command) usage() string {
	words := []string{"Type /" + c.Name}
	for _, option := range c.Options {
		word := option.Name + ":"
		if option.Example != "" {
			word = option.Example
		}
		if len(option.Choices) > 0 {
			word = strings.Join(option.Choices, " or ")
			if !option.Bare {
				word = option.Name + ":" + word
			}
		}
		if !option.Required {
			word = "[" + word + "]"
		}
		words = append(words, word)
	}
	return strings.Join(words, " ") + "."
}
