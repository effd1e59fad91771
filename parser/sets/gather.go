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
	for i := p.from; i < p.to; i++ {
		ph := &r.phrases[i]
		switch ph.kind {
		case filler:
			r.addUnaided(p, ph, &ahead, about)
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
		case failed:
			about = r.addFailure(p, ph, &ahead, about)
		case counted:
			r.addCount(p, ph)
		case which:
			about = ph
		case retracted:
			p.gone = r.goneSets(ph, about)
			about = nil
		case each, tried, same:
			p.note(ph)
		case cameOff:
			about = r.addOutcome(p, ph, &ahead, about)
		case rested, effort, load, help, side:
			if ph.kind != side || r.besideSets(p, i) {
				r.addAside(p, ph, &ahead, about)
			}
		}
	}
	r.finish(p, ahead, about)
}

// addOutcome adds how many attempts came off, or that nothing came of one more
// set.
func (r *reader) addOutcome(p *part, ph *phrase, ahead *aside, about *phrase) *phrase {
	if r.noneCame(p, ph, about) {
		return r.addFailure(p, &phrase{kind: failed, from: ph.from, to: ph.to}, ahead, about)
	}
	p.made = ph
	return about
}

// noneCame reports whether a phrase says that one more set failed: third set
// zero; 18s, then nothing. Said of attempts it says that none was done.
func (r *reader) noneCame(p *part, ph, about *phrase) bool {
	next := about != nil || p.sign == '>' && p.to == p.from+1
	return next && r.sized && (about != nil || ph.to == ph.from+1) && r.is(ph.from, words.None) && !r.triedBefore()
}

// ordinalWithin reports whether a part tells which of several is meant.
func (r *reader) ordinalWithin(p *part) bool {
	for i := r.phrases[p.from].from; i < r.phrases[p.to-1].to; i++ {
		if r.is(i, words.Ordinal) || r.is(i, words.Last) {
			return true
		}
	}
	return false
}

// note keeps what is said of all a part tells.
func (p *part) note(ph *phrase) {
	switch ph.kind {
	case each:
		p.each = true
	case tried:
		p.attempt(ph.n)
	case cameOff:
		p.made = ph
	case same:
		p.same = true
	}
}

// attempt notes that attempts were told, or, where n is above 0, which of them
// came off.
func (p *part) attempt(n int) {
	if n == 0 {
		p.tried = true
	}
	p.nth = max(p.nth, n)
}

// besideSets reports whether a side is said of sets, and not of the way home:
// it has more than one word, stands alone, or stands beside something said of
// sets.
func (r *reader) besideSets(p *part, i int) bool {
	alone := p.to == p.from+1 || r.phrases[i].to > r.phrases[i].from+1
	behind := i > p.from && r.phrases[i-1].kind > separator
	before := i+1 < p.to && r.phrases[i+1].kind > separator
	return alone || behind || before
}

// saysUnaided reports whether a phrase says that a set was without help or load.
func (r *reader) saysUnaided(p *phrase) bool {
	return p.word == without || p.to == p.from+1 && r.is(p.from, words.Unaided)
}

// finish keeps what was said with no size behind it.
func (r *reader) finish(p *part, ahead aside, about *phrase) {
	if about != nil && ahead.empty() {
		ahead = r.saidBefore(p, about)
	}
	oneOf := about == nil && p.name != nil && len(p.bouts) == 0
	if oneOf && ahead.help != nil && r.ordinalWithin(p) { // toes down in the second support only
		r.doubt(Changed, ahead.help.from, ahead.help.to)
	}
	switch {
	case about != nil && !ahead.empty(): // last two with a band
		set := about.set
		only := bout{Span: Span{about.from, about.to}, of: &set, only: true, said: ahead}
		if r.is(about.to-1, words.Rep) && (ahead.help != nil || ahead.load != nil) { // helped on the last rep
			only.fault = Changed
		}
		p.bouts = append(p.bouts, only)
	case about != nil && r.correctsNamed(p, about): // 24s on the last
		last := &p.bouts[len(p.bouts)-1]
		set := about.set
		last.of, last.late = &set, true
		last.said.take(ahead)
	case len(p.bouts) > 0 && p.name == nil:
		p.bouts[len(p.bouts)-1].said.take(ahead)
	case about != nil && p.name == nil: // the second is wrong, ...
		p.about = about
	default:
		p.said = ahead
	}
}

// saidBefore returns what was said right before the words that name the sets it
// is about, and takes it from the size to which it was added: 3x5 with a
// spotter on the last set.
func (r *reader) saidBefore(p *part, about *phrase) (said aside) {
	i := p.to - 1
	for i > p.from && &r.phrases[i] != about {
		i--
	}
	for i--; i > p.from && r.phrases[i].kind == filler && !r.saysUnaided(&r.phrases[i]); i-- {
	}
	if len(p.bouts) == 0 || i < p.from {
		return aside{}
	}
	ph := &r.phrases[i]
	of := &p.bouts[len(p.bouts)-1].said
	switch ph {
	case of.help:
		of.help = nil
	case of.load:
		of.load = nil
	case of.unaided:
		of.unaided = nil
	default:
		return aside{}
	}
	said.say(ph)
	return said
}

// correctsNamed reports whether the last size of a part is of sets that are
// named behind it: 24s on the last.
func (r *reader) correctsNamed(p *part, about *phrase) bool {
	last := len(p.bouts) - 1
	if last < 0 || p.bouts[last].of != nil || p.bouts[last].count > 0 || p.bouts[last].To > about.from {
		return false
	}
	for i := p.to - 1; i > p.from && r.phrases[i].from > p.bouts[last].From; i-- {
		if r.phrases[i].kind == talk && r.phrases[i].from < about.from { // 25s where the arms bent in the last five
			return false
		}
	}
	return last == 0 || p.bouts[0].count > 0
}

// addSize adds a size, or joins it with the one before it: the seconds of reps,
// the count of a time. It returns the sets that the next size is about.
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
		b.of, b.late = &set, set.first == 0
		b.From = about.from
	}
	if p.numberBehindTalk(r, ph) || b.bare() && r.behindHelp(p, ph) { // pull-ups 5/5/4 im 52; band on 3 and 4
		b.fault = LeftOver
	}
	*ahead = aside{}
	p.bouts = append(p.bouts, b)
	return nil
}

// countsThose reports whether the count before a part's first size is of it
// alone: 3 of them, twice for 20s.
func (r *reader) countsThose(p *part) bool {
	told := p.count != nil && p.name == nil && len(p.bouts) == 0
	return told && (r.is(p.count.to-1, words.Those) || r.is(p.count.from, words.Often))
}

// numberBehindTalk reports whether a bare number stands behind a word that
// nothing is known of, behind the part's skill or its sizes.
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
	of := r.is(ph.from-1, words.Of) && (r.is(ph.from-2, words.Set) || ph.size.milli > bareReps*1000) // 3 deep hangs of 40
	sets := p.ofSkill() && r.is(p.name.to, words.Set) && ph.from <= p.name.to+2                      // 3 rows sets of 12
	sure := ph.size.unit != unsaid || of || sets
	if !p.ofSkill() || len(p.bouts) != 1 || ph.kind != sized || !sure || ph.size.count != 0 {
		return false
	}
	b := &p.bouts[0]
	mayCount := b.ratio == nil && b.bare() && b.whole && b.milli <= 20_000 && b.To <= p.name.from
	if !mayCount || r.names.Rungs[p.name.at].Unit != training.Timed && ph.size.unit == seconds && !sets { // 5 pull-ups of 3s
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
	b := bout{size: ph.size, Span: Span{ph.from, ph.to}, failed: !ph.short, none: ph.size.milli == 0, fault: ph.fault}
	last := len(p.bouts) - 1
	times := r.is(ph.from, words.Times)
	switch {
	case ph.set.count > 0: // failed the last set
		set := ph.set
		b.of, b.late = &set, set.first == 0
	case about != nil: // last set failed
		set := about.set
		b.of, b.late, b.From = &set, set.first == 0, about.from
	case ph.size.count > 0 || times || r.is(ph.from, words.None): // 3x fail, 30 30 x, nothing
	case last > 0 && !b.none && p.bouts[last].count == 0: // 30 30 fell off at 12
	case last >= 0 && !p.bouts[last].none:
		p.bouts[last].failed = b.failed
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

// listed reports whether a separator joins the items of a list, or none stands
// there.
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
	if p.count != nil && len(p.bouts) == 0 && p.name != nil && ph.size.behind && !p.count.size.rounds { // 5 x dips x 6
		both := size{amount: whole(ph.size.count), count: p.count.size.count}
		p.bouts, p.count = append(p.bouts, bout{size: both, Span: Span{p.count.from, ph.to}}), nil
		return
	}
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

// joinsTotal reports whether a word stands between a total and its sets: 25
// over 5 sets, 36 as 3x12. These words stand in no table: there across would be
// a known word anywhere, and no longer named as one that was not read.
func joinsTotal(word []byte) bool {
	switch string(word) {
	case "over", "across", "as", "into":
		return true
	}
	return false
}
