package programme

import (
	"slices"

	"go.yaml.in/yaml/v3"

	"rungbook/training"
)

func (b *builder) shape(value *yaml.Node, at place) {
	d, s := b.d, &b.p.Shape
	s.RestS = map[string]int{}
	restAt, turnsAt := at, at
	d.mapping(
		field{"warm_up", true, d.text(&s.WarmUp)},
		field{"sets", true, d.number(&s.Sets, 1, maxSets)},
		field{"alternate", false, func(value *yaml.Node, at place) {
			turnsAt = at
			d.list(b.turn)(value, at)
		}},
		field{"rest_s", true, func(value *yaml.Node, at place) {
			restAt = at
			d.pairs(value, at, func(name string, value *yaml.Node, at place) {
				var seconds int
				d.number(&seconds, 1, maxRestS)(value, at)
				s.RestS[name] = seconds
				b.trained(name, at)
			})
		}},
		field{"tries", false, d.number(&s.Tries, 1, maxTries)},
		field{"try_rest_s", false, d.number(&s.TryRestS, 1, maxRestS)},
		field{"replaces", false, func(value *yaml.Node, at place) {
			s.Replaces = d.line(value, at)
			b.trained(s.Replaces, at)
		}},
		field{"lighter_after_weeks", false, d.number(&s.LighterAfterWeeks, 1, 52)},
	)(value, at)
	b.later = append(b.later, func() { b.checkShape(at, restAt, turnsAt) })
}

// turn reads the name of a ladder whose bouts take turns with those of others.
func (b *builder) turn(value *yaml.Node, at place) {
	s := &b.p.Shape
	name := b.d.line(value, at)
	if name != "" && slices.Contains(s.Alternate, name) {
		b.d.fault(at, "%q stands twice; keep one", name)
	}
	s.Alternate = append(s.Alternate, name)
	b.trained(name, at)
}

// trained notes a fault unless the name is that of a ladder that gets targets,
// which that of tries does not.
func (b *builder) trained(name string, at place) {
	b.later = append(b.later, func() {
		i := slices.IndexFunc(b.p.Ladders, func(l training.Ladder) bool { return l.Name == name })
		switch {
		case name == "":
		case i < 0:
			b.d.fault(at, "no ladder is called %q; use a ladder's name", clip(name))
		case b.p.Ladders[i].Tries:
			b.d.fault(at, "%q is the ladder of tries; name another", clip(name))
		}
	})
}

// checkShape makes sure that the session's shape fits the ladders: each has a
// rest, there are tries if and only if a ladder is of tries, and no ladder takes
// turns alone.
func (b *builder) checkShape(at, restAt, turnsAt place) {
	s := b.p.Shape
	tries := false
	for _, l := range b.p.Ladders {
		tries = tries || l.Tries
		if _, ok := s.RestS[l.Name]; !ok && !l.Tries && l.Name != "" {
			b.d.fault(restAt, "ladder %q has no rest; add its seconds", l.Name)
		}
	}
	if tries && (s.Tries == 0 || s.TryRestS == 0) {
		b.d.fault(at, "there is a ladder of tries; add tries and try_rest_s")
	}
	if !tries && (s.Tries != 0 || s.TryRestS != 0 || s.Replaces != "") {
		b.d.fault(at, "there is no ladder of tries; leave out tries, try_rest_s and replaces")
	}
	if len(s.Alternate) == 1 {
		b.d.fault(turnsAt, "one ladder cannot take turns; name two or none")
	}
}
