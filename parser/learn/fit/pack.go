package main

import (
	"cmp"
	"encoding/binary"
	"slices"
)

// How many bits the numbers of buckets have.
const (
	wordBits    = 10
	featureBits = 12
)

// pack returns a table in the bytes that learn.NewTable reads.
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

// packIndex appends an index of the keys to out, and returns the order in which
// they stand in it, as indices of keys.
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

// numbers appends each number as 16 bits.
func numbers(out []byte, list ...int) []byte {
	for _, n := range list {
		out = binary.LittleEndian.AppendUint16(out, uint16(n))
	}
	return out
}
