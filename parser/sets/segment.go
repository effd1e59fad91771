package sets

// segment is what stands between two separators.
type segment struct {
	from, to int  // phrases, half-open
	sign     rune // the separator before it; 0 at the head of the message
	next     rune // the separator behind it; 0 at the end of the message
	line     int
	talk     int  // how many of its phrases are talk
	sizes    int  // how many are sizes, ratios and failures
	skills   int  // how many are names of skills and other exercises
	gives    bool // sets were read in it
	undated  bool // sets that name no day begin in it
}

// corrected is the separator for a correction.
const corrected = '←'

// sentenceEnds reports whether a separator ends a sentence.
func sentenceEnds(c rune) bool { return c == '.' || c == '!' || c == '?' }

// cut divides the phrases into segments.
func (r *reader) cut() {
	s := segment{}
	for i := range r.phrases {
		p := &r.phrases[i]
		var by rune
		switch p.kind {
		case separator:
			by = rune(p.at)
		case correction:
			by = corrected
		default:
			s.to = i + 1
			s.count(p)
			continue
		}
		if s.from < i {
			s.to, s.next = i, by
			r.segments = append(r.segments, s)
			s = segment{line: s.line, sign: by}
		} else {
			s.sign = stronger(s.sign, by)
		}
		if by == '\n' {
			s.line++
		}
		s.from = i + 1
	}
	if s.from < len(r.phrases) {
		s.to = len(r.phrases)
		r.segments = append(r.segments, s)
	}
}

// stronger returns which of two separators in a row counts: a line end more
// than the bullet behind it, a correction more than a comma.
func stronger(a, b rune) rune {
	bullet := a == '\n' && (b == ';' || b == '-' || b == '>' || b == '[' || b == ']')
	if bullet || a == corrected && b != '\n' || sentenceEnds(a) && (b == ')' || b == ']') {
		return a
	}
	return b
}

// count counts a phrase in the segment's numbers.
func (s *segment) count(p *phrase) {
	switch p.kind {
	case talk:
		s.talk++
	case sized, ratio, failed:
		s.sizes++
	case skill, exercise:
		s.skills++
	}
}

// part is a segment, or as much of one as says something of one skill at most.
type part struct {
	segment *segment
	from    int // from and to are phrases, half-open
	to      int
	sign    rune
	name    *phrase // the skill or other exercise; nil for none
	ladder  *phrase
	bouts   []bout
	said    aside   // what is said of none of its sizes
	count   *phrase // a count of sets or rounds without a size; nil for none
	failed  *phrase // a failure without a size; nil for none
	all     bool    // the failure is of all sets
	made    *phrase
	gone    *phrase // the sets that it takes back; nil for none
	about   *phrase // the sets whose size the next part tells; nil for none
	first   bool    // the name stands before the sizes
	each    bool
	tried   bool
	nth     int // which attempt was done; 0 where unsaid
	same    bool
	split   bool // it is not the first part of its segment
}

// parts divides a segment that names several skills: before each skill, or before
// each size if the sizes stand before their skills.
func (r *reader) parts(s *segment, out []part) []part {
	whole := part{segment: s, from: s.from, to: s.to, sign: s.sign}
	if s.skills <= 1 {
		return append(out, whole)
	}
	sizeFirst := r.sizeFirst(s)
	from, names := s.from, 0
	for i := s.from; i < s.to; i++ {
		p := &r.phrases[i]
		name := p.kind == skill || p.kind == exercise
		size := p.kind == sized || p.kind == ratio || p.kind == counted && !p.size.loud
		begins := name || size && sizeFirst && r.skillWithin(i, s.to)
		if begins && names > 0 {
			out = append(out, whole.piece(from, i))
			from, names = i, 0
		}
		if name {
			names++
		}
	}
	return append(out, whole.piece(from, s.to))
}

// piece returns a part of fewer phrases, for which nothing is gathered yet.
func (p part) piece(from, to int) part {
	if from > p.segment.from {
		p.sign, p.split = 0, true
	}
	p.from, p.to = from, to
	return p
}

// sizeFirst reports whether a size stands before the first skill of a segment.
func (r *reader) sizeFirst(s *segment) bool {
	for i := s.from; i < s.to; i++ {
		switch r.phrases[i].kind {
		case sized, ratio:
			return true
		case skill, exercise:
			return false
		}
	}
	return false
}

// skillWithin reports whether a skill or another exercise is named within phrases.
func (r *reader) skillWithin(from, to int) bool {
	for i := from; i < to; i++ {
		if k := r.phrases[i].kind; k == skill || k == exercise {
			return true
		}
	}
	return false
}
