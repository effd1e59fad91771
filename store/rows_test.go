package store

import (
	"context"
	"errors"
	"strings"
	"testing"
	"time"

	"rungbook/training"
)

func TestWhoPausedIsForgotten(t *testing.T) {
	db := openWithTeam(t)
	day := training.Date(2026, 10, 5)
	err := db.Update(context.Background(), func(tx *Tx) error {
		return errors.Join(tx.PutRunning(7, 11, training.RunningPause{From: day, CoachEnds: true}), tx.EndRunning(7, 11, day+3))
	})
	if err != nil {
		t.Fatal(err)
	}
	if got := texts(t, db, "SELECT from_day || ' ' || until_day || ' ' || coach_ends FROM pause"); len(got) != 1 || got[0] != "2026-10-05 2026-10-08 0" {
		t.Errorf("pause %v", got)
	}
}

func TestErasedActor(t *testing.T) {
	db := openWithTeam(t)
	day, now := training.Date(2026, 10, 5), time.UnixMilli(5)
	byCoach := logAt(1, 1)
	byCoach.Author = 12
	err := db.Update(context.Background(), func(tx *Tx) error {
		return errors.Join(tx.PutLog(byCoach), tx.PutMark(7, 11, training.Mark{Gate: "support", Day: day}, 12),
			tx.Audit(7, 12, 11, day, "log", now), tx.Audit(7, 11, 12, day, "correct", now), tx.Erase(12))
	})
	if err != nil {
		t.Fatal(err)
	}
	got := texts(t, db, `SELECT coalesce(author, 'nobody') FROM log UNION ALL SELECT coalesce(coach, 'nobody') FROM mark
		UNION ALL SELECT coalesce(actor, 'nobody') || ' ' || what FROM audit`)
	if strings.Join(got, ", ") != "nobody, nobody, nobody log" {
		t.Errorf("who acted: %v", got)
	}
}

func TestHashesAreOfTheirKind(t *testing.T) {
	db, other := &DB{key: testKey}, &DB{key: []byte("another key of 16 bytes or more")}
	seen := map[string]string{}
	for _, from := range []*DB{db, other} {
		for _, kind := range []string{"person", "message", "cause", "key"} {
			for _, text := range []string{"5", "55"} {
				hash, err := from.hash(kind, text)
				if err != nil || len(hash) != hashSize {
					t.Fatalf("hash %x, error %v", hash, err)
				}
				if twin, ok := seen[string(hash)]; ok {
					t.Errorf("%s %s has the hash of %s", kind, text, twin)
				}
				seen[string(hash)] = kind + " " + text
			}
		}
	}
}

func TestLatestPause(t *testing.T) {
	db := openWithTeam(t)
	day := training.Date(2026, 10, 5)
	err := db.Update(context.Background(), func(tx *Tx) error {
		for _, until := range []training.Day{day, day + 3} {
			if err := errors.Join(tx.PutRunning(7, 11, training.RunningPause{From: day}), tx.EndRunning(7, 11, until)); err != nil {
				return err
			}
		}
		found, err := tx.VoidLatest(7, 11)
		if !found {
			t.Error("found none")
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if got := texts(t, db, "SELECT until_day FROM pause"); len(got) != 1 || got[0] != "2026-10-05" {
		t.Errorf("left are the pauses until %v", got)
	}
}

func TestEarlierCorrectionChangesNothing(t *testing.T) {
	db := openWithTeam(t)
	day := training.Date(2026, 10, 5)
	err := db.Update(context.Background(), func(tx *Tx) error {
		var failed error
		for _, at := range []int64{5, 9, 7} {
			failed = errors.Join(failed, tx.PutCorrection(7, 11, day, time.UnixMilli(at)))
		}
		at, ok, err := tx.Corrected(7, 11, day)
		if !ok || at.UnixMilli() != 9 {
			t.Errorf("corrected %t at %d, want 9", ok, at.UnixMilli())
		}
		return errors.Join(failed, err)
	})
	if err != nil {
		t.Fatal(err)
	}
}
