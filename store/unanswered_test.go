package store

import (
	"context"
	"errors"
	"testing"
	"time"
)

func TestUnanswered(t *testing.T) {
	db := openWithTeam(t)
	early, late := time.UnixMilli(5), time.UnixMilli(5).Add(24*time.Hour)
	owed := func(want map[int]bool, owing bool) {
		t.Helper()
		err := db.View(context.Background(), func(tx *Tx) error {
			for id, want := range want {
				if is, err := tx.Unanswered(messages([]int64{int64(id)})[0]); err != nil || is != want {
					t.Errorf("message %d owed: %t, %v", id, is, err)
				}
			}
			if is, err := tx.HasUnanswered(7); err != nil || is != owing {
				t.Errorf("owing: %t, %v", is, err)
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	update := func(do func(tx *Tx) error) {
		t.Helper()
		if err := db.Update(context.Background(), do); err != nil {
			t.Fatal(err)
		}
	}
	owed(map[int]bool{1: false}, false)
	update(func(tx *Tx) error {
		return errors.Join(tx.MarkUnanswered(7, 1, early), tx.MarkUnanswered(7, 1, late), tx.MarkUnanswered(7, 2, late))
	})
	owed(map[int]bool{1: true, 2: true, 3: false}, true)
	update(func(tx *Tx) error { return tx.ForgetUnanswered(late.Truncate(24 * time.Hour)) })
	owed(map[int]bool{1: false, 2: true}, true)
	update(func(tx *Tx) error { return errors.Join(tx.MarkAnswered(2), tx.MarkAnswered(2)) })
	owed(map[int]bool{2: false}, false)
}

// A post whose time was over was missed, for whoever it was decided for.
func TestMissedPost(t *testing.T) {
	db := openWithTeam(t)
	at := time.UnixMilli(5)
	var post, other int64
	err := db.Update(context.Background(), func(tx *Tx) (err error) {
		if post, err = tx.FormPost(7, []byte("x"), at); err != nil {
			return err
		}
		if other, err = tx.FormPost(7, []byte("y"), at); err != nil {
			return err
		}
		_, first := tx.Decide(7, "nudge", 11, "2026-10-05", "post", at)
		_, second := tx.Decide(7, "nudge", 12, "2026-10-05", "post", at)
		return errors.Join(first, second, tx.PointAt(7, "nudge", 11, "2026-10-05", post), tx.PointAt(7, "nudge", 12, "2026-10-05", other))
	})
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(db.Missed(t.Context(), post, "too late"), db.Dropped(t.Context(), other, "refused")); err != nil {
		t.Fatal(err)
	}
	for id, want := range map[int]string{11: "missed", 12: "post"} {
		got := texts(t, db, "SELECT outcome FROM decision WHERE subject = ?", id)
		if len(got) != 1 || got[0] != want {
			t.Errorf("outcome for %d: %v, want %s", id, got, want)
		}
	}
	if _, _, state, _, err := db.Post(t.Context(), post); err != nil || state != "dropped" {
		t.Errorf("state %s, %v", state, err)
	}
}
