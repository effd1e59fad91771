package parser

import (
	"strconv"
	"strings"

	"rungbook/parser/sets"
	"rungbook/parser/words"
	"rungbook/training"
)

// Format writes sets in the canonical short form, equal neighbours together:
// "3x30s deep hang +5kg rest 60s @8, muscle-up 1/3". Parse reads it back as the
// same sets. A set of a rung that the programme lacks is left out.
func (p *Parser) Format(list []training.Set) string {
	var parts []string
	for i := 0; i < len(list); {
		at, ok := p.names.Find(list[i].Rung)
		n := sets.Alike(list[i:])
		if ok {
			parts = append(parts, p.formatSets(&p.names.Rungs[at], list[i], n))
		}
		i += n
	}
	return strings.Join(parts, ", ")
}

// formatSets writes n equal sets of a rung as they could be typed: 3x30s deep
// hang. formatSets writes n equal sets of a rung.
func (p *Parser) formatSets(r *words.Rung, s training.Set, n int) string {
	var b strings.Builder
	if r.Unit == training.Tried {
		b.WriteString(r.Name)
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
		if r.Unit == training.Timed {
			b.WriteString(" reps")
		}
	}
	if s.Failed {
		b.WriteString(" fail")
	}
	b.WriteString(" " + r.Name)
	formatMods(&b, s)
	return b.String()
}

// formatMods writes what qualifies a set behind it: load, help, side, rest,
// effort. formatMods writes what a set has beside its size: load, help, side,
// rest, effort, that it failed.
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
