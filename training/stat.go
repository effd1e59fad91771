package training

import (
	"math"
	"slices"
)

// series is a list of points with ascending x.
type series struct {
	x, y []float64
}

// median returns the middle of the values, or the mean of the middle two; NaN
// where there are none. It does not change their order.
func median(values []float64) float64 {
	sorted := slices.Sorted(slices.Values(values))
	n := len(sorted)
	if n == 0 {
		return math.NaN()
	}
	return (sorted[(n-1)/2] + sorted[n/2]) / 2
}

// slopes returns the slope between every two points of different x, ascending.
func (s series) slopes() []float64 {
	var slopes []float64
	for i := range s.x {
		for j := i + 1; j < len(s.x); j++ {
			if s.x[i] != s.x[j] {
				slopes = append(slopes, (s.y[j]-s.y[i])/(s.x[j]-s.x[i]))
			}
		}
	}
	slices.Sort(slopes)
	return slopes
}

// at returns the x at which a line of the slope reaches y. The line goes through
// the median of the x and the median of the y.
func (s series) at(slope, y float64) float64 {
	return median(s.x) + (y-median(s.y))/slope
}

// exactPoints is the largest number of points for which the distribution of
// Kendall's S is counted out instead of taken for normal.
const exactPoints = 10

// interval returns the two-sided interval of the Theil-Sen slope (Sen 1968, J Am
// Stat Assoc 63:1379-1389) at the confidence, between 0 and 1. Up to ten points
// without ties the ranks come from the exact distribution of Kendall's S; else
// from its normal approximation with ties, ranks between two slopes
// interpolated as in Gilbert 1987, Statistical Methods for Environmental
// Pollution Monitoring, section 16.5.
func (s series) interval(confidence float64) (low, high float64) {
	slopes := s.slopes()
	n := float64(len(slopes))
	if n == 0 {
		return math.NaN(), math.NaN()
	}
	c := math.Sqrt2 * math.Erfinv(confidence) * math.Sqrt(s.variance())
	if len(s.x) <= exactPoints && len(ties(s.x))+len(ties(s.y)) == 0 {
		c = exactSpread(len(s.x), confidence)
	}
	return ranked(slopes, (n-c)/2), ranked(slopes, n+1-(n-c)/2)
}

// ranked returns the slope of a rank, counted from 1 and interpolated between two
// slopes; beyond the first or the last rank it is that of the first or the last.
func ranked(slopes []float64, rank float64) float64 {
	rank = max(1, min(float64(len(slopes)), rank))
	below := int(rank)
	value := slopes[below-1]
	if below < len(slopes) {
		value += (rank - float64(below)) * (slopes[below] - value)
	}
	return value
}

// exactSpread returns the least c such that S, of n points without ties and
// without a trend, is at least c or at most -c with a chance of no more than
// 1 - confidence. So Sen chooses ranks in his example. Where no such c exists it
// returns more than S can be.
func exactSpread(n int, confidence float64) float64 {
	// ways[k] counts the orders of the points with k pairs out of order.
	ways := []float64{1}
	for m := 2; m <= n; m++ {
		next := make([]float64, len(ways)+m-1)
		for k, w := range ways {
			for more := range m {
				next[k+more] += w
			}
		}
		ways = next
	}
	var all, outside float64
	for _, w := range ways {
		all += w
	}
	pairs := len(ways) - 1
	c := pairs + 2
	for k := 0; 2*k < pairs; k++ {
		outside += 2 * ways[k]
		if outside > (1-confidence)*all {
			break
		}
		c = pairs - 2*k // S with k pairs out of order
	}
	return float64(c)
}

// score returns Kendall's S: the number of pairs of points that rise minus that
// of pairs that fall.
func (s series) score() int {
	score := 0
	for i := range s.x {
		for j := i + 1; j < len(s.x); j++ {
			score += sign(s.x[j]-s.x[i]) * sign(s.y[j]-s.y[i])
		}
	}
	return score
}

func sign(v float64) int {
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}

// variance returns the variance of S where there is no trend, with ties in x and
// y (Kendall 1976, Rank Correlation Methods, chapter 4).
func (s series) variance() float64 {
	n := float64(len(s.x))
	v := n * (n - 1) * (2*n + 5)
	var pairs, triples [2]float64
	for k, ties := range [2][]float64{ties(s.x), ties(s.y)} {
		for _, t := range ties {
			v -= t * (t - 1) * (2*t + 5)
			pairs[k] += t * (t - 1)
			triples[k] += t * (t - 1) * (t - 2)
		}
	}
	v /= 18
	if n > 2 {
		v += triples[0]*triples[1]/(9*n*(n-1)*(n-2)) + pairs[0]*pairs[1]/(2*n*(n-1))
	}
	return v
}

// ties returns the sizes of the groups of equal values, 2 and above.
func ties(values []float64) (sizes []float64) {
	sorted := slices.Sorted(slices.Values(values))
	for i := 0; i < len(sorted); {
		k := i
		for k < len(sorted) && sorted[k] == sorted[i] {
			k++
		}
		if k-i > 1 {
			sizes = append(sizes, float64(k-i))
		}
		i = k
	}
	return sizes
}

// z returns the Mann-Kendall statistic: S, corrected for continuity, in standard
// deviations; 0 where all values are equal.
func (s series) z() float64 {
	score := s.score()
	sd := math.Sqrt(s.variance())
	if score == 0 || sd == 0 {
		return 0
	}
	return float64(score-sign(float64(score))) / sd
}

// rises reports whether Mann-Kendall finds a rise at the level: without a trend
// so large a z would have a chance below the level.
func (s series) rises(level float64) bool {
	return math.Erfc(s.z()/math.Sqrt2)/2 < level
}
