package explain

import (
	"fmt"
	"strconv"
	"strings"

	"rungbook/parser/sets"
	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// remedies holds, by code, the changes to try for a doubt, the likeliest first.
// Each list of changes is one try. A code has none if nothing that was typed
// tells what was meant.
var remedies = map[sets.Code]func(*doubt) [][]change{
	sets.UnknownSkill:     func(d *doubt) [][]change { return d.put(d.nearest()...) },
	sets.AmbiguousSkill:   func(d *doubt) [][]change { return d.put(d.nearest()...) },
	sets.MissingSize:      (*doubt).sized,
	sets.MissingSkill:     (*doubt).named,
	sets.MissingUnit:      (*doubt).united,
	sets.UnitMismatch:     (*doubt).unweighted,
	sets.ZeroSize:         (*doubt).failed,
	sets.SizeTooLarge:     (*doubt).smaller,
	sets.CountTooLarge:    (*doubt).smaller,
	sets.LoadTooLarge:     (*doubt).smaller,
	sets.RestTooLong:      (*doubt).smaller,
	sets.BadUnit:          (*doubt).otherUnit,
	sets.LetterForDigit:   func(d *doubt) [][]change { return d.put(digits.Replace(d.written(d.at))) },
	sets.BadClock:         (*doubt).clocks,
	sets.SuspiciousOrder:  (*doubt).swapped,
	sets.FractionalCount:  (*doubt).wholes,
	sets.FractionalReps:   (*doubt).wholes,
	sets.Range:            (*doubt).ends,
	sets.TotalSize:        (*doubt).shared,
	sets.EffortRange:      (*doubt).effort,
	sets.EffortWord:       func(d *doubt) [][]change { return d.put(d.level()) },
	sets.MissingLoadUnit:  func(d *doubt) [][]change { return d.put(d.firstFigures()+addKg, d.firstFigures()+addLb) },
	sets.RestMissing:      func(d *doubt) [][]change { return append(d.put(d.written(d.at)+addLength), d.drop(d.at)) },
	sets.BadDate:          (*doubt).lastOfMonth,
	sets.WrongWeekday:     func(d *doubt) [][]change { return [][]change{d.drop(sets.Span{From: d.at.From, To: d.at.From + 1})} },
	sets.FutureDay:        func(d *doubt) [][]change { return [][]change{d.drop(d.at)} },
	sets.TwoDates:         func(d *doubt) [][]change { return d.put(d.bothWays()...) },
	sets.ConflictingDates: (*doubt).oneDay,
	sets.WhichDay:         (*doubt).dayOfAll,
	sets.CountMismatch:    (*doubt).counted,
	sets.TwoSizes:         (*doubt).joined,
	sets.AmbiguousList:    (*doubt).listOrCount,
	sets.ConflictingSide:  (*doubt).oneSide,
	sets.MoreDoneThanTry:  (*doubt).turned,
	sets.NoSuchSet:        func(d *doubt) [][]change { return d.put(addLast) },
	sets.InBrackets:       (*doubt).bracketed,
	sets.Dangling:         func(d *doubt) [][]change { return d.put("") },
}

// digits puts figures in the place of letters that look like them.
var digits = strings.NewReplacer("o", "0", "O", "0", "l", "1", "L", "1")

// put offers each text in place of what is in doubt.
func (d *doubt) put(texts ...string) [][]change { return putAt(d.at, texts...) }

func putAt(at sets.Span, texts ...string) (out [][]change) {
	for _, text := range texts {
		out = append(out, []change{{at, text}})
	}
	return out
}

// failed offers a failed set for a size of nothing.
func (d *doubt) failed() [][]change {
	if d.Glued(d.at.From) {
		return d.put(" " + addFail)
	}
	return d.put(addFail)
}

// drop leaves a span out, with the small words before it.
func (d *doubt) drop(at sets.Span) []change {
	for at.From > 0 && (d.any(at.From-1, joints) || d.sign(at.From-1) == '/') {
		at.From--
	}
	if at.From == 0 && (d.Kind(at.To) == text.Sign || d.is(at.To, words.And)) {
		at.To++
	}
	return []change{{at, ""}}
}

var joints = words.OfClasses(words.On, words.From, words.For, words.And)

// sized offers the size that the rung's standard asks for, in as many sets as were
// said.
func (d *doubt) sized() [][]change {
	if d.Rung < 0 {
		return nil
	}
	rung, name := &d.names.Rungs[d.Rung], d.name()
	if rung.Unit == training.Tried {
		return putAt(sets.Span{From: name.To, To: name.To}, addTries)
	}
	count, at := d.countBefore(name)
	if d.Span != name { // the doubt stands at the count: x3 deep hang
		at = d.Span
		if i := d.lastNumber(at); i >= 0 {
			count = int(d.Tokens[i].N)
		}
	}
	size := d.standard(rung, count)
	if at.To == at.From {
		size += " "
		return [][]change{{{name, size + d.written(name)}}}
	}
	if at.To <= name.From {
		return putAt(sets.Span{From: at.From, To: name.To}, size+" "+d.written(name))
	}
	return putAt(at, size)
}

// countBefore reads the count of sets right before a name; 0 where there is none.
func (d *doubt) countBefore(name sets.Span) (count int, at sets.Span) {
	i := name.From - 1
	for d.any(i, smallWords) {
		i--
	}
	if !d.any(i, counts) {
		return 0, sets.Span{}
	}
	n, ok := d.number(i - 1)
	if !ok {
		return 0, sets.Span{}
	}
	return n, sets.Span{From: i - 1, To: name.From}
}

var smallWords = words.OfClasses(words.Of, words.The, words.At, words.On, words.Plain)

// standard writes the size that shows a rung's standard: 3x30s.
func (d *doubt) standard(rung *words.Rung, count int) string {
	standard := d.programme.Standard(rung.ID)
	if count == 0 {
		count = max(standard.Sets, 1)
	}
	unit := ""
	if rung.Unit == training.Timed {
		unit = addS
	}
	return fmt.Sprintf("%dx%d%s", count, max(standard.Work, 1), unit)
}

// named offers the gates' rungs that are measured in the unit of the sizes.
func (d *doubt) named() [][]change {
	var out [][]change
	for _, name := range d.gated() {
		out = append(out, putAt(sets.Span{From: d.at.To, To: d.at.To}, " "+name)...)
	}
	return out
}

// united offers seconds and reps, said of a list at its end.
func (d *doubt) united() [][]change {
	end := d.at.To
	for d.GluedSign(end, '/') && d.Kind(end+1) == text.Number {
		end += 2
	}
	seconds := addS
	if d.Kind(end-1) != text.Number {
		seconds = " " + addS
	}
	return putAt(sets.Span{From: end, To: end}, seconds, addReps)
}

// unweighted takes a weight for a size in the rung's unit.
func (d *doubt) unweighted() [][]change {
	if d.Glued(d.at.From) && d.at.From-1 > d.From && d.any(d.at.From-2, counts) {
		if d.unit() == training.Timed {
			return d.put(addS)
		}
		return d.put("")
	}
	return d.sized()
}

// smaller keeps the first figures of a number, three or less.
func (d *doubt) smaller() [][]change {
	at, ok := d.figures(d.at.From, d.at.To)
	if !ok {
		return nil
	}
	figures := []rune(d.Written(at.From, at.From+1))
	var out [][]change
	for n := min(len(figures)-1, maxSuggestions); n > 0; n-- {
		out = append(out, putAt(at, string(figures[:n]))...)
	}
	return out
}

// otherUnit offers the unit that was misspelt, else those there are.
func (d *doubt) otherUnit() [][]change {
	at, ok := d.figures(d.at.From, d.at.To)
	if !ok {
		return nil
	}
	n := d.written(at)
	if unit := unitLike(string(d.Word(d.at.To - 1))); unit != "" {
		return d.put(n + unit)
	}
	return d.put(n+addS, n+addMin)
}

// clocks offers what 1:75 may be: 75 s, or a minute and 75 s.
func (d *doubt) clocks() [][]change {
	a, b := d.Tokens[d.at.From].N, d.Tokens[min(d.at.From+2, d.at.To-1)].N
	return d.put(fmt.Sprint(b)+addS, fmt.Sprintf("%d:%02d", a+b/60, b%60))
}

// swapped turns 30x3s into 3x30s.
func (d *doubt) swapped() [][]change {
	first, last := d.at.From, d.lastNumber(d.at)
	if d.Kind(first) != text.Number || last <= first {
		return nil
	}
	unit := strings.TrimSpace(d.Message[d.Tokens[last].To:d.Tokens[d.at.To-1].To])
	return d.put(d.Written(last, last+1) + "x" + d.Written(first, first+1) + unit)
}

// wholes offers the whole numbers below and above a fraction.
func (d *doubt) wholes() [][]change {
	at, ok := d.figures(d.at.From, d.at.To)
	if !ok {
		return nil
	}
	n := int(d.Tokens[at.From].N)
	return putAt(at, strconv.Itoa(n), strconv.Itoa(n+1))
}

// ends offers the upper end of a range, then the lower.
func (d *doubt) ends() [][]change {
	at, joint := d.rangeEnds()
	if joint < 0 {
		return nil
	}
	high, _ := d.figures(joint+1, at.To)
	low := d.Written(at.From, joint)
	if !d.any(joint-1, sizeUnits) {
		low += d.Message[d.Tokens[high.To-1].To:d.Tokens[at.To-1].To]
	}
	return putAt(at, d.Written(high.From, at.To), low)
}

// shared offers a total in equal sets, where it divides.
func (d *doubt) shared() [][]change {
	last := d.lastNumber(d.Span)
	total, ok := d.number(d.at.From)
	if !ok || last <= d.at.From {
		return nil
	}
	n := int(d.Tokens[last].N)
	if n == 0 || total%n != 0 {
		return nil
	}
	each := fmt.Sprintf("%dx%d", n, total/n)
	if d.any(d.at.To, sizeUnits) {
		each += d.Written(d.at.To, d.at.To+1)
	}
	if name := d.name(); name.From > d.at.From && name.To < d.To {
		each += " " + d.written(name)
	}
	return putAt(d.Span, each)
}

// mostEffort is the most that an effort can be.
const mostEffort = "10"

// effort offers 8.5 for 85, and the most there is for what is a little past it.
func (d *doubt) effort() [][]change {
	n, ok := d.number(d.at.From)
	switch {
	case !ok, n > 100:
		return nil
	case n >= 20:
		return d.put(strconv.FormatFloat(float64(n)/10, 'f', -1, 64))
	}
	return d.put(mostEffort)
}

// oneSide offers one side, the other, and each.
func (d *doubt) oneSide() [][]change {
	for i := d.at.From - 1; i >= max(d.at.From-6, 0) && d.Kind(i) != text.Line; i-- {
		if d.is(i, words.Left) || d.is(i, words.Right) {
			return putAt(sets.Span{From: i, To: d.at.To}, d.Written(i, i+1), d.written(d.at), addEach)
		}
	}
	return nil
}

// turned swaps the numbers of 5/3.
func (d *doubt) turned() [][]change {
	first, ok := d.figures(d.at.From, d.at.To)
	last := d.lastNumber(d.at)
	if !ok || last < first.To {
		return nil
	}
	between := d.Message[d.Tokens[first.To-1].To:d.Tokens[last].From]
	return d.put(d.Written(last, d.at.To) + between + d.written(first))
}

// bracketed offers a rest or, of a small bare number, an effort, and one more set.
func (d *doubt) bracketed() [][]change {
	n, ok := d.number(d.at.From)
	if closed := d.sign(d.at.From-1) == '(' && d.sign(d.at.To) == ')'; !ok || !closed {
		return nil
	}
	whole := sets.Span{From: d.at.From - 1, To: d.at.To + 1}
	typed := d.written(d.at)
	timed := d.at.To > d.at.From+1
	rest := strings.TrimSpace(addRest) + " " + typed
	switch {
	case timed:
		return putAt(whole, rest, ", "+typed)
	case n <= 10:
		return putAt(whole, "@"+typed, ", "+typed)
	case n <= 2*bareReps:
		return putAt(whole, rest+addS, ", "+typed)
	}
	return putAt(whole, rest+addS)
}
