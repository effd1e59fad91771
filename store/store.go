// Package store keeps teams, members, logs, pauses, decisions and posts in one
// SQLite file. It holds the only SQL of the program and returns training
// values, never rows.
//
// It must not know a chat, read a clock or derive anything: instants come with
// the call, and what follows from a log is training's to say. No text of a
// message is ever stored.
package store

import (
	"context"
	"errors"
	"fmt"

	"github.com/gofrs/flock"
)

// Options says which database to open and how.
type Options struct {
	Path string // of the database file; its folder must exist and be on a local disk
	// Key is for keyed hashes: at least 16 bytes, kept outside the database and its
	// backups. Without one, Blocked, Erase, Unblock, ActOnce and decisions caused by
	// a message are refused.
	Key      []byte
	Readers  int  // transactions that may read at the same time; 0 for 3
	ReadOnly bool // for a second process beside the bot: no lock, no upgrade, Update is refused

	fileSystem func(folder string) (name string, network bool, err error) // nil for the real one
}

// DB is an open database. Its methods may be called from any goroutine.
type DB struct {
	path    string
	key     []byte
	zones   *zones
	history *history // nil when opened to read only: another process writes
	writer  *pool    // of one; nil when opened to read only
	readers *pool
	lock    *flock.Flock // nil when opened to read only
	closed  chan struct{}
	closing chan struct{} // holds one token, taken by the first Close
}

// Tx is one transaction, for the goroutine that got it and only until its
// function returns. After a verb has failed nothing of the transaction holds.
// Instants are kept to the millisecond and returned in UTC.
type Tx struct {
	conn *conn // nil once over
	db   *DB
	own  *ownHistory
	err  error // the first failure
}

// Update runs do in a transaction of its own on the one writing connection:
// all of its writes hold or none, none if it returns an error, panics, has a
// failed verb, or the context ends first. When Update has returned nil the
// writes are on the disk; one without any writes leaves the disk alone. do must
// not call Update, which would wait for itself.
func (db *DB) Update(ctx context.Context, do func(*Tx) error) error {
	if db.writer == nil {
		return fmt.Errorf("update: %w", errReadOnly)
	}
	return db.transact(ctx, db.writer, "BEGIN IMMEDIATE", do)
}

// View runs do on a reading connection. All it reads is of one moment, that of
// its first read; a write through it is an error.
func (db *DB) View(ctx context.Context, do func(*Tx) error) error {
	return db.transact(ctx, db.readers, "BEGIN", do)
}

// transact runs do between BEGIN and COMMIT on a connection of the pool, and
// rolls back whatever ends it otherwise, a panic included.
func (db *DB) transact(ctx context.Context, from *pool, begin string, do func(*Tx) error) (err error) {
	c, err := from.take(ctx, db.closed)
	if err != nil {
		return fmt.Errorf("begin: %w", explain(err))
	}
	defer from.give(c)
	tx := &Tx{conn: c, db: db}
	if err := tx.begin(begin); err != nil {
		c.rollBack() // it may have begun all the same
		return fmt.Errorf("begin: %w", explain(err))
	}
	ended := false
	defer func() {
		tx.conn = nil
		if !ended {
			c.rollBack()
		}
	}()
	if err := do(tx); err != nil {
		return err
	}
	if tx.err != nil {
		return tx.err
	}
	if err := ctx.Err(); err != nil {
		return fmt.Errorf("commit: %w", err)
	}
	if err := tx.commit(); err != nil {
		return fmt.Errorf("commit: %w", explain(err))
	}
	ended = true
	return nil
}

// begin starts the transaction and, by a first read, its snapshot.
func (tx *Tx) begin(how string) (err error) {
	start := func() error { return errors.Join(tx.conn.run(how), tx.conn.run("PRAGMA user_version")) }
	if tx.db.history == nil {
		return start()
	}
	seen, err := tx.db.history.begin(start)
	tx.own = newOwnHistory(seen)
	return err
}

func (tx *Tx) commit() error {
	commit := func() error { return tx.conn.run("COMMIT") }
	if tx.db.history == nil {
		return commit()
	}
	return tx.db.history.commit(commit, tx.own)
}

// Close waits for the transactions that run, refuses new ones, and lets go of
// the file. Closing twice is allowed.
func (db *DB) Close() error {
	if _, first := <-db.closing; !first {
		return nil
	}
	close(db.closing)
	close(db.closed)
	err := db.readers.close()
	if db.writer != nil {
		err = errors.Join(err, db.writer.close(), db.lock.Unlock())
	}
	if err != nil {
		return fmt.Errorf("close the database: %w", err)
	}
	return nil
}
