package training

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

func near(got, want, within float64) bool { return math.Abs(got-want) <= within }

// sen is the example of Sen 1968, J Am Stat Assoc 63:1379-1389.
var sen = series{[]float64{1, 2, 3, 4, 10, 12, 18}, []float64{9, 15, 19, 20, 45, 55, 78}}

// epa is example 17-6 of USEPA 2009, Unified Guidance (EPA 530/R-09-007), p. 17-33.
var epa = series{
	[]float64{89.6, 89.8, 90.1, 90.3, 90.6, 90.8, 91.1, 91.3, 91.6, 91.8, 92.1, 92.6, 93.1, 93.6, 94.1, 94.6, 95.1, 95.6, 95.8, 96.1, 96.3, 96.6, 96.8},
	[]float64{480, 450, 490, 520, 485, 510, 510, 530, 510, 560, 560, 540, 590, 550, 600, 700, 570, 610, 650, 620, 830, 720, 590},
}

// kendall is example 4.3, p. 55, of Kendall 1976, as in the Kendall package for R.
var kendall = series{
	[]float64{1.5, 1.5, 3, 4, 6, 6, 6, 8, 9.5, 9.5, 11, 12},
	[]float64{2.5, 2.5, 7, 4.5, 1, 4.5, 6, 11.5, 11.5, 8.5, 8.5, 10},
}

func TestTheilSen(t *testing.T) {
	for _, c := range []struct {
		name                               string
		s                                  series
		slope, intercept, level, low, high float64
		within                             float64
	}{
		{"Sen 1968", sen, 4, 4, 0.93, 3.71, 4.38, 0.005},
		{"USEPA 2009", epa, 26.6666667, -1909.3333333, 0.95, 20, 35.71182, 5e-6},
	} {
		slope := median(c.s.slopes())
		if !near(slope, c.slope, 1e-7) {
			t.Errorf("%s: slope %v, want %v", c.name, slope, c.slope)
		}
		// The line through the medians crosses zero at -intercept/slope.
		if x := c.s.at(slope, 0); !near(-x*slope, c.intercept, 1e-6) {
			t.Errorf("%s: intercept %v, want %v", c.name, -x*slope, c.intercept)
		}
		low, high := c.s.interval(c.level)
		if !near(low, c.low, c.within) || !near(high, c.high, c.within) {
			t.Errorf("%s: interval at %v from %v to %v, want %v to %v", c.name, c.level, low, high, c.low, c.high)
		}
	}
}

func TestMannKendall(t *testing.T) {
	if got := epa.score(); got != 194 {
		t.Errorf("USEPA 2009: S is %d, want 194", got)
	}
	if got := epa.variance(); got != 1428 {
		t.Errorf("USEPA 2009: the variance is %v, want 1428", got)
	}
	if got := epa.z(); !near(got, 5.107322, 5e-7) {
		t.Errorf("USEPA 2009: z is %v, want 5.107322", got)
	}
	if p := math.Erfc(epa.z() / math.Sqrt2); !near(p, 3.267574e-07, 5e-13) {
		t.Errorf("USEPA 2009: two-sided p is %v, want 3.267574e-07", p)
	}
	if !epa.rises(1.64e-7) || epa.rises(1.63e-7) {
		t.Error("USEPA 2009: the one-sided p is half of that, 1.633787e-07")
	}
	if s, v := kendall.score(), kendall.variance(); s != 34 || !near(v, 203.303, 5e-4) {
		t.Errorf("Kendall 1976: S %d and variance %v, want 34 and 203.303", s, v)
	}
	flat := series{[]float64{1, 2, 3}, []float64{5, 5, 5}}
	if flat.z() != 0 || flat.rises(0.1) {
		t.Error("equal values rise")
	}
}

// TestExactSpread checks the counted distribution of S against all orders of up
// to seven points.
func TestExactSpread(t *testing.T) {
	for n := 2; n <= 7; n++ {
		var scores []int
		orders(make([]float64, 0, n), n, func(y []float64) {
			scores = append(scores, series{slices.Sorted(slices.Values(y)), y}.score())
		})
		for _, confidence := range []float64{0.5, 0.8, 0.9, 0.93, 0.95, 0.99} {
			c := exactSpread(n, confidence)
			if reach(scores, c) > 1-confidence || reach(scores, c-2) <= 1-confidence && c > 2 {
				t.Errorf("%d points at %v: ±%v is reached by %v of all orders", n, confidence, c, reach(scores, c))
			}
		}
	}
}

// reach returns the share of the scores that are c or more, either way.
func reach(scores []int, c float64) float64 {
	n := 0
	for _, s := range scores {
		if math.Abs(float64(s)) >= c {
			n++
		}
	}
	return float64(n) / float64(len(scores))
}

// orders calls each with every order of 1 to n.
func orders(done []float64, n int, each func([]float64)) {
	if len(done) == n {
		each(done)
		return
	}
	for v := 1; v <= n; v++ {
		if !slices.Contains(done, float64(v)) {
			orders(append(done, float64(v)), n, each)
		}
	}
}

// TestAgainstGonum holds medians, Kendall's tau and the normal quantile against
// gonum.org/v1/gonum/stat.
func TestAgainstGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 40).Draw(t, "points")
		s := series{make([]float64, n), make([]float64, n)}
		for i := range n {
			s.x[i], s.y[i] = float64(i), float64(rapid.IntRange(0, 30).Draw(t, "y"))
		}
		tau := stat.Kendall(s.x, s.y, nil)
		if got := float64(s.score()) / float64(n*(n-1)/2); len(ties(s.y)) == 0 && !near(got, tau, 1e-12) {
			t.Fatalf("tau is %v, want %v", got, tau)
		}
		sorted := slices.Sorted(slices.Values(s.y))
		low, high := stat.Quantile(0.5, stat.Empirical, sorted, nil), 0.0
		if n%2 == 1 {
			high = low
		} else {
			high = sorted[n/2]
		}
		if got := median(s.y); got != (low+high)/2 {
			t.Fatalf("the median is %v, want %v", got, (low+high)/2)
		}
		level := rapid.Float64Range(0.01, 0.99).Draw(t, "level")
		if got, want := s.rises(level), 1-distuv.UnitNormal.CDF(s.z()) < level; got != want {
			t.Fatalf("rises at %v: %v, want %v", level, got, want)
		}
		if low, high := s.interval(0.9); low > median(s.slopes()) || high < median(s.slopes()) {
			t.Fatalf("the interval from %v to %v lacks the slope %v", low, high, median(s.slopes()))
		}
	})
	for _, confidence := range []float64{0.5, 0.9, 0.93, 0.95} {
		if got, want := math.Sqrt2*math.Erfinv(confidence), distuv.UnitNormal.Quantile(0.5+confidence/2); !near(got, want, 1e-9) {
			t.Errorf("the quantile at %v is %v, want %v", confidence, got, want)
		}
	}
}

func TestEmptySeries(t *testing.T) {
	var none series
	if low, high := none.interval(0.9); !math.IsNaN(low) || !math.IsNaN(high) || !math.IsNaN(median(nil)) || none.z() != 0 {
		t.Error("a series without points has a median or a slope")
	}
}
