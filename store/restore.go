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

// Restore makes a new database from a backup and never overwrites one. The copy
// is brought up to date and checked. Whoever was erased is erased from it: the
// backup names those erased before it was made, and each database in heed those
// erased later. Give the database that is being replaced in heed wherever it can
// still be read. All must have been written with the same key.
//
// Posts that the backup holds unsent may have gone out since: they are marked
// as being sent long ago, which makes the sender look for them first.
func Restore(ctx context.Context, from, to string, key []byte, heed ...string) error {
	to, err := filepath.Abs(to)
	if err == nil {
		err = restore(ctx, from, to, key, heed)
	}
	if err != nil {
		return fmt.Errorf("restore %s to %s: %w", from, to, explain(err))
	}
	return nil
}

// restore makes the copy under a name of its own beside to, and gives it its
// name once it is whole. Whatever fails before that leaves nothing behind.
func restore(ctx context.Context, from, to string, key []byte, heed []string) error {
	if len(key) == 0 {
		return ErrNoKey
	}
	if err := checkFolder(Options{Path: to}); err != nil {
		return err
	}
	lock, err := lockFile(to)
	if err != nil {
		return err
	}
	defer lock.Unlock()
	if err := vacant(to); err != nil {
		return err
	}
	if from, err = filepath.Abs(from); err != nil {
		return err
	}
	if err := restorable(ctx, from); err != nil {
		return err
	}
	blocks, err := blockLists(ctx, key, heed)
	if err != nil {
		return err
	}
	part, err := copyOut(ctx, from, to)
	if err != nil {
		return err
	}
	defer os.Remove(part) // there is none once it has its name
	defer os.Remove(part + ".lock")
	if err := settleIn(ctx, part, key, blocks); err != nil {
		return err
	}
	return publish(part, to)
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

func restorable(ctx context.Context, from string) error {
	if _, err := os.Stat(from); err != nil {
		return fmt.Errorf("look at the backup: %w: name one that is there", err)
	}
	version, err := identify(ctx, from)
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

// blockLists reads the hashes of all who were erased from the databases.
func blockLists(ctx context.Context, key []byte, paths []string) ([]string, error) {
	var blocks []string
	for _, path := range paths {
		db, err := Open(ctx, Options{Path: path, Key: key, Readers: 1, ReadOnly: true})
		if err != nil {
			return nil, fmt.Errorf("read who was erased: %w", err)
		}
		err = db.View(ctx, func(tx *Tx) error {
			more, err := tx.texts("read blocks", "SELECT hex(hash) FROM block")
			blocks = append(blocks, more...)
			return err
		})
		if err := errors.Join(err, db.Close()); err != nil {
			return nil, fmt.Errorf("read who was erased: %w", err)
		}
	}
	return blocks, nil
}

// settleIn makes a copy fit to be used: its schema up to date, the blocks
// obeyed, no post that would go out twice, and sound.
func settleIn(ctx context.Context, path string, key []byte, blocks []string) error {
	db, err := Open(ctx, Options{Path: path, Key: key, Readers: 1})
	if err != nil {
		return err
	}
	err = db.Update(ctx, func(tx *Tx) error {
		const verb = "restore"
		for _, block := range blocks {
			if _, err := tx.exec(verb, "INSERT INTO block (hash) VALUES (unhex(?)) ON CONFLICT DO NOTHING", block); err != nil {
				return err
			}
		}
		if _, err := tx.exec(verb, "UPDATE post SET state = 'sending', claimed = formed WHERE state = 'formed'"); err != nil {
			return err
		}
		return tx.eraseBlocked(verb)
	})
	if err == nil {
		err = db.Scrub(ctx)
	}
	if err == nil {
		err = sound(db.Check(ctx))
	}
	return errors.Join(err, db.Close())
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
