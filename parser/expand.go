package parser

import "rungbook/training"

// bareReps is the largest bare number that is taken for reps on a timed rung.
const bareReps = 12

// expand turns an entry into sets, or into the first problem with it.
func (r *reader) expand(e *entry, out []training.Set) ([]training.Set, *trouble) {
	sizes := r.listed(e)
	if t := r.check(e, sizes); t != nil {
		return out, t
	}
	r.units(e, sizes)
	spread(sizes)
	from := len(out)
	if e.near && !r.deep {
		r.guess("name", r.rungOf(e).name)
	}
	if r.rungOf(e).unit == training.Tried {
		set, t := r.tries(e, sizes)
		if t != nil {
			return out, t
		}
		return append(out, set), nil
	}
	if t := r.inRange(e, sizes); t != nil {
		return out, t
	}
	outer := max(e.outer, 1)
	if e.outer > 0 && !e.circuit && e.counted && len(sizes) == 1 && sizes[0].count == e.outer {
		outer = 1
	}
	if e.outer == int32(len(sizes)) && !e.outerAt.round && !e.circuit && !e.counted && e.outerAt.to <= e.nameFrom && e.outer > 1 { // 2 sets deep hang: 30s and 25s
		outer = 1
	}
	list := item{}
	for range outer {
		for i := range sizes {
			s := &sizes[i]
			if s.has&saidEffort != 0 && s.effort.reps > 0 {
				list = s.effort
			}
			if s.correct.k == iWhich {
				continue
			}
			set, t := r.set(e, s)
			if t != nil {
				return out, t
			}
			for range max(s.count, 1) {
				out = append(out, set)
			}
		}
	}
	if t := r.corrections(e, sizes, out[from:]); t != nil {
		return out, t
	}
	if len(out) > maxSets && len(sizes) > 0 {
		return out, r.trouble("too-many-sets", sizes[0].item)
	}
	return out, effortList(out[from:], list)
}

// listed returns the entry's sizes with ratios opened into what they mean, and
// a list that follows its own count ("3x30/28/25s") without the count.
func (r *reader) listed(e *entry) []size {
	in := r.sizes[e.from:e.to]
	ratio := false
	for i := range in {
		ratio = ratio || in[i].k != iSize && in[i].k != iFail && in[i].k != iWhich
	}
	if ratio && r.rungOf(e).unit != training.Tried {
		in = r.openRatios(in)
	}
	inTurn(in)
	if r.toldAgain(in) {
		in[1].take(&in[0])
		if in[1].unit == uNone {
			in[1].unit = in[0].unit
		}
		return in[1:]
	}
	for i := range in {
		n := 1
		for i+n < len(in) && in[i+n].slash {
			n++
		}
		if i == 0 && len(in) == int(in[0].count) && r.listOpens(&in[0].item) { // 3 sets (7,6,5)
			n = len(in)
		}
		if in[i].count > 1 && n == int(in[i].count) && in[i].k == iSize {
			in[i].count, in[i].loud = 0, false
		}
	}
	return in
}

// toldAgain reports whether the sets of a count are told one by one behind it, in
// brackets or behind a colon: 3x30s deep hang (30, 28, 25).
func (r *reader) toldAgain(in []size) bool {
	if len(in) < 3 || in[0].k != iSize || int(in[0].count) != len(in)-1 {
		return false
	}
	for i := range in[1:] {
		if s := &in[i+1]; s.count > 0 || s.correct.k == iWhich {
			return false
		}
	}
	at := int(in[1].from) - 1
	return r.punct(at, '(') || r.punct(at, '[') || r.punct(at, ':') || r.punct(at, '=')
}

// listOpens reports whether a bracket or a colon stands between a count and its
// size: then the count may be of a list.
func (r *reader) listOpens(it *item) bool {
	for j := int(it.from); j < int(it.to); j++ {
		if r.punct(j, '(') || r.punct(j, ':') && !r.toks[j].glued || r.punct(j, ':') && !r.toks[j+1].glued {
			return true
		}
	}
	return false
}

// inTurn takes "set 1 30s, set 2 28s" for a list, not for corrections: each names
// the set that comes next, or the first of an entry.
func inTurn(in []size) {
	sets := int32(0)
	for i := range in {
		s := &in[i]
		if s.correct.k == iWhich && s.correct.n == 99 && s.correct.m == 1 && s.k == iSize && !s.failed && i > 1 && int(sets) == i { // 20s, 20s, 14s on the last one
			s.correct = item{}
		}
		if s.correct.k == iWhich && s.k == iSize && s.count == 0 && (i == 0 || s.correct.n == sets+1) {
			s.correct = item{}
		}
		if s.correct.k != iWhich {
			sets += max(s.count, 1)
		}
	}
}

// openRatios turns 8/10 into an effort behind other sizes, else into a list of
// two.
func (r *reader) openRatios(in []size) []size {
	out := make([]size, 0, len(in)+4)
	for _, s := range in {
		switch {
		case s.k == iSize || s.k == iFail || s.k == iWhich:
			out = append(out, s)
		case s.m == 10 && len(out) > 0 && s.k == iFrac || s.k == iOf && s.m == 10:
			if len(out) > 0 {
				out[len(out)-1].say(&item{k: iEffort, n: s.n * 10, from: s.from, to: s.to})
			}
		case s.k == iFrac:
			a, b := s, s
			a.item = item{k: iSize, milli: int64(s.n) * 1000, whole: true, from: s.from, to: s.from + 1}
			b.item = item{k: iSize, milli: int64(s.m) * 1000, whole: true, from: s.to - 1, to: s.to}
			b.slash = true
			out = append(out, a, b)
		}
	}
	return out
}

// units gives bare sizes their unit: that of the list's other sizes, else the
// rung's; a small bare number on a timed rung is reps.
func (r *reader) units(e *entry, sizes []size) {
	rung := r.rungOf(e)
	known, most := uNone, int64(0)
	for i := range sizes {
		s := &sizes[i]
		if s.unit != uNone && known == uNone {
			known = s.unit
		}
		if s.unit == uNone {
			most = max(most, s.milli)
		}
	}
	took := ""
	for i := range sizes {
		s := &sizes[i]
		if s.unit != uNone || s.k == iFail || s.k == iWhich {
			continue
		}
		switch {
		case known != uNone:
			s.unit = known
		case rung.unit != training.Timed:
			s.unit = uRep
		case most <= bareReps*1000:
			s.unit, took = uRep, "reps"
		default:
			s.unit, took = uSec, "seconds"
		}
	}
	if took != "" && !r.deep {
		r.guess("unit", took)
	}
}

// spread gives what was said once to the whole list.
func spread(sizes []size) {
	any := said(0)
	for i := range sizes {
		any |= sizes[i].has
	}
	for _, particular := range [...]said{saidEffort, saidLoad, saidRest, saidHelp} {
		if any&particular == 0 {
			continue
		}
		n, at := 0, 0
		for i := range sizes {
			if sizes[i].has&particular != 0 {
				n, at = n+1, i
			}
		}
		if n != 1 || sizes[at].correct.k == iWhich || particular&(saidLoad|saidHelp) != 0 && ownGroup(sizes, at) {
			continue
		}
		from := size{effort: sizes[at].effort, load: sizes[at].load, rest: sizes[at].rest, help: sizes[at].help, has: particular}
		for i := range sizes {
			sizes[i].take(&from)
		}
	}
	if n := len(sizes); n > 1 && sizes[n-1].side == 3 {
		for i := range sizes {
			if sizes[i].side == 0 {
				sizes[i].side = 3
			}
		}
	}
}

// ownGroup reports whether the last size is a group by itself, counted as the one
// before it is, or told behind a then or a plus of its own: 2x5, 1x5 +2.5kg; 5/5/3+2.
func ownGroup(sizes []size, at int) bool {
	if at == 0 || at < len(sizes)-1 {
		return false
	}
	joined := sizes[at-1].plain || sizes[at].plus && at > 1 && !sizes[at-1].plus
	return sizes[at].then || joined || sizes[at].count > 0 && sizes[at-1].count > 0
}

// set makes one set of a size.
func (r *reader) set(e *entry, s *size) (training.Set, *trouble) {
	set := training.Set{Failed: s.failed}
	switch {
	case s.reps > 0:
		set.Reps, set.WorkS = int(s.reps), r.rungOf(e).seconds(s.milli)
	case s.unit == uSec:
		set.WorkS = r.rungOf(e).seconds(s.milli)
	case s.unit == uRep:
		set.Reps = int(s.milli / 1000)
	}
	if s.side > 0 {
		set.Side = sides[s.side-1]
	}
	if t := r.particulars(&set, s); t != nil {
		return set, t
	}
	set.Rung, set.Help = r.p.names.helped(e.rung, set.Help)
	return set, nil
}

// particulars puts load, help, rest and effort to a set.
func (r *reader) particulars(set *training.Set, s *size) *trouble {
	if s.has&saidHelp != 0 {
		set.Help = aids[s.help]
	}
	if s.has&saidLoad != 0 {
		if s.load.code != 0 {
			return r.trouble(s.load.code.String(), s.load)
		}
		if s.load.n > maxLoad || s.load.n < -maxLoad {
			return r.trouble("load-too-large", s.load)
		}
		set.LoadHg = int(s.load.n)
		if s.load.m == 1 && set.Help == "" {
			set.Help = "band"
		}
	}
	if s.has&saidRest != 0 {
		if s.rest.n < 0 {
			return r.trouble("rest-missing", s.rest)
		}
		if s.rest.n > maxWorkS {
			return r.trouble("rest-too-long", s.rest)
		}
		set.RestS = training.Known(int(s.rest.n))
	}
	if s.has&saidEffort != 0 && s.effort.reps == 0 {
		if t := r.effortFault(&s.effort); t != nil {
			return t
		}
		set.Effort = training.Known(int(s.effort.n+5) / 10)
		if s.effort.m == 1 && !r.deep {
			r.guess("effort", "effort from the reps in reserve")
		}
	}
	return nil
}

func (r *reader) effortFault(it *item) *trouble {
	switch {
	case it.code != 0:
		return r.trouble(it.code.String(), *it)
	case it.n < 0 || it.n > 100:
		return r.trouble("effort-range", *it)
	}
	return nil
}

// effortList gives a list of efforts to the sets in turn.
func effortList(sets []training.Set, list item) *trouble {
	if list.reps == 0 {
		return nil
	}
	packed := list.milli
	for i := range sets {
		if i < int(list.reps) {
			sets[i].Effort = training.Known(int(packed >> (8 * i) & 255))
		}
	}
	return nil
}

// corrections changes the sets that "last set 24s" is about.
func (r *reader) corrections(e *entry, sizes []size, sets []training.Set) *trouble {
	for i := range sizes {
		s := &sizes[i]
		if s.correct.k != iWhich {
			continue
		}
		from, to := len(sets)-int(s.correct.m), len(sets)
		if s.correct.n != 99 {
			from, to = int(s.correct.n)-1, int(s.correct.n)
		}
		if from < 0 || to > len(sets) {
			return r.trouble("no-such-set", s.correct)
		}
		for j := from; j < to; j++ {
			if t := r.correct(&sets[j], s); t != nil {
				return t
			}
		}
	}
	return nil
}

// correct puts to a set what was said of it alone.
func (r *reader) correct(set *training.Set, s *size) *trouble {
	set.Failed = set.Failed || s.failed
	rung := r.p.names.sizes[set.Rung]
	if t := r.particulars(set, s); t != nil {
		return t
	}
	set.Rung, set.Help = r.p.names.helped(int32(rung), set.Help)
	switch {
	case s.k == iFail, s.k == iWhich:
	case set.WorkS > 0 && set.Reps > 0 && s.unit == uRep:
		set.Reps = int(s.milli / 1000)
	case set.WorkS > 0:
		set.WorkS = r.p.names.rungs[rung].seconds(s.milli)
	default:
		set.Reps = int(s.milli / 1000)
	}
	return nil
}

func (r *reader) guess(kind, took string) {
	g := Guess{kind, took}
	for _, have := range r.guesses {
		if have == g {
			return
		}
	}
	r.guesses = append(r.guesses, g)
}

// helped returns the rung that doing this one with help is, and the help that
// is left to say.
func (l *lexicon) helped(at int32, help string) (training.RungID, string) {
	r := &l.rungs[at]
	if help == "" || help == r.with || help == "assist" && r.with != "" {
		return r.id, ""
	}
	for _, h := range r.helps {
		if h.help == help {
			return l.rungs[h.rung].id, ""
		}
	}
	return r.id, help
}
