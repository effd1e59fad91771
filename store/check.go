package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
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

// fit refuses a database that this program would fail on later, in the midst of
// its work.
func fit(tx *Tx) error {
	lacks, err := tx.lacks()
	if err == nil && len(lacks) > 0 {
		err = fmt.Errorf("%s: restore a backup", lacks[0])
	}
	return err
}

// lacks lists what is gone of the newest schema, and zones that nobody knows. Of
// an older schema it lists nothing.
func (tx *Tx) lacks() ([]string, error) {
	const verb = "check"
	var version int
	if _, err := tx.one(verb, "PRAGMA user_version", nil, &version); err != nil || version != newest() {
		return nil, err
	}
	want, err := wholeSchema()
	if err != nil {
		return nil, err
	}
	have, err := tx.texts(verb, selectSchema)
	if err != nil {
		return nil, err
	}
	var lacks []string
	for _, kind := range []string{"table ", ""} {
		for _, part := range want {
			if strings.HasPrefix(part, kind) && !slices.Contains(have, part) {
				lacks = append(lacks, "its "+part+" is missing")
			}
		}
		if len(lacks) > 0 {
			break // a table takes the others with it
		}
	}
	if len(lacks) > 0 {
		return lacks, nil
	}
	zones, err := tx.texts(verb, "SELECT zone FROM team UNION SELECT zone FROM member")
	if err != nil {
		return nil, err
	}
	for _, zone := range zones {
		if _, err := tx.db.zones.load(zone); err != nil {
			lacks = append(lacks, fmt.Sprintf("it names the time zone %q, which this program does not know "+
				"(if the zone is a new one, a newer Go builds a program that does)", zone))
		}
	}
	return lacks, nil
}

// selectSchema lists the parts of a schema: table log, index log_live, column
// log.day.
const selectSchema = `SELECT type || ' ' || name FROM sqlite_schema WHERE name NOT LIKE 'sqlite_%'
	UNION ALL SELECT 'column ' || s.name || '.' || c.name FROM sqlite_schema s JOIN pragma_table_info(s.name) c WHERE s.type = 'table'`

// wholeSchema lists the parts of the newest schema.
var wholeSchema = sync.OnceValues(func() (parts []string, err error) {
	ctx := context.Background()
	pooled, err := sql.Open("sqlite", ":memory:")
	if err != nil {
		return nil, err
	}
	defer pooled.Close()
	raw, err := pooled.Conn(ctx)
	if err != nil {
		return nil, err
	}
	defer raw.Close()
	if err := migrate(ctx, raw, 0, newest()); err != nil {
		return nil, err
	}
	rows, err := raw.QueryContext(ctx, selectSchema)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var part string
		if err := rows.Scan(&part); err != nil {
			return nil, err
		}
		parts = append(parts, part)
	}
	return parts, rows.Err()
})

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
	lacks, err := tx.lacks()
	if faults = append(faults, lacks...); err != nil || len(lacks) > 0 {
		return faults, err // the rest asks for what is not there
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
