package main

import (
	"bytes"
	"cmp"
	"fmt"
	"maps"
	"slices"

	"rungbook/parser/learn"
)

// Thresholds are chosen so that no greater share of strangers' lines than this is
// answered wrongly. Each line is scored by a table that had seen none of its
// author's lines, and every author weighs the same.
const (
	storedMost  = 0.03  // of lines that are no reports, most of which were written to look like one: stored
	unseenMost  = 0.02  // of reports: neither stored nor asked about
	doubtedMost = 0.01  // of calm reports: asked about
	stoppedMost = 0.03  // of lines about no joint of the author's: stopped
	missedMost  = 0.015 // of lines about a joint of the author's: neither stopped nor asked about
	skinMost    = 0.01  // of lines about no skin: taken for skin
	chatterMost = 0.008 // of chatter: asked about; it was chosen to hold as many words of the body as five times as much talk
)

func reportThresholds(all []outcome) []int16 {
	var calm, rest []outcome
	for _, o := range all {
		if o.line.calm {
			calm = append(calm, o)
		} else {
			rest = append(rest, o)
		}
	}
	yes, no := strangers(rest, 0, "yes"), strangers(rest, 0, "no")
	stored := no.leaving(storedMost)
	return []int16{int16(min(yes.keeping(unseenMost), stored)), int16(stored), int16(strangers(calm, 0, "yes").keeping(doubtedMost))}
}

func bodyThresholds(all []outcome) []int16 {
	joint := func(p learn.Places) bool { return p&learn.Joint != 0 }
	none := func(p learn.Places) bool { return p&learn.Joint == 0 }
	skin := func(p learn.Places) bool { return p&(learn.Skinned|learn.Limb) != 0 }
	urgent, stop := strangers(all, 1, "urgent"), strangers(all, 1, "stop", "none")
	stops := strangers(all, 0, "none").leaving(stoppedMost)
	chatter := func(named func(learn.Places) bool, plane int) int {
		return scaleOf(muted(all, named), plane, (*line).chatter).leaving(chatterMost)
	}
	ask := func(named func(learn.Places) bool) int16 {
		sore := strangers(slices.DeleteFunc(slices.Clone(all), func(o outcome) bool { return !named(o.named) }), 0, "stop", "urgent")
		return int16(min(max(sore.keeping(missedMost), chatter(named, 0)), stops))
	}
	skins := max(strangers(muted(all, skin), 2, "none", "stop", "urgent").leaving(skinMost), chatter(skin, 2))
	return []int16{ask(joint), ask(none), int16(stops), int16(telling(urgent, stop)), int16(skins)}
}

// muted returns the outcomes, with silent for the scores of messages whose places
// named does not accept.
func muted(all []outcome, named func(learn.Places) bool) []outcome {
	out := slices.Clone(all)
	for i := range out {
		if !named(out[i].named) {
			out[i].scores = [3]int{silent, silent, silent}
		}
	}
	return out
}

// verdict returns what the thresholds make of an outcome, as an index of verdicts.
func (k *task) verdict(o outcome, thresholds []int16) int {
	t := learn.Table{Thresholds: thresholds}
	if k.planes == learn.ReportPlanes {
		return int(t.Answer([learn.ReportPlanes]int(o.scores[:learn.ReportPlanes]), o.line.calm))
	}
	return int(t.Care(o.scores, o.named))
}

// describe writes the report on a task.
func (k *task) describe(lines []line, all []outcome, thresholds []int16, features int) []byte {
	var out bytes.Buffer
	fmt.Fprintf(&out, "What the %s reader says of lines by authors it was not taught by.\n", k.name)
	fmt.Fprintf(&out, "Written by go generate ./parser/learn: %d lines, %d features, thresholds %v.\n", len(lines), features, thresholds)
	k.tables(&out, all, thresholds)
	k.curve(&out, lines, all)
	k.misses(&out, all, thresholds)
	return out.Bytes()
}

// tables prints the share of each verdict: of all strangers' lines, by author
// and by class.
func (k *task) tables(out *bytes.Buffer, all []outcome, thresholds []int16) {
	groups := []struct {
		title string
		key   func(*line) string
	}{
		{"strangers, frames left out", func(l *line) string {
			if !l.stranger() {
				return ""
			}
			return "all"
		}},
		{"by author", func(l *line) string { return l.author() }},
		{"by class, strangers", func(l *line) string {
			if !l.stranger() {
				return ""
			}
			return l.class
		}},
	}
	for _, g := range groups {
		counts := map[string][]int{}
		for _, o := range all {
			if key := g.key(o.line); key != "" {
				key += ", " + o.line.label
				if counts[key] == nil {
					counts[key] = make([]int, len(k.verdicts))
				}
				counts[key][k.verdict(o, thresholds)]++
			}
		}
		fmt.Fprintf(out, "\n%-40s %6s", g.title, "lines")
		for _, v := range k.verdicts {
			fmt.Fprintf(out, " %8s", v)
		}
		out.WriteByte('\n')
		for _, key := range slices.Sorted(maps.Keys(counts)) {
			k.shares(out, key, counts[key])
		}
	}
}

func (k *task) shares(out *bytes.Buffer, key string, counts []int) {
	sum := 0
	for _, n := range counts {
		sum += n
	}
	fmt.Fprintf(out, "%-40s %6d", key, sum)
	for _, n := range counts {
		fmt.Fprintf(out, " %7.1f%%", 100*float64(n)/float64(sum))
	}
	out.WriteByte('\n')
}

// curve prints how well labels are told apart when there are fewer lines to learn
// from.
func (k *task) curve(out *bytes.Buffer, lines []line, all []outcome) {
	yes, no := k.wanted[0], k.others
	fmt.Fprintf(out, "\nlearning curve, strangers: a pair of lines, %s and %s, in the right order; ", yes, no)
	fmt.Fprintf(out, "%s found where %.1f%% of %s are taken for it; ", yes, 100*k.most, no)
	fmt.Fprintf(out, "%s taken for it where 2%% of %s are lost\n", no, yes)
	for _, every := range []int{8, 4, 2, 1} {
		part := all
		if every > 1 {
			part = k.heldOut(lines, every)
		}
		wanted, others := strangers(part, 0, k.wanted...), strangers(part, 0, k.others)
		fmt.Fprintf(out, "%6d lines  %5.1f%%  %5.1f%%  %5.1f%%\n", len(lines)/every, 100*order(wanted, others),
			100*wanted.above(others.leaving(k.most)), 100*others.above(wanted.keeping(0.02)))
	}
}

// misses prints the strangers' lines whose scores are farthest on the wrong side.
func (k *task) misses(out *bytes.Buffer, all []outcome, thresholds []int16) {
	sorted := slices.Clone(all)
	slices.SortStableFunc(sorted, func(a, b outcome) int { return cmp.Compare(b.scores[0], a.scores[0]) })
	show := func(title string, labels []string) {
		fmt.Fprintf(out, "\n%s\n", title)
		n := 0
		for _, o := range sorted {
			l := o.line
			if l.stranger() && slices.Contains(labels, l.label) && n < 40 {
				n++
				verdict := k.verdicts[k.verdict(o, thresholds)]
				fmt.Fprintf(out, "%6d %-7s %-10s %-24s %q\n", o.scores[0], verdict, l.hand, l.class, l.text)
			}
		}
	}
	show("highest of "+k.others, []string{k.others})
	slices.Reverse(sorted)
	show("lowest of "+k.wanted[0], k.wanted)
}
