package sets

// entry is a skill with its sizes.
type entry struct {
	rung    int  // index in Names.Rungs
	other   bool // it is an exercise of no ladder; rung means nothing
	near    bool // the name was misspelt
	name    Span
	bouts   []bout
	said    aside   // what was said before the first size, or of all sizes
	outer   *phrase // how many times the whole list was done; nil where unsaid
	circuit bool    // outer counts the rounds of a circuit
	first   bool    // the name stands before the sizes
	shares  bool    // it stands in a list of skills and may take the sizes of the next one
	joined  bool    // it shares, and an and joins it to the next one
	copied  bool    // its sizes are copies of another entry's
	counted bool    // a count stands with one of its sizes
	each    bool    // "each" was said of its sizes
	recast  bool    // it replaces an entry that was told before
	tried   bool    // the word attempts was said
	nth     int     // which attempt was done; 0 where unsaid
	made    *phrase // how many attempts were done; nil where unsaid
	segment int     // the index of the segment where its name or its first size stands
	last    int     // the index of the last segment that added to it
	line    int
	lists   bool // it stands right behind one of the same skill: rows 12, rows 12, rows 4
	purely  bool // in its segment stood nothing but the name and harmless words
	day     int  // the index of its mark among those that settle keeps; -1 for none
}

// call gives an entry the name of a skill or of another exercise.
func (e *entry) call(name *phrase) {
	e.rung, e.other, e.near, e.name = name.at, name.kind == exercise, name.near, Span{name.from, name.to}
}

// hasSizes reports whether the entry is not nil and has sizes.
func (e *entry) hasSizes() bool { return e != nil && len(e.bouts) > 0 }

// told returns how many sets the entry's sizes are of.
func (e *entry) told() (n int) {
	for i := range e.bouts {
		if e.bouts[i].of == nil {
			n += max(e.bouts[i].count, 1)
		}
	}
	return n
}

// uncounted reports whether an entry has no count, neither with a size nor apart.
func (e *entry) uncounted() bool { return !e.counted && e.outer == nil }

// start returns the first token of an entry.
func (e *entry) start() int {
	if len(e.bouts) == 0 || e.copied {
		return e.name.From
	}
	return min(e.name.From, e.bouts[0].From)
}

// tellsHowMany reports whether an entry has one size alone, a bare number
// before its skill, as in 4 mid hangs. It may be how many sets there were.
func (e *entry) tellsHowMany() bool {
	if len(e.bouts) != 1 {
		return false
	}
	b := &e.bouts[0]
	return b.bare() && b.ratio == nil && b.of == nil && b.To <= e.name.From
}
