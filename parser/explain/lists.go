package explain

import (
	"fmt"

	"rungbook/parser/sets"
	"rungbook/parser/text"
	"rungbook/training"
)

// What may have been meant by sizes that do not fit together.

// counted leaves out a count that does not fit its list, or says it of the list's
// first size alone; of 20/10 x 8 it makes sets with a rest.
func (d *doubt) counted() [][]change {
	first, _ := d.figures(d.at.From, d.at.To)
	rest, two := d.figures(first.To, d.at.To)
	if d.at.To < d.To-1 { // the count stands behind
		timed := d.unitAt(d.name()) == training.Timed
		if i := d.lastNumber(d.Span); two && timed && i >= d.at.To {
			return putAt(d.Span, fmt.Sprintf("%sx%ss%s%ss", d.Written(i, i+1), d.written(first), addRest, d.written(rest)))
		}
		return putAt(sets.Span{From: d.at.To, To: d.To}, "")
	}
	out := putAt(sets.Span{From: d.From, To: d.at.From}, "")
	if _, more := d.figures(rest.To, d.at.To); two && !more {
		unit := d.Message[d.Tokens[d.at.To-1].To:d.Tokens[d.To-1].To]
		out = append(out, putAt(sets.Span{From: first.To, To: rest.From}, unit+", ")...)
	}
	return out
}

// unitAt returns the unit of the skill named at a span; "" where none is.
func (d *doubt) unitAt(name sets.Span) training.Unit {
	for _, m := range d.read.Skills {
		if m.Span == name {
			return d.names.Rungs[m.Rung].Unit
		}
	}
	return ""
}

// joined makes one size of two that say the same, or a list of both.
func (d *doubt) joined() [][]change {
	from := d.From
	for from > 0 && (d.Kind(from-1) == text.Number || d.any(from-1, counts) || d.any(from-1, sizeUnits)) {
		from--
	}
	last, behind := d.lastNumber(sets.Span{From: from, To: d.From}), d.lastNumber(d.Span)
	if last < 0 || behind < 0 {
		return nil
	}
	out := [][]change{{{sets.Span{From: d.From, To: d.From}, ","}}}
	if d.Tokens[last].N == d.Tokens[behind].N {
		out = append([][]change{{{sets.Span{From: last, To: d.To}, d.Written(behind, d.To)}}}, out...)
	}
	return out
}

// listOrCount makes 3x30s of 3/30s, or a list of two.
func (d *doubt) listOrCount() [][]change {
	first, ok := d.figures(d.From, d.To)
	last := d.lastNumber(d.Span)
	if !ok || last < first.To {
		return nil
	}
	a, b := d.written(first), d.Written(last, d.To)
	unit := b[len(d.Written(last, last+1)):]
	return putAt(d.Span, a+"x"+b, a+unit+", "+b)
}
