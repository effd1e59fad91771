package store_test

import (
	"errors"
	"fmt"
	"time"

	"rungbook/bot"
	"rungbook/training"
)

// answers is everything that can be asked of the small world.
func answers(tx bot.Tx) (map[string]any, error) {
	got := map[string]any{}
	var failed error
	ask := func(what string) func(v any, err error) {
		return func(v any, err error) {
			failed = errors.Join(failed, err)
			got[what] = v
		}
	}
	found := func(what string) func(v any, ok bool, err error) {
		return func(v any, ok bool, err error) { ask(what)([]any{v, ok}, err) }
	}
	ids, err := tx.Teams()
	ask("teams")(ids, err)
	at, ok, err := tx.NextExpiry()
	found("next expiry")(at, ok, err)
	for id := range training.MessageID(10) {
		log, ok, err := tx.Log(id)
		found(fmt.Sprint("log ", id))(log, ok, err)
		for _, edited := range []time.Time{{}, time.UnixMilli(1791220000005)} {
			is, err := tx.Refused(id, edited)
			ask(fmt.Sprint("refused ", id, edited))(is, err)
		}
	}
	for team := range training.TeamID(4) {
		settled, ok, err := tx.Team(team)
		found(fmt.Sprint("team ", team))(settled, ok, err)
		source, ok, err := tx.Programme(team)
		found(fmt.Sprint("programme ", team))(string(source), ok, err)
		roster, err := tx.Roster(team)
		ask(fmt.Sprint("roster ", team))(roster, err)
		for id := training.PersonID(11); id < 15; id++ {
			failed = errors.Join(failed, answersOf(tx, team, id, got))
		}
	}
	return got, failed
}

func answersOf(tx bot.Tx, team training.TeamID, id training.PersonID, got map[string]any) error {
	var failed error
	keep := func(what string, err error, v ...any) {
		failed = errors.Join(failed, err)
		got[fmt.Sprintf("%s %d/%d", what, team, id)] = v
	}
	member, ok, err := tx.Member(team, id)
	keep("member", err, member, ok)
	teams, err := tx.TeamsOf(id)
	keep("teams", err, teams)
	record, err := tx.Record(team, id)
	keep("record", err, record)
	latest, ok, err := tx.LatestLog(team, id)
	keep("latest log", err, latest, ok)
	asked, err := tx.AskedLogs(team, id, time.UnixMilli(0))
	keep("logs asked about", err, asked)
	running, ok, err := tx.Running(team, id)
	keep("running", err, running, ok)
	backs, err := tx.TakeBacks(team, id)
	keep("take-backs", err, backs)
	for cause := range training.MessageID(10) {
		number, ok, err := tx.TakeBackOf(team, id, cause)
		keep(fmt.Sprint("take-back of ", cause), err, number, ok)
	}
	byRole, err := tx.CoachByRole(team, id)
	keep("coach by role", err, byRole)
	blocked, err := tx.Blocked(id)
	keep("blocked", err, blocked)
	out, err := tx.ShutOut(id, time.UnixMilli(1791220000005))
	keep("shut out", err, out)
	since, ok, err := tx.Rejoined(id)
	keep("rejoined", err, since, ok)
	first := training.Date(2026, 10, 5)
	logs, err := tx.MemberLogs(team, id, first+1, first+3)
	keep("logs", err, logs)
	all, err := tx.MemberLogs(team, id, 0, 1<<30)
	keep("all logs", err, all)
	for day := first; day < first+6; day++ {
		logs, err := tx.DayLogs(team, id, day)
		keep(fmt.Sprint("logs of ", day), err, logs)
		at, ok, err := tx.Corrected(team, id, day)
		keep(fmt.Sprint("corrected ", day), err, at, ok)
	}
	for _, kind := range []string{"nudge", "paused"} {
		for _, from := range []string{"", "2026-10-06"} {
			outcomes, err := tx.Decided(team, kind, id, from)
			keep("decided "+kind+" from "+from, err, outcomes)
		}
	}
	return failed
}
