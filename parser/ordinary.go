package parser

import "rungbook/training"

// ordinary reports whether a skill's word stands there in its everyday sense: 6
// pull-up bars, 3 dips for the nachos. Only a bare number leaves room for that;
// 3x6, 6 reps or 30 s do not.
func (r *reader) ordinary(e *entry) bool {
	if r.wordBeside(e) && r.otherSense(e) {
		return true
	}
	if e.outer > 0 || e.to-e.from < 1 {
		return false
	}
	return r.bareSense(e)
}

// wordBeside reports whether a word stands right behind a name, or one before it
// that is no unit: nearly always none does.
func (r *reader) wordBeside(e *entry) bool {
	if r.toks[e.nameTo].kind == kWord {
		return true
	}
	before := e.nameFrom > 0 && r.toks[e.nameFrom-1].kind == kWord
	return before && r.toks[e.nameFrom-1].f&(fSec|fMin|fRep|fTimes) == 0
}

// otherSense judges a name by the words beside it, whatever its sizes.
func (r *reader) otherSense(e *entry) bool {
	if j := int(e.nameTo); r.is(j, "it") || r.is(j, "into") || r.is(j, "them") { // dip it in for 30s
		return stemLen(r.word(j-1)) == len(r.word(j-1))
	}
	if j := int(e.nameFrom) - 1; r.is(j, "tech") || r.is(j, "customer") || r.is(j, "phone") { // tech support
		return true
	}
	if j := int(e.nameFrom); r.is(j-1, "a") && (r.is(j-2, "in") || r.is(j-2, "into")) && r.is(j, "row") { // 3 times in a row
		return true
	}
	if j := int(e.nameTo); e.nameTo == e.nameFrom+1 && r.shortWord(e) && r.is(j, "of") && r.noun(j+1) { // rows of vegetables
		return true
	}
	if j := int(e.nameTo); r.rungOf(e).unit == training.Tried && (r.is(j, "at") && r.gerundAt(j+1) || r.has(j, fTry) && r.is(j+1, "at") && r.gerundAt(j+2)) { // an attempt at getting up
		return true
	}
	if j := int(e.nameTo); r.is(j, "to") && stemLen(r.word(j-1)) == len(r.word(j-1)) || r.is(j, "took") || r.is(j, "takes") || r.is(j, "lasts") || r.is(j, "at") && r.shortTime(e) {
		return true
	}
	return r.elsewhere(e)
}

// bareSense judges an entry whose numbers are all bare: only they leave room for
// what is counted in everyday talk.
func (r *reader) bareSense(e *entry) bool {
	for i := e.from; i < e.to; i++ {
		if s := &r.sizes[i]; s.k != iSize || s.count > 0 || s.unit != uNone || s.failed || s.has != 0 {
			return false
		}
	}
	s := &r.sizes[e.from]
	if s.milli == 0 && e.to-e.from == 1 { // 0 pull-ups: none were done
		return true
	}
	if s.from > e.nameTo { // "row 3 seats": the number is of the word behind it
		return false
	}
	if g := r.rungOf(e); s.from == e.nameTo && g.unit == training.Counted && e.nameTo == e.nameFrom+1 && stemLen(r.word(int(e.nameFrom))) == len(r.word(int(e.nameFrom))) && plural(g.name) && !plural(string(r.word(int(e.nameFrom)))) && r.shortWord(e) {
		return true // row 12
	}
	if s.from == e.nameTo && e.to-e.from == 1 && r.is(int(s.to), "for") && e.nameTo == e.nameFrom+1 && stemLen(r.word(int(e.nameFrom))) == len(r.word(int(e.nameFrom))) {
		return true // press 1 for help
	}
	if s.from == e.nameTo+1 && r.is(int(e.nameTo), "of") && r.shortWord(e) && e.nameTo == e.nameFrom+1 { // rows of 10
		return true
	}
	if s.from == e.nameTo && s.code == faultRange && e.nameTo == e.nameFrom+1 && r.shortWord(e) && (r.is(int(s.to), "are") || r.is(int(s.from)+1, "to")) { // rows 5-8 are free
		return true
	}
	if s.from == e.nameTo {
		return r.noun(int(s.to)) || r.isPart(int(s.to), e)
	}
	if r.is(int(e.nameFrom)-1, "for") && s.to == e.nameFrom-1 { // press 1 for support
		return true
	}
	last := r.word(int(e.nameTo) - 1)
	if r.noun(int(e.nameTo)) && stemLen(last) == len(last) { // pull-up bars
		return true
	}
	j := int(e.nameTo)
	if r.punct(j, ':') && r.noun(j+1) && !r.digitsIn(j+1, len(r.toks)) { // 4 dips: salsa, guacamole
		return true
	}
	if r.punct(j, '(') {
		j++
	}
	if !r.is(j, "for") && !r.is(j, "of") && !((r.is(j, "in") || r.is(j, "on")) && r.is(j+1, "the")) {
		return false
	}
	for j++; r.is(j, "the") || r.is(j, "my") || r.is(j, "a") || r.is(j, "an") || r.is(j, "our"); j++ {
	}
	return r.noun(j)
}

// elsewhere reports whether one word of a skill, in the singular, goes on as no
// skill does: a 2 min dip in the sea, a transition between classes, pull up at
// 18:30.
func (r *reader) elsewhere(e *entry) bool {
	j := int(e.nameTo)
	last := r.word(j - 1)
	if e.to-e.from != 1 || stemLen(last) != len(last) {
		return false
	}
	s := &r.sizes[e.from]
	if s.count > 0 || s.unit != uSec {
		return false
	}
	counted := r.rungOf(e).unit == training.Counted
	return counted && (r.is(j, "in") || r.is(j, "into") || r.is(j, "at") && r.punct(int(s.from)+1, ':')) || e.nameTo == e.nameFrom+1 && r.is(j, "between") && r.noun(j+1)
}

// gerundAt reports whether an -ing form that nothing is known of stands at token i.
func (r *reader) gerundAt(i int) bool {
	word := string(r.wordOr(i))
	return len(word) > 5 && word[len(word)-3:] == "ing" && r.toks[i].f == 0
}

// shortTime reports whether a singular name and "at" are followed by a bare hour:
// pull up at 6.
func (r *reader) shortTime(e *entry) bool {
	last := r.word(int(e.nameTo) - 1)
	return e.to-e.from == 1 && r.sizes[e.from].from == e.nameTo+1 && r.sizes[e.from].unit == uNone && r.sizes[e.from].count == 0 && r.rungOf(e).unit == training.Counted && stemLen(last) == len(last)
}

// shortWord reports whether a name was written as one short word.
func (r *reader) shortWord(e *entry) bool { return len(r.word(int(e.nameFrom))) <= 4 }

// noun reports whether a word that nothing is known of stands at token i.
func (r *reader) noun(i int) bool {
	t := &r.toks[i]
	if t.kind != kWord || t.f != 0 || t.m != 0 || t.body != 0 {
		return false
	}
	_, _, named := r.name(i)
	return !named && !r.nearName(i)
}

// isPart reports whether the word at token i is part of other rungs' names.
func (r *reader) isPart(i int, e *entry) bool {
	if r.toks[i].kind != kWord || r.toks[i].f != 0 {
		return false
	}
	word := r.word(i)
	rungs, ok := r.p.names.parts[string(word[:stemLen(word)])]
	for _, at := range rungs {
		if at == e.rung {
			return false
		}
	}
	return ok
}
