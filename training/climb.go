package training

// climb looks at one ladder of one member. Sets of paused days and sets without
// their rung's unit are ignored throughout.
type climb struct {
	p        *Programme
	l        *Ladder
	r        *Record
	gate     *Gate      // of the ladder; nil where it has none
	standing GateStatus // of the gate, as Standing returns it
	today    Day
}

// Standard returns what a rung asks: its gate's standard, else its move-on
// standard; zero for tries and for an id the programme lacks.
func (p *Programme) Standard(id RungID) Standard {
	if gate, ok := p.GateOn(id); ok {
		return gate.Standard
	}
	if _, rung, ok := p.Find(id); ok {
		return rung.MoveOn
	}
	return Standard{}
}

func (c *climb) standard(rung int) Standard { return c.p.Standard(c.l.Rungs[rung].ID) }

// work returns the set's work if it is a clean one on the rung, else 0.
func (c *climb) work(s *Set, rung int) int {
	on := &c.l.Rungs[rung]
	if s.Rung != on.ID || !s.Clean() {
		return 0
	}
	return on.Work(s)
}

// clean returns how many clean sets the session has on the rung.
func (c *climb) clean(s *Session, rung int) int {
	n := 0
	for i := range s.Sets {
		if c.work(&s.Sets[i], rung) > 0 {
			n++
		}
	}
	return n
}

// hardest returns the hardest rung on which the session has a clean set whose
// work is at least a third of the rung's standard; if any is true, on which it
// has a clean set at all. It is -1 where there is no such rung.
func (c *climb) hardest(s *Session, any bool) int {
	hardest := -1
	for i := range s.Sets {
		rung := c.l.index(s.Sets[i].Rung)
		if rung <= hardest {
			continue
		}
		if work := c.work(&s.Sets[i], rung); work > 0 && (any || 3*work >= c.standard(rung).Work) {
			hardest = rung
		}
	}
	return hardest
}

// meets reports whether the session meets the rung's standard on the rung itself.
func (c *climb) meets(s *Session, rung int) bool {
	standard, n := c.standard(rung), 0
	for i := range s.Sets {
		if work := c.work(&s.Sets[i], rung); work > 0 && work >= standard.Work {
			n++
		}
	}
	return n >= standard.Sets
}

// reached returns the hardest rung on which the days from first to last hold a
// clean set of at least a third of its standard, and whether the standard was
// met on it. The rung is -1 where there is none.
func (c *climb) reached(first, last Day) (rung int, met bool) {
	rung = -1
	sessions := c.r.between(first, last)
	for i := range sessions {
		here := c.hardest(&sessions[i], false)
		if here < 0 || here < rung || c.r.PausedOn(sessions[i].Day) {
			continue
		}
		met = c.meets(&sessions[i], here) || met && here == rung
		rung = here
	}
	return rung, met
}

// below takes the latest session up to last that has a clean set and returns the
// rung one below the hardest on which it has one (the first stays the first).
// ever is false where no session has a clean set.
func (c *climb) below(last Day) (rung int, ever bool) {
	sessions, mask := c.r.between(1, last), maskOfAll(c.l.Rungs)
	for i := len(sessions) - 1; i >= 0; i-- {
		if !sessions[i].mayHold(mask) {
			continue
		}
		if rung := c.hardest(&sessions[i], true); rung >= 0 && !c.r.PausedOn(sessions[i].Day) {
			return max(0, rung-1), true
		}
	}
	return 0, false
}

// current returns the rung the member is on today.
func (c *climb) current() (int, Reason) {
	if c.standing == Witnessed {
		return c.l.index(c.gate.Rung), Reason{}
	}
	rung, met := c.reached(c.today-TargetDays, c.today)
	if rung < 0 {
		rung, _ = c.below(c.today)
		return rung, Reason{Baseline: true}
	}
	if met && rung+1 < len(c.l.Rungs) {
		return rung + 1, Reason{MovedUp: true}
	}
	return rung, Reason{}
}

// before returns the rung the member was on until last, the day before a pause.
// Unlike current it takes nobody up to the next rung.
func (c *climb) before(last Day) (int, Reason) {
	if rung, _ := c.reached(last+1-TargetDays, last); rung >= 0 {
		return rung, Reason{}
	}
	rung, ever := c.below(last)
	return rung, Reason{Baseline: !ever}
}

// lately returns the latest four sessions with a clean set on the rung on the
// days from first to last, the latest first; nil where there are fewer.
func (c *climb) lately(rung int, first, last Day) (back [4]*Session) {
	n := 0
	sessions, mask := c.r.between(first, last), maskOf(c.l.Rungs[rung].ID)
	for i := len(sessions) - 1; i >= 0 && n < len(back); i-- {
		if sessions[i].mayHold(mask) && c.clean(&sessions[i], rung) > 0 && !c.r.PausedOn(sessions[i].Day) {
			back[n] = &sessions[i]
			n++
		}
	}
	return back
}

// mean returns b: the mean work of the session's at most three best clean sets
// on the rung.
func (c *climb) mean(s *Session, rung int) Ratio {
	var top [3]int // most first
	n := 0
	for i := range s.Sets {
		work := c.work(&s.Sets[i], rung)
		if work == 0 {
			continue
		}
		n++
		for k := range top {
			if work > top[k] {
				work, top[k] = top[k], work
			}
		}
	}
	return Ratio{top[0] + top[1] + top[2], min(n, len(top))}
}

// fell is rule 5: over the last three sessions the mean fell twice, by more than
// a tenth each time, and before that it did not, from the fourth last session to
// the third last.
func (c *climb) fell(back [4]*Session, rung int, reason *Reason) bool {
	if back[2] == nil {
		return false
	}
	drops := func(later, earlier *Session) bool {
		return c.mean(later, rung).Less(c.mean(earlier, rung).Times(9, 10))
	}
	if !drops(back[0], back[1]) || !drops(back[1], back[2]) || back[3] != nil && drops(back[2], back[3]) {
		return false
	}
	for i := range reason.Fell {
		reason.Fell[i] = c.mean(back[2-i], rung)
	}
	return true
}

// hard is rule 6: an effort of 9 or 10, a failed set, or a last set below 80 %
// of the first. It looks at all sets on the rung, failed and helped ones too.
func (c *climb) hard(s *Session, rung int, reason *Reason) bool {
	on := &c.l.Rungs[rung]
	first, last := 0, 0
	for i := range s.Sets {
		set := &s.Sets[i]
		work := on.Work(set)
		if set.Rung != on.ID || work == 0 {
			continue
		}
		if first == 0 {
			first = work
		}
		last = work
		reason.Failed = reason.Failed || set.Failed
		if set.Effort.Known && set.Effort.Value >= 9 {
			reason.Effort = max(reason.Effort, set.Effort.Value)
		}
	}
	if 10*last < 8*first {
		reason.First, reason.Last = first, last
	}
	return reason.Failed || reason.Effort > 0 || reason.First > 0
}

// sessionsOn returns on how many days up to today a set on the rung was logged,
// clean or not. It stops counting at most.
func (c *climb) sessionsOn(id RungID, most int) int {
	n := 0
	sessions, mask := c.r.between(1, c.today), maskOf(id)
	for i := len(sessions) - 1; i >= 0 && n < most; i-- {
		if sessions[i].mayHold(mask) && sessions[i].holds(id) {
			n++
		}
	}
	return n
}
