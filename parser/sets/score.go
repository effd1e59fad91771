package sets

import (
	"rungbook/parser/words"
	"rungbook/training"
)

// outOf is what a score is given out of.
const outOf = 10

// passScores passes over scores of what the words before them speak of: a number
// out of ten says how hard sets were only beside the sets, as in "3x30s deep hang,
// hall was cold, 4/10". What names itself an effort is one anywhere.
func (r *reader) passScores() {
	for i := range r.phrases {
		if p := &r.phrases[i]; r.isScoreOut(p) && r.behindTalk(i) {
			*p = phrase{kind: figure, from: p.from, to: p.to}
		}
	}
}

// isScoreOut reports whether a phrase may be a score out of ten that does not say of
// what.
func (r *reader) isScoreOut(p *phrase) bool {
	switch p.kind {
	case effort:
		for i := p.from; i < p.to; i++ {
			if r.is(i, words.Effort) || r.is(i, words.Reserve) {
				return false
			}
		}
		return true
	case ratio:
		return p.m == outOf && !r.namesTried()
	}
	return false
}

// namesTried reports whether a skill is named that is counted in attempts.
func (r *reader) namesTried() bool {
	for i := range r.phrases {
		if p := &r.phrases[i]; p.kind == skill && r.names.Rungs[p.at].Unit == training.Tried {
			return true
		}
	}
	return false
}

// behindTalk reports whether the last that was said before phrase i is something that
// nothing is known of.
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
