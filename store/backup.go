package store

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
)

// Backup writes a copy of the database to path while the bot runs, as it is at
// one moment. The copy is checked before it takes the name, and an earlier
// backup of that name stands until then. The key is not in it.
func (db *DB) Backup(ctx context.Context, path string) error {
	path, err := filepath.Abs(path)
	if err == nil {
		err = backUp(ctx, db.path, path)
	}
	if err != nil {
		return fmt.Errorf("back up to %s: %w", path, explain(err))
	}
	return nil
}

func backUp(ctx context.Context, from, to string) error {
	if from == to {
		return errors.New("it is the database itself: name another file")
	}
	part, err := copyOut(ctx, from, to)
	if err != nil {
		return err
	}
	defer os.Remove(part) // there is none once it has its name
	faults, err := checkFile(ctx, part)
	if err != nil {
		return fmt.Errorf("check the copy: %w", err)
	}
	if len(faults) > 0 {
		return fmt.Errorf("the copy is not sound: %s", faults[0])
	}
	return publish(part, to)
}

// copyOut writes a copy under a name of its own beside the file it will be,
// readable by its owner alone.
func copyOut(ctx context.Context, from, beside string) (part string, err error) {
	file, err := os.CreateTemp(filepath.Dir(beside), filepath.Base(beside)+".*.part")
	if err != nil {
		return "", err
	}
	part = file.Name()
	defer func() {
		if err != nil {
			os.Remove(part)
		}
	}()
	if err := file.Close(); err != nil {
		return part, err
	}
	c := &conn{path: from, mode: copying}
	if err := c.open(ctx); err != nil {
		return part, err
	}
	_, err = c.raw.ExecContext(ctx, "VACUUM INTO ?", part)
	return part, errors.Join(err, c.shut())
}

// publish makes sure that the file is on the disk, then gives it its name.
func publish(part, path string) error {
	if err := flush(part); err != nil {
		return err
	}
	if err := os.Rename(part, path); err != nil {
		return err
	}
	return flush(filepath.Dir(path))
}

// flush waits until the file or folder is on the disk.
func flush(path string) error {
	file, err := os.Open(path)
	if err != nil {
		return err
	}
	return errors.Join(file.Sync(), file.Close())
}
