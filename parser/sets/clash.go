package sets

import (
	"cmp"
	"slices"

	"rungbook/parser/text"
	"rungbook/parser/words"
)

// Sizes of one skill that cannot all have been done: one tells the sets of
// another anew, or is their total.

// clashes doubts a size that tells the sets of the size before it differently,
// with words between them that neither correct nor add: 3x8 dips I think, by
// the board 3x7.
func (r *reader) clashes() {
	var was *bout
	var of *entry
	for _, e := range r.entries {
		for i := range e.bouts {
			b := &e.bouts[i]
			if b.of != nil || b.only || e.copied {
				continue
			}
			again := was != nil && !e.other && of.rung == e.rung && of.day == e.day
			if again && (r.clash(was, b, of != e) || r.relists(was, e.bouts[i:])) {
				r.doubt(Correction, b.From, b.To)
				return
			}
			was, of = b, e
		}
	}
}

// clash reports whether the second of two sizes tells the sets of the first
// differently: both have counts, either the counts or the amounts are equal,
// and nothing sets them apart. If the second has a name of its own they are a
// list, unless words lead to it.
func (r *reader) clash(was, now *bout, named bool) bool {
	alike := was.count == now.count || was.milli == now.milli || int64(was.count)*1000 == now.milli
	if was.count < 2 || now.count < 2 || !alike || now.From < was.To {
		return false
	}
	plain := now.said == aside{} || now.said == was.said
	did := !named && r.is(now.From-1, words.Did) && !r.addsAt(&phrase{from: was.To, to: now.From})
	return plain && (did || r.talkBetween(was.To, now.From, named))
}

// relists reports whether single sizes tell the sets of a count before them
// anew, one by one, with talk between: 3x14s, by the video 12 12 and 13.
func (r *reader) relists(was *bout, now []bout) bool {
	if was.count < 2 || was.count != len(now) || !allSingle(now) || now[0].From < was.To {
		return false
	}
	headed := now[0].sign == '(' || now[0].sign == ':'
	return !headed && now[0].said == aside{} && r.talkBetween(was.To, now[0].From, false)
}

// talkBetween reports whether words that are none of the grammar's stand
// between two tokens, and none that adds, no line's end and no day; behind the
// last separator only where they are a list.
func (r *reader) talkBetween(from, to int, list bool) bool {
	at, _ := slices.BinarySearchFunc(r.phrases, from, func(p phrase, token int) int { return cmp.Compare(p.from, token) })
	talks, parted := false, false
	for ; at < len(r.phrases) && r.phrases[at].from < to; at++ {
		p := &r.phrases[at]
		switch {
		case r.addsAt(p), p.kind == sized, p.kind == dayNamed, p.kind == which, p.kind == separator && p.at == '\n':
			return false
		case p.kind == separator && p.at == '?': // 3x30? no such luck, 3x7
			return true
		case p.kind == separator:
			parted, talks = true, talks && !list
		case p.kind == talk && r.t.Kind(p.from) == text.Word:
			talks = true
		}
		talks = talks || !parted && p.kind == filler && r.t.Kind(p.from) != text.Sign // 3x80 lol 3x8
	}
	return talks
}

// addsAt reports whether a phrase says that what stands behind it was done
// besides.
func (r *reader) addsAt(p *phrase) bool {
	for i := p.from; i < p.to; i++ {
		if r.any(i, addWords) || r.t.Is(i, '+') {
			return true
		}
	}
	return false
}

// addWords are words that make what stands behind them sets of its own.
var addWords = words.OfClasses(words.And, words.Then, words.More, words.Adds, words.Ordinal, words.DayPart)

// withoutTotal leaves out the first or the last size if it is the total of the
// others: 24 dips, four sets of six; 3x8, so 24 dips.
func (r *reader) withoutTotal(e *entry, bouts []bout) []bout {
	if len(bouts) == 0 || e.copied {
		return bouts
	}
	if len(bouts) == 1 {
		if b := &bouts[0]; b.single() && b.fault == "" && (r.saysTotal(max(b.To, e.name.To)) || r.totalAhead(b.From)) {
			b.fault = TotalSize
		}
		return bouts
	}
	first, last := &bouts[0], &bouts[len(bouts)-1]
	switch {
	case first.totals(bouts[1:]) && r.apart(e, first, &bouts[1]):
		bouts[1].said.fill(first.said)
		return bouts[1:]
	case last.unit != seconds && last.totals(bouts[:len(bouts)-1]) && bouts[0].count > 1 && r.apart(e, &bouts[len(bouts)-2], last):
		return bouts[:len(bouts)-1]
	case last.totals(bouts[:len(bouts)-1]) && r.sumsUp(last) && allSingle(bouts):
		return bouts[:len(bouts)-1]
	case last.countsThose(bouts[:len(bouts)-1]) && r.sumsUp(last):
		return bouts[:last.count]
	}
	return bouts
}

// sumsUp reports whether words at a size say that it sums up what stands before
// it: so, that makes, in all.
func (r *reader) sumsUp(b *bout) bool {
	before := r.t.Kind(b.From-1) == text.Word && !r.any(b.From-1, addWords) && !r.is(b.From-1, words.With)
	_, behind := words.Phrase(r.t, b.To, words.Compared)
	return before || behind || r.saysTotal(b.To)
}

// countsThose reports whether a size only counts those told one by one before
// it: six, six and six so three sets of six.
func (b *bout) countsThose(others []bout) bool {
	return b.count > 1 && b.count == len(others) && allSingle(others) && b.milli == others[0].milli
}

// saysTotal reports whether words at token i say that what stands before them
// is of all sets: in total, altogether.
func (r *reader) saysTotal(i int) bool {
	if r.is(i, words.In) {
		i++
	}
	return r.is(i, words.Total)
}

// totalAhead reports whether the words before a size at token i say that it is
// a total: a total of 24.
func (r *reader) totalAhead(i int) bool {
	return r.is(i-1, words.Total) || r.is(i-1, words.Of) && r.is(i-2, words.Total)
}

// totals reports whether a size is the total of others.
func (b *bout) totals(others []bout) bool {
	sum, sets := int64(0), 0
	for i := range others {
		o := &others[i]
		if o.of != nil || o.ratio != nil || o.none || o.failed {
			return false
		}
		sum, sets = sum+int64(max(o.count, 1))*o.milli, sets+max(o.count, 1)
	}
	return b.single() && !b.failed && sets > 1 && sum == b.milli
}

// apart reports whether two sizes are not of one list: one is counted, or their
// skill stands between them, and no word adds the one to the other.
func (r *reader) apart(e *entry, a, b *bout) bool {
	between := a.To <= e.name.From && e.name.To <= b.From || b.sign == '(' || b.sign == '='
	if !between && a.count < 2 && b.count < 2 || b.sign == '+' || a.sign == '/' {
		return false
	}
	return !r.addsAt(&phrase{from: a.To, to: b.From})
}
