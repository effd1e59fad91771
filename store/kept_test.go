package store

import (
	"context"
	"os"
	"path/filepath"
	"regexp"
	"testing"
	"time"

	"rungbook/training"
)

// TestEveryColumnIsExportedOrAccountedFor holds PRIVACY.md to the schema: each column
// is in an export of somebody about whom there are rows, or is named there as one that
// is not, with the reason; never both.
func TestEveryColumnIsExportedOrAccountedFor(t *testing.T) {
	privacy, err := os.ReadFile(filepath.FromSlash("../PRIVACY.md"))
	if err != nil {
		t.Fatal(err)
	}
	left := map[string]bool{}
	for _, row := range regexp.MustCompile(`(?m)^\| .* \| .+ \|$`).FindAllString(string(privacy), -1) {
		for _, name := range regexp.MustCompile("`([a-z_]+(?:\\.[a-z_]+)?)`").FindAllStringSubmatch(row, -1) {
			left[name[1]] = true
		}
	}
	db := openTest(t, atVersion(t, newest()))
	exported := map[string]bool{}
	err = db.Update(context.Background(), func(tx *Tx) error {
		if err := tx.Erase(13); err != nil {
			return err
		}
		if err := tx.Unblock(13, time.UnixMilli(5)); err != nil {
			return err
		}
		for _, id := range []training.PersonID{11, 12, 13} {
			kept, err := tx.Kept(7, id)
			if err != nil {
				return err
			}
			for table, rows := range kept {
				for column := range rows[0] {
					exported[table+"."+column] = true
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	known := map[string]bool{}
	for _, table := range tables(t, db) {
		known[table] = true
		for _, column := range texts(t, db, "SELECT name FROM pragma_table_info(?)", table) {
			name := table + "." + column
			known[name] = true
			switch named := left[name] || left[table]; {
			case exported[name] && named:
				t.Errorf("%s is in the export, and PRIVACY.md says it is not", name)
			case !exported[name] && !named:
				t.Errorf("%s is neither in the export nor named in PRIVACY.md", name)
			}
		}
	}
	for name := range left {
		if !known[name] {
			t.Errorf("PRIVACY.md names %s, which is no table or column", name)
		}
	}
}
