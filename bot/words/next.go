package words

import (
	"fmt"
	"strings"

	"rungbook/training"
)

// Plan is what /next says beside the targets.
type Plan struct {
	Days    []training.Day // those to train
	Ahead   int            // how many days ahead Days tells
	TakesS  int            // seconds of work and rest
	Weeks   int            // full weeks without a break
	Lighter bool           // a lighter week is due
}

// Next answers /next, in the order of the session. name is empty for the
// author's own.
func Next(name string, programme *training.Programme, facts NextFacts, plan Plan) string {
	if facts.Paused {
		return strings.Join(standingWords(facts.Standing), "\n")
	}
	head := "The next session"
	if name != "" {
		head = name + "'s next session"
	}
	lines := []string{fmt.Sprintf("%s: about %d min of work and rest, after the warm-up. %s",
		head, (plan.TakesS+59)/60, programme.Shape.WarmUp)}
	if plan.Lighter {
		lines = append(lines, fmt.Sprintf("%s without a break: take a lighter week, half the sets.", count(plan.Weeks, "full week")))
	}
	for _, target := range inOrder(programme, facts.Targets) {
		lines = append(lines, "· "+targetWords(target))
	}
	lines = append(lines, shapeWords(programme))
	for _, target := range facts.Targets {
		lines = append(lines, firstUseWords(programme, target)...)
	}
	lines = append(lines, standingWords(facts.Standing)...)
	return strings.Join(append(lines, planWords(plan)), "\n")
}

// inOrder puts the targets into the order in which the session begins them.
func inOrder(programme *training.Programme, targets []training.Target) []training.Target {
	var ordered []training.Target
	seen := map[training.RungID]bool{}
	for _, bout := range programme.Bouts(targets) {
		for _, target := range targets {
			if target.ID == bout.Rung && !seen[bout.Rung] {
				seen[bout.Rung] = true
				ordered = append(ordered, target)
			}
		}
	}
	return ordered
}

// targetWords is one target: deep hang 3×27 s, 60 s rest: a step up from ….
func targetWords(target training.Target) string {
	if target.Tries > 0 {
		return fmt.Sprintf("%s: at most %s, %s between; %s",
			target.Rung, triesWords(target.Tries), secondsWords(target.RestS), target.Because)
	}
	return fmt.Sprintf("%s, %s rest: %s", doseWords(target), secondsWords(target.RestS), target.Because)
}

// doseWords is a target's dose: 3×27 s deep hang.
func doseWords(target training.Target) string {
	size := fmt.Sprint(target.Reps)
	if target.WorkS > 0 {
		size = secondsWords(target.WorkS)
	}
	if target.Sets == 1 && target.WorkS > 0 {
		return size + " " + target.Rung
	}
	return fmt.Sprintf("%d×%s %s", target.Sets, size, target.Rung)
}

// shapeWords says which bouts take turns.
func shapeWords(programme *training.Programme) string {
	if len(programme.Shape.Alternate) < 2 {
		return ""
	}
	return sentence(andList(programme.Shape.Alternate) + " take turns, a bout each")
}

// firstUseWords is the cue, set-up and caution of a rung never trained before,
// and what goes with attempts.
func firstUseWords(programme *training.Programme, target training.Target) []string {
	_, rung, ok := programme.Find(target.ID)
	if !ok {
		return nil
	}
	if target.Tries > 0 {
		lines := []string{sentence(rung.Name + ": " + lowerFirst(rung.SetUp) + " " + rung.Cue + " " + rung.Caution)}
		return append(lines, programme.Safety...)
	}
	var lines []string
	if target.Reason.FirstUse {
		lines = append(lines, fmt.Sprintf("New: %s. %s %s %s", rung.Name, rung.Cue, rung.SetUp, rung.Caution))
	}
	if target.Reason.StopGap {
		lines = append(lines, sentence(rung.Name+" are a stop-gap: let your coach look at the next rung with you"))
	}
	return lines
}

func lowerFirst(text string) string {
	if text == "" {
		return ""
	}
	return strings.ToLower(text[:1]) + text[1:]
}

// Because is a target's reason.
func Because(target training.Target) string {
	r := target.Reason
	if target.Tries > 0 {
		words := "every blocking gate is open and today is allowed; stop after two alike, someone within call"
		if len(r.Lower) > 0 {
			words += "; lower out, as " + andList(r.Lower) + " are not shown"
		}
		return words
	}
	switch r.Rule {
	case 1:
		return comeBackWords(r)
	case 2:
		return startWords(r)
	case 3:
		return keepWords(target)
	case 4:
		if r.Percent == 100 {
			return fmt.Sprintf("%d days since %s: the same again", r.Days, dateWords(r.Since))
		}
		return fmt.Sprintf("%d days since %s, so %d %% of it", r.Days, dateWords(r.Since), r.Percent)
	case 5:
		return fmt.Sprintf("three sessions down (%s, %s, %s), so a step back",
			shortRatio(r.Fell[0]), shortRatio(r.Fell[1]), shortRatio(r.Fell[2]))
	case 6:
		return hardWords(r)
	}
	if !r.Mean.Less(training.Ratio{Num: r.Standard.Work, Den: 1}) {
		return fmt.Sprintf("%s on %s, and the standard is enough", shortRatio(r.Mean), dateWords(r.Since))
	}
	return fmt.Sprintf("a step up from %s on %s", shortRatio(r.Mean), dateWords(r.Since))
}

func comeBackWords(r training.Reason) string {
	share := "half"
	if r.Percent != 50 {
		share = "three quarters"
	}
	if r.Since == 0 {
		return fmt.Sprintf("returning, session %d of 2: %s of a beginning", r.Back+1, share)
	}
	return fmt.Sprintf("returning, session %d of 2: %s of what you did on %s", r.Back+1, share, dateWords(r.Since))
}

func startWords(r training.Reason) string {
	switch {
	case r.MovedUp:
		return "the rung before has met its standard, so on to this one, with a third of its standard"
	case r.Baseline:
		return "baseline: log what you can do in good form"
	}
	return "a third of the standard to begin"
}

func keepWords(target training.Target) string {
	if target.Sets == 1 {
		return "the gate is open: one set keeps it"
	}
	return "the gate is open: show it again to keep it"
}

func hardWords(r training.Reason) string {
	switch {
	case r.Effort > 0:
		return fmt.Sprintf("effort %d on %s, so the same again", r.Effort, dateWords(r.Since))
	case r.Failed:
		return fmt.Sprintf("a set was cut short on %s, so the same again", dateWords(r.Since))
	}
	return fmt.Sprintf("from %d to %d over the sets on %s, so the same again", r.First, r.Last, dateWords(r.Since))
}

// shortRatio prints a mean with at most one decimal.
func shortRatio(r training.Ratio) string { return training.Hecto(r.Rounded(10)).String() }

// planWords names the allowed days ahead.
func planWords(plan Plan) string {
	if len(plan.Days) == 0 {
		return fmt.Sprintf("No allowed day in the coming %d.", plan.Ahead)
	}
	var list []string
	for _, day := range plan.Days {
		list = append(list, dayWords(day))
	}
	return fmt.Sprintf("Your days in the coming %d: %s.", plan.Ahead, strings.Join(list, ", "))
}

// FirstDone offers to tell the team of somebody's first attempt that came off.
func FirstDone(rung string) string {
	return "Your first " + rung + ". Well done. Shall the team hear of it? " +
		"Tap “tell” and I say so in the channel; else it stays between us. What you have shown still needs showing every four weeks."
}

// Told tells the team of it.
func Told(name, rung string, day training.Day) string {
	return fmt.Sprintf("%s did a first strict %s on %s ✓", name, rung, dayWords(day))
}
