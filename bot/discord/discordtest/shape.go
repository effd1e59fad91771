package discordtest

import "slices"

// The platform's JSON, with every field that its description asks for.

func (s *Server) userJSON(u *User) map[string]any {
	shape := map[string]any{
		"id": u.ID, "username": u.Name, "avatar": nil, "discriminator": "0", "public_flags": 0, "flags": 0,
		"global_name": u.Name, "primary_guild": nil,
	}
	if u.Bot {
		shape["bot"] = true
	}
	return shape
}

func (s *Server) memberJSON(g *Guild, id Snowflake) map[string]any {
	roles := g.members[id]
	if roles == nil {
		roles = []Snowflake{}
	}
	return map[string]any{
		"avatar": nil, "banner": nil, "communication_disabled_until": nil, "flags": 0, "joined_at": stamp(TimeOf(g.ID)),
		"nick": nil, "pending": false, "premium_since": nil, "roles": roles, "mute": false, "deaf": false,
	}
}

// messageJSON is a message as the platform sends it.
func (s *Server) messageJSON(m *Message) map[string]any {
	mentions, files, parts := []any{}, []any{}, m.Parts
	for _, u := range s.mentioned(m.Text) {
		mentions = append(mentions, s.userJSON(u))
	}
	for i, f := range m.Files {
		files = append(files, map[string]any{"id": m.ID + Snowflake(i), "filename": f.Name, "size": f.Size, "description": f.Description,
			"url": "https://files.invalid/" + f.Name, "proxy_url": "https://files.invalid/" + f.Name})
	}
	if parts == nil {
		parts = []any{}
	}
	if m.Odd {
		parts = []any{map[string]any{"type": 4242, "id": 1, "wonder": []int{1, 2}}}
	}
	shape := map[string]any{
		"id": m.ID, "channel_id": m.Channel.ID, "type": m.Type, "content": m.Text, "timestamp": stamp(m.At), "edited_timestamp": nil,
		"author": s.userJSON(m.Author), "mentions": mentions, "mention_roles": []any{}, "attachments": files, "embeds": []any{},
		"flags": 0, "components": parts, "pinned": false, "mention_everyone": false, "tts": false,
	}
	if !m.Edited.IsZero() {
		shape["edited_timestamp"] = stamp(m.Edited)
	}
	if m.Webhook {
		shape["webhook_id"] = m.Author.ID
	}
	if m.Ephemeral {
		shape["flags"] = 64
	}
	if m.Answers != 0 {
		shape["message_reference"] = map[string]any{"type": 0, "channel_id": m.Channel.ID, "message_id": m.Answers}
	}
	if m.Forward {
		shape["message_reference"] = map[string]any{"type": 1, "channel_id": m.Channel.ID, "message_id": m.ID - 1}
	}
	return shape
}

// createdJSON is a message in the answer to its creation, and creationEvent in the
// event of it: there alone it has its nonce. "Value will appear in the Message
// Create event" (the platform's reference, Create Message, nonce; its description
// does not ask for one of a MessageResponse).
func (s *Server) createdJSON(m *Message) map[string]any { return m.withNonce(s.messageJSON(m)) }

func (s *Server) creationEvent(m *Message) map[string]any { return m.withNonce(s.messageEvent(m)) }

func (m *Message) withNonce(shape map[string]any) map[string]any {
	if m.Nonce != "" {
		shape["nonce"] = m.Nonce
	}
	return shape
}

// messageEvent is a message as the gateway tells it, with its author's roles.
func (s *Server) messageEvent(m *Message) map[string]any {
	shape := s.messageJSON(m)
	if g := m.Channel.Guild; g != nil {
		shape["guild_id"] = g.ID
		if _, in := g.members[m.Author.ID]; in && !m.Webhook {
			shape["member"] = s.memberJSON(g, m.Author.ID)
		}
	}
	return shape
}

func (s *Server) roleJSON(r *Role, position int) map[string]any {
	return map[string]any{
		"id": r.ID, "name": r.Name, "permissions": Snowflake(r.Permissions), "position": position, "color": 0,
		"colors": map[string]any{"primary_color": 0, "secondary_color": nil, "tertiary_color": nil},
		"hoist":  false, "managed": false, "mentionable": false, "icon": nil, "unicode_emoji": nil, "flags": 0,
	}
}

// channelJSON is a channel or a thread as the platform sends it.
func (s *Server) channelJSON(c *Channel) map[string]any {
	switch {
	case c.Guild == nil:
		return map[string]any{"id": c.ID, "type": 1, "flags": 0, "recipients": []any{s.userJSON(c.With)}}
	case c.Parent != nil:
		return map[string]any{
			"id": c.ID, "type": 11, "flags": 0, "guild_id": c.Guild.ID, "name": c.Name, "owner_id": c.Guild.Owner, "parent_id": c.Parent.ID,
			"thread_metadata": map[string]any{
				"archived": false, "archive_timestamp": stamp(TimeOf(c.ID)), "auto_archive_duration": 1440, "locked": false,
			},
			"last_message_id": c.lastSaid(), "message_count": len(c.messages), "member_count": 1, "total_message_sent": len(c.messages),
		}
	}
	overwrites := []any{}
	if c.Denied != 0 {
		overwrites = append(overwrites, map[string]any{"id": ApplicationID, "type": 1, "allow": "0", "deny": Snowflake(c.Denied)})
	}
	return map[string]any{
		"id": c.ID, "type": 0, "flags": 0, "guild_id": c.Guild.ID, "name": c.Name, "position": 0,
		"last_message_id": c.lastSaid(), "permission_overwrites": overwrites,
	}
}

// lastSaid is null where nothing was ever said.
func (c *Channel) lastSaid() any {
	if c.newest == 0 {
		return nil
	}
	return c.newest
}

func (s *Server) rolesJSON(g *Guild) []any {
	roles := []any{}
	for i, role := range g.Roles {
		roles = append(roles, s.roleJSON(role, i))
	}
	return roles
}

func (s *Server) threadsJSON(g *Guild) []any {
	threads := []any{}
	for _, c := range g.Channels {
		if c.Parent != nil {
			threads = append(threads, s.channelJSON(c))
		}
	}
	return threads
}

// guildEvent is a server as GUILD_CREATE tells it.
func (s *Server) guildEvent(g *Guild) map[string]any {
	channels := []any{}
	for _, c := range g.Channels {
		if c.Parent == nil {
			channels = append(channels, s.channelJSON(c))
		}
	}
	member := s.memberJSON(g, ApplicationID)
	member["user"] = s.userJSON(s.users[ApplicationID])
	return map[string]any{
		"id": g.ID, "name": g.Name, "owner_id": g.Owner, "roles": s.rolesJSON(g), "channels": channels, "threads": s.threadsJSON(g),
		"members": []any{member}, "member_count": len(g.members), "unavailable": false, "large": false, "joined_at": stamp(TimeOf(g.ID)),
	}
}

// guildJSON is a server as REST tells it.
func (s *Server) guildJSON(g *Guild) map[string]any {
	return map[string]any{
		"id": g.ID, "name": g.Name, "icon": nil, "description": nil, "home_header": nil, "splash": nil, "discovery_splash": nil,
		"features": []any{}, "banner": nil, "owner_id": g.Owner, "application_id": nil, "region": "auto", "afk_channel_id": nil,
		"afk_timeout": 300, "system_channel_id": nil, "system_channel_flags": 0, "widget_enabled": false, "widget_channel_id": nil,
		"verification_level": 0, "roles": s.rolesJSON(g), "default_message_notifications": 0, "mfa_level": 0, "explicit_content_filter": 0,
		"max_presences": nil, "max_members": 500000, "max_stage_video_channel_users": 50, "max_video_channel_users": 25,
		"vanity_url_code": nil, "premium_tier": 0, "premium_subscription_count": 0, "preferred_locale": "en-US", "rules_channel_id": nil,
		"safety_alerts_channel_id": nil, "public_updates_channel_id": nil, "premium_progress_bar_enabled": false, "nsfw": false,
		"nsfw_level": 0, "emojis": []any{}, "stickers": []any{}, "incidents_data": nil,
	}
}

// in reports whether the bot is in the server.
func (g *Guild) in(id Snowflake) bool { return slices.Contains(g.order, id) }
