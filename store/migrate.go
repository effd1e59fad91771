package store

import (
	"context"
	"database/sql"
	"embed"
	"fmt"
	"io/fs"
	"path"
	"slices"
)

// The schema as a list of steps, one file each, that is only ever added to:
// the number of steps taken is the database's user_version.
//
//go:embed migrations/*.sql
var migrationFiles embed.FS

var migrations = readMigrations()

func readMigrations() []string {
	names, err := fs.Glob(migrationFiles, "migrations/*.sql")
	if err != nil {
		panic(err) // the pattern is a constant
	}
	slices.Sort(names)
	var steps []string
	for i, name := range names {
		text, err := migrationFiles.ReadFile(name)
		if err != nil {
			panic(err) // the file is embedded
		}
		if want := fmt.Sprintf("%04d-", i+1); path.Base(name)[:len(want)] != want {
			panic(fmt.Sprintf("migration %s: want %s next", name, want))
		}
		steps = append(steps, string(text))
	}
	return steps
}

// newest is the schema this program knows.
func newest() int { return len(migrations) }

// identify tells whose database the file is and of which schema, 0 for an
// empty file. It changes nothing in somebody else's.
func identify(ctx context.Context, file string) (version int, err error) {
	raw, err := sql.Open("sqlite", fileURI(file, "mode=rw", "_busy_timeout=2000"))
	if err != nil {
		return 0, err
	}
	defer raw.Close()
	var id, tables int
	err = raw.QueryRowContext(ctx, `SELECT application_id, user_version, (SELECT count(*) FROM sqlite_schema)
		FROM pragma_application_id, pragma_user_version`).Scan(&id, &version, &tables)
	switch {
	case err != nil:
		return 0, explain(err)
	case id == 0 && version == 0 && tables == 0:
		return 0, nil
	case id != applicationID:
		return 0, fmt.Errorf("it is a database of another program: name another file")
	case version > newest():
		return 0, fmt.Errorf("it was written by a newer version of this program (schema %d, this one knows %d): "+
			"install the newer one, or restore a backup from before", version, newest())
	}
	return version, nil
}

// upgrade takes the steps from version on, each in a transaction of its own.
func (db *DB) upgrade(ctx context.Context, version int) error {
	c, err := db.writer.take(ctx, db.closed)
	if err != nil {
		return explain(err)
	}
	defer db.writer.give(c)
	return migrate(ctx, c.raw, version, newest())
}

func migrate(ctx context.Context, raw *sql.Conn, version, until int) error {
	for ; version < until; version++ {
		step := fmt.Sprintf("PRAGMA application_id = %d; PRAGMA user_version = %d;", applicationID, version+1)
		if err := inTransaction(ctx, raw, migrations[version]+step); err != nil {
			return fmt.Errorf("upgrade to schema %d: %w", version+1, explain(err))
		}
	}
	return nil
}

func inTransaction(ctx context.Context, raw *sql.Conn, script string) error {
	tx, err := raw.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback() // after a commit it does nothing
	if _, err := tx.ExecContext(ctx, script); err != nil {
		return err
	}
	return tx.Commit()
}
