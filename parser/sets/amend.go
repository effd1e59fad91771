package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
)

// Words that change what was told before them: they correct it, or take sets
// back.

// correction reads words or signs after which a size, a name or a set replaces
// the last one.
func (r *reader) correction(i int) (phrase, bool) {
	next, ok := words.Phrase(r.t, i, words.Correct)
	level, rates := r.level(i, next+1)
	if rates = rates && ok && r.sized && r.is(next, words.Article) && r.ends(level.to); rates && level.levels[0] >= 50 { // call it a 7
		return level, level.levels[0] <= 100
	}
	if ok && r.amends(i, next) {
		return phrase{kind: correction, from: i, to: next}, true
	}
	if r.is(i, words.None) && !r.t.Is(i+1, ',') { // no support today
		_, size := r.amount(i + 1)
		return one(correction, i), size && r.sized && r.corrects(i+1)
	}
	return one(correction, i), r.is(i, words.Correct) && r.amends(i, i+1)
}

// amends reports whether the words from token i to next correct what was told.
// Either the replacement stands right behind them; or a whole size follows
// soon, and they are a clause of their own or several words that can mean
// nothing else: no wait, I counted again, 3x30s.
func (r *reader) amends(i, next int) bool {
	if r.is(i-1, words.Feel) { // felt more like 9
		return false
	}
	if r.is(next-1, words.Was) && next > i+1 {
		return r.wereSets(i, next)
	}
	if r.corrects(next) {
		return true
	}
	clause := r.ends(i-1) && !r.t.Glued(i) && (r.ends(next) || next > i+1 || len(r.t.Word(i)) > 3) && r.t.Kind(next) != text.End
	return r.sized && clause && r.wholeSizeSoon(next)
}

// wereSets reports whether "it was" tells sets anew: counted sets follow, and
// they are not those of another time.
func (r *reader) wereSets(i, next int) bool {
	next = r.pass(next, small)
	a, ok := r.amount(next)
	_, by := r.countWord(a.to)
	if !ok || by == none || !r.sized {
		return false
	}
	for j := i - 6; j < a.to+8; j++ {
		if r.any(j, elsewhen) && !r.is(j, words.Was) {
			return false
		}
	}
	return true
}

// farthest is how many tokens behind a correction its size may stand.
const farthest = 12

// wholeSizeSoon reports whether a size with its count or its unit stands behind
// token i in the sentence, or in the next where that one begins here.
func (r *reader) wholeSizeSoon(i int) bool {
	for j := i; j < i+farthest && !r.endsLine(j); j++ {
		if r.t.Kind(j) == text.Sign && j > i && (r.t.Is(j, '.') || r.t.Is(j, '?')) {
			return false
		}
		number := r.t.Kind(j) == text.Number || r.numberWord(j)
		if !number || r.is(j-1, words.Rest) {
			continue
		}
		a, ok := r.amount(j)
		if _, by := r.countWord(a.to); ok && (a.unit != unsaid || by != none) {
			return true
		}
	}
	return false
}

// corrects reports whether a size, a name or a set that can replace another
// stands at token i, small words and signs before it aside.
func (r *reader) corrects(i int) bool {
	if !r.sized {
		return false
	}
	for step := 0; step < 6; step++ {
		if _, _, ok := r.names.At(r.t, i); ok {
			return true
		}
		if _, ok := r.amount(i); ok {
			p, day := r.dayPhrase(i)
			return !day || p.day.fault == ""
		}
		if _, ok := r.whichSets(i); ok {
			return true
		}
		if !r.any(i, small) && !r.t.OneOf(i, ",:.-") {
			return false
		}
		i++
	}
	return false
}

// small are classes of words that may stand between a correction and the
// replacement.
var small = words.OfClasses(words.Was, words.Only, words.The, words.My, words.Article, words.Correct, words.This, words.Harmless)

// retraction reads words that take sets back, before the sets (scratch the last
// one, take the 3 out, forget the rows) or behind them (the last one doesn't
// count).
func (r *reader) retraction(i int) (phrase, bool) {
	p := one(retracted, i)
	if next, ok := words.Phrase(r.t, i, words.Retract); ok {
		p.to = next
		return p, r.sized
	}
	j := r.pass(i+1, setLead)
	if !r.sized || !r.is(i, words.Retract) {
		return phrase{}, false
	}
	if name, ok := r.name(j); ok && name.kind == skill && j > i+1 && r.ends(name.to) {
		p.at, p.word, p.to = name.at, "name", name.to
		return p, true
	}
	p.set, p.to = r.setsBack(i+1, j)
	outs := r.ends(p.to) || r.any(p.to, outWords) && r.ends(p.to+1)
	return p, p.set.count > 0 && outs
}

// setsBack reads which sets are taken back (the last one, the 3, one of the
// fives) at token i, or at token j behind the small words, and returns the
// token behind them. The count of sets is 0 where none are named.
func (r *reader) setsBack(i, j int) (nth, int) {
	if to, set, ok := r.failedWhich(i); ok {
		return set, to
	}
	if r.is(j, words.Ones) && r.is(j+1, words.Of) {
		j = r.pass(j+2, setLead)
	}
	if r.is(j, words.Tally) && j > i {
		return nth{count: 1, like: r.value(j)}, j + 1
	}
	if n, next, ok := r.number(j); ok && n.whole && n.int() > 0 && j > i {
		return nth{count: 1, like: n.int()}, next
	}
	return nth{}, i
}

// outWords are classes of words that may stand behind a set that is taken back:
// take the 3 out.
var outWords = words.OfClasses(words.Harmless, words.Address, words.Off)

// falseStart reads a count that is corrected before its size is told: three no
// four sets of 8; 3 times, sorry 2 times 20s.
func (r *reader) falseStart(i int) (phrase, bool) {
	n, next, ok := r.number(i)
	if !ok || !n.whole || r.inList(i) {
		return phrase{}, false
	}
	if r.any(next, countWords) {
		next++
	}
	j := next
	for step := 0; step < 3; step++ {
		switch end, ok := words.Phrase(r.t, j, words.Correct); {
		case ok:
			j = end
		case r.is(j, words.Correct), r.t.Is(j, ',') && !r.t.Glued(j+1):
			j++
		}
	}
	m, to, ok := r.number(j)
	_, by := r.countWord(to)
	said := r.is(j-1, words.Correct) || j > next+1
	return phrase{kind: filler, from: i, to: j}, said && ok && m.whole && by != none && !r.t.Is(next, ',')
}

// correctDay makes a day behind a correction replace the day named before it:
// yesterday, no, Monday.
func (r *reader) correctDay(p *phrase) bool {
	n := len(r.phrases) - 1
	for n > 0 && r.phrases[n].kind == separator && !r.t.OneOf(r.phrases[n].from, "*→") {
		n--
	}
	was := r.lastOf(dayNamed)
	if was == nil || r.phrases[n].kind == skill {
		return false
	}
	i := r.phrases[n].to - 1
	if r.is(i, words.Was) || !r.t.Is(i, '*') && !r.is(i, words.Correct) && !r.endsCorrection(i) {
		return false
	}
	was.day = p.day
	return true
}

// endsCorrection reports whether words that correct end with token i: I mean.
func (r *reader) endsCorrection(i int) bool {
	for from := i - 1; from >= max(0, i-3); from-- {
		if next, ok := words.Phrase(r.t, from, words.Correct); ok && next == i+1 {
			return true
		}
	}
	return false
}
