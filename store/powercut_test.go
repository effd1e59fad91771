package store

import (
	"context"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"rungbook/training"
)

// cut is a way in which a process or its machine ends: which of the writes that
// no sync has followed are on the disk afterwards.
type cut string

const (
	killed cut = "kill -9" // all: the system still has them
	named  cut = "power cut, names kept without what is in the files"
	last   cut = "power cut, of unsynced names the last alone kept"
	bare   cut = "power cut, nothing unsynced kept"
	torn   cut = "power cut, some unsynced kept and one of them in part"
)

// TestPowerCut holds P4 and P5: what Update has returned for is there after a
// power cut or a kill at any moment. It notes every write and sync of a few
// logs with a checkpoint between them, and opens what each prefix of them
// leaves. That the test can see a loss is shown with a setting that allows one.
func TestPowerCut(t *testing.T) {
	for _, how := range []cut{killed, bare, torn} {
		t.Run(string(how), func(t *testing.T) {
			if lost := noteLogs(t).lost(t, how); len(lost) > 0 {
				t.Errorf("%d losses, the first: %s", len(lost), lost[0])
			}
		})
	}
	t.Run("synchronous=NORMAL", func(t *testing.T) {
		set := slices.IndexFunc(pragmas, func(p pragma) bool { return p.name == "synchronous" })
		kept := pragmas[set]
		defer func() { pragmas[set] = kept }()
		pragmas[set].ask, pragmas[set].want = "_synchronous=NORMAL", "1"
		noted := noteLogs(t)
		pragmas[set] = kept
		if lost := noted.lost(t, bare); len(lost) == 0 {
			t.Error("nothing is lost: this test shows nothing")
		}
	})
}

// notedLogs is what the disk was asked for while logs were stored.
type notedLogs struct {
	before map[string][]byte // the files as they stood at first
	steps  []diskStep
	stored []int // steps made when the log of that index was answered for
}

const (
	notedLogCount = 6
	setsOfALog    = 7
)

// withTeamAlone returns the bytes of a database that holds the team.
func withTeamAlone(t *testing.T) []byte {
	t.Helper()
	db := openWithTeam(t)
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(db.path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func noteLogs(t *testing.T) notedLogs {
	t.Helper()
	folder, ctx := t.TempDir(), context.Background()
	noted := notedLogs{before: map[string][]byte{"bot.db": withTeamAlone(t)}}
	watched := watchDisk(t, folder)
	db := openFiles(t, folder, noted.before)
	for i := range notedLogCount {
		if i == 3 {
			onWriter(t, db, "PRAGMA wal_checkpoint(RESTART)")
		}
		if err := db.Update(ctx, func(tx *Tx) error { return tx.PutLog(logAt(i+1, setsOfALog)) }); err != nil {
			t.Fatal(err)
		}
		noted.stored = append(noted.stored, watched.made())
	}
	noted.steps = slices.Clone(watched.steps)
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	return noted
}

// lost cuts after each step and returns what is missing.
func (n notedLogs) lost(t *testing.T, how cut) (lost []string) {
	t.Helper()
	draw := rand.New(rand.NewPCG(4, 4))
	at := onDisk{synced: maps.Clone(n.before)}
	for made := 0; made <= len(n.steps); made++ {
		if made > 0 {
			at.make(n.steps[made-1])
		}
		if made%stride() > 0 {
			continue
		}
		files := at.after(how, draw)
		stored := 0
		for stored < len(n.stored) && n.stored[stored] <= made {
			stored++
		}
		if missing := missing(t, files, stored); missing != "" {
			lost = append(lost, fmt.Sprintf("after step %d of %d: %s", made, len(n.steps), missing))
		}
	}
	return lost
}

// onDisk is what stands on a disk as steps are made.
type onDisk struct {
	synced   map[string][]byte // files by base name, as they survive whatever happens
	unsynced []diskStep        // that no sync has followed
}

// make makes the step.
func (d *onDisk) make(step diskStep) {
	switch step.kind {
	case diskSync:
		d.settle(func(one diskStep) bool { return one.file == step.file })
	case diskWrite: // into a file made anew under the name of one deleted
		d.settle(func(one diskStep) bool { return one.kind == diskName && one.to == "" && one.from == step.file })
	}
	if step.kind != diskSync {
		d.unsynced = append(d.unsynced, step)
	}
}

// settle has some steps survive whatever happens.
func (d *onDisk) settle(which func(diskStep) bool) {
	d.unsynced = slices.DeleteFunc(d.unsynced, func(one diskStep) bool {
		if which(one) {
			one.onto(d.synced)
			return true
		}
		return false
	})
}

// after returns the files that a cut leaves.
func (d *onDisk) after(how cut, draw *rand.Rand) map[string][]byte {
	files := maps.Clone(d.synced)
	for _, step := range how.keeps(d.unsynced, draw) {
		step.onto(files)
	}
	return files
}

// stride is 1, so that every step is looked at, and with -short a sample: under
// the race detector the whole takes minutes.
func stride() int {
	if testing.Short() {
		return 9
	}
	return 1
}

// keeps returns which of the unsynced steps are on the disk, in any order that
// the disk likes: between two syncs it may write as it pleases.
func (how cut) keeps(unsynced []diskStep, draw *rand.Rand) []diskStep {
	switch how {
	case killed:
		return unsynced
	case bare:
		return nil
	case named, last:
		names := slices.DeleteFunc(slices.Clone(unsynced), func(step diskStep) bool { return step.kind != diskName })
		if how == last && len(names) > 1 {
			names = names[len(names)-1:]
		}
		return names
	}
	var kept []diskStep
	for _, i := range draw.Perm(len(unsynced)) {
		if draw.IntN(2) == 0 {
			kept = append(kept, unsynced[i])
		}
	}
	if len(kept) > 0 {
		half := &kept[len(kept)-1]
		const sector = 512
		half.data = half.data[:len(half.data)/sector/2*sector]
	}
	return kept
}

// onto makes the step on the files, which are shared with earlier states and
// therefore copied.
func (step diskStep) onto(files map[string][]byte) {
	if step.kind == diskName {
		if held, ok := files[step.from]; ok || files[step.to] == nil {
			files[step.to] = append([]byte{}, held...)
			delete(files, step.from)
		}
		delete(files, "")
		return
	}
	file := slices.Clone(files[step.file])
	end := int(step.at) + len(step.data)
	if end > len(file) {
		file = append(file, make([]byte, end-len(file))...)
	}
	copy(file[step.at:], step.data)
	if step.kind == diskTruncate {
		file = file[:step.at]
	}
	files[step.file] = file
}

// openFiles opens a database of the files, which it puts into the folder. The
// caller closes it.
func openFiles(t *testing.T, folder string, files map[string][]byte) *DB {
	t.Helper()
	for name, data := range files {
		if err := os.WriteFile(filepath.Join(folder, name), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	db, err := Open(context.Background(), Options{Path: filepath.Join(folder, "bot.db"), Key: testKey})
	if err != nil {
		t.Fatal(err)
	}
	return db
}

// missing opens a database of the files and says what of the first logs is not
// there whole.
func missing(t *testing.T, files map[string][]byte, stored int) string {
	t.Helper()
	db := openFiles(t, t.TempDir(), files)
	defer db.Close()
	faults, err := db.Check(context.Background())
	if err != nil || len(faults) > 0 {
		return fmt.Sprintf("faults %v, error %v", faults, err)
	}
	var said []string
	for i := range notedLogCount {
		sets := setsKept(t, db, training.MessageID(i+1))
		if sets != setsOfALog && (sets > 0 || i < stored) {
			said = append(said, fmt.Sprintf("log %d has %d sets", i+1, sets))
		}
	}
	return strings.Join(said, ", ")
}

// setsKept returns how many sets the database has of a log of one day, 0 where
// it has no such log.
func setsKept(t *testing.T, db *DB, id training.MessageID) (sets int) {
	t.Helper()
	err := db.View(context.Background(), func(tx *Tx) error {
		log, found, err := tx.Log(id)
		if found {
			sets = len(log.Days[0].Sets)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return sets
}
