package bot

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"rungbook/training"
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
	text  string
	alone bool // to be said privately wherever it was asked
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
		return s.obey(cmd, m.Text, rest)
	})
	var refused refusal
	var hurt painFound
	switch {
	case errors.As(err, &hurt):
		return b.update(ctx, m.Team, m.Author, func(s *step) error {
			s.setMessage(m)
			err := errors.Join(s.actOnPain(hurt.care), s.asksJoint(hurt.care))
			switch {
			case hurt.unsaid:
				s.reply(s.audience(), unloggedWords, nil)
			case len(s.posts) == 0: // asked before, or paused already
				s.reply(ToPrivate, untakenWords, nil)
			}
			return err
		})
	case errors.As(err, &refused):
		return b.view(ctx, m.Team, m.Author, func(s *step) error {
			s.setMessage(m)
			to := ToPrivate
			if cmd != nil && cmd.here && !refused.alone && !strings.Contains(rest, "member:") {
				to = s.audience()
			}
			s.reply(to, refused.text, nil)
			return nil
		})
	}
	return posts, err
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

// painFound is an error that says what somebody's words behind a command say of
// their body: that is acted on instead.
type painFound struct {
	care   training.Care
	unsaid bool // sets stood there too, which were not logged
}

func (painFound) Error() string { return "words of a body behind a command" }

// painBehind looks for what words that a command does not take say of a body. They
// are never repeated; beside a member whom a command names they are hardly its
// author's own.
func (s *step) painBehind(cmd *Command, text, rest string) error {
	words := rest
	if cmd == nil {
		words = strings.TrimPrefix(text, "/")
	}
	if words == "" || cmd != nil && (cmd.text || cmd.blind) {
		return nil
	}
	return s.painIn(cmd, words)
}

// painIn is the error that makes the words acted on, or nil where they say
// nothing of a body.
func (s *step) painIn(cmd *Command, words string) error {
	words = strings.ReplaceAll(words, `"`, " ") // around an option's value they are the form's, and quote nobody
	care := s.parser.Parse(words, s.clock()).Care
	switch {
	case care == "":
		return nil
	case cmd != nil && (cmd.who > member && cmd.text || strings.Contains(words, "member:") || strings.Contains(words, "name:")):
		return refuseAlone("/%s does not take such words. %s", cmd.Name, cmd.usage())
	}
	blocked, err := s.tx.Blocked(s.author.ID)
	if err != nil {
		return err
	}
	if blocked {
		return refuseAlone(erasedWords)
	}
	return painFound{care, cmd != nil && cmd.Name == "log"}
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
