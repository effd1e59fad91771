// Package words looks up what a word can mean: in the language, which stands in
// data files, one table for each theme and each row with an example; and among
// the names of a programme. It also compares spellings. It must not read
// sentences.
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
	Goes                   // goes, holds: a number before it and "of" with a time behind it are sets (3 goes of 20 s)
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
	Limb                   // side, arm: may stand behind each or left
	Band                   //
	BandKind               // red, thick
	Toes                   //
	Floor                  // floor, box, touching: what toes stand on to help, or that they do
	Partner                // somebody who helped; the value is 1 where the word alone says so: spotted
	Assisted               // assisted: the words beside it say by what
	Kip                    // a swing, which helps
	Fail                   //
	Try                    //
	Made                   // of tries: done
	None                   // of tries: none done
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
	Calendar               // week, weekend, month: behind last it names no one day
	Same                   // same: as the entry before
	Total                  // total, altogether
	Correct                // makes what follows a correction: no wait, scratch that
	Did                    // a past form of doing
	Plain                  // strict, slow: says that a rung was done as it is to be done
	Harmless               // may stand beside sets, and changes nothing of what they say
	Doubtful               // changes what was done, or how much of it: nearly, bent, kipping
	Exercise               // another exercise than the ladders'
	Unit                   // people, km, years: a number before it is no size
	Label                  // week, room: a number behind it is no size
	Activity               // warm-up, yoga: a time beside it is no set
	Everyday               // a word too common to be a misspelt name
	Note                   // label of a remark
	Tempo                  // tempo
	Hence                  // ago, in languages that say it before the span: hace, vor
	Against                // than, until: a day behind it is not the log's
	Approx                 // about: a size behind it counts as if it were exact
	Unaided                // strict: says that there was no help
	Planned                // planned, next time: a size behind it was not done
	Compared               // more than, in total: a size before it was not done
	Negative               // no, skipped: a skill behind it was not done
	Address                // may stand beside sets; may say that they are an order or somebody else's
	Those                  // them, those
	Header                 // session, report: may stand beside a day that heads sets
	Spelled                // a unit that an unknown word may be a misspelling of
	All                    // all: of every set
	More                   // more, another: a number beside it says how many as before are added
	Adds                   // also, later: what follows was done besides
	Retract                // scratch, delete: the sets behind it are taken back
	Tally                  // fives: a size in the plural
	Scheme                 // ladder, emom: how sets follow one another; harmless only where the sets are told too
	Will                   // I'll, gonna: what is behind it is to come
	Vague                  // the other day: a time, but no one day
	Now                    // now: means today if another day stands before it
	OnRings                // on the rings: makes a name before it that of the rung on rings
	Cut                    // stopped: a set ended early; what stands behind it was reached
	Phase                  // down, top: part of a rep; a time beside it is a tempo
	Reached                // at, after: stands between a Cut and what was reached
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
