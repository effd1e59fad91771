package discordtest

import (
	"net/http"
	"strconv"
	"time"
	"unicode/utf8"
)

const (
	mostText  = 2000            // characters, from the platform's reference
	nonceKept = 5 * time.Minute // "the past few minutes"
	mostPage  = 100
)

// place finds the channel of a request and checks what the bot may do there.
func (s *Server) channel(c *call, needs int64) (*Channel, *answer) {
	channel := s.channels[c.id("channel_id")]
	switch {
	case channel == nil:
		return nil, &unknownChannel
	case s.may(ApplicationID, channel)&ViewChannel == 0:
		return nil, &noAccess
	case s.may(ApplicationID, channel)&needs != needs:
		return nil, &notAllowed
	}
	return channel, nil
}

func (s *Server) getChannel(c *call) answer {
	channel, no := s.channel(c, 0)
	if no != nil {
		return *no
	}
	return ok(s.channelJSON(channel))
}

func (s *Server) openDirect(c *call) answer {
	u := s.users[number(c.text("recipient_id"))]
	if u == nil {
		return refusal(http.StatusNotFound, 10013, "Unknown User")
	}
	return ok(s.channelJSON(s.direct(u)))
}

// history gives a page, newest first. With after it is the page next to that
// message; with before the one before it. Without the right to read it the page is
// empty, and no error: "If the current user is missing the READ_MESSAGE_HISTORY
// permission in the channel, then no messages will be returned" (the platform's
// reference, Get Channel Messages; its description: list_messages, 200, an array).
func (s *Server) history(c *call) answer {
	channel, no := s.channel(c, 0)
	if no != nil {
		return *no
	}
	limit, err := strconv.Atoi(c.query.Get("limit"))
	if err != nil {
		limit = 50
	}
	if limit < 1 || limit > mostPage {
		return refusal(http.StatusBadRequest, 50035, "Invalid Form Body: limit")
	}
	first, last := number(c.query.Get("after")), number(c.query.Get("before"))
	var page []*Message
	readable := s.may(ApplicationID, channel)&ReadHistory != 0
	for _, m := range channel.messages {
		if readable && m.ID > first && (last == 0 || m.ID < last) && !m.Ephemeral && !m.hidden {
			page = append(page, m)
		}
	}
	if len(page) > limit {
		if c.query.Has("after") {
			page = page[:limit]
		} else {
			page = page[len(page)-limit:]
		}
	}
	shapes := []any{}
	for i := len(page) - 1; i >= 0; i-- {
		shapes = append(shapes, s.messageJSON(page[i]))
	}
	return ok(shapes)
}

// getMessage gives one message; 404 and 10008 where it is gone. "This endpoint
// requires the current user to have the VIEW_CHANNEL and READ_MESSAGE_HISTORY
// permissions" (the platform's reference, Get Channel Message; its description:
// get_message, 4XX). Which code tells the lack of the latter is not published: 50013
// here, as of other rights.
func (s *Server) getMessage(c *call) answer {
	channel, no := s.channel(c, ReadHistory)
	if no != nil {
		return *no
	}
	m := channel.find(c.id("message_id"))
	if m == nil {
		return unknownMessage
	}
	return ok(s.messageJSON(m))
}

// createMessage makes a message, or returns the one made with its nonce before: "If
// another message was created by the same author with the same nonce, that message
// will be returned and no new message will be created" (the platform's reference,
// Create Message, enforce_nonce).
func (s *Server) createMessage(c *call) answer {
	channel, no := s.channel(c, SendMessages)
	if no == nil {
		no = s.refuses(channel, c)
	}
	if no != nil {
		return *no
	}
	nonce := c.text("nonce")
	if utf8.RuneCountInString(nonce) > 25 {
		return refusal(http.StatusBadRequest, 50035, "Invalid Form Body: nonce")
	}
	m := &Message{Channel: channel, Author: s.users[ApplicationID], Nonce: nonce}
	if earlier, known := s.nonces[m.by()]; known && c.Body["enforce_nonce"] == true && s.now().Sub(earlier.At) < nonceKept {
		if earlier.Channel.find(earlier.ID) != nil {
			return ok(s.createdJSON(earlier))
		}
		return unknownMessage
	}
	m.ID, m.At = s.next(), s.now()
	wrong := s.fill(m, c, c.Body, c.files)
	if wrong == nil {
		wrong = m.refer(c.Body)
	}
	if wrong != nil {
		return *wrong
	}
	s.keepNonce(m)
	if s.swept == nil || !s.swept(m) {
		channel.put(m)
	}
	s.dispatch("MESSAGE_CREATE", s.creationEvent(m), channel, channel.Guild)
	return ok(s.createdJSON(m))
}

// authored is a nonce of an author's.
type authored struct {
	author Snowflake
	nonce  string
}

func (m *Message) by() authored { return authored{m.Author.ID, m.Nonce} }

func (s *Server) keepNonce(m *Message) {
	if m.Nonce != "" {
		s.nonces[m.by()] = m
	}
}

// refuses tells why the bot may not send this there; nil if it may.
func (s *Server) refuses(channel *Channel, c *call) *answer {
	if len(c.files) > 0 && s.may(ApplicationID, channel)&AttachFiles == 0 {
		return &notAllowed
	}
	if _, reply := c.Body["message_reference"].(map[string]any); reply && s.may(ApplicationID, channel)&ReadHistory == 0 {
		return &noReply
	}
	u := channel.With
	if u == nil || !u.Closed && s.shares(u) {
		return nil
	}
	code := u.Refusal
	if code == 0 {
		code = 50007
	}
	no := refusal(http.StatusForbidden, code, "Cannot send messages to this user")
	return &no
}

// refer takes over which message a body answers.
func (m *Message) refer(body map[string]any) *answer {
	reference, given := body["message_reference"].(map[string]any)
	if !given {
		return nil
	}
	answered, _ := reference["message_id"].(string)
	m.Answers = number(answered)
	if m.Channel.find(m.Answers) != nil {
		return nil
	}
	if reference["fail_if_not_exists"] != false {
		wrong := refusal(http.StatusBadRequest, 50035, "Invalid Form Body: message_reference")
		return &wrong
	}
	m.Answers = 0
	return nil
}

// OnCreate has a moderator delete at once those of the bot's messages for which
// sweep is true.
func (s *Server) OnCreate(sweep func(*Message) bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.swept = sweep
}

// shares reports whether the bot and somebody are in a server together.
func (s *Server) shares(u *User) bool {
	for _, g := range s.guilds {
		if g.in(u.ID) && g.in(ApplicationID) {
			return true
		}
	}
	return false
}

// fill takes over what a body says of a message.
func (s *Server) fill(m *Message, c *call, body map[string]any, files []File) *answer {
	if text, given := body["content"].(string); given {
		m.Text = text
	}
	if utf8.RuneCountInString(m.Text) > mostText {
		s.fault("%s %s: a text of %d characters", c.Method, c.Route, utf8.RuneCountInString(m.Text))
		wrong := refusal(http.StatusBadRequest, 50035, "Invalid Form Body: content")
		return &wrong
	}
	if m.Text == "" && len(files) == 0 && len(m.Files) == 0 {
		wrong := refusal(http.StatusBadRequest, 50006, "Cannot send an empty message")
		return &wrong
	}
	if parts, given := body["components"].([]any); given {
		m.Parts = withIDs(parts)
	}
	if described, given := body["attachments"].([]any); given {
		for i := range files {
			if i < len(described) {
				one, _ := described[i].(map[string]any)
				files[i].Description, _ = one["description"].(string)
			}
		}
	}
	if len(files) > 0 {
		m.Files = files
	}
	m.Pings = pings(s, m.Text, body)
	if _, given := body["allowed_mentions"]; !given {
		s.fault("%s %s: no allowed_mentions", c.Method, c.Route)
	}
	return nil
}

// withIDs numbers components as the platform does when it shows them.
func withIDs(parts []any) []any {
	n := 0
	var walk func(any) any
	walk = func(part any) any {
		shape, isObject := part.(map[string]any)
		if !isObject {
			return part
		}
		n++
		shape["id"] = n
		if inner, has := shape["components"].([]any); has {
			for i := range inner {
				inner[i] = walk(inner[i])
			}
		}
		return shape
	}
	for i := range parts {
		parts[i] = walk(parts[i])
	}
	return parts
}

// pings lists whom a text pings, given what the body allows.
func pings(s *Server, text string, body map[string]any) []string {
	allowed, _ := body["allowed_mentions"].(map[string]any)
	var users []string
	named, _ := allowed["users"].([]any)
	for _, u := range s.mentioned(text) {
		every := allowed == nil
		for _, kind := range list(allowed["parse"]) {
			every = every || kind == "users"
		}
		for _, id := range named {
			every = every || id == u.ID.String()
		}
		if every {
			users = append(users, u.Name)
		}
	}
	return users
}

func list(value any) []any {
	values, _ := value.([]any)
	return values
}

// editMessage changes a message of the bot's own.
func (s *Server) editMessage(c *call) answer {
	channel, no := s.channel(c, 0)
	if no != nil {
		return *no
	}
	m := channel.find(c.id("message_id"))
	switch {
	case m == nil:
		return unknownMessage
	case m.Author.ID != ApplicationID:
		return notYours
	}
	if wrong := s.fill(m, c, c.Body, c.files); wrong != nil {
		return *wrong
	}
	m.Edited = s.now()
	m.Edits++
	s.dispatch("MESSAGE_UPDATE", s.messageEvent(m), channel, channel.Guild)
	return ok(s.messageJSON(m))
}

// deleteMessage removes a message.
func (s *Server) deleteMessage(c *call) answer {
	channel, no := s.channel(c, 0)
	if no != nil {
		return *no
	}
	m := channel.find(c.id("message_id"))
	switch {
	case m == nil:
		return unknownMessage
	case m.Author.ID != ApplicationID:
		return notAllowed
	}
	channel.drop(m.ID)
	return none
}

// react puts a reaction on a message.
func (s *Server) react(c *call) answer {
	channel, no := s.channel(c, AddReactions|ReadHistory)
	if no != nil {
		return *no
	}
	m := channel.find(c.id("message_id"))
	if m == nil {
		return unknownMessage
	}
	if c.ids["emoji_name"] == "✓" {
		return refusal(http.StatusBadRequest, 10014, "Unknown Emoji") // a plain sign, no emoji
	}
	for _, mark := range m.Marks {
		if mark == c.ids["emoji_name"] {
			return none
		}
	}
	m.Marks = append(m.Marks, c.ids["emoji_name"])
	return none
}
