package store_test

import (
	"errors"
	"testing"
	"time"

	"rungbook/store"
	"rungbook/training"
)

var noon = time.UnixMilli(1791220000123).UTC()

// discord is a database with one team, Priya and Ilda in it.
func discord(t *testing.T) *store.DB {
	t.Helper()
	db := open(t)
	update(t, db, func(tx *store.Tx) error {
		if err := tx.PutTeam(tidewater(t)); err != nil {
			return err
		}
		for id, name := range map[training.PersonID]string{11: "Priya", 12: "Ilda"} {
			if err := tx.PutMember(7, training.Member{ID: id, Name: name, Zone: time.UTC, Since: noon}); err != nil {
				return err
			}
		}
		return nil
	})
	return db
}

func TestPlacesAndHowFarTheyWereRead(t *testing.T) {
	db := discord(t)
	update(t, db, func(tx *store.Tx) error {
		if err := tx.PutRegistered(7, "abc"); err != nil {
			return err
		}
		if _, _, ok, err := tx.TeamChannel(7); ok || err != nil {
			t.Error("a place before it is settled", err)
		}
		if err := tx.PutTeamChannel(7, 21, 0); err != nil {
			return err
		}
		if err := tx.Watch(7, 21, 5); err != nil {
			return err
		}
		if err := tx.PutSeen(21, 9); err != nil {
			return err
		}
		if err := tx.PutSeen(21, 8); err != nil {
			return err
		}
		return tx.Watch(7, 21, 0)
	})
	view(t, db, func(tx *store.Tx) error {
		channel, coaches, ok, err := tx.TeamChannel(7)
		if channel != 21 || coaches != 0 || !ok || err != nil {
			t.Error("place", channel, coaches, ok, err)
		}
		hash, err := tx.Registered(7)
		if hash != "abc" || err != nil {
			t.Error("hash", hash, err)
		}
		since, seen, ok, err := tx.Seen(21)
		if since != 5 || seen != 9 || !ok || err != nil {
			t.Error("what was read goes back", since, seen, ok, err)
		}
		return nil
	})
}

func TestAnswersAreReplacedAndErasedWithTheirPerson(t *testing.T) {
	db := discord(t)
	update(t, db, func(tx *store.Tx) error {
		if err := tx.PutAnswer(7, 100, 11, 21, []training.MessageID{101, 102}); err != nil {
			return err
		}
		if err := tx.PutAnswer(7, 100, 11, 21, []training.MessageID{101}); err != nil {
			return err
		}
		if err := tx.PutBotMessage(7, 12, 22, 103); err != nil {
			return err
		}
		if err := tx.PutDirect(11, 23); err != nil {
			return err
		}
		if err := tx.PutChoice(11, 7, noon); err != nil {
			return err
		}
		return tx.PutCoachByRole(7, 11, true)
	})
	view(t, db, func(tx *store.Tx) error {
		channel, answers, err := tx.Answer(100)
		same(t, "answers", answers, []training.MessageID{101})
		if channel != 21 || err != nil {
			t.Error("the answer is in", channel, err)
		}
		if channels, _, err := tx.Removals(); len(channels) > 0 || err != nil {
			t.Error("a replaced answer is to be removed", channels, err)
		}
		return nil
	})
	update(t, db, func(tx *store.Tx) error { return tx.Erase(11) })
	view(t, db, func(tx *store.Tx) error {
		channels, answers, err := tx.Removals()
		same(t, "channels", channels, []int64{21})
		same(t, "messages", answers, []training.MessageID{101})
		if err != nil {
			return err
		}
		if _, ok, err := tx.Direct(11); ok || err != nil {
			t.Error("a direct channel outlives its person", err)
		}
		if _, ok, err := tx.Choice(11, noon.Add(-time.Hour)); ok || err != nil {
			t.Error("a choice outlives its person", err)
		}
		return nil
	})
	update(t, db, func(tx *store.Tx) error { return tx.DropRemoval(101) })
	view(t, db, func(tx *store.Tx) error {
		if channels, _, err := tx.Removals(); len(channels) > 0 || err != nil {
			t.Error("still to be removed", channels, err)
		}
		return nil
	})
}

// A message of the bot's is known as an answer, as said about somebody, or not at all.
func TestWhatAMessageIsNotedAs(t *testing.T) {
	db := discord(t)
	update(t, db, func(tx *store.Tx) error {
		return errors.Join(tx.PutAnswer(7, 100, 11, 21, []training.MessageID{101}), tx.PutBotMessage(7, 12, 22, 103))
	})
	type noted struct {
		source training.MessageID
		ok     bool
	}
	view(t, db, func(tx *store.Tx) error {
		for message, want := range map[training.MessageID]noted{101: {100, true}, 103: {0, true}, 106: {}} {
			source, ok, err := tx.Noted(message)
			if got := (noted{source, ok}); got != want || err != nil {
				t.Errorf("%d: %+v, want %+v, %v", message, got, want, err)
			}
		}
		return nil
	})
}

// What a channel's messages gave is found by the channel, with the latest edit
// that was taken in; a deleted one as long as its answer stands, or may stand.
func TestLogsOfAChannel(t *testing.T) {
	db := discord(t)
	log := func(id training.MessageID, channel training.ChannelID, state training.LogState) training.Log {
		return training.Log{ID: id, Team: 7, Member: 11, Author: 11, At: noon, Channel: channel, State: state,
			Days: training.OnDay(training.Date(2026, 10, 5))}
	}
	logs := []training.Log{log(99, 21, "live"), log(100, 21, "live"), log(101, 22, "live"), log(102, 21, "deleted"), log(103, 21, "deleted"),
		log(104, 0, "live"), log(105, 21, "undone"), log(106, 21, "deleted")}
	later := noon.Add(time.Minute)
	update(t, db, func(tx *store.Tx) error {
		for _, log := range logs {
			if err := tx.PutLog(log); err != nil {
				return err
			}
		}
		return errors.Join(tx.PutAnswer(7, 102, 11, 21, []training.MessageID{110}), tx.MarkUnanswered(7, 106, noon),
			tx.NoteEdit(100, later), tx.NoteEdit(100, noon), tx.NoteEdit(999, later))
	})
	view(t, db, func(tx *store.Tx) error {
		found, err := tx.ChannelLogs(21, 100)
		want := []training.Log{logs[1], logs[3], logs[6], logs[7]}
		want[0].Edited = later
		same(t, "logs", found, want)
		return err
	})
}

func TestOneChoiceOfTeam(t *testing.T) {
	db := discord(t)
	other := tidewater(t)
	other.ID = 8
	update(t, db, func(tx *store.Tx) error {
		if err := tx.PutTeam(other); err != nil {
			return err
		}
		if err := tx.PutMember(8, training.Member{ID: 11, Name: "Priya", Zone: time.UTC, Since: noon}); err != nil {
			return err
		}
		if err := tx.PutChoice(11, 7, noon.Add(time.Hour)); err != nil {
			return err
		}
		return tx.PutChoice(11, 8, noon.Add(time.Hour))
	})
	view(t, db, func(tx *store.Tx) error {
		teams, err := tx.TeamsOf(11)
		same(t, "teams", teams, []training.TeamID{7, 8})
		team, ok, err2 := tx.Choice(11, noon)
		if team != 8 || !ok || err != nil || err2 != nil {
			t.Error(team, ok, err, err2)
		}
		if _, ok, err := tx.Choice(11, noon.Add(time.Hour)); ok || err != nil {
			t.Error("a choice holds beyond its end", err)
		}
		return nil
	})
}
