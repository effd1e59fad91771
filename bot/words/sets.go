package words

import (
	"fmt"
	"strings"

	"rungbook/training"
)

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

// triesWords is a number of attempts.
func triesWords(n int) string {
	if n == 1 {
		return "1 try"
	}
	return fmt.Sprintf("%d tries", n)
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
