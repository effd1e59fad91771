package parser

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"rungbook/training"
)

// remedies returns the changes worth trying for a problem, likeliest first.
func (r *reader) remedies(t *trouble) []change {
	at := t.it
	put := func(texts ...string) (out []change) {
		for _, text := range texts {
			out = append(out, change{at.from, at.to, text})
		}
		return out
	}
	first := r.firstFigures(at)
	switch t.code {
	case "unknown-skill", "ambiguous-skill":
		if len(t.names) == 0 && len(r.entries) == 0 {
			return r.skillFor(t, at.from, at.to, "")
		}
		return append(put(t.names...), r.without(t.size, at)...)
	case "missing-size":
		return r.sizeFor(t)
	case "missing-skill":
		return r.skillFor(t, at.to, at.to, " ")
	case "missing-unit":
		return put(first+"s", first+" reps")
	case "unit-mismatch":
		return put("s")
	case "zero-size":
		return append(put("fail", " fail"), r.without(at, at)...)
	case "size-too-large", "count-too-large", "load-too-large":
		return r.smaller(at)
	case "bad-unit":
		if unit := r.unitMeant(at); unit != "" {
			return put(first + unit)
		}
		return put(first+"s", first+" min")
	case "letter-for-digit":
		return put(strings.NewReplacer("o", "0", "O", "0", "l", "1", "L", "1").Replace(r.text[r.toks[at.from].from:r.toks[at.to-1].to]))
	case "bad-clock":
		return r.clocks(at)
	case "suspicious-order":
		return r.swapped(at)
	case "fractional-count", "fractional-reps":
		return r.wholes(at)
	case "range":
		return r.ends(at)
	case "in-brackets":
		return r.bracketed(at)
	case "total":
		return r.shared(t)
	case "two-sizes":
		return r.joined(t.e)
	case "ambiguous-list":
		return r.joined(t.e)
	case "count-mismatch":
		return r.uncounted(t)
	}
	return r.remediesBeside(t, put, first)
}

// remediesBeside returns the changes for what stands beside the sizes.
func (r *reader) remediesBeside(t *trouble, put func(...string) []change, first string) []change {
	at := t.it
	switch t.code {
	case "effort-range":
		n, _ := strconv.ParseFloat(first, 64)
		if n >= 20 && n <= 100 {
			return put(strconv.FormatFloat(n/10, 'f', -1, 64))
		}
		return put("10")
	case "effort-word":
		return put(strconv.Itoa(int(max(r.toks[at.from].n, 1))))
	case "missing-load-unit":
		return put(first+"kg", first+"lb")
	case "rest-missing":
		return put("rest 60s", "")
	case "rest-too-long":
		return put("rest 60s")
	case "bad-date", "future-day":
		out := []change{}
		if month, last, ok := r.monthOf(at); ok {
			out = put(fmt.Sprintf("%s %d", month.String()[:3], last))
		}
		return append(out, r.dropDay(at))
	case "vague-day":
		return put("last Monday")
	case "ambiguous-date":
		a, b := r.bothWays(at)
		return put(b, a)
	case "conflicting-dates":
		return []change{r.dropDay(t.other), r.dropDay(at)}
	case "conflicting-side":
		return r.sidesFor(t)
	case "more-done-than-tried":
		return r.turned(at)
	case "dangling":
		return put("")
	case "tries-in-seconds":
		return put("1/3")
	case "no-such-set":
		return put("last set")
	}
	return nil
}

// firstFigures returns the first number of an item as it was written.
func (r *reader) firstFigures(it item) string {
	for i := it.from; i < it.to; i++ {
		if _, next, ok := r.number(int(i)); ok {
			return strings.TrimSpace(r.text[r.toks[i].from:r.toks[next-1].to])
		}
	}
	return ""
}

// without leaves out a size with the words beside it, and the separator before
// them.
func (r *reader) without(size, words item) []change {
	from, to := min(size.from, words.from), max(size.to, words.to)
	if size.to == 0 {
		from, to = words.from, words.to
	}
	for from > 1 && r.has(int(from)-1, fTimes|fSet|fRound) && r.toks[from-2].kind == kNum {
		from -= 2
	}
	for from > 0 && (r.sepAt(int(from)-1) || r.has(int(from)-1, fAnd|fThen)) {
		from--
	}
	return []change{{from, to, ""}}
}

// sizeFor offers the standard of the rung's gate, or its move up, as a size.
func (r *reader) sizeFor(t *trouble) []change {
	if t.e == nil {
		return nil
	}
	if r.rungOf(t.e).unit == training.Tried {
		return []change{{t.e.nameFrom, t.e.nameTo, r.rungOf(t.e).name + " 1/3"}}
	}
	size := r.p.sizeOf(t.e.rung)
	from, to := t.e.nameFrom, t.e.nameTo
	if at := t.e.outerAt; t.e.outer > 0 && at.to <= from {
		size = strconv.Itoa(int(t.e.outer)) + "x" + size[strings.IndexByte(size, 'x')+1:]
		from = at.from
	}
	return []change{{from, to, size + " " + r.rungOf(t.e).name}}
}

// sizeOf writes the size that shows a rung's standard: 3x30s.
func (p *Parser) sizeOf(at int32) string {
	g := &p.names.rungs[at]
	sets, work := 3, 5
	for _, ladder := range p.programme.Ladders {
		for _, rung := range ladder.Rungs {
			if rung.ID == g.id && rung.MoveOn.Work > 0 {
				sets, work = max(rung.MoveOn.Sets, 1), rung.MoveOn.Work
			}
		}
	}
	for _, gate := range p.programme.Gates {
		if gate.Rung == g.id {
			sets, work = gate.Sets, gate.Work
		}
	}
	if g.unit == training.Timed {
		return fmt.Sprintf("%dx%ds", sets, work)
	}
	return fmt.Sprintf("%dx%d", sets, work)
}

// skillFor offers the gates' rungs that are measured in the unit of the sizes.
func (r *reader) skillFor(t *trouble, from, to int32, gap string) (out []change) {
	for _, gate := range r.p.programme.Gates {
		g := &r.p.names.rungs[r.p.names.sizes[gate.Rung]]
		if t.unit == "" || g.unit == t.unit {
			out = append(out, change{from, to, gap + g.name})
		}
	}
	return out
}

// smaller drops zeros from the end of a number.
func (r *reader) smaller(it item) (out []change) {
	i := it.from
	for i < it.to-1 && r.toks[i].kind != kNum {
		i++
	}
	text := r.text[r.toks[i].from:r.toks[i].to]
	for len(text) > 1 && len(out) < 3 {
		text = text[:len(text)-1]
		out = append(out, change{i, i + 1, text})
	}
	return out
}

// unitMeant returns the unit that a misspelt one is nearest to.
func (r *reader) unitMeant(it item) string {
	if i := it.to - 1; r.toks[i].kind == kWord {
		return nearUnit(r.word(int(i)))
	}
	return ""
}

// clocks offers what 1:75 may be: 75 s, or a minute and 75 s.
func (r *reader) clocks(it item) []change {
	a, b := r.toks[it.from].n, r.toks[it.from+2].n
	return []change{
		{it.from, it.to, strconv.Itoa(int(b)) + "s"},
		{it.from, it.to, fmt.Sprintf("%d:%02d", a+b/60, b%60)},
	}
}

// swapped turns 30x3s into 3x30s.
func (r *reader) swapped(it item) []change {
	i := r.sizeBehindCount(it)
	n, _, ok := r.number(int(it.from))
	q, ok2 := r.quantity(int(i))
	if !ok || !ok2 || i == it.from {
		return nil
	}
	unit := r.text[r.toks[q.to-1].from:r.toks[q.to-1].to]
	if q.unit == uNone {
		unit = ""
	}
	return []change{{it.from, it.to, fmt.Sprintf("%dx%d%s", q.milli/1000, n.int(), unit)}}
}

// wholes offers the whole numbers below and above a fraction.
func (r *reader) wholes(it item) (out []change) {
	for i := it.from; i < it.to; i++ {
		n, next, ok := r.number(int(i))
		if ok && !n.whole {
			out = append(out, change{i, int32(next), strconv.Itoa(n.int())}, change{i, int32(next), strconv.Itoa(n.int() + 1)})
			break
		}
	}
	return out
}

// joined makes sets times a size of two sizes that stand side by side.
func (r *reader) joined(e *entry) []change {
	if e == nil || e.to-e.from < 2 {
		return nil
	}
	a, b := &r.sizes[e.from], &r.sizes[e.from+1]
	unit := "s"
	if b.unit != uSec {
		unit = ""
	}
	n := a.milli / 1000
	if a.count > 0 {
		n = int64(a.count)
	}
	return []change{
		{a.from, b.to, fmt.Sprintf("%dx%d%s", n, b.milli/1000, unit)},
		{a.from, b.to, fmt.Sprintf("%d%s, %d%s", a.milli/1000, unit, b.milli/1000, unit)},
	}
}

// uncounted leaves out a count that does not fit its list; of 20/10 x 8 it makes
// sets with a rest.
func (r *reader) uncounted(t *trouble) []change {
	it, from := t.it, t.it.from
	if t.e != nil && t.e.outerAt.from >= it.to {
		work, rest := int32(0), int32(0)
		for i := it.from; i < it.to; i++ {
			if n := r.toks[i].n; r.toks[i].kind == kNum && work == 0 {
				work = n
			} else if r.toks[i].kind == kNum {
				rest = n
			}
		}
		return []change{{from, t.e.outerAt.to, fmt.Sprintf("%dx%ds rest %ds", t.count, work, rest)}, {from, t.e.outerAt.to, fmt.Sprintf("%ds, %ds", work, rest)}}
	}
	for from > 0 && (r.has(int(from)-1, fTimes|fSet|fOf) || r.toks[from-1].kind == kNum) {
		from--
	}
	return []change{{from, it.from, ""}}
}

// bracketed offers a rest or, of a small bare number, an effort, and one more set.
func (r *reader) bracketed(it item) []change {
	from, to := it.from-1, it.to+1
	q, ok := r.quantity(int(it.from))
	if !ok || !r.punct(int(it.to), ')') {
		return nil
	}
	first := fmt.Sprintf("rest %ds", q.milli/1000)
	if q.unit != uSec && q.milli <= 10_000 {
		first = fmt.Sprintf("@%d", q.milli/1000)
	}
	if q.unit == uNone && q.milli > 25_000 {
		return []change{{from, to, first}}
	}
	return []change{{from, to, first}, {from, to, ", " + r.written(int(it.from), int(it.to))}}
}

// shared offers a total in equal sets, where it divides.
func (r *reader) shared(t *trouble) []change {
	sets := int64(max(t.e.outerAt.n, 1))
	s := &r.sizes[t.e.from]
	each := s.milli / 1000 / sets
	if each < 1 || each*sets*1000 != s.milli {
		return nil
	}
	unit := map[unit]string{uSec: "s"}[s.unit]
	whole := fmt.Sprintf("%dx%d%s", sets, each, unit)
	if t.e.nameFrom >= s.to && t.e.nameFrom < t.e.outerAt.from {
		return []change{{s.from, s.to, whole}}
	}
	return []change{{s.from, t.e.outerAt.to, whole}}
}

// turned swaps the numbers of 3/1.
func (r *reader) turned(it item) []change {
	if it.k != iFrac && it.k != iOf {
		return nil
	}
	return []change{{it.from, it.to, fmt.Sprintf("%d/%d", it.m, it.n)}}
}

// sidesFor offers one side, the other, and each.
func (r *reader) sidesFor(t *trouble) []change {
	from := t.it.from
	for from > 0 && r.toks[from-1].kind != kLine && t.it.from-from < 6 {
		from--
		if r.has(int(from), fLeft|fRight) {
			break
		}
	}
	if !r.has(int(from), fLeft|fRight) {
		return nil
	}
	return []change{{from, t.it.to, "left"}, {from, t.it.to, "right"}, {from, t.it.to, "each side"}}
}

// dropDay leaves out a day with the small words before it.
func (r *reader) dropDay(it item) change {
	from, to := it.from, it.to
	for from > 0 && (r.joinsDays(int(from)-1) || r.is(int(from)-1, "on") || r.is(int(from)-1, "from") || r.is(int(from)-1, "for")) {
		from--
	}
	if from == it.from && r.joinsDays(int(to)) {
		to++
	}
	if from == 0 && r.punct(int(to), ':') {
		to++
	}
	return change{from, to, ""}
}

// monthOf returns the month of a date that the calendar lacks, and its length.
func (r *reader) monthOf(it item) (time.Month, int, bool) {
	for i := it.from; i < it.to; i++ {
		if t := &r.toks[i]; r.has(int(i), fMonth) {
			year, _, _ := r.ctx.Today.Civil()
			last := training.Date(year, time.Month(t.n)+1, 1) - 1
			_, _, day := last.Civil()
			return time.Month(t.n), day, true
		}
	}
	return 0, 0, false
}

// bothWays writes both readings of 11/12.
func (r *reader) bothWays(it item) (string, string) {
	a, b := int(r.toks[it.from].n), int(r.toks[it.from+2].n)
	write := func(day, month int) string { return fmt.Sprintf("%d %s", day, time.Month(month).String()[:3]) }
	return write(a, b), write(b, a)
}
