package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
)

// What came of a set: which of those before is meant, that it failed, how many
// attempts came off.

// whichSets reads the sets that a correction is about: last set 24s, last two 25,
// first one 35, 2nd 28s, set 2: 28s.
func (r *reader) whichSets(i int) (phrase, bool) {
	from := i
	for r.is(i, words.On) || r.is(i, words.The) || r.is(i, words.My) || r.is(i, words.For) && r.is(i+1, words.The) {
		i++
	}
	if p, ok := r.numberedSet(i); ok {
		p.from = from
		return p, true
	}
	p := phrase{kind: which, from: from, set: nth{count: 1}}
	next := i + 1
	switch n, end, ok := r.ordinal(i); {
	case r.is(i, words.Last):
	case ok && n > 0 && n <= 20:
		p.set.first, next = n, end
	default:
		return phrase{}, false
	}
	end, ok := r.whichEnd(&p, next)
	if !ok && from < i && r.ends(next) && r.is(i, words.Last) { // on the last
		end, ok = next, true
	}
	if !ok && from < i && p.set.first > 0 && r.ends(next) && (r.is(from, words.On) || r.is(from, words.For)) { // on the third
		end, ok = next, true
	}
	p.to = end
	return p, ok
}

// whichEnd reads what shows that an ordinal or last is of sets: how many, the word
// set, or what came of them.
func (r *reader) whichEnd(p *phrase, j int) (next int, ok bool) {
	first := j
	if n, next, ok := r.number(j); ok && n.whole && n.int() <= 9 && n.int() > 0 && (r.is(next, words.Set) || !r.any(next, goesOn)) && r.t.Kind(next) != text.Sign {
		if n.int() > 1 || !n.words {
			p.set.count = n.int()
		}
		j = next
	}
	if r.is(j, words.Ones) && r.value(j) == 1 || isOnes(r.t.Word(j)) || r.is(j, words.Set) || r.is(j, words.Rep) || r.is(j, words.Try) || r.is(j, words.Round) {
		j++
	}
	for r.any(j, verdictSmall) || r.t.Is(j, ':') && !r.t.Glued(j+1) {
		j++
	}
	if j > first {
		k := j
		for r.any(k, sayNothing) {
			k++
		}
		_, _, named := r.names.At(r.t, k)
		return j, !named || p.set.count == 1 // my first 3 pull-ups are no sets told before
	}
	if r.is(j, words.Fail) || r.is(j, words.With) && r.helpBehind(j) || r.t.Is(j, '@') {
		return j, true
	}
	a, sized := r.amount(j)
	return j, sized && (a.unit != unsaid || p.set.first == 0) && !r.any(a.to, countWords)
}

// isOnes reports whether a word is ones, as in the last ones.
func isOnes(word []byte) bool { return string(word) == "ones" }

// verdictSmall are words between a set and what came of it: last was only 24.
var verdictSmall = words.OfClasses(words.Was, words.Only, words.At)

func (r *reader) helpBehind(i int) bool {
	_, ok := r.helpPhrase(i)
	return ok
}

// numberedSet reads "set 2". Behind a count or a unit it is none: 3 sets 30 s.
func (r *reader) numberedSet(i int) (phrase, bool) {
	n, ok := r.num(i + 1)
	single := r.is(i, words.Set) && !words.Plural(r.t.Word(i)) || r.is(i, words.Round) && !words.Plural(r.t.Word(i))
	if !ok || !single || n == 0 || n > 20 || r.t.Kind(i-1) == text.Number || r.is(i-1, words.Ones) || r.is(i-1, words.Times) {
		return phrase{}, false
	}
	p := phrase{kind: which, set: nth{first: n, count: 1}, from: i, to: i + 2}
	marked := (r.t.Is(i+2, ':') || r.t.Is(i+2, '-') || r.t.Is(i+2, ')') || r.t.Is(i+2, '=')) && !r.slashed(i+1)
	if marked {
		p.to++
	}
	for r.any(p.to, verdictSmall) {
		p.to++
	}
	_, size := r.amount(p.to)
	if r.any(i+2, goesOn) && !r.is(i+2, words.On) || !size && !r.is(p.to, words.Fail) {
		return phrase{kind: filler, from: i, to: p.to}, r.is(i, words.Round) && marked || r.ends(p.to) && !marked
	}
	if r.is(i, words.Round) && marked { // round 2: deep hang 28s
		if _, skillNext := r.firstSkill(p.to); skillNext {
			p.kind = filler
		}
	}
	return p, true
}

// firstSkill returns where the next skill on the line is named.
func (r *reader) firstSkill(i int) (int, bool) {
	for j := i; j < i+8 && r.t.Kind(j) != text.Line && r.t.Kind(j) != text.End; j++ {
		if _, _, ok := r.names.At(r.t, j); ok {
			return j, true
		}
	}
	return 0, false
}

// fail reads that a set did not come off: fail, failed at 22s, failed the last
// set, and the x of 30/30/x.
func (r *reader) fail(i int) (phrase, bool) {
	p := one(failed, i)
	if r.is(i, words.Times) { // 5/5/x, 30 30 x
		listed := r.t.Glued(i) && r.t.Is(i-1, '/') || r.t.Kind(i-1) == text.Number && !r.t.Glued(i)
		return p, listed && r.ends(i+1) && r.t.Kind(i+1) != text.Number
	}
	word := r.t.Word(i)
	if r.is(i-1, words.To) { // to failure
		return one(filler, i), true
	}
	if len(word) == 1 && !r.failLetter(i) {
		return phrase{}, false
	}
	if isOnes(r.t.Word(p.to)) || r.is(p.to, words.Set) || r.is(p.to, words.Ones) && r.value(p.to) == 1 {
		p.to++
	}
	if r.is(p.to, words.Off) || r.is(p.to, words.Article) && r.is(p.to+1, words.Off) {
		p.to++
	}
	if r.is(i-1, words.Article) { // a failed one
		p.size.count = 1
	}
	if to, set, ok := r.failedWhich(p.to); ok {
		p.set, p.to = set, to
	}
	if j := p.to; r.is(j, words.At) || r.is(j, words.Then) { // failed at 22s, failed after 22s
		if a, ok := r.amount(j + 1); ok && (a.unit != unsaid || r.ends(a.to)) {
			p.size.amount, p.to = a, a.to
		}
	}
	return p, true
}

// failLetter reports whether the one letter at token i stands for a failed set.
func (r *reader) failLetter(i int) bool {
	behind := r.t.Kind(i-1) == text.Number || r.any(i-1, timeUnit) || r.is(i-1, words.Rep) || r.ends(i-1) && i > 0
	if r.t.Glued(i) && r.t.Kind(i-1) == text.Number && !r.t.Glued(i+1) { // 4F pull-ups
		return true
	}
	return behind && r.ends(i+1) && r.t.Kind(i+1) != text.Number
}

// failedWhich reads the set that failed: the last, on the third, my last set.
func (r *reader) failedWhich(i int) (next int, set nth, ok bool) {
	j := i
	for r.is(j, words.On) || r.is(j, words.The) || r.is(j, words.My) {
		j++
	}
	set = nth{count: 1}
	end := j + 1
	switch n, to, ordinal := r.ordinal(j); {
	case r.is(j, words.Last):
	case ordinal && n > 0 && n <= 20:
		set.first, end = n, to
	default:
		return i, set, false
	}
	if n, next, ok := r.number(end); ok && n.whole && n.int() <= 9 && n.int() > 1 && !r.any(next, goesOn) {
		set.count, end = n.int(), next
	}
	if r.is(end, words.Set) || r.is(end, words.Rep) || r.is(end, words.Try) || r.is(end, words.Ones) || isOnes(r.t.Word(end)) {
		end++
	}
	return end, set, true
}

// try reads the word attempts; in "4th try" it counts none.
func (r *reader) try(i int) (phrase, bool) { return one(tried, i), true }

// outcome reads how many attempts came off: 1 made, none stuck, got 2.
func (r *reader) outcome(i int) (phrase, bool) {
	p := phrase{kind: cameOff, from: i, to: i + 1}
	if r.is(i, words.None) && (r.is(i+1, words.Made) || r.is(i+1, words.Of)) {
		p.to++
		for r.is(p.to, words.Off) || r.any(p.to, small) {
			p.to++
		}
		return p, true
	}
	if !r.is(i, words.Made) {
		return p, r.is(i, words.None) && r.ends(i+1) && r.ends(i-1)
	}
	j := i + 1
	if r.t.Is(j, ':') {
		j++
	}
	if n, next, ok := r.number(j); ok && n.whole && r.triedNear(i, next) && (r.ends(next) || r.is(next, words.Of)) && r.t.Kind(next) != text.Number && !r.slashed(j) {
		p.n, p.to = n.int(), next
		return p, true
	}
	if r.is(j, words.None) {
		p.to = j + 1
		return p, true
	}
	if j = i + 1; r.any(j, small) && r.is(j+1, words.Often) { // made it once
		p.n, p.to = r.value(j+1), j+2
		return p, true
	}
	behind := r.t.Kind(i-1) == text.Number || r.is(i-1, words.Ones)
	p.n = -1
	return p, behind && r.ends(i+1)
}

// madeOf reads how many attempts came off where the number stands first: 2 made, 1
// good, one of them.
func (r *reader) madeOf(i int) (phrase, bool) {
	n, next, ok := r.number(i)
	made := r.is(next, words.Made) || r.is(next, words.Did) && r.ends(next+1)
	if !ok || !n.whole || !made || !r.triedBefore() && !r.triesTold() {
		return phrase{}, false
	}
	p := phrase{kind: cameOff, n: n.int(), from: i, to: next + 1}
	for r.is(p.to, words.Off) || r.any(p.to, small) {
		p.to++
	}
	return p, true
}

// triesTold reports whether attempts are spoken of before: their skill may be
// misspelt.
func (r *reader) triesTold() bool {
	for n := len(r.phrases) - 1; n >= 0; n-- {
		if r.phrases[n].kind == tried {
			return true
		}
	}
	return false
}

// triedBefore reports whether the skill named last is one that is tried.
func (r *reader) triedBefore() bool {
	for n := len(r.phrases) - 1; n >= 0; n-- {
		if p := &r.phrases[n]; p.kind == skill {
			return r.isTried(p.at)
		}
	}
	return false
}

// outOf reads n/m and n out of m: attempts that came off, an effort, or a list.
func (r *reader) outOf(i int) (phrase, bool) {
	if n, ok := r.num(i); ok && r.slashed(i) && r.is(i+3, words.Set) { // 2/3 sets
		return r.counted(amount{milli: int64(n) * 1000, whole: true, from: i, to: i + 3})
	}
	if r.slashed(i) && !r.t.GluedSign(i+3, '/') && !(r.t.Is(i-1, '/') && r.t.Glued(i)) && !r.unitNext(i+3) {
		return phrase{kind: ratio, n: int(r.t.Tokens[i].N), m: int(r.t.Tokens[i+2].N), word: "/", from: i, to: i + 3}, true
	}
	if ten, _ := r.num(i + 4); r.t.GluedSign(i+1, '-') && r.slashed(i+2) && ten == 10 { // 7-8/10: the harder one
		return phrase{kind: ratio, n: int(r.t.Tokens[i+2].N), m: 10, word: "/", from: i, to: i + 5}, true
	}
	n, next, ok := r.number(i)
	if !ok || !n.whole {
		return phrase{}, false
	}
	if to, over := r.outOfTen(next); over > 0 && r.is(to, words.Set) { // 2 of 3 sets
		return r.counted(amount{milli: n.milli, whole: true, from: i, to: to})
	}
	if to, over := r.outOfTen(next); over > 0 && !r.any(to, timeUnit) && !r.is(to, words.Rep) {
		return phrase{kind: ratio, n: n.int(), m: over, from: i, to: to}, true
	}
	if m, to, ok := r.number(next + 1); ok && r.is(next, words.For) && m.whole && r.triedNear(i, to) && !r.any(to, goesOn) { // 1 for 4
		return phrase{kind: ratio, n: n.int(), m: m.int(), from: i, to: to}, true
	}
	return phrase{}, false
}

// triedNear reports whether the skill named before token i, or behind token to, is
// one that is tried.
func (r *reader) triedNear(i, to int) bool {
	for k := len(r.phrases) - 1; k >= 0; k-- {
		if p := &r.phrases[k]; p.kind == skill {
			return r.isTried(p.at)
		}
	}
	for j := to; j < to+3; j++ {
		if name, ok := r.name(j); ok && name.kind == skill {
			return r.isTried(name.at)
		}
	}
	return false
}
