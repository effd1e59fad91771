package words

import (
	"fmt"
	"strings"
	"time"
)

// What is said on a chat platform of servers, channels and buttons, in one way
// only.
const (
	FaultInShort  = "Something went wrong on my side; nothing was changed. Try again in a minute."
	ServerFault   = "I cannot reach your server just now; nothing was changed. Try again in a minute."
	NotAlone      = "Commands belong into your team's server; here, type them as a message, as /gates."
	NoTeamHere    = "This server has no team yet. Whoever may manage the server types /setup."
	NoTeamKnown   = "I do not know your team yet: log something in its channel first."
	WhichTeam     = "You are in several teams. Which one is this for? I keep your answer for 12 hours."
	NoTeamOfYours = "That is no team of yours any more."
	ButtonIsOver  = "That button does nothing any more."
	SeeChannel    = "Done: see the channel."
	NothingToSay  = "Nothing to say to that."
	TakenDown     = "Taken down."
	CannotWrite   = "I cannot write to you directly. Allow direct messages from members of this server, then type /help."

	ImportOffer = "Shall I read what was logged there before?"
	ImportStart = "Reading the past weeks…"
	ImportIsFor = "Reading past weeks is for whoever may manage this server."
)

// TeamChosen answers to whoever has said which team they mean.
func TeamChosen(team string) string { return "For " + team + ", then." }

// TooLarge is a line about a file that cannot be attached.
func TooLarge(file string) string {
	return file + " is too large to be attached here. Whoever runs me can hand it to you."
}

// Picture says what a picture shows to whoever does not see it: the text beside
// it, on one line.
func Picture(text string) string { return "Picture of: " + strings.ReplaceAll(text, "\n", "; ") }

// Unheard tells a coach what may not have arrived, since it could not be seen
// whether it had; not what it was about. kind is the post's, name may be empty.
func Unheard(kind, name string) string {
	return lost(kind, name) + " may not have arrived: I cannot read the channel's history. Allow me " + ReadHistory + " there."
}

// NoHistory tells a coach that the history of the team's channel, which is as the
// platform mentions it, may not be read.
func NoHistory(channel string) string {
	return "In " + channel + " I lack " + ReadHistory + ". Until I am allowed it I do not see what was written, changed or deleted " +
		"while I was away, and my answers are not shown as replies. Nothing that was logged is removed for that."
}

// Unsent tells a coach what could not be sent, as Unheard does.
func Unsent(kind, name string) string {
	return lost(kind, name) + " could not be sent: I am not allowed to write there. See the channel's permissions, or type /setup."
}

func lost(kind, name string) string {
	if name == "" {
		return "A " + kind
	}
	return "A " + kind + " for " + name
}

// Permissions in a channel, as the platform names them to people.
const (
	ViewChannel   = "View Channel"
	ReadHistory   = "Read Message History"
	SendMessages  = "Send Messages"
	SendInThreads = "Send Messages in Threads"
	AddReactions  = "Add Reactions"
	EmbedLinks    = "Embed Links"
	AttachFiles   = "Attach Files"
)

// ChannelReady says behind Setup that nothing lacks in the channel, which is as the
// platform mentions it.
func ChannelReady(channel string) string {
	return "I read " + channel + " and have all permissions I need there."
}

// ChannelLacks says in its place which permissions do.
func ChannelLacks(channel string, permissions []string) string {
	return fmt.Sprintf("In %s I lack: %s. Allow them in the channel's settings, then type /setup again.",
		channel, strings.Join(permissions, ", "))
}

// TeamNeedsZone refuses /setup of a new team without a zone.
const TeamNeedsZone = "A new team needs its time zone and its days. Try /setup zone:Europe/Lisbon days:Mon Thu"

// TeamNeedsDays refuses it without days; zone is the one that was given.
func TeamNeedsDays(zone *time.Location) string {
	return "A new team needs its days. Try /setup zone:" + zone.String() + " days:Mon Thu"
}

// ImportProgress says how far reading the past weeks is: messages read, up to
// the instant.
func ImportProgress(messages int, upTo time.Time) string {
	return fmt.Sprintf("Reading the past weeks: %d messages, up to %s.", messages, upTo.Format("2 January"))
}

// Imported says what came of it.
func Imported(messages, weeks, logs int) string {
	return fmt.Sprintf("Read %d messages of the past %d weeks: %d of them were logs. Nobody was answered.", messages, weeks, logs)
}
