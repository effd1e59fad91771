package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
)

// What came of a set: that it failed, how many attempts came off.

// fail reads that a set did not come off: fail, failed at 22s, failed the last
// set, and the x of 30/30/x.
func (r *reader) fail(i int) (phrase, bool) {
	p := one(failed, i)
	if r.is(i, words.Times) {
		return p, r.failCross(i)
	}
	if _, _, less := r.number(i + 2); r.is(i-1, words.To) || less && r.is(i+1, words.To) { // to failure, dropped to 4
		return one(filler, i), true
	}
	if next, ok := words.Phrase(r.t, i, words.Fail); ok {
		p.to = next
	} else if !r.is(i, words.Fail) || len(r.t.Word(i)) == 1 && !r.failLetter(i) {
		return phrase{}, false
	}
	if r.oneOrOnes(p.to) || r.is(p.to, words.Set) {
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
	if a, ok := r.reached(p.to); ok { // failed at 22s, failed after 22s
		p.size.amount, p.to = a, a.to
	}
	return p, true
}

// cutShort reads how far a set came that ended early: bailed at 16, let go at
// 26s. It counts as done so far, not as failed.
func (r *reader) cutShort(i int) (phrase, bool) {
	next, ok := words.Phrase(r.t, i, words.Cut)
	if !ok && r.is(i, words.Cut) {
		next, ok = i+1, true
	}
	if to := r.afterSets(next); ok && to > next {
		return phrase{kind: doubtful, n: max(r.setNumber(to-1), r.setNumber(next+1)), from: i, to: to}, true
	}
	a, reached := r.reached(next)
	return phrase{kind: failed, size: size{amount: a}, short: true, from: i, to: a.to}, ok && reached
}

// afterSets returns the end of words at token i that say after how many sets
// somebody stopped: after set 2, after two sets. It returns i where there are
// none.
func (r *reader) afterSets(i int) int {
	switch {
	case !r.is(i, words.Reached):
		return i
	case r.oneSet(i+1) && r.setNumber(i+2) > 0:
		return i + 3
	case r.setNumber(i+1) > 0 && r.is(i+2, words.Set) && !r.is(i+3, words.Of):
		return i + 3
	}
	return i
}

// reached reads how far a set came that ended early: at 22s, after 22s.
func (r *reader) reached(i int) (amount, bool) {
	if !r.is(i, words.Reached) && !r.is(i, words.Then) {
		return amount{}, false
	}
	i = r.pass(i+1, reachedSmall)
	a, ok := r.amount(i)
	ends := r.timeOfDay(i) == i && !r.t.Is(a.to, '/') && !r.any(a.to, goesOn) && !r.skillSoon(a.to)
	return a, ok && a.fault == "" && a.milli > 0 && a.milli < 600_000 && (a.unit != unsaid || ends)
}

// reachedSmall are words that may stand before what a set reached.
var reachedSmall = words.OfClasses(words.Approx, words.Only, words.The)

// failCross reports whether the x at token i ends a list of sizes: 5/5/x, 30 30 x.
func (r *reader) failCross(i int) bool {
	listed := r.t.Glued(i) && r.t.Is(i-1, '/') || r.t.Kind(i-1) == text.Number && !r.t.Glued(i)
	return listed && r.ends(i+1) && r.t.Kind(i+1) != text.Number
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
	set, end, ok := r.lastOrNth(r.pass(i, setLead))
	if !ok {
		return i, set, false
	}
	if n, next, ok := r.number(end); ok && n.whole && n.int() <= 9 && n.int() > 1 && !r.any(next, goesOn) {
		set.count, end = n.int(), next
	}
	if r.any(end, failedWords) || isOnes(r.t.Word(end)) {
		end++
	}
	return end, set, true
}

// failedWords are words that may be said for a set that failed.
var failedWords = words.OfClasses(words.Set, words.Rep, words.Try, words.Ones)

// try reads the word attempts; in "4th try" it counts none. On try 4, on try
// number 4, it was the fourth that came off.
func (r *reader) try(i int) (phrase, bool) {
	p := one(tried, i)
	if !r.is(i-1, words.On) {
		return p, true
	}
	j := i + 1
	if r.is(j, words.Label) || r.t.Is(j, '#') {
		j++
	}
	if n, next, ok := r.number(j); ok && n.whole {
		p.n, p.to = n.int(), next
	}
	return p, true
}

// nthTry reads which attempt it was that came off: on the 7th try, on my third
// attempt.
func (r *reader) nthTry(i int) (phrase, bool) {
	set, next, ok := r.lastOrNth(r.whichLead(i + 1))
	return phrase{kind: tried, n: set.first, from: i, to: next + 1}, ok && set.first > 0 && r.is(next, words.Try)
}

// outcome reads how many attempts came off: 1 made, none stuck, got 2.
func (r *reader) outcome(i int) (phrase, bool) {
	p := one(cameOff, i)
	if r.is(i, words.None) && (r.is(i+1, words.Made) || r.is(i+1, words.Of)) { // none made, none of them
		p.to = r.madeTail(i + 2)
		return p, true
	}
	if r.is(i, words.Made) {
		return r.made(i)
	}
	return p, r.is(i, words.None) && r.ends(i+1) && (r.ends(i-1) || r.behindSet())
}

// behindSet reports whether a set, or a then that goes on with them, was read
// last: third set zero.
func (r *reader) behindSet() bool {
	n := len(r.phrases) - 1
	return n >= 0 && (r.phrases[n].kind == which || r.phrases[n].kind == separator && r.phrases[n].at == '>')
}

// made reads made, with how many where a number, none or once is said behind it.
func (r *reader) made(i int) (phrase, bool) {
	p := one(cameOff, i)
	j := i + 1
	if r.t.Is(j, ':') {
		j++
	}
	if n, next, ok := r.number(j); ok && n.whole && r.triedNear(i, next) && r.closesOutcome(j, next) {
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

// closesOutcome reports whether the number from token i to next is how many
// came off: nothing goes on behind it, no list and no size.
func (r *reader) closesOutcome(i, next int) bool {
	closed := r.ends(next) && r.t.Kind(next) != text.Number
	return (closed || r.is(next, words.Of)) && !r.slashed(i)
}

// madeTail passes the rest of what came off: of them, it.
func (r *reader) madeTail(i int) int {
	for r.is(i, words.Off) || r.any(i, small) {
		i++
	}
	return i
}

// madeOf reads how many attempts came off where the number stands first: 2 made, 1
// good, one of them.
func (r *reader) madeOf(i int) (phrase, bool) {
	n, next, ok := r.number(i)
	to, made := words.Phrase(r.t, next, words.Made)
	if !made && (r.is(next, words.Made) || r.is(next, words.Did) && r.ends(next+1)) {
		to, made = next+1, true
	}
	if !ok || !n.whole || !made || !r.triedBefore() && !r.triesTold() {
		return phrase{}, false
	}
	return phrase{kind: cameOff, n: n.int(), from: i, to: r.madeTail(to)}, true
}

// triesTold reports whether attempts are spoken of before: their skill may be
// misspelt.
func (r *reader) triesTold() bool { return r.lastOf(tried) != nil }

// goesTold reports whether a number stands behind the skill named last. Then "2
// of them" says how many of those attempts were done, else how many attempts
// there were.
func (r *reader) goesTold() bool {
	size, of := r.lastOf(sized), r.lastOf(skill)
	return size != nil && (size.from > of.from || size.to == of.from || r.triesBehind(size))
}

// triesBehind reports whether a size counts attempts: 5 tries.
func (r *reader) triesBehind(p *phrase) bool { return r.is(p.to, words.Try) }

// triedBefore reports whether the skill named last is one that is tried.
func (r *reader) triedBefore() bool {
	p := r.lastOf(skill)
	return p != nil && r.isTried(p.at)
}

// lastOf returns the last phrase of a kind; nil where none was read, or only
// one so far back that a search for it would not be linear.
func (r *reader) lastOf(k kind) *phrase {
	for n := len(r.phrases) - 1; n >= max(0, len(r.phrases)-nearPhrases); n-- {
		if p := &r.phrases[n]; p.kind == k {
			return p
		}
	}
	return nil
}

const nearPhrases = 100

// outOf reads n/m and n out of m: attempts that came off, an effort, or a list.
func (r *reader) outOf(i int) (phrase, bool) {
	if p, ok := r.slashedOf(i); ok {
		return p, true
	}
	n, next, ok := r.number(i)
	if !ok || !n.whole {
		return phrase{}, false
	}
	if r.is(next, words.Of) && r.is(next+1, words.Those) {
		return r.ofThem(n, i, next+2)
	}
	if to, ok := r.partOfSets(n, next); ok {
		return r.counted(amount{milli: n.milli, whole: true, from: i, to: to})
	}
	to, over := r.outOfTen(next)
	if p, ok := r.setsOf(n, i, next); ok && over != 10 && !r.is(to, words.Try) {
		return p, true
	}
	switch {
	case over == 10 && to == next+3 && !r.triedNear(i, to) && r.sized: // ten out of ten
		return r.level(i, i)
	case over > 0 && !r.any(to, timeUnit) && !r.is(to, words.Rep):
		p := phrase{kind: ratio, n: n.int(), m: over, from: i, to: to}
		if r.is(next, words.Of) {
			p.word = byOf
		}
		return p, true
	}
	return r.forTries(n, i, next)
}

// partOfSets passes how many sets there were to be: 2 of 3 sets, 4 of the 5
// sets of 8.
func (r *reader) partOfSets(n number, i int) (next int, ok bool) {
	to, over := r.outOfTen(i)
	if over == 0 && r.is(i, words.Of) && r.is(i+1, words.The) {
		all, end, counted := r.number(i + 2)
		to, over = end, all.int()
		if !counted || over < n.int() {
			return i, false
		}
	}
	return to, over > 0 && r.is(to, words.Set)
}

// ofThem reads how many of the sets or attempts told before: two of them.
func (r *reader) ofThem(n number, from, to int) (phrase, bool) {
	if r.triedBefore() && r.goesTold() {
		return phrase{kind: cameOff, n: n.int(), from: from, to: to}, true
	}
	return phrase{kind: counted, size: size{count: n.int(), loud: true}, from: from, to: to}, n.int() > 0
}

// byOf is the word of a ratio that nothing but an of joins: two of 20.
const byOf = "of"

// setsOf reads a count and a size where the word between them tells no part of
// several: 3 de 6 dips.
func (r *reader) setsOf(n number, i, next int) (phrase, bool) {
	if !r.is(next, words.Of) || r.value(next) != 1 || n.int() < 1 || r.triedBefore() {
		return phrase{}, false
	}
	a, ok := r.amount(next + 1)
	count := size{amount: amount{milli: n.milli, whole: true, from: i, to: next}, count: n.int()}
	return r.countedSize(phrase{kind: counted, size: count, from: i, to: next + 1}, a), ok
}

// slashedOf reads n/m, 2/3 sets, and 7-8/10.
func (r *reader) slashedOf(i int) (phrase, bool) {
	n, _ := r.num(i)
	of, _ := r.num(i + 2)
	if r.slashed(i) && r.is(i+3, words.Set) {
		return r.counted(amount{milli: int64(n) * 1000, whole: true, from: i, to: i + 3})
	}
	listed := r.t.GluedSign(i+3, '/') || r.t.Is(i-1, '/') && r.t.Glued(i)
	if closed := r.t.Is(i-1, '.') && r.ends(i+3); closed && of == 10 && r.slashed(i) && r.sized && !r.triedBefore() { // 3x8. 7/10.
		return r.level(i, i)
	}
	if r.slashed(i) && !listed && !r.unitNext(i+3) {
		return phrase{kind: ratio, n: n, m: of, word: "/", from: i, to: i + 3}, true
	}
	ten, _ := r.num(i + 4)
	harder := phrase{kind: ratio, n: of, m: 10, word: "/", from: i, to: i + 5} // 7-8/10
	return harder, r.t.GluedSign(i+1, '-') && r.slashed(i+2) && ten == 10
}

// forTries reads how many came off for how many attempts: 1 for 4.
func (r *reader) forTries(n number, i, next int) (phrase, bool) {
	m, to, ok := r.number(next + 1)
	tries := ok && m.whole && r.is(next, words.For) && r.triedNear(i, to) && !r.any(to, goesOn)
	return phrase{kind: ratio, n: n.int(), m: m.int(), from: i, to: to}, tries
}

// triedNear reports whether the skill named before token i, or behind token to, is
// one that is tried.
func (r *reader) triedNear(i, to int) bool {
	if p := r.lastOf(skill); p != nil {
		return r.isTried(p.at)
	}
	for j := to; j < to+3; j++ {
		if name, ok := r.name(j); ok && name.kind == skill {
			return r.isTried(name.at)
		}
	}
	return false
}
