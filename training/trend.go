package training

import (
	"math"
	"slices"
)

const (
	trendPoints     = 5    // the fewest sessions with a trend
	trendConfidence = 0.90 // of the slope's interval
	forecastDays    = 26 * 7

	stuckDays   = 28 // how many days are looked at to tell whether somebody is stuck
	stuckPoints = 6  // the fewest sessions in those days that can tell
	stuckLevel  = 0.10
)

// Point is one session's place on a ladder.
type Point struct {
	Day      Day
	Position Ratio // 0 to 1; 1 where the last rung's standard is met
}

// position returns the session's best place on the ladder: the number of rungs
// below a rung plus the progress on it, divided by the number of rungs. ok is
// false where the session has no clean set on the ladder. It does not look at
// the session's day.
func (p *Programme) position(l *Ladder, s *Session) (best Ratio, ok bool) {
	best = Ratio{0, 1}
	for k := range l.Rungs {
		gate, gated := p.GateOn(l.Rungs[k].ID)
		if !gated {
			gate = Gate{Rung: l.Rungs[k].ID, Standard: l.Rungs[k].MoveOn}
		}
		j := &judge{gate, l.Rungs[k : k+1]}
		var room [16]int
		works, sum := j.best(s, room[:0])
		den := gate.Sets * gate.Work
		if len(works) == 0 || den == 0 {
			continue
		}
		ok = true
		if here := (Ratio{k*den + sum, len(l.Rungs) * den}); !here.Less(best) {
			best = here
		}
	}
	return best, ok
}

// Positions returns the member's place on the ladder in each session of the days
// from first to last, ascending, without paused days.
func (p *Programme) Positions(r *Record, l *Ladder, first, last Day) []Point {
	var points []Point
	sessions := r.between(first, last)
	for i := range sessions {
		if position, ok := p.position(l, &sessions[i]); ok && !r.PausedOn(sessions[i].Day) {
			points = append(points, Point{sessions[i].Day, position})
		}
	}
	return points
}

// line returns the points as a series: x the day, y the position.
func line(points []Point) series {
	s := series{make([]float64, len(points)), make([]float64, len(points))}
	for i, point := range points {
		s.x[i] = float64(point.Day)
		s.y[i] = float64(point.Position.Num) / float64(point.Position.Den)
	}
	return s
}

// Trend is how a member moves on one ladder over the last 84 days.
type Trend struct {
	Ladder string
	Points []Point
	// Known is false where there is no trend yet: fewer than five sessions, or an
	// interval of the slope that holds 0. Then the slopes are 0.
	Known bool
	Slope float64 // Theil-Sen, ladders a day
	Low   float64 // Low and High are the slope's interval at 90 % (Sen 1968)
	High  float64
}

// Trend returns the member's trend on the ladder as of today.
func (p *Programme) Trend(r *Record, l *Ladder, today Day) Trend {
	t := Trend{Ladder: l.Name, Points: p.Positions(r, l, today-TargetDays, today)}
	if len(t.Points) < trendPoints {
		return t
	}
	s := line(t.Points)
	low, high := s.interval(trendConfidence)
	if low <= 0 && high >= 0 {
		return t
	}
	t.Known, t.Slope, t.Low, t.High = true, median(s.slopes()), low, high
	return t
}

// Forecast is an estimate of when a ladder's gate is reached, as a range.
type Forecast struct {
	From  Day // the first allowed day at the steepest likely slope
	Until Day // the first allowed day at the flattest; 0 where that lies more than 26 weeks ahead
	// WeeksFrom and WeeksUntil are From and Until in weeks from today, From rounded
	// down and Until up; WeeksUntil is 26 where Until is 0.
	WeeksFrom  int
	WeeksUntil int
}

// Forecast returns when the member reaches the ladder's gate if the trend of the
// last 84 days goes on. ok is false where there is no gate, where it already
// holds, where the trend does not rise, and where the gate is not reached on any
// allowed day within 26 weeks.
func (p *Programme) Forecast(r *Record, team Weekdays, l *Ladder, today Day) (f Forecast, ok bool) {
	gate, gated := p.GateOf(l)
	t := p.Trend(r, l, today)
	if !gated || !t.Known || t.Low <= 0 || p.Standing(r, gate, today) != "" {
		return f, false
	}
	goal := float64(l.index(gate.Rung)+1) / float64(len(l.Rungs))
	s := line(t.Points)
	reach := func(slope float64) Day {
		at := math.Ceil(s.at(slope, goal))
		if at > float64(today+forecastDays) {
			return 0
		}
		day := p.NextTeamDay(r, team, max(today, Day(at)))
		if day > today+forecastDays {
			return 0
		}
		return day
	}
	f.From, f.Until = reach(t.High), reach(t.Low)
	if f.From == 0 {
		return Forecast{}, false
	}
	f.WeeksFrom, f.WeeksUntil = int(f.From-today)/7, forecastDays/7
	if f.Until != 0 {
		f.WeeksUntil = int(f.Until-today+6) / 7
	}
	return f, true
}

// Stuck returns the names of the ladders on which the member trains without
// rising, in programme order: the 28 days up to today have at least six sessions
// on the ladder, in which Mann-Kendall finds no rise at 10 %. A ladder whose gate
// holds, one of tries and one of advice are never stuck.
func (p *Programme) Stuck(r *Record, today Day) []string {
	var names []string
	for i := range p.Ladders {
		l := &p.Ladders[i]
		if l.Tries || l.Advice {
			continue
		}
		points := p.Positions(r, l, today-stuckDays+1, today)
		if len(points) < stuckPoints || line(points).rises(stuckLevel) {
			continue
		}
		if gate, ok := p.GateOf(l); ok && p.Standing(r, gate, today) != "" {
			continue
		}
		names = append(names, l.Name)
	}
	return slices.Clip(names)
}
