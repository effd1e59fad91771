package main

import (
	"slices"

	"rungbook/parser/learn"
)

// Numbers on which fitting depends. They were chosen by what the folds say.
const (
	cost          = 0.01 // what an error costs beside the size of the weights
	rounds        = 8    // how often all examples are gone through
	least         = 2    // in how many examples a feature must stand
	thinnedWeight = 0.5  // what an error on a thinned example costs beside one on a whole example
)

// trusts is by how much features of a kind are scaled, where that is not 1: the
// more, the more the kind is relied on.
var trusts = [1 << learn.KindBits]float64{
	learn.KindWord: 2, learn.KindJoint: 2, learn.KindJoint + 1: 2,
	learn.KindTogether: 0.6,
}

func trust(kind learn.Kind) float64 {
	if t := trusts[kind]; t != 0 {
		return t
	}
	return 1
}

// example is the features of a sample, each with how often it stands there.
type example struct {
	features []uint64
	counts   []float64
	y        []int8 // by plane, 1 or -1: on which side it is to lie
	weight   float64
}

func newExample(features []uint64, y []int8, weight float64) example {
	scale := 256 / float64(learn.Length(len(features)))
	e := example{y: y, weight: weight}
	sorted := slices.Sorted(slices.Values(features))
	for i, f := range sorted {
		if i > 0 && f == sorted[i-1] {
			e.counts[len(e.counts)-1] += scale
			continue
		}
		e.features = append(e.features, f)
		e.counts = append(e.counts, scale)
	}
	return e
}

// model is the features of all examples, in the order in which they were first
// met, with their weights.
type model struct {
	features []uint64
	weights  [][]float64 // by plane, then feature
}

// random is a small generator that gives the same numbers on every machine.
type random uint64

func (r *random) next() uint64 {
	*r += 0x9E3779B97F4A7C15
	z := uint64(*r)
	z = (z ^ z>>30) * 0xBF58476D1CE4E5B9
	z = (z ^ z>>27) * 0x94D049BB133111EB
	return z ^ z>>31
}

// row is an example by the indices of its features.
type row struct {
	ids    []int32
	values []float64
	square float64
}

// train finds, for each plane, the weights that separate the examples best, by
// squared hinge loss.
func train(examples []example, planes int) *model {
	m := &model{}
	counts := map[uint64]int{}
	for i := range examples {
		for _, f := range examples[i].features {
			counts[f]++
		}
	}
	ids := map[uint64]int32{}
	rows := make([]row, len(examples))
	for i := range examples {
		r := &rows[i]
		for k, f := range examples[i].features {
			if counts[f] < least {
				continue
			}
			id, ok := ids[f]
			if !ok {
				id = int32(len(m.features))
				ids[f] = id
				m.features = append(m.features, f)
			}
			v := float64(examples[i].counts[k] * trust(learn.KindOf(f)))
			r.ids, r.values = append(r.ids, id), append(r.values, v)
			r.square += float64(v * v)
		}
	}
	for p := range planes {
		w := descend(examples, rows, p, len(m.features))
		for i, f := range m.features {
			w[i] = float64(w[i] * trust(learn.KindOf(f)))
		}
		m.weights = append(m.weights, w)
	}
	return m
}

// descend returns the weights of one plane, by dual coordinate descent. The
// conversions to float64 round each product before it is added: without them some
// machines would not round, and give other bits.
func descend(examples []example, rows []row, plane, n int) []float64 {
	w := make([]float64, n)
	alpha := make([]float64, len(rows))
	order := make([]int, len(rows))
	for i := range order {
		order[i] = i
	}
	rnd := random(plane + 1)
	for range rounds {
		for i := len(order) - 1; i > 0; i-- {
			j := int(rnd.next() % uint64(i+1))
			order[i], order[j] = order[j], order[i]
		}
		for _, i := range order {
			r, y := &rows[i], float64(examples[i].y[plane])
			slack := 1 / (2 * cost * examples[i].weight)
			sum := 0.0
			for k, id := range r.ids {
				sum += float64(w[id] * r.values[k])
			}
			slope := float64(y*sum) - 1 + float64(slack*alpha[i])
			next := max(0, alpha[i]-slope/(r.square+slack))
			step := float64((next - alpha[i]) * y)
			alpha[i] = next
			if step == 0 {
				continue
			}
			for k, id := range r.ids {
				w[id] += float64(step * r.values[k])
			}
		}
	}
	return w
}
