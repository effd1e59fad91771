package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// check looks for slips in how the sizes were written, before their units are
// settled. It reports false where there is a doubt.
func (r *reader) check(e *entry, bouts []bout) bool {
	if e.outer != nil && e.outer.fault != "" {
		r.doubt(e.outer.fault, e.outer.from, e.outer.to)
		return false
	}
	if len(bouts) == 0 {
		return r.unsized(e)
	}
	for i := range bouts {
		if code := r.slipOf(e, bouts, i); code != "" {
			place := r.placeOf(code, bouts, i)
			r.doubt(code, place.From, place.To).Rung = e.rung
			return false
		}
	}
	return r.unitClear(e, bouts) && r.closed(max(e.name.To, bouts[len(bouts)-1].To))
}

// placeOf returns where a slip stands that was found at a size.
func (r *reader) placeOf(code Code, bouts []bout, i int) Span {
	place := bouts[i].Span
	switch {
	case code == AmbiguousList:
		place = Span{bouts[0].From, bouts[1].To}
	case code == LeftOver && bouts[i].fault == "": // the number before is what is left over
		place = bouts[i-1].Span
	case bouts[i].fault == "" && (code == BadUnit || code == LetterForDigit):
		place.To++
	}
	return place
}

// closed doubts a plus at the end of the message, behind which something is missing.
func (r *reader) closed(end int) bool {
	if !r.t.Is(end, '+') || r.t.Kind(end+1) != text.End {
		return true
	}
	r.doubt(Dangling, end, end+1)
	return false
}

// glued tells what is wrong with letters that are glued to a size and are no unit:
// 30sce, 3os. A skill's name may stand so.
func (r *reader) glued(e *entry, b *bout) Code {
	word := r.t.Word(b.To)
	if b.ratio != nil || b.none || !r.t.Glued(b.To) || len(word) == 0 || r.t.Kind(b.To-1) != text.Number {
		return ""
	}
	if _, _, named := r.names.At(r.t, b.To); named || r.names.Starts(word) || e.name.From == b.To {
		return ""
	}
	if rest := words.Find(word[1:]); (word[0] == 'o' || word[0] == 'l') && rest != nil && rest.Classes.Any(sizeUnits) {
		return LetterForDigit
	}
	if r.words[b.To] == nil {
		return BadUnit
	}
	return ""
}

var sizeUnits = words.OfClasses(words.Second, words.Minute, words.Hour, words.Rep)

// slipOf returns what is wrong with a size among the others; "" for nothing.
func (r *reader) slipOf(e *entry, bouts []bout, i int) Code {
	b := &bouts[i]
	switch {
	case b.fault != "":
		return b.fault
	case b.ratio == nil && !b.none && !b.only && b.unit != seconds && !b.whole:
		return FractionalReps
	}
	if code := r.glued(e, b); code != "" || i == 0 {
		return code
	}
	was := &bouts[i-1]
	timed := r.names.Rungs[e.rung].Unit == training.Timed
	bare := b.ratio == nil && !b.none && b.of == nil && b.unit == unsaid && b.count == 0 && !b.failed
	switch {
	case bare && was.unit == seconds && was.count > 1 && b.milli <= bareReps*1000 && was.milli >= 2*b.milli: // 3x30s deep hang, 5
		return MissingUnit
	case i == 1 && b.count == 0 && b.of == nil && was.count > 1 && was.ratio == nil && (b.sign == '(' || b.sign == '['): // 3x30s deep hang (60s)
		return InBrackets
	case bare && b.sign == '(' && was.unit == seconds: // 30s (7), 30s (8)
		return InBrackets
	case was.count > 0 && was.unit == unsaid && b.unit != unsaid && was.To == b.From && b.of == nil:
		return TwoSizes
	case timed && was.unit == unsaid && was.count == 0 && b.unit == seconds && b.count > 1 && was.ratio == nil && !was.none: // arms at 90, 3x20s
		return LeftOver
	case b.From >= e.name.To && was.To <= e.name.From && was.count > 1 && b.count == 0 && b.sign == 0 && b.of == nil && !b.none && b.ratio == nil && len(bouts) == 2: // 3x20s deep hang max 22
		return TwoSizes
	case was.unit == unsaid && was.count == 0 && was.whole && b.unit == seconds && b.count == 0 && was.milli <= 10_000 && b.of == nil &&
		timed && len(bouts) == 2 && b.milli >= 2*was.milli: // deep hang | 3 | 30s
		return AmbiguousList
	case len(bouts) == 2 && b.sign == '/' && was.unit == unsaid && b.unit == seconds && was.milli <= 10_000 && b.milli >= 3*was.milli:
		return AmbiguousList
	}
	return ""
}

// unsized meets a skill without sizes: a count of attempts, or of reps behind the
// name, is one; a muscle-up told of is one attempt.
func (r *reader) unsized(e *entry) bool {
	rung := &r.names.Rungs[e.rung]
	if rung.Unit == training.Tried {
		return true
	}
	from, to := e.name.From, e.name.To
	if e.outer != nil && !e.outer.size.loud && !e.circuit {
		from, to = e.outer.from, e.outer.to
	}
	if e.said.load != nil {
		from, to = e.said.load.to-1, e.said.load.to
		r.doubt(UnitMismatch, from, to).Rung = e.rung
		return false
	}
	if r.orName(e) || r.totalled(e) {
		return false
	}
	r.doubt(MissingSize, from, to).Rung = e.rung
	return false
}

// orName doubts which of two skills was meant that an or stands between: deep hang
// or mid hang.
func (r *reader) orName(e *entry) bool {
	if !r.is(e.name.From-1, words.Or) {
		return false
	}
	for i, other := range r.entries {
		if i+1 < len(r.entries) && r.entries[i+1] == e && !other.other && other.name.To == e.name.From-1 {
			r.doubt(AmbiguousSkill, other.name.From, e.name.To).Names = []string{r.names.Rungs[other.rung].Name, r.names.Rungs[e.rung].Name}
			return true
		}
	}
	return false
}

// totalled doubts a total that was told in the place of each set's size: 25 total in
// 5 sets.
func (r *reader) totalled(e *entry) bool {
	for i := e.name.To; i < e.name.To+4 && e.outer != nil; i++ {
		if r.t.Kind(i) == text.Number && r.is(i+1, words.Total) {
			r.doubt(TotalSize, i, max(e.outer.to, i+1)).Rung = e.rung
			return true
		}
	}
	return false
}

// unitClear finds a bare number that may be seconds as well as reps.
func (r *reader) unitClear(e *entry, bouts []bout) bool {
	rung := &r.names.Rungs[e.rung]
	if rung.Unit == training.Timed && r.mixed(bouts) {
		return false
	}
	if !rung.Goes {
		return true
	}
	var bare *bout
	for i := range bouts {
		b := &bouts[i]
		if b.ratio != nil || b.none || b.only {
			continue
		}
		if b.unit != unsaid {
			return true
		}
		if b.milli > bareReps*1000 && bare == nil {
			bare = b
		}
	}
	if bare == nil {
		return true
	}
	from := bare.From
	for from < bare.To-1 && r.t.Tokens[from].N*1000 != int32(bare.milli) {
		from++
	}
	r.doubt(MissingUnit, from, bare.To).Rung = e.rung
	return false
}

// Alike counts the sets at the front that are equal and that one size may stand for:
// writing them so reads back as the same sets.
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

// mixed doubts bare sizes of a timed rung some of which would be reps and others
// seconds: +1 support 30.
func (r *reader) mixed(bouts []bout) bool {
	var least, most *bout
	for i := range bouts {
		b := &bouts[i]
		switch {
		case b.ratio != nil || b.none || b.only || b.of != nil:
			continue
		case b.unit != unsaid:
			return false
		}
		if least == nil || b.milli < least.milli {
			least = b
		}
		if most == nil || b.milli > most.milli {
			most = b
		}
	}
	if least == nil || least.milli > 3000 || most.milli <= bareReps*1000 {
		return false
	}
	r.doubt(MissingUnit, least.From, least.To)
	return true
}

// From so many sets on, a size of one figure is taken for a slip: 30x3s.
const (
	oddSeconds = 15
	oddReps    = 25
)

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
	work := value * count * int64(max(b.reps, 1))
	timed := r.names.Rungs[e.rung].Unit == training.Timed
	switch {
	case value == 0 && !(b.failed && b.milli == 0):
		return ZeroSize
	case b.unit == seconds && b.reps == 0 && b.count >= oddSeconds && value < 10, b.unit == reps && b.count >= oddReps && value < 10:
		return SuspiciousOrder
	case count > maxCount:
		return CountTooLarge
	case b.unit == reps && value > maxReps, b.reps > maxReps:
		return SizeTooLarge
	case b.unit == seconds && work > maxWorkS, b.unit == seconds && !timed && b.reps == 0 && value > 300:
		return SizeTooLarge
	}
	return ""
}

// tries reads attempts: how many, and how many came off. They are one set.
func (r *reader) tries(e *entry, bouts []bout) ([]training.Set, bool) {
	set := training.Set{}
	goes, isFailed := 0, false
	if len(bouts) == 0 && !r.particulars(&set, &e.said) {
		return nil, false
	}
	for i := range bouts {
		b := &bouts[i]
		switch {
		case b.ratio != nil:
			set.Done = training.Known(set.Done.Value + b.ratio.n)
			goes += b.ratio.m
		case b.unit == seconds:
			r.doubt(TriesInSeconds, b.From, b.To)
			return nil, false
		case b.of != nil:
		case b.none && b.count == 0 && i > 0 && !bouts[i-1].none: // 3 tries, failed
		case b.none:
			goes += max(b.count, 1)
		default:
			goes += int(b.milli/1000) * max(b.count, 1)
		}
		isFailed = isFailed || b.failed
		if !r.particulars(&set, &b.said) {
			return nil, false
		}
	}
	place := e.name
	if len(bouts) > 0 {
		place = bouts[0].Span
	}
	goes = r.goes(e, len(bouts), goes)
	switch {
	case goes == 0:
		r.doubt(ZeroSize, place.From, place.To)
		return nil, false
	case goes > maxCount:
		r.doubt(TooManyTries, place.From, place.To)
		return nil, false
	}
	set.Tries = goes
	r.done(e, &set, isFailed)
	if set.Done.Value > set.Tries {
		r.doubt(MoreDoneThanTry, place.From, place.To)
		return nil, false
	}
	at, help := r.names.Helped(e.rung, set.Help)
	set.Rung, set.Help = r.names.Rungs[at].ID, help
	return []training.Set{set}, true
}

// goes is how many attempts there were, with the count that stood apart.
func (r *reader) goes(e *entry, told, goes int) int {
	switch {
	case told == 0 && e.outer != nil:
		return e.outer.size.count
	case told == 0:
		return 1
	case e.outer != nil:
		return goes * max(e.outer.size.count, 1)
	}
	return goes
}

// done settles how many attempts came off: as many as were said, none where they
// failed, else every one.
func (r *reader) done(e *entry, set *training.Set, isFailed bool) {
	switch {
	case e.made != nil && e.made.n >= 0:
		set.Done = training.Known(e.made.n)
	case e.made != nil:
		set.Done = training.Known(set.Tries)
	case isFailed && !set.Done.Known:
		set.Done = training.Known(0)
	case !set.Done.Known && !e.tried:
		set.Done = training.Known(set.Tries)
		r.guess("tries", "every one came off")
	}
}
