package learn

// Kind is the kind of a feature. It stands in the feature's low bits, so that the
// same word in two roles makes two features, and so that fitting can trust one
// kind more than another.
type Kind uint64

// Kinds of features. Where there are several in a row, the first is named.
const (
	KindWord     Kind = 1  // a word anywhere
	KindZone     Kind = 2  // a word and in which of 6 zones around the entry it stands
	KindNear     Kind = 8  // a word and how many tokens behind the entry or joint it stands, from -4 to 4
	KindPair     Kind = 17 // two words in a row
	KindTriple   Kind = 18 // three words in a row
	KindTogether Kind = 19 // two meanings at most eight tokens apart
	KindFirst    Kind = 20 // what opens the message
	KindOpener   Kind = 21 // what opens the entry's sentence; the next kind, what opens its part of it
	KindLast     Kind = 23 // what ends the message
	KindEnd      Kind = 24 // the sign at the end of a sentence
	KindAround   Kind = 25 // what stands on both sides of the entry
	KindCount    Kind = 26 // one of 6 counts
	KindJoint    Kind = 32 // a word in a message that names no joint; the next kind, in one that does
	KindBody     Kind = 34 // which places of the body are named
	KindLetter   Kind = 35 // letters of an unknown word

	KindBits = 6 // how many low bits of a feature hold its kind
)

// KindOf returns the kind of a feature.
func KindOf(feature uint64) Kind { return Kind(feature & (1<<KindBits - 1)) }

func feature(kind Kind, a, b uint64) uint64 {
	return mix(uint64(kind), a, b)&^(1<<KindBits-1) | uint64(kind)
}

// WordKey returns the key of a folded word in a table.
func WordKey(word []byte) uint64 { return mix(0, hash(word), 0) }

func (r *Reader) emit(kind Kind, a, b uint64) { r.features = append(r.features, feature(kind, a, b)) }

// id returns the identity of symbol i; idNone if i lies past either end.
func (r *Reader) id(i int) uint64 {
	if uint(i) >= uint(len(r.symbols)) {
		return idNone
	}
	return r.symbols[i].id
}

// kin returns the identity of its meaning, or of itself where it has none.
func (r *Reader) kin(i int) uint64 {
	if uint(i) >= uint(len(r.symbols)) {
		return idNone
	}
	return r.symbols[i].kin
}

// chain emits the pair and the triple that begin at a token, of words or of
// meanings.
func (r *Reader) chain(a, b, c uint64) {
	r.emit(KindPair, a, b)
	if b != idNone {
		r.emit(KindTriple, mix(0, a, b), c)
	}
}

func (r *Reader) words(i int) { r.chain(r.id(i), r.id(i+1), r.id(i+2)) }
func (r *Reader) kins(i int)  { r.chain(r.kin(i), r.kin(i+1), r.kin(i+2)) }

// meant reports whether one of the three tokens that chain joins from i on has a
// meaning.
func (r *Reader) meant(i int) bool {
	for k := i; k < min(i+3, len(r.symbols)); k++ {
		if r.symbols[k].meaning != 0 {
			return true
		}
	}
	return false
}

// together emits the pairs of a token, by its meaning, with the eight tokens
// behind it.
func (r *Reader) together(i int) {
	if r.symbols[i].sign() {
		return
	}
	for k := i + 1; k < min(i+9, len(r.symbols)); k++ {
		if !r.symbols[k].sign() {
			r.emit(KindTogether, r.kin(i), r.kin(k))
		}
	}
}

func (s *symbol) sign() bool { return s.class == Sign || s.class == Line }

// letters emits the runs of three to five letters of an unknown word.
func (r *Reader) letters(i int, tokens []Token) {
	if s := &r.symbols[i]; s.class != Word || s.known || s.id == idName {
		return
	}
	word := tokens[i].Text
	for n := 3; n <= 5; n++ {
		for from := -1; from+n <= len(word)+1 && from < slipMost; from++ {
			run := uint64(n)
			for k := from; k < from+n; k++ {
				c := byte('_')
				if k >= 0 && k < len(word) {
					c = word[k]
				}
				run = run<<8 ^ uint64(c)
			}
			r.emit(KindLetter, run, 0)
		}
	}
}
