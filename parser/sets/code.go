package sets

// Code names a doubt. Codes are stable: tests and counters go by them.
type Code string

const (
	MissingSize      Code = "missing-size"         // a skill, but not how long or how many
	MissingUnit      Code = "missing-unit"         // seconds or reps?
	MissingSkill     Code = "missing-skill"        // sizes without a skill
	UnknownSkill     Code = "unknown-skill"        // words beside sizes that name no skill
	AmbiguousSkill   Code = "ambiguous-skill"      // words that may mean several
	UnitMismatch     Code = "unit-mismatch"        // a weight where a size is meant
	ZeroSize         Code = "zero-size"            // 0 s
	SizeTooLarge     Code = "size-too-large"       // past the limits
	BadUnit          Code = "bad-unit"             // hours, letters
	LetterForDigit   Code = "letter-for-digit"     // 3os
	BadClock         Code = "bad-clock"            // 1:75
	SuspiciousOrder  Code = "suspicious-order"     // 30x3s
	CountTooLarge    Code = "count-too-large"      // more than 50 sets
	FractionalCount  Code = "fractional-count"     // 2.5 sets
	FractionalReps   Code = "fractional-reps"      // 2.5 reps
	Range            Code = "range"                // 20-25s
	TotalSize        Code = "total"                // 25 in 5 sets
	EffortRange      Code = "effort-range"         // @11
	EffortWord       Code = "effort-word"          // @hard
	MissingLoadUnit  Code = "missing-load-unit"    // +5
	LoadTooLarge     Code = "load-too-large"       // past the limits
	RestMissing      Code = "rest-missing"         // rest
	RestTooLong      Code = "rest-too-long"        // past the limits
	BadDate          Code = "bad-date"             // 31 November
	WrongWeekday     Code = "wrong-weekday"        // Friday 21 Nov, a Saturday
	VagueDay         Code = "vague-day"            // last week
	TwoDates         Code = "ambiguous-date"       // 7/12
	ConflictingDates Code = "conflicting-dates"    // yesterday and Monday
	FutureDay        Code = "future-day"           // tomorrow
	WhichDay         Code = "which-day"            // sets behind a day that may be of it or not
	CountMismatch    Code = "count-mismatch"       // 3x30/28
	TwoSizes         Code = "two-sizes"            // 3x5 30s deep hang
	AmbiguousList    Code = "ambiguous-list"       // 3/30s
	ConflictingSide  Code = "conflicting-side"     // left right
	TriesInSeconds   Code = "tries-in-seconds"     // muscle-up 30s
	TooManyTries     Code = "too-many-tries"       // past the limits
	MoreDoneThanTry  Code = "more-done-than-tried" // 5/3
	NoSuchSet        Code = "no-such-set"          // the 4th of three
	TooManySets      Code = "too-many-sets"        // past the limits
	InBrackets       Code = "in-brackets"          // 3x30s deep hang (60s)
	Correction       Code = "correction"           // what it corrects can't be told
	Dangling         Code = "dangling"             // a plus with nothing behind it
	LeftOver         Code = "left-over"            // a number that is neither a size nor known
	Changed          Code = "changed"              // words that may change what was done
)
