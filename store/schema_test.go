package store

import (
	"context"
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	_ "time/tzdata" // zones on any machine
)

var testKey = []byte("a key of the tests, of 32 bytes.")

func openTest(t testing.TB, path string) *DB {
	t.Helper()
	db, err := Open(context.Background(), Options{Path: path, Key: testKey})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := db.Close(); err != nil {
			t.Error(err)
		}
	})
	return db
}

// atVersion makes a database of an old schema, with rows in every table that
// it has, each step taken on the rows of the one before.
func atVersion(t *testing.T, version int) (path string) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "bot.db")
	if err := plainFiles.create(path); err != nil {
		t.Fatal(err)
	}
	c := &conn{path: path, mode: writing}
	if err := c.open(context.Background()); err != nil {
		t.Fatal(err)
	}
	for step := range version {
		if err := migrate(context.Background(), c.raw, step, step+1); err != nil {
			t.Fatal(err)
		}
		rows, err := os.ReadFile(fmt.Sprintf("testdata/rows/%04d.sql", step+1))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := c.raw.ExecContext(context.Background(), string(rows)); err != nil {
			t.Fatal(err)
		}
	}
	if err := c.shut(); err != nil {
		t.Fatal(err)
	}
	return path
}

// texts runs a query of one text column.
func texts(t testing.TB, db *DB, query string, args ...any) (all []string) {
	t.Helper()
	err := db.View(context.Background(), func(tx *Tx) (err error) {
		all, err = tx.texts("test", query, args...)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

const schemaQuery = "SELECT type || ' ' || name || ' ' || coalesce(sql, '') FROM sqlite_schema ORDER BY type, name"

func tables(t testing.TB, db *DB) []string {
	t.Helper()
	return texts(t, db, "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name")
}

// TestUpgradedEqualsFresh upgrades from every schema there ever was, with rows
// in its tables: the schema is that of a new database, and no row is lost.
func TestUpgradedEqualsFresh(t *testing.T) {
	fresh := texts(t, openTest(t, filepath.Join(t.TempDir(), "fresh.db")), schemaQuery)
	for version := range newest() + 1 {
		t.Run(fmt.Sprint(version), func(t *testing.T) {
			path := atVersion(t, version)
			before := map[string]string{}
			if version > 0 {
				old := &DB{path: path, zones: &zones{}, readers: newPool(path, reading, 1), closed: make(chan struct{})}
				for _, table := range tables(t, old) {
					before[table] = texts(t, old, "SELECT CAST(count(*) AS TEXT) FROM "+table)[0]
				}
				if err := old.readers.close(); err != nil {
					t.Fatal(err)
				}
			}
			db := openTest(t, path)
			if got := strings.Join(texts(t, db, schemaQuery), "\n"); got != strings.Join(fresh, "\n") {
				t.Errorf("the upgraded schema is\n%s\nthe fresh one\n%s", got, strings.Join(fresh, "\n"))
			}
			for table, rows := range before {
				if rows == "0" && table != "key_check" {
					t.Errorf("no row in %s: this test shows nothing of it", table)
				}
				switch table {
				case "key_check": // opening writes it
					continue
				case "source": // its columns are the log's now
					moved := texts(t, db, "SELECT channel || ' ' || coalesce(edited, 'none') FROM log WHERE id = 101")
					if len(moved) != 1 || moved[0] != "21 1791220000005" {
						t.Errorf("the log's origin: %v", moved)
					}
					continue
				case "take_back": // SQL makes no hash of them
					if version < 14 {
						rows = "0"
					}
				case "owed":
					table = "unanswered"
				case "scrub_due": // opening does what is due
					rows = "0"
				}
				if got := texts(t, db, "SELECT CAST(count(*) AS TEXT) FROM "+table)[0]; got != rows {
					t.Errorf("%s had %s rows, has %s", table, rows, got)
				}
			}
			if faults, err := db.Check(context.Background()); err != nil || len(faults) > 0 {
				t.Errorf("faults %v, error %v", faults, err)
			}
		})
	}
}

// TestMigrationsOnlyAdd holds every step to its text: what a host's database
// has been through cannot be changed afterwards. A new step adds its line.
func TestMigrationsOnlyAdd(t *testing.T) {
	kept, err := os.ReadFile("testdata/migrations.sha256")
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(kept)), "\n")
	if len(lines) != newest() {
		t.Fatalf("%d steps, %d of them in the list", newest(), len(lines))
	}
	for i, line := range lines {
		sum, name, _ := strings.Cut(line, "  ")
		text, err := os.ReadFile(filepath.FromSlash(name))
		if err != nil {
			t.Fatal(err)
		}
		if got := fmt.Sprintf("%x", sha256.Sum256(text)); got != sum || string(text) != migrations[i] {
			t.Errorf("%s was changed: write a new step instead", name)
		}
	}
}

// TestEveryTableIsStrictAndCommented reads the schema as a host would.
func TestEveryTableIsStrictAndCommented(t *testing.T) {
	db := openTest(t, filepath.Join(t.TempDir(), "bot.db"))
	names := tables(t, db)
	if len(names) < 16 {
		t.Fatalf("only %v", names)
	}
	instant := regexp.MustCompile(`^(at|since|formed|claimed|ended|expires|taken|edited)$`)
	for _, table := range names {
		if strict := texts(t, db, "SELECT CAST(strict AS TEXT) FROM pragma_table_list WHERE name = ?", table); strict[0] != "1" {
			t.Errorf("%s is not strict", table)
		}
		schema := texts(t, db, "SELECT sql FROM sqlite_schema WHERE name = ?", table)[0]
		for _, column := range texts(t, db, "SELECT name FROM pragma_table_info(?)", table) {
			// a column added later stands behind a comma
			line := regexp.MustCompile(`(?m)(?:^\s+|, )` + column + `\s+.*$`).FindString(schema)
			comment := strings.Contains(line, "-- ") || strings.Contains(line, "/* ") // no line can end in a column added later
			obvious := strings.Contains(line, "REFERENCES") || strings.Contains(line, "IN (0, 1)") || column == "name" || column == "state"
			if !comment && !obvious {
				t.Errorf("%s.%s says nothing of itself: %q", table, column, line)
			}
			if instant.MatchString(column) && !strings.Contains(line, "ms since 1970 UTC") && !strings.Contains(line, "the platform's number") {
				t.Errorf("%s.%s is an instant without a unit", table, column)
			}
			if (column == "day" || strings.HasSuffix(column, "_day") && column != "digest_day") && !strings.Contains(line, "YYYY-MM-DD") {
				t.Errorf("%s.%s is a day without a form", table, column)
			}
		}
	}
}

// TestPlans holds the reads that grow with a member's history to their
// indexes: the order comes from the index, and nothing is scanned.
func TestPlans(t *testing.T) {
	db := openTest(t, filepath.Join(t.TempDir(), "bot.db"))
	for name, c := range map[string]struct {
		query string
		args  []any
		want  []string
	}{
		"record":          {recordSets, []any{1}, []string{"SEARCH l USING COVERING INDEX log_live (member=?)", "SEARCH b USING PRIMARY KEY (log=? AND day=?)"}},
		"logs of member":  {logsOfMember, []any{1, 1, "a", "b"}, []string{"SEARCH l USING INDEX log_live (member=? AND day>? AND day<?)", "SEARCH b USING PRIMARY KEY (log=? AND day=?)"}},
		"logs of day":     {logsOfDay, []any{1, 1, "a"}, []string{"USING COVERING INDEX log_by_member (member=? AND day=?)"}},
		"logs of channel": {logsOfChannel, []any{21, 1}, []string{"log USING INDEX log_by_channel (channel=? AND id>?)"}},
		"latest log":      {latestLog, []any{1, 1}, []string{"SEARCH o USING INDEX log_by_author (author=?)"}},
		"unsent":          {"SELECT id FROM post WHERE state IN ('formed', 'sending') ORDER BY id", nil, []string{"post_unsent"}},
	} {
		t.Run(name, func(t *testing.T) {
			plan := planOf(t, db, c.query, c.args)
			for _, want := range c.want {
				if !strings.Contains(plan, want) {
					t.Errorf("the plan lacks %q:\n%s", want, plan)
				}
			}
			if strings.Contains(plan, "SCAN l") || strings.Contains(plan, "SCAN b") || strings.Contains(plan, "TEMP B-TREE") {
				t.Errorf("the plan scans or sorts:\n%s", plan)
			}
		})
	}
}

func planOf(t *testing.T, db *DB, query string, args []any) string {
	t.Helper()
	var plan []string
	err := db.View(context.Background(), func(tx *Tx) error {
		return tx.each("explain", "EXPLAIN QUERY PLAN "+query, args, func(scan func(...any) error) error {
			var id, parent, unused int
			var detail string
			err := scan(&id, &parent, &unused, &detail)
			plan = append(plan, detail)
			return err
		})
	})
	if err != nil {
		t.Fatal(err)
	}
	return strings.Join(plan, "\n")
}
