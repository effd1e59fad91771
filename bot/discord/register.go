package discord

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"rungbook/bot"
	"rungbook/bot/slash"
	"rungbook/bot/words"
	"rungbook/training"
)

// Option types, from the platform's reference.
const (
	optionSub     = 1
	optionText    = 3
	optionCount   = 4
	optionUser    = 6
	optionChannel = 7
	optionRole    = 8
)

// command is a slash command as it is registered.
type command struct {
	Name        string    `json:"name"`
	Description string    `json:"description"`
	Options     []setting `json:"options,omitempty"`
	Needs       *bits     `json:"default_member_permissions"` // who sees it, before the server says otherwise; nil: all
}

// bits are permissions: a number when they are sent, a string when they come.
type bits int64

func (b *bits) UnmarshalJSON(raw []byte) error {
	n, err := strconv.ParseInt(strings.Trim(string(raw), `"`), 10, 64)
	*b = bits(n)
	return err
}

// setting is one of a command's options, or a command within a command.
type setting struct {
	Type        int       `json:"type"`
	Name        string    `json:"name"`
	Description string    `json:"description"`
	Required    bool      `json:"required,omitempty"`
	Choices     []choice  `json:"choices,omitempty"`
	Complete    bool      `json:"autocomplete,omitempty"`
	Options     []setting `json:"options,omitempty"`
	Least       *int      `json:"min_value,omitempty"`
	Channels    []int     `json:"channel_types,omitempty"`
}

type choice struct {
	Name  string `json:"name"`
	Value string `json:"value"`
}

const (
	mostDescribed = 100 // characters of a description
	mostChoices   = 25
)

// layOut lays the bot's table out as the platform's commands: the words of a
// name become a command and the commands within it.
func layOut(table []slash.Command) []command {
	var all []command
	for _, row := range table {
		name, sub, nested := strings.Cut(row.Name, " ")
		if !nested {
			one := command{Name: name, Description: clip(row.What, mostDescribed), Options: settings(row)}
			if name == "setup" {
				needs := bits(manageGuild)
				one.Needs = &needs
			}
			all = append(all, one)
			continue
		}
		at := slices.IndexFunc(all, func(c command) bool { return c.Name == name })
		if at < 0 {
			all = append(all, command{Name: name, Description: clip(words.CommandsOf(name), mostDescribed)})
			at = len(all) - 1
		}
		all[at].Options = append(all[at].Options, setting{
			Type: optionSub, Name: sub, Description: clip(row.What, mostDescribed), Options: settings(row),
		})
	}
	return all
}

// settings are a command's options, those that must be given first, as the
// platform wants it. What a form asks for need not be given.
func settings(row slash.Command) []setting {
	var all []setting
	for _, o := range row.Options {
		s := setting{Type: optionText, Name: o.Name, Description: takes(o), Required: o.Required && !onForm(row.Name, o.Name)}
		switch {
		case o.Kind == slash.Member:
			s.Type = optionUser
		case o.Kind == slash.Count:
			one := 1
			s.Type, s.Least = optionCount, &one
		case row.Name == "setup" && o.Name == "channel":
			s.Type, s.Channels = optionChannel, []int{0}
		case row.Name == "setup" && o.Name == "coach-role":
			s.Type = optionRole
		case o.Kind == slash.Gate, o.Kind == slash.Day, o.Kind == slash.Zone, o.Name == "text":
			s.Complete = true
		}
		for _, value := range o.Choices {
			s.Choices = append(s.Choices, choice{value, value})
		}
		all = append(all, s)
	}
	slices.SortStableFunc(all, func(x, y setting) int {
		switch {
		case x.Required == y.Required:
			return 0
		case x.Required:
			return -1
		}
		return 1
	})
	return all
}

func onForm(command, option string) bool {
	return slices.ContainsFunc(forms[command], func(f formField) bool { return f.name == option })
}

// takes says in a few words what an option takes.
func takes(o slash.Option) string {
	switch o.Kind {
	case slash.Member:
		return words.TakesMember
	case slash.Gate:
		return words.TakesGate
	case slash.Day:
		return words.TakesDay
	case slash.Zone:
		return words.TakesZone
	case slash.Count:
		return words.TakesCount(o.Name)
	}
	if len(o.Choices) > 0 {
		return words.TakesChoice(o.Choices)
	}
	return o.Name
}

// register sets the server's commands where they are not those of the table.
func (a *Adapter) register(ctx context.Context, server snowflake) error {
	want := layOut(bot.Commands())
	raw, err := json.Marshal(want)
	if err != nil {
		return fmt.Errorf("lay out commands: %w", err)
	}
	sum := sha256.Sum256(raw)
	hash := hex.EncodeToString(sum[:16])
	var have string
	err = a.store.View(ctx, func(tx Tx) error {
		have, err = tx.Registered(training.TeamID(server))
		return err
	})
	if err != nil || have == hash {
		return err
	}
	api := a.api.background()
	path := "applications/" + a.me().String() + "/guilds/" + server.String() + "/commands"
	var there []command
	if err := api.call(ctx, "GET", path, nil, nil, &there); err != nil {
		return fmt.Errorf("read commands: %w", err)
	}
	if now, err := json.Marshal(there); err != nil || string(now) != string(raw) {
		if err := api.call(ctx, "PUT", path, want, nil, nil); err != nil {
			return fmt.Errorf("set commands: %w", err)
		}
	}
	return a.store.Update(ctx, func(tx Tx) error { return tx.PutRegistered(training.TeamID(server), hash) })
}
