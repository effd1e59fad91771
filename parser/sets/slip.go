package sets

import (
	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

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
	timed := r.names.Rungs[e.rung].Unit == training.Timed
	p := pair{name: e.name, was: &bouts[i-1], now: b, timed: timed, or: r.is(b.From-1, words.Or), second: i == 1, whole: len(bouts) == 2}
	for _, slip := range slips {
		if slip.made(&p) {
			return slip.code
		}
	}
	return ""
}

// pair is a size with the one before it.
type pair struct {
	name     Span // of their skill
	was, now *bout
	timed    bool // the skill's unit is time
	or       bool // an or stands between the two
	second   bool // now is the entry's second size
	whole    bool // the two are all sizes of the entry
}

// slips are the ways in which two sizes in a row show that one of them was
// miswritten. The first that fits counts.
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

// isNumber reports whether the second of the pair is a bare number of a set of
// its own.
func (p *pair) isNumber() bool { return p.now.isNumber() && p.now.of == nil }

// numberBehindTimes: 3x30s deep hang, 5.
func (p *pair) numberBehindTimes() bool {
	return p.isNumber() && p.now.milli <= bareReps*1000 && p.was.unit == seconds && p.was.count > 1 && p.was.milli >= 2*p.now.milli
}

// timeInBrackets: 3x30s deep hang (60s).
func (p *pair) timeInBrackets() bool {
	opens := p.now.sign == '(' || p.now.sign == '['
	return opens && p.second && p.now.count == 0 && p.now.of == nil && p.was.count > 1 && p.was.ratio == nil
}

// numberInBrackets: 30s (7), 30s (8); 1x10 easy (3), 3x8.
func (p *pair) numberInBrackets() bool {
	return p.isNumber() && p.now.sign == '(' && (p.was.unit == seconds || p.was.count == 1)
}

// timesBehindReps: 3x5 dips 3x20s of what has a name that was not read.
func (p *pair) timesBehindReps() bool {
	reps := !p.timed && p.was.unit == unsaid && p.was.count > 1
	return reps && p.now.unit == seconds && p.now.count > 1 && p.now.reps == 0
}

// unitBehindCount: 3x5 30s deep hang.
func (p *pair) unitBehindCount() bool {
	counts := p.was.count > 0 && p.was.unit == unsaid && p.was.To == p.now.From
	return counts && p.now.unit != unsaid && p.now.of == nil
}

// numberBeforeTimes: arms at 90, 3x20s.
func (p *pair) numberBeforeTimes() bool {
	times := p.timed && p.now.unit == seconds && p.now.count > 1
	return times && p.was.bare() && p.was.ratio == nil && !p.was.none
}

// numberBehindName: 3x20s deep hang max 22.
func (p *pair) numberBehindName() bool {
	between := p.was.To <= p.name.From && p.name.To <= p.now.From
	return p.whole && between && p.was.count > 1 && p.now.single() && p.now.sign == 0
}

// countBehindName: 20/18/15s support 3x20s.
func (p *pair) countBehindName() bool {
	between := p.was.To <= p.name.From && p.name.To <= p.now.From
	return between && p.was.single() && p.now.count > 1 && p.now.unit != unsaid && p.now.sign == 0 && p.now.of == nil
}

// either: 4 or 5; 3x8 or 4x8.
func (p *pair) either() bool { return p.or && p.was.of == nil && p.now.of == nil }

// countOrSize: deep hang | 3 | 30s.
func (p *pair) countOrSize() bool {
	return p.timed && p.fewThenTime(2) && p.was.bare() && p.was.whole && p.now.count == 0 && p.now.of == nil
}

// countSlashTime: 3/30s.
func (p *pair) countSlashTime() bool { return p.now.sign == '/' && p.fewThenTime(3) }

// fewThenTime reports whether a small number with no unit stands before a time
// that is so many times as large, and nothing else.
func (p *pair) fewThenTime(times int64) bool {
	few := p.was.unit == unsaid && p.was.milli <= 10_000
	return p.whole && few && p.now.unit == seconds && p.now.milli >= times*p.was.milli
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
	likeDigit := word[0] == 'o' || word[0] == 'l'
	if rest := words.Find(word[1:]); likeDigit && rest != nil && rest.Classes.Any(sizeUnits) {
		return LetterForDigit
	}
	if r.words[b.To] == nil {
		return BadUnit
	}
	return ""
}

var sizeUnits = words.OfClasses(words.Second, words.Minute, words.Hour, words.Rep)

// unitClear finds a bare number that may be seconds as well as reps.
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
