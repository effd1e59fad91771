package programme

import (
	"cmp"
	"regexp"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"rungbook/training"
)

// Bounds of what a programme may ask. They keep sums of a session far from the
// limits of an int and answers short; common practice, no source.
const (
	maxSets  = 20
	maxWork  = 3600
	maxRestS = 3600
	maxTries = 20
)

// builder puts a programme together. Checks that need the whole file are put off
// with later, and made once everything is read.
type builder struct {
	d *document
	p training.Programme

	rungs     map[training.RungID]place
	spellings map[string]place // names and aliases of rungs
	later     []func()
}

func newBuilder(d *document) *builder {
	return &builder{d: d, rungs: map[training.RungID]place{}, spellings: map[string]place{}}
}

// result returns the programme with its gates in the order of the ladders.
func (b *builder) result() *training.Programme {
	p := b.p
	p.Work = cmp.Or(p.Work, "training")
	slices.SortStableFunc(p.Gates, func(x, y training.Gate) int {
		xl, xr := b.find(x.Rung)
		yl, yr := b.find(y.Rung)
		return (xl-yl)*maxWork + xr - yr
	})
	return &p
}

func (b *builder) programme(root *yaml.Node) {
	d, p := b.d, &b.p
	d.mapping(
		field{"id", true, b.id(&p.ID)},
		field{"name", true, d.text(&p.Name)},
		field{"work", false, d.text(&p.Work)},
		field{"rest", true, b.rest},
		field{"ladders", true, d.list(b.ladder)},
		field{"gates", true, d.list(b.gate)},
		field{"shape", true, b.shape},
		field{"safety", true, d.list(func(value *yaml.Node, at place) { p.Safety = append(p.Safety, d.line(value, at)) })},
	)(root, place{line: root.Line})
	for _, check := range b.later {
		check()
	}
}

// line reads a text and returns it, or "" and a fault.
func (d *document) line(value *yaml.Node, at place) (text string) {
	d.text(&text)(value, at)
	return text
}

var plainID = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

// id reads an id: small letters, digits and hyphens, which never change.
func (b *builder) id(into *string) reader {
	return func(value *yaml.Node, at place) {
		text := b.d.line(value, at)
		if text != "" && !plainID.MatchString(text) {
			b.d.fault(at, "is %q; use small letters, digits and single hyphens", clip(text))
			return
		}
		*into = text
	}
}

func (b *builder) rest(value *yaml.Node, at place) {
	rule := training.RestRule{ClearDays: -1}
	b.d.mapping(
		field{"clear_days", true, b.d.number(&rule.ClearDays, 0, 6)},
		field{"sessions", true, b.d.number(&rule.Sessions, 1, 7)},
	)(value, at)
	if m, c := rule.Sessions, rule.ClearDays; m*(c+1) > 7 {
		b.d.fault(at, "%d sessions with %d clear days between do not fit a week; lower one of them", m, c)
	}
	b.p.Rest = rule
}

func (b *builder) ladder(value *yaml.Node, at place) {
	var l training.Ladder
	d := b.d
	d.mapping(
		field{"name", true, d.text(&l.Name)},
		field{"counts", true, d.flag(&l.Counts)},
		field{"advice", false, d.flag(&l.Advice)},
		field{"tries", false, d.flag(&l.Tries)},
		field{"rungs", true, d.list(func(value *yaml.Node, at place) { l.Rungs = append(l.Rungs, b.rung(value, at)) })},
	)(value, at)
	for _, other := range b.p.Ladders {
		if l.Name != "" && other.Name == l.Name {
			d.fault(at, "two ladders are called %q; rename one", l.Name)
		}
		if l.Tries && other.Tries {
			d.fault(at, "%q is a second ladder of tries; keep one", l.Name)
		}
	}
	b.p.Ladders = append(b.p.Ladders, l)
	index := len(b.p.Ladders) - 1
	b.later = append(b.later, func() { b.checkLadder(index, at) })
}

// checkLadder makes sure that each rung of a ladder has one standard, a gate's or
// its own, so that it is always known when a rung is done; that a rung of tries
// has none and stands alone; and that the ladder has one gate at most, above
// which all rungs are measured alike.
func (b *builder) checkLadder(index int, at place) {
	l := &b.p.Ladders[index]
	gates := 0
	for i, rung := range l.Rungs {
		at := b.rungs[rung.ID]
		gated := slices.ContainsFunc(b.p.Gates, func(g training.Gate) bool { return g.Rung == rung.ID && rung.ID != "" })
		if gated {
			gates++
		}
		moves := rung.MoveOn != (training.Standard{})
		switch {
		case rung.Unit == "":
		case l.Tries != (rung.Unit == training.Tried):
			b.d.fault(at, "%q is measured in %s; tries are for the ladder with tries: true, and for it alone", rung.ID, rung.Unit)
		case l.Tries && moves:
			b.d.fault(at, "%q has a move_on; tries have none, leave it out", rung.ID)
		case gated && moves:
			b.d.fault(at, "%q has a gate and a move_on; the gate's standard holds there, leave move_on out", rung.ID)
		case !l.Tries && !gated && !moves:
			b.d.fault(at, "%q has neither move_on nor a gate; add the standard that ends it", rung.ID)
		case gated && slices.ContainsFunc(l.Rungs[i:], func(r training.Rung) bool { return r.Unit != rung.Unit }):
			b.d.fault(at, "a rung above the gate's %q is measured otherwise; use %s for all of them", rung.ID, rung.Unit)
		}
	}
	if l.Tries && len(l.Rungs) > 1 {
		b.d.fault(at, "ladder %q has %d rungs; tries are of one thing, keep one", l.Name, len(l.Rungs))
	}
	if gates > 1 {
		b.d.fault(at, "ladder %q has %d gates; keep one", l.Name, gates)
	}
}

func (b *builder) rung(value *yaml.Node, at place) training.Rung {
	var r training.Rung
	var id string
	d := b.d
	d.mapping(
		field{"id", true, b.id(&id)},
		field{"name", true, b.spelling(&r.Name)},
		field{"aliases", false, d.list(func(value *yaml.Node, at place) {
			var alias string
			b.spelling(&alias)(value, at)
			r.Aliases = append(r.Aliases, alias)
		})},
		field{"unit", true, d.unit(&r.Unit)},
		field{"move_on", false, func(value *yaml.Node, at place) {
			d.mapping(b.standard(&r.MoveOn)...)(value, at)
		}},
		field{"rep_s", true, d.number(&r.RepS, 1, 60)},
		field{"helped", false, b.helped(&r)},
		field{"stop_gap", false, d.number(&r.StopGap, 1, 100)},
		field{"cue", true, d.text(&r.Cue)},
		field{"set_up", true, d.text(&r.SetUp)},
		field{"caution", true, d.text(&r.Caution)},
	)(value, at)
	r.ID = training.RungID(id)
	if _, ok := b.rungs[r.ID]; ok && id != "" {
		d.fault(at, "two rungs have the id %q; give one its own", id)
	}
	b.rungs[r.ID] = at
	return r
}

func (d *document) unit(into *training.Unit) reader {
	return func(value *yaml.Node, at place) {
		switch unit := training.Unit(d.line(value, at)); unit {
		case training.Timed, training.Counted, training.Tried:
			*into = unit
		case "":
		default:
			d.fault(at, "is %q; use seconds, reps or tries", clip(string(unit)))
		}
	}
}

// spelling reads a name or an alias: in lower case, and not that of another rung.
func (b *builder) spelling(into *string) reader {
	return func(value *yaml.Node, at place) {
		text := b.d.line(value, at)
		if text == "" {
			return
		}
		if text != strings.ToLower(text) {
			b.d.fault(at, "is %q; write it in small letters", clip(text))
		}
		if first, ok := b.spellings[text]; ok {
			b.d.fault(at, "%q stands already in line %d; one spelling means one rung", clip(text), first.line)
			return
		}
		b.spellings[text] = at
		*into = text
	}
}

func (b *builder) standard(s *training.Standard) []field {
	return []field{
		{"sets", true, b.d.number(&s.Sets, 1, maxSets)},
		{"work", true, b.d.number(&s.Work, 1, maxWork)},
	}
}

func (b *builder) helped(r *training.Rung) reader {
	return func(value *yaml.Node, at place) {
		var of, help string
		b.d.mapping(field{"of", true, b.id(&of)}, field{"help", true, b.d.text(&help)})(value, at)
		r.Helped = training.Helped{Of: training.RungID(of), Help: help}
		b.later = append(b.later, func() { b.checkHelped(r.ID, r.Helped, at) })
	}
}

// checkHelped makes sure that a helped form lies below the rung that it leads to,
// on the same ladder.
func (b *builder) checkHelped(id training.RungID, h training.Helped, at place) {
	ladder, rung := b.find(id)
	ofLadder, of := b.find(h.Of)
	switch {
	case h.Of == "" || id == "":
	case of < 0:
		b.d.fault(at, "no rung has the id %q; name one of this programme", h.Of)
	case ladder != ofLadder || of <= rung:
		b.d.fault(at, "%q is no harder rung of the same ladder; name one above", h.Of)
	}
}

func (b *builder) gate(value *yaml.Node, at place) {
	var g training.Gate
	var rung string
	fields := append(b.standard(&g.Standard),
		field{"rung", true, b.id(&rung)},
		field{"rest_s", false, b.d.number(&g.RestS, 1, maxRestS)},
		field{"blocking", true, b.d.flag(&g.Blocking)})
	b.d.mapping(fields...)(value, at)
	g.Rung = training.RungID(rung)
	b.p.Gates = append(b.p.Gates, g)
	b.later = append(b.later, func() { b.checkGate(g, at) })
}

func (b *builder) checkGate(g training.Gate, at place) {
	same := 0
	for _, other := range b.p.Gates {
		if other.Rung == g.Rung {
			same++
		}
	}
	ladder, _ := b.find(g.Rung)
	switch {
	case g.Rung == "":
	case ladder < 0:
		b.d.fault(at, "the gate stands on no ladder: no rung has the id %q; name one of this programme", g.Rung)
	case b.p.Ladders[ladder].Tries:
		b.d.fault(at, "the gate stands on tries; gates are for what comes before them")
	case b.p.Ladders[ladder].Advice && g.Blocking:
		b.d.fault(at, "the gate on %q blocks, but its ladder is advice; change one of them", g.Rung)
	case same > 1:
		b.d.fault(at, "%q has %d gates; keep one", g.Rung, same)
	}
}

// find returns the index of a rung's ladder and the rung's index on it, or -1, -1.
func (b *builder) find(id training.RungID) (ladder, rung int) {
	for l := range b.p.Ladders {
		for r := range b.p.Ladders[l].Rungs {
			if b.p.Ladders[l].Rungs[r].ID == id {
				return l, r
			}
		}
	}
	return -1, -1
}
