package words

import (
	"fmt"
	"strings"

	"rungbook/training"
)

// What is said in one way only.
const (
	Fault = "Something went wrong on my side and nothing was changed. " +
		"Please try again in a minute; if it stays, tell whoever runs me."
	Erased    = "Your data were erased and I read nothing of yours. /me rejoin:yes lets me count for you again."
	ErasedNow = "Done: all I kept of you is erased, and I read nothing of yours from now on. " +
		"A keyed mark that cannot be turned back into you is left, so that I do not read you in again. " +
		"/me rejoin:yes lifts it."
	UndoneStays  = "You took this message back with /undo, so it stays out. Write the sets again to log them."
	NoLongerAway = "Welcome back: you are no longer away."
	Rejoined     = "Good to have you back. Your next log starts a new record."

	SkinCare = "Torn or sore skin: wash and dry it, rest the spot, and tape it before the next session. " +
		"If it looks inflamed, have it seen. Nothing else changes, and nothing you say of your body is kept."
)

// welcome begins the notice that a newcomer is told once, and no other.
const welcome = "Welcome. "

// IsWelcome reports whether a text is that notice.
func IsWelcome(text string) bool { return strings.HasPrefix(text, welcome) }

// Welcome is what a newcomer is told once.
func Welcome(programme *training.Programme) string {
	lines := []string{
		welcome + "I read sets in the channel, count them against this team's gates and rest days, and say when you may train next. " +
			"Edit or delete a message and I follow; /help shows the rest.",
		"I keep your name, zone, days and sets, and that you are away or paused; " +
			"never your words, and nothing of what you say of your body. " +
			"/mydata export hands you all of it, /mydata erase removes it.",
	}
	return strings.Join(append(lines, programme.Safety...), "\n")
}

// Away answers /away.
func Away(from, until training.Day) string {
	return fmt.Sprintf("Away from %s until %s, both included: no nudges. /away end when you are back.", dayWords(from), dayWords(until))
}

// Settings answers /me.
func Settings(who training.Member) string {
	nudges, other := "on", "off"
	if !who.Nudges {
		nudges, other = other, nudges
	}
	return fmt.Sprintf("Your zone is %s, nudges are %s. /me zone: and /me nudges:%s change that.", who.Zone, nudges, other)
}

// Exported answers /mydata export: days with sets, and messages in doubt.
func Exported(sessions, asked int) string {
	waits := ""
	if asked > 0 {
		waits = " and of " + count(asked, "message") + " that no keep or drop has answered"
	}
	return "All I keep of you is attached: the sets of " + count(sessions, "day") + waits +
		", your pauses, days away and witnessed gates. " +
		"The messages themselves stay where you wrote them."
}
