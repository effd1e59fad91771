package store

import (
	"database/sql"
	"errors"
	"fmt"
)

// fail remembers the first failure of the transaction, which undoes it, and
// names the verb.
func (tx *Tx) fail(verb string, err error) error {
	err = fmt.Errorf("%s: %w", verb, explain(err))
	if tx.err == nil {
		tx.err = err
	}
	return err
}

func (tx *Tx) prepared(query string) (*sql.Stmt, error) {
	if tx.conn == nil {
		return nil, errOver
	}
	if tx.err != nil {
		return nil, tx.err
	}
	return tx.conn.stmt(query)
}

// exec runs a statement and returns how many rows it changed.
func (tx *Tx) exec(verb, query string, args ...any) (int, error) {
	s, err := tx.prepared(query)
	if err != nil {
		return 0, tx.fail(verb, err)
	}
	result, err := s.Exec(args...)
	if err != nil {
		return 0, tx.fail(verb, err)
	}
	changed, err := result.RowsAffected()
	if err != nil {
		return 0, tx.fail(verb, err)
	}
	return int(changed), nil
}

// one reads the only row of a query into dest; ok is false if there is none.
func (tx *Tx) one(verb, query string, args []any, dest ...any) (ok bool, err error) {
	s, err := tx.prepared(query)
	if err != nil {
		return false, tx.fail(verb, err)
	}
	err = s.QueryRow(args...).Scan(dest...)
	if errors.Is(err, sql.ErrNoRows) {
		return false, nil
	}
	if err != nil {
		return false, tx.fail(verb, err)
	}
	return true, nil
}

// each calls row for every row of a query; row must not query in turn.
func (tx *Tx) each(verb, query string, args []any, row func(scan func(...any) error) error) error {
	s, err := tx.prepared(query)
	if err != nil {
		return tx.fail(verb, err)
	}
	rows, err := s.Query(args...)
	if err != nil {
		return tx.fail(verb, err)
	}
	defer rows.Close()
	for rows.Next() {
		if err := row(rows.Scan); err != nil {
			return tx.fail(verb, err)
		}
	}
	if err := rows.Err(); err != nil {
		return tx.fail(verb, err)
	}
	return nil
}
