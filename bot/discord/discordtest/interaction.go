package discordtest

import (
	"fmt"
	"net/http"
	"time"
)

// Interaction is something asked of the bot through the platform's own forms,
// and what has come back.
type Interaction struct {
	ID       Snowflake
	Token    string
	Kind     int // 2 command, 3 component, 4 completion, 5 form
	Channel  *Channel
	By       *User
	At       time.Time
	Callback int            // type of the first answer; 0: none yet
	Took     time.Duration  // until the first answer
	Data     map[string]any // of the first answer
	Answer   *Message       // the message that answers; nil: none yet
	More     []*Message     // follow-ups
	on       *Message
}

// Kinds of first answers, from the platform's reference.
const (
	Says        = 4
	Defers      = 5
	DefersTouch = 6
	Touches     = 7
	Completes   = 8
	Asks        = 9 // a form
)

// Option is a value given with a command.
type Option struct {
	Name    string
	Value   any // string, int, *User, *Role, or a Place
	Focused bool
}

// Slash gives a command, as "coach witness", in a place.
func (s *Server) Slash(channel *Channel, by *User, command string, options ...Option) *Interaction {
	return s.ask(channel, by, 2, nil, func(i *Interaction) map[string]any { return s.commandData(command, options) })
}

// Complete asks how an option might go on.
func (s *Server) Complete(channel *Channel, by *User, command string, options ...Option) *Interaction {
	return s.ask(channel, by, 4, nil, func(i *Interaction) map[string]any { return s.commandData(command, options) })
}

// Press presses a button under a message of the bot's.
func (s *Server) Press(m *Message, by *User, customID string) *Interaction {
	return s.ask(m.Channel, by, 3, m, func(*Interaction) map[string]any {
		return map[string]any{"custom_id": customID, "component_type": 2, "id": 1}
	})
}

// Submit sends a form back with a value for each of its fields.
func (s *Server) Submit(channel *Channel, by *User, customID string, values map[string]string) *Interaction {
	return s.ask(channel, by, 5, nil, func(*Interaction) map[string]any {
		rows := []any{}
		for name, value := range values {
			field := map[string]any{"type": 4, "id": 2, "custom_id": name, "value": value}
			rows = append(rows, map[string]any{"type": 1, "id": 1, "components": []any{field}})
		}
		return map[string]any{"custom_id": customID, "components": rows}
	})
}

// ask makes an interaction and tells the clients of it.
func (s *Server) ask(channel *Channel, by *User, kind int, on *Message, data func(*Interaction) map[string]any) *Interaction {
	s.mu.Lock()
	defer s.mu.Unlock()
	i := &Interaction{ID: s.next(), Kind: kind, Channel: channel, By: by, At: time.Now(), on: on}
	i.Token = fmt.Sprintf("asked-%d", i.ID)
	s.asked[i.ID] = i
	event := map[string]any{
		"id": i.ID, "application_id": ApplicationID, "type": kind, "token": i.Token, "version": 1, "channel_id": channel.ID,
		"data": data(i), "locale": "en-US", "entitlements": []any{}, "authorizing_integration_owners": map[string]any{}, "context": 0,
		"app_permissions": Snowflake(s.may(ApplicationID, channel)), "channel": s.channelJSON(channel), "attachment_size_limit": 10 << 20,
	}
	if on != nil {
		event["message"] = s.messageJSON(on)
	}
	if g := channel.Guild; g != nil {
		member := s.memberJSON(g, by.ID)
		member["user"], member["permissions"] = s.userJSON(by), Snowflake(s.may(by.ID, channel))
		event["member"], event["guild_id"] = member, g.ID
		event["guild"] = map[string]any{"id": g.ID, "locale": "en-US", "features": []any{}}
	} else {
		event["user"], event["context"] = s.userJSON(by), 1
	}
	s.dispatch("INTERACTION_CREATE", event, nil, channel.Guild)
	return i
}

// commandData lays the words of a command's name out as nested options.
func (s *Server) commandData(command string, options []Option) map[string]any {
	values, users := []any{}, map[string]any{}
	for _, option := range options {
		shape := map[string]any{"name": option.Name, "type": 3, "value": option.Value}
		switch value := option.Value.(type) {
		case int:
			shape["type"] = 4
		case *User:
			shape["type"], shape["value"] = 6, value.ID
			users[value.ID.String()] = s.userJSON(value)
		case channelValue:
			shape["type"], shape["value"] = 7, value.id
		case *Role:
			shape["type"], shape["value"] = 8, value.ID
		}
		if option.Focused {
			shape["focused"] = true
		}
		values = append(values, shape)
	}
	var name, sub string
	if n, _ := fmt.Sscanf(command, "%s %s", &name, &sub); n == 2 {
		values = []any{map[string]any{"name": sub, "type": 1, "options": values}}
	}
	return map[string]any{"id": ApplicationID + 1, "name": name, "type": 1, "options": values, "resolved": map[string]any{"users": users}}
}

// callback takes the first answer, within the time for it.
func (s *Server) callback(c *call) answer {
	i := s.asked[c.id("interaction_id")]
	took := time.Since(i.orNow())
	switch {
	case i == nil || i.Token != c.ids["interaction_token"]:
		return unknownAsked
	case i.Callback != 0:
		return answeredBefore
	case took > s.options.AskedTime:
		s.fault("interaction answered after %s", took)
		return unknownAsked
	}
	kind, _ := c.Body["type"].(float64)
	data, _ := c.Body["data"].(map[string]any)
	if wrong := s.first(i, int(kind), data, c); wrong != nil {
		return *wrong
	}
	i.Callback, i.Took, i.Data = int(kind), took, data
	if c.query.Get("with_response") != "true" {
		return none
	}
	back := map[string]any{"interaction": map[string]any{"id": i.ID, "type": i.Kind, "response_message_loading": int(kind) == Defers,
		"response_message_ephemeral": ephemeral(data)}}
	if i.Answer != nil {
		back["interaction"].(map[string]any)["response_message_id"] = i.Answer.ID
		if int(kind) == Says {
			back["resource"] = map[string]any{"type": int(kind), "message": s.messageJSON(i.Answer)}
		}
	}
	return ok(back)
}

// Expire lets the time be over in which an interaction may be answered.
func (s *Server) Expire(i *Interaction) {
	s.mu.Lock()
	defer s.mu.Unlock()
	i.At = i.At.Add(-15 * time.Minute)
}

func (i *Interaction) orNow() time.Time {
	if i == nil {
		return time.Now()
	}
	return i.At
}

func ephemeral(data map[string]any) bool {
	flags, _ := data["flags"].(float64)
	return int(flags)&64 != 0
}

// first carries out the first answer.
func (s *Server) first(i *Interaction, kind int, data map[string]any, c *call) *answer {
	switch kind {
	case Says:
		m, wrong := s.response(i, data, c)
		i.Answer = m
		return wrong
	case Defers:
		i.Answer = &Message{ID: s.next(), Channel: i.Channel, Author: s.users[ApplicationID], At: s.now(), Ephemeral: ephemeral(data)}
	case Touches:
		if i.on != nil {
			return s.fill(i.on, c, data, c.files)
		}
	}
	return nil
}

// response puts an answer into the place, unless it is for one alone.
func (s *Server) response(i *Interaction, data map[string]any, c *call) (*Message, *answer) {
	m := &Message{ID: s.next(), Channel: i.Channel, Author: s.users[ApplicationID], At: s.now(), Ephemeral: ephemeral(data)}
	if wrong := s.fill(m, c, data, c.files); wrong != nil {
		return nil, wrong
	}
	s.show(m)
	return m, nil
}

func (s *Server) show(m *Message) {
	m.Channel.put(m)
	if !m.Ephemeral {
		s.dispatch("MESSAGE_CREATE", s.messageEvent(m), m.Channel, m.Channel.Guild)
	}
}

// byToken finds the interaction of a webhook's token, while it lives.
func (s *Server) byToken(c *call) *Interaction {
	for _, i := range s.asked {
		if i.Token == c.ids["webhook_token"] && c.id("webhook_id") == ApplicationID && time.Since(i.At) < 15*time.Minute {
			return i
		}
	}
	return nil
}

// followUp takes a further answer to an interaction.
func (s *Server) followUp(c *call) answer {
	i := s.byToken(c)
	if i == nil {
		return unknownWebhook
	}
	if i.Callback == 0 {
		return refusal(http.StatusNotFound, 10015, "Unknown Webhook") // nothing was answered yet
	}
	m, wrong := s.response(i, c.Body, c)
	if wrong != nil {
		return *wrong
	}
	i.More = append(i.More, m)
	return ok(s.messageJSON(m))
}

func (s *Server) original(c *call) answer {
	i := s.byToken(c)
	if i == nil || i.Answer == nil {
		return unknownWebhook
	}
	return ok(s.messageJSON(i.Answer))
}

// editOriginal puts an answer in the place of the first.
func (s *Server) editOriginal(c *call) answer {
	i := s.byToken(c)
	if i == nil || i.Answer == nil {
		return unknownWebhook
	}
	loading := i.Callback == Defers && i.Answer.Text == ""
	if wrong := s.fill(i.Answer, c, c.Body, c.files); wrong != nil {
		return *wrong
	}
	if loading {
		s.show(i.Answer)
	} else {
		i.Answer.Edits++
	}
	return ok(s.messageJSON(i.Answer))
}

// channelValue is a channel as an option's value.
type channelValue struct{ id Snowflake }

// ChannelValue gives a channel as an option's value.
func ChannelValue(c *Channel) any { return channelValue{c.ID} }
