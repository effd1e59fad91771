package sets

import (
	"strings"

	"rungbook/parser/text"
	"rungbook/parser/words"
)

// numberPhrase reads what begins with a number.
func (r *reader) numberPhrase(i int) (phrase, bool) {
	times := r.digits(i) > 0 && r.is(i+1, words.Times) && r.t.Kind(i+2) == text.Number
	if times && !r.is(i-1, words.Tempo) && !r.t.Is(i-1, '@') { // 3x30: nearly all
		return r.sizePhrase(i)
	}
	if p, ok := r.firstOf(figureOnly, i); ok {
		return p, true
	}
	return r.firstOf(numberRules, i)
}

// spelledNumber reads a size or a count that begins with a word: thirty seconds, a
// minute, two sets.
func (r *reader) spelledNumber(i int) (phrase, bool) {
	if p, ok := r.falseStart(i); ok {
		return p, true
	}
	a, ok := r.amount(i)
	if ok && a.milli == 1000 && (a.to == i+1 && r.unknownOne(i) || r.secondOf(i)) {
		return phrase{}, false
	}
	if !ok || r.is(a.to, words.Limb) && !r.t.Is(a.to, ':') {
		return phrase{}, false
	}
	p, ok := r.firstOf(numberRules, i)
	lone := ok && p.kind == sized && a.unit == unsaid && p.size.count == 0
	if lone && !r.counting(i, a) { // a word such as one counts nothing by itself
		return phrase{}, false
	}
	return p, ok
}

// secondOf reports whether "a second" at token i is one more of several, and no
// time: a second go, a second time.
func (r *reader) secondOf(i int) bool {
	second := r.is(i, words.Article) && r.is(i+1, words.Second) && r.t.Kind(i+2) == text.Word
	return second && (r.any(i+2, setWords) || r.ends(i+3) || r.named(i+2))
}

// unknownOne reports whether a word that is one in another language stands
// before a number: there it is the um of talk, or an article.
func (r *reader) unknownOne(i int) bool {
	return string(r.t.Word(i)) != "one" && (r.t.Kind(i+1) == text.Number || r.numberWord(i+1))
}

// counting reports whether a single number in words is a size: a skill or
// another number stands beside it.
func (r *reader) counting(i int, a amount) bool {
	_, another := r.amount(a.to)
	if a.milli <= 1000 {
		if r.is(i-1, words.Then) && r.ends(a.to) && beforeCounting.has(r.lastKind(separator)) { // two dips. then one
			return true
		}
		_, _, named := r.names.At(r.t, a.to)
		for j := a.to; !named && j < a.to+3 && r.any(j, sayNothing); j++ {
			_, _, named = r.names.At(r.t, j+1)
		}
		return named && !another && r.words[i].Value == 1 && r.is(i, words.Ones) && len(r.t.Word(i)) == 3
	}
	if r.is(i-1, words.Of) && r.is(i-2, words.Set) { // a set of five
		return true
	}
	if r.skillSoon(a.to) || another || r.isCorrection() || r.is(a.to, words.Try) || r.listToSkill(a.to) { // make that four
		return true
	}
	return r.goesOnWith(a)
}

// goesOnWith reports whether a number in words continues what was told before:
// 10, eight; 10 dips. Then eight; the last one with only two.
func (r *reader) goesOnWith(a amount) bool {
	n := len(r.phrases) - 1
	if n > 0 && r.is(r.phrases[n].from, words.Article) { // and a four
		n--
	}
	if n >= 0 && r.sized && r.ends(a.to) && r.phrases[n].kind == separator && strings.ContainsRune(">&|", rune(r.phrases[n].at)) {
		return true
	}
	more := r.is(a.to, words.More) && r.ends(a.to+1) || r.is(a.from-1, words.More) && r.ends(a.to) // a break, five more
	ofSets := r.is(a.from-1, words.Of) && r.is(a.from-2, words.Set)                                // 3 ring row sets of ten
	again := n >= 0 && r.phrases[n].kind == filler && r.any(r.phrases[n].from, saysAgain) && r.endsClause(a.to)
	return r.sized && (more || again) || ofSets || beforeCounting.has(r.lastKind(separator)) || behindSmall.has(r.lastKind(filler))
}

// saysAgain are words before a number that one more set is told by: and again
// fifty.
var saysAgain = words.OfClasses(words.Adds, words.More)

// lastKind returns the kind of the last phrase before up to four of one kind;
// talk where none was read.
func (r *reader) lastKind(passed kind) kind {
	n := len(r.phrases) - 1
	for n > 0 && n >= len(r.phrases)-4 && r.phrases[n].kind == passed {
		n--
	}
	if n < 0 {
		return talk
	}
	return r.phrases[n].kind
}

// beforeCounting are phrases behind which a lone number in words tells a size.
// behindSmall are those behind which small words may stand before it.
var (
	beforeCounting = kindsOf(sized, skill, ladder)
	behindSmall    = kindsOf(which, counted)
)

// listToSkill reports whether more numbers follow at token i, one behind each
// sign, and a skill behind them: seven, seven, six on the rows.
func (r *reader) listToSkill(i int) bool {
	for step := 0; step < 6 && (r.t.OneOf(i, ",/") || r.is(i, words.And) || r.is(i, words.Then)); step++ {
		for r.t.Is(i, ',') || r.is(i, words.And) || r.is(i, words.Then) || r.t.Is(i, '/') {
			i++
		}
		a, ok := r.amount(i)
		if !ok {
			return false
		}
		i = a.to
		if r.skillSoon(i) {
			return true
		}
	}
	return false
}

// sizePhrase reads one size at a number: 3x30s, 3 sets of 30 s, 30s x 3, 5 reps,
// 3x5x10s, or a bare number. A number that counts sets or rounds without a size
// behind it is a count.
func (r *reader) sizePhrase(i int) (phrase, bool) {
	a, ok := r.amount(i)
	if !ok {
		return phrase{}, false
	}
	if p, ok := r.rangePhrase(a); ok {
		return p, true
	}
	if a.unit == unsaid && a.fault == "" {
		if p, ok := r.counted(a); ok {
			return p, true
		}
	}
	p := ofAmount(a)
	if a.unit == reps {
		r.secondsOfReps(&p)
	}
	r.countBehind(&p)
	return p, true
}

func ofAmount(a amount) phrase {
	return phrase{kind: sized, size: size{amount: a}, from: a.from, to: a.to, fault: a.fault}
}

// rangePhrase reads a range, as in 2-3 sets or 20-25s: it says what was meant
// to be done and not what was.
func (r *reader) rangePhrase(low amount) (phrase, bool) {
	high, ok := r.rangeTo(low)
	if !ok {
		return phrase{}, false
	}
	p := ofAmount(high)
	if high.unit == unsaid {
		if count, ok := r.counted(high); ok {
			p = count
		}
	}
	p.from, p.fault = low.from, Range
	return p, true
}

// rangeTo returns the upper end of a range whose lower end was read: a hyphen with
// no blanks, or "to", and a larger number. Three numbers or more are a list.
func (r *reader) rangeTo(low amount) (high amount, ok bool) {
	if low.fault != "" || !r.rangeSign(low.to) {
		return high, false
	}
	high, ok = r.amount(low.to + 1)
	if !ok || high.fault != "" || !r.rises(low, high) {
		return high, false
	}
	listed := r.t.OneOf(low.from-1, "-/") || r.t.Is(low.from-1, ',') && r.t.Kind(low.from-2) == text.Number
	more := r.t.OneOf(high.to, "-/,+") && r.t.Kind(high.to+1) == text.Number && !r.any(high.to+2, countWords) // 8-10, 3 sets
	return high, !listed && !more
}

// rangeSign reports whether a hyphen before a number, or the word to, stands at
// token i; other words of its class say until.
func (r *reader) rangeSign(i int) bool {
	dash := r.t.GluedSign(i, '-') && r.t.Kind(i+1) == text.Number
	return dash || r.is(i, words.To) && len(r.t.Word(i)) == 2
}

// rises reports whether two amounts may be the ends of a range: they have one
// unit, which the first need not say, and the second is larger.
func (r *reader) rises(low, high amount) bool {
	switch {
	case low.unit == high.unit:
		return low.milli < high.milli
	case low.unit != unsaid:
		return false
	case high.unit == seconds: // before 1 min the figures tell, not what they come to
		return r.t.Tokens[low.from].N < r.t.Tokens[high.from].N
	}
	return true
}

// opensWithin reports whether a bracket opened inside the phrase.
func (r *reader) opensWithin(p phrase) bool {
	for j := p.from; j < p.to; j++ {
		if r.t.Is(j, '(') {
			return true
		}
	}
	return false
}

// secondsOfReps reads the seconds of each rep: 5 reps of 3s, 5 reps x 3s.
func (r *reader) secondsOfReps(p *phrase) {
	j := p.to
	if !r.is(j, words.Of) && !r.is(j, words.Times) && !r.is(j, words.At) && !r.t.Is(j, '@') {
		return
	}
	if a, ok := r.amount(j + 1); ok && a.unit == seconds {
		p.size.reps = int(min(p.size.milli/1000, text.NumberCap))
		p.size.milli, p.size.unit, p.to = a.milli, seconds, a.to
	}
}

// onOff reads work and rest by turns: 30s on, 30s off; 30 on 30 off; 1 min on
// / 1 min off. It yields the size; the rest follows as a phrase of its own.
func (r *reader) onOff(i int) (phrase, bool) {
	on, ok := r.amount(i)
	if !ok || on.unit == reps || on.fault != "" || !r.is(on.to, words.On) {
		return phrase{}, false
	}
	j := on.to + 1
	for r.t.OneOf(j, ",/-") || r.is(j, words.And) {
		j++
	}
	off, ok := r.amount(j)
	if !ok || off.unit == reps || off.fault != "" || !r.is(off.to, words.Off) {
		return phrase{}, false
	}
	p := ofAmount(on)
	if on.unit == unsaid {
		p.size.unit, p.size.milli = seconds, bareTime(on.milli)
	}
	p.to = on.to + 1
	return p, true
}

// bareTime takes a bare time up to five for minutes, a longer one for seconds.
func bareTime(milli int64) int64 {
	if milli <= 5000 {
		return milli * 60
	}
	return milli
}
