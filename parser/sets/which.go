package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
)

// Which of the sets told before are meant.

// whichSets reads the sets that a correction is about: last set 24s, last two 25,
// first one 35, 2nd 28s, set 2: 28s.
func (r *reader) whichSets(i int) (phrase, bool) {
	from := i
	i = r.whichLead(i)
	if p, ok := r.numberedSet(i); ok {
		p.from = from
		return p, true
	}
	set, next, ok := r.lastOrNth(i)
	if !ok {
		return phrase{}, false
	}
	p := phrase{kind: which, from: from, set: set}
	p.to, ok = r.whichEnd(&p, next)
	if !ok && from < i && r.ends(next) { // on the last, on the third, but no more than "the third"
		p.to, ok = next, set.first == 0 || r.is(from, words.On) || r.is(from, words.For)
	}
	return p, ok
}

// whichLead passes small words before the sets that are meant.
func (r *reader) whichLead(i int) int {
	for r.any(i, setLead) || r.is(i, words.For) && r.is(i+1, words.The) {
		i++
	}
	return i
}

// setLead are words that may stand before the one set that is meant.
var setLead = words.OfClasses(words.On, words.The, words.My)

// lastOrNth reads which of several sets is meant: the last, or an ordinal.
func (r *reader) lastOrNth(i int) (set nth, next int, ok bool) {
	if r.is(i, words.Last) {
		return nth{count: 1}, i + 1, true
	}
	n, next, ok := r.ordinal(i)
	return nth{first: n, count: 1}, next, ok && n > 0 && n <= mostSets
}

// whichEnd reads what shows that an ordinal or last is of sets: how many, the word
// set, or what came of them.
func (r *reader) whichEnd(p *phrase, j int) (next int, ok bool) {
	first := j
	if n, next, ok := r.howManySets(j); ok {
		if n.int() > 1 || !n.words {
			p.set.count = n.int()
		}
		j = next
	}
	if r.oneOrOnes(j) || r.any(j, setWords) {
		j++
	}
	for r.any(j, verdictSmall) || r.t.Is(j, ':') && !r.t.Glued(j+1) {
		j++
	}
	if j > first {
		named := r.named(r.pass(j, sayNothing))
		return j, !named || p.set.count == 1 // my first 3 pull-ups are no sets told before
	}
	if r.is(j, words.Fail) || r.is(j, words.With) && r.helpBehind(j) || r.t.Is(j, '@') {
		return j, true
	}
	a, sized := r.amount(j)
	return j, sized && (a.unit != unsaid || p.set.first == 0) && !r.any(a.to, countWords)
}

// setWords are words that may be said for a set told before: the last set, go, round.
var setWords = words.OfClasses(words.Set, words.Rep, words.Try, words.Round)

// howManySets reads how many are meant behind an ordinal or last: the last two, first
// 3 sets. A number with a unit is no such count.
func (r *reader) howManySets(i int) (n number, next int, ok bool) {
	n, next, ok = r.number(i)
	if !ok || !n.whole || n.int() < 1 || n.int() > 9 || r.t.Kind(next) == text.Sign {
		return n, next, false
	}
	return n, next, r.is(next, words.Set) || !r.any(next, goesOn)
}

// oneOrOnes reports whether token i stands for sets told before: the last one, the
// last ones.
func (r *reader) oneOrOnes(i int) bool {
	return r.is(i, words.Ones) && r.value(i) == 1 || isOnes(r.t.Word(i))
}

// isOnes reports whether a word is ones, as in the last ones.
func isOnes(word []byte) bool { return string(word) == "ones" }

// verdictSmall are words between a set and what came of it: last was only 24.
var verdictSmall = words.OfClasses(words.Was, words.Only, words.At)

// helpBehind reports whether what helped a set stands at token i.
func (r *reader) helpBehind(i int) bool {
	_, ok := r.helpPhrase(i)
	return ok
}

// numberedSet reads "set 2". Behind a count or a unit it is none: 3 sets 30 s.
func (r *reader) numberedSet(i int) (phrase, bool) {
	n, ok := r.num(i + 1)
	if !ok || n == 0 || n > mostSets || !r.oneSet(i) {
		return phrase{}, false
	}
	p := phrase{kind: which, set: nth{first: n, count: 1}, from: i, to: i + 2}
	marked := r.t.OneOf(i+2, ":-)=") && !r.slashed(i+1)
	if marked {
		p.to++
	}
	p.to = r.pass(p.to, verdictSmall)
	round := r.is(i, words.Round)
	_, size := r.amount(p.to)
	if r.any(i+2, goesOn) && !r.is(i+2, words.On) || !size && !r.is(p.to, words.Fail) {
		p = phrase{kind: filler, from: i, to: p.to}
		return p, round && marked || r.ends(p.to) && !marked
	}
	if round && marked && r.skillOnLine(p.to) { // round 2: deep hang 28s
		p.kind = filler
	}
	return p, true
}

// oneSet reports whether set or round stands at token i, in the singular and counted
// by nothing before it.
func (r *reader) oneSet(i int) bool {
	counted := r.t.Kind(i-1) == text.Number || r.is(i-1, words.Ones) || r.is(i-1, words.Times)
	return r.any(i, setOrRound) && !words.Plural(r.t.Word(i)) && !counted
}

var setOrRound = words.OfClasses(words.Set, words.Round)

// skillOnLine reports whether a skill is named soon from token i on, on its line.
func (r *reader) skillOnLine(i int) bool {
	for j := i; j < i+8 && !r.endsLine(j); j++ {
		if r.named(j) {
			return true
		}
	}
	return false
}
