package bot

import (
	"context"
	"errors"
	"slices"
	"strings"

	"rungbook/bot/slash"
	"rungbook/bot/words"
)

// role says who may give a command.
type role int

const (
	anyone role = iota
	member      // on the roster, or a coach
	coach
	manager
)

// command is a row of the table: the grammar of a command, and what the bot does
// with it. The table is the one place from which help, checks and registration on
// a platform derive.
type command struct {
	slash.Command

	who             role
	readOnly        bool // needs no writing transaction
	answersInPlace  bool // answered where it is said, refusals too, unless a member is named
	takesFreeText   bool // takes words of any kind, and meets what they say of a body itself
	ignoresFreeText bool // takes words of any kind, and reads none of them
	run             func(*step, args) error
}

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

// refuse refuses in words of package words.
func refuse(text string) error { return refusal{text: text} }

// refuseAlone refuses what is not this person's to ask.
func refuseAlone(text string) error { return refusal{text: text, alone: true} }

// command meets a message that is a command.
func (b *Bot) command(ctx context.Context, m Message) ([]Post, error) {
	cmd, rest := findCommand(m.Text)
	run := b.update
	if cmd == nil || cmd.readOnly {
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
			s.reply(s.audience(), words.Unlogged, nil)
		case len(s.posts) == 0: // asked before, or paused already
			s.reply(ToPrivate, words.Untaken, nil)
		}
		return err
	})
}

// refusedInPlace has a refusal of a command that is answered where it is said
// said there too, unless the command names a member.
func refusedInPlace(err error, cmd *command, rest string) error {
	var refused refusal
	if !errors.As(err, &refused) || cmd == nil {
		return err
	}
	refused.inPlace = cmd.answersInPlace && !gives(rest, "member")
	return refused
}

// obey checks who asks for what, and runs it.
func (s *step) obey(cmd *command, text, rest string) error {
	if err := s.painBehind(cmd, text, rest); err != nil {
		return err
	}
	if cmd == nil {
		return s.unknown(strings.Fields(text)[0])
	}
	if err := s.allowed(cmd, rest); err != nil {
		return err
	}
	values, err := cmd.Parse(rest)
	if err != nil {
		err = cmd.unread(err)
	} else {
		err = cmd.run(s, args{step: s, command: cmd, values: values})
	}
	if cmd.takesFreeText && errors.As(err, new(refusal)) {
		if found := s.painIn(cmd, rest); found != nil {
			return found
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
		return refuse(words.UnknownCommand(word))
	case !s.author.Coach:
		return refuse(words.CoachesOnly(word))
	}
	return refuse(words.SecondWord(word, under))
}

// allowed refuses a command to someone without its role.
func (s *step) allowed(cmd *command, rest string) error {
	blocked, err := s.tx.Blocked(s.author.ID)
	if err != nil {
		return err
	}
	rejoins := cmd.Name == "me" && gives(rest, "rejoin")
	switch {
	case blocked && cmd.Name != "help" && !rejoins:
		return refuseAlone(words.Erased)
	case cmd.who == member && cmd.Name == "mydata" && s.known: // who has left can still have their data
	case cmd.who == member && !s.isMember() && !rejoins:
		return refuseAlone(words.MembersOnly(cmd.Name))
	case cmd.who == coach && !s.author.Coach:
		return refuseAlone(words.CoachesOnly("/" + cmd.Name))
	case cmd.who == manager && !s.author.Manager:
		return refuseAlone(words.ManagersOnly(cmd.Name))
	}
	return nil
}

func (s *step) isMember() bool { return s.who.Trains || s.author.Coach }

// findCommand returns the command that a typed line begins with, and what follows
// its name; nil where there is none.
func findCommand(line string) (cmd *command, rest string) {
	found, rest := slash.Find(Commands(), line)
	if found == nil {
		return nil, ""
	}
	table := commands()
	i := slices.IndexFunc(table, func(c command) bool { return c.Name == found.Name })
	return &table[i], rest
}

// gives reports whether an option's name stands in a command's words, wherever: it
// is asked before they are read, and of words that can't be.
func gives(text, option string) bool { return strings.Contains(strings.ToLower(text), option+":") }

// unread refuses what cannot be read of a command's words.
func (c *command) unread(err error) error {
	var fault *slash.Fault
	if !errors.As(err, &fault) {
		return err
	}
	name, usage := c.Name, c.Usage()
	switch option := fault.Option; fault.Kind {
	case slash.MissingOption:
		if option.Bare && len(option.Choices) > 0 {
			return refuse(words.MissingWord(name, usage))
		}
		return refuse(words.MissingOption(name, option.Name, usage))
	case slash.EmptyValue:
		return refuse(words.EmptyValue(name, option.Name, usage))
	case slash.GivenTwice:
		return refuse(words.GivenTwice(name, option.Name))
	case slash.UnknownWords:
		if c.answersInPlace { // never for all to read: they may be of anything
			return refuse(words.NoSuchWords(name, "", usage))
		}
	}
	return refuse(words.NoSuchWords(name, fault.Value, usage))
}
