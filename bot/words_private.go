package bot

import (
	"fmt"
	"strings"
	"time"

	"rungbook/training"
)

// What is said in one way only.
const (
	faultWords = "Something went wrong on my side and nothing was changed. " +
		"Please try again in a minute; if it stays, tell whoever runs me."
	unknownCommandWords = "I do not know %s. /help lists what I do."
	erasedWords         = "Your data were erased and I read nothing of yours. /me rejoin:yes lets me count for you again."
	erasedNowWords      = "Done: all I kept of you is erased, and I read nothing of yours from now on. " +
		"A keyed mark that cannot be turned back into you is left, so that I do not read you in again. " +
		"/me rejoin:yes lifts it."
	undoneStaysWords   = "You took this message back with /undo, so it stays out. Write the sets again to log them."
	untakenWords       = "I can't take those words behind a command. /help lists what I do."
	unloggedWords      = "The sets in that are not logged: type them again, by themselves."
	nothingToUndoWords = "There is no log of yours to take back. /history shows what you logged."

	skinWords = "Torn or sore skin: wash and dry it, rest the spot, and tape it before the next session. " +
		"If it looks inflamed, have it seen. Nothing else changes, and nothing you say of your body is kept."
)

func undoneForYouWords(coach string, days []training.DaySets) string {
	return fmt.Sprintf("%s took back what they logged for you on %s.", coach, daysWords(days))
}

// daysWords names the days of a log.
func daysWords(days []training.DaySets) string {
	var names []string
	for _, day := range days {
		names = append(names, dayWords(day.Day))
	}
	return andList(names)
}

func foreignWords(day training.Day) string {
	return fmt.Sprintf("What this message gave for %s was logged by another programme and stays as it was. "+
		"/undo takes it back if it is your last; your coach can correct the day.", dayWords(day))
}

func tooOldWords(days []training.Day) string {
	var named []string
	for _, day := range days {
		named = append(named, dayWords(day))
	}
	are, it := "is", "it"
	if len(days) > 1 {
		are, it = "are", "them"
	}
	return fmt.Sprintf("%s %s more than %d days back, so nothing is logged. Your coach can log %s for you, or say the day again.",
		andList(named), are, oldest, it)
}

func undoneWords(days []dayLine) string {
	return clip("Taken back from "+dayList(days, 3)+".", answerRunes)
}

// dayList tells days with at most so many runs of sets each.
func dayList(days []dayLine, most int) string {
	var parts []string
	for _, day := range days {
		parts = append(parts, dayWords(day.day)+": "+setsWords(day.sets, most))
	}
	return strings.Join(parts, "; ")
}

func correctedWords(day training.Day) string {
	return fmt.Sprintf("Your coach has corrected %s, so this changes nothing of that day. If something is wrong, tell them.",
		dayWords(day))
}

// emptiedWords says that an edit took the sets out.
func emptiedWords(days []training.DaySets) string {
	return daysWords(days) + ": no sets in this message now, its earlier ones are taken out."
}

// emptiedAnswer is that with the words that answer the new text, and with what
// else has changed; facts is nil on a paused day.
func emptiedAnswer(days []training.DaySets, facts *LogFacts, words string) string {
	first := strings.TrimSpace(emptiedWords(days) + " " + words)
	if facts == nil {
		return fit([]string{first})
	}
	return fit(
		[]string{first, gateLine(*facts, inShort), restWords(*facts, true), nextWords(facts.NextAllowed, facts.NextTeamDay, facts.today)},
		[]string{first, restWords(*facts, false), nextWords(facts.NextAllowed, facts.NextTeamDay, facts.today)},
		[]string{first},
	)
}

func loggedForYouWords(coach string, days []dayLine) string {
	return clip(fmt.Sprintf("%s logged for you on %s.", coach, dayList(days, 6)), 600)
}

func correctedForYouWords(coach string, day training.Day, groups []LoggedSet) string {
	if len(groups) == 0 {
		return fmt.Sprintf("%s corrected %s: nothing is logged for it now. If that is wrong, tell them.", coach, dayWords(day))
	}
	words := fmt.Sprintf("%s corrected %s, which now reads: %s. If that is wrong, tell them.", coach, dayWords(day), setsWords(groups, 6))
	return clip(words, 600)
}

func witnessedWords(name, gate string, day training.Day) string {
	return fmt.Sprintf("%s's %s gate is witnessed on %s, good until %s.", name, gate, dayWords(day), dateWords(day+training.GoodDays))
}

// welcomeWords is what a newcomer is told once.
func welcomeWords(programme *training.Programme) string {
	lines := []string{
		"Welcome. I read sets in the channel, count them against this team's gates and rest days, and say when you may train next. " +
			"Edit or delete a message and I follow; /help shows the rest.",
		"I keep your name, zone, days and sets, and that you are away or paused; " +
			"never your words, and nothing of what you say of your body. " +
			"/mydata export hands you all of it, /mydata erase removes it.",
	}
	return strings.Join(append(lines, programme.Safety...), "\n")
}

// gatesWords answers /gates. name is empty for the author's own.
func gatesWords(name string, today training.Day, facts GatesFacts) string {
	lines := []string{"Gates on " + dayWords(today) + ":"}
	if name != "" {
		lines[0] = name + "'s gates on " + dayWords(today) + ":"
	}
	for _, gate := range facts.Gates {
		lines = append(lines, "· "+gateWords(gate, today, inFull, true))
	}
	return strings.Join(append(lines, standingWords(facts.Standing)...), "\n")
}

// standingWords says where somebody stands, privately, with the reasons both
// ways.
func standingWords(s Standing) []string {
	if s.Paused {
		return []string{"Paused. Your coach ends it."}
	}
	lines := []string{attemptWords(s)}
	for _, gate := range s.why.Gates {
		if days, ok := gate.Lapses(s.today); ok && days <= lapseNotice {
			lines = append(lines, fmt.Sprintf("%s: %s left before it has to be shown again.",
				sentence(gate.Gate)[:len(gate.Gate)], count(days, "day")))
		}
	}
	return append(lines, nextWords(s.NextAllowed, s.NextTeamDay, s.today))
}

// lapseNotice is how many days ahead it is told that a gate lapses.
const lapseNotice = 7

// attemptWords says whether an attempt is allowed, and why or why not.
func attemptWords(s Standing) string {
	switch {
	case s.MayAttempt:
		return "Every blocking gate is open and today is free: an attempt is allowed. " +
			"Someone within call, clear floor and mat; /help safety."
	case s.Returning && s.why.SessionsBack >= 2:
		return "Returning after a pause, both sessions done: it ends with today, and no attempt before."
	case s.Returning:
		return fmt.Sprintf("Returning after a pause, %d of 2 sessions done: no attempts until both are.", s.why.SessionsBack)
	case s.Ready:
		return "Every blocking gate is open; " + todayWords(s.why) + ", so an attempt waits for a free team day."
	}
	open := s.why.Blocking - len(s.Missing)
	return fmt.Sprintf("%d of %s open, to show before an attempt: %s; %s.",
		open, count(s.why.Blocking, "gate"), missingWords(s.why), todayWords(s.why))
}

// missingWords is what is to be shown, with how far it has come.
func missingWords(why training.Readiness) string {
	var parts []string
	for _, gate := range why.Gates {
		if gate.Blocking && !gate.Status.Holds() {
			parts = append(parts, fmt.Sprintf("%s (%d of %d)", gate.Gate, gate.Shown, gate.Needed))
		}
	}
	return andList(parts)
}

// todayWords says what today is to somebody.
func todayWords(why training.Readiness) string {
	switch {
	case why.Away:
		return "you are away today"
	case !why.TeamDay:
		return "today is no team day"
	case !why.Free:
		return "today is not free by the rest rule"
	case why.Trained:
		return "today's session is logged"
	}
	return "today is free"
}

// dayLine is a day of somebody's history.
type dayLine struct {
	day  training.Day
	sets []LoggedSet
}

// historyWords answers /history, a line a day, newest first, within one
// message of a chat platform.
func historyWords(name string, weeks int, days []dayLine, load string) string {
	head := "The last " + count(weeks, "week")
	if weeks == 1 {
		head = "The last week"
	}
	if name != "" {
		head = name + ", t" + head[1:]
	}
	if len(days) == 0 {
		return head + ": nothing logged."
	}
	text := head + ", " + count(len(days), "day") + ":"
	if load != "" {
		text = load + "\n" + text
	}
	for i, line := range days {
		next := "\n" + clip(dayWords(line.day)+": "+setsWords(line.sets, 20), 400)
		if len(text)+len(next) > 1900 {
			return text + "\n" + count(len(days)-i, "earlier day") + " not shown; ask for fewer weeks."
		}
		text += next
	}
	return text
}

// loadWords is the last seven days' time under tension by ladder, with the
// change against the four weeks before, and the load by effort where it is
// known. What is not known is not told.
func loadWords(loads []training.Load, effort training.EffortWeek) string {
	var parts []string
	compared := false
	for _, load := range loads {
		compared = compared || load.Compare && load.TensionS > 0
		if load.TensionS == 0 {
			continue
		}
		part := fmt.Sprintf("%s %d s", load.Ladder, load.TensionS)
		if load.Compare {
			part += fmt.Sprintf(" (%+d %%)", load.Change())
		}
		parts = append(parts, part)
	}
	if len(parts) == 0 {
		return ""
	}
	words := "Last 7 days under tension: " + strings.Join(parts, ", ") + "."
	if compared {
		words = "Last 7 days under tension, against the 4 weeks before: " + strings.Join(parts, ", ") + "."
	}
	if effort.Known > 0 {
		words += fmt.Sprintf(" Effort × minutes %d, known of %d of %s.", effort.Load, effort.Known, count(effort.Sessions, "session"))
	}
	return words
}

func awayWords(from, until training.Day) string {
	return fmt.Sprintf("Away from %s until %s, both included: no nudges. /away end when you are back.", dayWords(from), dayWords(until))
}

func meWords(who training.Member) string {
	nudges, other := "on", "off"
	if !who.Nudges {
		nudges, other = other, nudges
	}
	return fmt.Sprintf("Your zone is %s, nudges are %s. /me zone: and /me nudges:%s change that.", who.Zone, nudges, other)
}

func memberWords(who training.Member) string {
	return fmt.Sprintf("%s is on the roster, zone %s.", who.Name, who.Zone)
}

func exportWords(sessions, asked int) string {
	waits := ""
	if asked > 0 {
		waits = " and of " + count(asked, "message") + " that no keep or drop has answered"
	}
	return "All I keep of you is attached: the sets of " + count(sessions, "day") + waits +
		", your pauses, days away and witnessed gates. " +
		"The messages themselves stay where you wrote them."
}

// weekWords is the check of a coach's team days.
func weekWords(days training.Weekdays, programme *training.Programme) string {
	check := programme.Rest.CheckWeek(days)
	words := fmt.Sprintf("Team days: %s. ", days)
	if check.Keeps {
		return words + fmt.Sprintf("The week keeps the rest rule: %s, %s between.",
			count(check.Sessions, "session"), count(programme.Rest.ClearDays, "clear day"))
	}
	words += fmt.Sprintf("All of them cannot be trained every week: the rest rule allows %s a week on them.",
		count(check.Sessions, "session"))
	var clashes []string
	for _, clash := range check.Clashes {
		clashes = append(clashes, clash.First.String()[:3]+" and "+clash.Second.String()[:3])
	}
	if len(clashes) > 0 {
		words += " Too close together: " + strings.Join(clashes, ", ") + "."
	}
	return words + " Each member gets the days that are free to them."
}

func setupWords(team training.Team, programme *training.Programme) string {
	return fmt.Sprintf("%s trains in %s. Nudges at %s, the digest on %s at %s.\n%s",
		team.Name, team.Zone, team.Nudge, time.Weekday(team.DigestDay).String(), team.Digest, weekWords(team.Days, programme))
}
