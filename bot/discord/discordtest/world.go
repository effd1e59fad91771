package discordtest

import (
	"slices"
	"strings"
	"time"
)

// Permissions, from the platform's reference.
const (
	ManageGuild    = 1 << 5
	AddReactions   = 1 << 6
	ViewChannel    = 1 << 10
	SendMessages   = 1 << 11
	EmbedLinks     = 1 << 14
	AttachFiles    = 1 << 15
	ReadHistory    = 1 << 16
	ThreadMessages = 1 << 38
	Needed         = AddReactions | ViewChannel | SendMessages | EmbedLinks | AttachFiles | ReadHistory | ThreadMessages
)

// User is somebody, or the bot.
type User struct {
	ID      Snowflake
	Name    string
	Bot     bool
	Closed  bool // takes no direct messages
	Refusal int  // the code with which they are refused; 0 for 50007
	direct  *Channel
}

// Role is one of a server's.
type Role struct {
	ID          Snowflake
	Name        string
	Permissions int64
}

// Guild is a server. Everyone's role has the server's number.
type Guild struct {
	ID       Snowflake
	Name     string
	Owner    Snowflake
	Roles    []*Role
	Channels []*Channel
	members  map[Snowflake][]Snowflake // roles held
	order    []Snowflake
	commands []map[string]any
}

// Channel is a place: of a server, a thread in one, or a direct one.
type Channel struct {
	ID       Snowflake
	Name     string
	Guild    *Guild   // nil: direct
	Parent   *Channel // of a thread
	With     *User    // of a direct one
	Denied   int64    // what the bot may not do here
	messages []*Message
	newest   Snowflake // the last message ever said here, though it be gone
}

// Message is something said. Raw is what the platform shows of one of the
// bot's: components, mentions, attachments.
type Message struct {
	ID        Snowflake
	Channel   *Channel
	Author    *User
	Text      string
	At        time.Time
	Edited    time.Time
	Answers   Snowflake
	Type      int
	Webhook   bool
	Forward   bool
	Odd       bool // carries a component of a type nobody knows
	Nonce     string
	Ephemeral bool
	Pings     []string // who is pinged by it
	Parts     []any    // components
	Files     []File
	Marks     []string // the bot's reactions
	Edits     int

	hidden bool // left out of pages of history
}

// File is an attachment.
type File struct {
	Name, Description string
	Size              int
}

// Guild adds a server with a channel, owned by somebody, in which the bot is
// allowed all it needs.
func (s *Server) Guild(name string) *Guild {
	s.mu.Lock()
	defer s.mu.Unlock()
	g := &Guild{ID: s.next(), Name: name, members: map[Snowflake][]Snowflake{}}
	g.Roles = []*Role{{ID: g.ID, Name: "@everyone", Permissions: Needed}}
	owner := s.person("Owner of " + name)
	g.Owner = owner.ID
	g.join(owner.ID)
	g.join(ApplicationID)
	s.guilds[g.ID] = g
	s.order = append(s.order, g.ID)
	s.dispatch("GUILD_CREATE", s.guildEvent(g), nil, g)
	return g
}

func (s *Server) person(name string) *User {
	u := &User{ID: s.next(), Name: name}
	s.users[u.ID] = u
	return u
}

// Person adds somebody who is in no server yet.
func (s *Server) Person(name string) *User {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.person(name)
}

// Machine adds another bot.
func (s *Server) Machine(name string) *User {
	u := s.Person(name)
	u.Bot = true
	return u
}

// Join puts somebody into a server with the roles.
func (s *Server) Join(g *Guild, u *User, roles ...*Role) {
	s.mu.Lock()
	defer s.mu.Unlock()
	g.join(u.ID, roles...)
}

func (g *Guild) join(id Snowflake, roles ...*Role) {
	if _, there := g.members[id]; !there {
		g.order = append(g.order, id)
	}
	g.members[id] = nil
	for _, role := range roles {
		g.members[id] = append(g.members[id], role.ID)
	}
}

// Leave takes somebody out of a server; the bot too, which is told.
func (s *Server) Leave(g *Guild, id Snowflake) {
	s.mu.Lock()
	defer s.mu.Unlock()
	delete(g.members, id)
	g.order = slices.DeleteFunc(g.order, func(other Snowflake) bool { return other == id })
	if id == ApplicationID {
		s.dispatch("GUILD_DELETE", map[string]any{"id": g.ID}, nil, nil)
	}
}

// Role adds a role.
func (s *Server) Role(g *Guild, name string, permissions int64) *Role {
	s.mu.Lock()
	defer s.mu.Unlock()
	role := &Role{ID: s.next(), Name: name, Permissions: permissions}
	g.Roles = append(g.Roles, role)
	return role
}

// Grant sets which roles somebody holds from now on.
func (s *Server) Grant(g *Guild, u *User, roles ...*Role) {
	s.mu.Lock()
	defer s.mu.Unlock()
	g.join(u.ID, roles...)
}

// Channel adds a place to a server.
func (s *Server) Channel(g *Guild, name string) *Channel {
	s.mu.Lock()
	defer s.mu.Unlock()
	c := &Channel{ID: s.next(), Name: name, Guild: g}
	g.Channels = append(g.Channels, c)
	s.channels[c.ID] = c
	return c
}

// Thread opens a thread under a channel and tells the bot.
func (s *Server) Thread(parent *Channel, name string) *Channel {
	s.mu.Lock()
	defer s.mu.Unlock()
	c := &Channel{ID: s.next(), Name: name, Guild: parent.Guild, Parent: parent}
	s.channels[c.ID] = c
	parent.Guild.Channels = append(parent.Guild.Channels, c)
	s.dispatch("THREAD_CREATE", s.channelJSON(c), nil, c.Guild)
	return c
}

// Direct is the place where somebody and the bot are alone.
func (s *Server) Direct(u *User) *Channel {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.direct(u)
}

func (s *Server) direct(u *User) *Channel {
	if u.direct == nil {
		u.direct = &Channel{ID: s.next(), With: u}
		s.channels[u.direct.ID] = u.direct
	}
	return u.direct
}

// Say has somebody say something.
func (s *Server) Say(channel *Channel, u *User, text string) *Message {
	return s.Post(&Message{Channel: channel, Author: u, Text: text})
}

// Post puts a message of any make into its place.
func (s *Server) Post(m *Message) *Message {
	s.mu.Lock()
	defer s.mu.Unlock()
	m.ID, m.At = s.next(), s.now()
	m.Channel.put(m)
	s.keepNonce(m)
	s.dispatch("MESSAGE_CREATE", s.creationEvent(m), m.Channel, m.Channel.Guild)
	return m
}

// Edit changes what somebody said.
func (s *Server) Edit(m *Message, text string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	m.Text, m.Edited = text, s.now()
	s.dispatch("MESSAGE_UPDATE", s.messageEvent(m), m.Channel, m.Channel.Guild)
}

// Touch shows a message again without an edit, as a link's preview does.
func (s *Server) Touch(m *Message) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.dispatch("MESSAGE_UPDATE", s.messageEvent(m), m.Channel, m.Channel.Guild)
}

// Delete removes messages of one place: several at once as a bulk deletion.
func (s *Server) Delete(messages ...*Message) {
	s.mu.Lock()
	defer s.mu.Unlock()
	ids := []Snowflake{}
	channel := messages[0].Channel
	for _, m := range messages {
		channel.drop(m.ID)
		ids = append(ids, m.ID)
	}
	event := map[string]any{"channel_id": channel.ID}
	if channel.Guild != nil {
		event["guild_id"] = channel.Guild.ID
	}
	if len(ids) == 1 {
		event["id"] = ids[0]
		s.dispatch("MESSAGE_DELETE", event, channel, channel.Guild)
		return
	}
	event["ids"] = ids
	s.dispatch("MESSAGE_DELETE_BULK", event, channel, channel.Guild)
}

// put shows a message in its place.
func (c *Channel) put(m *Message) {
	c.messages = append(c.messages, m)
	if !m.Ephemeral {
		c.newest = m.ID
	}
}

func (c *Channel) drop(id Snowflake) bool {
	before := len(c.messages)
	c.messages = slices.DeleteFunc(c.messages, func(m *Message) bool { return m.ID == id })
	return len(c.messages) < before
}

func (c *Channel) find(id Snowflake) *Message {
	for _, m := range c.messages {
		if m.ID == id {
			return m
		}
	}
	return nil
}

// may reports what somebody may do in a place.
func (s *Server) may(id Snowflake, c *Channel) int64 {
	if c.Guild == nil {
		return Needed
	}
	roles, in := c.Guild.members[id]
	if !in {
		return 0
	}
	var allowed int64
	for _, role := range c.Guild.Roles {
		if role.ID == c.Guild.ID || slices.Contains(roles, role.ID) {
			allowed |= role.Permissions
		}
	}
	if id == c.Guild.Owner {
		allowed |= ManageGuild
	}
	if id == ApplicationID {
		allowed &^= c.Denied
		if c.Parent != nil {
			allowed &^= c.Parent.Denied
		}
	}
	return allowed
}

// mentioned lists whom a text names.
func (s *Server) mentioned(text string) []*User {
	var users []*User
	for _, part := range strings.Split(text, "<@")[1:] {
		id, _, ok := strings.Cut(strings.TrimPrefix(part, "!"), ">")
		if u := s.users[number(id)]; ok && u != nil && !slices.Contains(users, u) {
			users = append(users, u)
		}
	}
	return users
}

// Deny takes from the bot what it may do in a place.
func (s *Server) Deny(c *Channel, permissions int64) {
	s.mu.Lock()
	defer s.mu.Unlock()
	c.Denied |= permissions
}

// Hide has pages of history leave messages out that are there all the same.
func (s *Server) Hide(messages ...*Message) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, m := range messages {
		m.hidden = true
	}
}

// Allow gives the bot back what it may not do in a place.
func (s *Server) Allow(c *Channel) {
	s.mu.Lock()
	defer s.mu.Unlock()
	c.Denied = 0
}
