package discordtest

import "slices"

// RemoveRole removes a role from a server, and tells the bot. Nobody holds it any
// more; of that the platform tells only whoever may hear of members.
func (s *Server) RemoveRole(g *Guild, role *Role) {
	s.mu.Lock()
	defer s.mu.Unlock()
	g.Roles = slices.DeleteFunc(g.Roles, func(other *Role) bool { return other == role })
	for id, held := range g.members {
		g.members[id] = slices.DeleteFunc(held, func(other Snowflake) bool { return other == role.ID })
	}
	s.dispatch("GUILD_ROLE_DELETE", map[string]any{"guild_id": g.ID, "role_id": role.ID}, nil, g)
}

// Rename changes what somebody is called. The bot is not told: it has not asked to
// hear of members.
func (s *Server) Rename(u *User, name string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	u.Name = name
}
