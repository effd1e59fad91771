package learn

import (
	_ "embed"
	"strings"
)

// meaning is the number of a row of meanings.txt, counted from 1. The words of a
// row are much the same to the readers. 0 is no meaning.
type meaning uint8

//go:embed meanings.txt
var meaningsText string

var lexicon = newMeanings(meaningsText)

// meanings finds words by their hashes.
type meanings struct {
	names map[string]meaning
	words hashes
	stems hashes        // of how words begin that are written with a star
	slips hashes        // of forgiven words without one of their letters; a slip may be near one
	lists [256][]string // by meaning: its forgiven words, in which slips are looked for
	cues  [256]bool     // by meaning: whether it may speak of a body
}

const (
	stemLeast, stemMost = 3, 12 // letters
	slipLeast, slipMost = 5, 20
)

// newMeanings reads a table of meanings. An exclamation mark behind a meaning's
// name says that its words may speak of a body; a tilde, that slips in them are
// forgiven.
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
	h := hash([]byte(word))
	for i, before := 0, uint64(hashStart); i < len(word); i++ {
		after := before*hashFactor + uint64(word[i])
		m.slips.add(h-(after-before)*powers[len(word)-1-i], of)
		before = after
	}
}

// of returns the meaning of a word and its hash.
func (m *meanings) of(word []byte) (meaning, uint64) {
	h, stem := uint64(hashStart), meaning(0)
	for i, c := range word {
		h = h*hashFactor + uint64(c)
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

// near returns the meaning of a forgiven word of which an unknown word may be a
// slip: a letter too few, too many or wrong, or two swapped; 0 where there is
// none.
func (m *meanings) near(word []byte, h uint64) meaning {
	if len(word) < slipLeast-1 || len(word) > slipMost {
		return 0
	}
	if of := m.slips.find(h); of != 0 || len(word) < slipLeast {
		return of
	}
	before := uint64(hashStart)
	for i, c := range word {
		after := before*hashFactor + uint64(c)
		without := h - (after-before)*powers[len(word)-1-i] // the hash of the word without its letter i
		before = after
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

// slip reports whether a word is one slip away from a forgiven word of the
// meaning.
func (m *meanings) slip(word []byte, of meaning) bool {
	for _, right := range m.lists[of] {
		if oneSlip(word, right) {
			return true
		}
	}
	return false
}

// oneSlip reports whether word is right with one letter dropped or added, with one
// replaced by its neighbour on the keyboard, or with two swapped.
func oneSlip(word []byte, right string) bool {
	n, m := len(word), len(right)
	i := 0
	for i < n && i < m && word[i] == right[i] {
		i++
	}
	same := func(a, b int) bool { return a <= n && b <= m && string(word[a:]) == right[b:] }
	if same(i+1, i) || same(i, i+1) {
		return true
	}
	if i >= n || i >= m {
		return false
	}
	swapped := i+1 < n && i+1 < m && word[i] == right[i+1] && word[i+1] == right[i]
	return same(i+1, i+1) && beside(word[i], right[i]) || swapped && same(i+2, i+2)
}

// keys are the rows of letters on a keyboard, from the top.
var keys = [...]string{"qwertyuiop", "asdfghjkl", "zxcvbnm"}

// beside reports whether two letters are neighbours on a keyboard, whose rows
// are shifted by half a key each.
func beside(a, b byte) bool {
	rowA, placeA := key(a)
	rowB, placeB := key(b)
	down, across := rowA-rowB, placeA-placeB
	return rowA >= 0 && rowB >= 0 && down >= -1 && down <= 1 && across >= -2 && across <= 2
}

// key returns the row of a letter and its place in the row, in half keys; -1 for a
// letter that is on no key.
func key(letter byte) (row, place int) {
	for row := range keys {
		if at := strings.IndexByte(keys[row], letter); at >= 0 {
			return row, 2*at + row
		}
	}
	return -1, 0
}

// Slip reports whether a word has no meaning but is one slip of the finger away
// from a forgiven word.
func Slip(word []byte) bool {
	of, h := lexicon.of(word)
	return of == 0 && lexicon.near(word, h) != 0
}

const (
	hashStart  = 14695981039346656037
	hashFactor = 0xD1342543DE82EF95
)

// powers holds the powers of hashFactor, from which near works out the hash of a
// word without one of its letters.
var powers = func() (list [slipMost + 1]uint64) {
	list[0] = 1
	for i := 1; i < len(list); i++ {
		list[i] = list[i-1] * hashFactor
	}
	return list
}()

// hash returns the hash of a word, which is its identity too.
func hash(word []byte) uint64 {
	h := uint64(hashStart)
	for _, c := range word {
		h = h*hashFactor + uint64(c)
	}
	return h
}

// hashes maps hashes of words to meanings. A hash that is added twice keeps its
// first meaning. Where the hash is 0 the place is free.
type hashes struct {
	places []hashed
	count  int
}

type hashed struct {
	key uint64
	of  meaning
}

// place returns where a hash stands, or where it would be added.
func (t *hashes) place(key uint64) int {
	mask := len(t.places) - 1
	i := int(key>>40) & mask
	for t.places[i].key != key && t.places[i].key != 0 {
		i = (i + 1) & mask
	}
	return i
}

func (t *hashes) add(key uint64, of meaning) {
	if t.count*4 >= len(t.places) {
		old := t.places
		t.places, t.count = make([]hashed, max(64, 2*len(old))), 0
		for _, p := range old {
			if p.key != 0 {
				t.add(p.key, p.of)
			}
		}
	}
	if i := t.place(key); t.places[i].key == 0 {
		t.places[i].key, t.places[i].of = key, of
		t.count++
	}
}

// find returns the meaning of a hash, or 0.
func (t *hashes) find(key uint64) meaning {
	if len(t.places) == 0 {
		return 0
	}
	return t.places[t.place(key)].of
}
