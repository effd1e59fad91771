package discord_test

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"rungbook/bot"
	"rungbook/bot/discord/discordtest"
	"rungbook/bot/slash"
	"rungbook/store"
	"rungbook/training"
)

// hold gives the author the roles that they hold at this event.
func (c *chat) hold(author bot.Author) {
	var roles []*discordtest.Role
	if author.Coach {
		roles = append(roles, c.coaches)
	}
	if author.Manager {
		roles = append(roles, c.steward)
	}
	c.fake.Grant(c.tide, c.user(author.ID), roles...)
}

// spoken is the text with a mention of the bot where it is spoken to.
func (c *chat) spoken(m bot.Message) string {
	if m.ToBot {
		return "<@" + discordtest.ApplicationID.String() + "> " + m.Text
	}
	return m.Text
}

// says has somebody say something or, in the channel, give a command by the
// platform's form as far as that lets them.
func (c *chat) says(m bot.Message) {
	c.hold(m.Author)
	by, channel := c.user(m.Author.ID), c.rings
	if m.Place == bot.Private {
		channel = c.fake.Direct(by)
	} else if name, options, ok := c.slash(m.Text); ok {
		c.note(m.ID, c.fake.Slash(channel, by, name, options...).ID)
		return
	}
	c.said[m.ID] = c.fake.Say(channel, by, c.spoken(m))
	c.note(m.ID, c.said[m.ID].ID)
}

func (c *chat) note(id training.MessageID, on discordtest.Snowflake) {
	c.theirs[id], c.numbers[training.MessageID(on)] = training.MessageID(on), id
}

// press presses a button: the one shown last under the answer to the message,
// be it gone by now for others, or, where whoever presses was shown none, one
// that they have made up.
func (c *chat) press(e bot.Tap) error {
	c.hold(e.Author)
	by, on := c.user(e.Author.ID), c.theirs[e.On]
	head := fmt.Sprintf("tap:%s:%d:", e.Button, on)
	for _, channel := range []*discordtest.Channel{c.fake.Direct(by), c.rings} {
		for key, m := range c.pressable {
			if id, here := strings.CutPrefix(key, channel.ID.String()+" "); here && strings.HasPrefix(id, head) {
				c.note(e.ID, c.fake.Press(m, by, id).ID)
				return nil
			}
		}
	}
	var any *discordtest.Message
	c.fake.Look(func(v discordtest.View) {
		for _, m := range append(slices.Clone(v.Messages(c.rings)), v.Messages(v.Direct(by))...) {
			if m.Author.ID == discordtest.ApplicationID && !m.Ephemeral {
				any = m
			}
		}
	})
	if any == nil {
		return fmt.Errorf("%s has nothing to press: the bot has said nothing to them", e.Author.Name)
	}
	c.note(e.ID, c.fake.Press(any, by, fmt.Sprintf("%s%d:%d", head, c.person(e.About), c.team())).ID)
	return nil
}

// slash reads a command as the platform's form takes it. ok is false where the
// form does not: for a name it does not have, a value it does not offer, an
// option that is not given and has to be.
func (c *chat) slash(text string) (name string, options []discordtest.Option, ok bool) {
	var command slash.Command
	for _, one := range bot.Commands() {
		if head, rest := "/"+one.Name, text+" "; strings.HasPrefix(rest, head+" ") && len(one.Name) > len(command.Name) {
			command = one
		}
	}
	if command.Name == "" {
		return "", nil, false
	}
	values := typed(command, strings.TrimPrefix(text, "/"+command.Name))
	for _, option := range command.Options {
		value, given := values[option.Name]
		delete(values, option.Name)
		if !given {
			if option.Required {
				return "", nil, false
			}
			continue
		}
		shaped, offered := c.value(option, strings.Trim(value, `"`))
		if !offered {
			return "", nil, false
		}
		options = append(options, discordtest.Option{Name: option.Name, Value: shaped})
	}
	return command.Name, options, len(values) == 0
}

// typed are the values of a command's options as somebody typed them; those it
// does not have stand under "".
func typed(command slash.Command, rest string) map[string]string {
	values, at := map[string]string{}, ""
	for _, option := range command.Options {
		if option.Bare {
			at = option.Name
		}
	}
	for _, word := range words(rest) {
		head, value, named := strings.Cut(word, ":")
		if named && slices.ContainsFunc(command.Options, func(o slash.Option) bool { return o.Name == head }) {
			at, word = head, value
		}
		values[at] = strings.TrimSpace(values[at] + " " + word)
		if strings.HasSuffix(word, `"`) {
			at = "" // a value in quotes ends with them
		}
	}
	return values
}

// value is an option's value as the form sends it.
func (c *chat) value(option slash.Option, value string) (any, bool) {
	switch option.Kind {
	case slash.Member:
		for _, u := range c.people {
			if u.Name == value {
				return u, true
			}
		}
		return nil, false
	case slash.Count:
		n, err := strconv.Atoi(value)
		return n, err == nil && n >= 1
	}
	return value, value != "" && (option.Choices == nil || slices.Contains(option.Choices, value))
}

// words splits at blanks that stand in no quotes.
func words(text string) []string {
	quoted := false
	return strings.FieldsFunc(text, func(r rune) bool {
		if r == '"' {
			quoted = !quoted
		}
		return r == ' ' && !quoted
	})
}

// troupe is the database to the rehearsal, which puts its team and people there
// and asks who holds which role. They stand there under the platform's numbers.
type troupe struct{ c *chat }

func (s troupe) Update(ctx context.Context, do func(bot.Tx) error) error {
	return s.c.db.Update(ctx, func(tx *store.Tx) error { return do(cast{tx, tx, s.c}) })
}

func (s troupe) View(ctx context.Context, do func(bot.Tx) error) error {
	return s.c.db.View(ctx, func(tx *store.Tx) error { return do(cast{tx, tx, s.c}) })
}

func (s troupe) Scrub(ctx context.Context) error { return s.c.db.Scrub(ctx) }

type cast struct {
	bot.Tx
	raw *store.Tx
	c   *chat
}

func (x cast) Team(training.TeamID) (training.Team, bool, error) { return x.raw.Team(x.c.team()) }

// PutTeam settles where the team is too.
func (x cast) PutTeam(team training.Team) error {
	team.ID = x.c.team()
	channel := int64(x.c.rings.ID)
	return errors.Join(x.raw.PutTeam(team), x.raw.PutTeamChannel(team.ID, channel, int64(x.c.coaches.ID)),
		x.raw.Watch(team.ID, channel, training.MessageID(channel)))
}

func (x cast) Roster(training.TeamID) ([]training.Member, error) {
	roster, err := x.raw.Roster(x.c.team())
	for i := range roster {
		roster[i].ID = x.c.back(roster[i].ID)
	}
	return roster, err
}

func (x cast) Member(_ training.TeamID, id training.PersonID) (training.Member, bool, error) {
	return x.raw.Member(x.c.team(), x.c.person(id))
}

// PutMember notes where the bot is alone with them too: opening that is paced
// in real time, and tried elsewhere.
func (x cast) PutMember(_ training.TeamID, member training.Member) error {
	alone := int64(x.c.fake.Direct(x.c.user(member.ID)).ID)
	member.ID = x.c.person(member.ID)
	return errors.Join(x.raw.PutMember(x.c.team(), member), x.raw.PutDirect(member.ID, alone))
}

func (x cast) Blocked(id training.PersonID) (bool, error) { return x.raw.Blocked(x.c.person(id)) }
