package discord

import (
	"context"
	"time"

	"rungbook/training"
)

// Store runs a function in one transaction, as the bot's store does: what the
// function returns as an error comes back as it is, and nothing of it is kept. An
// error of the store's own ends the event at hand: the channel is read again later,
// and an answer that is not noted as out is looked for before it is sent again. None
// is told from another here.
type Store interface {
	Update(ctx context.Context, do func(Tx) error) error
	View(ctx context.Context, do func(Tx) error) error
}

// Tx is all that the adapter asks of the store. Numbers of channels and roles
// are the platform's, 0 for none. A look-up of something that is not there
// returns ok false, or the zero value where there is no ok, and no error.
type Tx interface {
	Team(id training.TeamID) (team training.Team, ok bool, err error)
	Teams() ([]training.TeamID, error)
	PutTeam(team training.Team) error
	Roster(team training.TeamID) ([]training.Member, error)
	Member(team training.TeamID, id training.PersonID) (member training.Member, ok bool, err error)
	PutMember(team training.TeamID, member training.Member) error
	Blocked(id training.PersonID) (bool, error)
	Log(id training.MessageID) (log training.Log, ok bool, err error)

	TeamChannel(team training.TeamID) (channel, coaches int64, ok bool, err error)
	PutTeamChannel(team training.TeamID, channel, coaches int64) error
	Registered(server training.TeamID) (hash string, err error)
	PutRegistered(server training.TeamID, hash string) error

	Watch(team training.TeamID, channel int64, since training.MessageID) error
	Watched(team training.TeamID) ([]int64, error)
	Unwatch(channel int64) error
	Seen(channel int64) (since, seen training.MessageID, ok bool, err error)
	PutSeen(channel int64, seen training.MessageID) error

	PutDirect(id training.PersonID, channel int64) error
	Direct(id training.PersonID) (channel int64, ok bool, err error)
	Directs(team training.TeamID) ([]int64, error)
	TeamsOf(id training.PersonID) ([]training.TeamID, error)
	Choice(id training.PersonID, now time.Time) (team training.TeamID, ok bool, err error)
	PutChoice(id training.PersonID, team training.TeamID, expires time.Time) error
	CoachByRole(team training.TeamID, id training.PersonID) (bool, error)
	PutCoachByRole(team training.TeamID, id training.PersonID, is bool) error

	ChannelLogs(channel training.ChannelID, from training.MessageID) ([]training.Log, error)
	PutAnswer(team training.TeamID, source training.MessageID, person training.PersonID, channel int64, answers []training.MessageID) error
	PutBotMessage(team training.TeamID, person training.PersonID, channel int64, message training.MessageID) error
	Answer(source training.MessageID) (channel int64, answers []training.MessageID, err error)
	Noted(message training.MessageID) (source training.MessageID, ok bool, err error)
	DropAnswer(source training.MessageID) error
	Unanswered(id training.MessageID) (bool, error)
	HasUnanswered(team training.TeamID) (bool, error)
	MarkAnswered(id training.MessageID) error
	PutTold(team training.TeamID, member, coach training.PersonID) error
	Searches() (coaches []training.PersonID, err error)
	DropSearch(coach training.PersonID) error
	ToEmpty() (channels []int64, err error)
	DropToEmpty(channel int64) error
	Removals() (channels []int64, answers []training.MessageID, err error)
	DropRemoval(message training.MessageID) error
}
