package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
)

// What a part says of its sets beside their sizes: help, load, rest, effort, side.

// besideTalk reports whether a help is only talked of: it has no with, stands
// before all sizes, and has an unknown word before it: forgot my band.
func (r *reader) besideTalk(p *part, ph *phrase) bool {
	if len(p.bouts) > 0 || ph.m == 1 || r.is(ph.from, words.With) {
		return false
	}
	for i := p.from + 1; i < p.to; i++ {
		if &r.phrases[i] == ph {
			if i--; r.is(r.phrases[i].from, words.My) && i > p.from {
				i--
			}
			return r.phrases[i].kind == talk && r.t.Kind(r.phrases[i].from) == text.Word
		}
	}
	return false
}

// addAside adds what a phrase says to the last size of the part, or keeps it in
// ahead for the next one.
func (r *reader) addAside(p *part, ph *phrase, ahead *aside, about *phrase) {
	if ph.kind == help && r.besideTalk(p, ph) {
		r.doubt(Changed, ph.from, ph.to)
	}
	last := len(p.bouts) - 1
	if last < 0 || about != nil || ph.kind == side && p.bouts[last].said.side != nil {
		ahead.say(ph)
		return
	}
	p.bouts[last].said.say(ph)
}

// addUnaided adds that a set was without help or load, if the phrase says so.
func (r *reader) addUnaided(p *part, ph *phrase, ahead *aside, about *phrase) {
	if r.saysUnaided(ph) {
		r.addAside(p, ph, ahead, about)
	}
}

// behindHelp reports whether a number stands behind a help, and a word that
// shows it to tell of which sets.
func (r *reader) behindHelp(p *part, ph *phrase) bool {
	for i := p.from + 2; i < p.to; i++ {
		if &r.phrases[i] == ph {
			return r.phrases[i-2].kind == help && r.any(r.phrases[i-1].from, ofThose)
		}
	}
	return false
}
