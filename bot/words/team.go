package words

import (
	"fmt"
	"strings"
	"time"

	"rungbook/training"
)

// OnRoster answers /coach member.
func OnRoster(who training.Member) string {
	return fmt.Sprintf("%s is on the roster, zone %s.", who.Name, who.Zone)
}

// OffRoster answers /coach member remove:yes.
func OffRoster(name string) string {
	return name + " is off the roster; the record stays. A new log puts them back."
}

// IsNoCoach says behind OffRoster that somebody whom /setup named is no coach any more.
func IsNoCoach(name string) string { return name + " is no coach here any more." }

// CoachByRole says behind OffRoster that the server's role still makes a coach.
func CoachByRole(name string) string {
	return name + " holds this team's coach role, and is a coach until it is taken away in the server."
}

// NotWitnessed refuses a mark for a day to come or more than most days back.
func NotWitnessed(day training.Day, most int) string {
	return fmt.Sprintf("A mark is for today or up to %d days back; %s is neither.", most, dayWords(day))
}

// BeforePause refuses a mark for a day in or before a member's pause.
func BeforePause(day training.Day, name string) string {
	return fmt.Sprintf("%s lies in or before %s's pause: what was shown then opens no gate.", dayWords(day), name)
}

// NoMark refuses /coach unwitness of a gate that nobody witnessed.
func NoMark(name, gate string) string { return name + " has no witness mark on " + gate + "." }

// Unwitnessed answers /coach unwitness.
func Unwitnessed(name, gate string) string {
	return name + "'s " + gate + " gate now rests on what " + name + " logged."
}

// Witnessed answers /coach witness.
func Witnessed(name, gate string, day training.Day) string {
	return fmt.Sprintf("%s's %s gate is witnessed on %s, good until %s.", name, gate, dayWords(day), dateWords(day+training.GoodDays))
}

// TeamDays is the check of a coach's team days.
func TeamDays(days training.Weekdays, programme *training.Programme) string {
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

// IsCoach says behind Setup that somebody has become a coach.
func IsCoach(name string) string { return name + " is a coach here." }

// Setup answers /setup with what holds now.
func Setup(team training.Team, programme *training.Programme) string {
	return fmt.Sprintf("%s trains in %s. Nudges at %s, the digest on %s at %s.\n%s",
		team.Name, team.Zone, team.Nudge, time.Weekday(team.DigestDay).String(), team.Digest, TeamDays(team.Days, programme))
}
