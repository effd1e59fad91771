package store

import (
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"syscall"
	"testing"
	"unsafe"

	"modernc.org/libc"
	sqlite3 "modernc.org/sqlite/lib"
)

// diskStep is one thing that is asked of a file.
type diskStep struct {
	kind stepKind
	file string // base name; thisFolder of a name given, and of a sync of the folder
	from string // of a name given: the file's earlier one, "" for a new file
	to   string // of a name given, "" for a file deleted
	at   int64  // of a write, where; of a truncate, the new size
	data []byte // of a write
}

type stepKind int

const (
	diskWrite stepKind = iota
	diskTruncate
	diskSync // what was written to the file before survives a power cut
	diskName // a file is made, renamed or deleted; for good after a sync of the folder
)

// thisFolder stands for the folder itself among its files.
const thisFolder = "."

// watchedDisk stands between SQLite and the files of one folder: it notes the
// steps that change a file, and makes those fail that the test says.
type watchedDisk struct {
	folder  string
	opens   openFunc   // the ordinary way to open
	deletes deleteFunc // and to delete

	mu    sync.Mutex
	steps []diskStep                           // made so far
	asked int                                  // steps since fails was set, failed ones included
	fails func(asked int, kind stepKind) int32 // returns a result code of SQLite, 0 for a step that is made; nil: none fails
	files map[uintptr]*watchedFile             // by the address of SQLite's own structure
}

// watchedFile is an open file of the folder.
type watchedFile struct {
	name     string                      // base name
	ordinary sqlite3.Tsqlite3_io_methods // how SQLite reads and writes it
	watched  uintptr                     // the address of the same, some of them replaced; freed when the file is closed
}

// disk is what the functions that SQLite calls write to. One test at a time has
// one.
var disk *watchedDisk

// watchDisk puts a watched disk below SQLite until the test ends. The test must
// not run beside others.
func watchDisk(t *testing.T, folder string) *watchedDisk {
	tls := libc.NewTLS()
	vfs := at[sqlite3.Tsqlite3_vfs](sqlite3.Xsqlite3_vfs_find(tls, 0))
	opens, deletes := vfs.FxOpen, vfs.FxDelete
	disk = &watchedDisk{folder: folder, opens: called[openFunc](opens), deletes: called[deleteFunc](deletes), files: map[uintptr]*watchedFile{}}
	vfs.FxOpen, vfs.FxDelete = pointer(openWatched), pointer(deleteWatched)
	t.Cleanup(func() {
		vfs.FxOpen, vfs.FxDelete = opens, deletes
		tls.Close()
	})
	return disk
}

// watchPlainFiles has the disk note and fail the store's own writes too.
func (d *watchedDisk) watchPlainFiles(t *testing.T) {
	kept := plainFiles
	t.Cleanup(func() { plainFiles = kept })
	noted := func(step diskStep, do func() error) error {
		if code := d.noteStep(step); code != 0 {
			return plainFailure(code)
		}
		return do()
	}
	plainFiles.create = func(path string) error {
		if _, err := os.Stat(path); err == nil {
			return fs.ErrExist
		}
		step := diskStep{kind: diskName, file: thisFolder, to: filepath.Base(path)}
		return noted(step, func() error { return kept.create(path) })
	}
	plainFiles.write = func(file *os.File, data []byte) error {
		step := diskStep{kind: diskWrite, file: filepath.Base(file.Name()), data: data}
		return noted(step, func() error { return kept.write(file, data) })
	}
	plainFiles.flush = func(path string) error {
		step := diskStep{kind: diskSync, file: filepath.Base(path)}
		if path == d.folder {
			step.file = thisFolder
		}
		return noted(step, func() error { return kept.flush(path) })
	}
	plainFiles.rename = func(from, to string) error {
		step := diskStep{kind: diskName, file: thisFolder, from: filepath.Base(from), to: filepath.Base(to)}
		return noted(step, func() error { return kept.rename(from, to) })
	}
}

// plainFailure is how a step that is not SQLite's fails.
func plainFailure(code int32) error {
	if code == sqlite3.SQLITE_FULL {
		return &fs.PathError{Op: "write", Path: "a plain file", Err: syscall.ENOSPC}
	}
	return &fs.PathError{Op: "write", Path: "a plain file", Err: syscall.EIO}
}

// at returns what stands at an address outside Go's memory.
func at[T any](address uintptr) *T { return *(**T)(unsafe.Pointer(&address)) }

// pointer returns a function as SQLite keeps it; called turns it back. The
// function must be declared at the top, so that it stays where it is.
func pointer(function any) uintptr { return (*[2]uintptr)(unsafe.Pointer(&function))[1] }

func called[F any](function uintptr) F { return *(*F)(unsafe.Pointer(&function)) }

type (
	openFunc     = func(tls *libc.TLS, vfs, name, file uintptr, flags int32, out uintptr) int32
	deleteFunc   = func(tls *libc.TLS, vfs, name uintptr, syncFolder int32) int32
	closeFunc    = func(tls *libc.TLS, file uintptr) int32
	writeFunc    = func(tls *libc.TLS, file, data uintptr, size int32, offset int64) int32
	truncateFunc = func(tls *libc.TLS, file uintptr, size int64) int32
	syncFunc     = func(tls *libc.TLS, file uintptr, flags int32) int32
)

func openWatched(tls *libc.TLS, vfs, name, file uintptr, flags int32, out uintptr) int32 {
	code := disk.opens(tls, vfs, name, file, flags, out)
	if code != 0 || name == 0 {
		return code
	}
	path := libc.GoString(name)
	if filepath.Dir(path) != disk.folder {
		return code
	}
	opened := at[sqlite3.Tsqlite3_file](file)
	kept := &watchedFile{name: filepath.Base(path), ordinary: *at[sqlite3.Tsqlite3_io_methods](opened.FpMethods)}
	kept.watched = libc.Xmalloc(tls, libc.Tsize_t(unsafe.Sizeof(kept.ordinary)))
	methods := at[sqlite3.Tsqlite3_io_methods](kept.watched)
	*methods = kept.ordinary
	methods.FxWrite, methods.FxTruncate = pointer(writeWatched), pointer(truncateWatched)
	methods.FxSync, methods.FxClose = pointer(syncWatched), pointer(closeWatched)
	opened.FpMethods = kept.watched
	disk.mu.Lock()
	defer disk.mu.Unlock()
	disk.files[file] = kept
	return code
}

func deleteWatched(tls *libc.TLS, vfs, name uintptr, syncFolder int32) int32 {
	if path := libc.GoString(name); filepath.Dir(path) == disk.folder {
		step := diskStep{kind: diskName, file: thisFolder, from: filepath.Base(path)}
		if code := disk.noteStep(step); code != 0 {
			return code
		}
	}
	return disk.deletes(tls, vfs, name, syncFolder)
}

func writeWatched(tls *libc.TLS, file, data uintptr, size int32, offset int64) int32 {
	written := slices.Clone(unsafe.Slice(at[byte](data), size))
	ordinary, code := disk.note(file, diskStep{kind: diskWrite, at: offset, data: written})
	if code != 0 {
		return code
	}
	return called[writeFunc](ordinary.FxWrite)(tls, file, data, size, offset)
}

func truncateWatched(tls *libc.TLS, file uintptr, size int64) int32 {
	ordinary, code := disk.note(file, diskStep{kind: diskTruncate, at: size})
	if code != 0 {
		return code
	}
	return called[truncateFunc](ordinary.FxTruncate)(tls, file, size)
}

func syncWatched(tls *libc.TLS, file uintptr, flags int32) int32 {
	ordinary, code := disk.note(file, diskStep{kind: diskSync})
	if code != 0 {
		return code
	}
	return called[syncFunc](ordinary.FxSync)(tls, file, flags)
}

func closeWatched(tls *libc.TLS, file uintptr) int32 {
	disk.mu.Lock()
	kept := disk.files[file]
	delete(disk.files, file)
	disk.mu.Unlock()
	defer libc.Xfree(tls, kept.watched)
	return called[closeFunc](kept.ordinary.FxClose)(tls, file)
}

// note takes down a step that is about to be made, or says how it fails.
func (d *watchedDisk) note(file uintptr, step diskStep) (ordinary sqlite3.Tsqlite3_io_methods, code int32) {
	d.mu.Lock()
	kept := d.files[file]
	d.mu.Unlock()
	step.file = kept.name
	return kept.ordinary, d.noteStep(step)
}

func (d *watchedDisk) noteStep(step diskStep) (code int32) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.asked++
	if d.fails != nil {
		code = d.fails(d.asked, step.kind)
	}
	if code == 0 {
		d.steps = append(d.steps, step)
	}
	return code
}

// made returns how many steps were made so far.
func (d *watchedDisk) made() int {
	d.mu.Lock()
	defer d.mu.Unlock()
	return len(d.steps)
}

// failBy has steps fail from now on as the function says.
func (d *watchedDisk) failBy(fails func(asked int, kind stepKind) int32) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.asked, d.fails = 0, fails
}
