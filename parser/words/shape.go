package words

// Shapes holds of some words the first byte and the length. Most other words
// differ in these, and need not be looked up.
type Shapes [256]uint64 // by first byte: a bit for each length, 63 for all beyond

// add adds the shape of a word.
func (s *Shapes) add(word string) {
	if word != "" {
		s[word[0]] |= 1 << min(len(word), 63)
	}
}

// May reports whether a folded word may be one of the words; false is certain.
func (s *Shapes) May(word []byte) bool {
	return len(word) > 0 && s[word[0]]&(1<<min(len(word), 63)) != 0
}

// Shapes returns the shapes of the language's words of the classes and of the
// first words of names of attempts.
func (n *Names) Shapes(of Classes) *Shapes {
	s := &Shapes{}
	for word := range n.tried {
		s.add(word)
	}
	for key, word := range table {
		if word.Classes.Any(of) {
			s.add(key)
		}
	}
	return s
}
