package bot

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"rungbook/training"
)

// Limits of an answer in the channel.
const (
	answerLines = 4
	answerRunes = 280
)

// dayWords is a day as people say it: Mon 5 Oct.
func dayWords(day training.Day) string {
	_, month, date := day.Civil()
	return fmt.Sprintf("%s %d %s", day.Weekday().String()[:3], date, month.String()[:3])
}

// dateWords is a day without its weekday: 5 Oct.
func dateWords(day training.Day) string {
	_, month, date := day.Civil()
	return fmt.Sprintf("%d %s", date, month.String()[:3])
}

// brief quotes at most 40 characters of what somebody typed, on one line.
func brief(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	return clip(text, 40)
}

// clip cuts a text to so many characters, the last of them an ellipsis.
func clip(text string, most int) string {
	if utf8.RuneCountInString(text) <= most {
		return text
	}
	runes := []rune(text)
	cut := string(runes[:most-1])
	if runes[most-1] != ' ' { // not in the middle of a word, if there is room for one
		if at := strings.LastIndexByte(cut, ' '); at > len(cut)/2 {
			cut = cut[:at]
		}
	}
	return strings.TrimRight(cut, " ,;") + "…"
}

// count is a number with its noun: 1 set, 3 sets.
func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// andList joins with commas and a last "and".
func andList(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
}

// sizeWords is what one set held: 30 s, 5, 1 of 3, cut short.
func sizeWords(set training.NamedSet) string {
	size := ""
	switch {
	case set.Tries > 0 && set.Done.Known:
		return fmt.Sprintf("%d of %d", set.Done.Value, set.Tries)
	case set.Tries > 0:
		return triesWords(set.Tries)
	case set.Reps > 0 && set.WorkS > 0:
		size = fmt.Sprintf("%d of %s", set.Reps, secondsWords(set.WorkS))
	case set.WorkS > 0:
		size = secondsWords(set.WorkS)
	case set.Reps > 0:
		size = fmt.Sprint(set.Reps)
	}
	if set.Failed {
		size = strings.TrimSpace(size + " cut short")
	}
	return size
}

// secondsWords is a time: 90 s, 2 min.
func secondsWords(seconds int) string {
	if seconds >= 120 && seconds%60 == 0 {
		return fmt.Sprintf("%d min", seconds/60)
	}
	return fmt.Sprintf("%d s", seconds)
}

// extraWords is what qualified a set: +5 kg, left, rest 60 s.
func extraWords(set training.NamedSet) string {
	var extras []string
	if set.LoadKg > 0 {
		extras = append(extras, "+"+set.LoadKg.String()+" kg")
	}
	if set.LoadKg < 0 {
		extras = append(extras, "−"+(-set.LoadKg).String()+" kg")
	}
	if set.Help != "" {
		extras = append(extras, "with "+set.Help)
	}
	if set.Side == training.Each {
		extras = append(extras, "each side")
	} else if set.Side != "" {
		extras = append(extras, string(set.Side))
	}
	if set.RestS.Known {
		extras = append(extras, "rest "+secondsWords(set.RestS.Value))
	}
	if set.Effort.Known {
		extras = append(extras, fmt.Sprintf("effort %d", set.Effort.Value))
	}
	return strings.Join(extras, ", ")
}

// setsWords reads sets back: 3×30 s deep hang, pull-ups 5 + 5 + 4. At most so
// many runs of one rung are told, then how many sets are left.
func setsWords(groups []LoggedSet, most int) string {
	var runs []string
	left := 0
	for len(groups) > 0 {
		n := 1
		for n < len(groups) && groups[n].Rung == groups[0].Rung && extraWords(groups[n].NamedSet) == extraWords(groups[0].NamedSet) {
			n++
		}
		if len(runs) < most {
			runs = append(runs, runWords(groups[:n]))
		} else {
			for _, group := range groups[:n] {
				left += group.Count
			}
		}
		groups = groups[n:]
	}
	if left > 0 {
		runs = append(runs, count(left, "more set"))
	}
	return strings.Join(runs, ", ")
}

// runWords is a run of groups of one rung with the same extras.
func runWords(run []LoggedSet) string {
	var sizes []string
	for _, group := range run {
		size := sizeWords(group.NamedSet)
		if group.Count > 1 {
			size = fmt.Sprintf("%d×%s", group.Count, size)
		}
		sizes = append(sizes, size)
	}
	words := run[0].Rung + " " + strings.Join(sizes, " + ")
	if len(run) == 1 && run[0].Tries == 0 && !run[0].Failed {
		words = sizes[0] + " " + run[0].Rung
	}
	if extras := extraWords(run[0].NamedSet); extras != "" {
		words += " (" + extras + ")"
	}
	return words
}

// fit returns the first of the drafts, longest first, that keeps the limits of
// an answer; the last one is cut to them.
func fit(drafts ...[]string) string {
	var text string
	for _, lines := range drafts {
		kept := lines[:0:0]
		for _, line := range lines {
			if line != "" {
				kept = append(kept, line)
			}
		}
		if len(kept) > answerLines {
			kept = kept[:answerLines]
		}
		text = strings.Join(kept, "\n")
		if utf8.RuneCountInString(text) <= answerRunes {
			return text
		}
	}
	return clip(text, answerRunes)
}

// fitBelow returns the lines of the head, which are never cut, and below them the
// first of the drafts with which the limits of an answer are kept, or none.
func fitBelow(head []string, drafts ...[]string) string {
	for _, lines := range drafts {
		text := strings.Join(slices.DeleteFunc(append(slices.Clip(head), lines...), isEmpty), "\n")
		if strings.Count(text, "\n") < answerLines && utf8.RuneCountInString(text) <= answerRunes {
			return text
		}
	}
	return strings.Join(head, "\n")
}

func isEmpty(line string) bool { return line == "" }

// logWords answers a log: what was understood, which gate moved, what the rest
// rule says, when the next day is. pulled adds that elbows rest too.
// targets is what the next team day asks, if that may be said in public. The
// longer the read-back, the less of the rest is said.
func logWords(facts LogFacts, notes []string, pulled bool, targets []training.Target) string {
	rest := restWords(facts, true)
	if rest == "" && pulled {
		rest = "This leaves the day a clear one; on clear days elbows rest too."
	}
	full, middle, brief, short := gateLine(facts, inFull), gateLine(facts, inShort), gateLine(facts, inBrief), restWords(facts, false)
	next := nextWords(facts.NextAllowed, facts.NextTeamDay, facts.today)
	asks := strings.TrimSuffix(next, ".") + asksWords(targets) + "."
	return fitBelow(heading(facts.whose, facts.told, notes),
		[]string{full, rest, asks}, []string{middle, rest, asks},
		[]string{full, rest, next}, []string{middle, rest, next}, []string{middle, short, next}, []string{brief, short, next},
		[]string{clip(brief, 85), clip(short, 55), clip(next, 55)},
		[]string{short, next}, []string{clip(short, 55), clip(next, 55)}, []string{next}, []string{clip(next, 55)},
	)
}

// asksWords is what a session asks, in a line: ": 3×19 s high hold, …".
func asksWords(targets []training.Target) string {
	var doses []string
	for _, target := range targets {
		doses = append(doses, doseWords(target))
	}
	if len(doses) == 0 {
		return ""
	}
	return ": " + strings.Join(doses, ", ")
}

// restWords says where the rest rule was not kept, by days, and where it is
// kept again.
func restWords(facts LogFacts, long bool) string {
	var own, others, again []string
	for _, v := range facts.Violations {
		if told := slices.ContainsFunc(facts.told, func(day dayLine) bool { return day.day == v.Day }); told && len(facts.told) > 1 {
			own = append(own, dayWords(v.Day)+": "+violationWords(v))
		} else if v.Day == facts.Day {
			own = append(own, violationWords(v))
		} else if long {
			others = append(others, dayWords(v.Day)+": "+violationWords(v))
		} else if day := dayWords(v.Day); !hasFold(others, day) {
			others = append(others, day)
		}
	}
	for _, v := range facts.Resolved {
		if day := dayWords(v.Day); !hasFold(again, day) {
			again = append(again, day)
		}
	}
	var parts []string
	if len(own) > 0 {
		parts = append(parts, "Rest rule: "+strings.Join(own, "; ")+".")
	}
	if len(others) > 0 {
		parts = append(parts, "Rest rule now also on "+andList(others)+".")
	}
	if len(again) > 0 {
		parts = append(parts, "Within the rest rule again: "+andList(again)+".")
	}
	return strings.Join(parts, " ")
}

// violationWords is one violation: 1 clear day since Sat 3 Oct (2 due).
func violationWords(v training.Violation) string {
	if v.Rule == training.RuleClearDays {
		return fmt.Sprintf("%s since %s (%d due)", count(v.Had, "clear day"), dayWords(v.Since), v.Needs)
	}
	return fmt.Sprintf("%s in 7 days (at most %d)", count(v.Had, "session"), v.Most)
}

// nextWords says when somebody may train again, seen from today.
func nextWords(allowed, teamDay, today training.Day) string {
	free := "Free from " + dayWords(allowed)
	if allowed == today {
		free = "Free today"
	}
	switch {
	case allowed == 0:
		return ""
	case teamDay == 0:
		return free + "."
	case teamDay == today:
		return "Free today, a team day."
	case allowed == teamDay:
		return "Next team day " + dayWords(teamDay) + "."
	}
	return free + "; next team day " + dayWords(teamDay) + "."
}

// sentence puts a capital first and a full stop last.
func sentence(text string) string {
	if text == "" {
		return ""
	}
	first, size := utf8.DecodeRuneInString(text)
	return strings.ToUpper(string(first)) + strings.TrimSuffix(text[size:], ".") + "."
}

// triesWords is a number of attempts.
func triesWords(n int) string {
	if n == 1 {
		return "1 try"
	}
	return fmt.Sprintf("%d tries", n)
}
