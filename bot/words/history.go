package words

import (
	"fmt"
	"strings"

	"rungbook/training"
)

// History answers /history, a line a day, newest first, within one
// message of a chat platform.
func History(name string, weeks int, days []DayFacts, load string) string {
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
		next := "\n" + clip(dayWords(line.Day)+": "+setsWords(line.Logged, 20), 400)
		if len(text)+len(next) > 1900 {
			return text + "\n" + count(len(days)-i, "earlier day") + " not shown; ask for fewer weeks."
		}
		text += next
	}
	return text
}

// Load is the last seven days' time under tension by ladder, with the
// change against the four weeks before, and the load by effort where it is
// known. What is not known is not told.
func Load(loads []training.Load, effort training.EffortWeek) string {
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
