package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
)

// assignRoles tells those who read the whole message what each token is.
func (r *reader) assignRoles() {
	for range r.t.Tokens {
		r.out.Roles = append(r.out.Roles, Talk)
	}
	gave := false
	for _, e := range r.entries {
		gave = gave || len(e.bouts) > 0
	}
	gave = gave || r.nearlySets()
	for at := range r.segments {
		s := &r.segments[at]
		for i := s.from; i < s.to; i++ {
			r.assignRole(&r.phrases[i], gave && (s.gives || s.talk == 0 || len(r.out.Days) == 0))
		}
	}
	for i := range r.phrases {
		if p := &r.phrases[i]; len(r.segments) == 0 || p.kind == separator {
			r.assignRole(p, false)
		}
	}
	r.joinRoles()
}

// nearlySets reports whether a doubt is about a skill of the programme, or words near
// one, beside sizes or a count.
func (r *reader) nearlySets() bool {
	for i := range r.out.Doubts {
		switch d := &r.out.Doubts[i]; d.Code {
		case MissingSize, AmbiguousSkill:
			return true
		case UnknownSkill:
			if r.resembles(d.Span) || r.namePart(d.Span) {
				return true
			}
		}
	}
	return false
}

// namePart reports whether one of the words is part of a name.
func (r *reader) namePart(s Span) bool {
	for i := s.From; i < s.To; i++ {
		if r.names.Part(r.t.Word(i)) {
			return true
		}
	}
	return false
}

// assignRole gives a phrase's tokens their role. part says that the phrase stands
// among sets.
func (r *reader) assignRole(p *phrase, part bool) {
	role := Talk
	switch p.kind {
	case sized, ratio, counted, failed, exercise, which:
		role = Figure
		if part {
			role = Entry
		} else if p.kind == exercise || p.kind == which {
			role = Talk
		}
	case skill:
		role = Skill
		if part {
			role = Entry
		}
	case rested, effort, load, help, side, each, cameOff, same:
		if part {
			role = Entry
		}
	case figure:
		role = Figure
	case dayNamed:
		role = r.dayRole(p)
	case separator:
		if !sentenceEnds(rune(p.at)) || p.at == '.' {
			role = Between
		}
	}
	if role == Talk {
		return
	}
	for i := p.from; i < p.to; i++ {
		r.out.Roles[i] = role
	}
	if p.kind == figure { // the words that show a figure stay words
		for i := p.from; i < p.to; i++ {
			if r.t.Kind(i) == text.Word {
				r.out.Roles[i] = Talk
			}
		}
	}
}

func (r *reader) dayRole(p *phrase) Role {
	switch {
	case p.day.ahead:
		return Future
	case p.day.weekday:
		return Weekday
	case p.day.day == r.today && p.fault == "":
		return Today
	}
	return Past
}

// insideEntry are words between a size and its skill that go with them.
var insideEntry = words.OfClasses(words.Of, words.The, words.In, words.On, words.For, words.At, words.With, words.Article, words.Plain, words.Each)

// joinRoles gives small words and signs between two tokens of an entry to it.
func (r *reader) joinRoles() {
	last := -1
	for i, role := range r.out.Roles {
		if role != Entry {
			continue
		}
		if last >= 0 && last < i-1 && r.joins(last+1, i) {
			for j := last + 1; j < i; j++ {
				r.out.Roles[j] = Entry
			}
		}
		last = i
	}
}

// joins reports whether tokens from to to hold nothing but small words and a
// hyphen.
func (r *reader) joins(from, to int) bool {
	for i := from; i < to; i++ {
		if !r.any(i, insideEntry) && !r.t.Is(i, '-') || r.out.Roles[i] != Talk {
			return false
		}
	}
	return true
}

// calmWords say nothing of whether sets were done.
var calmWords = words.OfClasses(words.Harmless, words.Plain, words.Did, words.Of, words.In, words.On, words.Article, words.The, words.My,
	words.With, words.Full, words.Only, words.And, words.Then, words.By, words.Approx)

// calm reports whether every word outside the sets, and every sign, is one that says
// nothing of whether they were done.
func (r *reader) calm() bool {
	for i, role := range r.out.Roles {
		switch {
		case role == Future || role == Skill || r.t.Is(i, '?'):
			return false
		case role != Talk && role != Figure:
		case r.t.Kind(i) == text.Word && !r.any(i, calmWords):
			return false
		case r.any(i, notCalm):
			return false
		}
	}
	return true
}

// notCalm are classes that outweigh the calm ones a word may be of as well.
var notCalm = words.OfClasses(words.Negative, words.Address, words.Planned, words.Doubtful, words.Ahead)
