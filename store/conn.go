package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"path/filepath"
	"strings"

	_ "modernc.org/sqlite" // the driver "sqlite"
)

// mode is what a connection may do.
type mode int

const (
	writing mode = iota
	reading
	copying // reads the database and writes a new one elsewhere
	// checking reads, but not as one who may not write: SQLite passes over the
	// constraints of a database that it has opened to read only.
	checking
)

// pragma is a setting of a connection: how it is asked for in the DSN, and
// what must be read back. The driver passes over what it does not know.
type pragma struct {
	name  string
	ask   string // DSN key and value
	want  string // as the database answers
	modes []mode
}

var (
	everyMode = []mode{writing, reading, copying, checking}
	pragmas   = []pragma{
		{"busy_timeout", "_busy_timeout=2000", "2000", everyMode},
		{"foreign_keys", "_foreign_keys=1", "1", everyMode},
		{"journal_mode", "_journal_mode=WAL", "wal", []mode{writing}},
		{"synchronous", "_synchronous=FULL", "2", []mode{writing}},
		{"secure_delete", "_pragma=secure_delete(1)", "1", []mode{writing, copying}},
		{"trusted_schema", "_pragma=trusted_schema(0)", "0", everyMode},
		// A container without /tmp cannot sort or vacuum otherwise.
		{"temp_store", "_pragma=temp_store(MEMORY)", "2", everyMode},
		{"query_only", "_query_only=1", "1", []mode{reading, checking}},
	}
)

func (p pragma) of(m mode) bool {
	for _, one := range p.modes {
		if one == m {
			return true
		}
	}
	return false
}

// dsn names the file and the settings of a connection.
func dsn(path string, m mode) string {
	ask := []string{"mode=ro"}
	switch m {
	case writing:
		ask = []string{"mode=rw", "_txlock=immediate"}
	case checking:
		ask = []string{"mode=rw"}
	}
	for _, p := range pragmas {
		if p.of(m) {
			ask = append(ask, p.ask)
		}
	}
	return fileURI(path, ask...)
}

func fileURI(path string, ask ...string) string {
	return (&url.URL{Scheme: "file", Path: filepath.ToSlash(path), RawQuery: strings.Join(ask, "&")}).String()
}

// conn is one connection with the statements it has prepared. It is opened
// when first needed, and anew after a failure it could not roll back from.
type conn struct {
	path  string
	mode  mode
	sql   *sql.DB
	raw   *sql.Conn // nil while shut
	stmts map[string]*sql.Stmt
}

// open connects, and reads every setting back.
func (c *conn) open(ctx context.Context) error {
	pooled, err := sql.Open("sqlite", dsn(c.path, c.mode))
	if err != nil {
		return err
	}
	pooled.SetMaxOpenConns(1)
	raw, err := pooled.Conn(ctx)
	if err == nil {
		err = readBack(ctx, raw, c.mode)
	}
	if err != nil {
		return errors.Join(err, pooled.Close())
	}
	c.sql, c.raw, c.stmts = pooled, raw, map[string]*sql.Stmt{}
	return nil
}

func readBack(ctx context.Context, raw *sql.Conn, m mode) error {
	for _, p := range pragmas {
		if !p.of(m) {
			continue
		}
		var got string
		if err := raw.QueryRowContext(ctx, "PRAGMA "+p.name).Scan(&got); err != nil {
			return fmt.Errorf("read back %s: %w", p.name, err)
		}
		if got != p.want {
			return fmt.Errorf("the setting %s did not take: it is %q, not %q; put the database on a plain local disk", p.name, got, p.want)
		}
	}
	return nil
}

// stmt returns the statement, prepared once for the life of the connection.
// No verb's statement is cut short: each is brief, and half of a transaction
// is of no use to anybody.
func (c *conn) stmt(query string) (*sql.Stmt, error) {
	if s, ok := c.stmts[query]; ok {
		return s, nil
	}
	s, err := c.raw.PrepareContext(context.Background(), query)
	if err != nil {
		return nil, err
	}
	c.stmts[query] = s
	return s, nil
}

func (c *conn) run(query string) error {
	s, err := c.stmt(query)
	if err != nil {
		return err
	}
	_, err = s.Exec()
	return err
}

// rollBack ends the transaction. Where the database has already done so, or
// cannot, the connection is shut, and opened anew by whoever takes it next.
func (c *conn) rollBack() {
	if c.run("ROLLBACK") != nil {
		_ = c.shut() // its failure adds nothing to the one being handled
	}
}

func (c *conn) shut() error {
	if c.raw == nil {
		return nil
	}
	// A connection that is lent, or has a statement, would stay open for good.
	var err error
	for _, s := range c.stmts {
		err = errors.Join(err, s.Close())
	}
	err = errors.Join(err, c.raw.Close(), c.sql.Close())
	c.raw, c.stmts = nil, nil
	return err
}

// pool lends connections, one borrower each.
type pool struct{ idle chan *conn }

func newPool(path string, m mode, size int) *pool {
	p := &pool{idle: make(chan *conn, size)}
	for range size {
		p.idle <- &conn{path: path, mode: m}
	}
	return p
}

// take waits for a connection until the context ends or the store is closed.
func (p *pool) take(ctx context.Context, closed <-chan struct{}) (*conn, error) {
	select {
	case <-closed:
		return nil, errClosed
	default:
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	select {
	case <-closed:
		return nil, errClosed
	case <-ctx.Done():
		return nil, ctx.Err()
	case c := <-p.idle:
		if c.raw == nil {
			if err := c.open(ctx); err != nil {
				p.give(c)
				return nil, err
			}
		}
		return c, nil
	}
}

func (p *pool) give(c *conn) { p.idle <- c }

func (p *pool) close() error {
	var err error
	for range cap(p.idle) {
		err = errors.Join(err, (<-p.idle).shut())
	}
	return err
}
