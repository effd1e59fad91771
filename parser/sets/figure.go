package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
)

// Numbers that are no sizes, as their unit or a word beside them shows.

func figureFrom(from, to int) (phrase, bool) { return phrase{kind: figure, from: from, to: to}, true }

// noSize reads a number that its unit, or what stands behind it, shows to be no
// size: 4 people, 12 km, 7pm, 18:30 at the head of a line, 3:1, 2019.
func (r *reader) noSize(i int) (phrase, bool) {
	if p, ok := r.timeOrScore(i); ok {
		return p, true
	}
	n, next, ok := r.number(i)
	if !ok || r.is(next, words.Times) {
		return phrase{}, false
	}
	if r.t.Glued(i) && r.unknown(i-1) && !r.behindName(i) { // b4
		return figureFrom(i, i+1)
	}
	listed := r.inList(i)
	if a, ok := r.amount(i); ok {
		if to := r.ofNoSet(a, listed); to > 0 {
			return figureFrom(i, to)
		}
		if a.unit != unsaid && !r.is(a.to-1, words.Hour) {
			return r.longTime(i)
		}
	}
	if to := r.ofSomethingElse(n, next, listed); to > 0 {
		return figureFrom(i, to)
	}
	if r.yearOrCode(i, n) && !r.unitNext(i+1) {
		return figureFrom(i, i+1)
	}
	return r.longTime(i)
}

// behindName reports whether a skill's name ends before token i.
func (r *reader) behindName(i int) bool {
	n := len(r.phrases) - 1
	return n >= 0 && r.phrases[n].kind == skill && r.phrases[n].to == i
}

// timeOrScore reads a time of day, a tempo, and a score: 7pm, 3-1-1 tempo, 3:1.
func (r *reader) timeOrScore(i int) (phrase, bool) {
	if to := r.timeOfDay(i); to > i {
		return figureFrom(i, to)
	}
	if r.dottedClock(i) {
		return figureFrom(i, i+3)
	}
	if to := r.tempo(i); to > i {
		return phrase{kind: filler, from: i, to: to}, true
	}
	return phrase{kind: figure, from: i, to: i + 3}, r.t.GluedSign(i+1, ':') && r.digits(i+2) == 1
}

// ofNoSet returns the end of words behind an amount that show that it was not
// done: more than, 90s hits. It is 0 where there are none.
func (r *reader) ofNoSet(a amount, listed bool) int {
	if to := r.comparedTo(a.to); to > a.to && !(listed && a.unit == unsaid) {
		return to
	}
	if a.unit != unsaid && r.is(a.to, words.Unit) && !r.is(a.to, words.Toes) {
		return a.to + 1
	}
	return 0
}

// yearOrCode reports whether the number at token i is a year, or of too many
// figures for a size.
func (r *reader) yearOrCode(i int, n number) bool {
	return r.digits(i) > 4 || r.digits(i) == 4 && n.int() >= 1900 && n.int() <= 2100
}

// inList reports whether the number at token i continues a list of sizes, or
// stands right behind a skill. Then a word behind it does not say what it
// counts.
func (r *reader) inList(i int) bool {
	n := len(r.phrases) - 1
	if n < 0 {
		return false
	}
	last := &r.phrases[n]
	if last.kind == which || last.kind == correction {
		return true
	}
	if last.kind == skill || last.kind == sized && last.size.count == 0 {
		return true
	}
	for n > 0 && r.phrases[n].kind == separator && !sentenceEnds(rune(r.phrases[n].at)) && r.phrases[n].at != '\n' {
		n--
	}
	was := &r.phrases[n]
	return was.kind == sized && was.size.count == 0 && was.size.unit == unsaid
}

// comparedTo returns the end of words at token i that show that the size before
// them was not done; i where there are none.
func (r *reader) comparedTo(i int) int {
	if _, ok := words.Phrase(r.t, i, words.Activity); ok { // 5/5/4 total time 38 min
		return i
	}
	if end, ok := words.Phrase(r.t, i, words.Compared); ok {
		return end
	}
	if r.is(i, words.Compared) {
		return i + 1
	}
	return i
}

// ofSomethingElse returns the end of what a number counts that is no size; 0
// where there is none.
func (r *reader) ofSomethingElse(n number, next int, listed bool) int {
	at := r.hyphenTo(next)
	switch {
	case r.t.OneOf(at, "%$€£"):
		return at + 1
	case r.t.Kind(at) != text.Word || r.any(at, anyUnit) && !r.is(at, words.Hour):
		return 0
	case listed && r.t.Kind(next-2) == text.Sign && r.t.Kind(next-1) == text.Number: // 5, 5, 4 weeks ...
		return 0
	case r.is(at, words.Suffix) && r.t.Glued(at): // 1st time
		return at + 1
	}
	if end, ok := words.Phrase(r.t, at, words.Unit); ok {
		return end
	}
	if r.is(at, words.Unit) && !r.is(at, words.Toes) {
		return at + 1
	}
	if n.whole && !listed && r.unknown(at) && !r.t.Glued(at) && !r.skillSoon(at) {
		return at // it counts the unknown word: 3 blisters
	}
	return 0
}

// skillSoon reports whether a skill or another exercise is named within a few
// words from token i, or the word there may be one misspelt.
func (r *reader) skillSoon(i int) bool {
	for j := i; j < i+4 && (r.t.Kind(j) == text.Word || r.t.Is(j, '-')); j++ {
		if r.named(j) {
			return true
		}
		if _, ok := words.Phrase(r.t, j, words.Exercise); ok || r.is(j, words.Exercise) {
			return true
		}
		if r.names.Part(r.t.Word(j)) || r.words[j] == nil && r.mayBeName(j) {
			return true
		}
	}
	return false
}

// mayBeName reports whether the unknown word at token i, alone or with the next,
// is near a skill's name.
func (r *reader) mayBeName(i int) bool {
	if r.fuzzy >= fuzzyCap {
		return false
	}
	r.fuzzy++
	word := string(r.t.Word(i))
	if _, ok := r.names.Near(word); ok {
		return true
	}
	if r.t.Kind(i+1) != text.Word {
		return false
	}
	_, ok := r.names.Near(word + string(r.t.Word(i+1)))
	return ok
}

// noSizeBehind reads a word behind which a number is no size: week 6, took 35 min,
// at 18:30, in 40 min.
func (r *reader) noSizeBehind(i int) (phrase, bool) {
	if next, ok := words.Phrase(r.t, i, words.Activity); ok {
		return r.timeOfActivity(i, next)
	}
	if next, ok := words.Phrase(r.t, i, words.Label); ok {
		return r.labelled(i, next)
	}
	for _, rule := range [...]struct {
		on   words.Classes
		read func(r *reader, i, next int) (phrase, bool)
	}{
		{words.OfClasses(words.Label), (*reader).labelled},
		{words.OfClasses(words.Activity), (*reader).timeOfActivity},
		{words.OfClasses(words.Did), (*reader).atClock},
		{words.OfClasses(words.At, words.By, words.From, words.To), (*reader).atTime},
		{words.OfClasses(words.In), (*reader).inTime},
	} {
		if r.any(i, rule.on) {
			if p, ok := rule.read(r, i, i+1); ok {
				return p, true
			}
		}
	}
	return phrase{}, false
}

// labelled reads the number behind a label: week 6, session #14, bw 72.
func (r *reader) labelled(i, j int) (phrase, bool) {
	j = r.pastLabelSmall(j)
	if a, ok := r.clock(j); ok { // bus at 8:15
		return figureFrom(i, a.to)
	}
	n, next, ok := r.number(j)
	if !ok || n.words || r.sizeGoesOn(next) {
		return phrase{}, false
	}
	if r.t.Kind(next) == text.Word && r.t.Glued(next) || r.any(next, anyUnit) {
		next++
	}
	if m, ok := r.num(next + 1); ok && m > 0 && (r.is(next, words.Of) || r.t.GluedSign(next, '/')) { // photo 2 of 3
		next += 2
	}
	if r.is(i, words.Doubtful) {
		return phrase{kind: doubtful, from: i, to: next}, true
	}
	return figureFrom(i, next)
}

// labelSmall are words that may stand between a label and its number.
var labelSmall = words.OfClasses(words.At, words.Of, words.Was)

// pastLabelSmall passes what may stand between a label and its number; a colon
// only behind a label of two letters: bw: 72.
func (r *reader) pastLabelSmall(i int) int {
	for {
		colon := r.t.Is(i, ':') && len(r.t.Word(i-1)) == 2
		if !colon && !r.t.Is(i, '#') && !r.any(i, labelSmall) {
			return i
		}
		i++
	}
}

// sizeGoesOn reports whether what stands at token i shows the number before it
// to be a size, though a label stands before that: sets, a time, a skill, a
// list.
func (r *reader) sizeGoesOn(i int) bool {
	if r.any(i, countWords) || r.is(i, words.Rep) {
		return true
	}
	timed := r.any(i, timeUnit) && !r.t.GluedSign(i+1, '.') && len(r.t.Word(i)) > 1
	listed := r.t.GluedSign(i, '-') || r.t.GluedSign(i, '/') || r.t.GluedSign(i, ',')
	return timed || listed || r.named(i) && !r.t.Glued(i)
}

// plannedSize reads a size that words before it show not to be done: planned
// 3x30s, next time 22s, up from 40s, total 60s.
func (r *reader) plannedSize(i int) (phrase, bool) {
	j, ok := r.planWords(i)
	if !ok || r.isCorrection() || r.is(i, words.Total) && (!r.sized || r.totalOf(j)) {
		return phrase{}, false
	}
	if j, ok = r.pastPlannedSmall(j); !ok {
		return phrase{}, false
	}
	if kept, ok := r.couldMore(i, j); ok {
		return kept, true
	}
	if rated, ok := r.ratedSet(j); ok {
		return rated, true
	}
	p, ok := r.sizePhrase(j)
	total := r.is(i, words.Total)
	countsSets := p.kind == counted && !p.size.rounds && !total
	if !ok || total && p.size.count > 1 || p.kind != sized && !countsSets { // 30 in total: 3x10
		return phrase{}, false
	}
	if _, day := r.dayPhrase(j); day {
		return phrase{}, false
	}
	return figureFrom(i, p.to)
}

// pastPlannedSmall passes what may stand between a plan and its size, and reports
// whether a number or a minute follows.
func (r *reader) pastPlannedSmall(i int) (next int, number bool) {
	for step := 0; step < 5 && (r.any(i, plannedSmall) && !r.is(i, words.Last) || r.t.Is(i, ':')); step++ {
		if r.is(i, words.Article) && r.any(i+1, timeUnit) {
			return i, true
		}
		i++
	}
	return i, r.t.Kind(i) == text.Number || r.numberWord(i)
}

// totalOf reports whether the words of a total that end before token i are said
// of the size before them, and the sets it is the total of follow: 24 dips
// altogether: 10, 8, 6.
func (r *reader) totalOf(i int) bool {
	n := len(r.phrases) - 1
	return r.t.Is(i, ':') && n >= 0 && (r.phrases[n].kind == skill || r.phrases[n].kind == sized)
}

// couldMore reads how many more reps could have been done, which is an effort:
// could have done 2 more each time. How many more seconds is none.
func (r *reader) couldMore(i, j int) (phrase, bool) {
	n, next, ok := r.number(j)
	if !ok || !r.is(next, words.More) && !r.is(next+1, words.More) {
		return phrase{}, false
	}
	next = r.pass(next, moreReps)
	if r.any(next, timeUnit) {
		return figureFrom(i, next+1)
	}
	if !r.is(next, words.Each) && !r.is(next, words.Every) { // perhaps of the last set alone
		return figureFrom(i, next)
	}
	return phrase{kind: effort, levels: ofReserve(n.milli), m: 1, from: i, to: next}, true
}

// moreReps are words that may stand behind how many more there might have been.
var moreReps = words.OfClasses(words.More, words.Rep)

// planWords passes words at token i after which a size was not done. Was is
// such a word only behind a size.
func (r *reader) planWords(i int) (next int, ok bool) {
	if next, ok := words.Phrase(r.t, i, words.Planned); ok {
		return next, true
	}
	plans := r.is(i, words.Planned) || r.is(i, words.Total)
	return i + 1, plans && (r.sized && !r.asksSize() || !r.is(i, words.Was))
}

// asksSize reports whether sets told before were named and no size was told
// since: the second one is wrong, it was 16.
func (r *reader) asksSize() bool {
	for n := len(r.phrases) - 1; n >= max(0, len(r.phrases)-8); n-- {
		switch r.phrases[n].kind {
		case which, retracted:
			return true
		case sized, skill, figure:
			return false
		}
	}
	return false
}

// isCorrection reports whether what was read last makes what follows a correction.
func (r *reader) isCorrection() bool {
	n := len(r.phrases) - 1
	for n >= 0 && (r.phrases[n].kind == filler || r.phrases[n].kind == separator) {
		n--
	}
	return n >= 0 && r.phrases[n].kind == correction
}

// plannedSmall are words that may stand between a plan and its size.
var plannedSmall = words.OfClasses(words.For, words.Was, words.To, words.Of, words.Article, words.The, words.My, words.Did, words.At,
	words.Try, words.Harmless, words.Planned, words.Today)
