package explain

import (
	"strconv"

	"rungbook/parser/sets"
)

// What may have been meant by days that can't be taken as they stand.

// lastOfMonth offers the last day of the month, and no day at all.
func (d *doubt) lastOfMonth() [][]change {
	out := [][]change{}
	if _, last, ok := d.month(); ok {
		if at, found := d.figures(d.at.From, d.at.To); found {
			out = putAt(at, strconv.Itoa(last))
		}
	}
	return append(out, d.drop(d.at))
}

// oneDay offers either of two days.
func (d *doubt) oneDay() [][]change {
	var out [][]change
	for i := 0; i < len(d.read.Roles); i++ {
		if !d.day(i) || i >= d.From && i < d.To {
			continue
		}
		other := sets.Span{From: i, To: i + 1}
		for d.day(other.To) {
			other.To++
		}
		out = append(out, d.drop(other))
		i = other.To
	}
	return append(out, d.drop(d.at))
}

// day reports whether the token is of a day.
func (d *doubt) day(i int) bool {
	if i >= len(d.read.Roles) {
		return false
	}
	switch d.read.Roles[i] {
	case sets.Past, sets.Today, sets.Future, sets.Weekday:
		return true
	}
	return false
}

// dayOfAll moves a day to the head of its message, where it is of all that
// follows, or says today of what stands behind it.
func (d *doubt) dayOfAll() [][]change {
	head := change{sets.Span{}, d.written(d.at) + ": "}
	end := len(d.Tokens) - 1
	return [][]change{append(d.drop(d.at), head), {{sets.Span{From: end, To: end}, addToday}}}
}
