package sets

import (
	"rungbook/parser/words"
	"rungbook/training"
)

// tries reads attempts: how many, and how many came off. They are one set.
func (r *reader) tries(e *entry, bouts []bout) ([]training.Set, bool) {
	set := training.Set{}
	if len(bouts) == 0 && !r.particulars(&set, &e.said) {
		return nil, false
	}
	goes, isFailed := 0, false
	bouts = r.outOfGoes(bouts)
	for i := range bouts {
		b := &bouts[i]
		code := noGoes(bouts, i)
		if len(bouts) > 1 && b.bare() && r.is(b.From-1, words.Try) && r.is(bouts[0].From-1, words.Try) { // try 1 no, try 2 yes
			code = LeftOver
		}
		if code != "" {
			r.doubt(code, b.From, b.To)
			return nil, false
		}
		goes += goesOf(bouts, i)
		if b.ratio != nil {
			set.Done = training.Known(set.Done.Value + b.ratio.n)
		}
		isFailed = isFailed || b.failed
		if !r.particulars(&set, &b.said) {
			return nil, false
		}
	}
	set.Tries = allGoes(e, len(bouts), goes)
	code := Code("")
	switch {
	case set.Tries == 0:
		code = ZeroSize
	case set.Tries > maxCount:
		code = TooManyTries
	default:
		r.done(e, &set, isFailed)
		if set.Done.Value > set.Tries {
			code = MoreDoneThanTry
		}
	}
	if code != "" {
		place := e.name
		if len(bouts) > 0 {
			place = bouts[0].Span
		}
		r.doubt(code, place.From, place.To)
		return nil, false
	}
	at, help := r.names.Helped(e.rung, set.Help)
	set.Rung, set.Help = r.names.Rungs[at].ID, help
	return []training.Set{set}, true
}

// outOfGoes makes one ratio of two numbers with a skill between them: 2
// muscle-ups out of 6, one muscle-up: six tries.
func (r *reader) outOfGoes(bouts []bout) []bout {
	joined := len(bouts) == 2 && (r.is(bouts[1].From-1, words.Of) || r.is(bouts[1].To, words.Try) && !r.is(bouts[0].To, words.Try))
	if !joined || bouts[0].ratio != nil || bouts[1].unit == seconds || bouts[1].of != nil {
		return bouts
	}
	b := bouts[1]
	b.ratio = &phrase{kind: ratio, n: goesOf(bouts, 0), m: goesOf(bouts, 1)}
	return []bout{b}
}

// noGoes returns why a size is no number of attempts; "" where it is one.
func noGoes(bouts []bout, i int) Code {
	switch b := &bouts[i]; {
	case b.ratio != nil && i > 0 && bouts[i-1].ratio != nil && bouts[i-1].ratio.m == b.ratio.m: // 2 of 5, no, 1 of 5
		return Correction
	case b.ratio != nil:
		return ""
	case b.unit == seconds:
		return TriesInSeconds
	case b.of == nil && i > 0 && b.sign == '(' && !b.none: // 6 tries (3)
		return InBrackets
	}
	return ""
}

// goesOf returns how many attempts the size at i adds.
func goesOf(bouts []bout, i int) int {
	switch b := &bouts[i]; {
	case b.ratio != nil:
		return b.ratio.m
	case b.of != nil && len(bouts) == 1: // failed on the 3rd try
		return b.of.first
	case b.of != nil:
		return 0
	case b.none && b.count == 0 && i > 0 && !bouts[i-1].none: // 3 tries, failed
		return 0
	case b.none:
		return max(b.count, 1)
	default:
		return int(b.milli/1000) * max(b.count, 1)
	}
}

// allGoes returns how many attempts there were, taking into account a count
// that stands apart from sizes.
func allGoes(e *entry, told, goes int) int {
	switch {
	case e.nth > goes:
		return e.nth
	case told == 0 && e.outer != nil:
		return e.outer.size.count
	case told == 0:
		return 1
	case e.outer != nil:
		return goes * max(e.outer.size.count, 1)
	}
	return goes
}

// done sets how many attempts were done: as many as was said; if that is unsaid
// none where they failed, else all.
func (r *reader) done(e *entry, set *training.Set, isFailed bool) {
	switch {
	case e.made != nil && e.made.n >= 0:
		set.Done = training.Known(e.made.n)
	case e.made != nil:
		set.Done = training.Known(set.Tries)
	case e.nth > 0 && !isFailed && !set.Done.Known:
		set.Done = training.Known(1)
	case isFailed && !set.Done.Known:
		set.Done = training.Known(0)
	case !set.Done.Known && !e.tried:
		set.Done = training.Known(set.Tries)
		r.guess("tries", "every one came off")
	}
}
