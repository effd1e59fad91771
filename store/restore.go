package store

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"rungbook/training"
)

// Restoration says what is restored, and by what beside the list of the erased.
type Restoration struct {
	From            string   // the backup
	Heed            []string // further databases that name the erased, written with the same key
	WithoutChecksum bool     // takes a backup that has none
}

// Restored says what a restore went by.
type Restored struct {
	Opening
	List bool // there was a list of the erased
}

// Restore makes a new database from a backup and never overwrites one. The copy
// is brought up to date and checked. Whoever was erased is erased from it: the
// backup names those erased before it was made, the list of the erased of the
// options those erased later, and so do databases to heed. All must have been
// written with the same key; a key that is lost is ErrKeyLost, unless the options
// give up what it guards.
//
// Posts that the backup holds unsent may have gone out since: they are marked
// as being sent long ago, which makes the sender look for them first.
func Restore(ctx context.Context, o Options, r Restoration) (done Restored, err error) {
	from, to := r.From, o.Path
	if r.From, err = filepath.Abs(from); err == nil {
		o.Path, err = filepath.Abs(to)
	}
	if err == nil {
		done, err = restore(ctx, o, r)
	}
	if err != nil {
		return done, fmt.Errorf("restore %s to %s: %w", from, to, explain(err))
	}
	return done, nil
}

// restore makes the copy under a name of its own beside the database it will be,
// and gives it its name once it is whole. Whatever fails before that leaves no
// database behind.
func restore(ctx context.Context, o Options, r Restoration) (done Restored, err error) {
	if err := checkFolder(Options{Path: o.Path, fileSystem: o.fileSystem}); err != nil {
		return done, err
	}
	lock, err := lockFile(o.Path)
	if err != nil {
		return done, err
	}
	defer lock.Unlock()
	dropParts(filepath.Dir(o.Path))
	if err := vacant(o.Path); err != nil {
		return done, err
	}
	if err := restorable(ctx, r); err != nil {
		return done, err
	}
	if o.Key, err = restoreKey(o); err != nil {
		return done, err
	}
	lists, err := erasedLists(ctx, o.Key, r.Heed)
	if err != nil {
		return done, err
	}
	copied, err := copyOut(ctx, r.From, o.Path)
	if err != nil {
		return done, err
	}
	defer copied.drop()
	if done, err = settleIn(ctx, copied.path, o, lists); err != nil {
		return done, err
	}
	return done, copied.publish(o.Path)
}

// vacant refuses a place that is taken, if only by the log of a database that
// was moved away without it: the log holds the last of what was written.
func vacant(to string) error {
	for _, path := range []string{to, to + "-wal"} {
		_, err := os.Lstat(path)
		if err == nil {
			return fmt.Errorf("%s is there: move it aside first, a database always together with its -wal file", path)
		}
		if !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	return nil
}

// restoreKey returns the key, read from its file where that is named. A lost one is
// replaced only where what it guards is given up: the list of the erased cannot be
// heeded with another.
func restoreKey(o Options) ([]byte, error) {
	switch {
	case o.Key != nil:
		return o.Key, nil
	case o.KeyFile == "":
		return nil, ErrNoKey
	}
	key, err := readKey(o.KeyFile)
	if errors.Is(err, ErrKeyLost) && o.WithoutKey {
		return makeKey(o.KeyFile)
	}
	return key, err
}

func restorable(ctx context.Context, r Restoration) error {
	if _, err := os.Stat(r.From); err != nil {
		return fmt.Errorf("look at the backup: %w: name one that is there", err)
	}
	if err := checkChecksum(r.From); err != nil && !(r.WithoutChecksum && errors.Is(err, ErrNoChecksum)) {
		return err
	}
	version, err := identify(ctx, r.From)
	if err != nil { // not wrapped: what is said of the database itself is no help here
		return fmt.Errorf("look at the backup: it is damaged or no database, name another (%v)", rootOf(err))
	}
	if version == 0 {
		return errors.New("the backup is empty: name another")
	}
	return nil
}

// rootOf is the first cause of an error.
func rootOf(err error) error {
	for errors.Unwrap(err) != nil {
		err = errors.Unwrap(err)
	}
	return err
}

// erasedLists reads who was erased from each of the databases.
func erasedLists(ctx context.Context, key []byte, paths []string) (lists [][]string, err error) {
	for _, path := range paths {
		db, err := Open(ctx, Options{Path: path, Key: key, Readers: 1, ReadOnly: true})
		if err != nil {
			return nil, fmt.Errorf("read who was erased: %w", err)
		}
		err = db.View(ctx, func(tx *Tx) error {
			entries, err := tx.erasedEntries()
			lists = append(lists, entries)
			return err
		})
		if err := errors.Join(err, db.Close()); err != nil {
			return nil, fmt.Errorf("read who was erased: %w", err)
		}
	}
	return lists, nil
}

// settleIn makes a copy fit to be used: its schema up to date, the list of the
// erased and further lists obeyed, its own last, no post that would go out twice, and sound.
func settleIn(ctx context.Context, path string, o Options, lists [][]string) (done Restored, err error) {
	db, err := Open(ctx, Options{Path: path, Key: o.Key, WithoutKey: o.WithoutKey, Readers: 1, locked: true})
	if err != nil {
		return done, err
	}
	list, err := db.ownErased(o)
	if err == nil {
		done = Restored{Opening: db.opening, List: list.check != ""}
		err = db.Update(ctx, func(tx *Tx) error {
			const verb = "restore"
			if _, err := tx.exec(verb, "UPDATE post SET state = 'sending', claimed = formed WHERE state = 'formed'"); err != nil {
				return err
			}
			for _, entries := range append(lists, list.entries) {
				if err := tx.heed(verb, entries); err != nil {
					return err
				}
			}
			return nil
		})
	}
	if err == nil {
		err = db.Scrub(ctx)
	}
	if err == nil {
		err = sound(db.Check(ctx))
	}
	return done, errors.Join(err, db.Close())
}

func sound(faults []string, err error) error {
	if err == nil && len(faults) > 0 {
		err = fmt.Errorf("the backup is not sound: %s", faults[0])
	}
	return err
}

// eraseBlocked erases everybody who is blocked and yet there.
func (tx *Tx) eraseBlocked(verb string) error {
	var people []training.PersonID
	err := tx.each(verb, "SELECT id FROM person UNION SELECT subject FROM decision ORDER BY 1", nil, func(scan func(...any) error) error {
		var id training.PersonID
		err := scan(&id)
		people = append(people, id)
		return err
	})
	if err != nil {
		return err
	}
	for _, id := range people {
		blocked, err := tx.Blocked(id)
		if err != nil {
			return err
		}
		if !blocked {
			continue
		}
		if err := tx.Erase(id); err != nil {
			return err
		}
	}
	return nil
}
