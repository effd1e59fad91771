package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
)

// Numbers that are no sizes, known by their unit or their neighbour.

func figureFrom(from, to int) (phrase, bool) { return phrase{kind: figure, from: from, to: to}, true }

// lineMark reads a number that only counts lines or points: "2. toe support",
// "1) 3x30s deep hang".
func (r *reader) lineMark(i int) (phrase, bool) {
	n, _ := r.num(i)
	opens := r.opensLine(i)
	if r.t.Tokens[i].Keycap && opens && !r.t.Glued(i+1) && r.digits(i) == 1 {
		return one(filler, i), true
	}
	if r.digits(i) > 2 || !r.t.Glued(i+1) || r.t.Kind(i+1) != text.Sign {
		return phrase{}, false
	}
	if next := r.t.Kind(i + 2); r.t.Glued(i+2) || next != text.Word && next != text.Number {
		return phrase{}, false
	}
	marks := phrase{kind: separator, at: '\n', from: i, to: i + 2}
	switch {
	case r.t.Is(i+1, '.'):
		later := n > 1 && !r.t.Glued(i) && r.t.Is(1, '.') && r.t.Kind(0) == text.Number && r.t.Tokens[0].N == 1 && !r.t.Glued(2)
		return marks, opens && !r.is(i+2, words.Month) || later
	case r.t.Is(i+1, ')'):
		return marks, opens || !r.t.Glued(i) && !r.bracketOpen(i)
	case r.t.Is(i+1, ':'):
		return marks, opens && n <= 12
	}
	return phrase{}, false
}

// bracketOpen reports whether a bracket opened shortly before token i.
func (r *reader) bracketOpen(i int) bool {
	for j := i - 1; j >= 0 && j > i-16 && !r.t.Is(j, ')'); j-- {
		if r.t.Is(j, '(') {
			return true
		}
	}
	return false
}

// noSize reads a number that its unit, or what stands behind it, shows to be no
// size: 4 people, 12 km, 7pm, 18:30 at the head of a line, 3:1, 2019.
func (r *reader) noSize(i int) (phrase, bool) {
	if to := r.timeOfDay(i); to > i {
		return figureFrom(i, to)
	}
	if to := r.tempo(i); to > i {
		return phrase{kind: filler, from: i, to: to}, true
	}
	if r.t.GluedSign(i+1, ':') && r.digits(i+2) == 1 { // a score
		return figureFrom(i, i+3)
	}
	n, next, ok := r.number(i)
	if !ok || r.is(next, words.Times) {
		return phrase{}, false
	}
	if r.t.Glued(i) && r.t.Kind(i-1) == text.Word && r.words[i-1] == nil { // b4
		return figureFrom(i, i+1)
	}
	listed := r.inList(i)
	if a, ok := r.amount(i); ok {
		if to := r.comparedTo(a.to); to > a.to && !(listed && a.unit == unsaid) {
			return figureFrom(i, to)
		}
		if a.unit != unsaid && r.is(a.to, words.Unit) && !r.is(a.to, words.Toes) { // 90s hits
			return figureFrom(i, a.to+1)
		}
		if a.unit != unsaid && !r.is(a.to-1, words.Hour) {
			return r.longTime(i)
		}
	}
	if to := r.ofSomethingElse(n, next, listed); to > 0 {
		return figureFrom(i, to)
	}
	if r.t.Kind(i) == text.Number && (r.digits(i) > 4 || r.digits(i) == 4 && n.int() >= 1900 && n.int() <= 2100) && !r.unitNext(i+1) {
		return figureFrom(i, i+1)
	}
	return r.longTime(i)
}

// inList reports whether the number at token i goes on with a list of sizes or with
// a skill right before it: then a word behind it says nothing of it.
func (r *reader) inList(i int) bool {
	n := len(r.phrases) - 1
	if n < 0 {
		return false
	}
	last := &r.phrases[n]
	if last.kind == skill || last.kind == sized && last.size.count == 0 {
		return true
	}
	if n == 0 || last.kind != separator || sentenceEnds(rune(last.at)) || last.at == '\n' {
		return false
	}
	was := &r.phrases[n-1]
	return was.kind == sized && was.size.count == 0 && was.size.unit == unsaid
}

// comparedTo returns the end of words at token i that show the size before them to be
// none that was done, or i for none.
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
	case r.t.Is(at, '%'), r.t.Is(at, '$'), r.t.Is(at, '€'), r.t.Is(at, '£'):
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
	if n.whole && !listed && r.words[at] == nil && !r.t.Glued(at) && !r.skillSoon(at) {
		return at // it counts the unknown word: 3 blisters
	}
	return 0
}

// skillSoon reports whether a skill or another exercise is named within a few words
// from token i, or the word there may be one misspelt.
func (r *reader) skillSoon(i int) bool {
	for j := i; j < i+4 && (r.t.Kind(j) == text.Word || r.t.Is(j, '-')); j++ {
		if _, _, ok := r.names.At(r.t, j); ok {
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

// longTime reads a length of time that is no set: hours, or minutes of something
// else.
func (r *reader) longTime(i int) (phrase, bool) {
	a, ok := r.amount(i)
	if !ok || a.unit != seconds || a.fault != "" {
		return phrase{}, false
	}
	for j := i; j < a.to; j++ {
		named := len(r.phrases) > 0 && r.phrases[len(r.phrases)-1].kind == skill
		if r.is(j, words.Hour) && a.milli >= 3_600_000 && !named {
			return figureFrom(i, a.to)
		}
	}
	j := r.pastOf(r.hyphenTo(a.to))
	if end, ok := words.Phrase(r.t, j, words.Activity); ok {
		return figureFrom(i, end)
	}
	if r.is(j, words.Activity) && a.milli >= 60_000 {
		return figureFrom(i, j+1)
	}
	return phrase{}, false
}

// timeOfDay returns the end of a time of day at token i: 7pm, 18h, 19h30, 18-19h,
// and 18:30 where it heads a line or is said with am. It returns i for none.
func (r *reader) timeOfDay(i int) int {
	n, ok := r.num(i)
	if !ok || n > 24 {
		return i
	}
	j := i + 1
	if second, ok := r.num(i + 2); ok && r.t.GluedSign(i+1, '-') && second <= 24 { // 18-19h
		j = i + 3
	}
	if a, ok := r.clock(i); ok && a.to == i+3 && a.fault == "" && n < 24 {
		j = a.to
		if r.headsLine(i, j) && n >= 5 {
			return j
		}
	}
	switch {
	case r.is(j, words.Noon):
		return j + 1
	case r.is(j, words.Hour) && r.t.Glued(j) && len(r.t.Word(j)) == 1 && n >= 5:
		if r.t.Kind(j+1) == text.Number && r.t.Glued(j+1) && r.digits(j+1) == 2 {
			return j + 2
		}
		return j + 1
	}
	return i
}

// headsLine reports whether what stands from token i to j opens a line and ends
// there, or a separator or a number follows.
func (r *reader) headsLine(i, j int) bool {
	return r.opensLine(i) && !r.any(j, goesOn) && !r.t.Is(j, '/')
}

// tempo returns the end of a tempo, the seconds of each part of a rep: tempo
// 3-1-1, 3-0-3-0 tempo, @31X1. It returns i where none stands there.
func (r *reader) tempo(i int) int {
	j, parts := i, 0
	for r.digits(j) == 1 && parts < 4 {
		if j, parts = j+1, parts+1; !r.t.GluedSign(j, '-') || r.t.Kind(j+1) != text.Number {
			break
		}
		j++
	}
	said := r.is(i-1, words.Tempo) || r.t.Is(i-1, ':') && r.is(i-2, words.Tempo)
	switch {
	case parts >= 3 && (said || r.is(j, words.Tempo)):
	case r.digits(i) == 4 && (said || r.is(i+1, words.Tempo)):
		j = i + 1
	case r.digits(i) == 2 && r.is(i+1, words.Times) && r.t.Glued(i+1) && r.digits(i+2) == 1 && (said || r.t.Is(i-1, '@')):
		j = i + 3
	default:
		return i
	}
	if r.is(j, words.Tempo) {
		j++
	}
	return j
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
		class words.Class
		read  func(*reader, int, int) (phrase, bool)
	}{
		{words.Label, (*reader).labelled}, {words.Activity, (*reader).timeOfActivity},
		{words.Did, (*reader).atClock}, {words.At, (*reader).atTime}, {words.By, (*reader).atTime}, {words.From, (*reader).atTime}, {words.To, (*reader).atTime},
		{words.In, (*reader).inTime},
	} {
		if r.is(i, rule.class) {
			if p, ok := rule.read(r, i, i+1); ok {
				return p, true
			}
		}
	}
	return phrase{}, false
}

// labelled reads the number behind a label: week 6, session #14, bw 72.
func (r *reader) labelled(i, j int) (phrase, bool) {
	for r.t.Is(j, '#') || r.t.Is(j, ':') && r.t.Kind(j-1) == text.Word && len(r.t.Word(j-1)) == 2 || r.is(j, words.At) || r.is(j, words.Of) || r.is(j, words.Was) {
		j++
	}
	if a, ok := r.clock(j); ok { // bus at 8:15
		return figureFrom(i, a.to)
	}
	n, next, ok := r.number(j)
	if !ok || n.words || r.any(next, countWords) || r.is(next, words.Rep) {
		return phrase{}, false
	}
	if r.any(next, timeUnit) && !r.t.GluedSign(next+1, '.') && len(r.t.Word(next)) > 1 {
		return phrase{}, false
	}
	if _, _, named := r.names.At(r.t, next); named && !r.t.Glued(next) {
		return phrase{}, false
	}
	if r.t.GluedSign(next, '-') || r.t.GluedSign(next, '/') || r.t.GluedSign(next, ',') { // a list
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

// timeOfActivity reads how long something else took: warm-up 10 min, took me 25
// minutes.
func (r *reader) timeOfActivity(i, j int) (phrase, bool) {
	for step := 0; step < 3 && (r.any(j, small) || r.is(j, words.For) || r.is(j, words.Of) || r.t.Is(j, ':')); step++ {
		j++
	}
	a, ok := r.amount(j)
	if !ok || a.unit != seconds || a.milli < 120_000 || a.fault != "" {
		return phrase{}, false
	}
	k := r.pastOf(a.to)
	if _, _, named := r.names.At(r.t, k); named || r.any(a.to, countWords) {
		return phrase{}, false
	}
	return figureFrom(i, a.to)
}

// atTime reads a time of day behind at, by, from, until.
func (r *reader) atTime(i, j int) (phrase, bool) {
	if to := r.timeOfDay(j); to > j {
		return figureFrom(i, to)
	}
	if a, ok := r.clock(j); ok && a.fault == "" && a.to == j+3 {
		if _, _, named := r.names.At(r.t, a.to); !named {
			return figureFrom(i, a.to)
		}
	}
	if a, ok := r.amount(j); ok && !a.whole && r.is(i, words.At) { // rings at 1.2m
		return figureFrom(i, a.to)
	}
	return phrase{}, false
}

// atClock reads a time of day behind a verb: finished 20:10.
func (r *reader) atClock(i, j int) (phrase, bool) {
	a, ok := r.clock(j)
	if !ok || a.fault != "" || a.milli < 300_000 || a.milli >= 24*60_000 {
		return phrase{}, false
	}
	_, _, named := r.names.At(r.t, a.to)
	return phrase{kind: figure, from: i, to: a.to}, !named
}

// inTime reads how long it all took: in 40 min, 20 transitions in 1 min. A total in
// sets of some size is asked about.
func (r *reader) inTime(i, j int) (phrase, bool) {
	if n, next, ok := r.number(j + 2); ok && r.is(j, words.Set) && r.is(j+1, words.Of) {
		return phrase{kind: counted, fault: TotalSize, size: size{count: max(n.int(), 1), loud: true}, from: i, to: next}, true
	}
	a, ok := r.amount(j)
	if !ok || a.unit != seconds || a.milli < 300_000 && !r.sized {
		return phrase{}, false
	}
	return figureFrom(i, a.to)
}

// cadence passes how often a set was begun, with how long that went on: every 2
// min, every minute for 10 minutes.
func (r *reader) cadence(i int) (phrase, bool) {
	to := i + 1
	if a, ok := r.amount(to); ok && a.unit == seconds {
		to = a.to
	} else if to++; !r.any(i+1, timeUnit) {
		return phrase{}, false
	}
	if a, ok := r.amount(to + 1); ok && r.is(to, words.For) && a.unit == seconds { // how many sets that makes is asked
		return phrase{kind: doubtful, from: i, to: a.to}, true
	}
	return phrase{kind: filler, from: i, to: to}, true
}

// wordMark reads a number in words that only counts a line: one: mid hang 40s.
func (r *reader) wordMark(i int) (phrase, bool) {
	marks := r.opensLine(i) && r.is(i, words.Ones) && r.t.Is(i+1, ':') && r.value(i) > 0
	return phrase{kind: separator, at: '\n', from: i, to: i + 2}, marks
}

// letterMark reads a letter and a figure that only name a line: "A1 3x30s".
func (r *reader) letterMark(i int) (phrase, bool) {
	word := r.t.Word(i)
	if len(word) != 1 || word[0] > 'f' || !r.opensLine(i) || r.digits(i+1) != 1 || !r.t.Glued(i+1) {
		return phrase{}, false
	}
	if r.t.Glued(i+2) && r.t.Kind(i+2) != text.Sign {
		return phrase{}, false
	}
	to := i + 2
	if r.t.Glued(to) {
		to++
	}
	return phrase{kind: separator, at: '\n', from: i, to: to}, r.t.Kind(to) != text.End
}

// plannedSize reads a size that words before it show not to be done: planned
// 3x30s, next time 22s, up from 40s, total 60s.
func (r *reader) plannedSize(i int) (phrase, bool) {
	j := i + 1
	if next, ok := words.Phrase(r.t, i, words.Planned); ok {
		j = next
	} else if !r.is(i, words.Planned) && !r.is(i, words.Total) || r.is(i, words.Was) && !r.sized {
		return phrase{}, false
	}
	n := len(r.phrases) - 1
	for n >= 0 && r.phrases[n].kind == filler {
		n--
	}
	if n >= 0 && r.phrases[n].kind == correction || r.is(i, words.Total) && !r.sized {
		return phrase{}, false
	}
	for step := 0; step < 5 && (r.any(j, plannedSmall) || r.t.Is(j, ':')); step++ {
		j++
	}
	if r.t.Kind(j) != text.Number && !r.is(j, words.Ones) && !r.is(j, words.Tens) {
		return phrase{}, false
	}
	p, ok := r.sizePhrase(j)
	if !ok || p.kind != sized {
		return phrase{}, false
	}
	if _, day := r.dayPhrase(j); day {
		return phrase{}, false
	}
	return figureFrom(i, p.to)
}

// plannedSmall are words that may stand between a plan and its size.
var plannedSmall = words.OfClasses(words.For, words.Was, words.To, words.Of, words.Article, words.The, words.My, words.Did, words.At, words.Try,
	words.Harmless, words.Planned, words.Today)
