package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// signPhrase reads the phrase that begins with the sign at token i. A sign that
// nothing else applies to is a separator.
func (r *reader) signPhrase(i int) phrase {
	switch r.t.Tokens[i].N {
	case '@', '+':
		return r.plusOrAt(i)
	case '-':
		return r.hyphen(i)
	case '.':
		if p, ok := r.point(i); ok {
			return p
		}
	case '=':
		if p, ok := r.sum(i); ok {
			return p
		}
	case '/':
		return r.slash(i)
	case '>':
		if p, ok := r.greater(i); ok {
			return p
		}
	case '[':
		if p, ok := r.checkbox(i); ok {
			return p
		}
	case '→', '*':
		if r.corrects(i + 1) {
			return one(correction, i)
		}
	case '~':
		return r.tilde(i)
	case '$', '€', '£', '#', '&':
		if p, ok := r.marked(i); ok {
			return p
		}
	case '"', '\'', '\\', '{', '}', '^':
		return one(filler, i)
	}
	return sign(r.t.Tokens[i].N, i)
}

// plusOrAt reads a plus or an @ with what belongs to it: an effort, a load, a
// time of day or a mention.
func (r *reader) plusOrAt(i int) phrase {
	glued := r.t.Glued(i) && (r.any(i-1, timeUnit) || r.is(i-1, words.Rep))
	if r.t.Is(i, '+') && glued && r.ends(i+1) && (!r.t.Glued(i+1) || r.t.Kind(i+1) == text.End) { // 30s+
		return one(filler, i)
	}
	if to := r.timeOfDay(i + 1); to > i+1 && r.t.Is(i, '@') { // @ 7pm
		return phrase{kind: figure, from: i, to: to}
	}
	if p, ok := r.signed(i); ok {
		return p
	}
	if r.t.Is(i, '@') && r.t.Kind(i+1) == text.Word && r.t.Glued(i+1) { // a mention
		return phrase{kind: talk, from: i, to: i + 2}
	}
	return sign(r.t.Tokens[i].N, i)
}

// hyphen reads a negative load, an arrow, or the hyphen inside a word.
func (r *reader) hyphen(i int) phrase {
	if p, ok := r.loadPhrase(i + 1); ok && r.t.Glued(i+1) && !r.t.Glued(i) && p.kind == load {
		p.from, p.n = i, -abs(p.n)
		return p
	}
	if r.t.Is(i+1, '>') && r.t.Glued(i+1) {
		if r.corrects(i + 2) {
			return phrase{kind: correction, from: i, to: i + 2}
		}
		return phrase{kind: separator, at: '-', from: i, to: i + 2}
	}
	inside := r.t.GluedSign(i, '-') && r.t.Kind(i-1) == text.Word && r.t.Kind(i+1) == text.Word
	if inside {
		return one(filler, i)
	}
	return sign('-', i)
}

// point reads a fraction that begins with its dot: .5.
func (r *reader) point(i int) (phrase, bool) {
	if r.t.Kind(i+1) == text.Number && r.t.Glued(i+1) && !r.t.Glued(i) {
		return r.numberPhrase(i)
	}
	return phrase{}, false
}

// sum reads what sizes add up to: 5 + 5 + 5 = 15.
func (r *reader) sum(i int) (phrase, bool) {
	a, ok := r.amount(i + 1)
	last := len(r.phrases) - 1
	if !ok || last < 0 || r.phrases[last].kind == figure || !r.sized || !r.ends(a.to) && !r.skillSoon(a.to) {
		return phrase{}, false
	}
	return phrase{kind: figure, from: i, to: a.to}, true
}

// slash reads a slash. Two of them separate like the end of a line, and one
// before a limb says each side.
func (r *reader) slash(i int) phrase {
	switch {
	case r.t.Is(i+1, '/') && r.t.Glued(i+1):
		return phrase{kind: separator, at: '\n', from: i, to: i + 2}
	case r.is(i+1, words.Limb) && r.t.Glued(i): // 10s/side
		return phrase{kind: side, word: string(training.Each), from: i, to: i + 2}
	case !r.t.Glued(i) && !r.t.Glued(i+1): // " / " parts, "/" lists
		return sign(',', i)
	}
	return sign('/', i)
}

// tilde reads what two pairs of tildes strike out, and the tilde of ~30s, which
// says nothing.
func (r *reader) tilde(i int) phrase {
	if !r.t.Is(i+1, '~') {
		return one(filler, i)
	}
	for j := i + 2; j < len(r.t.Tokens)-1; j++ {
		if r.t.Is(j, '~') && r.t.Is(j+1, '~') {
			if r.sized && r.t.Kind(j+2) == text.Number { // 3x6 ~~3x6~~ 3x5
				return phrase{kind: correction, from: i, to: j + 2}
			}
			return phrase{kind: filler, from: i, to: j + 2}
		}
	}
	return phrase{kind: filler, from: i, to: i + 2}
}

// checkbox reads an empty or a crossed box. What stands behind an empty one was
// not done.
func (r *reader) checkbox(i int) (phrase, bool) {
	switch {
	case r.t.Is(i+1, ']'):
		return phrase{kind: remark, from: i, to: i + 2}, true
	case r.is(i+1, words.Times) && r.t.Is(i+2, ']'):
		return phrase{kind: filler, from: i, to: i + 3}, true
	}
	return phrase{}, false
}

// greater reads a > that heads a quoted line, or that compares two things.
func (r *reader) greater(i int) (phrase, bool) {
	if r.opensLine(i) {
		return one(remark, i), true
	}
	return one(hedge, i), !r.t.Glued(i)
}

// marked reads a number that is no size, as the sign glued before it shows: $5,
// #3. A # without a number says nothing.
func (r *reader) marked(i int) (phrase, bool) {
	if _, next, ok := r.number(i + 1); ok && r.t.Glued(i+1) {
		return figureFrom(i, next)
	}
	return one(filler, i), r.t.Is(i, '#')
}
