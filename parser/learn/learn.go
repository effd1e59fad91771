// Package learn holds two linear readers of masked messages: whether a run of
// sets is reported as one's own work, done (Reader.Report), and what care the
// writer's own body asks for (Reader.Body).
//
// A message comes as tokens in which each run of sets is one token, so that
// what was done can't change whether it was, and a word of the body can't
// change how sets are read. There is no rule about any word here: weights are
// fitted by learn/fit from the corpora in parser/testdata/corpora and embedded.
// To teach a reader a phrase, add lines to a corpus and run go generate.
package learn

//go:generate go run ./fit -write

// Class is what a token is to the readers.
type Class uint8

const (
	Word    Class = iota // letters, folded
	Entry                // a run of sets with all that belongs to them
	Skill                // an exercise named without sizes
	Number               // a number that belongs to no set; Text may hold its figures
	Today                // a day, by what it says: today, this morning
	Past                 // yesterday, last Monday, on the 23rd
	Future               // tomorrow, next Monday
	Weekday              // Monday, without a word about which
	Sign                 // Text is the sign
	Line                 // a line end
	Mark                 // emoji, links, mentions
)

// Token is one piece of a message.
type Token struct {
	Class   Class
	Capital bool   // a word that begins with a capital letter
	Owner   bool   // a word that ended in 's, which is cut off
	Text    []byte // the folded word, the sign, the figures; nothing else is looked at
}

// Answer says whether sets are the writer's own work, done. The zero value is
// No.
type Answer uint8

const (
	No     Answer = iota // sure that they are not
	Unsure               // to be asked about
	Yes                  // sure that they are
)

// Care is what the writer's own body asks for. The zero value is Nothing.
type Care uint8

const (
	Nothing Care = iota
	Ask          // a joint may hurt: ask the member alone
	Skin         // torn or raw skin, no joint
	Stop         // a joint hurts
	Urgent       // it does, with signs that a doctor should see
)
