package discord

import (
	"encoding/json"
	"slices"
	"strconv"
	"strings"
	"time"

	"rungbook/bot"
	"rungbook/training"
)

// Small shapes of our own for what the platform sends: the library's fail whole
// when they meet a component they do not know.

// snowflake is one of the platform's numbers, written as a string in JSON.
type snowflake int64

func (f snowflake) String() string { return strconv.FormatInt(int64(f), 10) }

func (f snowflake) MarshalText() ([]byte, error) { return []byte(f.String()), nil }

func (f *snowflake) UnmarshalText(text []byte) error {
	n, err := strconv.ParseInt(string(text), 10, 64)
	*f = snowflake(n)
	return err
}

// platformEpoch is the instant from which the platform's numbers count.
const platformEpoch = 1420070400000 // ms since 1970, the platform's reference on snowflakes

// timeOf is the instant in a number.
func timeOf(id snowflake) time.Time { return time.UnixMilli(int64(id)>>22 + platformEpoch).UTC() }

// snowflakeAt is the lowest number of an instant.
func snowflakeAt(at time.Time) snowflake {
	return snowflake(max(0, at.UnixMilli()-platformEpoch) << 22)
}

type user struct {
	ID         snowflake `json:"id"`
	Username   string    `json:"username"`
	GlobalName string    `json:"global_name"`
	Bot        bool      `json:"bot"`
}

func (u user) name() string {
	if u.GlobalName != "" {
		return u.GlobalName
	}
	return u.Username
}

type member struct {
	User        user        `json:"user"`
	Nick        string      `json:"nick"`
	Roles       []snowflake `json:"roles"`
	Permissions string      `json:"permissions"` // with interactions alone
}

// may reports whether the permissions that came with an interaction hold the bit.
func (m *member) may(bit int64) bool {
	if m == nil {
		return false
	}
	bits, err := strconv.ParseInt(m.Permissions, 10, 64)
	return err == nil && bits&(bit|administrator) != 0
}

func (m *member) holds(role snowflake) bool {
	return m != nil && role != 0 && slices.Contains(m.Roles, role)
}

type message struct {
	ID        snowflake  `json:"id"`
	Channel   snowflake  `json:"channel_id"`
	Guild     snowflake  `json:"guild_id"`
	Type      int        `json:"type"`
	Content   string     `json:"content"`
	Edited    *time.Time `json:"edited_timestamp"`
	Author    *user      `json:"author"`
	Member    *member    `json:"member"`
	Webhook   snowflake  `json:"webhook_id"`
	Mentions  []user     `json:"mentions"`
	Reference *reference `json:"message_reference"`
	Rows      []part     `json:"components"`

	redelivered bool // it was met before, and its answer is not out
}

// part is a button of a message, a row of them, or whatever else the platform puts
// there.
type part struct {
	CustomID string `json:"custom_id"`
	Parts    []part `json:"components"`
}

// customIDs are those of the message's buttons.
func (m *message) customIDs() (ids []string) {
	for _, row := range m.Rows {
		for _, one := range row.Parts {
			ids = append(ids, one.CustomID)
		}
	}
	return ids
}

type reference struct {
	Type    int       `json:"type"`
	Message snowflake `json:"message_id"`
}

// Message types that people make by typing, from the platform's reference.
const (
	typePlain = 0
	typeReply = 19

	referenceForward = 1
)

// typed reports whether somebody typed the message: no bot or webhook, none of
// the platform's own lines, nothing forwarded.
func (m *message) typed(me snowflake) bool {
	ordinary := m.Type == typePlain || m.Type == typeReply
	forwarded := m.Reference != nil && m.Reference.Type == referenceForward
	return m.byPerson(me) && ordinary && !forwarded
}

func (m *message) byPerson(me snowflake) bool {
	return m.Author != nil && !m.Author.Bot && m.Author.ID != me && m.Webhook == 0
}

// edited is the instant of the latest edit; zero for none.
func (m *message) edited() time.Time {
	if m.Edited == nil {
		return time.Time{}
	}
	return m.Edited.UTC()
}

// author is who wrote it, with the roles that came with it.
func (m *message) author(coaches snowflake) bot.Author { return authorOf(*m.Author, m.Member, coaches) }

func authorOf(u user, in *member, coaches snowflake) bot.Author {
	name := u.name()
	if in != nil && in.Nick != "" {
		name = in.Nick
	}
	return bot.Author{ID: training.PersonID(u.ID), Name: name, Coach: in.holds(coaches), Manager: in.may(manageGuild)}
}

// text is what it says, without a mention of the bot itself.
func (m *message) text(me snowflake) (text string, toBot bool) {
	text = m.Content
	for _, form := range []string{"<@" + me.String() + ">", "<@!" + me.String() + ">"} {
		if strings.Contains(text, form) {
			text, toBot = strings.ReplaceAll(text, form, " "), true
		}
	}
	if toBot {
		text = strings.TrimSpace(text)
	}
	return text, toBot
}

// named are the people whom the message mentions.
func (m *message) named(me snowflake) []bot.Author {
	var named []bot.Author
	for _, u := range m.Mentions {
		if u.ID != me {
			named = append(named, bot.Author{ID: training.PersonID(u.ID), Name: u.name()})
		}
	}
	return named
}

type channel struct {
	ID         snowflake   `json:"id"`
	Type       int         `json:"type"`
	Guild      snowflake   `json:"guild_id"`
	Parent     snowflake   `json:"parent_id"`
	Last       snowflake   `json:"last_message_id"` // 0 where nothing was ever said
	Overwrites []overwrite `json:"permission_overwrites"`
}

type overwrite struct {
	ID    snowflake `json:"id"`
	Type  int       `json:"type"` // 0 role, 1 member
	Allow string    `json:"allow"`
	Deny  string    `json:"deny"`
}

type guild struct {
	ID       snowflake `json:"id"`
	Name     string    `json:"name"`
	Owner    snowflake `json:"owner_id"`
	Roles    []role    `json:"roles"`
	Threads  []channel `json:"threads"`
	Channels []channel `json:"channels"`
}

type role struct {
	ID          snowflake `json:"id"`
	Permissions string    `json:"permissions"`
}

// interaction is something asked through the platform's own forms.
type interaction struct {
	ID      snowflake       `json:"id"`
	App     snowflake       `json:"application_id"`
	Type    int             `json:"type"`
	Token   string          `json:"token"`
	Guild   snowflake       `json:"guild_id"`
	Channel snowflake       `json:"channel_id"`
	Member  *member         `json:"member"`
	User    *user           `json:"user"`
	Data    interactionData `json:"data"`
	Message *struct {
		ID snowflake `json:"id"`
	} `json:"message"`
}

type interactionData struct {
	Name       string   `json:"name"`
	Options    []option `json:"options"`
	CustomID   string   `json:"custom_id"`
	Components []field  `json:"components"`
	Resolved   struct {
		Users map[snowflake]user `json:"users"`
	} `json:"resolved"`
}

type option struct {
	Name    string          `json:"name"`
	Type    int             `json:"type"`
	Value   json.RawMessage `json:"value"`
	Options []option        `json:"options"`
	Focused bool            `json:"focused"`
}

// text is the value as it would be typed.
func (o option) text() string {
	var text string
	if json.Unmarshal(o.Value, &text) == nil {
		return text
	}
	return string(o.Value)
}

// field is an input of a form, or a row of them.
type field struct {
	CustomID   string  `json:"custom_id"`
	Value      string  `json:"value"`
	Components []field `json:"components"`
}

// Interaction types, from the platform's reference.
const (
	askedCommand    = 2
	askedComponent  = 3
	askedCompletion = 4
	askedForm       = 5
)

// by is who asked.
func (i *interaction) by(coaches snowflake) bot.Author {
	if i.Member != nil {
		return authorOf(i.Member.User, i.Member, coaches)
	}
	if i.User != nil {
		return authorOf(*i.User, nil, 0)
	}
	return bot.Author{}
}
