// Package explain puts doubts into words: it says what was understood at the
// place in doubt and what was not, and offers corrected messages with the
// member's own figures.
//
// What it says stands in one table. It must not read sentences or decide what
// is in doubt, and repeats nothing that was said of a body.
package explain

import (
	"rungbook/parser/sets"
	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// Explainer says what a doubt is about, in the words of one programme. It is
// immutable and safe for concurrent use.
type Explainer struct {
	programme *training.Programme
	names     *words.Names
	private   func(word []byte) bool
}

// New returns an Explainer for a programme and its names. private reports
// whether a folded word may speak of somebody's body. Such words are not
// repeated unless they belong to the sets.
func New(p *training.Programme, names *words.Names, private func(word []byte) bool) *Explainer {
	return &Explainer{p, names, private}
}

// Problem returns what to say of a doubt about a message that r was read from,
// in one sentence or two, and at most 3 corrected messages: the member's own
// text with the place in doubt put right and talk of the body left out, of
// which reads reports true. It does not tell what was read of the rest, which
// the answer shows.
func (e *Explainer) Problem(t *text.Text, r *sets.Reading, d sets.Doubt, reads func(message string) bool) (say string, suggest []string) {
	x := e.about(t, r, d)
	return x.say(), x.suggest(reads)
}

// Place returns which figures or words of a doubt's span are at fault, to be
// shown to people: of 3x0s the 0s.
func (e *Explainer) Place(t *text.Text, r *sets.Reading, d sets.Doubt) sets.Span {
	return e.about(t, r, d).at
}

// Report returns what to say if it is not sure that a message reports the
// author's own work, done.
func (e *Explainer) Report() string { return sayReport }

// TooLong returns what to say of a message past the limit.
func (e *Explainer) TooLong() string { return sayTooLong }

// Lacking returns a doubt about the missing size of a message that is a skill's
// name and little else. If such a message is said to the bot the size is asked
// for. ok is false for any other message.
func (e *Explainer) Lacking(t *text.Text) (d sets.Doubt, ok bool) {
	for i := 0; t.Kind(i) != text.End; i++ {
		name, next, named := e.names.At(t, i)
		switch {
		case named && !name.Ladder && !ok:
			d, ok = sets.Doubt{Code: sets.MissingSize, Span: sets.Span{From: i, To: next}, Rung: name.At}, true
			i = next - 1
		case t.Kind(i) == text.Word && !anyOf(t, i, besideName), t.Kind(i) == text.Number:
			return d, false
		}
	}
	return d, ok
}

// besideName are words that may stand beside a name alone.
var besideName = words.OfClasses(words.Harmless, words.Did, words.Article, words.The, words.My, words.Today)

// doubt is a doubt while it is put into words. Questions about a token past
// either end are answered no.
type doubt struct {
	*Explainer
	*text.Text
	sets.Doubt
	read *sets.Reading
	at   sets.Span // the very place
}

func (e *Explainer) about(t *text.Text, r *sets.Reading, d sets.Doubt) *doubt {
	d.To = max(d.To, d.From+1)
	x := &doubt{e, t, d, r, d.Span}
	if narrow := places[d.Code]; narrow != nil {
		x.at = narrow(x)
	}
	return x
}

func is(t *text.Text, i int, class words.Class) bool {
	word := words.Find(t.Word(i))
	return word != nil && word.Classes.Has(class)
}

func anyOf(t *text.Text, i int, classes words.Classes) bool {
	word := words.Find(t.Word(i))
	return word != nil && word.Classes.Any(classes)
}

func (d *doubt) is(i int, class words.Class) bool      { return is(d.Text, i, class) }
func (d *doubt) any(i int, classes words.Classes) bool { return anyOf(d.Text, i, classes) }

// sign returns the sign at token i; 0 for none.
func (d *doubt) sign(i int) rune {
	if d.Kind(i) != text.Sign {
		return 0
	}
	return d.Tokens[i].N
}

// number returns the value of the token, in figures or in a word, and whether it
// is a number.
func (d *doubt) number(i int) (n int, ok bool) {
	switch {
	case d.Kind(i) == text.Number:
		return int(d.Tokens[i].N), true
	case d.is(i, words.Ones):
		return words.Find(d.Word(i)).Value, true
	}
	return 0, false
}

// figures returns the first number from one token to another, with its decimals,
// and false where there is none.
func (d *doubt) figures(from, to int) (sets.Span, bool) {
	for i := from; i < to; i++ {
		if d.Kind(i) != text.Number {
			continue
		}
		end := i + 1
		if (d.GluedSign(end, '.') || d.GluedSign(end, ',')) && d.Kind(end+1) == text.Number && end+1 < to {
			end += 2
		}
		return sets.Span{From: i, To: end}, true
	}
	return sets.Span{}, false
}

// lastNumber returns the last token of a span that is a number; -1 for none.
func (d *doubt) lastNumber(span sets.Span) int {
	for i := span.To - 1; i >= span.From; i-- {
		if d.Kind(i) == text.Number {
			return i
		}
	}
	return -1
}

// written returns a span as it was typed.
func (d *doubt) written(span sets.Span) string { return d.Written(span.From, span.To) }

// name returns where the doubt's skill is named. If it is named more than once
// it is the mention nearest to the doubt; if nowhere, the doubt's own place.
func (d *doubt) name() sets.Span {
	best, least := d.Span, -1
	for _, m := range d.read.Skills {
		if d.Rung >= 0 && m.Rung != d.Rung {
			continue
		}
		if gap := max(m.From-d.To, d.From-m.To, 0); least < 0 || gap < least {
			best, least = m.Span, gap
		}
	}
	return best
}

// unit returns in what the sizes at the doubt are measured, by their units or
// else by the doubt's skill; "" where neither tells.
func (d *doubt) unit() training.Unit {
	if d.Rung >= 0 {
		return d.names.Rungs[d.Rung].Unit
	}
	unit, found := d.unitFrom(d.To-1, -1)
	if !found {
		unit, _ = d.unitFrom(d.To, 1)
	}
	return unit
}

// unitFrom returns the unit of the nearest size from token i on. It goes a few
// tokens by step, which is 1 or -1. found is false where it meets none.
func (d *doubt) unitFrom(i, step int) (unit training.Unit, found bool) {
	for range 6 {
		bare := d.Kind(i) == text.Number && !d.is(i+1, words.Times)
		switch {
		case d.any(i, timeUnits), bare && d.any(i+1, timeUnits):
			return training.Timed, true
		case d.is(i, words.Rep), bare && d.is(i+1, words.Rep), bare && d.Tokens[i].N <= bareReps:
			return training.Counted, true
		case bare:
			return "", true
		}
		i += step
	}
	return "", false
}

var timeUnits = words.OfClasses(words.Second, words.Minute)

// bareReps is up to which bare number it surely counts reps.
const bareReps = 12
