package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
)

// assignRoles gives each token its role.
func (r *reader) assignRoles() {
	for range r.t.Tokens {
		r.out.Roles = append(r.out.Roles, Talk)
	}
	gave := len(r.out.Days) > 0
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
		} else if p.kind == correction {
			r.assignRole(p, gave)
		}
	}
	r.glueRoles()
	r.joinRoles()
}

// nearlySets reports whether a doubt is about a skill of the programme, or
// words near one, beside sizes or a count.
func (r *reader) nearlySets() bool {
	for i := range r.out.Doubts {
		if d := &r.out.Doubts[i]; d.Code == MissingSize || r.nearName(d) {
			return true
		}
	}
	return false
}

// nearName reports whether a doubt is about words near a skill's name.
func (r *reader) nearName(d *Doubt) bool {
	return d.Code == AmbiguousSkill || d.Code == UnknownSkill && (r.resembles(d.Span) || r.namePart(d.Span))
}

// allParts reports whether a doubt is about unknown words all of which are of
// skills' names.
func (r *reader) allParts(d *Doubt) bool {
	if d.Code != UnknownSkill {
		return false
	}
	for i := d.From; i < d.To; i++ {
		if !r.names.Part(r.t.Word(i)) {
			return false
		}
	}
	return true
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

// roleTable holds, by kind, the role of a phrase's tokens among sets and
// elsewhere.
var roleTable = [remark + 1]struct{ among, elsewhere Role }{
	sized: {Entry, Figure}, ratio: {Entry, Figure}, counted: {Entry, Figure}, failed: {Entry, Figure}, figure: {Figure, Figure},
	exercise: {Entry, Talk}, which: {Entry, Talk}, skill: {Entry, Skill},
	rested: {Entry, Talk}, effort: {Entry, Talk}, load: {Entry, Talk}, help: {Entry, Talk}, side: {Entry, Talk}, each: {Entry, Talk},
	cameOff: {Entry, Talk}, same: {Entry, Talk}, tried: {Entry, Talk}, correction: {Entry, Talk},
}

// assignRole gives a phrase's tokens their role. part says that the phrase stands
// among sets.
func (r *reader) assignRole(p *phrase, part bool) {
	role := r.roleOf(p, part)
	if role == Talk {
		return
	}
	for i := p.from; i < p.to; i++ {
		if p.kind != figure || r.t.Kind(i) != text.Word { // the words that show a figure stay words
			r.out.Roles[i] = role
		}
	}
}

// roleOf is the role of a phrase.
func (r *reader) roleOf(p *phrase, part bool) Role {
	switch p.kind {
	case filler:
		if part && p.to > p.from+1 && r.is(p.from, words.Negative) && r.any(p.to-1, helps) { // no toes: it is said of the sets
			return Entry
		}
		return Talk
	case failed:
		// missed 3x30s deep hang: whether that was done is not the grammar's to say
		if part && r.t.Kind(p.from) == text.Word && !r.behindSets(p) {
			return Talk
		}
	case dayNamed:
		return r.dayRole(p)
	case separator:
		if !sentenceEnds(rune(p.at)) || p.at == '.' {
			return Between
		}
		return Talk
	}
	if part {
		return roleTable[p.kind].among
	}
	return roleTable[p.kind].elsewhere
}

// behindSets reports whether a token of sets stands before a phrase in its part
// of the sentence.
func (r *reader) behindSets(p *phrase) bool {
	for i := p.from - 1; i >= 0 && r.out.Roles[i] != Between; i-- {
		if r.out.Roles[i] == Entry {
			return true
		}
	}
	return false
}

// dayRole is the role of a day.
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

// glueRoles makes more tokens part of entries: letters glued to a size that are
// no unit (30sce), words near a skill's name (3x20s toe hang), and the words of
// another exercise (3x10 zottman curls). None of them says whether something
// was done.
func (r *reader) glueRoles() {
	for i := range r.out.Doubts {
		if d := &r.out.Doubts[i]; r.allParts(d) {
			for j := d.From; j < d.To; j++ {
				r.out.Roles[j] = Entry
			}
		}
	}
	for _, other := range r.out.Others {
		for i := other.From; i < other.To && len(r.out.Days) > 0; i++ {
			r.out.Roles[i] = Entry
		}
	}
	for i := 1; i < len(r.out.Roles); i++ {
		if r.out.Roles[i-1] == Entry && r.t.Kind(i-1) == text.Number && r.t.Glued(i) && r.unknown(i) {
			r.out.Roles[i] = Entry
		}
	}
}

// insideEntry are words between a size and its skill that go with them.
var insideEntry = words.OfClasses(words.Of, words.The, words.In, words.On, words.For, words.At, words.With,
	words.Article, words.Plain, words.Each)

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
	words.With, words.Full, words.Only, words.And, words.Then, words.By, words.Approx, words.Rest, words.Noon)

// calm reports whether every word outside the sets, and every sign, is one that
// says nothing of whether they were done.
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

// bareSets reports whether no word stands beside the sets.
func (r *reader) bareSets() bool {
	for i, role := range r.out.Roles {
		if role == Talk && r.t.Kind(i) == text.Word {
			return false
		}
	}
	return true
}

// notCalm are classes whose words are not calm, although they may be of a calm
// class too.
var notCalm = words.OfClasses(words.Negative, words.Address, words.Planned, words.Doubtful, words.Ahead)
