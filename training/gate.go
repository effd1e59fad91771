package training

import "slices"

// GateStatus is how a gate stands on a day.
type GateStatus string

const (
	Shut      GateStatus = "shut"      // never shown
	Open      GateStatus = "open"      // shown in the window by the member's own report
	Witnessed GateStatus = "witnessed" // a coach's mark is in the window
	Lapsed    GateStatus = "lapsed"    // shown too long ago, or only before a pause
)

// Holds reports whether the gate lets through: open or witnessed.
func (s GateStatus) Holds() bool { return s == Open || s == Witnessed }

// GoodDays is for how many days after its own a showing keeps a gate open. It is
// a judgement that rests on Mujika & Padilla 2000, Sports Med 30(2):79-87, where
// under four weeks is short-term detraining; no source gives an expiry.
const GoodDays = 28

// BeforePause is the reason of a gate that lapsed because its showings lie
// before the latest resume.
const BeforePause = "shown before a pause"

// GateFact is a gate as it stands for one member on one day. The marshalled
// fields are those of the contract.
type GateFact struct {
	Gate      string     `json:"gate"` // the rung's present name
	Status    GateStatus `json:"status"`
	Shown     int        `json:"shown"`    // how many sets of the best session count, at most Needed
	Needed    int        `json:"needed"`   // sets the gate asks
	Best      []int      `json:"best"`     // works of the best session's eligible sets, most first, at most Needed; never nil
	Progress  Ratio      `json:"progress"` // of the best session, 0 to 1
	ShownOn   Day        `json:"shown_on"` // the latest showing ever, 0 where none
	GoodUntil Day        `json:"good_until"`

	Rung     RungID `json:"-"`
	Unit     Unit   `json:"-"` // of Best and Work
	Work     int    `json:"-"` // what each of the Needed sets must hold
	RestS    int    `json:"-"` // as in Gate
	Blocking bool   `json:"-"`
	BestOn   Day    `json:"-"` // the day of the best session, 0 where no set is eligible
	Reason   string `json:"-"` // BeforePause, or empty
	// RestNotStated says that two or more sets of the best session count, and not
	// all of them state their rest. It is false for a gate that asks no rest.
	RestNotStated bool `json:"-"`
}

// Lapses returns in how many days from today the gate ceases to hold unless it
// is shown again; 1 says tomorrow. ok is false for a gate that does not hold.
func (f GateFact) Lapses(today Day) (days int, ok bool) {
	return int(f.GoodUntil-today) + 1, f.Status.Holds()
}

// Work returns what a set is worth on the rung: seconds on a timed one, reps on
// a counted one. It is 0 for a set without the rung's unit, which no gate,
// target or trend looks at, and always 0 for tries.
func (r *Rung) Work(s *Set) int {
	switch r.Unit {
	case Timed:
		return s.WorkS
	case Counted:
		return s.Reps
	}
	return 0
}

// judge judges sets by one gate.
type judge struct {
	Gate
	rungs []Rung // the gate's rung and the harder ones of its ladder
}

func (p *Programme) judge(g Gate) *judge {
	at, ok := p.rungs[g.Rung]
	if !ok {
		return &judge{Gate: g}
	}
	return &judge{g, p.Ladders[at.ladder].Rungs[at.rung:]}
}

// work returns the set's work, or 0 for a set that is not eligible. It does not
// look at the set's day.
func (j *judge) work(s *Set) int {
	for i := range j.rungs {
		if j.rungs[i].ID != s.Rung {
			continue
		}
		if !s.Clean() || j.RestS > 0 && s.RestS.Known && s.RestS.Value > j.RestS {
			return 0
		}
		return j.rungs[i].Work(s)
	}
	return 0
}

// counting returns how many of the session's sets count. It does not look at the
// session's day.
func (j *judge) counting(s *Session) int {
	n := 0
	for i := range s.Sets {
		if j.work(&s.Sets[i]) >= j.Standard.Work {
			n++
		}
	}
	return n
}

// countingSince is counting, but 0 for a session of a day before floor.
func (j *judge) countingSince(s *Session, floor Day) int {
	if s.Day < floor {
		return 0
	}
	return j.counting(s)
}

// best appends the works of the session's at most N best eligible sets to into,
// most first, and returns them with the sum of min(work, W).
func (j *judge) best(s *Session, into []int) (works []int, sum int) {
	for i := range s.Sets {
		if work := j.work(&s.Sets[i]); work > 0 {
			into = append(into, work)
		}
	}
	slices.SortFunc(into, func(a, b int) int { return b - a })
	into = into[:min(len(into), j.Sets)]
	for _, work := range into {
		sum += min(work, j.Standard.Work)
	}
	return into, sum
}

// bestSession returns the session from first to today with the highest progress,
// of equals the latest, and the sum of its works; nil where no set is eligible.
// first must not lie before F, so that none of the days is a paused one.
func (j *judge) bestSession(r *Record, first, today Day) (best *Session, most int) {
	var room [16]int
	sessions := r.between(first, today)
	for i := range sessions {
		_, sum := j.best(&sessions[i], room[:0])
		if sum > 0 && sum >= most {
			best, most = &sessions[i], sum
		}
	}
	return best, most
}

// lastShown returns the latest day from first to last whose session shows the
// gate, or 0. Paused days are passed over; days before the latest resume are not.
func (j *judge) lastShown(r *Record, first, last Day) Day {
	sessions, mask := r.between(first, last), maskOfAll(j.rungs)
	for i := len(sessions) - 1; i >= 0; i-- {
		if len(sessions[i].Sets) < j.Sets || !sessions[i].mayReach(mask, j.Standard.Work) {
			continue
		}
		if j.counting(&sessions[i]) >= j.Sets && !r.PausedOn(sessions[i].Day) {
			return sessions[i].Day
		}
	}
	return 0
}

// lastMark returns the day of the latest witness mark up to last, or 0.
func (r *Record) lastMark(gate RungID, last Day) (day Day) {
	for _, mark := range r.Marks {
		if mark.Gate == gate && mark.Day <= last {
			day = max(day, mark.Day)
		}
	}
	return day
}

// Gate returns how the gate stands on today: by sessions and marks up to it,
// with pauses as they were then.
func (p *Programme) Gate(r *Record, g Gate, today Day) GateFact {
	j := p.judge(g)
	fact := GateFact{
		Gate: p.NameOf(g.Rung), Status: Shut, Needed: g.Sets, Best: []int{}, Progress: Ratio{0, g.Sets * g.Work},
		Rung: g.Rung, Work: g.Work, RestS: g.RestS, Blocking: g.Blocking,
	}
	if len(j.rungs) > 0 {
		fact.Unit = j.rungs[0].Unit
	}
	floor := r.Floor(today)
	first := max(today-GoodDays, floor)
	shown := j.describe(r, first, today, &fact)
	if shown == 0 {
		shown = j.lastShown(r, 1, min(first-1, today))
	}
	mark := r.lastMark(g.Rung, today)
	fact.ShownOn = max(shown, mark)
	switch {
	case fact.ShownOn == 0:
		return fact
	case mark >= first:
		fact.Status = Witnessed
	case shown >= first:
		fact.Status = Open
	default:
		fact.Status = Lapsed
	}
	if fact.ShownOn < floor {
		fact.Reason = BeforePause
	}
	fact.GoodUntil = fact.ShownOn + GoodDays
	return fact
}

// describe fills in fact from the best session from first to today. If that
// session shows the gate it returns its day, else 0. Of equal sessions the best
// is the latest, so that the day is that of the latest showing.
func (j *judge) describe(r *Record, first, today Day, fact *GateFact) Day {
	best, sum := j.bestSession(r, first, today)
	if best == nil {
		return 0
	}
	fact.Best, _ = j.best(best, fact.Best)
	fact.Progress.Num = sum
	fact.BestOn = best.Day
	counting := j.counting(best)
	fact.Shown = min(counting, j.Sets)
	fact.RestNotStated = j.RestS > 0 && fact.Shown > 1 && j.stated(best) < fact.Shown
	if counting < j.Sets {
		return 0
	}
	return best.Day
}

// stated returns how many of the session's sets count and state their rest.
func (j *judge) stated(s *Session) int {
	n := 0
	for i := range s.Sets {
		if s.Sets[i].RestS.Known && j.work(&s.Sets[i]) >= j.Standard.Work {
			n++
		}
	}
	return n
}

// Standing returns Witnessed or Open for a gate that holds on today, else "". It
// is faster than Gate, as it looks at the window alone.
func (p *Programme) Standing(r *Record, g Gate, today Day) GateStatus {
	first := max(today-GoodDays, r.Floor(today))
	switch {
	case r.lastMark(g.Rung, today) >= first:
		return Witnessed
	case p.judge(g).lastShown(r, first, today) != 0:
		return Open
	}
	return ""
}

// GateFacts returns all gates as they stand on today, in programme order.
func (p *Programme) GateFacts(r *Record, today Day) []GateFact {
	facts := make([]GateFact, len(p.Gates))
	for i, gate := range p.Gates {
		facts[i] = p.Gate(r, gate, today)
	}
	return facts
}
