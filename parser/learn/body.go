package learn

// Places is a set of the kinds of places of the body that a message names.
type Places uint8

// Kinds of places; a run of sets counts as one.
const (
	Sets Places = 1 << iota
	Joint
	Muscle
	OtherPart
	Skinned
	Limb
)

// places are the meanings that name one.
var places = map[meaning]Places{
	lexicon.names["joint"]: Joint, lexicon.names["muscle"]: Muscle, lexicon.names["part"]: OtherPart,
	lexicon.names["skin"]: Skinned, lexicon.names["limb"]: Limb,
}

// BodyFeatures are the features of a message for the reader of the body, good
// until the next call; none if no word of it may speak of a body. The table is
// asked for its vocabulary only.
func (r *Reader) BodyFeatures(tokens []Token, table *Table) []uint64 {
	r.features, r.named = r.features[:0], 0
	if !r.read(tokens, table) {
		return nil
	}
	for i := range r.symbols {
		s := &r.symbols[i]
		r.named |= places[s.meaning]
		if s.class == Entry {
			r.named |= Sets
		}
	}
	joint := KindJoint
	if r.named&Joint != 0 {
		joint++
	}
	for i := range r.symbols {
		r.bodyToken(i, joint)
		r.letters(i, tokens)
	}
	r.emit(KindBody, idCount+uint64(r.named), 0)
	r.emit(KindCount, upTo(len(r.symbols)/2, 6), 0)
	r.emit(KindFirst, r.kin(0), 0)
	r.emit(KindFirst, r.kin(0), r.kin(1))
	return r.features
}

// Named are the places that the message names that BodyFeatures were last asked
// of.
func (r *Reader) Named() Places { return r.named }

// bodyToken emits what is said by one token and those beside it.
func (r *Reader) bodyToken(i int, joint Kind) {
	s := &r.symbols[i]
	r.emit(KindWord, s.id, 0)
	if s.kin != s.id {
		r.emit(KindWord, s.kin, 0)
		r.words(i)
		r.around(i)
	}
	r.emit(joint, s.kin, 0)
	r.kins(i)
	r.together(i)
	r.ending(i)
}

// around emits what stands within four tokens of a word with a meaning.
func (r *Reader) around(at int) {
	for d := -4; d <= 4; d++ {
		if d != 0 {
			r.emit(KindNear+Kind(d+4), r.symbols[at].kin, r.kin(at+d))
		}
	}
}

// ending emits, at the end of a sentence, the sign it ends with and its first
// word.
func (r *Reader) ending(end int) {
	s := &r.symbols[end]
	if end+1 < len(r.symbols) && r.symbols[end+1].sentence == s.sentence {
		return
	}
	sign, first := idNone, end
	if s.class == Sign {
		sign = s.id
	}
	for first > 0 && end-first < reach && r.symbols[first-1].sentence == s.sentence {
		first--
	}
	r.emit(KindEnd, sign, r.kin(first))
	r.emit(KindLast, s.kin, 0)
}
