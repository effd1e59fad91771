package store

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
)

// Backup writes a copy of the database to path while the bot runs, as it is at
// one moment, and its checksum to path.sha256. The copy is checked before it takes
// the name, and an earlier backup of that name stands until then. Neither the key
// nor the list of the erased is in it.
func (db *DB) Backup(ctx context.Context, path string) error {
	path, err := filepath.Abs(path)
	if err == nil {
		err = db.backUp(ctx, path)
	}
	if err != nil {
		return fmt.Errorf("back up to %s: %w", path, explain(err))
	}
	return nil
}

func (db *DB) backUp(ctx context.Context, to string) error {
	if taken := db.takenBy(to); taken != "" {
		return fmt.Errorf("it is %s: name another file", taken)
	}
	dropParts(filepath.Dir(to))
	copied, err := copyOut(ctx, db.path, to)
	if err != nil {
		return err
	}
	defer copied.drop()
	faults, err := checkFile(ctx, copied.path)
	if err != nil {
		return fmt.Errorf("check the copy: %w", err)
	}
	if len(faults) > 0 {
		return fmt.Errorf("the copy is not sound: %s", faults[0])
	}
	sum, err := checksum(copied.path)
	if err != nil {
		return err
	}
	// A crash on the way leaves a backup without a checksum, never one with another's.
	if err := forgetChecksum(to); err != nil {
		return err
	}
	if err := copied.publish(to); err != nil {
		return err
	}
	return putChecksum(to, sum)
}

// takenBy says which of the database's own files a path leads to, "" for none. It
// compares files and not names: a link, or a folder by another name, leads to them
// as well.
func (db *DB) takenBy(path string) string {
	if sameFile(path, db.path) {
		return "the database itself"
	}
	real, err := filepath.EvalSymlinks(db.path)
	if err != nil {
		real = db.path
	}
	for _, own := range []string{real + "-wal", real + "-shm", db.path + ".lock", db.options.KeyFile, db.options.ErasedFile} {
		if own != "" && sameFile(path, own) {
			return own + ", which belongs to the database"
		}
	}
	return ""
}

// sameFile reports whether both paths lead to one file, or would if it were there.
func sameFile(a, b string) bool {
	same := func(a, b string) bool {
		one, err := os.Stat(a)
		other, err2 := os.Stat(b)
		return err == nil && err2 == nil && os.SameFile(one, other)
	}
	return same(a, b) || filepath.Base(a) == filepath.Base(b) && same(filepath.Dir(a), filepath.Dir(b))
}

// copyOut writes a copy beside the file it will be.
func copyOut(ctx context.Context, from, beside string) (*part, error) {
	copied, err := newPart(beside)
	if err != nil {
		return nil, err
	}
	c := &conn{path: from, mode: copying}
	if err = c.open(ctx); err == nil {
		_, err = c.raw.ExecContext(ctx, "VACUUM INTO ?", copied.path)
		err = errors.Join(err, c.shut())
	}
	if err != nil {
		copied.drop()
		return nil, err
	}
	return copied, nil
}
