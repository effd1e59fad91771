package store

import (
	"slices"
	"sync"

	"rungbook/training"
)

// mostKept is how many sets of all members together are kept decoded, some
// 15 MB; beyond it members are forgotten in no order.
const mostKept = 100_000

// history keeps the sessions of members that were read before, so that a long
// record is not decoded anew at each message. It holds what is committed and
// nothing else: a member's entry stands until a commit changes one of their
// logs, and a transaction is given it only if nothing of theirs has been
// committed since its own snapshot.
type history struct {
	mutex   sync.Mutex // held over a commit, and over the start of a snapshot
	commits uint64
	changed map[int64]uint64 // by person key: the commit that last changed their logs
	erased  uint64           // the commit that may have changed anybody's
	kept    map[int64][]training.Session
	sets    int // in kept
}

func newHistory() *history {
	return &history{changed: map[int64]uint64{}, kept: map[int64][]training.Session{}}
}

// begin starts a transaction's snapshot and says which commit it shows.
func (h *history) begin(start func() error) (seen uint64, err error) {
	h.mutex.Lock()
	defer h.mutex.Unlock()
	return h.commits, start()
}

// commit commits, and takes over what the transaction knows of the members
// whose logs it changed.
func (h *history) commit(do func() error, own *ownHistory) error {
	h.mutex.Lock()
	defer h.mutex.Unlock()
	if err := do(); err != nil {
		return err
	}
	if own.writes() {
		h.commits++
	}
	if own.all {
		clear(h.kept)
		clear(h.changed)
		h.sets, h.erased = 0, h.commits
	}
	for key := range own.touched {
		h.drop(key)
		h.changed[key] = h.commits
	}
	for key, sessions := range own.read {
		if len(own.stale[key]) == 0 && !own.all && (own.touched[key] || h.lastChange(key) <= own.seen) {
			h.keep(key, sessions)
		}
	}
	return nil
}

func (h *history) keep(key int64, sessions []training.Session) {
	h.drop(key)
	h.kept[key] = sessions
	h.sets += count(sessions)
	for other := range h.kept {
		if h.sets <= mostKept {
			return
		}
		h.drop(other)
	}
}

func (h *history) drop(key int64) {
	h.sets -= count(h.kept[key])
	delete(h.kept, key)
}

func count(sessions []training.Session) (sets int) {
	for _, session := range sessions {
		sets += len(session.Sets)
	}
	return sets
}

// get returns a member's sessions as of the commit that a snapshot shows.
func (h *history) get(key int64, seen uint64) (sessions []training.Session, ok bool) {
	h.mutex.Lock()
	defer h.mutex.Unlock()
	sessions, ok = h.kept[key]
	return sessions, ok && h.lastChange(key) <= seen
}

func (h *history) lastChange(key int64) uint64 { return max(h.changed[key], h.erased) }

// ownHistory is what one transaction knows beyond what is kept.
type ownHistory struct {
	seen    uint64
	read    map[int64][]training.Session
	stale   map[int64][]training.Day // days of read, or of what is kept, that it has written since
	touched map[int64]bool           // whose logs it has written
	all     bool                     // everybody's may have changed
}

func newOwnHistory(seen uint64) *ownHistory {
	return &ownHistory{seen: seen, read: map[int64][]training.Session{}, stale: map[int64][]training.Day{}, touched: map[int64]bool{}}
}

func (o *ownHistory) writes() bool { return o.all || len(o.touched) > 0 }

// write notes that a log of the member's day was written.
func (o *ownHistory) write(key int64, day training.Day) {
	o.touched[key] = true
	if !slices.Contains(o.stale[key], day) {
		o.stale[key] = append(o.stale[key], day)
	}
}

// sessions returns the member's sessions as the transaction sees them. They are
// shared: nobody may write through them.
func (tx *Tx) sessions(verb string, key int64) ([]training.Session, error) {
	own, all := tx.own, tx.db.history
	if all == nil || own.all { // own is nil too where all is
		return tx.readSessions(verb, key)
	}
	known, ok := own.read[key]
	if !ok {
		known, ok = all.get(key, own.seen)
	}
	var err error
	switch {
	case !ok:
		known, err = tx.readSessions(verb, key)
	case len(own.stale[key]) > 0:
		known, err = tx.rereadDays(verb, key, known, own.stale[key])
	}
	if err != nil {
		return nil, err
	}
	delete(own.stale, key)
	own.read[key] = known
	return known, nil
}

// rereadDays returns the sessions with those of the days as they stand now.
func (tx *Tx) rereadDays(verb string, key int64, known []training.Session, days []training.Day) ([]training.Session, error) {
	known = slices.Clone(known) // others read it
	for _, day := range days {
		now, err := tx.scanSessions(verb, recordDay, key, date(day)) // one, or none
		if err != nil {
			return nil, err
		}
		at, was := slices.BinarySearchFunc(known, day, func(s training.Session, d training.Day) int { return int(s.Day - d) })
		if was {
			known = slices.Replace(known, at, at+1, now...)
		} else {
			known = slices.Insert(known, at, now...)
		}
	}
	if len(known) == 0 {
		return nil, nil
	}
	return known, nil
}
