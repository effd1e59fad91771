package words

// Shapes are first letters of words with the lengths they stand with: what most other
// words are told from without being looked up.
type Shapes [256]uint64 // by first byte, a bit for each length up to 63

// add adds the shape of a word.
func (s *Shapes) add(word string) {
	if word != "" {
		s[word[0]] |= 1 << min(len(word), 63)
	}
}

// May reports whether a folded word has one of the shapes.
func (s *Shapes) May(word []byte) bool {
	return len(word) > 0 && s[word[0]]&(1<<min(len(word), 63)) != 0
}

// Shapes returns the shapes of the language's words of some classes and of the words
// that a name of what is tried begins with.
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
