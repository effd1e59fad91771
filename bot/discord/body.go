package discord

import (
	"fmt"
	"path"
	"strconv"
	"strings"

	"rungbook/bot"
	"rungbook/bot/words"
	"rungbook/training"
)

// body is a message as it is sent: JSON of our own, because the library's knows
// no nonce. Allowed mentions stand in every one.
type body struct {
	Content   string      `json:"content"`
	Nonce     string      `json:"nonce,omitempty"`
	Enforce   bool        `json:"enforce_nonce,omitempty"`
	Mentions  mentions    `json:"allowed_mentions"`
	Reference *replyTo    `json:"message_reference,omitempty"`
	Rows      []any       `json:"components"`
	Files     []described `json:"attachments,omitempty"`
	Flags     int         `json:"flags,omitempty"`

	files []bot.File
}

// mentions says who may be pinged: nobody by kind, at most the users named.
type mentions struct {
	Parse   []string    `json:"parse"`
	Users   []snowflake `json:"users,omitempty"`
	Replied bool        `json:"replied_user"`
}

var nobody = mentions{Parse: []string{}}

type replyTo struct {
	Message snowflake `json:"message_id"`
	Must    bool      `json:"fail_if_not_exists"`
}

type described struct {
	ID          string `json:"id"`
	Name        string `json:"filename"`
	Description string `json:"description"`
}

const flagEphemeral = 64

// mostDescription is the platform's most for a file's description.
const mostDescription = 1024

// bodies are the messages that a post becomes: its text in pieces, the buttons
// and files under the last.
func (a *Adapter) bodies(post bot.Post) []body {
	text, allowed := pingable(post)
	files, left := fitting(post.Files)
	text += left
	pieces := split(text, mostText)
	all := make([]body, len(pieces))
	for i, piece := range pieces {
		all[i] = body{Content: piece, Mentions: nobody, Rows: []any{}}
		if post.Kind == bot.Nudge {
			all[i].Mentions = mentions{Parse: []string{}, Users: allowed}
		}
	}
	last := &all[len(all)-1]
	last.Rows = buttons(post)
	last.files = files
	for i, file := range files {
		last.Files = append(last.Files, described{
			ID: strconv.Itoa(i), Name: file.Name, Description: clip(describe(post, file), mostDescription),
		})
	}
	return all
}

// The platform's most for one file, and for all of a message, with room for what
// stands around them.
const (
	mostFile  = 10 << 20
	mostFiles = 24 << 20
)

// fitting are the files that a message can carry, and a line about those it
// can't.
func fitting(files []bot.File) (fit []bot.File, left string) {
	sum := 0
	for _, file := range files {
		if len(file.Data) > mostFile || sum+len(file.Data) > mostFiles {
			left += "\n" + words.TooLarge(file.Name)
			continue
		}
		fit, sum = append(fit, file), sum+len(file.Data)
	}
	return fit, left
}

// describe says in words what a file shows, for whoever does not see it.
func describe(post bot.Post, file bot.File) string {
	if path.Ext(file.Name) == ".png" {
		return words.Picture(post.Text)
	}
	return file.Name
}

// pingable puts the platform's mentions in the place of the names that a nudge
// begins with, and lists whom that pings.
func pingable(post bot.Post) (string, []snowflake) {
	if post.Kind != bot.Nudge || len(post.Mentions) == 0 {
		return post.Text, nil
	}
	var out strings.Builder
	rest, ids := post.Text, []snowflake{}
	for _, who := range post.Mentions {
		id := snowflake(who.ID)
		ids = append(ids, id)
		if before, after, ok := strings.Cut(rest, who.Name); ok && who.Name != "" {
			out.WriteString(before + "<@" + id.String() + ">")
			rest = after
		}
	}
	return out.String() + rest, ids
}

// buttonLabels are what stands on the buttons.
var buttonLabels = map[bot.Button]string{
	bot.TapWithdraw: words.LabelWithdraw, bot.TapGates: words.LabelGates, bot.TapNext: words.LabelNext,
	bot.TapWitness: words.LabelWitness, bot.TapResume: words.LabelResume, bot.TapMisread: words.LabelMisread,
	bot.TapTell: words.LabelTell, bot.TapKeep: words.LabelKeep, bot.TapDrop: words.LabelDrop,
	bot.TapHurts: words.LabelHurts, bot.TapFine: words.LabelFine,
}

// Component types and styles, from the platform's reference.
const (
	componentRow    = 1
	componentButton = 2
	componentInput  = 4

	styleSecondary = 2
	inputShort     = 1
	inputParagraph = 2

	mostInRow = 5
)

// buttons are rows of buttons.
func buttons(post bot.Post) []any {
	rows := []any{}
	var row []any
	for i, id := range tapIDs(post) {
		label, ok := buttonLabels[post.Buttons[i]]
		if !ok {
			label = string(post.Buttons[i])
		}
		row = append(row, button(label, id))
		if len(row) == mostInRow {
			rows, row = append(rows, actionRow(row)), nil
		}
	}
	if len(row) > 0 {
		rows = append(rows, actionRow(row))
	}
	return rows
}

// tapIDs are what the taps on a post's buttons need: which button, on the answer to
// which message, about whom, of which team.
func tapIDs(post bot.Post) (ids []string) {
	on, about := post.Answers, post.Person
	if on == 0 {
		on = post.Cause
	}
	if post.About != 0 {
		about = post.About
	}
	for _, one := range post.Buttons {
		ids = append(ids, tapID(one, on, about, post.Team))
	}
	return ids
}

func actionRow(parts []any) any { return map[string]any{"type": componentRow, "components": parts} }

func button(label, id string) any {
	return map[string]any{"type": componentButton, "style": styleSecondary, "label": label, "custom_id": id}
}

// tapID packs what a tap needs into the 100 characters of a custom_id.
func tapID(one bot.Button, on training.MessageID, about training.PersonID, team training.TeamID) string {
	return fmt.Sprintf("tap:%s:%d:%d:%d", one, on, about, team)
}

// readTap is the tap that a custom_id stands for, all but whose and when; ok is
// false for the custom_id of anything else.
func readTap(id string) (tap bot.Tap, ok bool) {
	parts := strings.Split(id, ":")
	if len(parts) != 5 || parts[0] != "tap" {
		return bot.Tap{}, false
	}
	return bot.Tap{
		Button: bot.Button(parts[1]), On: training.MessageID(number(parts[2])),
		About: training.PersonID(number(parts[3])), Team: training.TeamID(number(parts[4])),
	}, true
}
