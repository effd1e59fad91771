package training

import "strings"

// Unit says in what a rung is measured.
type Unit string

const (
	Timed   Unit = "seconds"
	Counted Unit = "reps"
	Tried   Unit = "tries" // attempts: done out of tries
)

// Programme is the data by which a team trains. It is read and validated by
// the package programme and never changed afterwards; share it freely.
type Programme struct {
	ID      string
	Name    string
	Work    string   // what a pause stops, as people call it: "ring work"
	Ladders []Ladder // in the order shown and trained
	Gates   []Gate   // in the order of the ladders
	Rest    RestRule
	Shape   Shape
	Safety  []string // the cautions in full, a line each

	rungs map[RungID]place
}

type place struct{ ladder, rung int }

// Ladder is one skill as rungs, easiest first.
type Ladder struct {
	Name   string
	Counts bool // whether a set here makes its day a counted session
	Advice bool // its gate never blocks
	Tries  bool // the ladder of attempts: no targets, no progress
	Rungs  []Rung
}

// Rung is one exercise on a ladder.
type Rung struct {
	ID      RungID
	Name    string
	Aliases []string // other ways to write it, in lower case
	Unit    Unit
	MoveOn  Standard // once it is met, the next rung is due; zero on a gate's rung, whose standard is the gate's, and for tries
	RepS    int      // seconds of tension that a rep counts for where no time was logged
	Helped  Helped   // set where this rung is the helped form of another
	StopGap int      // after how many sessions on the rung to say that it is a stop-gap; 0 for never
	Cue     string   // what right looks like, one line
	SetUp   string   // what to prepare, one line
	Caution string   // what to beware of, one line
}

// Helped says that this rung is the rung Of done with Help: toe support is
// support with toes. The zero value says that the rung is no helped form.
type Helped struct {
	Of   RungID
	Help string
}

// Standard is a number of sets of a size: seconds on a timed rung, reps on a
// counted one.
type Standard struct {
	Sets int
	Work int
}

// Gate is a standard that must have been shown before an attempt.
type Gate struct {
	Rung     RungID
	Standard      // N sets of at least W
	RestS    int  // the most seconds between bouts; 0 where any rest will do
	Blocking bool // no attempt while it does not hold; false for advice
}

// RestRule holds the dose: at least ClearDays days without a counted session
// between two of them (0-6), and at most Sessions of them in any 7 days (1-7).
type RestRule struct {
	ClearDays int
	Sessions  int
}

// Shape is how a session is put together.
type Shape struct {
	WarmUp            string
	Sets              int            // bouts of a ladder, where no rule of the next session says fewer
	Alternate         []string       // names of ladders whose bouts take turns
	RestS             map[string]int // seconds between bouts, by the ladder's name
	Tries             int            // the most attempts of a session
	TryRestS          int            // seconds between attempts
	Replaces          string         // name of the ladder that attempts replace for the day
	LighterAfterWeeks int            // after how many full weeks in a row a lighter one is suggested; 0 for never
}

// Index builds what Find looks up; the loader calls it once. It returns the
// first id that two rungs have, or "".
func (p *Programme) Index() (twice RungID) {
	p.rungs = map[RungID]place{}
	for l, ladder := range p.Ladders {
		for r, rung := range ladder.Rungs {
			if _, ok := p.rungs[rung.ID]; ok && twice == "" {
				twice = rung.ID
			}
			p.rungs[rung.ID] = place{l, r}
		}
	}
	return twice
}

// Find returns a rung and its ladder. The pointers are into the programme and
// must not be written through. ok is false for an id the programme lacks.
func (p *Programme) Find(id RungID) (ladder *Ladder, rung *Rung, ok bool) {
	at, ok := p.rungs[id]
	if !ok {
		return nil, nil, false
	}
	return &p.Ladders[at.ladder], &p.Ladders[at.ladder].Rungs[at.rung], true
}

// NameOf returns the rung's present name. Where the programme no longer has the
// rung it returns the id with blanks for its hyphens.
func (p *Programme) NameOf(id RungID) string {
	if _, rung, ok := p.Find(id); ok {
		return rung.Name
	}
	return strings.ReplaceAll(string(id), "-", " ")
}

// GateOn returns the gate on the rung; ok is false where there is none.
func (p *Programme) GateOn(id RungID) (Gate, bool) {
	for _, gate := range p.Gates {
		if gate.Rung == id {
			return gate, true
		}
	}
	return Gate{}, false
}

// GateOf returns the ladder's gate, of which there is at most one; ok is false
// where there is none.
func (p *Programme) GateOf(ladder *Ladder) (Gate, bool) {
	for _, rung := range ladder.Rungs {
		if gate, ok := p.GateOn(rung.ID); ok {
			return gate, true
		}
	}
	return Gate{}, false
}
