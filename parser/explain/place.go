package explain

import (
	"rungbook/parser/sets"
	"rungbook/parser/text"
	"rungbook/parser/words"
)

// places holds, by code, how a doubt's span is narrowed to the figures or words
// at fault. For other codes the whole span is the place.
var places = map[sets.Code]func(*doubt) sets.Span{
	sets.ZeroSize:         (*doubt).sizeAlone,
	sets.SizeTooLarge:     (*doubt).sizeAlone,
	sets.BadUnit:          (*doubt).sizeAlone,
	sets.LetterForDigit:   (*doubt).sizeAlone,
	sets.BadClock:         (*doubt).sizeAlone,
	sets.CountMismatch:    (*doubt).listAlone,
	sets.UnitMismatch:     (*doubt).lastToken,
	sets.EffortWord:       (*doubt).lastToken,
	sets.EffortRange:      (*doubt).numberAlone,
	sets.MissingLoadUnit:  (*doubt).numberAlone,
	sets.LoadTooLarge:     (*doubt).numberAlone,
	sets.TotalSize:        (*doubt).numberAlone,
	sets.Range:            (*doubt).rangeAlone,
	sets.TwoDates:         (*doubt).dayAlone,
	sets.BadDate:          (*doubt).dayAlone,
	sets.WrongWeekday:     (*doubt).dayAlone,
	sets.FutureDay:        (*doubt).dayAlone,
	sets.ConflictingDates: (*doubt).dayAlone,
	sets.WhichDay:         (*doubt).dayAlone,
	sets.TwoSizes:         (*doubt).name,
	sets.AmbiguousList:    (*doubt).name,
	sets.MissingSkill:     (*doubt).sizesInARow,
	sets.UnknownSkill:     (*doubt).wholeName,
	sets.AmbiguousSkill:   (*doubt).wholeName,
	sets.NoSuchSet:        (*doubt).setAlone,
	sets.Changed:          (*doubt).changing,
}

var (
	counts      = words.OfClasses(words.Times, words.Set, words.Round)
	sizeUnits   = words.OfClasses(words.Second, words.Minute, words.Hour, words.Rep)
	behindCount = words.OfClasses(words.Of, words.At, words.For, words.Times)
	beforeDay   = words.OfClasses(words.On, words.From, words.For, words.Of)
)

// sizeAlone leaves out the count before a size: of 3x0s the 0s; of 0x30s it is the
// count that is at fault.
func (d *doubt) sizeAlone() sets.Span {
	if n, ok := d.number(d.From); ok && n == 0 && d.Code == sets.ZeroSize {
		if d.any(d.From+1, counts) {
			return sets.Span{From: d.From, To: d.From + 1}
		}
		return d.Span
	}
	return sets.Span{From: d.pastCount(), To: d.To}
}

// pastCount returns the token at which a size's own number begins, behind its
// count.
func (d *doubt) pastCount() int {
	if _, ok := d.number(d.From); !ok {
		return d.From
	}
	i := d.From + 1
	if d.sign(i) == '-' {
		i++
	}
	switch {
	case d.any(i, counts):
		i++
	case d.Kind(i) != text.Number || d.Glued(i): // 3 30s has its count without a word
		return d.From
	}
	for i < d.To && (d.any(i, behindCount) || d.Kind(i) == text.Sign) {
		i++
	}
	if i >= d.To {
		return d.From
	}
	return i
}

// listAlone leaves out the count and the unit of a list: of 3x30/28s the 30/28.
func (d *doubt) listAlone() sets.Span {
	at := sets.Span{From: d.pastCount(), To: d.To}
	for i := at.From + 1; i < at.To; i++ {
		if d.any(i, counts) {
			at.To = i
		}
	}
	for at.To > at.From+1 && d.any(at.To-1, sizeUnits) {
		at.To--
	}
	return at
}

func (d *doubt) lastToken() sets.Span { return sets.Span{From: d.To - 1, To: d.To} }

// numberAlone returns the first number of the span; all of the number, if the
// span is only its decimals.
func (d *doubt) numberAlone() sets.Span {
	at, ok := d.figures(d.From, d.To)
	if !ok {
		return d.Span
	}
	if d.GluedSign(at.From-1, '.') && d.Kind(at.From-2) == text.Number {
		at.From -= 2
	}
	return at
}

// rangeAlone returns the two ends of a range and their unit.
func (d *doubt) rangeAlone() sets.Span {
	at, joint := d.rangeEnds()
	if joint < 0 {
		return d.Span
	}
	return at
}

// rangeEnds returns a range and the token that joins its ends; -1 where there is
// none.
func (d *doubt) rangeEnds() (at sets.Span, joint int) {
	for i := d.From + 1; i+1 < d.To; i++ {
		if d.sign(i) != '-' && !d.is(i, words.To) || d.Kind(i+1) != text.Number {
			continue
		}
		from := i - 1
		if d.any(from, sizeUnits) {
			from--
		}
		for from > d.From+1 && d.GluedSign(from-1, '.') && d.Kind(from-2) == text.Number {
			from -= 2
		}
		high, _ := d.figures(i+1, d.To)
		if high.To < d.To && d.any(high.To, sizeUnits) {
			high.To++
		}
		return sets.Span{From: from, To: high.To}, i
	}
	return d.Span, -1
}

// dayAlone leaves out the words that lead up to a day, and the end of its
// sentence.
func (d *doubt) dayAlone() sets.Span {
	at := d.Span
	if d.sign(at.To-1) == '.' && d.Kind(at.To-2) == text.Word {
		at.To--
	}
	for at.From < at.To-1 && d.any(at.From, beforeDay) {
		at.From++
	}
	return at
}

// sizesInARow returns the span of all sizes of a list that found no skill. Each
// of them has a doubt of its own.
func (d *doubt) sizesInARow() sets.Span {
	at := d.Span
	for _, other := range d.read.Doubts {
		if other.Code == d.Code && other.From >= at.To && d.listed(at.To, other.From) {
			at.To = other.To
		}
	}
	return at
}

// listed reports whether nothing but the signs of a list stands between two
// tokens.
func (d *doubt) listed(from, to int) bool {
	for i := from; i < to; i++ {
		if c := d.sign(i); c != '/' && c != ',' && c != '+' && c != '-' {
			return false
		}
	}
	return true
}

// wholeName returns the unknown words together with a misspelt skill right
// before them, which is part of the same name: trnasiton hnag.
func (d *doubt) wholeName() sets.Span {
	for _, m := range d.read.Skills {
		if _, _, exact := d.names.At(d.Text, m.From); m.To == d.From && !exact {
			return sets.Span{From: m.From, To: d.To}
		}
	}
	return d.Span
}

// setAlone returns the words that name a set, without its size.
func (d *doubt) setAlone() sets.Span {
	for i := d.From + 1; i < d.To; i++ {
		if d.any(i, words.OfClasses(words.Set, words.Rep, words.Round, words.Try)) {
			return sets.Span{From: d.From, To: i + 1}
		}
	}
	return d.Span
}

// changing returns the word that says that a skill was not done, if the doubt's
// span is the skill.
func (d *doubt) changing() sets.Span {
	if !d.isName() {
		return d.Span
	}
	for gap := range 12 {
		for _, i := range [...]int{d.From - 1 - gap, d.To + gap} {
			if d.is(i, words.Try) {
				return sets.Span{From: i, To: i + 1}
			}
		}
	}
	return d.Span
}

// isName reports whether the doubt's span is that of a skill's name.
func (d *doubt) isName() bool {
	for _, m := range d.read.Skills {
		if m.Span == d.Span {
			return true
		}
	}
	return false
}
