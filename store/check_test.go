package store

import (
	"context"
	"strings"
	"testing"

	"rungbook/training"
)

// TestUnfitIsFoundAtStart: a part of the schema that is gone, or a zone that is
// none, is said by a start and by a check, with what to do.
func TestUnfitIsFoundAtStart(t *testing.T) {
	for name, c := range map[string]struct{ do, want string }{
		"table":  {"DROP TABLE mark", "table mark is missing"},
		"index":  {"DROP INDEX pause_running", "index pause_running is missing"},
		"column": {"ALTER TABLE log DROP COLUMN edited", "column log.edited is missing"},
		"zone":   {"UPDATE team SET zone = 'Europe/Avalon'", `time zone "Europe/Avalon"`},
		"member": {"UPDATE member SET zone = 'Local'", `time zone "Local"`},
	} {
		t.Run(name, func(t *testing.T) {
			db := openWithTeam(t)
			if err := db.Update(t.Context(), func(tx *Tx) error {
				return tx.PutMember(7, training.Member{ID: 11, Name: "Priya", Zone: tx.db.zones.loaded["UTC"]})
			}); err != nil {
				t.Fatal(err)
			}
			onWriter(t, db, c.do)
			faults, err := db.Check(t.Context())
			if err != nil || len(faults) != 1 || !strings.Contains(faults[0], c.want) {
				t.Errorf("check: %q, error %v", faults, err)
			}
			if err := db.Close(); err != nil {
				t.Fatal(err)
			}
			_, err = Open(context.Background(), Options{Path: db.path, Key: testKey})
			if err == nil || !strings.Contains(err.Error(), c.want) || !strings.Contains(err.Error(), "restore a backup") {
				t.Errorf("start: error %v", err)
			}
		})
	}
}
