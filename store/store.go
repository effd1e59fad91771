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
	Key []byte
	// KeyFile is where the key is read from if Key is nil, and made at the first
	// start; "" for none.
	KeyFile string
	// ErasedFile is where the list of the erased is kept, beside the database and to
	// outlive it; "" for none. Whoever stands on it is erased from the database.
	ErasedFile string
	// WithoutKey goes on where the key is lost: what it guards is given up, and a new
	// one is made unless one is at hand.
	WithoutKey bool
	Readers    int  // transactions that may read at the same time; 0 for 3
	ReadOnly   bool // for a second process beside the bot: no lock, no upgrade, Update is refused

	locked     bool                                                       // the caller holds the lock
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
	lock    *flock.Flock // nil when opened to read only, and where the caller holds it
	opening Opening
	newKey  bool    // made just now: no hash is of it yet
	options Options // it was opened with
	// The list of the erased: its file, "" before it is heeded, and what stands in it,
	// nil before it is first written. Only the writer looks at them.
	erasedFile string
	erasedKept []byte
	closed     chan struct{}
	closing    chan struct{} // holds one token, taken by the first Close
}

// Opening is what was found to mend as the database was opened. The zero value is
// nothing.
type Opening struct {
	GaveUpKey bool   // what the lost key guarded was given up
	ListAside string // where the list of the erased lies that the lost key is needed for; "" for none
	Heeded    int    // how many of the list of the erased the database lacked
}

// Opening says what was found to mend as the database was opened.
func (db *DB) Opening() Opening { return db.opening }

// Tx is one transaction, for the goroutine that got it and only until its
// function returns. After a verb has failed nothing of the transaction holds.
// Instants are kept to the millisecond and returned in UTC.
type Tx struct {
	conn *conn // nil once over
	db   *DB
	own  *ownHistory
	err  error // the first failure

	blocksChanged bool   // who is erased and kept out is another than before
	erasedText    []byte // what was therefore written to the list of the erased
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
	if err := tx.keep(); err != nil {
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

// keep commits, and has the list of the erased say the same as the database.
func (tx *Tx) keep() error {
	err := tx.keepErased()
	if err == nil {
		err = tx.commit()
	}
	if err != nil {
		tx.takeErasedBack()
	} else if tx.erasedText != nil {
		tx.db.erasedKept = tx.erasedText
	}
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
		err = errors.Join(err, db.writer.close())
	}
	if db.lock != nil {
		err = errors.Join(err, db.lock.Unlock())
	}
	if err != nil {
		return fmt.Errorf("close the database: %w", err)
	}
	return nil
}
