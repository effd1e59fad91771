package learn

// Kind is what a feature says. It is kept in the low bits of the feature, so
// that the same words in different roles stay apart, and so that the fitting
// can trust one kind more than another.
type Kind uint64

// Kinds of features; some stand for a row of them.
const (
	KindWord     Kind = 1  // a word anywhere
	KindZone     Kind = 2  // a word by where it stands to the entry: 6 zones
	KindNear     Kind = 8  // a word by how far from the entry or joint it stands: -4 to 4
	KindPair     Kind = 17 // two words in a row
	KindTriple   Kind = 18
	KindTogether Kind = 19 // two meanings up to eight apart
	KindFirst    Kind = 20 // what opens the message
	KindOpener   Kind = 21 // the sentence of the entry, and its part
	KindLast     Kind = 23
	KindEnd      Kind = 24 // the sign a sentence ends with
	KindAround   Kind = 25 // what stands on either side of the entry
	KindCount    Kind = 26 // 6 counts
	KindJoint    Kind = 32 // a word without a joint in the message, and with one
	KindBody     Kind = 34 // which places of the body are named
	KindLetter   Kind = 35 // letters of an unknown word

	KindBits = 6 // of a feature, at its low end
)

// KindOf returns the kind of a feature.
func KindOf(feature uint64) Kind { return Kind(feature & (1<<KindBits - 1)) }

func feature(kind Kind, a, b uint64) uint64 {
	return mix(uint64(kind), a, b)&^(1<<KindBits-1) | uint64(kind)
}

// WordKey is the key by which a table knows a folded word.
func WordKey(word []byte) uint64 { return mix(0, hash(word), 0) }

func (r *Reader) emit(kind Kind, a, b uint64) { r.features = append(r.features, feature(kind, a, b)) }

// id returns the identity of the symbol at a place; idNone past either end.
func (r *Reader) id(i int) uint64 {
	if uint(i) >= uint(len(r.symbols)) {
		return idNone
	}
	return r.symbols[i].id
}

// kin returns that of its meaning.
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

// meant reports whether any of the tokens that chain looks at has a meaning.
func (r *Reader) meant(i int) bool {
	for k := i; k < min(i+3, len(r.symbols)); k++ {
		if r.symbols[k].meaning != 0 {
			return true
		}
	}
	return false
}

// together emits pairs of a token with those farther behind it.
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

// letters emits runs of three to five letters of an unknown word.
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
