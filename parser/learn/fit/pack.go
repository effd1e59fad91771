package main

import (
	"cmp"
	"encoding/binary"
	"slices"
)

// Bits of the numbers of buckets.
const (
	wordBits    = 10
	featureBits = 12
)

// pack writes a table as learn.NewTable reads it.
func pack(words, features []uint64, weights [][]int8, thresholds []int16) []byte {
	out := numbers(nil, len(thresholds), len(weights))
	for _, t := range thresholds {
		out = numbers(out, int(t))
	}
	out, _ = packIndex(out, words, wordBits)
	out, order := packIndex(out, features, featureBits)
	for _, plane := range weights {
		for _, i := range order {
			out = append(out, byte(plane[i]))
		}
	}
	return out
}

// packIndex writes an index of keys, and returns the order they stand in.
func packIndex(out []byte, keys []uint64, bits int) ([]byte, []int) {
	order := make([]int, len(keys))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(keys[a], keys[b]) })
	out = numbers(out, bits, len(keys), 0)
	at := 0
	for bucket := range uint64(1) << bits {
		for at < len(order) && keys[order[at]]>>(64-bits) == bucket {
			at++
		}
		out = numbers(out, at)
	}
	for _, i := range order {
		out = numbers(out, int(keys[i]>>(48-bits)))
	}
	return out, order
}

// numbers appends numbers of 16 bits.
func numbers(out []byte, list ...int) []byte {
	for _, n := range list {
		out = binary.LittleEndian.AppendUint16(out, uint16(n))
	}
	return out
}
