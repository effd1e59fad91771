package words

import "rungbook/training"

// What a button answers that does nothing, or nothing any more.
const (
	NoSuchButton = "That button does nothing here."

	NoSetsAnyMore      = "That message gives no sets any more."
	OthersLog          = "Only whoever wrote a log takes it back. A coach can /coach correct it."
	OthersPause        = "Only whose pause it is can say that it was misread."
	WitnessIsForCoach  = "Witnessing is for this team's coach."
	ResumingIsForCoach = "Resuming somebody is for this team's coach."
	LoggerIsGone       = "Whoever logged that is not on the roster any more."
	PausedIsGone       = "They are not on the roster any more."
	ShowsNoGate        = "That session shows no gate."

	NoAttemptToTell = "There is no attempt of yours there to tell of."
	PausedToTell    = "While you are paused nothing is told. Ask me again when you are back."
	NotFirst        = "That was not your first."
	ToldAlready     = "The team has been told of it already."

	ProgrammeChanged = "The programme has changed since, so nothing is logged. Write the sets again."
	OthersDoubt      = "Only whoever wrote that says whether it is kept."
	KeptAlready      = "That is logged already; /undo takes your last log back."
	KeptAndUndone    = "That was logged and taken back. Write the sets again to log them."
	DroppedAlready   = "That was dropped, and nothing of it is stored. Write the sets again to log them."
	AskedNoMore      = "That is no longer asked, and nothing of it is stored. Write the sets again to log them."

	OthersJoint = "Only whoever was asked that can answer it."
	JointKnown  = "That is taken in already."
)

// CorrectedSince refuses to keep a reading of a day that a coach has corrected.
func CorrectedSince(day training.Day) string {
	return "Your coach has corrected " + dayWords(day) + ", so nothing of it is logged."
}
