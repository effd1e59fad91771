package learn

import (
	"encoding/binary"
	"errors"
)

// index finds keys. A key's high bits say in which bucket it stands, where 16 more
// of its bits, the print, are kept. So a key that is not in the index is hardly
// ever taken for one that is.
type index struct {
	shift  uint     // key >> shift is the number of its bucket
	ends   []uint16 // where in prints each bucket begins, and last, where the last bucket ends
	prints []uint16 // of the keys, bucket by bucket
}

// find returns the index in prints of a key's print, or -1.
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

// Table is what fitting gives: the words that were met, and the weights of
// features. The zero value knows no word and no feature.
type Table struct {
	Thresholds []int16 // with which scores are compared; see ReportPlanes and BodyPlanes
	words      index   // the vocabulary, by WordKey
	features   index
	weights    [][]int8 // by plane, then by place in features
}

var errTable = errors.New("no table of weights")

// tableBytes reads the parts of a table one after the other. It is spoilt once
// there were too few bytes for a part.
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
	head := b.numbers(2) // how many bits the number of a bucket has, how many keys there are
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

// NewTable reads a table from bytes: how many thresholds and planes there are, the
// thresholds, the index of the words, the index of the features, and the weights
// plane by plane. An index is how many bits the number of a bucket has, how many
// keys there are, where the buckets begin, and the prints. The error says that
// there are too few bytes or too many.
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

// Score adds up the features' weights in each plane and divides the sums by
// Length, so that a short message can be as sure as a long one. The scores must be
// 0 before; a plane that the table lacks leaves all of them 0.
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

// Length returns by what the sum of so many weights is divided, times 256. It is
// the square root of their number, and 1 (256) for a hundred, a usual number.
func Length(features int) int {
	root, square := 1, 256*256*max(features, 1)/100
	for root*root < square {
		root++
	}
	return root
}
