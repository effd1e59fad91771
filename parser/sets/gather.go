package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// gather reads the phrases of a part into what it says.
func (r *reader) gather(p *part) {
	var ahead aside   // said before the size it belongs to
	var about *phrase // sets that the next size is about
	plain := false    // said before a size to be without help
	for i := p.from; i < p.to; i++ {
		ph := &r.phrases[i]
		switch ph.kind {
		case filler:
			plain = r.plainSet(p, ph, plain)
		case skill, exercise:
			p.name, p.first = ph, len(p.bouts) == 0
		case ladder:
			p.ladder = ph
		case ratio:
			if !r.score(p, i) {
				about = r.addSize(p, ph, &ahead, about)
			}
		case sized:
			about = r.addSize(p, ph, &ahead, about)
			if plain && len(p.bouts) > 0 {
				p.bouts[len(p.bouts)-1].plain, plain = true, false
			}
		case failed:
			about = r.addFailure(p, ph, &ahead, about)
		case counted:
			r.addCount(p, ph)
		case which:
			about = ph
		case each:
			p.each = true
		case tried:
			p.tried = true
		case cameOff:
			p.made = ph
		case same:
			p.same = true
		case rested, effort, load, help, side:
			if ph.kind != side || r.besideSets(p, i) {
				r.addAside(p, ph, &ahead, about)
			}
		}
	}
	p.plain = plain
	p.finish(ahead, about)
}

// besideSets reports whether a side is said of sets and not of the way home: it is
// more than one word, or stands alone or beside something of sets.
func (r *reader) besideSets(p *part, i int) bool {
	alone := p.to == p.from+1 || r.phrases[i].to > r.phrases[i].from+1
	behind := i > p.from && r.phrases[i-1].kind > separator
	before := i+1 < p.to && r.phrases[i+1].kind > separator
	return alone || behind || before
}

// plainSet says of the last size, or of the one to come, that it was without help.
func (r *reader) plainSet(p *part, ph *phrase, plain bool) bool {
	if !r.is(ph.from, words.Unaided) {
		return plain
	}
	if n := len(p.bouts); n > 0 {
		p.bouts[n-1].plain = true
		return plain
	}
	return true
}

// finish keeps what was said with no size behind it.
func (p *part) finish(ahead aside, about *phrase) {
	switch {
	case about != nil && !ahead.empty(): // last two with a band
		set := about.set
		p.bouts = append(p.bouts, bout{Span: Span{about.from, about.to}, of: &set, only: true, said: ahead})
	case about != nil && p.correctsNamed(about): // 24s on the last
		last := &p.bouts[len(p.bouts)-1]
		set := about.set
		last.of, last.late = &set, true
		last.said.take(ahead)
	case len(p.bouts) > 0 && p.name == nil:
		p.bouts[len(p.bouts)-1].said.take(ahead)
	default:
		p.said = ahead
	}
}

// correctsNamed reports whether the last size of a part is that of sets named behind it.
func (p *part) correctsNamed(about *phrase) bool {
	last := len(p.bouts) - 1
	if last < 0 || p.bouts[last].of != nil || p.bouts[last].count > 0 || p.bouts[last].To > about.from {
		return false
	}
	return last == 0 || p.bouts[0].count > 0
}

// addSize adds a size, or joins it with the one before it: the seconds of reps, the
// count of a time. It returns the sets that the next size is about.
func (r *reader) addSize(p *part, ph *phrase, ahead *aside, about *phrase) *phrase {
	if about == nil && (r.becomesCount(p, ph) || r.becomesSeconds(p, ph)) {
		return nil
	}
	b := bout{size: ph.size, Span: Span{ph.from, ph.to}, fault: ph.fault, said: *ahead}
	if b.count == 0 && r.countsThose(p) { // 3 of them at 22s
		b.count, b.From, p.count = p.count.size.count, p.count.from, nil
	}
	if len(p.bouts) == 0 && !p.split {
		b.sign = p.sign
	}
	if ph.kind == ratio {
		b.ratio = ph
	}
	if about != nil {
		set := about.set
		b.of = &set
		b.From = about.from
	}
	if p.numberBehindTalk(r, ph) { // pull-ups 5/5/4 im 52
		b.fault = LeftOver
	}
	*ahead = aside{}
	p.bouts = append(p.bouts, b)
	return nil
}

// countsThose reports whether the count before a part's first size is of sets told
// before: 3 of them.
func (r *reader) countsThose(p *part) bool {
	return p.count != nil && p.name == nil && len(p.bouts) == 0 && r.is(p.count.to-1, words.Those)
}

// numberBehindTalk reports whether a bare number stands behind a word that nothing is known
// of, behind the part's skill or its sizes.
func (p *part) numberBehindTalk(r *reader, ph *phrase) bool {
	if p.name == nil || !p.first || ph.kind != sized || ph.size.unit != unsaid || ph.size.count > 0 {
		return false
	}
	for i := p.from + 1; i < p.to; i++ {
		if &r.phrases[i] == ph {
			return r.phrases[i-1].kind == talk && r.t.Kind(r.phrases[i-1].from) == text.Word
		}
	}
	return false
}

// becomesCount turns the 3 of "3 deep hangs of 30s" into a count.
func (r *reader) becomesCount(p *part, ph *phrase) bool {
	if !p.ofSkill() || len(p.bouts) != 1 || ph.kind != sized || ph.size.unit == unsaid || ph.size.count != 0 {
		return false
	}
	b := &p.bouts[0]
	mayCount := b.ratio == nil && b.bare() && b.whole && b.milli <= 20_000 && b.To <= p.name.from
	if !mayCount || r.names.Rungs[p.name.at].Unit != training.Timed && ph.size.unit == seconds { // 5 pull-ups of 3s
		return false
	}
	count := int(b.milli / 1000)
	b.size = ph.size
	b.size.count, b.to, b.fault = count, ph.to, ph.fault
	return true
}

// ofSkill reports whether a part names a skill of the programme.
func (p *part) ofSkill() bool { return p.name != nil && p.name.kind == skill }

// becomesSeconds joins reps with the seconds of each: 5 reps 10s each, 3x3 slow
// lowers of 5s.
func (r *reader) becomesSeconds(p *part, ph *phrase) bool {
	if len(p.bouts) == 0 || ph.kind != sized || ph.size.unit != seconds || ph.size.count != 0 || ph.size.reps != 0 {
		return false
	}
	b := &p.bouts[len(p.bouts)-1]
	countedRung := p.ofSkill() && r.names.Rungs[p.name.at].Unit == training.Counted
	if b.ratio != nil || b.reps != 0 || b.unit == seconds || b.unit == unsaid && !countedRung {
		return false
	}
	b.takeSeconds(ph)
	return true
}

// takeSeconds makes the bout's reps be of some seconds each.
func (b *bout) takeSeconds(ph *phrase) {
	b.reps = int(min(b.milli/1000, 1<<20))
	b.milli, b.unit, b.To = ph.size.milli, seconds, ph.to
}

// addFailure adds a set that failed, or says it of the size before.
func (r *reader) addFailure(p *part, ph *phrase, ahead *aside, about *phrase) *phrase {
	b := bout{size: ph.size, Span: Span{ph.from, ph.to}, failed: true, none: ph.size.milli == 0, fault: ph.fault}
	last := len(p.bouts) - 1
	times := r.is(ph.from, words.Times)
	switch {
	case ph.set.count > 0: // failed the last set
		set := ph.set
		b.of = &set
	case about != nil: // last set failed
		set := about.set
		b.of = &set
	case ph.size.count > 0 || times: // 3x fail, 30 30 x
	case last > 0 && !b.none && p.bouts[last].count == 0: // 30 30 fell off at 12
	case last >= 0 && !p.bouts[last].none:
		p.bouts[last].failed = true
		if !b.none { // 30s failed at 22s
			p.bouts[last].size.amount, p.bouts[last].To = ph.size.amount, ph.to
		}
		return nil
	case p.name == nil && last < 0 && b.none && (!listed(p.sign) || r.is(ph.from-1, words.All)), r.sizeBehind(p, ph):
		p.failed, p.all = ph, r.is(ph.from-1, words.All) || r.is(ph.from-1, words.Both)
		return about
	}
	b.said = *ahead
	if last < 0 && !p.split {
		b.sign = p.sign
	}
	*ahead = aside{}
	p.bouts = append(p.bouts, b)
	return nil
}

// listed reports whether a separator joins the items of a list, or none stands there.
func listed(c rune) bool { return c == '/' || c == ',' || c == '+' || c == ';' || c == ':' || c == 0 }

// sizeBehind reports whether a size follows in the part: failed 30s.
func (r *reader) sizeBehind(p *part, ph *phrase) bool {
	for i := p.from; i < p.to; i++ {
		if q := &r.phrases[i]; q.from > ph.from && q.kind == sized {
			return true
		}
	}
	return false
}

// addCount adds a count of sets or rounds that stands without a size.
func (r *reader) addCount(p *part, ph *phrase) {
	if len(p.bouts) != 1 || ph.size.rounds || p.bouts[0].count > 0 || p.bouts[0].of != nil {
		p.count = ph
		return
	}
	b := &p.bouts[0]
	if r.is(ph.from-1, words.In) || joinsTotal(r.t.Word(ph.from-1)) { // 25 in 5 sets
		b.fault = TotalSize
	} else if ph.fault != "" {
		b.fault = ph.fault
	}
	b.count, b.behind, b.loud, b.To = ph.size.count, true, ph.size.loud, ph.to
}

// joinsTotal reports whether a word joins a total with its sets: 25 over 5 sets. The
// tables have no class of it: in a table across would be a known word wherever it
// stands, and no more be told as one that was not read.
func joinsTotal(word []byte) bool { return string(word) == "over" || string(word) == "across" }

// addAside says something of the last size of the part, or of the one to come.
func (r *reader) addAside(p *part, ph *phrase, ahead *aside, about *phrase) {
	last := len(p.bouts) - 1
	if last < 0 || about != nil || ph.kind == side && p.bouts[last].said.side != nil {
		ahead.say(ph)
		return
	}
	p.bouts[last].said.say(ph)
}
