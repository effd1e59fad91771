// Package learn holds two linear readers of masked messages. Reader.Report says
// whether a run of sets is reported as the author's own work, done. Reader.Body
// says what to do about what the author says of their own body.
//
// In a masked message each run of sets is one token, so that what the sets are
// cannot change whether they were done, and a word of the body cannot change how
// sets are read. There is no rule about any word here: learn/fit fits weights from
// the corpora in parser/testdata/corpora, which are embedded. To teach a reader a
// phrase, add lines to a corpus and run go generate.
package learn

//go:generate go run ./fit -write

// Class is what a token is to the readers.
type Class uint8

const (
	Word    Class = iota // letters, folded
	Entry                // a run of sets with all that belongs to them
	Skill                // an exercise named without sizes
	Number               // a number that belongs to no set; Text may hold its figures
	Today                // a day that is today: today, this morning
	Past                 // a day before: yesterday, last Monday, on the 23rd
	Future               // a day to come: tomorrow, next Monday
	Weekday              // Monday, without a word that says which one
	Sign                 // Text is the sign
	Line                 // a line end
	Mark                 // emoji, links, mentions
)

// Token is one piece of a message.
type Token struct {
	Class   Class
	Capital bool   // a word that begins with a capital letter
	Owner   bool   // a word that ended in 's, which is cut off
	Text    []byte // of a Word its folded letters, of a Sign the sign, of a Number its figures; else not looked at
}

// Answer says whether sets are the writer's own work, done. The zero value is
// No.
type Answer uint8

const (
	No     Answer = iota // surely not
	Unsure               // not sure: ask
	Yes                  // surely
)

// Care is what to do about what the author says of their own body. The zero value
// is Nothing.
type Care uint8

const (
	Nothing Care = iota
	Ask          // a joint may hurt: ask the member alone
	Skin         // torn or raw skin, no joint
	Stop         // a joint hurts
	Urgent       // a joint hurts, with signs that a doctor should see
)
