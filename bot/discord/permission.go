package discord

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"rungbook/bot/outbox"
	"rungbook/bot/words"
	"rungbook/training"
)

// Permission bits, from the platform's reference.
const (
	administrator  int64 = 1 << 3
	manageGuild    int64 = 1 << 5
	addReactions   int64 = 1 << 6
	viewChannel    int64 = 1 << 10
	sendMessages   int64 = 1 << 11
	embedLinks     int64 = 1 << 14
	attachFiles    int64 = 1 << 15
	readHistory    int64 = 1 << 16
	threadMessages int64 = 1 << 38
)

// Permissions is what the invite link must ask for: exactly what the bot needs.
const Permissions = viewChannel | readHistory | sendMessages | threadMessages | addReactions | embedLinks | attachFiles

// needed are the permissions in the team's channel, as people know them.
var needed = []struct {
	bit  int64
	name string
}{
	{viewChannel, words.ViewChannel},
	{readHistory, words.ReadHistory},
	{sendMessages, words.SendMessages},
	{threadMessages, words.SendInThreads},
	{addReactions, words.AddReactions},
	{embedLinks, words.EmbedLinks},
	{attachFiles, words.AttachFiles},
}

// missing names the permissions that are lacking.
func missing(allowed int64) []string {
	var names []string
	for _, need := range needed {
		if allowed&(need.bit|administrator) == 0 {
			names = append(names, need.name)
		}
	}
	return names
}

// allowed computes what a member may do in a channel, as the platform's
// reference says: roles together, then the channel's overwrites for everyone,
// for the roles, for the member.
func allowed(g *guild, roles []snowflake, id snowflake, overwrites []overwrite) int64 {
	if id == g.Owner {
		return -1
	}
	var bits int64
	for _, r := range g.Roles {
		if r.ID == g.ID || slices.Contains(roles, r.ID) {
			bits |= number(r.Permissions)
		}
	}
	if bits&administrator != 0 {
		return -1
	}
	var allow, deny int64
	for _, o := range overwrites {
		switch {
		case o.Type == 0 && o.ID == g.ID:
			bits = bits&^number(o.Deny) | number(o.Allow)
		case o.Type == 0 && slices.Contains(roles, o.ID):
			allow, deny = allow|number(o.Allow), deny|number(o.Deny)
		}
	}
	bits = bits&^deny | allow
	for _, o := range overwrites {
		if o.Type == 1 && o.ID == id {
			bits = bits&^number(o.Deny) | number(o.Allow)
		}
	}
	return bits
}

func number(text string) int64 {
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil {
		return 0 // what cannot be read allows nothing
	}
	return n
}

// lacking names what the bot may not do in the channel, having asked the
// platform.
func (a *Adapter) lacking(ctx context.Context, server snowflake, channel snowflake) ([]string, error) {
	bits, err := a.allowedIn(ctx, a.api, server, channel)
	if err != nil {
		return nil, err
	}
	return missing(bits), nil
}

// allowedIn is what the bot may do in the channel, having asked the platform.
func (a *Adapter) allowedIn(ctx context.Context, api *api, server, channel snowflake) (int64, error) {
	g, err := api.guild(ctx, server)
	if err != nil {
		return 0, err
	}
	in, err := api.member(ctx, server, a.me())
	if err != nil {
		return 0, err
	}
	c, err := api.channel(ctx, channel)
	if refusedFor(err, codeNoAccess) {
		return 0, nil
	}
	if err != nil {
		return 0, err
	}
	return allowed(g, in.Roles, a.me(), c.Overwrites), nil
}

// mayRead reports whether the bot may read the history of the team's channel, and so
// of the threads under it, which have no overwrites of their own. It asks the
// platform, with patience. In a server in which the bot is no longer it may not.
func (a *Adapter) mayRead(ctx context.Context, api *api, team training.TeamID, channel snowflake) (may bool, err error) {
	err = patiently(ctx, func() error {
		bits, err := a.allowedIn(ctx, api, snowflake(team), channel)
		may = bits&administrator != 0 || bits&viewChannel != 0 && bits&readHistory != 0
		return err
	})
	if errors.Is(a.class(err), outbox.ErrRefused) {
		return false, nil
	}
	if err != nil {
		return false, fmt.Errorf("ask whether history may be read: %w", err)
	}
	a.noteHistory(team, may)
	return may, nil
}

// CheckPermissions asks the platform what the bot may do in each team's
// channel. The error is a *PermissionError that names what lacks where, or says
// why it could not be asked.
func (a *Adapter) CheckPermissions(ctx context.Context) error {
	if err := a.identify(ctx); err != nil {
		return err
	}
	teams, err := a.teams(ctx)
	if err != nil {
		return err
	}
	lack := &PermissionError{}
	for _, team := range teams {
		channel, ok, err := a.teamChannelOf(ctx, team)
		if err != nil {
			return err
		}
		if !ok {
			continue
		}
		names, err := a.lacking(ctx, snowflake(team), channel.channel)
		if refusedFor(err, codeUnknownGuild) || refusedFor(err, codeNoAccess) {
			lack.Lines = append(lack.Lines, fmt.Sprintf("server %d: the bot is not in it any more: invite it again", team))
			continue
		}
		if err != nil {
			return fmt.Errorf("check permissions: %w", err)
		}
		if len(names) > 0 {
			lack.Lines = append(lack.Lines, permissionLine(team, channel.channel, names))
		}
	}
	if len(lack.Lines) > 0 {
		return lack
	}
	return nil
}

func permissionLine(team training.TeamID, channel snowflake, names []string) string {
	return fmt.Sprintf("server %d, channel %s: allow the bot %s", team, channel, strings.Join(names, ", "))
}

// manages reports whether somebody may manage the server, having asked the
// platform: for commands that were typed as plain messages.
func (a *Adapter) manages(ctx context.Context, server snowflake, roles []snowflake, id snowflake) (bool, error) {
	g, err := a.api.guild(ctx, server)
	if err != nil {
		return false, err
	}
	return allowed(g, roles, id, nil)&(manageGuild|administrator) != 0, nil
}
