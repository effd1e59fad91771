package store

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/gofrs/flock"
)

const (
	applicationID  = 0x52756e67 // marks the file as ours: "Rung"
	defaultReaders = 3
	shortestKey    = 16 // bytes
)

// Open opens the database, or creates it if there is no file of that name, and
// brings its schema up to date. Only one process may have it open to write;
// the next is refused at once, whatever program it is. Errors tell the host
// what to do.
func Open(ctx context.Context, o Options) (*DB, error) {
	path, err := filepath.Abs(o.Path)
	if err != nil {
		return nil, fmt.Errorf("open database %s: %w", o.Path, err)
	}
	if o.Readers <= 0 {
		o.Readers = defaultReaders
	}
	o.Path = path
	db, err := open(ctx, o)
	if err != nil {
		return nil, fmt.Errorf("open database %s: %w", path, err)
	}
	return db, nil
}

func open(ctx context.Context, o Options) (*DB, error) {
	if len(o.Key) > 0 && len(o.Key) < shortestKey {
		return nil, fmt.Errorf("the key has %d bytes: give at least %d", len(o.Key), shortestKey)
	}
	if err := checkFolder(o); err != nil {
		return nil, err
	}
	db := &DB{path: o.Path, key: o.Key, options: o, zones: &zones{}, closed: make(chan struct{}), closing: make(chan struct{}, 1)}
	db.closing <- struct{}{}
	db.readers = newPool(o.Path, reading, o.Readers)
	prepare := db.prepareToRead
	if !o.ReadOnly {
		if !o.locked {
			lock, err := lockFile(o.Path)
			if err != nil {
				return nil, err
			}
			db.lock = lock
		}
		db.writer, db.history = newPool(o.Path, writing, 1), newHistory()
		prepare = db.prepare
	}
	if err := prepare(ctx); err != nil {
		return nil, errors.Join(err, db.Close())
	}
	return db, nil
}

// prepare looks at the file before any setting could change it, then gives it its
// key, upgrades it, checks it, makes sure that the key is the right one, and
// finishes what an earlier process did not.
func (db *DB) prepare(ctx context.Context) error {
	dropParts(filepath.Dir(db.path))
	// SQLite gives the files beside it the same rights.
	if err := plainFiles.create(db.path); err != nil && !errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("create the file, which the bot must be allowed to: %w", err)
	}
	// The name comes before the key: with a key and no name the database is lost.
	if err := plainFiles.flush(filepath.Dir(db.path)); err != nil {
		return err
	}
	version, err := identify(ctx, db.path)
	if err != nil {
		return err
	}
	if version == 0 {
		if err := db.findKey(ctx, true); err != nil {
			return err
		}
	}
	if err := db.upgrade(ctx, version); err != nil {
		return err
	}
	// On the writer, which opens its log by this, and so removes it when it closes.
	if err := db.transact(ctx, db.writer, "BEGIN", quickCheck); err != nil {
		return err
	}
	if err := db.View(ctx, fit); err != nil {
		return err
	}
	if err := db.findKey(ctx, false); err != nil {
		return err
	}
	if err := db.checkKey(ctx); err != nil {
		return err
	}
	if err := db.heed(ctx); err != nil {
		return err
	}
	return db.scrubIfDue(ctx)
}

// prepareToRead looks whether the file can be read as it stands. What only an
// erasure needs the key for is read without one.
func (db *DB) prepareToRead(ctx context.Context) error {
	version, err := identify(ctx, db.path)
	if err != nil {
		return err
	}
	if version < newest() {
		return fmt.Errorf("its schema is %d, this program's %d: start the bot once, which upgrades it", version, newest())
	}
	if err := db.transact(ctx, db.readers, "BEGIN", quickCheck); err != nil {
		return err
	}
	if file := db.options.KeyFile; db.key == nil && file != "" {
		key, err := readKey(file)
		if err != nil && !errors.Is(err, ErrKeyLost) {
			return err
		}
		db.key = key
	}
	return db.checkKey(ctx)
}

// checkFolder refuses a folder that is missing, and one on a network file
// system: there the locks that SQLite builds on do not hold.
func checkFolder(o Options) error {
	folder := filepath.Dir(o.Path)
	info, err := os.Stat(folder)
	if errors.Is(err, fs.ErrNotExist) || err == nil && !info.IsDir() {
		return fmt.Errorf("there is no folder %s: make it, or name another file", folder)
	}
	if err != nil {
		return fmt.Errorf("look at its folder: %w", err)
	}
	info, err = os.Stat(o.Path)
	if lost := lostDatabase(o, info, err); lost != nil {
		return lost
	}
	switch {
	case errors.Is(err, fs.ErrNotExist) && o.ReadOnly:
		return errors.New("there is no such file: name another, or start the bot once")
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return fmt.Errorf("look at the file: %w", err)
	case !info.Mode().IsRegular():
		return errors.New("it is not a plain file: name another")
	}
	look := o.fileSystem
	if look == nil {
		look = fileSystem
	}
	name, network, err := look(folder)
	if err != nil {
		return fmt.Errorf("look at the file system: %w", err)
	}
	if network {
		return fmt.Errorf("it is on a network file system (%s), which loses writes: keep it on a local disk", name)
	}
	return nil
}

// lostDatabase refuses a database that is not there, or is empty, although it was:
// its key is, and a new one made in silence would hide the loss. A first start
// that was cut short leaves an empty file with a key and without a list of the
// erased.
func lostDatabase(o Options, info fs.FileInfo, missing error) error {
	if o.KeyFile == "" {
		return nil
	}
	_, noKey := readKey(o.KeyFile)
	_, noList := os.Stat(o.ErasedFile)
	switch {
	case noKey != nil || missing == nil && (info.Size() > 0 || noList != nil):
		return nil
	case missing != nil && !errors.Is(missing, fs.ErrNotExist):
		return nil
	}
	return fmt.Errorf("there is its key %s but no database: put the database back, or restore a backup; "+
		"to begin anew, move aside what is left of it, as the key", o.KeyFile)
}

// lockFile takes the lock that says who writes. It is a file of its own:
// SQLite's own locks on the database must not be touched.
func lockFile(path string) (*flock.Flock, error) {
	lock := flock.New(path+".lock", flock.SetPermissions(0o600))
	held, err := lock.TryLock()
	if err != nil {
		return nil, fmt.Errorf("take the lock, for which the bot must be allowed to write in the folder: %w", err)
	}
	if !held {
		return nil, errors.New("another process has it open: stop that one first, only one bot may write")
	}
	return lock, nil
}
