package learn

import (
	_ "embed"
	"strings"
)

// meaning is a row of meanings.txt: words that the readers may take for one
// another. 0 is none.
type meaning uint8

//go:embed meanings.txt
var meaningsText string

var lexicon = newMeanings(meaningsText)

// meanings finds words by their hashes.
type meanings struct {
	names map[string]meaning
	words hashes
	stems hashes        // of words with a star: how they begin
	slips hashes        // of forgiven words with one letter left out
	lists [256][]string // the forgiven words of a meaning
	cues  [256]bool
}

const (
	stemLeast, stemMost = 3, 12 // letters
	slipLeast, slipMost = 5, 20
)

// newMeanings reads a table of meanings; a cue is marked by an exclamation mark
// behind its name, a forgiven one by a tilde.
func newMeanings(table string) *meanings {
	m := &meanings{names: map[string]meaning{}}
	for line := range strings.Lines(table) {
		name, words, ok := strings.Cut(line, "\t")
		if !ok || strings.HasPrefix(line, "#") {
			continue
		}
		name, cue := strings.CutSuffix(name, "!")
		name, forgiven := strings.CutSuffix(name, "~")
		if m.names[name] == 0 {
			m.names[name] = meaning(len(m.names) + 1)
		}
		of := m.names[name]
		m.cues[of] = m.cues[of] || cue
		for _, word := range strings.Fields(words) {
			m.add(word, of, forgiven)
		}
	}
	return m
}

func (m *meanings) add(word string, of meaning, forgiven bool) {
	if stem, ok := strings.CutSuffix(word, "*"); ok {
		m.stems.add(hash([]byte(stem)), of)
		return
	}
	m.words.add(hash([]byte(word)), of)
	if !forgiven || len(word) < slipLeast {
		return
	}
	m.lists[of] = append(m.lists[of], word)
	for i := range word {
		m.slips.add(hashWithout([]byte(word), i), of)
	}
}

// of returns the meaning of a word and its hash.
func (m *meanings) of(word []byte) (meaning, uint64) {
	h, stem := uint64(hashStart), meaning(0)
	for i, c := range word {
		h = (h ^ uint64(c)) * hashPrime
		if i+1 >= stemLeast && i < stemMost {
			if of := m.stems.find(h); of != 0 {
				stem = of
			}
		}
	}
	if of := m.words.find(h); of != 0 {
		return of, h
	}
	return stem, h
}

// near returns the meaning of the forgiven word that an unknown one may be a
// slip of: a letter too few, too many, another, or two swapped.
func (m *meanings) near(word []byte, h uint64) meaning {
	if len(word) < slipLeast-1 || len(word) > slipMost {
		return 0
	}
	if of := m.slips.find(h); of != 0 || len(word) < slipLeast {
		return of
	}
	for i := range word {
		without := hashWithout(word, i)
		of := m.slips.find(without)
		if of == 0 {
			of = m.words.find(without)
		}
		if of != 0 && m.slip(word, of) {
			return of
		}
	}
	return 0
}

// slip reports whether a word is one slip away from a forgiven one.
func (m *meanings) slip(word []byte, of meaning) bool {
	for _, right := range m.lists[of] {
		if oneSlip(word, right) {
			return true
		}
	}
	return false
}

// oneSlip reports whether one letter was dropped, added or changed, or two were
// swapped.
func oneSlip(word []byte, right string) bool {
	n, m := len(word), len(right)
	i := 0
	for i < n && i < m && word[i] == right[i] {
		i++
	}
	same := func(a, b int) bool { return a <= n && b <= m && string(word[a:]) == right[b:] }
	swapped := i+1 < n && i+1 < m && word[i] == right[i+1] && word[i+1] == right[i]
	return same(i+1, i+1) || same(i+1, i) || same(i, i+1) || swapped && same(i+2, i+2)
}

// Slip reports whether a word without a meaning of its own is one slip of the
// finger away from a word that such are forgiven of.
func Slip(word []byte) bool {
	of, h := lexicon.of(word)
	return of == 0 && lexicon.near(word, h) != 0
}

const (
	hashStart = 14695981039346656037
	hashPrime = 1099511628211
)

// hash returns the identity of a word.
func hash(word []byte) uint64 {
	h := uint64(hashStart)
	for _, c := range word {
		h = (h ^ uint64(c)) * hashPrime
	}
	return h
}

func hashWithout(word []byte, at int) uint64 {
	h := uint64(hashStart)
	for i, c := range word {
		if i != at {
			h = (h ^ uint64(c)) * hashPrime
		}
	}
	return h
}

// hashes maps hashes of words to meanings; the first that is added stays.
type hashes struct {
	keys  []uint64
	of    []meaning
	count int
}

func (t *hashes) slot(h uint64) int {
	mask := len(t.keys) - 1
	i := int(h>>20) & mask
	for t.keys[i] != h && t.of[i] != 0 {
		i = (i + 1) & mask
	}
	return i
}

func (t *hashes) add(h uint64, of meaning) {
	if t.count*4 >= len(t.keys) {
		old := *t
		*t = hashes{make([]uint64, max(64, 2*len(old.keys))), make([]meaning, max(64, 2*len(old.keys))), 0}
		for i, key := range old.keys {
			if old.of[i] != 0 {
				t.add(key, old.of[i])
			}
		}
	}
	if i := t.slot(h); t.of[i] == 0 {
		t.keys[i], t.of[i] = h, of
		t.count++
	}
}

func (t *hashes) find(h uint64) meaning {
	if len(t.keys) == 0 {
		return 0
	}
	return t.of[t.slot(h)]
}
