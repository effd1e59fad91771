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

// Setup answers /setup with what holds now.
func Setup(team training.Team, programme *training.Programme) string {
	return fmt.Sprintf("%s trains in %s. Nudges at %s, the digest on %s at %s.\n%s",
		team.Name, team.Zone, team.Nudge, time.Weekday(team.DigestDay).String(), team.Digest, TeamDays(team.Days, programme))
}
