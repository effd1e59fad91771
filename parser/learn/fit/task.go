package main

import (
	"bytes"
	"cmp"
	"slices"
	"strings"

	"rungbook/parser/learn"
)

// task is what fitting needs to know of one of the two readers.
type task struct {
	name       string
	planes     int
	keep       int // how many features its table holds
	samples    func(*line) []sample
	features   func(*learn.Reader, sample, *learn.Table) []uint64
	targets    func(label string) []int8 // by plane 1 or -1; nil for lines that teach nothing
	thresholds func([]outcome) []int16
	wanted     []string // the labels of lines that are to be found
	others     string   // the label of lines that must not be taken for those
	most       float64  // the share of others that may be taken for wanted ones, in the learning curve
	verdicts   []string // what the reader answers, in words, by the number of its answer
}

// sample is an entry of a line that a reader is asked about, or the whole line.
type sample struct {
	line   *line
	tokens []learn.Token
	at     int
}

var report = task{
	name: "report", planes: learn.ReportPlanes, keep: 48000, samples: entries,
	features: func(r *learn.Reader, s sample, t *learn.Table) []uint64 { return r.ReportFeatures(s.tokens, s.at, t) },
	targets: func(label string) []int8 {
		switch label {
		case "yes":
			return []int8{1}
		case "no":
			return []int8{-1}
		}
		return nil
	},
	thresholds: reportThresholds, wanted: []string{"yes"}, others: "no", most: storedMost,
	verdicts: []string{"silent", "asked", "stored"},
}

var body = task{
	name: "body", planes: learn.BodyPlanes, keep: 16000, samples: whole,
	features: func(r *learn.Reader, s sample, t *learn.Table) []uint64 { return r.BodyFeatures(s.tokens, t) },
	targets: func(label string) []int8 {
		switch label {
		case "stop":
			return []int8{1, -1, -1}
		case "urgent":
			return []int8{1, 1, -1}
		case "skin":
			return []int8{-1, -1, 1}
		case "none":
			return []int8{-1, -1, -1}
		}
		return nil
	},
	thresholds: bodyThresholds, wanted: []string{"stop", "urgent"}, others: "none", most: stoppedMost,
	verdicts: []string{"nothing", "ask", "skin", "stop", "urgent"},
}

// entries returns the entries of a line of which its label is true: all of them,
// but of a mixed line the first alone.
func entries(l *line) []sample {
	var out []sample
	for at := range l.tokens {
		if !l.asked || l.tokens[at].Class != learn.Entry {
			continue
		}
		out = append(out, sample{l, l.tokens, at})
		if l.mixed() {
			break
		}
	}
	return out
}

// mixed reports whether a line labelled as a report may hold sets that were
// planned or are somebody else's too.
func (l *line) mixed() bool {
	return l.label != "no" && (l.class == "mixed" || strings.HasPrefix(l.class, "beside"))
}

func whole(l *line) []sample { return []sample{{l, l.tokens, 0}} }

// fit returns the words, features and weights that the lines teach, as pack takes
// them.
func (k *task) fit(lines []line) (words, features []uint64, weights [][]int8) {
	words = vocabulary(lines)
	known := newTable(words, nil, nil)
	var r learn.Reader
	var examples []example
	rnd := random(1)
	for i := range lines {
		y := k.targets(lines[i].label)
		if y == nil {
			continue
		}
		for _, s := range k.samples(&lines[i]) {
			examples = append(examples, newExample(k.features(&r, s, known), y, 1))
			examples = append(examples, newExample(k.features(&r, s.thinned(&rnd), known), y, thinnedWeight))
		}
	}
	examples = slices.DeleteFunc(examples, func(e example) bool { return len(e.features) == 0 })
	features, weights = train(examples, k.planes).quantised(k.keep)
	return words, features, weights
}

func newTable(words, features []uint64, weights [][]int8) *learn.Table {
	t, err := learn.NewTable(pack(words, features, weights, nil))
	if err != nil {
		panic(err) // NewTable reads what pack writes
	}
	return t
}

// thinned returns the sample with one word in seven left out, at random. It
// teaches a reader not to rely on a single word.
func (s sample) thinned(rnd *random) sample {
	out := sample{line: s.line, at: s.at}
	for i, t := range s.tokens {
		if i == s.at {
			out.at = len(out.tokens)
		}
		if t.Class != learn.Word || rnd.next()%7 != 0 {
			out.tokens = append(out.tokens, t)
		}
	}
	return out
}

// vocabulary returns the keys of words that stand in two lines or more,
// ascending. It leaves out people's names, which say nothing about others, and
// words that are slips of a forgiven word, unless they stand in chatter, which
// is spelt well: Spain is no slip of sprain.
func vocabulary(lines []line) []uint64 {
	type tally struct {
		lines, last int
		chatter     bool
	}
	met := map[string]tally{}
	for i := range lines {
		for _, t := range lines[i].tokens {
			w := t.Text
			if _, tail, cut := bytes.Cut(w, []byte("'")); cut {
				w = tail
			}
			n := met[string(w)]
			if t.Class == learn.Word && (n.lines == 0 || n.last != i) {
				met[string(w)] = tally{n.lines + 1, i, n.chatter || lines[i].chatter()}
			}
		}
	}
	var out []uint64
	for w, n := range met {
		if n.lines > 1 && !people[w] && (n.chatter || !learn.Slip([]byte(w))) {
			out = append(out, learn.WordKey([]byte(w)))
		}
	}
	slices.Sort(out)
	return out
}

// quantised returns the so many features with the greatest weights, and their
// weights as small integers.
func (m *model) quantised(keep int) ([]uint64, [][]int8) {
	order := make([]int, len(m.features))
	most := make([]float64, len(m.features))
	for i := range order {
		order[i] = i
		for _, w := range m.weights {
			most[i] = max(most[i], w[i], -w[i])
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(most[b], most[a]) })
	weights := make([][]int8, len(m.weights))
	var features []uint64
	for _, i := range order[:min(len(order), keep)] {
		features = append(features, m.features[i])
		for p := range weights {
			weights[p] = append(weights[p], small(m.weights[p][i]))
		}
	}
	return features, weights
}

// unit is the integer for a weight of 1.
const unit = 400

func small(w float64) int8 {
	w = float64(w * unit)
	if w < 0 {
		return int8(max(w-0.5, -127))
	}
	return int8(min(w+0.5, 127))
}
