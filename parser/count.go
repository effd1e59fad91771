package parser

import "rungbook/training"

// Counts that stand apart from a size.

func (f *filler) count(it *item, i int) {
	colon := i+1 < len(f.items) && f.items[i+1].k == iSep && f.items[i+1].n == ':'
	if f.entry == nil {
		f.leadCount = *it
		return
	}
	if it.code == faultRange || it.code == faultPartCount {
		f.entry.outer, f.entry.outerAt = max(it.n, 1), *it
		return
	}
	if it.round && f.named && i > 0 && len(f.reader.sizes) > f.start { // deep hang 30s / 5 pull-ups x 3 rounds
		f.rounds(it)
		return
	}
	if n := len(f.reader.sizes); n == f.first+1 && (f.is(int(it.from)-1, "in") || f.is(int(it.from)-1, "over") || f.is(int(it.from)-1, "across")) && f.reader.sizes[f.first].count == 0 { // 25 in 5 sets
		s := &f.reader.sizes[f.first]
		s.code, f.entry.outerAt = faultTotal, *it
		return
	}
	if n := len(f.reader.sizes); !it.round && n == f.first+1 && f.reader.sizes[f.first].count == 0 && f.reader.sizes[f.first].k == iSize && it.n > 0 { // 20s mid hang x2
		f.reader.sizes[f.first].count, f.entry.counted = it.n, true
		return
	}
	if f.reps(it, i) {
		return
	}
	if n := len(f.reader.sizes); !it.round && n > f.start && f.entry.counted && f.reader.sizes[n-1].count == 0 && n > f.first+1 && it.n > 0 { // 12s left x3, 10s right x3
		f.reader.sizes[n-1].count = it.n
		return
	}
	f.entry.outer = it.n
	f.entry.outerAt = *it
	if len(f.reader.sizes) == f.first && (it.round || colon) {
		f.circuit, f.entry.circuit = it.n, true
	}
}

// plainBefore reports whether the entry before stands on the same line and has no
// count of its own.
func (f *filler) plainBefore() bool {
	if f.open < 1 {
		return false
	}
	e := &f.entries[f.open-1]
	return e.line == f.entries[f.open].line && !e.counted && e.outer == 0 && e.to > e.from
}

// reps reads "dips x8": behind the name of a counted rung, with no size to come,
// x8 is how many.
func (f *filler) reps(it *item, i int) bool {
	if !f.named || len(f.reader.sizes) != f.first || !f.has(int(it.from), fTimes) || it.round || f.rungOf(f.entry).unit != training.Counted || it.to-it.from > 2 {
		return false
	}
	for i++; i < len(f.items) && (f.items[i].k == iSep && f.items[i].n != '\n' || f.items[i].k == iFill); i++ {
	}
	if i < len(f.items) && (f.items[i].k == iSize || f.items[i].k == iFrac || f.items[i].k == iCount) {
		return false
	}
	f.size(&item{k: iSize, milli: int64(it.n) * 1000, whole: true, from: it.from, to: it.to}, run{})
	return true
}

// rounds gives a count of rounds to the entry and to those before it on its line
// that have no count of their own.
func (f *filler) rounds(it *item) {
	for j := f.open; j >= 0; j-- {
		e := &f.entries[j]
		if j != f.open && (e.line != f.entries[f.open].line || e.counted || e.outer != 0) {
			return
		}
		e.outer, e.outerAt = it.n, *it
	}
}
