package parser

// wordTable looks words up for the scanner. It is a map with open places, which
// a short word's hash, made once for two tables, finds faster than Go's own.
// Built once, it is only read.
type wordTable struct {
	places []wordPlace
	mask   uint32
}

// wordPlace holds a word; its key is empty where none is kept.
type wordPlace struct {
	hash uint32
	key  string
	word word
}

// newWordTable leaves at least every other place open.
func newWordTable(words map[string]word) wordTable {
	size := 4
	for size < 2*len(words) {
		size *= 2
	}
	t := wordTable{places: make([]wordPlace, size), mask: uint32(size - 1)}
	for key, w := range words {
		if key == "" {
			continue
		}
		hash := hashWord([]byte(key))
		at := hash & t.mask
		for t.places[at].key != "" {
			at = (at + 1) & t.mask
		}
		t.places[at] = wordPlace{hash: hash, key: key, word: w}
	}
	return t
}

// find returns what is kept of a word with that hash, or nil.
func (t *wordTable) find(hash uint32, text []byte) *word {
	for at := hash & t.mask; ; at = (at + 1) & t.mask {
		switch p := &t.places[at]; {
		case p.key == "":
			return nil
		case p.hash == hash && p.key == string(text):
			return &p.word
		}
	}
}

// hashWord is the 32-bit FNV-1a hash, its high bits folded into the low ones that
// choose the place.
func hashWord(text []byte) uint32 {
	hash := uint32(2166136261)
	for _, c := range text {
		hash = (hash ^ uint32(c)) * 16777619
	}
	return hash ^ hash>>15
}
