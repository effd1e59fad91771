package parser

// fault is what is wrong with one item of a message; 0 is nothing.
type fault uint8

const (
	faultEffortWord fault = iota + 1
	faultLoadUnit
	faultClock
	faultLetter
	faultUnit
	faultDate
	faultTwoDates
	faultPartCount
	faultNothing
	faultWeight
	faultRange
	faultTotal
	faultVagueDay
)

// String returns the code of the problem that the fault makes.
func (f fault) String() string {
	return [...]string{
		"", "effort-word", "missing-load-unit", "bad-clock", "letter-for-digit", "bad-unit", "bad-date", "ambiguous-date",
		"fractional-count", "nothing-done", "unit-mismatch", "range", "total", "vague-day",
	}[f]
}

// aid is what made a set easier; 0 is nothing.
type aid uint8

const (
	byBand aid = iota + 1
	byToes
	byPartner
	byAssist
	byKip
)

// aids holds the words of a set's help.
var aids = [...]string{byBand: "band", byToes: "toes", byPartner: "partner", byAssist: "assist", byKip: "kip"}
