package main

import (
	"bytes"
	"cmp"
	"slices"
	"strings"

	"rungbook/parser/learn"
)

// task is one of the two readers, as fitting sees it.
type task struct {
	name       string
	planes     int
	keep       int // features that its table holds
	samples    func(*line) []sample
	features   func(*learn.Reader, sample, *learn.Table) []uint64
	targets    func(label string) []int8 // by plane; nil for lines that teach nothing
	thresholds func([]outcome) []int16
	wanted     []string // labels that are to be found
	others     string   // the label that must not be taken for them
	most       float64  // share of others that may be
	verdicts   []string // words for what the reader answers, by its number
}

// sample is a place in a line that is asked about.
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

// entries are the entries of a line that its label is true of: all of them, but for
// reports beside which there may be a plan or somebody else's work: there the first.
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

// mixed reports whether a report may hold sets that are none.
func (l *line) mixed() bool {
	return l.label != "no" && (l.class == "mixed" || strings.HasPrefix(l.class, "beside"))
}

func whole(l *line) []sample { return []sample{{l, l.tokens, 0}} }

// fit returns the words, features and weights that lines teach.
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
		panic(err) // pack and NewTable are made for each other
	}
	return t
}

// thinned is a sample with a word in seven left out, so that no single word is
// relied on alone.
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

// vocabulary lists the words that stand in two lines or more as keys, in order.
// People's names are left out, for they say nothing about others, and so are slips of
// the finger that are not met in chatter, which is spelt well (Spain is no sprain).
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

// quantised returns the features of the greatest weights, keep of them, with
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

// unit is what a weight of 1 is as an integer.
const unit = 400

func small(w float64) int8 {
	w = float64(w * unit)
	if w < 0 {
		return int8(max(w-0.5, -127))
	}
	return int8(min(w+0.5, 127))
}
