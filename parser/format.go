package parser

import (
	"strconv"
	"strings"

	"rungbook/training"
)

// Format writes sets in the canonical short form, equal neighbours together:
// "3x30s deep hang +5kg rest 60s @8, muscle-up 1/3". Reading it back gives the
// same sets; a set of a rung that the programme lacks is left out.
func (p *Parser) Format(sets []training.Set) string {
	var parts []string
	for i := 0; i < len(sets); {
		at, ok := p.names.sizes[sets[i].Rung]
		n := p.alike(sets[i:])
		if ok {
			parts = append(parts, p.formatSets(&p.names.rungs[at], sets[i], n))
		}
		i += n
	}
	return strings.Join(parts, ", ")
}

// alike counts the sets at the front that are equal and that one size may stand
// for.
func (p *Parser) alike(sets []training.Set) int {
	n, work := 1, max(sets[0].WorkS*max(sets[0].Reps, 1), 1)
	if sets[0].Tries > 0 {
		return 1
	}
	for n < len(sets) && n < maxCount && sets[n] == sets[0] && (n+1)*work <= maxWorkS && !oddOrder(sets[0], n+1) {
		n++
	}
	return n
}

// oddOrder reports whether n such sets would be read as a slip for work x n.
func oddOrder(s training.Set, n int) bool {
	return s.Reps == 0 && s.WorkS < 10 && n >= oddSeconds || s.WorkS == 0 && s.Reps < 10 && n >= oddReps
}

func (p *Parser) formatSets(r *rung, s training.Set, n int) string {
	var b strings.Builder
	if r.unit == training.Tried {
		b.WriteString(r.name)
		if s.Done.Known {
			b.WriteString(" " + strconv.Itoa(s.Done.Value) + "/" + strconv.Itoa(s.Tries))
		} else {
			b.WriteString(" " + strconv.Itoa(s.Tries) + " tries")
		}
		formatMods(&b, s)
		return b.String()
	}
	if n > 1 || s.Failed {
		b.WriteString(strconv.Itoa(n) + "x")
	}
	switch {
	case s.WorkS > 0 && s.Reps > 0:
		if n == 1 && !s.Failed {
			b.WriteString("1x")
		}
		b.WriteString(strconv.Itoa(s.Reps) + "x" + strconv.Itoa(s.WorkS) + "s")
	case s.WorkS > 0:
		b.WriteString(strconv.Itoa(s.WorkS) + "s")
	case s.Reps > 0:
		b.WriteString(strconv.Itoa(s.Reps))
		if r.unit == training.Timed {
			b.WriteString(" reps")
		}
	}
	if s.Failed {
		b.WriteString(" fail")
	}
	b.WriteString(" " + r.name)
	formatMods(&b, s)
	return b.String()
}

func formatMods(b *strings.Builder, s training.Set) {
	if s.LoadHg > 0 {
		b.WriteString(" +" + training.Hecto(s.LoadHg).String() + "kg")
	} else if s.LoadHg < 0 {
		b.WriteString(" " + training.Hecto(s.LoadHg).String() + "kg")
	}
	switch s.Help {
	case "":
	case "band":
		if s.LoadHg >= 0 {
			b.WriteString(" with")
		}
		b.WriteString(" band")
	case "toes":
		b.WriteString(" toes down")
	case "assist":
		b.WriteString(" assisted")
	default:
		b.WriteString(" " + s.Help + " assisted")
	}
	if s.Side == training.Each {
		b.WriteString(" each side")
	} else if s.Side != "" {
		b.WriteString(" " + string(s.Side))
	}
	if s.RestS.Known {
		b.WriteString(" rest " + strconv.Itoa(s.RestS.Value) + "s")
	}
	if s.Effort.Known {
		b.WriteString(" @" + strconv.Itoa(s.Effort.Value))
	}
}
