package sets

import (
	"rungbook/parser/words"
	"rungbook/training"
)

// From so many sets on, a size of one figure is taken for a slip: 30x3s.
const (
	oddSeconds = 15
	oddReps    = 25
)

// maxRepS is how long one rep may take, unless it is written as 3x5x40s.
const maxRepS = 30

// inRange holds sizes against the limits.
func (r *reader) inRange(e *entry, bouts []bout) bool {
	outer := int64(1)
	if e.outer != nil {
		outer = int64(max(e.outer.size.count, 1))
	}
	for i := range bouts {
		b := &bouts[i]
		if b.only {
			continue
		}
		code := r.limit(e, b, outer)
		if code == SizeTooLarge && r.is(b.To-1, words.Hour) { // a slip in the unit, and not in the number
			code = BadUnit
		}
		if code != "" {
			r.doubt(code, b.From, b.To).Rung = e.rung
			return false
		}
	}
	return true
}

// limit returns which limit a size passes; "" for none.
func (r *reader) limit(e *entry, b *bout, outer int64) Code {
	count, value := int64(max(b.count, 1))*outer, b.milli/1000
	if b.none {
		if count > maxCount {
			return CountTooLarge
		}
		return ""
	}
	timed := r.names.Rungs[e.rung].Unit == training.Timed
	switch {
	case value == 0 && !(b.failed && b.milli == 0):
		return ZeroSize
	case value < 10 && b.oddlyMany():
		return SuspiciousOrder
	case count > maxCount:
		return CountTooLarge
	case b.unit == reps && value > maxReps, b.reps > maxReps:
		return SizeTooLarge
	case b.unit == seconds && value*count*int64(max(b.reps, 1)) > maxWorkS:
		return SizeTooLarge
	case b.unit == seconds && !timed:
		return r.repLimit(b)
	}
	return ""
}

// repLimit returns which limit the time of a counted skill passes; "" for none.
func (r *reader) repLimit(b *bout) Code {
	value := b.milli / 1000
	switch {
	case b.reps == 0 && value > 300:
		return SizeTooLarge
	case b.reps > 0 && value > maxRepS && r.timesSigns(b) < 2: // rows 3x10 w/ 1 min
		return LeftOver
	}
	return ""
}

// timesSigns counts the signs of multiplication in a size.
func (r *reader) timesSigns(b *bout) (n int) {
	for i := b.From; i < b.To; i++ {
		if r.is(i, words.Times) {
			n++
		}
	}
	return n
}

// oddlyMany reports whether a size is counted more often than one of one figure
// would be.
func (b *bout) oddlyMany() bool {
	switch b.unit {
	case seconds:
		return b.reps == 0 && b.count >= oddSeconds
	case reps:
		return b.count >= oddReps
	}
	return false
}

// Alike counts the sets at the front that are equal and that one size may stand
// for: writing them so reads back as the same sets.
func Alike(list []training.Set) int {
	first := list[0]
	n, work := 1, max(first.WorkS*max(first.Reps, 1), 1)
	if first.Tries > 0 {
		return 1
	}
	odd := func(n int) bool {
		return first.Reps == 0 && first.WorkS < 10 && n >= oddSeconds || first.WorkS == 0 && first.Reps < 10 && n >= oddReps
	}
	for n < len(list) && n < maxCount && list[n] == first && (n+1)*work <= maxWorkS && !odd(n+1) {
		n++
	}
	return n
}
