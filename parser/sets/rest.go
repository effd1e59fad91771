package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
)

// timedRest reads a length of time that a word behind it makes a rest: 60s
// rest, 60 s between sets, 1 min off.
func (r *reader) timedRest(i int) (phrase, bool) {
	a, ok := r.longer(i)
	if !ok || a.unit == reps || a.fault != "" {
		return phrase{}, false
	}
	j := r.pastOf(r.hyphenTo(a.to))
	if r.t.Is(j, '\'') { // 60 seconds' rest
		j++
	}
	for r.is(j, words.Full) || r.is(j, words.In) && r.is(j+1, words.Between) {
		j++
	}
	if !r.is(j, words.Rest) && !r.is(j, words.Off) && !r.is(j, words.Between) {
		return phrase{}, false
	}
	k := j + 1
	for r.t.Is(k, ':') || r.t.Is(k, '=') || r.any(k, restSmall) {
		k++
	}
	if behind, ok := r.longer(k); ok && (behind.unit == seconds || r.ends(behind.to)) && !r.counts(behind) { // 16s rest 60s
		return phrase{}, false
	}
	if a.unit == unsaid && (r.is(j, words.Between) || a.milli < 15_000 && !r.is(j, words.Off) && !r.is(j+1, words.Between)) {
		return phrase{}, false
	}
	if r.is(j, words.Rest) && r.is(j+1, words.Span) || a.unit == unsaid && r.is(j, words.Off) && !r.ends(j+1) && !r.is(j+1, words.Times) { // two rest days
		return phrase{}, false
	}
	return phrase{kind: rested, n: restSeconds(a), from: i, to: r.restTail(j + 1)}, true
}

// counts reports whether an amount is only the count of what stands behind it.
func (r *reader) counts(a amount) bool {
	_, by := r.countWord(a.to)
	return a.unit == unsaid && by != none
}

// longer reads a length of time, of a range the longer one: 60-90s.
func (r *reader) longer(i int) (amount, bool) {
	a, ok := r.amount(i)
	if !ok {
		return a, false
	}
	if high, isRange := r.rangeTo(a); isRange {
		return high, true
	}
	return a, true
}

// restSeconds takes a bare rest up to five for minutes, a longer one for seconds.
func restSeconds(a amount) int {
	if a.unit == unsaid {
		a.milli = bareTime(a.milli)
	}
	return int(min(a.milli/1000, text.NumberCap))
}

// restSmall are words that may stand between rest and its length.
var restSmall = words.OfClasses(words.Of, words.Feel, words.Set, words.Between, words.Was, words.For, words.The, words.Each, words.My, words.Only, words.In, words.Approx)

// rest reads a rest that begins with its word: rest 60s, rest: 1:30, off 60s,
// rested 2-3 min between sets. Alone in its clause it is a rest without a
// length.
func (r *reader) rest(i int) (phrase, bool) {
	j := i + 1
	for step := 0; step < 5; step++ {
		colon := r.t.Is(j, ':') || r.t.Is(j, '=') || r.t.Is(j, '~') || r.t.Is(j, '-')
		if colon || r.any(j, restSmall) || r.is(j, words.Article) && !r.any(j+1, timeUnit) {
			j++
		}
	}
	a, ok := r.longer(j)
	if r.is(i, words.Off) && r.is(i-1, words.Did) && !(ok && a.unit == seconds) { // knocked off 5 dips
		return one(filler, i), true
	}
	if !ok || a.unit == reps || a.fault != "" {
		alone := r.ends(i+1) && (i == 0 || r.ends(i-1) || r.is(i-1, words.With))
		return phrase{kind: rested, n: -1, from: i, to: i + 1}, alone && r.is(i, words.Rest)
	}
	bare := a.unit == unsaid && (!r.is(i, words.Rest) || r.is(a.to, words.Times) || r.is(a.to, words.Rep) || r.is(a.to, words.Set))
	if r.is(a.to, words.Span) || bare {
		return phrase{}, false
	}
	return phrase{kind: rested, n: restSeconds(a), from: i, to: r.restTail(a.to)}, true
}

// shortRest reads r60 and r: 60s, the letter beside its seconds, where no left
// stands near.
func (r *reader) shortRest(i int) (phrase, bool) {
	word := r.t.Word(i)
	if len(word) != 1 || word[0] != 'r' || r.near(i, words.Left) {
		return phrase{}, false
	}
	j := i + 1
	if r.t.Is(j, ':') {
		j++
	}
	a, ok := r.amount(j)
	apart := j == i+1 && !r.t.Glued(j)
	if r.t.Kind(j) != text.Number || apart && a.unit != seconds {
		return phrase{}, false
	}
	return phrase{kind: rested, n: restSeconds(a), from: i, to: a.to}, ok && a.unit != reps && a.milli >= 20_000
}

// restTail passes "rest between each set".
func (r *reader) restTail(i int) int {
	for step := 0; step < 6; step++ {
		switch {
		case r.is(i, words.Rest), r.is(i, words.Between), r.is(i, words.Each) && !r.is(i+1, words.Limb):
			i++
		case step > 0 && (r.is(i, words.Set) || r.is(i, words.Round) || r.is(i, words.Try) || r.is(i, words.Goes)):
			i++
		case r.is(i, words.In) && r.is(i+1, words.Between), r.is(i, words.The) && r.is(i+1, words.Set):
			i++
		default:
			return i
		}
	}
	return i
}
