package store

import (
	"slices"
	"strings"

	"rungbook/training"
)

// internal are the columns that no export holds though they stand in rows about
// somebody: numbers of the database's own, and a hash that nobody can read. PRIVACY.md
// names them.
var internal = []string{"person.key", "member.place", "pause.id", "audit.id", "take_back.id", "take_back.cause"}

// Kept gives every row about the person in the team, by table, each as what stands in
// its columns. Where a row points at a person it says you, or another.
func (tx *Tx) Kept(team training.TeamID, id training.PersonID) (map[string][]map[string]any, error) {
	const verb = "read what is kept"
	kept := map[string][]map[string]any{}
	var key int64
	known, err := tx.one(verb, "SELECT key FROM person WHERE team = ? AND id = ?", []any{int64(team), int64(id)}, &key)
	if err != nil {
		return nil, err
	}
	tables, err := tx.texts(verb, "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name")
	if err != nil {
		return nil, err
	}
	for _, table := range tables {
		pointing, err := tx.texts(verb, `SELECT "from" FROM pragma_foreign_key_list(?) WHERE "table" = 'person'`, table)
		if err != nil {
			return nil, err
		}
		if where := keptWhere(table, pointing); known && where != "" {
			if err := tx.keptOf(verb, kept, table, pointing, where, key); err != nil {
				return nil, err
			}
		}
	}
	since, ok, err := tx.Rejoined(id)
	if ok {
		kept["rejoined"] = []map[string]any{{"since": since.UnixMilli()}}
	}
	return kept, err
}

// keptWhere finds the rows about the person of the key ?1; empty for a table that has
// none.
func keptWhere(table string, pointing []string) string {
	switch table {
	case "person":
		return "key = ?1"
	case "decision":
		return "(team, subject) = (SELECT team, id FROM person WHERE key = ?1)"
	case "bout":
		return "log IN (SELECT id FROM log WHERE member = ?1)"
	}
	var any []string
	for _, column := range pointing {
		any = append(any, column+" = ?1")
	}
	return strings.Join(any, " OR ")
}

// keptOf adds the rows of one table.
func (tx *Tx) keptOf(verb string, kept map[string][]map[string]any, table string, pointing []string, where string, key int64) error {
	columns, err := tx.texts(verb, "SELECT name FROM pragma_table_info(?)", table)
	if err != nil {
		return err
	}
	columns = slices.DeleteFunc(columns, func(column string) bool { return slices.Contains(internal, table+"."+column) })
	asked := slices.Clone(columns)
	for i, column := range columns {
		if slices.Contains(pointing, column) {
			asked[i] = "CASE " + column + " WHEN ?1 THEN 'you' ELSE iif(" + column + " IS NULL, NULL, 'another') END"
		}
	}
	query := "SELECT " + strings.Join(asked, ", ") + " FROM " + table + " WHERE " + where
	return tx.each(verb, query, []any{key}, func(scan func(...any) error) error {
		values, row := make([]any, len(columns)), map[string]any{}
		into := make([]any, len(columns))
		for i := range values {
			into[i] = &values[i]
		}
		err := scan(into...)
		for i, column := range columns {
			row[column] = values[i]
		}
		kept[table] = append(kept[table], row)
		return err
	})
}
