package sets

// openingDay doubts whether sets that name no day are of one that opens the clause
// before theirs, where that clause says more than a day: on Saturday I trained alone,
// 3x12 rows. Yesterday I rested, 3x12 rows opens just so.
func (r *reader) openingDay() {
	for at := 0; at+1 < len(r.segments); at++ {
		s := &r.segments[at]
		if s.gives || r.pureDay(s) || !s.opens() || s.next != ',' && s.next != '-' && s.next != ':' {
			continue
		}
		if p := r.firstSaid(s); p.kind == dayNamed && r.mayDate(p) && r.undated(at+1) {
			r.doubt(WhichDay, p.from, p.to)
			return
		}
	}
}

// opens reports whether a segment opens a message, a line or a sentence.
func (s *segment) opens() bool { return s.sign == 0 || s.sign == '\n' || sentenceEnds(s.sign) }

// firstSaid returns the first phrase of a segment that says something.
func (r *reader) firstSaid(s *segment) *phrase {
	for i := s.from; i < s.to-1; i++ {
		if p := &r.phrases[i]; p.kind != filler {
			return p
		}
	}
	return &r.phrases[s.to-1]
}

// mayDate reports whether a day may be that of sets behind it: a past one that is
// neither spoken of nor held against another.
func (r *reader) mayDate(p *phrase) bool {
	past := !p.day.ahead && p.fault == "" && p.day.day < r.today
	return past && !r.judged(p) && !r.owns(p) && !r.compared(p, p.from-1)
}

// undated reports whether sets that no day was found for stand from a segment on.
func (r *reader) undated(at int) bool {
	for _, e := range r.entries {
		if e.segment >= at && e.day < 0 && len(e.bouts) > 0 && !e.other {
			return true
		}
	}
	return false
}
