// Package storetest looks at a database past the store, for the tests of other
// packages: what stands in it, and what a bare insert takes. It must not be imported
// by anything but tests.
package storetest

import (
	"crypto/sha256"
	"database/sql"
	"fmt"
	"slices"
	"strconv"

	_ "modernc.org/sqlite" // the driver "sqlite"
)

// Rows returns every row of every table, a line each, sorted: the table, then each
// column with what show makes of its value.
func Rows(path string, show func(any) string) (rows []string, err error) {
	raw, err := sql.Open("sqlite", "file:"+path+"?mode=ro")
	if err != nil {
		return nil, err
	}
	defer raw.Close()
	tables, err := values(raw, "SELECT name FROM sqlite_schema WHERE type = 'table'")
	if err != nil {
		return nil, err
	}
	for _, table := range tables {
		name := fmt.Sprint(table["name"])
		all, err := values(raw, "SELECT * FROM "+name)
		if err != nil {
			return nil, err
		}
		for _, row := range all {
			line := name
			for _, column := range row.columns() {
				line += " " + column + "=" + show(row[column])
			}
			rows = append(rows, line)
		}
	}
	slices.Sort(rows)
	return rows, nil
}

// row is one of a query, by column.
type row map[string]any

// columns are its names in alphabetical order.
func (r row) columns() (names []string) {
	for name := range r {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// values runs a query.
func values(raw *sql.DB, query string) (all []row, err error) {
	found, err := raw.Query(query)
	if err != nil {
		return nil, err
	}
	defer found.Close()
	columns, err := found.Columns()
	if err != nil {
		return nil, err
	}
	for found.Next() {
		one, into := make([]any, len(columns)), make([]any, len(columns))
		for i := range one {
			into[i] = &one[i]
		}
		if err := found.Scan(into...); err != nil {
			return nil, err
		}
		of := row{}
		for i, column := range columns {
			of[column] = one[i]
		}
		all = append(all, of)
	}
	return all, found.Err()
}

// OpenBare opens a database to write, with the durability of the store's own.
func OpenBare(path string) (*sql.DB, error) {
	const settings = "?_txlock=immediate&_pragma=journal_mode(WAL)&_pragma=synchronous(FULL)&_pragma=secure_delete(1)"
	raw, err := sql.Open("sqlite", "file:"+path+settings)
	if err != nil {
		return nil, err
	}
	raw.SetMaxOpenConns(1)
	return raw, nil
}

// InsertLog writes what a logged message of the person of the key 3 writes, and
// nothing else: the log, its two bouts, and that its answer is not out.
func InsertLog(raw *sql.DB, id int) error {
	tx, err := raw.Begin()
	if err != nil {
		return err
	}
	defer tx.Rollback() // after a commit it does nothing
	_, err = tx.Exec(`INSERT INTO log (id, member, author, at, day, state, alone, silent)
		VALUES (?, 3, 3, ?, '2026-10-05', 'live', 0, 0)`, id, id)
	if err != nil {
		return err
	}
	for position := range 2 {
		_, err := tx.Exec(`INSERT INTO bout (log, day, position, times, rung, work_s, reps, load_hg, help, side, failed, tries)
			VALUES (?, '2026-10-05', ?, 3, 'deep hang', 30, 0, 0, '', '', 0, 0)`, id, position)
		if err != nil {
			return err
		}
	}
	hash := sha256.Sum256([]byte(strconv.Itoa(id)))
	if _, err := tx.Exec(`INSERT INTO unanswered (hash, team, at) VALUES (?, 1, ?)`, hash[:16], id); err != nil {
		return err
	}
	return tx.Commit()
}
