package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// level reads the number of an effort at token j: 8, 7.5, 8/10, 8 out of 10. Of
// a range such as 7-8 it takes the harder one. A list such as 7/8/9 gives one
// effort for each set. The phrase begins at token from.
func (r *reader) level(from, j int) (phrase, bool) {
	n, next, ok := r.number(j)
	if !ok {
		return phrase{}, false
	}
	if half, _ := r.num(next + 1); r.t.GluedSign(next, ',') && half == 5 && n.whole && n.milli < 10_000 { // 9,5
		n.milli, next = n.milli+500, next+2
	}
	p := phrase{kind: effort, levels: []int{int(min(n.milli/100, text.NumberCap))}, from: from, to: next}
	if r.levelList(&p, j) {
		return p, true
	}
	high, ok := r.rangeTo(amount{milli: n.milli, from: j, to: next})
	if ok && high.unit == unsaid && high.milli <= 10_000 { // the harder one
		p.levels[0], next = int(high.milli/100), high.to
		p.to = next
	}
	ten, _ := r.num(next + 1)
	switch to, over := r.outOfTen(next); {
	case r.t.Is(next, '/') && ten == 10 && !r.t.Is(next+2, '/'):
		p.to = next + 2
	case over == 10:
		p.to = to
	case r.t.Is(next, '+') && r.t.Glued(next) && r.ends(next+1):
		p.to = next + 1
	}
	return p, true
}

// levelList reads a list of efforts at token j into p, one for each set: 7/8/9
// or, behind a word for effort, RPE 7, 8, 9. It reports false, and leaves p as
// it is, if there is no list.
func (r *reader) levelList(p *phrase, j int) bool {
	ten, _ := r.num(j + 2)
	slashes := r.slashed(j) && !(ten == 10 && !r.t.Is(j+3, '/'))
	commas := r.t.Is(j+1, ',') && !r.t.Is(p.from, '@') && p.from < j
	if !slashes && !commas {
		return false
	}
	var levels []int
	to := j
	for at := j; len(levels) < 8; at++ {
		n, next, ok := r.number(at)
		if !ok || n.words || n.milli > 10_000 {
			return false
		}
		levels = append(levels, int(n.milli/100))
		if at, to = next, next; !r.levelsGoOn(at, slashes) {
			break
		}
	}
	if commas && (len(levels) < 2 || !r.ends(to)) { // RPE 8, 5 dips
		return false
	}
	p.levels, p.to = levels, to
	return true
}

// levelsGoOn reports whether a list of efforts goes on at token i: a sign or
// word that joins stands there, with a number behind it. slashes says that
// slashes join the list; otherwise commas or an and do.
func (r *reader) levelsGoOn(i int, slashes bool) bool {
	if slashes {
		return r.t.GluedSign(i, '/') && r.t.Kind(i+1) == text.Number
	}
	return (r.t.Is(i, ',') || r.is(i, words.And)) && r.t.Kind(i+1) == text.Number && !r.any(i+2, goesOn)
}

// outOfTen reads "out of 10" or "of 10" at token i, with any whole number. It
// returns the token behind it and the number; i and 0 for none.
func (r *reader) outOfTen(i int) (next int, over int) {
	j := i
	if string(r.t.Word(j)) == "out" {
		j++
	}
	if !r.is(j, words.Of) {
		return i, 0
	}
	n, next, ok := r.number(j + 1)
	if !ok || !n.whole {
		return i, 0
	}
	return next, n.int()
}

// numberedEffort reads an effort that begins with its number: 8/10 effort, 2
// RIR, 2 reps in reserve, 2 left in the tank.
func (r *reader) numberedEffort(i int) (phrase, bool) {
	n, next, ok := r.number(i)
	if !ok {
		return phrase{}, false
	}
	j := next
	if high, ok := r.rangeTo(amount{milli: n.milli, from: i, to: next}); ok && high.unit != seconds { // 1-2 RIR: the harder one
		j = high.to
		if high.unit == reps {
			j--
		}
	}
	if to := r.reserve(j); to > j {
		return phrase{kind: effort, levels: ofReserve(n.milli), m: 1, from: i, to: to}, true
	}
	p, ok := r.level(i, i)
	k := p.to + 1
	for r.t.OneOf(k, ":=") || r.any(k, effortSmall) {
		k++
	}
	if _, _, behind := r.number(k); !ok || !r.is(p.to, words.Effort) || behind { // 5/5/4 effort 8
		return phrase{}, false
	}
	p.to++
	return p, true
}

// ratedSet reads a number that rates a set told before, without a word for
// effort: first two felt like a 6, the last one a solid 9; 3x30s, the last was
// a 9; last set at 9. A number that may as well be the size of the set is
// doubted.
func (r *reader) ratedSet(i int) (phrase, bool) {
	n := len(r.phrases) - 1
	for n >= 0 && r.phrases[n].kind == filler {
		n--
	}
	article := r.gradedBy(i)
	named := n >= 0 && r.phrases[n].kind == which
	like := article >= 0 && r.is(article-1, words.Approx)
	if !named && !like && !(article >= 0 && r.is(article-1, words.Was)) {
		return phrase{}, false
	}
	last := r.lastOf(sized)
	p, ok := r.level(i, i)
	if last == nil || !ok || !r.ends(p.to) || len(p.levels) > 1 || p.levels[0] > 100 {
		return phrase{}, false
	}
	timed := r.timed(&last.size)
	if !named {
		return p, (timed || like && last.size.count > 1) && p.levels[0] >= 50 // support 20s was a 9
	}
	return r.rateNamed(p, i, timed, article >= 0)
}

// rateNamed decides whether p, the number of an effort at token i, rates the
// sets that words before it name. It returns p or, if the number may be their
// size as well, a size with a fault. timed says that the sets are in seconds;
// graded, that an article stands before the number.
func (r *reader) rateNamed(p phrase, i int, timed, graded bool) (phrase, bool) {
	at, rated := r.is(i-1, words.At), r.lastOf(effort) != nil
	switch {
	case p.to > i+1 || timed && (graded || rated || at): // 9/10
		return p, true
	case at && int64(p.levels[0])*100 < r.lastOf(sized).size.milli || rated && graded: // 3x10, last set at 9
		p = ofAmount(amount{milli: int64(p.levels[0]) * 100, whole: true, from: i, to: p.to})
		p.fault = LeftOver
		return p, true
	}
	return p, at && p.levels[0] >= 70
}

// timed reports whether a size is in seconds, by its unit or by the unit of the
// skill named last.
func (r *reader) timed(s *size) bool {
	name := r.lastOf(skill)
	return s.unit == seconds || name != nil && s.unit == unsaid && r.names.Rungs[name.at].Unit == training.Timed
}

// gradedBy returns the token of the article before the number at token i; one
// word such as solid may stand between them. It returns -1 for none.
func (r *reader) gradedBy(i int) int {
	if i--; !r.is(i, words.Article) && r.any(i, grades) {
		i--
	}
	if r.is(i, words.Article) {
		return i
	}
	return -1
}

// grades are words that may stand between an article and the number of an
// effort: a solid 9.
var grades = words.OfClasses(words.Full, words.Harmless, words.Plain, words.Level)

// ofReserve returns the effort of a set after which so many reps were left, as
// the levels of a phrase. milli is in thousandths of a rep. The effort is 10
// less the reps; it is negative if they are more.
func ofReserve(milli int64) []int { return []int{int(100 - min(milli/100, 1000))} }

// reserveSmall are words that may stand between a number and the words for reps
// in reserve.
var reserveSmall = words.OfClasses(words.In, words.The, words.Left, words.Full, words.Harmless, words.Rep)

// reserve passes words at token i that make the number before them reps in
// reserve: RIR, in reserve, reps left in the tank, more in me, reps left. Behind
// a with and the number, the word left is enough. It returns i for none.
func (r *reader) reserve(i int) int {
	j := i
	if r.is(j, words.Rep) {
		j++
	}
	sides := r.is(j+2, words.Right) || r.is(j+3, words.Right)
	if r.is(j, words.Left) && (r.ends(j+1) || r.is(j+1, words.Each)) && !sides && (j > i || r.is(i-2, words.With)) {
		return j + 1
	}
	for step := 0; step < 6; step++ {
		if next, ok := words.Phrase(r.t, j, words.Reserve); ok {
			return next
		}
		if r.is(j, words.Reserve) {
			return j + 1
		}
		if !r.any(j, reserveSmall) {
			return i
		}
		j++
	}
	return i
}

// effortSmall are words that may stand between the word for an effort and its
// number.
var effortSmall = words.OfClasses(words.Of, words.Did, words.Was, words.Article, words.Feel, words.Approx, words.At, words.Only)

// effortPhrase reads an effort that begins with the word for it: RPE 8, RIR 2,
// effort: 8 out of 10, felt like an 8, hard 8/10, rpe 7/8/9.
func (r *reader) effortPhrase(i int) (phrase, bool) {
	j := r.effortWord(i)
	marked, reserve := r.is(j, words.Effort), r.is(j, words.Reserve)
	switch {
	case marked || reserve:
		j++
	case !r.is(i, words.Feel):
		return phrase{}, false
	}
	for r.t.OneOf(j, ":=~@") || r.any(j, effortSmall) {
		j++
	}
	a, ok := r.amount(j)
	if !ok || a.unit != unsaid {
		word := phrase{kind: effort, fault: EffortWord, from: i, to: j + 1}
		return word, marked && r.is(j, words.Level) && r.ends(j+1)
	}
	p, ok := r.level(i, j)
	switch scaled := p.to > a.to; {
	case !ok:
		return phrase{}, false
	case reserve:
		if p.m = 1; len(p.levels) == 1 {
			p.levels = ofReserve(a.milli) // of a range the harder one
			return p, true
		}
		for k := range p.levels {
			p.levels[k] = 100 - p.levels[k]
		}
		return p, true
	case !marked && !scaled: // felt like 8: only the end makes it an effort
		return p, r.ends(a.to) && a.milli >= 5_000 && a.milli <= 10_000 && !r.t.Is(a.to, '/')
	}
	return p, marked || p.levels[0] <= 100
}

// effortWord passes small words before the word for an effort.
func (r *reader) effortWord(i int) int {
	for step := 0; step < 5 && !r.is(i, words.Effort) && !r.is(i, words.Reserve); step++ {
		if !r.any(i, sayNothing) && !r.any(i, effortSmall) {
			break
		}
		i++
	}
	return i
}

// signed reads an @ or a plus with the number or word behind it: @8, @7/8/9,
// @5kg, @hard, +5kg. A plus is a separator if it is glued on both sides, or if
// it has blanks on both sides and no weight with its unit follows.
func (r *reader) signed(i int) (phrase, bool) {
	j, at := i+1, r.t.Is(i, '@')
	if at {
		if p, ok := r.saidAt(j); ok {
			p.from = i
			return p, true
		}
	}
	if p, ok := r.loadPhrase(j); ok && p.kind == load && (at || !r.t.Glued(i) || !r.t.Glued(j)) {
		p.from = i
		return p, true
	}
	if !at {
		return r.plus(i)
	}
	if r.is(j, words.Level) && r.t.Glued(j) {
		return phrase{kind: effort, fault: EffortWord, from: i, to: j + 1}, true
	}
	a, ok := r.amount(j)
	if !ok || a.unit != unsaid || r.is(a.to, words.Times) || r.is(a.to, words.Set) {
		return phrase{}, false
	}
	return r.level(i, j)
}

// saidAt reads what stands behind an @ and says by itself what it is: a tempo,
// RPE 8, 2 RIR.
func (r *reader) saidAt(i int) (phrase, bool) {
	if to := r.tempo(i); to > i {
		return phrase{kind: filler, from: i, to: to}, true
	}
	if p, ok := r.effortPhrase(i); ok && (r.is(i, words.Effort) || r.is(i, words.Reserve)) {
		return p, true
	}
	return r.numberedEffort(i)
}

// plus reads a load without its unit, which is a fault: +5.
func (r *reader) plus(i int) (phrase, bool) {
	n, next, ok := r.number(i + 1)
	if !ok || n.words || !r.t.Glued(i+1) || r.t.Glued(i) && !r.t.Is(i-1, '(') {
		return phrase{}, false
	}
	return phrase{kind: load, fault: MissingLoadUnit, n: int(n.milli / 100), from: i, to: next}, r.ends(next)
}
