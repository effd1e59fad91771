package store

import (
	"context"
	"errors"
	"fmt"
	"strings"
)

// quickCheck refuses a damaged file.
func quickCheck(tx *Tx) error {
	faults, err := tx.pragmaFaults("PRAGMA quick_check(1)")
	if err != nil {
		return err
	}
	if len(faults) > 0 {
		return fmt.Errorf("it is damaged (%s): restore a backup", faults[0])
	}
	return nil
}

// pragmaFaults lists what a check of the database's own finds.
func (tx *Tx) pragmaFaults(query string) ([]string, error) {
	var faults []string
	err := tx.each("check", query, nil, func(scan func(...any) error) error {
		var fault string
		if err := scan(&fault); err != nil || fault == "ok" {
			return err
		}
		faults = append(faults, strings.Join(strings.Fields(fault), " "))
		return nil
	})
	return faults, err
}

// Check looks through the whole database and returns its faults in plain
// words, none if it is sound. The bot may go on meanwhile.
func (db *DB) Check(ctx context.Context) ([]string, error) { return checkFile(ctx, db.path) }

// checkFile looks through a database on a connection of its own.
func checkFile(ctx context.Context, path string) (faults []string, err error) {
	db := &DB{path: path, zones: &zones{}, readers: newPool(path, checking, 1), closed: make(chan struct{})}
	err = db.View(ctx, func(tx *Tx) error {
		faults, err = check(tx)
		return err
	})
	return faults, errors.Join(err, db.readers.close())
}

// check looks for damage, for rows that point at nothing, and for a schema that
// is not this program's, and returns a line for each fault.
func check(tx *Tx) ([]string, error) {
	var faults []string
	damage, err := tx.pragmaFaults("PRAGMA integrity_check(10)")
	if err != nil {
		return nil, err
	}
	for _, one := range damage {
		faults = append(faults, "the file is damaged: "+one)
	}
	err = tx.each("check", `SELECT "table", count(*), parent FROM pragma_foreign_key_check GROUP BY 1, 3`,
		nil, func(scan func(...any) error) error {
			var table, parent string
			var rows int
			err := scan(&table, &rows, &parent)
			faults = append(faults, fmt.Sprintf("%d rows of %s belong to no %s", rows, table, parent))
			return err
		})
	if err != nil {
		return nil, err
	}
	var id, version int
	_, err = tx.one("check", "SELECT application_id, user_version FROM pragma_application_id, pragma_user_version", nil, &id, &version)
	if err != nil {
		return nil, err
	}
	if id != applicationID {
		faults = append(faults, "it is a database of another program")
	}
	if version != newest() {
		faults = append(faults, fmt.Sprintf("its schema is %d, this program's %d", version, newest()))
	}
	return faults, nil
}
