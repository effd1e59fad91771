package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
)

// leftOver doubts sizes that found no skill: beside words that name none, or alone.
func (r *reader) leftOver() {
	r.namesJoined()
	for _, span := range r.strays {
		beside, near := r.unknownBeside(span)
		switch score := len(r.strays) == 1 && r.isScore(span); {
		case near && score && !r.resembles(beside): // wrist 4
		case near && r.ambiguous(beside):
		case near:
			r.doubt(UnknownSkill, beside.From, beside.To)
		case len(r.out.Days) == 0 && len(r.out.Skills) == 0:
			r.doubt(MissingSkill, span.From, span.To)
		default:
			r.doubt(LeftOver, span.From, span.To)
		}
	}
}

// moreOfThem doubts a number in words that tells of more sets in a clause of its own:
// ten dips, ten! then seven more. Figures are accounted for elsewhere.
func (r *reader) moreOfThem() {
	for at := range r.segments {
		s := &r.segments[at]
		if s.gives || s.sizes > 0 || s.next == ':' || len(r.out.Days) == 0 {
			continue
		}
		for i := r.phrases[s.from].from; i < r.phrases[s.to-1].to; i++ {
			if r.is(i, words.More) && (r.numberWord(i-1) || r.numberWord(i+1)) {
				r.doubt(LeftOver, i, i+1)
				return
			}
		}
	}
}

// numberWord reports whether token i is a number in words.
func (r *reader) numberWord(i int) bool { return r.is(i, words.Ones) || r.is(i, words.Tens) }

// isScore reports whether a size is a number up to ten and may rate something: wrist 4.
func (r *reader) isScore(s Span) bool {
	return s.To == s.From+1 && r.t.Kind(s.From) == text.Number && r.t.Tokens[s.From].N <= 10
}

// ambiguous doubts which skill one word is meant for that is part of several names. It
// reports false where the words are no such word.
func (r *reader) ambiguous(s Span) bool {
	if s.To != s.From+1 {
		return false
	}
	with := r.names.With(r.t.Word(s.From))
	if len(with) < 2 {
		return false
	}
	d := r.doubt(AmbiguousSkill, s.From, s.To)
	for _, named := range with[:min(len(with), 4)] {
		d.Names = append(d.Names, named.Name)
	}
	return true
}

// namesJoined doubts a word that nothing is known of and that a slash or a plus joins
// to sets: it may be a skill's name, as in hh/mh/dh.
func (r *reader) namesJoined() {
	for at := 0; at+1 < len(r.segments); at++ {
		s, next := &r.segments[at], &r.segments[at+1]
		lone := s.to == s.from+1 && s.talk == 1 && !s.gives && (next.sign == '/' || next.sign == '+')
		if p := &r.phrases[s.from]; lone && next.gives && r.unknown(p.from) {
			r.doubt(UnknownSkill, p.from, p.to)
		}
	}
}

// resembles reports whether a word that nothing is known of may be a skill's name
// written badly, so that it is asked about rather than passed by.
func (r *reader) resembles(span Span) bool {
	for i := span.From; i < span.To; i++ {
		if r.names.Resembles(string(r.t.Word(i))) {
			return true
		}
	}
	return false
}

// unknownBeside returns the unknown words right behind a size, or right before it.
func (r *reader) unknownBeside(span Span) (Span, bool) {
	to := span.To
	for to < span.To+4 && r.mayName(to) {
		to++
	}
	if to > span.To {
		return Span{span.To, to}, true
	}
	from := span.From
	for from > span.From-4 && r.mayName(from-1) {
		from--
	}
	return Span{from, span.From}, from < span.From
}

// besideNear reports whether a misspelt skill stands right beside phrase i.
func (r *reader) besideNear(i int) bool {
	for _, at := range [...]int{i - 1, i + 1} {
		if at >= 0 && at < len(r.phrases) && r.phrases[at].near && r.phrases[at].kind == skill {
			return true
		}
	}
	return false
}

// mayName reports whether the word at token i may be of a name: one that nothing is
// known of, or that says nothing beside sets.
func (r *reader) mayName(i int) bool {
	if r.t.Kind(i) != text.Word {
		return false
	}
	return r.words[i] == nil || r.names.Part(r.t.Word(i)) || r.is(i, words.Everyday) || r.is(i, words.Exercise)
}

// unread notes the words beside sets that nothing is known of.
func (r *reader) unread() {
	for at := range r.segments {
		s := &r.segments[at]
		if !s.gives {
			continue
		}
		for i := s.from; i < s.to; i++ {
			p := &r.phrases[i]
			if p.kind != talk || !r.unknown(p.from) {
				continue
			}
			sized := i > s.from && r.phrases[i-1].kind == sized && !r.t.Glued(p.from)
			if r.besideNear(i) || sized && r.resembles(Span{p.from, p.to}) { // trnasiton hnag, 2x6 dpis
				r.doubt(UnknownSkill, p.from, p.to)
			}
			if n := len(r.out.Unread); n > 0 && r.out.Unread[n-1].To == p.from {
				r.out.Unread[n-1].To = p.to
				continue
			}
			r.out.Unread = append(r.out.Unread, Span{p.from, p.to})
		}
	}
}
