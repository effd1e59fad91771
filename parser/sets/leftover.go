package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
)

// leftOver doubts sizes that found no skill: beside words that name none, or
// alone.
func (r *reader) leftOver() {
	r.namesJoined()
	first, all := r.firstSets(), r.total()
	for i := range r.strays {
		span := r.strays[i].Span
		beside, near := r.unknownBeside(span)
		switch score := len(r.strays) == 1 && r.isScore(span); {
		case r.setsScene(span, beside, first, all), r.isPlan(span):
		case near && score && !r.resembles(beside) && !r.namePart(beside): // wrist 4
		case near && r.ambiguous(beside):
		case near:
			r.doubt(UnknownSkill, beside.From, beside.To)
		case len(r.out.Days) == 0 && len(r.out.Skills) == 0:
			r.doubt(MissingSkill, span.From, span.To)
		default:
			r.doubt(LeftOver, span.From, span.To)
		}
	}
}

// firstSets returns the token where the first sets begin; 0 where there are none.
func (r *reader) firstSets() int {
	if len(r.out.Days) == 0 {
		return 0
	}
	first := len(r.t.Tokens)
	for _, e := range r.entries {
		if len(e.bouts) > 0 && !e.other {
			first = min(first, e.start())
		}
	}
	return first
}

// setsScene reports whether a size that found no skill is no size: nobody does
// so much or so little, it is the total of all sets, or it is a bare number in
// talk before the first sets: it was 27 in the gym; but not did 30, tractions
// 6.
func (r *reader) setsScene(span, beside Span, first int, all int64) bool {
	p, ok := r.sizePhrase(span.From)
	if !ok || p.kind != sized || p.to != span.To || first == 0 || r.resembles(beside) {
		return false
	}
	size := &p.size
	switch {
	case size.impossible(): // 1x0.5 l, 12.90; 1.1. may be a day
		return r.t.Kind(span.To-1) == text.Number
	case size.tooLong(): // 2x40 m
		return true
	case size.unit != unsaid || size.count > 0 || size.fault != "":
		return size.count == 0 && all == size.milli
	}
	return all == size.milli || span.To <= first && !r.mayBeSet(span, beside)
}

// impossible reports whether a size is a fraction of no unit.
func (s *size) impossible() bool { return s.unit == unsaid && !s.whole }

// tooLong reports whether a size is longer than anybody holds.
func (s *size) tooLong() bool {
	return s.unit == seconds && s.milli*int64(max(s.count, 1)) > maxWorkS*1000
}

// mayBeSet reports whether a bare number may be a set: it stands in a row of
// numbers, right behind a verb of doing, or behind a word alone that may be a
// skill's name.
func (r *reader) mayBeSet(span, beside Span) bool {
	row, paired := r.inRow(span)
	named := beside.From < beside.To && beside.To == span.From && r.ends(span.To) && r.clauseOpens(beside.From)
	return row || named && !paired || r.is(span.From-1, words.Did)
}

// isPlan reports whether a size is told of a day to come, behind sets that were
// done: tomorrow 5x25s, Friday I'll go for 4.
func (r *reader) isPlan(span Span) bool {
	for i := span.From - 1; i >= 0 && span.From-i < 8 && len(r.out.Days) > 0; i-- {
		switch {
		case r.is(i, words.Will), r.is(i, words.Ahead) && r.value(i) > 0:
			return true
		case sentenceEnds(rune(r.t.Tokens[i].N)) && r.t.Kind(i) == text.Sign, r.t.Kind(i) == text.Line:
			return false
		}
	}
	return false
}

// total is what all sets come to together, in thousandths; -1 where there are
// not several.
func (r *reader) total() int64 {
	all, sets := 0, 0
	for i := range r.out.Days {
		for _, set := range r.out.Days[i].Sets {
			all, sets = all+set.WorkS+set.Reps, sets+1
		}
	}
	if sets < 2 {
		return -1
	}
	return int64(all) * 1000
}

// inRow reports whether another number stands next to one, with a sign or an
// and between them. paired says that they are only two with a glued sign
// between, which are no row: a price of 9,50, a 21-17.
func (r *reader) inRow(s Span) (row, paired bool) {
	before, behind := r.numberJoined(s.From-1, s.From-2), r.numberJoined(s.To, s.To+1)
	switch {
	case before && behind:
		return true, false
	case before:
		paired = (r.t.GluedSign(s.From-1, ',') || r.t.GluedSign(s.From-1, '-')) && !r.numberJoined(s.From-3, s.From-4)
	case behind:
		paired = (r.t.GluedSign(s.To, ',') || r.t.GluedSign(s.To, '-')) && !r.numberJoined(s.To+2, s.To+3)
	}
	return (before || behind) && !paired, paired
}

// numberJoined reports whether what may join two numbers stands at token i, and
// the other of them at token n.
func (r *reader) numberJoined(i, n int) bool {
	return (r.t.OneOf(i, "-/,+") || r.is(i, words.And)) && r.t.Kind(n) == text.Number
}

// clauseOpens reports whether no word stands before token i in its clause.
func (r *reader) clauseOpens(i int) bool { return r.ends(i-1) && r.t.Kind(i-1) != text.Number }

// countsUnread doubts a count of sets or rounds that belongs to no entry, if no
// skill was done so often: I did my three sets, mid hang, 28 s; twice through.
func (r *reader) countsUnread() {
	corrected := r.lastOf(correction) != nil // it may have been of a count
	for i := range r.phrases {
		p := &r.phrases[i]
		if len(r.out.Days) == 0 || corrected {
			return
		}
		if p.kind == counted && p.size.count > 1 && r.countsSets(p) && !r.owned(p) && !r.doneSoOften(p.size.count) {
			r.doubt(LeftOver, p.from, p.to)
			return
		}
	}
}

// countsSets reports whether a count is of sets or rounds by its word, or is a
// clause of its own: three sets, twice through, twice.
func (r *reader) countsSets(p *phrase) bool {
	alone := r.is(p.from, words.Often) && r.ends(p.from-1) && r.ends(p.to)
	those := r.is(p.to-1, words.Those) && p.size.count <= r.told()
	return p.size.loud && !those || p.size.rounds || alone
}

// setsUnread doubts a set that is named by its number, if that is one more than
// were read: the third set my phone rang.
func (r *reader) setsUnread() {
	told, leftOut := r.told(), r.lastOf(retracted) != nil || r.lastOf(doubtful) != nil
	for i := range r.phrases {
		if p := &r.phrases[i]; told > 1 && !leftOut && p.kind == which && p.set.first > told && !r.owned(p) {
			r.doubt(LeftOver, p.from, p.to)
			return
		}
	}
}

// owned reports whether a phrase is part of what an entry tells.
func (r *reader) owned(p *phrase) bool {
	for _, e := range r.entries {
		if e.outer != nil && e.outer.from == p.from {
			return true
		}
		for i := range e.bouts {
			if b := &e.bouts[i]; b.From <= p.from && p.from < b.To {
				return true
			}
		}
	}
	return false
}

// doneSoOften reports whether so many sets of one skill were done on a day.
func (r *reader) doneSoOften(n int) bool {
	for i := range r.out.Days {
		sets := r.out.Days[i].Sets
		for from, to := 0, 0; from < len(sets); from = to {
			for to = from; to < len(sets) && sets[to].Rung == sets[from].Rung; to++ {
			}
			if to-from == n {
				return true
			}
		}
	}
	return false
}

// numbersUnread doubts a number that belongs to nothing: it is written in words
// or says what a set was, is said of no hour and no thing, and is no size and
// no count that was read: ten dips, then eight, then um seven. A number behind
// a then or beside more is doubted even if the same was read.
func (r *reader) numbersUnread() {
	if len(r.out.Days) == 0 || len(r.out.Doubts) > 0 {
		return
	}
	for at := range r.segments {
		s := &r.segments[at]
		for n := s.from; n < s.to; n++ {
			if r.lostNumber(s, n) {
				r.doubt(LeftOver, r.phrases[n].from, r.phrases[n].to)
				return
			}
		}
	}
}

// lostNumber reports whether phrase n of a segment is a number that nothing has
// taken.
func (r *reader) lostNumber(s *segment, n int) bool {
	p := &r.phrases[n]
	i, spelled := p.from, r.numberWord(p.from) && !r.ofAThingAt(p.from)
	switch {
	case p.kind == figure && r.is(i, words.Was):
		return r.lostVerdict(p)
	case p.kind != talk && p.kind != filler || p.to > i+1:
		return false
	case r.is(i, words.More) && r.any(i+1, timeUnit): // then another minute
		return r.goesOnAt(n)
	case spelled && (r.is(i-1, words.More) || r.is(i+1, words.More)): // then seven more
		return r.value(i) > 1 || !s.gives && s.sizes == 0
	}
	return p.kind == talk && spelled && r.value(i) > 1 && (!r.read(r.value(i)) || r.goesOnAt(n) && r.ends(i+1))
}

// lostVerdict reports whether a phrase says what a set was, and no such set was
// read: but it was seven.
func (r *reader) lostVerdict(p *phrase) bool {
	a, ok := r.amount(p.from + 1)
	return ok && a.to == p.to && a.whole && a.milli > 0 && !r.read(int(a.milli/1000)) && !r.is(p.from-1, words.Ones)
}

// goesOnAt reports whether phrase n goes on with what was told: nothing but
// small words and one that nothing is known of stands between it and a then.
func (r *reader) goesOnAt(n int) bool {
	for back := 0; n > 0 && back < 3; back++ {
		if n--; r.phrases[n].kind == separator {
			return r.phrases[n].at == '>'
		}
	}
	return false
}

// ofAThingAt reports whether a number in words at token i is said of an hour,
// or numbers or measures a thing: up at four, week two, every two minutes, the
// other five.
func (r *reader) ofAThingAt(i int) bool {
	return r.any(i-1, numbersThings) || r.any(i+1, timeUnit) || r.is(i+1, words.Unit) || r.is(i-1, words.Ordinal)
}

// numbersThings are words before a number that is none of the sets.
var numbersThings = words.OfClasses(words.At, words.By, words.Label, words.Every, words.Rep, words.Round, words.Set, words.Compared)

// read reports whether a number is the size of a set that was read, or how many
// there were, of a skill or in all.
func (r *reader) read(n int) bool {
	for i := range r.out.Days {
		for _, set := range r.out.Days[i].Sets {
			if set.WorkS == n || set.Reps == n || set.Tries == n || set.Done.Value == n || set.RestS.Value == n || set.Effort.Value == n {
				return true
			}
		}
	}
	return r.told() == n || r.doneSoOften(n)
}

// numberWord reports whether token i is a number in words.
func (r *reader) numberWord(i int) bool { return r.is(i, words.Ones) || r.is(i, words.Tens) }

// isScore reports whether a size is a number up to ten and may rate something:
// wrist 4.
func (r *reader) isScore(s Span) bool {
	return s.To == s.From+1 && r.t.Kind(s.From) == text.Number && r.t.Tokens[s.From].N <= 10
}

// ambiguous doubts which skill is meant by a word that is part of several
// names. It reports false if the span is no such word.
func (r *reader) ambiguous(s Span) bool {
	if s.To != s.From+1 {
		return false
	}
	with := r.names.With(r.t.Word(s.From))
	if len(with) < 2 {
		return false
	}
	d := r.doubt(AmbiguousSkill, s.From, s.To)
	for _, named := range with[:min(len(with), 4)] {
		d.Names = append(d.Names, named.Name)
	}
	return true
}

// namesJoined doubts an unknown word that a slash or a plus joins to sets: it
// may be a skill's name, as in hh/mh/dh.
func (r *reader) namesJoined() {
	for at := 0; at+1 < len(r.segments); at++ {
		s, next := &r.segments[at], &r.segments[at+1]
		lone := s.to == s.from+1 && s.talk == 1 && !s.gives && (next.sign == '/' || next.sign == '+')
		if p := &r.phrases[s.from]; lone && next.gives && r.unknown(p.from) {
			r.doubt(UnknownSkill, p.from, p.to)
		}
	}
}

// resembles reports whether an unknown word may be a badly written name of a
// skill. Then it is asked about, not only named as unread.
func (r *reader) resembles(span Span) bool {
	for i := span.From; i < span.To; i++ {
		if r.names.Resembles(string(r.t.Word(i))) {
			return true
		}
	}
	return false
}

// unknownBeside returns the unknown words right behind a size, or right before it.
func (r *reader) unknownBeside(span Span) (Span, bool) {
	to := span.To
	for to < span.To+4 && r.mayName(to) {
		to++
	}
	if to > span.To {
		return Span{span.To, to}, true
	}
	from := span.From
	for from > span.From-4 && r.mayName(from-1) {
		from--
	}
	return Span{from, span.From}, from < span.From
}

// besideNear reports whether a misspelt skill stands right beside phrase i.
func (r *reader) besideNear(i int) bool {
	for _, at := range [...]int{i - 1, i + 1} {
		if at >= 0 && at < len(r.phrases) && r.phrases[at].near && r.phrases[at].kind == skill {
			return true
		}
	}
	return false
}

// mayName reports whether the word at token i may be of a name: one that
// nothing is known of, or that says nothing beside sets.
func (r *reader) mayName(i int) bool {
	if r.t.Kind(i) != text.Word {
		return false
	}
	return r.words[i] == nil || r.names.Part(r.t.Word(i)) || r.is(i, words.Everyday) || r.is(i, words.Exercise)
}

// unread notes the words beside sets that nothing is known of.
func (r *reader) unread() {
	for at := range r.segments {
		s := &r.segments[at]
		if !s.gives {
			continue
		}
		for i := s.from; i < s.to; i++ {
			p := &r.phrases[i]
			if p.kind != talk || !r.unknown(p.from) {
				continue
			}
			sized := i > s.from && r.phrases[i-1].kind == sized && !r.t.Glued(p.from)
			if r.besideNear(i) || sized && r.resembles(Span{p.from, p.to}) { // trnasiton hnag, 2x6 dpis
				r.doubt(UnknownSkill, p.from, p.to)
			}
			if n := len(r.out.Unread); n > 0 && r.out.Unread[n-1].To == p.from {
				r.out.Unread[n-1].To = p.to
				continue
			}
			r.out.Unread = append(r.out.Unread, Span{p.from, p.to})
		}
	}
}
