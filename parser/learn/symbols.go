package learn

import (
	"bytes"
	"math/bits"
)

// symbol is a token as features need it.
type symbol struct {
	id       uint64 // the identity of the word; of anything else, that of its class
	kin      uint64 // the identity of the word's meaning; id where it has none
	class    Class
	meaning  meaning
	known    bool   // it is a word of the table's vocabulary
	sentence uint16 // the number of its sentence in the message, from 0
	segment  uint16 // the number of its part of a sentence in the message, from 0; commas, dashes and brackets end a part
}

// Identities of symbols that are not words of the vocabulary.
const (
	idNone    uint64 = iota + 1 // past either end
	idName                      // an unknown word with a capital letter inside a sentence
	idOpens                     // an unknown word with a capital letter at the head of a sentence
	idOther                     // any other unknown word
	idNumber                    // a number that belongs to no set
	idSelf                      // the entry whose features are asked for
	idOwner                     // a word that ended in 's
	idClass                     // this plus a class is the identity of the class
	idCount   uint64 = 100      // this plus a number is the identity of the count
	idMeaning uint64 = 200      // this plus a meaning is the identity of the meaning
)

const maxTokens = 1 << 12

// mix returns one identity for a kind and two identities.
func mix(kind, a, b uint64) uint64 {
	h := a*0x9E3779B97F4A7C15 ^ bits.RotateLeft64(b*0xC2B2AE3D27D4EB4F, 29) ^ kind*0x165667B19E3779F9
	h ^= h >> 32
	h *= 0xD6E8FEB86659FD93
	return h ^ h>>29
}

// read turns tokens into r.symbols, with the table's vocabulary. It reports
// whether a word that may speak of a body is among them.
func (r *Reader) read(tokens []Token, table *Table) bool {
	r.symbols = r.symbols[:0]
	var sentence, segment uint16
	opens, cue := true, false
	for i := range tokens[:min(len(tokens), maxTokens)] {
		t := &tokens[i]
		s := symbol{class: t.Class, sentence: sentence, segment: segment}
		switch t.Class {
		case Word:
			s.word(t, opens, table)
			cue = cue || lexicon.cues[s.meaning]
			opens = false
		case Sign, Line:
			end, part := parting(t)
			if end {
				sentence++
			}
			if end || part {
				segment++
			}
			opens = opens || end
			s.id = signID(t)
		case Mark:
			s.id = hash(t.Text)
		default:
			s.id = classID(t)
			opens = false
		}
		if s.kin = s.id; s.meaning != 0 {
			s.kin = idMeaning + uint64(s.meaning)
		}
		r.symbols = append(r.symbols, s)
	}
	return cue
}

func signID(t *Token) uint64 {
	if t.Class == Line {
		return idClass + uint64(Line)
	}
	return hash(t.Text)
}

// classID returns the identity of a token that is no word. Of all numbers 0 and 10
// have identities of their own, for how much it hurts is said as n/10.
func classID(t *Token) uint64 {
	if t.Class != Number {
		return idClass + uint64(t.Class)
	}
	switch string(t.Text) {
	case "0", "10":
		return hash(t.Text)
	}
	return idNumber
}

// word fills in the symbol of a word. An unknown word is nothing but an unknown
// word, or if it has a capital letter a name: no names of people are learned.
func (s *symbol) word(t *Token, opens bool, table *Table) {
	s.mean(t.Text, table)
	switch {
	case s.known:
	case t.Capital && !opens:
		s.id = idName
	case t.Capital:
		s.id = idOpens
	default:
		s.id = idOther
	}
}

// mean fills in a word's identity and meaning and whether it is known. A word that
// is a slip of a forgiven one has the meaning of that.
func (s *symbol) mean(word []byte, table *Table) {
	s.meaning, s.id = lexicon.of(word)
	if i := bytes.IndexByte(word, '\''); i >= 0 && s.meaning == 0 { // l'épaule
		word = word[i+1:]
		s.meaning, s.id = lexicon.of(word)
	}
	s.known = s.meaning != 0 || table.words.find(mix(0, s.id, 0)) >= 0
	if !s.known {
		s.meaning = lexicon.near(word, s.id)
	}
}

// parting reports whether a token ends a sentence, and whether it ends a part of
// one.
func parting(t *Token) (sentence, part bool) {
	if t.Class == Line {
		return true, false
	}
	if len(t.Text) != 1 {
		return false, false
	}
	switch t.Text[0] {
	case '.', '!', '?':
		return true, false
	case ',', ';', ':', '-', '(', ')', '"':
		return false, true
	}
	return false, false
}
