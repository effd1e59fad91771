package learn

// reach is how many tokens on either side of an entry are looked at. It keeps the
// cost of a message linear in its length.
const reach = 40

// ReportFeatures returns the features of the entry tokens[at]. The slice is good
// until the next call. Of the table only the vocabulary is used.
func (r *Reader) ReportFeatures(tokens []Token, at int, table *Table) []uint64 {
	from := max(0, at-reach)
	tokens = tokens[from:min(len(tokens), at+reach+1)]
	at -= from
	r.read(tokens, table)
	r.features = r.features[:0]
	r.symbols[at].id, r.symbols[at].kin = idSelf, idSelf
	for i := range r.symbols {
		if i != at {
			s := &r.symbols[i]
			r.place(i, at, s.id)
			if s.kin != s.id {
				r.place(i, at, s.kin)
			}
			if tokens[i].Owner {
				r.place(i, at, idOwner)
			}
		}
		r.words(i)
		if r.meant(i) {
			r.kins(i)
		}
		r.together(i)
		r.letters(i, tokens)
	}
	r.frame(at)
	r.count(at)
	return r.features
}

// zone returns the zone of token i around the entry at: before or behind it, in
// the same part of the sentence, elsewhere in the sentence, or in another
// sentence.
func (r *Reader) zone(i, at int) Kind {
	s, self := &r.symbols[i], &r.symbols[at]
	zone := KindZone
	switch {
	case s.sentence != self.sentence:
		zone += 2
	case s.segment != self.segment:
		zone++
	}
	if i > at {
		zone += 3
	}
	return zone
}

// place emits where a word or meaning stands: its zone and, near the entry, its
// distance.
func (r *Reader) place(i, at int, id uint64) {
	r.emit(KindWord, id, 0)
	r.emit(r.zone(i, at), id, 0)
	if d := i - at; d >= -3 && d <= 3 {
		r.emit(KindNear+Kind(d+4), id, 0)
	}
}

// frame emits what opens and ends the message, the sentence and its part, and
// what stands beside the entry.
func (r *Reader) frame(at int) {
	self := r.symbols[at]
	first, part, last := at, at, at
	for first > 0 && r.symbols[first-1].sentence == self.sentence {
		first--
	}
	for part > 0 && r.symbols[part-1].segment == self.segment {
		part--
	}
	for last+1 < len(r.symbols) && r.symbols[last+1].sentence == self.sentence {
		last++
	}
	end := idNone
	if last > at && r.symbols[last].class == Sign {
		end = r.symbols[last].id
	}
	for _, get := range [...]func(int) uint64{r.id, r.kin} {
		r.emit(KindFirst, get(0), 0)
		r.emit(KindFirst, get(0), get(1))
		r.emit(KindOpener, get(first), 0)
		r.emit(KindOpener+1, get(part), 0)
		r.emit(KindEnd, end, get(first))
		r.emit(KindAround, get(at-1), get(at+1))
	}
	r.emit(KindLast, r.id(len(r.symbols)-1), 0)
	r.emit(KindEnd, end, 0)
}

// count emits how many words, unknown ones and entries there are, and how many
// words of the sentence stand on either side.
func (r *Reader) count(at int) {
	var words, unknown, entries, before, after int
	for i := range r.symbols {
		s := &r.symbols[i]
		if s.class == Entry {
			entries++
		}
		if s.class != Word {
			continue
		}
		words++
		if !s.known {
			unknown++
		}
		switch {
		case s.sentence != r.symbols[at].sentence:
		case i < at:
			before++
		default:
			after++
		}
	}
	r.emit(KindCount, upTo(words, 6), 0)
	r.emit(KindCount+1, upTo(unknown, 4), 0)
	r.emit(KindCount+2, upTo(entries, 3), 0)
	r.emit(KindCount+3, upTo(before, 4), upTo(after, 4))
	r.emit(KindCount+4, upTo(before, 5), 0)
	r.emit(KindCount+5, upTo(after, 5), 0)
}

func upTo(n, most int) uint64 { return idCount + uint64(min(n, most)) }
