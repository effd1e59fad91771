package words

import "rungbook/training"

// LoggedSet is one or more equal sets that stand together.
type LoggedSet struct {
	training.NamedSet
	Count int `json:"count"`
}

// DayFacts is what was logged for one day. No sets: nothing is logged for it.
type DayFacts struct {
	Day    training.Day `json:"day"`
	Logged []LoggedSet  `json:"logged"`
}

// LogFacts is the full answer to a log.
type LogFacts struct {
	Day         training.Day         `json:"day"`            // the first of several
	Logged      []LoggedSet          `json:"logged"`         // for Day
	Days        []DayFacts           `json:"days,omitempty"` // all of them, where there are several
	Gates       []training.GateFact  `json:"gates"`
	Violations  []training.Violation `json:"violations"` // of the days logged, then those newly caused on other days
	Resolved    []training.Violation `json:"resolved"`   // on other days
	NextAllowed training.Day         `json:"next_allowed"`
	NextTeamDay training.Day         `json:"next_team_day"`

	Today training.Day `json:"-"` // of the message, from which the days to come are told
	Told  []DayFacts   `json:"-"` // the days that are read back; never empty
	Whose string       `json:"-"` // whose log it is, where its words go to somebody else
}

// ReadBackFacts is the answer to a log of a paused day: what was understood, no
// more.
type ReadBackFacts struct {
	Day    training.Day `json:"day"`
	Logged []LoggedSet  `json:"logged"`
	Days   []DayFacts   `json:"days,omitempty"` // as in LogFacts

	Told  []DayFacts `json:"-"` // as in LogFacts
	Whose string     `json:"-"` // as in LogFacts
}

// WithdrawFacts goes with an answer taken down.
type WithdrawFacts struct {
	Day        training.Day         `json:"day"`
	Violations []training.Violation `json:"violations"` // newly caused
	Resolved   []training.Violation `json:"resolved"`
}

// Standing is where somebody stands; private.
type Standing struct {
	Paused      bool         `json:"paused"`
	Returning   bool         `json:"returning"`
	Ready       bool         `json:"ready"`
	MayAttempt  bool         `json:"may_attempt"`
	Missing     []string     `json:"missing"` // blocking gates that are shut or lapsed
	NextAllowed training.Day `json:"next_allowed"`
	NextTeamDay training.Day `json:"next_team_day"`

	Why   training.Readiness `json:"-"` // the reasons for all of that
	Today training.Day       `json:"-"` // on which they stand there
}

// GatesFacts is the answer to /gates.
type GatesFacts struct {
	Gates []training.GateFact `json:"gates"`
	Standing
}

// NextFacts is the answer to /next.
type NextFacts struct {
	Standing
	Targets []training.Target `json:"targets"` // [] while paused
}

// NudgeFacts names who is nudged.
type NudgeFacts struct {
	Mentioned []string `json:"mentioned"`
}

// WeekFacts is the digest's data: everyone who trains, in roster order, over
// seven complete days.
type WeekFacts struct {
	Members []training.WeekFact `json:"members"`
}

// Facts marks what a post's words are made from.
func (LogFacts) Facts()      {}
func (ReadBackFacts) Facts() {}
func (WithdrawFacts) Facts() {}
func (GatesFacts) Facts()    {}
func (NextFacts) Facts()     {}
func (NudgeFacts) Facts()    {}
func (WeekFacts) Facts()     {}
