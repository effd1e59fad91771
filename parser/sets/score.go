package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
)

// scoreTop is what a score is given out of.
const scoreTop = 10

// passScores passes over scores of what the words before them speak of: a number
// out of ten says how hard sets were only beside the sets, as in "3x30s deep hang,
// hall was cold, 4/10". What names itself an effort is one anywhere.
func (r *reader) passScores() {
	tried := r.namesTried()
	for i := range r.phrases {
		if p := &r.phrases[i]; r.isScoreOut(p, tried) && r.behindTalk(i) {
			*p = phrase{kind: figure, from: p.from, to: p.to}
		}
	}
}

// isScoreOut reports whether a phrase may be a score out of ten that does not
// say of what. tried says that a skill is named of which it may count attempts.
func (r *reader) isScoreOut(p *phrase, tried bool) bool {
	switch p.kind {
	case effort:
		for i := p.from; i < p.to; i++ {
			if r.is(i, words.Effort) || r.is(i, words.Reserve) {
				return false
			}
		}
		return true
	case ratio:
		return p.m == scoreTop && !tried
	}
	return false
}

// namesTried reports whether a skill is named that is counted in attempts.
func (r *reader) namesTried() bool {
	for i := range r.phrases {
		if p := &r.phrases[i]; p.kind == skill && r.isTried(p.at) {
			return true
		}
	}
	return false
}

// behindTalk reports whether the last that was said before phrase i is
// something that nothing is known of.
func (r *reader) behindTalk(i int) bool {
	for i--; i >= 0; i-- {
		switch r.phrases[i].kind {
		case filler, separator, hedge, side:
		default:
			return r.phrases[i].kind == talk
		}
	}
	return false
}

// score reports whether n out of ten, or of five, rates something else than the
// sets: it stands behind talk or an emoji, or, out of ten, where no skill is
// named, among talk or in a sentence of its own.
func (r *reader) score(p *part, i int) bool {
	ph := &r.phrases[i]
	if ph.m != scoreTop && ph.m != 5 {
		return false
	}
	if i > p.from && (r.phrases[i-1].kind == talk || r.t.Kind(r.phrases[i-1].from) == text.Mark) {
		return true
	}
	s := p.segment
	ownSentence := s.to > s.from+1 && sentenceEnds(p.sign)
	return ph.m == scoreTop && s.skills == 0 && (ownSentence || s.talk > 0)
}
