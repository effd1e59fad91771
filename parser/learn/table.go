package learn

import (
	"encoding/binary"
	"errors"
)

// index finds keys by the bucket that their high bits say and a print of 16
// bits more, so that a key that is not in it hardly ever meets one that is.
type index struct {
	shift  uint     // of a key down to its bucket
	ends   []uint16 // where each bucket begins, and where the last ends
	prints []uint16
}

// find returns the place of a key, or -1.
func (x *index) find(key uint64) int {
	if len(x.ends) == 0 {
		return -1
	}
	bucket, print := key>>x.shift, uint16(key>>(x.shift-16))
	for i := x.ends[bucket]; i < x.ends[bucket+1]; i++ {
		if x.prints[i] == print {
			return int(i)
		}
	}
	return -1
}

// Table is what was fitted: the words that were met, and the weights of
// features. The zero value knows nothing.
type Table struct {
	Thresholds []int16 // what scores are held against; what each means is the reader's
	words      index
	features   index
	weights    [][]int8 // by plane, then feature
}

var errTable = errors.New("no table of weights")

// tableBytes reads the parts of a table; it is spoilt by an early end.
type tableBytes struct {
	raw    []byte
	spoilt bool
}

func (b *tableBytes) take(n int) []byte {
	if b.spoilt = b.spoilt || n > len(b.raw); b.spoilt {
		return nil
	}
	out := b.raw[:n]
	b.raw = b.raw[n:]
	return out
}

func (b *tableBytes) numbers(n int) []uint16 {
	raw := b.take(2 * n)
	out := make([]uint16, len(raw)/2)
	for i := range out {
		out[i] = binary.LittleEndian.Uint16(raw[2*i:])
	}
	return out
}

func (b *tableBytes) index() index {
	head := b.numbers(2) // bits of a bucket's number, keys
	if b.spoilt || head[0] > 16 {
		b.spoilt = true
		return index{}
	}
	x := index{shift: 64 - uint(head[0]), ends: b.numbers(1<<head[0] + 1), prints: b.numbers(int(head[1]))}
	for i := 1; i < len(x.ends); i++ {
		b.spoilt = b.spoilt || x.ends[i] < x.ends[i-1] || int(x.ends[i]) > len(x.prints)
	}
	return x
}

// NewTable reads a table from its bytes: how many thresholds and planes there
// are, the thresholds, the index of the words, that of the features, and the
// weights plane by plane. An index is the bits of its buckets, how many keys it
// has, where the buckets begin, and the prints.
func NewTable(raw []byte) (*Table, error) {
	b := &tableBytes{raw: raw}
	head := b.numbers(2)
	if b.spoilt {
		return nil, errTable
	}
	t := &Table{weights: make([][]int8, head[1])}
	for _, n := range b.numbers(int(head[0])) {
		t.Thresholds = append(t.Thresholds, int16(n))
	}
	t.words, t.features = b.index(), b.index()
	for p := range t.weights {
		column := b.take(len(t.features.prints))
		t.weights[p] = make([]int8, len(column))
		for i, w := range column {
			t.weights[p][i] = int8(w)
		}
	}
	if b.spoilt || len(b.raw) > 0 {
		return nil, errTable
	}
	return t, nil
}

// Score adds up the weights of features in each plane. A score grows with the
// square root of how many features there are, so that a short message can be as
// sure as a long one.
func (t *Table) Score(features []uint64, scores []int) {
	if len(t.weights) < len(scores) {
		return
	}
	for _, feature := range features {
		if i := t.features.find(feature); i >= 0 {
			for p := range scores {
				scores[p] += int(t.weights[p][i])
			}
		}
	}
	for p := range scores {
		scores[p] = scores[p] * 256 / Length(len(features))
	}
}

// Length is by what a score of so many features is divided, times 256: the root
// of their number as a share of a hundred, which is a usual one.
func Length(features int) int {
	root, square := 1, 256*256*max(features, 1)/100
	for root*root < square {
		root++
	}
	return root
}
