package parser

// Figures beside sets that are none of their sizes.

// passed returns the end of figures at token i that are none of a size: a tempo, a
// set's number, an hour. It returns i where none stand there.
func (r *reader) passed(i int) int {
	if r.toks[i].kind != kNum {
		return i
	}
	switch next := &r.toks[i+1]; next.kind {
	case kPunct:
		if next.n == ':' {
			return r.hourOfDay(i)
		}
		return r.tempo(i)
	case kWord:
		if end := r.setLabel(i); end > i {
			return end
		}
	}
	return r.tempo(i)
}

// setLabel passes what numbers a set that is told by itself: 1st set 30s, 2nd 28s.
// Behind sets with a count it is said of one of those.
func (r *reader) setLabel(i int) int {
	j := r.ordinalTail(i + 1)
	if j == i+1 || r.counts {
		return i
	}
	if r.has(j, fSet|fRound) {
		j++
	}
	if r.punct(j, ':') || r.is(j, "was") {
		j++
	}
	if q, ok := r.quantity(j); ok && q.unit != uNone {
		return j
	}
	return i
}

// hourOfDay passes an hour of the day that heads a line or stands behind "at":
// 18:30 3x30s. A length of so many minutes would be nobody's set.
func (r *reader) hourOfDay(i int) int {
	q, ok := r.clockTime(i)
	if !ok || q.code != 0 || q.milli < 300_000 || q.milli >= 24*60_000 || q.to != i+3 {
		return i
	}
	opens := i == 0 || r.toks[i-1].kind == kLine
	if opens && !r.sepAt(q.to) && r.toks[q.to].kind != kNum || !opens && !r.is(i-1, "at") && !r.is(i-1, "um") && !r.is(i-1, "from") && !r.is(i-1, "around") {
		return i
	}
	return q.to
}

// tempo returns the end of a tempo, the seconds of each part of a rep: tempo
// 3-1-1, 3-0-3-0 tempo, @31X1. It returns i where none stands there.
func (r *reader) tempo(i int) int {
	j, parts := i, 0
	for r.toks[j].kind == kNum && r.toks[j].digits == 1 && parts < 4 {
		if j, parts = j+1, parts+1; !r.punct(j, '-') || !r.toks[j].glued || r.toks[j+1].kind != kNum {
			break
		}
		j++
	}
	said := r.is(i-1, "tempo") || r.punct(i-1, ':') && r.is(i-2, "tempo")
	switch {
	case parts >= 3 && (said || r.is(j, "tempo")):
	case r.toks[i].digits == 4 && (said || r.is(i+1, "tempo")):
		j = i + 1
	case r.toks[i].digits == 2 && r.is(i+1, "x") && r.toks[i+1].glued && r.toks[i+2].digits == 1 && (said || r.is(i+3, "tempo") || r.punct(i-1, '@')):
		j = i + 3
	default:
		return i
	}
	if r.is(j, "tempo") {
		j++
	}
	return j
}

// cadence passes how often a set was begun, with how long that went on: every 2
// min, every minute for 10 minutes.
func (r *reader) cadence(i int) int {
	if !r.is(i, "every") {
		return i
	}
	to := i + 1
	if q, ok := r.quantity(to); ok && q.unit == uSec {
		to = q.to
	} else if to++; !r.has(i+1, fSec|fMin) {
		return i
	}
	if q, ok := r.quantity(to + 1); ok && r.is(to, "for") && q.unit == uSec {
		to = q.to
	}
	return to
}
