package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
)

// scoreTop is the highest score: the ten of 4/10.
const scoreTop = 10

// passScores turns scores of something else into numbers that are no sizes. A
// number out of ten says how hard sets were only if it stands beside the sets,
// and not behind talk as in "3x30s deep hang, hall was cold, 4/10". With a word
// for effort it is an effort anywhere.
func (r *reader) passScores() {
	tried := r.namesTried()
	for i := range r.phrases {
		if p := &r.phrases[i]; r.isScoreOut(p, tried) && r.behindTalk(i) {
			*p = phrase{kind: figure, from: p.from, to: p.to}
		}
	}
}

// isScoreOut reports whether a phrase may be a score out of ten of something
// that it does not name. tried says that a skill is named that is counted in
// attempts; then n out of ten are attempts, and no score.
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

// behindTalk reports whether talk stands before phrase i, with nothing between
// but filler, separators, hedges and sides.
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

// score reports whether the ratio at phrase i, out of ten or out of five, rates
// something else than the sets. It does so right behind talk or an emoji. Out
// of ten it also does so in a segment that names no skill, if talk stands in
// the segment or if the segment opens a sentence and holds more than the ratio.
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
