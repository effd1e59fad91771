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
	if p, ok := r.sizeWas(from); ok {
		return p, true
	}
	set, next, ok := r.lastOrNth(i)
	if !ok {
		return phrase{}, false
	}
	p := phrase{kind: which, from: from, set: set}
	if a, part := r.amount(next); part && a.unit == seconds && set.first == 0 && r.helpSaid() { // one foot down the last 5 seconds
		return phrase{kind: doubtful, from: from, to: a.to}, true
	}
	inOrder := set.first > 0 && r.digits(next) > 0 && r.endsClause(next+1) // first 10, second 9, third 8
	if inOrder || r.sizeOfLast(from, next) {
		p.to = next
		return p, true
	}
	p.to, ok = r.whichEnd(&p, next)
	if !ok && from < i && r.ends(next) { // on the last, on the third, but no more than "the third"
		p.to, ok = next, set.first == 0 || r.any(from, ofThose) || r.any(from-1, ofThose)
	}
	return p, ok
}

// sizeWas reads a set told before by its size where another follows: the 4 was
// a 3.
func (r *reader) sizeWas(i int) (phrase, bool) {
	n, next, ok := r.number(i + 1)
	if !ok || !r.sized || !n.whole || n.int() == 0 || !r.is(i, words.The) {
		return phrase{}, false
	}
	should, corrects := words.Phrase(r.t, next, words.Correct)
	if !corrects && !r.is(next, words.Was) {
		return phrase{}, false
	}
	to := r.pass(should, wasSmall)
	_, size := r.amount(to)
	return phrase{kind: which, from: i, to: to, set: nth{count: 1, like: n.int()}}, size
}

var wasSmall = words.OfClasses(words.Was, words.Only, words.Article, words.Correct)

// whichLead passes small words before the sets that are meant.
func (r *reader) whichLead(i int) int {
	for r.any(i, setLead) || r.is(i, words.For) && r.is(i+1, words.The) {
		i++
	}
	return i
}

// setLead are words that may stand before the one set that is meant.
var setLead = words.OfClasses(words.On, words.The, words.My, words.Plain)

// lastOrNth reads which of several sets is meant: the last, or an ordinal.
func (r *reader) lastOrNth(i int) (set nth, next int, ok bool) {
	if r.is(i, words.Last) {
		return nth{count: 1}, i + 1, true
	}
	n, next, ok := r.ordinal(i)
	set = nth{first: n, count: 1}
	if more, end, also := r.ordinal(r.pass(next+1, setLead)); ok && also && r.is(next, words.And) && more == n+1 { // third and fourth
		set.count, next = 2, end
	}
	return set, next, ok && n > 0 && n <= mostSets
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
	for r.any(j, verdictSmall) || r.t.OneOf(j, ":=") && !r.t.Glued(j+1) {
		j++
	}
	if k, ok := r.endedEarly(j); ok {
		return k, true
	}
	if j > first {
		named := r.named(r.pass(j, sayNothing))
		return j, !named || p.set.count == 1 // my first 3 pull-ups are no sets told before
	}
	if r.saysWhatCame(j) {
		return j, true
	}
	a, sized := r.amount(j)
	return j, sized && (a.unit != unsaid || p.set.first == 0 || r.isCorrection()) && !r.any(a.to, countWords)
}

// saysWhatCame reports whether something is said of a set at token i: that it
// failed, was taken back or helped, or how hard it was.
func (r *reader) saysWhatCame(i int) bool {
	_, gone := words.Phrase(r.t, i, words.Retract)
	if r.is(i, words.Feel) {
		_, gone = r.effortPhrase(i)
	}
	return gone || r.is(i, words.Fail) || r.any(i, saysHelp) && r.helpBehind(i) || r.t.Is(i, '@')
}

// endsClause reports whether a clause ends before token i, with no number right
// behind its sign.
func (r *reader) endsClause(i int) bool {
	return r.endsLine(i) || r.t.OneOf(i, ",;.") && !r.t.Glued(i+1) || r.is(i, words.And) || r.is(i, words.Then)
}

// endedEarly passes who or what gave up a set, to how it ended: the third I
// bailed at 21s, my last set the grip opened at 22s.
func (r *reader) endedEarly(i int) (next int, ok bool) {
	for j := i; j < i+4 && r.t.Kind(j) == text.Word && !r.named(j); j++ {
		if _, ok := r.cutShort(j); ok || r.is(j, words.Fail) {
			return j, true
		}
	}
	return i, false
}

// sizeOfLast reports whether the number behind last is the size of one set and
// not how many sets: 5, 5, 5, the last 4. It is how many where something is
// said of them: toes on the last 2.
func (r *reader) sizeOfLast(from, i int) bool {
	_, figures := r.num(i)
	closed := r.endsLine(i+1) || r.t.OneOf(i+1, ",.;)") && !r.t.GluedSign(i+1, '.') && r.t.Kind(i+2) != text.Number
	return figures && closed && r.sized && r.is(i-1, words.Last) && !r.any(from, ofThose) && !r.any(from-1, ofThose)
}

// ofThose are words before sets told elsewhere: on the last 2, for the last 2.
var ofThose = words.OfClasses(words.On, words.For, words.In, words.With)

// setWords are words that may be said for a set told before: the last set, go,
// round.
var setWords = words.OfClasses(words.Set, words.Rep, words.Try, words.Round)

// howManySets reads how many are meant behind an ordinal or last: the last two,
// first 3 sets. A number with a unit is no such count.
func (r *reader) howManySets(i int) (n number, next int, ok bool) {
	n, next, ok = r.number(i)
	if !ok || !n.whole || n.int() < 1 || n.int() > 9 || r.t.Kind(next) == text.Sign {
		return n, next, false
	}
	return n, next, r.is(next, words.Set) || !r.any(next, goesOn) || r.is(next, words.On) && r.helpBehind(next)
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

// saysHelp are words before what helped a set, or that nothing did.
var saysHelp = words.OfClasses(words.With, words.Without, words.Not, words.None, words.On)

// helpBehind reports whether what helped a set, or that nothing did, stands at
// token i.
func (r *reader) helpBehind(i int) bool {
	if r.is(i, words.On) { // on the band
		i = r.pass(i, saysWhere)
	}
	if off, ok := r.negation(i); ok && off.word == without && r.any(i, saysHelp) {
		return true
	}
	_, ok := r.helpPhrase(i)
	return ok
}

// saysWhere are words before the band that sets were done on.
var saysWhere = words.OfClasses(words.On, words.The, words.My)

// numberedSet reads "set 2". Behind a count or a unit it is none: 3 sets 30 s.
func (r *reader) numberedSet(i int) (phrase, bool) {
	n := r.setNumber(i + 1)
	if n == 0 || !r.oneSet(i) {
		return phrase{}, false
	}
	p := phrase{kind: which, set: nth{first: n, count: 1}, from: i, to: i + 2}
	if r.helpSaid() || r.any(p.to, saysHelp) && r.helpBehind(p.to) { // band only for set 3, set 3 with a band
		return p, true
	}
	marked := r.t.OneOf(i+2, ":-)=") && !r.slashed(i+1)
	if marked {
		p.to++
	}
	p.to = r.pass(p.to, verdictSmall)
	if really := r.pass(p.to, small); r.is(p.to-1, words.Was) && r.t.Kind(really) == text.Number { // set 2 was really 9
		p.to = really
	}
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

// setNumber returns the number at token i, in one word or in figures, as one of
// a set; 0 for none.
func (r *reader) setNumber(i int) int {
	n, to, ok := r.number(i)
	if !ok || !n.whole || to > i+1 || n.int() > mostSets {
		return 0
	}
	return n.int()
}

// helpSaid reports whether what was read last, but small words, is a help or a
// load.
func (r *reader) helpSaid() bool {
	n := len(r.phrases) - 1
	for n >= 0 && r.phrases[n].kind == filler && r.phrases[n].word != without {
		n--
	}
	return n >= 0 && (r.phrases[n].kind == help || r.phrases[n].kind == load || r.phrases[n].word == without)
}

// oneSet reports whether set or round stands at token i, in the singular and
// counted by nothing before it.
func (r *reader) oneSet(i int) bool {
	counted := r.t.Kind(i-1) == text.Number || r.is(i-1, words.Ones) || r.is(i-1, words.Times)
	return r.any(i, setOrRound) && !words.Plural(r.t.Word(i)) && (!counted || r.numbersSets(i))
}

// numbersSets reports whether the set at token i is numbered as the ones before
// it are: set one seven set two six.
func (r *reader) numbersSets(i int) bool {
	named := r.lastOf(which)
	return named != nil && r.is(named.from, words.Set) && r.is(i, words.Set) && r.setNumber(i+1) > 0
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
