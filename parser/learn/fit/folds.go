package main

import (
	"cmp"
	"slices"
	"sync"

	"rungbook/parser/learn"
)

// outcome is what a table says of a line by an author that it was not taught.
type outcome struct {
	line   *line
	scores [3]int // by plane
	named  learn.Places
}

// heldOut returns an outcome for each line, by a table that was fitted on the
// authors of the other folds: on one of every so many of their lines.
func (k *task) heldOut(lines []line, every int) []outcome {
	fold := folds(lines)
	var out [parts][]outcome
	var wait sync.WaitGroup
	for part := range parts {
		wait.Go(func() {
			var others []line
			for i := range lines {
				if fold[lines[i].author()] != part && i%every == 0 {
					others = append(others, lines[i])
				}
			}
			t := newTable(k.fit(others))
			for i := range lines {
				if fold[lines[i].author()] != part {
					continue
				}
				if o, ok := k.ask(t, &lines[i]); ok {
					out[part] = append(out[part], o)
				}
			}
		})
	}
	wait.Wait()
	return slices.Concat(out[:]...)
}

// silent is a score below any threshold, for a message without a word that may
// speak of a body.
const silent = -30000

// ask scores a line. Of several samples it takes the one that decides: the highest
// score where nothing is to be stored, else the lowest. ok is false for a line
// without samples.
func (k *task) ask(t *learn.Table, l *line) (outcome, bool) {
	var r learn.Reader
	out := outcome{line: l}
	samples := k.samples(l)
	for i, s := range samples {
		scores := [3]int{silent, silent, silent}
		if features := k.features(&r, s, t); len(features) > 0 {
			scores = [3]int{}
			t.Score(features, scores[:k.planes])
		}
		decides := scores[0] > out.scores[0]
		if k.wants(l) {
			decides = scores[0] < out.scores[0]
		}
		if i == 0 || decides {
			out.scores, out.named = scores, r.Named()
		}
	}
	return out, len(samples) > 0
}

// wants reports whether the line has one of the labels that are wanted.
func (k *task) wants(l *line) bool { return slices.Contains(k.wanted, l.label) }

// scale is the scores of strangers' lines, ascending, with every author weighing
// the same.
type scale struct {
	scores []int
	upTo   []float64 // by place in scores: the share of the lines before it; and last 1
}

// strangers returns the scores in a plane of the strangers' lines with one of the
// labels.
func strangers(all []outcome, plane int, labels ...string) scale {
	return scaleOf(all, plane, func(l *line) bool { return l.stranger() && slices.Contains(labels, l.label) })
}

func scaleOf(all []outcome, plane int, wanted func(*line) bool) scale {
	lines := map[string]int{}
	var in []outcome
	for _, o := range all {
		if wanted(o.line) {
			in = append(in, o)
			lines[o.line.author()]++
		}
	}
	slices.SortStableFunc(in, func(a, b outcome) int { return cmp.Compare(a.scores[plane], b.scores[plane]) })
	x := scale{upTo: []float64{0}}
	for _, o := range in {
		x.scores = append(x.scores, o.scores[plane])
		x.upTo = append(x.upTo, x.upTo[len(x.upTo)-1]+1/float64(lines[o.line.author()]*len(lines)))
	}
	return x
}

// above returns the share of lines whose score is at or above the threshold.
func (x scale) above(threshold int) float64 {
	i, _ := slices.BinarySearch(x.scores, threshold)
	return max(0, 1-x.upTo[i])
}

// leaving returns the lowest threshold with at most the share of lines at or above
// it.
func (x scale) leaving(share float64) int {
	for i := len(x.scores) - 1; i >= 0; i-- {
		if 1-x.upTo[i] > share {
			return x.scores[i] + 1
		}
	}
	return 0
}

// keeping returns the highest threshold with at most the share of lines below it.
func (x scale) keeping(share float64) int {
	for i := range x.scores {
		if x.upTo[i+1] > share {
			return x.scores[i]
		}
	}
	return 0
}

// telling returns the threshold that tells two scales apart best: at which the
// shares of lines on the wrong side, added up, are least.
func telling(wanted, others scale) int {
	best, least := 0, 3.0
	for _, t := range wanted.scores {
		if wrong := 1 - wanted.above(t) + others.above(t); wrong < least {
			best, least = t, wrong
		}
	}
	return best
}

// order returns the share of pairs, one line of each scale, in which the wanted
// line has the higher score.
func order(wanted, others scale) float64 {
	right := 0.0
	for i, s := range wanted.scores {
		right += float64((wanted.upTo[i+1] - wanted.upTo[i]) * (1 - others.above(s)))
	}
	return right
}
