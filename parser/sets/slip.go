package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// slipOf returns what is wrong with the size at index i of an entry's sizes, by
// itself or behind the one before it; "" for nothing.
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
	timed := r.names.Rungs[e.rung].Unit == training.Timed
	p := pair{name: e.name, was: &bouts[i-1], now: b, timed: timed, or: r.is(b.From-1, words.Or), second: i == 1, whole: len(bouts) == 2}
	for _, slip := range slips {
		if slip.made(&p) {
			return slip.code
		}
	}
	return ""
}

// pair is a size and the one before it in the same entry.
type pair struct {
	name     Span // where the name of their skill stands
	was, now *bout
	timed    bool // their skill is timed
	or       bool // the word "or" stands before now
	second   bool // now is the entry's second size
	whole    bool // the entry has no other sizes
}

// slips are the ways in which two sizes in a row show that one of them was
// written wrongly. The first one that applies counts.
var slips = [...]struct {
	code Code
	made func(*pair) bool
}{
	{MissingUnit, (*pair).numberBehindTimes},
	{InBrackets, (*pair).timeInBrackets},
	{InBrackets, (*pair).numberInBrackets},
	{TwoSizes, (*pair).unitBehindCount},
	{TwoSizes, (*pair).timesBehindReps},
	{LeftOver, (*pair).numberBeforeTimes},
	{TwoSizes, (*pair).numberBehindName},
	{TwoSizes, (*pair).countBehindName},
	{Range, (*pair).either},
	{AmbiguousList, (*pair).countOrSize},
	{AmbiguousList, (*pair).countSlashTime},
}

// isNumber reports whether now is a bare number that stands for a set of its
// own.
func (p *pair) isNumber() bool { return p.now.isNumber() && p.now.of == nil }

// numberBehindTimes finds a small bare number behind several sets of at
// least twice the time: 3x30s deep hang, 5.
func (p *pair) numberBehindTimes() bool {
	return p.isNumber() && p.now.milli <= bareReps*1000 && p.was.unit == seconds && p.was.count > 1 && p.was.milli >= 2*p.now.milli
}

// timeInBrackets finds a second size without a count, in brackets behind
// several sets: 3x30s deep hang (60s).
func (p *pair) timeInBrackets() bool {
	opens := p.now.sign == '(' || p.now.sign == '['
	return opens && p.second && p.now.count == 0 && p.now.of == nil && p.was.count > 1 && p.was.ratio == nil
}

// numberInBrackets finds a bare number in brackets behind a time or behind one
// counted set: 30s (7), 30s (8); 1x10 easy (3), 3x8.
func (p *pair) numberInBrackets() bool {
	return p.isNumber() && p.now.sign == '(' && (p.was.unit == seconds || p.was.count == 1)
}

// timesBehindReps finds several sets of a time behind several sets of reps, as
// when a second skill's name was not read: 3x5 dips 3x20s.
func (p *pair) timesBehindReps() bool {
	reps := !p.timed && p.was.unit == unsaid && p.was.count > 1
	return reps && p.now.unit == seconds && p.now.count > 1 && p.now.reps == 0
}

// unitBehindCount finds a size with a unit right behind a counted one without:
// 3x5 30s deep hang.
func (p *pair) unitBehindCount() bool {
	counts := p.was.count > 0 && p.was.unit == unsaid && p.was.To == p.now.From
	return counts && p.now.unit != unsaid && p.now.of == nil
}

// numberBeforeTimes finds a bare number before several sets of a time: arms at
// 90, 3x20s.
func (p *pair) numberBeforeTimes() bool {
	times := p.timed && p.now.unit == seconds && p.now.count > 1
	return times && p.was.bare() && p.was.ratio == nil && !p.was.none
}

// numberBehindName finds a single size behind the name of a skill whose counted
// sets stand before the name: 3x20s deep hang max 22.
func (p *pair) numberBehindName() bool {
	between := p.was.To <= p.name.From && p.name.To <= p.now.From
	return p.whole && between && p.was.count > 1 && p.now.single() && p.now.sign == 0
}

// countBehindName finds counted sets behind the name of a skill whose sizes
// stand before the name one by one: 20/18/15s support 3x20s.
func (p *pair) countBehindName() bool {
	between := p.was.To <= p.name.From && p.name.To <= p.now.From
	return between && p.was.single() && p.now.count > 1 && p.now.unit != unsaid && p.now.sign == 0 && p.now.of == nil
}

// either finds two sizes with an or between: 4 or 5; 3x8 or 4x8.
func (p *pair) either() bool { return p.or && p.was.of == nil && p.now.of == nil }

// countOrSize finds a small bare number before a time, which may be a count or
// a size: deep hang | 3 | 30s.
func (p *pair) countOrSize() bool {
	return p.timed && p.fewThenTime(2) && p.was.bare() && p.was.whole && p.now.count == 0 && p.now.of == nil
}

// countSlashTime finds a small number and a time with a slash between: 3/30s.
func (p *pair) countSlashTime() bool { return p.now.sign == '/' && p.fewThenTime(3) }

// fewThenTime reports whether the entry's two sizes are a number up to ten
// without a unit, and a time of at least so many times that number.
func (p *pair) fewThenTime(times int64) bool {
	few := p.was.unit == unsaid && p.was.milli <= 10_000
	return p.whole && few && p.now.unit == seconds && p.now.milli >= times*p.was.milli
}

// glued returns what is wrong with letters that are glued to the end of a size
// and are no unit: 30sce, 3os; "" for nothing. A skill's name may stand so.
func (r *reader) glued(e *entry, b *bout) Code {
	word := r.t.Word(b.To)
	if b.ratio != nil || b.none || !r.t.Glued(b.To) || len(word) == 0 || r.t.Kind(b.To-1) != text.Number {
		return ""
	}
	if _, _, named := r.names.At(r.t, b.To); named || r.names.Starts(word) || e.name.From == b.To {
		return ""
	}
	likeDigit := word[0] == 'o' || word[0] == 'l'
	if rest := words.Find(word[1:]); likeDigit && rest != nil && rest.Classes.Any(sizeUnits) {
		return LetterForDigit
	}
	if r.words[b.To] == nil {
		return BadUnit
	}
	return ""
}

// sizeUnits are the units that a size may have.
var sizeUnits = words.OfClasses(words.Second, words.Minute, words.Hour, words.Rep)

// unitClear reports whether the unit of an entry's sizes is clear. If a bare
// number may be seconds as well as reps, it doubts that number and reports
// false.
func (r *reader) unitClear(e *entry, bouts []bout) bool {
	rung := &r.names.Rungs[e.rung]
	if rung.Unit == training.Timed && r.mixed(bouts) {
		return false
	}
	if rung.Unit != training.Timed {
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
		unclear := b.milli <= fewSeconds*1000 && b.count < oddSeconds
		if rung.Goes {
			unclear = b.milli > bareReps*1000
		}
		if unclear && bare == nil {
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

// mixed reports whether an entry's sizes are bare numbers, the least of which
// would be reps and the largest seconds: +1 support 30. It doubts the least
// then.
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
