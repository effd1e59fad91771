package learn

// Places is a set of kinds of places of the body. The zero value is the empty set.
type Places uint8

// Kinds of places. A run of sets stands among them, so that a message can be asked
// whether it holds one.
const (
	Sets Places = 1 << iota
	Joint
	Muscle
	OtherPart
	Skinned
	Limb
)

// places holds the kind of place that a meaning names.
var places = map[meaning]Places{
	lexicon.names["joint"]: Joint, lexicon.names["muscle"]: Muscle, lexicon.names["part"]: OtherPart,
	lexicon.names["skin"]: Skinned, lexicon.names["limb"]: Limb,
}

// BodyFeatures returns the features of a message for the reader of the body; none
// if no word of the message may speak of a body. The slice is good until the next
// call. Of the table only the vocabulary is used.
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

// Named returns the places that are named in the message of the last call of
// BodyFeatures.
func (r *Reader) Named() Places { return r.named }

// bodyToken emits the features of one token and those beside it.
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

// around emits the features of what stands within four tokens of a word with a
// meaning.
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
