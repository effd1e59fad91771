package store

import (
	"errors"
	"fmt"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

var (
	// ErrFull says that the disk is full. Nothing was written; the same call
	// works once there is room.
	ErrFull = errors.New("the disk is full: make room for the database")
	// ErrUnsure says that the disk did not confirm a write, so that nobody
	// knows what is on it. End the process; the next start finds out.
	ErrUnsure = errors.New("the disk did not confirm a write: stop, look at the disk, start again")
	// ErrNoPost says that there is no post of the number.
	ErrNoPost = errors.New("no such post")
	// ErrSettled says that the post was already sent or dropped.
	ErrSettled = errors.New("the post is already sent or dropped")
	// ErrNoKey says that the store was opened without a key.
	ErrNoKey = errors.New("the database was opened without its key")
	// ErrKeyLost says that the key is missing, unfinished or another than the one
	// the hashes were made with. Put it back, or give up what it guards: who was
	// erased, which messages have acted, and which answers are due.
	ErrKeyLost = errors.New("its key is lost")
	// ErrNoChecksum says that there is no checksum beside a backup.
	ErrNoChecksum = errors.New("the backup has no checksum")

	errClosed   = errors.New("the database is closed")
	errReadOnly = errors.New("the database is open to read only")
	errNoDay    = errors.New("a day is missing")
	errOver     = errors.New("the transaction is over")
)

// explain adds to the database's failure what it means to the host. Failures
// are told apart by number, never by their words.
func explain(err error) error {
	var failure *sqlite.Error
	if !errors.As(err, &failure) {
		return err
	}
	switch failure.Code() {
	case sqlite3.SQLITE_IOERR_FSYNC, sqlite3.SQLITE_IOERR_DIR_FSYNC:
		return fmt.Errorf("%w: %w", ErrUnsure, err)
	}
	switch failure.Code() & 0xff {
	case sqlite3.SQLITE_FULL:
		return fmt.Errorf("%w: %w", ErrFull, err)
	case sqlite3.SQLITE_READONLY:
		return fmt.Errorf("the database cannot be written: give the bot the right to write the file and its folder: %w", err)
	case sqlite3.SQLITE_CANTOPEN:
		return fmt.Errorf("the database cannot be opened: give the bot the right to read and write the file and its folder: %w", err)
	case sqlite3.SQLITE_NOTADB:
		return fmt.Errorf("the file is not a database: name another file, or restore a backup: %w", err)
	case sqlite3.SQLITE_CORRUPT:
		return fmt.Errorf("the database is damaged: restore a backup: %w", err)
	case sqlite3.SQLITE_BUSY:
		return fmt.Errorf("another program holds the database: end it: %w", err)
	}
	return err
}
