package learn

import (
	"bytes"
	"math/bits"
)

// symbol is a token as features see it.
type symbol struct {
	id       uint64 // of the word, or of the class where the word says nothing
	kin      uint64 // of its meaning, if it has one; else id again
	class    Class
	meaning  meaning
	known    bool   // a word met in fitting
	sentence uint16 // 0, 1, … from the start
	segment  uint16 // a part of a sentence between commas, dashes, brackets
}

// Identities of what is no word of its own.
const (
	idNone    uint64 = iota + 1 // past either end
	idName                      // an unknown word with a capital letter inside a sentence
	idOpens                     // the same that opens a sentence
	idOther                     // any other unknown word
	idNumber                    // a number that belongs to no set
	idSelf                      // the entry that is asked about
	idOwner                     // a word that ended in 's
	idClass                     // plus the class
	idCount   uint64 = 100      // plus a count
	idMeaning uint64 = 200      // plus the meaning
)

const maxTokens = 1 << 12

// mix joins identities into one.
func mix(kind, a, b uint64) uint64 {
	h := a*0x9E3779B97F4A7C15 ^ bits.RotateLeft64(b*0xC2B2AE3D27D4EB4F, 29) ^ kind*0x165667B19E3779F9
	h ^= h >> 32
	h *= 0xD6E8FEB86659FD93
	return h ^ h>>29
}

// read turns tokens into symbols; the table says which words were met in
// fitting. It reports whether a word that may speak of a body is among them.
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

// classID is the identity of a token whose letters say nothing. Of numbers only
// none and ten are told from others, for scores.
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

// word fills the symbol of a word. One that is unknown is nothing but a name, if
// it has a capital letter, or an unknown word: people's names are not learned.
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

// mean fills in the identity of a word, its meaning, be it by a slip of the
// finger, and whether it is known.
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

// parting reports whether a sign ends a sentence, or a part of one.
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
