package parser

import "rungbook/training"

// tries reads attempts: how many, and how many came off.
func (r *reader) tries(e *entry, sizes []size) (training.Set, *trouble) {
	set := training.Set{Rung: r.rungOf(e).id}
	outer, failed := int64(max(e.outer, 1)), false
	goes := int64(0)
	for i := range sizes {
		s := &sizes[i]
		switch {
		case s.k == iFrac || s.k == iOf:
			set.Done = training.Known(set.Done.Value + int(s.n))
			goes += int64(s.m)
		case s.unit == uSec:
			return set, r.trouble("tries-in-seconds", s.item)
		case s.failed && s.milli == 0:
			goes += int64(max(s.count, s.n, 1))
			failed = true
		default:
			goes += s.milli / 1000 * int64(max(s.count, 1))
			failed = failed || s.failed
		}
		if t := r.particulars(&set, s); t != nil {
			return set, t
		}
	}
	place := item{from: e.nameFrom, to: e.nameTo}
	if len(sizes) > 0 {
		place = sizes[0].item
	} else {
		goes = 1
	}
	goes *= outer
	switch {
	case goes == 0:
		return set, r.trouble("zero-size", place)
	case goes > maxCount:
		return set, r.trouble("too-many-tries", place)
	}
	set.Tries = int(goes)
	switch {
	case e.doneSaid:
		set.Done = training.Known(int(e.done))
	case failed && !set.Done.Known:
		set.Done = training.Known(0)
	case !set.Done.Known && !e.tried:
		set.Done = training.Known(set.Tries)
		r.guess("tries", "every one came off")
	}
	if set.Done.Value > set.Tries {
		return set, r.trouble("more-done-than-tried", place)
	}
	set.Rung, set.Help = r.p.names.helped(e.rung, set.Help)
	return set, nil
}
