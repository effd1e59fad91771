package main

import (
	"cmp"
	"slices"
	"sync"

	"rungbook/parser/learn"
)

// outcome is what a table that had not seen a line said of it.
type outcome struct {
	line   *line
	scores [3]int // by plane
	named  learn.Places
}

// heldOut asks, of each line, a table fitted on one line in every few of the
// authors in other folds.
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

// silent is the score of a message that holds no word of a body.
const silent = -30000

// ask scores a line; of several samples the one counts that decides: the highest
// where nothing is to be stored, else the lowest. Not ok where it has none.
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

// wants reports whether a line is to be found.
func (k *task) wants(l *line) bool { return slices.Contains(k.wanted, l.label) }

// scale is a sorted list of scores of strangers' lines, in which every author
// weighs the same.
type scale struct {
	scores []int
	upTo   []float64 // share of lines before each; one more, which is 1
}

// strangers returns the scores of a plane by labels.
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

// above is the share of scores at or above a threshold.
func (x scale) above(threshold int) float64 {
	i, _ := slices.BinarySearch(x.scores, threshold)
	return max(0, 1-x.upTo[i])
}

// leaving is the lowest threshold that leaves at most a share at or above it.
func (x scale) leaving(share float64) int {
	for i := len(x.scores) - 1; i >= 0; i-- {
		if 1-x.upTo[i] > share {
			return x.scores[i] + 1
		}
	}
	return 0
}

// keeping is the highest threshold that leaves at most a share below it.
func (x scale) keeping(share float64) int {
	for i := range x.scores {
		if x.upTo[i+1] > share {
			return x.scores[i]
		}
	}
	return 0
}

// telling is where two scales are told apart best: the threshold at which the
// shares on the wrong sides are least.
func telling(wanted, others scale) int {
	best, least := 0, 3.0
	for _, t := range wanted.scores {
		if wrong := 1 - wanted.above(t) + others.above(t); wrong < least {
			best, least = t, wrong
		}
	}
	return best
}

// order is the share of pairs of both scales that stand in the right order.
func order(wanted, others scale) float64 {
	right := 0.0
	for i, s := range wanted.scores {
		right += float64((wanted.upTo[i+1] - wanted.upTo[i]) * (1 - others.above(s)))
	}
	return right
}
