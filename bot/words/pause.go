package words

import (
	"strings"

	"rungbook/training"
)

// What is said of pauses in one way only.
const (
	NotPaused         = "You are not paused."
	CoachEnds         = "Your coach has set this pause, so your coach ends it. Have a word with them."
	TooLateToTakeBack = "A pause can be taken back for 15 minutes; after that your coach ends it. Have a word with them."
	TakenBack         = "Taken back: you are not paused, and it is as if it had never been."
	StillPaused       = "Taken back. You are still paused for another cause: your coach ends it."
)

// PauseSet is what a pause came to.
type PauseSet struct {
	Again     bool // one was running already
	CoachEnds bool // only a coach ends it, however lately it was set
	Coached   bool // there is a coach to be told
	Coach     bool // who is paused is one, and ends it themselves
}

// FaultPain is said to somebody who hurts while nothing can be stored.
func FaultPain(work string) string {
	return "Please stop " + work + " now, and see a licensed practitioner before you go back to it. " +
		"Something is wrong on my side, so I could not pause you: tell your coach yourself. " +
		"Nothing you say of your body is kept."
}

// Pain is the private text at a report of pain. It repeats nothing.
func Pain(work string, urgent bool, set PauseSet) string {
	lines := []string{"Please stop " + work + " now."}
	if urgent {
		lines = append(lines, "What you describe should be seen by a doctor promptly.")
	}
	lines = append(lines, "See a licensed practitioner before you go back to it; training through it makes it worse.")
	lines = append(lines, pauseLines(set)...)
	if !set.CoachEnds {
		lines = append(lines, "If I misread you: tap “misread” or type /pause end within 15 minutes.")
	}
	return strings.Join(lines, "\n")
}

// StrangerPain is the same for somebody who is no member: there is
// nothing to pause.
func StrangerPain(work string, urgent bool) string {
	lines := []string{"Please stop " + work + " now, and see a licensed practitioner before you go back to it."}
	if urgent {
		lines = append(lines, "What you describe should be seen by a doctor promptly.")
	}
	return strings.Join(append(lines, "Nothing you say of your body is kept."), "\n")
}

// SelfPaused answers /pause.
func SelfPaused(work string, set PauseSet) string {
	lines := append([]string{"Paused: no " + work + " for now."}, pauseLines(set)...)
	if !set.CoachEnds {
		lines = append(lines, "/pause end takes it back within 15 minutes.")
	}
	return strings.Join(lines, "\n")
}

// pauseLines says what a pause is, and what is kept.
func pauseLines(set PauseSet) []string {
	lines := []string{"You are paused from today on: no targets, no nudges. What you log is still kept."}
	if set.Again {
		lines[0] = "You were paused already, and stay so: no targets, no nudges. What you log is still kept."
	}
	if set.Coach && !set.Coached {
		lines = append(lines, "You are the only coach here, so nobody else is told and you end it yourself, "+
			"with /coach resume: have somebody look at it first.")
	} else if set.Coached {
		lines = append(lines, "Your coach is told that you are paused and should be talked to, not why, and is the one to end it.")
	} else {
		lines = append(lines, "I know no coach here yet. "+
			"The first I see is told that you are paused and should be talked to, not why, and is the one to end it; "+
			"until then have a word with whoever teaches you.")
	}
	return append(lines, "Nothing you say of your body is kept.")
}

// Paused is the notice to a coach; again says that one was running.
func Paused(name, work string, again bool) string {
	if again {
		return name + " is paused from " + work + ", and there is a new cause. Please have a word with them."
	}
	return name + " is paused from " + work + ". Please have a word with them. You end it with /coach resume."
}

// CoachPaused answers /coach pause; again says that one was running.
func CoachPaused(name string, again bool) string {
	if again {
		return name + " was paused already; only a coach ends it now. /coach resume does."
	}
	return name + " is paused from today on. /coach resume ends it."
}

// PausedByCoach tells a member that the coach has paused them.
func PausedByCoach(coach, work string) string {
	return coach + " has paused your " + work + " for now. What you log is still kept; your coach ends the pause. Have a word with them."
}

// IsNotPaused refuses to end a pause that there is not.
func IsNotPaused(name string) string { return name + " is not paused." }

// Resumed answers /coach resume; void says that the pause never was.
func Resumed(name string, void bool) string {
	if void {
		return name + "'s pause is void, as if it had never been. They are told."
	}
	return name + " is back, gently: half the dose first, then three quarters. They are told, with the cautions."
}

// ResumeNotice tells a member that the pause is over, with the cautions
// in full.
func ResumeNotice(programme *training.Programme, void bool) string {
	first := "Your pause is over. " +
		"The first two sessions are returning ones: about half of what you did before, then three quarters. " +
		"What you had shown must be shown again before an attempt."
	if void {
		first = "Your pause is void: it is as if it had never been."
	}
	return strings.Join(append([]string{first}, programme.Safety...), "\n")
}
