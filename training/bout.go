package training

import "slices"

// Bout is one go of a session to come.
type Bout struct {
	Rung   RungID
	Ladder string
	TakesS int // seconds under work; each rep counts as its rung's RepS
	RestS  int // seconds of rest after it; 0 after the last bout
}

// Bouts returns the bouts of the targets in the order of a session: attempts
// first, then the ladders that count for the rest rule in programme order, then
// the others. Ladders that alternate take turns, bout by bout.
func (p *Programme) Bouts(targets []Target) []Bout {
	var bouts []Bout
	for _, group := range p.groups(targets) {
		for turn, more := 0, true; more; turn++ {
			more = false
			for _, t := range group {
				if n := max(t.Sets, t.Tries); turn < n {
					bouts = append(bouts, p.bout(t))
					more = true
				}
			}
		}
	}
	if n := len(bouts); n > 0 {
		bouts[n-1].RestS = 0
	}
	return bouts
}

// groups puts the targets into the session's order. The targets of one group
// take turns.
func (p *Programme) groups(targets []Target) [][]Target {
	var tries, counted, turns, rest [][]Target
	for _, t := range targets {
		ladder, _, ok := p.Find(t.ID)
		switch {
		case !ok:
		case ladder.Tries:
			tries = append(tries, []Target{t})
		case slices.Contains(p.Shape.Alternate, ladder.Name) && len(turns) > 0:
			turns[0] = append(turns[0], t)
		case slices.Contains(p.Shape.Alternate, ladder.Name):
			counted = append(counted, []Target{t})
			turns = counted[len(counted)-1:]
		case ladder.Counts:
			counted = append(counted, []Target{t})
		default:
			rest = append(rest, []Target{t})
		}
	}
	return slices.Concat(tries, counted, rest)
}

func (p *Programme) bout(t Target) Bout {
	b := Bout{Rung: t.ID, Ladder: t.Ladder, TakesS: t.WorkS, RestS: t.RestS}
	if _, rung, ok := p.Find(t.ID); ok && t.WorkS == 0 {
		b.TakesS = max(t.Reps, 1) * rung.RepS
	}
	return b
}

// TotalS returns the seconds a session of these targets takes, work and rest,
// without the warm-up.
func (p *Programme) TotalS(targets []Target) int {
	total := 0
	for _, b := range p.Bouts(targets) {
		total += b.TakesS + b.RestS
	}
	return total
}

// Lighter returns the target of a lighter week: half the sets, at least one;
// attempts likewise.
func (t Target) Lighter() Target {
	if t.Sets > 0 {
		t.Sets = max(1, t.Sets/2)
	}
	if t.Tries > 0 {
		t.Tries = max(1, t.Tries/2)
	}
	return t
}

// LighterWeek reports whether to suggest a lighter week: enough ISO weeks in a
// row up to the one before today's were full, each with the most sessions that
// the rest rule allows. How many are enough the programme says. weeks is the
// length of that run. The week after a run of that length counts as the lighter
// one, however it went, and a new run begins. Common practice, no source.
func (p *Programme) LighterWeek(r *Record, today Day) (weeks int, due bool) {
	every := p.Shape.LighterAfterWeeks
	for monday := today.Monday() - 7; ; monday -= 7 {
		if len(p.CountedBetween(r, monday, monday+6)) < max(1, p.Rest.Sessions) {
			break
		}
		weeks++
	}
	if every > 0 {
		weeks %= every + 1
	}
	return weeks, every > 0 && weeks == every
}
