// Package words holds what the language and a programme's names know of a word.
//
// The language stands in data files, one table a theme, each row with an
// example; a programme's names make a lexicon of their own. The package looks
// words up and compares spellings. It must not read sentences.
package words

// Class is what a word can be in a log or beside one. A word may be of several:
// second is a unit and an ordinal.
type Class uint8

const (
	Ones      Class = iota // 0-19, or any number that is one word; the value is it
	Tens                   // 20-90
	Hundred                // 100
	Part                   // half, quarter: the value is in thousandths
	Couple                 // a couple, a dozen: the value is how many
	Few                    // a few, several: the value is how many days or weeks, 0 where it says none
	Ordinal                // first, 2nd: the value is the number
	Suffix                 // st, nd, rd, th: makes a number an ordinal
	Second                 // a unit of time
	Minute                 //
	Hour                   //
	Rep                    // a repetition
	Kilogram               //
	Pound                  //
	Set                    // sets of one exercise
	Round                  // rounds through what follows
	Times                  // x
	Goes                   // goes, holds: counted before "of" and a time
	Often                  // once, twice: the value is how many
	Every                  // before a cadence: every 2 min
	And                    //
	Or                     //
	Then                   //
	By                     // then by, followed by
	Of                     //
	For                    //
	At                     //
	In                     //
	On                     //
	To                     //
	From                   //
	Article                // a, an
	The                    //
	This                   //
	My                     //
	With                   //
	Without                //
	Not                    //
	Was                    // was, is, were
	Only                   // only, just
	Full                   // full, whole: before a unit
	Rest                   // rest, break
	Off                    // off
	Between                //
	Effort                 // rpe
	Reserve                // reps in reserve, left in the tank
	Feel                   // felt like: before an effort without its word
	Level                  // hard: an effort without a number; the value is a number that would do
	Left                   //
	Right                  //
	Each                   //
	Both                   //
	Limb                   // side, arm: what each or left may stand before
	Band                   //
	BandKind               // red, thick
	Toes                   //
	Floor                  // what toes stand on to help, or that they help
	Partner                // the value is 1 where it says by itself that somebody helped: spotted
	Assisted               // assisted: the words beside it say by what
	Kip                    // a swing, which helps
	Fail                   //
	Try                    //
	Made                   // came off
	None                   // none came off
	Load                   // vest, plate
	Counter                // counterweight
	Body                   // bodyweight
	Weekday                // the value as time.Weekday
	ShortDay               // a weekday where a colon follows; the value as time.Weekday
	Month                  // 1-12
	Today                  //
	Yesterday              // the value is how many days back
	Ahead                  // tomorrow, next: a day to come
	Ago                    //
	Last                   // last, past
	Span                   // day, week, month: the value in days, 30 for a month
	DayPart                // morning, night
	Noon                   // am, pm
	Calendar               // week, weekend, month: behind last, no one day
	Same                   // same: as the entry before
	Total                  // total, altogether
	Correct                // makes what follows a correction: no wait, scratch that
	Did                    // a past form of doing
	Plain                  // strict, slow: how a rung is done anyway
	Harmless               // may stand beside sets and says nothing of them
	Doubtful               // changes what was done, or how much of it: nearly, bent, kipping
	Exercise               // another exercise than the ladders'
	Unit                   // behind a number: what is no size: people, km, years
	Label                  // before a number: what is no size: week 6, room 3
	Activity               // time that is no set: warm-up, yoga
	Everyday               // a word too common to be a misspelt name
	Note                   // label of a remark
	Tempo                  // tempo
	Hence                  // stands before a span that is ago: hace, vor
	Against                // makes a day behind it none of the log's: than, until
	Approx                 // about: a size behind it is taken as said
	Unaided                // strict: said to be without help
	Planned                // makes the size behind it none that was done: planned, next time
	Compared               // makes the size before it none that was done: more than, in total
	Negative               // makes a skill behind it none that was done: no, skipped
	Address                // may stand beside sets, and may make them an order or another's
	Those                  // them, those
	Header                 // may stand beside a day that heads sets: session, report
	Spelled                // a unit that unknown words are compared with: they may be it misspelt
	All                    // all: of every set
	More                   // beside a number: as many again
	Adds                   // also, later: what follows was done besides
	Retract                // scratch, delete: the sets behind it go
	Tally                  // fives: a size told in the plural
	Scheme                 // ladder, emom: how sets follow one another; it says what was done where the sets are told too
	Will                   // I'll, gonna: what is behind it is to come
	Vague                  // names a time and no one day: the other day
	Now                    // today, where another day stands before
	OnRings                // on the rings: behind a name, the rung of that name on rings
	Cut                    // ended a set early: what stands behind it was reached
	Phase                  // part of a rep: a time beside it is a tempo
	Reached                // stands between an end and what was reached: at, after
	classes
)

// Classes is a set of classes.
type Classes [2]uint64

// Has reports whether the class is in the set.
func (c Classes) Has(class Class) bool { return c[class>>6]&(1<<(class&63)) != 0 }

// Any reports whether the sets share a class.
func (c Classes) Any(other Classes) bool { return c[0]&other[0] != 0 || c[1]&other[1] != 0 }

// OfClasses makes a set of classes.
func OfClasses(list ...Class) (c Classes) {
	for _, class := range list {
		c[class>>6] |= 1 << (class & 63)
	}
	return c
}
