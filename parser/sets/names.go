package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// isTried reports whether a rung is counted in attempts.
func (r *reader) isTried(rung int) bool { return r.names.Rungs[rung].Unit == training.Tried }

// anySize reports whether the message holds anything that sets can be read
// from: a size, n out of m, a count, an attempt with its number, a skill
// counted in attempts that is said to be done, or a failure if some skill is
// named.
func (r *reader) anySize() bool {
	failure := false
	for i := range r.phrases {
		switch p := &r.phrases[i]; p.kind {
		case sized, ratio, counted:
			return true
		case tried:
			if p.n > 0 {
				return true
			}
		case failed:
			failure = true
		case skill:
			if r.isTried(p.at) && r.cameOffSoon(i) {
				return true
			}
		}
	}
	return failure && len(r.phrases) > 1 && r.anySkill()
}

// cameOffSoon reports whether a word or a sign close to the skill at phrase i
// says that it was done: did a muscle-up, my first muscle-up, muscle-up!!
func (r *reader) cameOffSoon(i int) bool {
	p := &r.phrases[i]
	for j := max(p.from-4, 0); j < p.from; j++ {
		if r.is(j, words.Did) || r.is(j, words.Made) || r.is(j, words.Ordinal) && r.value(j) == 1 {
			return true
		}
	}
	return r.is(p.to, words.Did) || r.is(p.to, words.Made) || r.t.Is(p.to, '!')
}

// anySkill reports whether a skill is named.
func (r *reader) anySkill() bool {
	for i := range r.phrases {
		if r.phrases[i].kind == skill {
			return true
		}
	}
	return false
}

// findNames finds the skills' names that are not plain from the phrases alone:
// a word under the heading of its ladder, names that share a noun, a word that
// is in one rung's name only, and misspelt names beside sizes. Before that it
// drops skills that were not done.
func (r *reader) findNames() {
	r.dropNegated()
	r.underLadders()
	r.sharedNouns()
	r.tellingWords()
	for i := 0; i < len(r.phrases); i++ {
		if r.unknownWord(i) && r.besideSize(i) {
			r.misspelt(i)
		}
	}
}

// dropNegated turns skills that are said not to have been done into filler: no
// support today, instead of transitions. It adds them to the skills mentioned.
func (r *reader) dropNegated() {
	for i := range r.phrases {
		p := &r.phrases[i]
		if p.kind != skill || i+1 < len(r.phrases) && r.phrases[i+1].kind == sized {
			continue
		}
		if by := r.negatedBy(i); by >= 0 {
			r.out.Skills = append(r.out.Skills, Mention{Span{p.from, p.to}, p.at})
			p.kind, r.phrases[by].kind = filler, filler
		}
	}
}

// negatedBy returns the index of the phrase that says that the skill at phrase
// i was not done; -1 for none. That phrase stands before the skill, with
// nothing but filler between, or behind it with a colon or a hyphen between.
func (r *reader) negatedBy(i int) int {
	if to := r.phrases[i].to; i+2 < len(r.phrases) && r.t.OneOf(to, ":-") && r.is(to+1, words.Negative) && r.ends(r.phrases[i+2].to) {
		return i + 2 // transitions: skipped
	}
	for j := i - 1; j >= 0 && j >= i-4; j-- {
		switch p := &r.phrases[j]; {
		case mayNegate.has(p.kind) && r.is(p.from, words.Negative), p.kind == doubtful && r.t.Kind(p.from) == text.Mark:
			return j
		case p.kind != filler:
			return -1
		}
	}
	return -1
}

// underLadders reads a single word as a rung's name if the name of the rung's
// ladder stands before it as a heading: deep 3x30s behind "false grip:".
func (r *reader) underLadders() {
	heading := -1
	for i := range r.phrases {
		p := &r.phrases[i]
		switch {
		case p.kind == ladder:
			heading = p.at
		case heading >= 0 && mayTell.has(p.kind) && r.oneWord(p):
			if at, ok := r.names.Inside(heading, r.t.Word(p.from)); ok {
				p.kind, p.at = skill, at
			}
		}
	}
}

// sharedNouns reads words that are joined to the name behind them and share its
// noun: deep and mid hang, high/mid/deep hang.
func (r *reader) sharedNouns() {
	for i := len(r.phrases) - 1; i >= 2; i-- {
		p := &r.phrases[i]
		if p.kind != skill || p.near || p.to < p.from+2 {
			continue
		}
		for j := i; j >= 2 && r.joinsNames(j-1); j -= 2 {
			word := &r.phrases[j-2]
			if word.kind != talk && word.kind != filler || !r.oneWord(word) {
				break
			}
			at, ok := r.names.Inside(r.names.Rungs[p.at].Ladder, r.t.Word(word.from))
			if !ok {
				break
			}
			word.kind, word.at = skill, at
		}
	}
}

// tellingWords reads a single word as a rung's name if it is in no other rung's
// name and its sizes stand beside it: deep 30 30 25, 30s high / 30s mid, did
// 3x15s mid. A comma or a colon may stand between the word and its sizes: my
// hangs: deep, 30 30 25.
func (r *reader) tellingWords() {
	for i := range r.phrases {
		p := &r.phrases[i]
		if !mayTell.has(p.kind) || !r.oneWord(p) {
			continue
		}
		if at, ok := r.names.Telling(r.t.Word(p.from)); ok && (r.aloneWithSizes(i) || r.goesWithSize(i) || r.aloneBefore(i)) {
			p.kind, p.at, p.near = skill, at, true
		}
	}
}

// aloneWithSizes reports whether phrase i and its sizes are all that its
// segment holds. If a time stands right beside the phrase, filler may stand
// there too: so I did 15s mid. If the phrase stands alone between two
// separators, a comma and its size must follow.
func (r *reader) aloneWithSizes(i int) bool {
	if i > 0 && r.phrases[i-1].kind == separator && i+2 < len(r.phrases) && r.phrases[i+1].kind == separator {
		next := &r.phrases[i+2] // my hangs: deep, 30 30 25
		return r.phrases[i+1].at == ',' && next.kind == sized && next.size.unit != reps && next.size.milli > bareReps*1000
	}
	return r.besideSizes(i)
}

// besideSizes reports whether the segment of phrase i holds sizes in figures
// and nothing else. If a time stands right beside the phrase, filler and days
// may stand there too.
func (r *reader) besideSizes(i int) bool {
	sizes, small, timed := 0, false, false
	for _, step := range [...]int{-1, 1} {
		for j := i + step; j >= 0 && j < len(r.phrases) && r.phrases[j].kind != separator; j += step {
			switch p := &r.phrases[j]; {
			case p.kind == sized && r.t.Kind(p.from) == text.Number: // not high five
				sizes++
				timed = timed || j == i+step && p.size.unit == seconds && !r.is(p.to-1, words.Minute)
			case p.kind == filler || p.kind == dayNamed:
				small = true
			default:
				return false
			}
		}
	}
	return sizes > 0 && (timed || !small)
}

// goesWithSize reports whether the word at phrase i belongs to a size right
// beside it, which is a time or has a count: 3x15s mid, deep 3x30s, 30s of
// deep. If the size stands before it, a separator, another size or the end must
// follow. If the size stands behind it, nothing but a separator or filler may
// stand before it.
func (r *reader) goesWithSize(i int) bool {
	before, behind := r.pastOfFor(i, -1), r.pastOfFor(i, 1)
	if r.timedOrCounted(before) {
		return i+1 == len(r.phrases) || r.phrases[i+1].kind == separator || r.phrases[i+1].kind == sized
	}
	opens := i == 0 || r.phrases[i-1].kind == separator || r.phrases[i-1].kind == filler
	age := i+1 < len(r.phrases) && behind == &r.phrases[i+1] && behind.size.count == 0 && r.t.Glued(behind.to-1) // in my mid 20s
	return opens && !age && r.timedOrCounted(behind)
}

// pastOfFor returns the phrase before phrase i (step -1) or behind it (step 1),
// and skips an of or a for that stands there; nil for none.
func (r *reader) pastOfFor(i, step int) *phrase {
	j := i + step
	if j >= 0 && j < len(r.phrases) && (r.is(r.phrases[j].from, words.Of) || r.is(r.phrases[j].from, words.For)) {
		j += step
	}
	if j < 0 || j >= len(r.phrases) {
		return nil
	}
	return &r.phrases[j]
}

// aloneBefore reports whether the word at phrase i stands alone in its segment,
// and a comma or a colon follows with a size in figures behind it.
func (r *reader) aloneBefore(i int) bool {
	if i > 0 && r.phrases[i-1].kind != separator || i+2 >= len(r.phrases) {
		return false
	}
	sign, next := &r.phrases[i+1], &r.phrases[i+2]
	return sign.kind == separator && (sign.at == ',' || sign.at == ':') && next.kind == sized && r.t.Kind(next.from) == text.Number
}

// timedOrCounted reports whether a phrase is a size in figures that has a count
// or is in seconds, and of a length that somebody may hold. It is false for
// nil.
func (r *reader) timedOrCounted(p *phrase) bool {
	if p == nil || p.kind != sized || r.t.Kind(p.from) != text.Number {
		return false
	}
	return (p.size.unit == seconds || p.size.count > 0) && p.size.milli <= 600_000
}

// joinsNames reports whether phrase i may join two names: an and, an or, a
// comma or one of the signs + / |.
func (r *reader) joinsNames(i int) bool {
	p := &r.phrases[i]
	return p.kind == separator && (p.at == '&' || p.at == '+' || p.at == '/' || p.at == ',' || p.at == '|')
}

// unknownWord reports whether phrase i is a single word that the language does
// not know.
func (r *reader) unknownWord(i int) bool {
	p := &r.phrases[i]
	return mayMisspell.has(p.kind) && r.oneWord(p) && r.unknown(p.from)
}

// besideSize reports whether a size stands near phrase i: before it in the same
// segment, or behind it past at most two separators that end neither a sentence
// nor a line.
func (r *reader) besideSize(i int) bool {
	for j := i; j >= 0 && i-j < 12 && r.phrases[j].kind != separator; j-- {
		if k := r.phrases[j].kind; k == sized || k == ratio || k == counted {
			return true
		}
	}
	signs := 0
	for j := i; j < len(r.phrases) && j-i < 12; j++ {
		switch p := &r.phrases[j]; p.kind {
		case sized, ratio, counted:
			return true
		case separator:
			if signs++; signs > 2 || sentenceEnds(rune(p.at)) || p.at == '\n' {
				return false
			}
		}
	}
	return false
}

// misspelt looks up the unknown word at phrase i as part of a misspelt name,
// together with up to two words before it and three behind, the longest stretch
// first.
func (r *reader) misspelt(i int) {
	from, to := i, i
	for from > 0 && i-from < 2 && r.partWord(from-1) {
		from--
	}
	for to+1 < len(r.phrases) && to-i < 3 && r.partWord(to+1) {
		to++
	}
	for length := to - from + 1; length >= 1; length-- {
		for at := from; at+length-1 <= to; at++ {
			if at <= i && at+length-1 >= i && r.isNear(at, at+length-1) {
				return
			}
		}
	}
}

// partWord reports whether phrase i may be a word of a misspelt name: it is a
// name, a glued hyphen, or one word that is unknown, stands in a name, or is a
// band or toes.
func (r *reader) partWord(i int) bool {
	p := &r.phrases[i]
	switch {
	case p.kind == skill && !p.near || p.kind == ladder:
		return true
	case p.to != p.from+1:
		return false
	case r.t.Is(p.from, '-') && r.t.Glued(p.from):
		return true
	case r.t.Kind(p.from) != text.Word || !mayBePart.has(p.kind):
		return false
	}
	return r.unknown(p.from) || r.names.Holds(r.t.Word(p.from)) || r.is(p.from, words.Band) || r.is(p.from, words.Toes)
}

// isNear makes one skill of the phrases with the indices from to to, both
// included, if their words together are near a skill's name or are a short form
// of it. It reports whether it did so.
func (r *reader) isNear(from, to int) bool {
	if r.fuzzy >= fuzzyCap || r.phrases[from].kind == skill && from == to {
		return false
	}
	r.fuzzy++
	typed := ""
	for i := r.phrases[from].from; i < r.phrases[to].to; i++ {
		if r.t.Kind(i) != text.Word {
			continue
		}
		if r.is(i, words.Exercise) || from == to && r.is(i, words.Everyday) {
			return false
		}
		typed += string(r.t.Word(i))
	}
	at, ok := r.names.Near(typed)
	if !ok {
		at, ok = r.names.Short(typed)
	}
	if !ok {
		return false
	}
	p := phrase{kind: skill, at: at, near: true, from: r.phrases[from].from, to: r.phrases[to].to}
	r.phrases[from] = p
	r.phrases = append(r.phrases[:from+1], r.phrases[to+1:]...)
	return true
}

// MayCount reports whether a folded word may be a number or may tell of a set
// that needs no number. A message with no figure and no such word holds no
// sets.
func (r *Reader) MayCount(word []byte) bool {
	if !r.shapes.May(word) {
		return false
	}
	found := words.Find(word)
	return found != nil && found.Classes.Any(mayCount) || r.names.StartsTried(word)
}

// mayCount are the classes of words that may be numbers.
var mayCount = words.OfClasses(words.Ones, words.Tens, words.Hundred, words.Part, words.Couple, words.Often, words.Minute)
