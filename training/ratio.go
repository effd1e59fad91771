package training

import "strconv"

// Ratio is a number kept as a pair of integers until it is printed. The zero
// value, like any with Den 0, prints as 0.
type Ratio struct {
	Num int
	Den int // not negative
}

// Thousandths returns the ratio times 1000, rounded half up.
func (r Ratio) Thousandths() int { return r.Rounded(1000) }

// Percent returns the ratio times 100, rounded half up.
func (r Ratio) Percent() int { return r.Rounded(100) }

// Rounded returns the ratio times scale, rounded half up; 0 where Den is 0.
func (r Ratio) Rounded(scale int) int {
	if r.Den == 0 {
		return 0
	}
	return int(floorDiv(int64(2*r.Num*scale+r.Den), int64(2*r.Den)))
}

// Floor returns the largest whole number not above the ratio; 0 where Den is 0.
func (r Ratio) Floor() int {
	if r.Den == 0 {
		return 0
	}
	return int(floorDiv(int64(r.Num), int64(r.Den)))
}

// Times returns the ratio times num/den.
func (r Ratio) Times(num, den int) Ratio { return Ratio{r.Num * num, r.Den * den} }

// Less reports whether the ratio is smaller than the other. Neither Den may be 0.
func (r Ratio) Less(other Ratio) bool { return r.Num*other.Den < other.Num*r.Den }

// String returns the ratio to three decimals, without needless zeros.
func (r Ratio) String() string {
	return strconv.FormatFloat(float64(r.Thousandths())/1000, 'f', -1, 64)
}

// MarshalJSON writes the ratio as a number with at most three decimals.
func (r Ratio) MarshalJSON() ([]byte, error) { return []byte(r.String()), nil }
