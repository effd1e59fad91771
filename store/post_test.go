package store_test

import (
	"context"
	"errors"
	"slices"
	"testing"
	"time"

	"rungbook/store"
)

func at(second int) time.Time { return time.Unix(1791220000+int64(second), 0).UTC() }

func form(t testing.TB, db *store.DB, payload string) (id int64) {
	t.Helper()
	update(t, db, func(tx *store.Tx) (err error) {
		id, err = tx.FormPost(7, []byte(payload), at(0))
		return err
	})
	return id
}

// postIs holds what Post answers against what is wanted.
func postIs(t *testing.T, db *store.DB, id int64, payload, state string, claimed time.Time) {
	t.Helper()
	team, gotPayload, gotState, gotClaimed, err := db.Post(context.Background(), id)
	if err != nil {
		t.Fatal(err)
	}
	if team != 7 || string(gotPayload) != payload || gotState != state || !gotClaimed.Equal(claimed) {
		t.Errorf("post %d of team %d: %q %s claimed %s, want %q %s %s", id, team, gotPayload, gotState, gotClaimed, payload, state, claimed)
	}
}

func unsentAre(t *testing.T, db *store.DB, want ...int64) {
	t.Helper()
	got, err := db.Unsent(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(got, want) {
		t.Errorf("unsent %v, want %v", got, want)
	}
}

func TestLifeOfAPost(t *testing.T) {
	db, ctx := withTeam(t), context.Background()
	first, second, third := form(t, db, "one"), form(t, db, "two"), form(t, db, "three")
	postIs(t, db, first, "one", "formed", time.Time{})
	unsentAre(t, db, first, second, third)

	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	must(db.Claim(ctx, first, at(1)))
	postIs(t, db, first, "one", "sending", at(1))
	must(db.Claim(ctx, first, at(2)))
	postIs(t, db, first, "one", "sending", at(2))
	unsentAre(t, db, first, second, third)

	must(db.Sent(ctx, first))
	postIs(t, db, first, "", "sent", time.Time{})
	must(db.Sent(ctx, first)) // told twice
	must(db.Dropped(ctx, second, "closed"))
	must(db.Dropped(ctx, second, "refused")) // told twice
	postIs(t, db, second, "", "dropped", time.Time{})
	unsentAre(t, db, third)

	for name, err := range map[string]error{
		"claim what is sent":    db.Claim(ctx, first, at(5)),
		"claim what is dropped": db.Claim(ctx, second, at(5)),
		"drop what is sent":     db.Dropped(ctx, first, "closed"),
	} {
		if !errors.Is(err, store.ErrSettled) {
			t.Errorf("%s: error %v", name, err)
		}
	}
	_, _, _, _, missing := db.Post(ctx, 99)
	for name, err := range map[string]error{
		"read": missing, "claim": db.Claim(ctx, 99, at(5)), "sent": db.Sent(ctx, 99), "dropped": db.Dropped(ctx, 99, "closed"),
	} {
		if !errors.Is(err, store.ErrNoPost) {
			t.Errorf("%s a post that is not there: error %v", name, err)
		}
	}
	must(db.Sent(ctx, second)) // it was out before it was dropped
	postIs(t, db, second, "", "sent", time.Time{})
}

// TestForgetting drops old decisions with the posts that are done with, and
// gives no post's number twice.
func TestForgetting(t *testing.T) {
	db, ctx := withTeam(t), context.Background()
	old, waiting := form(t, db, "old"), form(t, db, "waiting")
	decide := func(cause string, post int64, day int) {
		update(t, db, func(tx *store.Tx) error {
			_, err := tx.Decide(7, "nudge", 11, cause, "post", at(day*86400))
			return errors.Join(err, tx.PointAt(7, "nudge", 11, cause, post))
		})
	}
	decide("2026-10-05", old, 0)
	decide("2026-10-06", waiting, 1)
	kept := form(t, db, "kept")
	decide("2026-10-07", kept, 9)
	for _, id := range []int64{old, kept} {
		if err := db.Sent(ctx, id); err != nil {
			t.Fatal(err)
		}
	}
	update(t, db, func(tx *store.Tx) error { return tx.ForgetDecisions(at(5 * 86400)) })
	view(t, db, func(tx *store.Tx) error {
		left, err := tx.Decided(7, "nudge", 11, "")
		if len(left) != 1 || left["2026-10-07"] != "post" {
			t.Errorf("decisions left: %v", left)
		}
		return err
	})
	if _, _, _, _, err := db.Post(ctx, old); !errors.Is(err, store.ErrNoPost) {
		t.Errorf("a sent post without a decision is still there: error %v", err)
	}
	postIs(t, db, waiting, "waiting", "formed", time.Time{})
	postIs(t, db, kept, "", "sent", time.Time{})

	update(t, db, func(tx *store.Tx) error { return tx.ForgetDecisions(at(10 * 86400)) })
	if next := form(t, db, "next"); next != kept+1 {
		t.Errorf("number %d given after %d", next, kept)
	}
}

// TestPointsInItsTeamOnly ties no decision to another team's post.
func TestPointsInItsTeamOnly(t *testing.T) {
	db := withTeam(t)
	other := tidewater(t)
	other.ID = 8
	theirs := form(t, db, "theirs")
	err := db.Update(context.Background(), func(tx *store.Tx) error {
		_, err := tx.Decide(8, "digest", 11, "2026-10-04", "post", at(0))
		return errors.Join(tx.PutTeam(other), err, tx.PointAt(8, "digest", 11, "2026-10-04", theirs))
	})
	if err == nil {
		t.Error("a decision of one team points at a post of another")
	}
}
