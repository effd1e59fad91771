package training

import (
	"math"
	"strconv"
)

// RungID names a rung for good: its name and aliases may change, its id never.
type RungID string

// Side says on which side a set was done; "" where unsaid.
type Side string

const (
	Left  Side = "left"
	Right Side = "right"
	Each  Side = "each" // a set done once on each side
)

// Optional is a whole number that may be unsaid. The zero value is unsaid.
type Optional struct {
	Value int
	Known bool
}

// Known returns an Optional that holds n.
func Known(n int) Optional { return Optional{Value: n, Known: true} }

// IsZero reports whether the number is unsaid, so that JSON's omitzero drops it.
func (o Optional) IsZero() bool { return !o.Known }

// MarshalJSON writes the number, or null where it is unsaid.
func (o Optional) MarshalJSON() ([]byte, error) {
	if !o.Known {
		return []byte("null"), nil
	}
	return strconv.AppendInt(nil, int64(o.Value), 10), nil
}

// UnmarshalJSON reads what MarshalJSON writes.
func (o *Optional) UnmarshalJSON(data []byte) error {
	if string(data) == "null" {
		*o = Optional{}
		return nil
	}
	n, err := strconv.Atoi(string(data))
	if err != nil {
		return err
	}
	*o = Known(n)
	return nil
}

// Set is one go on a rung. Sets can be compared by ==.
type Set struct {
	Rung   RungID
	WorkS  int      // seconds, rounded so that no standard is met by it; beside Reps those of one rep; 0 where unsaid
	Reps   int      // 0 where unsaid
	LoadHg int      // hectograms (0.1 kg); negative for a counterweight or a band of known pull
	Help   string   // "band", "toes", "partner", …; empty for none
	Side   Side     // Left, Right, Each or unsaid
	RestS  Optional // seconds between this bout and the next, of whatever rung
	Effort Optional // 0-10 (CR-10)
	Failed bool
	Tries  int      // of attempts, how often it was tried; 0 on other rungs
	Done   Optional // of attempts, how many of Tries were done; unsaid on other rungs
}

// Clean reports whether the set was done as the rung asks: not failed, without
// help and without a negative load.
func (s Set) Clean() bool { return !s.Failed && s.Help == "" && s.LoadHg >= 0 }

// NamedSet is a set with its rung's name in place of the id. It is the JSON of a
// set in the parse command and in an answer's facts.
type NamedSet struct {
	Rung   string   `json:"rung"`
	WorkS  int      `json:"work_s,omitempty"`
	Reps   int      `json:"reps,omitempty"`
	LoadKg Hecto    `json:"load_kg,omitempty"`
	Help   string   `json:"help,omitempty"`
	Side   Side     `json:"side,omitempty"`
	RestS  Optional `json:"rest_s,omitzero"`
	Effort Optional `json:"effort,omitzero"`
	Failed bool     `json:"failed,omitempty"`
	Tries  int      `json:"tries,omitempty"`
	Done   Optional `json:"done,omitzero"`
}

// Hecto is a number of tenths. It prints and marshals as a decimal: 125 as 12.5.
type Hecto int

// String returns the decimal without a needless fraction.
func (h Hecto) String() string { return strconv.FormatFloat(float64(h)/10, 'f', -1, 64) }

// MarshalJSON writes the decimal as a number.
func (h Hecto) MarshalJSON() ([]byte, error) { return []byte(h.String()), nil }

// UnmarshalJSON reads what MarshalJSON writes, to a tenth, half away from zero.
func (h *Hecto) UnmarshalJSON(data []byte) error {
	value, err := strconv.ParseFloat(string(data), 64)
	if err != nil {
		return err
	}
	*h = Hecto(math.Round(value * 10))
	return nil
}

// Named returns the set with its rung's present name, or with the id where the
// programme no longer has the rung.
func (p *Programme) Named(s Set) NamedSet {
	return NamedSet{
		Rung: p.NameOf(s.Rung), WorkS: s.WorkS, Reps: s.Reps, LoadKg: Hecto(s.LoadHg), Help: s.Help,
		Side: s.Side, RestS: s.RestS, Effort: s.Effort, Failed: s.Failed, Tries: s.Tries, Done: s.Done,
	}
}
