package store

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	"github.com/gofrs/flock"
)

// plainFiles is how files come about that are not SQLite's to write. Tests watch
// the steps, and have them fail.
var plainFiles = struct {
	create func(path string) error // makes an empty file that its owner alone can read, where there is none
	write  func(file *os.File, data []byte) error
	flush  func(path string) error // waits until the file or folder is on the disk
	rename func(from, to string) error
}{
	create: func(path string) error {
		file, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
		if err != nil {
			return err
		}
		return file.Close()
	},
	write: func(file *os.File, data []byte) error { _, err := file.Write(data); return err },
	flush: func(path string) error {
		file, err := os.Open(path)
		if err != nil {
			return err
		}
		return errors.Join(file.Sync(), file.Close())
	},
	rename: os.Rename,
}

// partEnd ends the name of every file that is being written and not yet whole.
const partEnd = ".rungbook.part"

// part is a file in the making, under a name of its own beside the file it will
// be. Its lock tells it from one that a process left behind.
type part struct {
	path string
	lock *flock.Flock
}

// newPart makes an empty part that its owner alone can read.
func newPart(beside string) (*part, error) {
	named, err := os.CreateTemp(filepath.Dir(beside), filepath.Base(beside)+".*"+partEnd+".lock")
	if err != nil {
		return nil, err
	}
	p := &part{path: strings.TrimSuffix(named.Name(), ".lock")}
	if err = named.Close(); err == nil {
		p.lock, err = lockFile(p.path)
	}
	if err == nil {
		err = plainFiles.create(p.path)
	}
	if err != nil {
		p.drop()
		return nil, err
	}
	return p, nil
}

// publish makes sure that the part is on the disk, then gives it its name.
func (p *part) publish(path string) error {
	if err := plainFiles.flush(p.path); err != nil {
		return err
	}
	if err := plainFiles.rename(p.path, path); err != nil {
		return err
	}
	return plainFiles.flush(filepath.Dir(path))
}

// drop removes the part, unless it was published, and its lock.
func (p *part) drop() {
	for _, end := range []string{"", "-wal", "-shm", "-journal"} {
		os.Remove(p.path + end)
	}
	if p.lock != nil {
		p.lock.Unlock()
	}
	os.Remove(p.path + ".lock")
}

// dropParts removes from the folder what processes that ended left unfinished.
// What it cannot remove is only in the way.
func dropParts(folder string) {
	locks, _ := filepath.Glob(filepath.Join(folder, "*"+partEnd+".lock")) // the pattern is a good one
	parts, _ := filepath.Glob(filepath.Join(folder, "*"+partEnd))
	for _, name := range append(parts, locks...) {
		left := &part{path: strings.TrimSuffix(name, ".lock")}
		lock, err := lockFile(left.path)
		if err != nil {
			continue // somebody is at work on it
		}
		left.lock = lock
		left.drop()
	}
}

// writeWhole writes a file so that its name, after a power cut too, holds either
// what it held or all of the data. Its owner alone can read it.
func writeWhole(path string, data []byte) error {
	err := func() error {
		p, err := newPart(path)
		if err != nil {
			return err
		}
		defer p.drop()
		file, err := os.OpenFile(p.path, os.O_WRONLY, 0)
		if err != nil {
			return err
		}
		if err := errors.Join(plainFiles.write(file, data), file.Close()); err != nil {
			return err
		}
		return p.publish(path)
	}()
	if errors.Is(err, syscall.ENOSPC) {
		err = fmt.Errorf("%w: %w", ErrFull, err)
	}
	if err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	return nil
}
