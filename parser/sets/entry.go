package sets

// entry is a skill with its sizes.
type entry struct {
	rung    int  // index in Names.Rungs
	other   bool // another exercise than the ladders'
	near    bool // the name was misspelt
	name    Span
	bouts   []bout
	said    aside   // before the first size, or of all
	outer   *phrase // so many times the whole list; nil where unsaid
	circuit bool    // outer is the rounds of a circuit
	first   bool    // the name stands before the sizes
	shares  bool    // stands in a list of skills and may take the sizes of the one behind
	joined  bool    // ... which an and joins
	copied  bool    // has the sizes of the entry before
	counted bool    // a count stands with a size
	each    bool
	recast  bool // told anew
	tried   bool
	nth     int // the attempt that came off; 0 where unsaid
	made    *phrase
	segment int // where its name or its first size stands
	last    int // the last segment that added to it
	line    int
	lists   bool // stands right behind one of its skill: rows 12, rows 12, rows 4
	purely  bool // nothing but the name and harmless words stood in its segment
	day     int  // index of the day it belongs to, among the marks that settle keeps; -1 for none
}

// call gives an entry the name of a skill or of another exercise.
func (e *entry) call(name *phrase) {
	e.rung, e.other, e.near, e.name = name.at, name.kind == exercise, name.near, Span{name.from, name.to}
}

// hasSizes reports whether there is an entry and it has sizes.
func (e *entry) hasSizes() bool { return e != nil && len(e.bouts) > 0 }

// told is how many sets of an entry were told, as far as its sizes say.
func (e *entry) told() (n int) {
	for i := range e.bouts {
		if e.bouts[i].of == nil {
			n += max(e.bouts[i].count, 1)
		}
	}
	return n
}

// uncounted reports whether no count was said of an entry, with a size or apart.
func (e *entry) uncounted() bool { return !e.counted && e.outer == nil }

// start is the first token of an entry.
func (e *entry) start() int {
	if len(e.bouts) == 0 || e.copied {
		return e.name.From
	}
	return min(e.name.From, e.bouts[0].From)
}

// tellsHowMany reports whether all an entry has is a bare number before its skill, as
// in 4 mid hangs: it may say how many sets there were.
func (e *entry) tellsHowMany() bool {
	if len(e.bouts) != 1 {
		return false
	}
	b := &e.bouts[0]
	return b.bare() && b.ratio == nil && b.of == nil && b.To <= e.name.From
}
