package store_test

import (
	"context"
	"errors"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"rungbook/bot"
	"rungbook/store"
	"rungbook/training"
)

// The small world of the drawn histories: everything happens to a few, so that
// it meets. Team 3 is never settled.
var (
	anyTeam = rapid.Map(rapid.IntRange(0, 79), func(n int) training.TeamID {
		if n == 79 {
			return 3
		}
		return training.TeamID(1 + n%2)
	})
	putTeam     = rapid.SampledFrom([]training.TeamID{1, 2})
	anyPerson   = rapid.SampledFrom([]training.PersonID{11, 12, 13})
	maybe       = rapid.SampledFrom([]training.PersonID{0, 11, 12, 13})
	anyMessage  = rapid.Map(rapid.IntRange(1, 9), func(n int) training.MessageID { return training.MessageID(n) })
	anyHour     = rapid.Map(rapid.IntRange(0, 9), func(n int) time.Time { return time.UnixMilli(1791220000000).Add(time.Duration(n) * 3 * time.Hour) })
	anyDay      = rapid.Map(rapid.IntRange(0, 5), func(n int) training.Day { return training.Date(2026, 10, 5) + training.Day(n) })
	anyAt       = rapid.Map(rapid.IntRange(0, 9), func(n int) time.Time { return time.UnixMilli(1791220000000 + int64(n)) })
	anyMinute   = rapid.Map(rapid.IntRange(0, 9), func(n int) time.Time { return time.UnixMilli(1791220000000).Add(time.Duration(n) * 20 * time.Second) })
	anyNumbered = rapid.Int64Range(1, 4)
	anyRung     = rapid.SampledFrom([]training.RungID{"deep hang", "support", "pull-ups"})
	anyZone     = rapid.SampledFrom([]string{"Europe/Lisbon", "America/Sao_Paulo", "UTC"})
	anyKind     = rapid.SampledFrom([]string{"nudge", "paused"})
	anyCause    = rapid.SampledFrom([]string{"2026-10-05", "2026-10-06", "2026-10-07", "first log", "12345", "12346", ""})
	anyState    = rapid.SampledFrom([]training.LogState{training.LogLive, training.LogLive, training.LogLive, training.LogAsked, training.LogEmpty,
		training.LogDeleted, training.LogUndone, training.LogCorrected})
	anyNumber = rapid.Custom(func(t *rapid.T) training.Optional {
		return training.Optional{Known: true, Value: rapid.IntRange(0, 10).Draw(t, "n")}
	})
	anyOptional = rapid.OneOf(rapid.Just(training.Optional{}), anyNumber)
	anySet      = rapid.Custom(func(t *rapid.T) training.Set {
		return training.Set{
			Rung: anyRung.Draw(t, "rung"), WorkS: rapid.IntRange(0, 2).Draw(t, "work") * 30, Reps: rapid.IntRange(0, 1).Draw(t, "reps"),
			LoadHg: rapid.SampledFrom([]int{0, 0, 25, -25}).Draw(t, "load"), Help: rapid.SampledFrom([]string{"", "", "band"}).Draw(t, "help"),
			Side:  rapid.SampledFrom([]training.Side{"", "", training.Left, training.Each}).Draw(t, "side"),
			RestS: anyOptional.Draw(t, "rest"), Effort: anyOptional.Draw(t, "effort"), Failed: rapid.Bool().Draw(t, "failed"),
			Tries: rapid.IntRange(0, 2).Draw(t, "tries"), Done: anyOptional.Draw(t, "done"),
		}
	})
	anySets = rapid.Custom(func(t *rapid.T) []training.Set {
		var sets []training.Set
		for _, set := range rapid.SliceOfN(anySet, 0, 3).Draw(t, "sets") {
			for range rapid.IntRange(1, 3).Draw(t, "times") {
				sets = append(sets, set)
			}
		}
		return sets
	})
	anyDays = rapid.Custom(func(t *rapid.T) []training.DaySets {
		days := training.OnDay(anyDay.Draw(t, "day"), anySets.Draw(t, "sets")...)
		if other := anyDay.Draw(t, "other day"); rapid.IntRange(0, 3).Draw(t, "two days") == 0 && other != days[0].Day {
			days = append(days, training.OnDay(other, anySets.Draw(t, "other sets")...)...)
		}
		return days
	})
	anyLog = rapid.Custom(func(t *rapid.T) training.Log {
		return training.Log{ID: anyMessage.Draw(t, "id"), Team: anyTeam.Draw(t, "team"), Member: anyPerson.Draw(t, "member"), Author: maybe.Draw(t, "author"), Alone: rapid.Bool().Draw(t, "alone"), Silent: rapid.Bool().Draw(t, "silent"),
			Channel: rapid.SampledFrom([]training.ChannelID{0, 7, 8}).Draw(t, "channel"), Edited: rapid.OneOf(rapid.Just(time.Time{}), anyAt).Draw(t, "edited"),
			At: anyAt.Draw(t, "at"), State: anyState.Draw(t, "state"), Days: anyDays.Draw(t, "days")}
	})
	anyAway = rapid.Custom(func(t *rapid.T) training.Away {
		return training.Away{From: anyDay.Draw(t, "from"), Until: anyDay.Draw(t, "until")}
	})
)

func drawTeam(t *rapid.T) training.Team {
	zone, err := time.LoadLocation(anyZone.Draw(t, "zone"))
	if err != nil {
		t.Fatal(err)
	}
	return training.Team{ID: putTeam.Draw(t, "team"), Name: rapid.String().Draw(t, "name"), Zone: zone, Days: training.Weekdays(rapid.IntRange(0, 127).Draw(t, "days")),
		Nudge: training.Clock(rapid.IntRange(0, 1439).Draw(t, "nudge")), DigestDay: time.Weekday(rapid.IntRange(0, 6).Draw(t, "digest day")), Digest: 1080,
		Quiet: training.Quiet{From: training.Clock(rapid.IntRange(0, 1439).Draw(t, "quiet")), Until: 420}}
}

func drawMember(t *rapid.T) training.Member {
	zone, err := time.LoadLocation(anyZone.Draw(t, "zone"))
	if err != nil {
		t.Fatal(err)
	}
	joined := rapid.OneOf(anyDay, rapid.Just(training.Day(0))).Draw(t, "joined")
	return training.Member{ID: anyPerson.Draw(t, "id"), Name: rapid.String().Draw(t, "name"), Zone: zone, Joined: joined, Since: anyAt.Draw(t, "since"),
		Trains: rapid.Bool().Draw(t, "trains"), Coach: rapid.Bool().Draw(t, "coach"), Manager: rapid.Bool().Draw(t, "manager"), Nudges: rapid.Bool().Draw(t, "nudges")}
}

// call is a drawn call of one verb, to be made on the store and on the model.
type call func(bot.Tx) (any, error)

func void(do func(bot.Tx) error) call {
	return func(tx bot.Tx) (any, error) { return nil, do(tx) }
}

// verbs draws a call of each verb that writes.
var verbs = map[string]func(*rapid.T) call{
	"PutTeam": func(t *rapid.T) call { v := drawTeam(t); return void(func(tx bot.Tx) error { return tx.PutTeam(v) }) },
	"PutProgramme": func(t *rapid.T) call {
		team, v := anyTeam.Draw(t, "team"), rapid.SampledFrom([]string{"id: a", "id: b"}).Draw(t, "source")
		return void(func(tx bot.Tx) error { return tx.PutProgramme(team, []byte(v), time.UnixMilli(1)) })
	},
	"PutMember": func(t *rapid.T) call {
		team, v := anyTeam.Draw(t, "team"), drawMember(t)
		return void(func(tx bot.Tx) error { return tx.PutMember(team, v) })
	},
	"PutLog": func(t *rapid.T) call {
		v := anyLog.Draw(t, "log")
		return void(func(tx bot.Tx) error { return tx.PutLog(v) })
	},
	"NoteEdit": func(t *rapid.T) call {
		id, at := anyMessage.Draw(t, "id"), anyAt.Draw(t, "at")
		return void(func(tx bot.Tx) error { return tx.NoteEdit(id, at) })
	},
	"PutAways": func(t *rapid.T) call {
		team, id, v := anyTeam.Draw(t, "team"), anyPerson.Draw(t, "id"), rapid.SliceOfN(anyAway, 0, 3).Draw(t, "aways")
		return void(func(tx bot.Tx) error { return tx.PutAways(team, id, v) })
	},
	"PutMark": func(t *rapid.T) call {
		team, id, coach, v := anyTeam.Draw(t, "team"), anyPerson.Draw(t, "id"), maybe.Draw(t, "coach"), training.Mark{Gate: anyRung.Draw(t, "gate"), Day: anyDay.Draw(t, "day")}
		return void(func(tx bot.Tx) error { return tx.PutMark(team, id, v, coach) })
	},
	"PutCoachByRole": func(t *rapid.T) call {
		team, id, is := anyTeam.Draw(t, "team"), anyPerson.Draw(t, "id"), rapid.Bool().Draw(t, "is")
		return void(func(tx bot.Tx) error { return tx.PutCoachByRole(team, id, is) })
	},
	"DropMarks": func(t *rapid.T) call {
		team, id, gate := anyTeam.Draw(t, "team"), anyPerson.Draw(t, "id"), anyRung.Draw(t, "gate")
		return func(tx bot.Tx) (any, error) { return tx.DropMarks(team, id, gate) }
	},
	"Erase": func(t *rapid.T) call {
		id := anyPerson.Draw(t, "id")
		return void(func(tx bot.Tx) error { return tx.Erase(id) })
	},
	"Unblock": func(t *rapid.T) call {
		id, since := anyPerson.Draw(t, "id"), anyAt.Draw(t, "since")
		return void(func(tx bot.Tx) error { return tx.Unblock(id, since) })
	},
	"PutCorrection": func(t *rapid.T) call {
		team, id, day, at := anyTeam.Draw(t, "team"), anyPerson.Draw(t, "id"), anyDay.Draw(t, "day"), anyAt.Draw(t, "at")
		return void(func(tx bot.Tx) error { return tx.PutCorrection(team, id, day, at) })
	},
	"Audit": func(t *rapid.T) call {
		team, by, id, day, at := anyTeam.Draw(t, "team"), maybe.Draw(t, "by"), anyPerson.Draw(t, "id"), anyDay.Draw(t, "day"), anyAt.Draw(t, "at")
		return void(func(tx bot.Tx) error { return tx.Audit(team, by, id, day, "correct", at) })
	},
	"PutRunning": func(t *rapid.T) call {
		team, id, v := anyTeam.Draw(t, "team"), anyPerson.Draw(t, "id"), training.RunningPause{From: anyDay.Draw(t, "from"), CoachEnds: rapid.Bool().Draw(t, "coach")}
		return void(func(tx bot.Tx) error { return tx.PutRunning(team, id, v) })
	},
	"EndRunning": func(t *rapid.T) call {
		team, id, day := anyTeam.Draw(t, "team"), anyPerson.Draw(t, "id"), anyDay.Draw(t, "day")
		return void(func(tx bot.Tx) error { return tx.EndRunning(team, id, day) })
	},
	"VoidRunning": func(t *rapid.T) call {
		team, id := anyTeam.Draw(t, "team"), anyPerson.Draw(t, "id")
		return void(func(tx bot.Tx) error { return tx.VoidRunning(team, id) })
	},
	"VoidLatest": func(t *rapid.T) call {
		team, id := anyTeam.Draw(t, "team"), anyPerson.Draw(t, "id")
		return func(tx bot.Tx) (any, error) { return tx.VoidLatest(team, id) }
	},
	"PutTakeBack": func(t *rapid.T) call {
		team, id := anyTeam.Draw(t, "team"), anyPerson.Draw(t, "id")
		cause := anyMessage.Draw(t, "cause")
		v := training.TakeBack{Day: anyDay.Draw(t, "day"), Opened: rapid.Bool().Draw(t, "opened"), Expires: anyMinute.Draw(t, "expires")}
		return void(func(tx bot.Tx) error { return tx.PutTakeBack(team, id, cause, v) })
	},
	"DropTakeBack": func(t *rapid.T) call {
		team, id, number := anyTeam.Draw(t, "team"), anyPerson.Draw(t, "id"), anyNumbered.Draw(t, "number")
		return void(func(tx bot.Tx) error { return tx.DropTakeBack(team, id, number) })
	},
	"OpenTakeBack": func(t *rapid.T) call {
		team, id, number := anyTeam.Draw(t, "team"), anyPerson.Draw(t, "id"), anyNumbered.Draw(t, "number")
		return void(func(tx bot.Tx) error { return tx.OpenTakeBack(team, id, number) })
	},
	"ForgetJoint": func(t *rapid.T) call {
		id := anyPerson.Draw(t, "id")
		return void(func(tx bot.Tx) error { return tx.ForgetJoint(id) })
	},
	"ForgetActed": func(t *rapid.T) call {
		at := anyHour.Draw(t, "before")
		return void(func(tx bot.Tx) error { return tx.ForgetActed(at) })
	},
	"MarkRefused": func(t *rapid.T) call {
		id, edited, at := anyMessage.Draw(t, "id"), rapid.OneOf(rapid.Just(time.Time{}), anyAt).Draw(t, "edited"), anyHour.Draw(t, "at")
		return void(func(tx bot.Tx) error { return tx.MarkRefused(id, edited, at) })
	},
	"ForgetRefused": func(t *rapid.T) call {
		at := anyHour.Draw(t, "before")
		return void(func(tx bot.Tx) error { return tx.ForgetRefused(at) })
	},
	"DropTakeBacks": func(t *rapid.T) call {
		team, id := anyTeam.Draw(t, "team"), anyPerson.Draw(t, "id")
		return void(func(tx bot.Tx) error { return tx.DropTakeBacks(team, id) })
	},
	"ExpireTakeBacks": func(t *rapid.T) call {
		now := anyMinute.Draw(t, "now")
		return void(func(tx bot.Tx) error { return tx.ExpireTakeBacks(now) })
	},
	"ForgetAsked": func(t *rapid.T) call {
		before := anyAt.Draw(t, "before")
		return void(func(tx bot.Tx) error { return tx.ForgetAsked(before) })
	},
	"AskJoint": func(t *rapid.T) call {
		team, id, now := anyTeam.Draw(t, "team"), anyPerson.Draw(t, "id"), anyHour.Draw(t, "now")
		return func(tx bot.Tx) (any, error) { return tx.AskJoint(team, id, now, now.Add(12*time.Hour)) }
	},
	"ForgetJoints": func(t *rapid.T) call {
		now := anyHour.Draw(t, "now")
		return void(func(tx bot.Tx) error { return tx.ForgetJoints(now) })
	},
	"ActOnce": func(t *rapid.T) call {
		id := anyMessage.Draw(t, "id")
		what := rapid.SampledFrom([]string{"pause", "skin"}).Draw(t, "what")
		at := anyHour.Draw(t, "at")
		return func(tx bot.Tx) (any, error) { return tx.ActOnce(id, what, at) }
	},
	"Decide": func(t *rapid.T) call {
		team, kind, id, cause, at := anyTeam.Draw(t, "team"), anyKind.Draw(t, "kind"), maybe.Draw(t, "id"), anyCause.Draw(t, "cause"), anyHour.Draw(t, "at")
		outcome := rapid.SampledFrom([]string{"post", "none"}).Draw(t, "outcome")
		return func(tx bot.Tx) (any, error) { return tx.Decide(team, kind, id, cause, outcome, at) }
	},
	"ForgetDecisions": func(t *rapid.T) call {
		at := anyHour.Draw(t, "before")
		return void(func(tx bot.Tx) error { return tx.ForgetDecisions(at) })
	},
	"MarkUnanswered": func(t *rapid.T) call {
		team, id, at := anyTeam.Draw(t, "team"), anyMessage.Draw(t, "id"), anyHour.Draw(t, "at")
		return void(func(tx bot.Tx) error { return tx.MarkUnanswered(team, id, at) })
	},
	"ForgetUnanswered": func(t *rapid.T) call {
		at := anyHour.Draw(t, "before")
		return void(func(tx bot.Tx) error { return tx.ForgetUnanswered(at) })
	},
	"FormPost": func(t *rapid.T) call {
		team, at := anyTeam.Draw(t, "team"), anyAt.Draw(t, "at")
		return func(tx bot.Tx) (any, error) { return tx.FormPost(team, nil, at) }
	},
	"PointAt": func(t *rapid.T) call {
		team, kind, id, cause, post := anyTeam.Draw(t, "team"), anyKind.Draw(t, "kind"), maybe.Draw(t, "id"), anyCause.Draw(t, "cause"), int64(rapid.IntRange(1, 4).Draw(t, "post"))
		return void(func(tx bot.Tx) error { return tx.PointAt(team, kind, id, cause, post) })
	},
}

var errGiveUp = errors.New("give up")

var verbNames = slices.Sorted(maps.Keys(verbs))

// TestAgainstModel makes random calls on the store and on the model, some in
// transactions that fail, and holds every answer of one against the other's.
func TestAgainstModel(t *testing.T) {
	folder := t.TempDir()
	rapid.Check(t, func(t *rapid.T) {
		own, err := os.MkdirTemp(folder, "run")
		if err != nil {
			t.Fatal(err)
		}
		db, err := store.Open(context.Background(), store.Options{Path: filepath.Join(own, "bot.db"), Key: key, Readers: 1})
		if err != nil {
			t.Fatal(err)
		}
		defer db.Close()
		now := newModel()
		for _, id := range []training.TeamID{1, 2} {
			team := training.Team{ID: id, Name: "Tidewater Rings", Zone: time.UTC}
			now.teams[id] = team
			if err := db.Update(context.Background(), func(tx *store.Tx) error { return tx.PutTeam(team) }); err != nil {
				t.Fatal(err)
			}
		}
		for range rapid.IntRange(1, 8).Draw(t, "transactions") {
			now = step(t, db, now)
		}
	})
}

// step runs one transaction of drawn calls and returns what the model then is.
func step(t *rapid.T, db *store.DB, before *model) *model {
	after := before.clone()
	var wantErr error
	err := db.Update(context.Background(), func(tx *store.Tx) error {
		for range rapid.IntRange(1, 30).Draw(t, "calls") {
			verb := rapid.SampledFrom(verbNames).Draw(t, "verb")
			call := verbs[verb](t)
			var want any
			want, wantErr = call(after)
			got, err := call(tx)
			if (err != nil) != (wantErr != nil) {
				t.Fatalf("%s: error %v, the model says %v", verb, err, wantErr)
			}
			if err != nil {
				return err
			}
			same(t, verb, got, want)
		}
		if rapid.IntRange(0, 5).Draw(t, "give up") == 0 {
			wantErr = errGiveUp
		}
		return wantErr
	})
	if (err != nil) != (wantErr != nil) || errors.Is(wantErr, errGiveUp) && err != errGiveUp {
		t.Fatalf("update: error %v, want %v", err, wantErr)
	}
	if wantErr != nil {
		after = before
	}
	want, _ := answers(after)
	var got map[string]any
	err = db.View(context.Background(), func(tx *store.Tx) (err error) {
		got, err = answers(tx)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for what, wanted := range want {
		same(t, what, got[what], wanted)
	}
	return after
}
