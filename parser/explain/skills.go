package explain

import (
	"cmp"
	"slices"
	"strings"

	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// candidate is a name that unknown words may stand for.
type candidate struct {
	name  string
	words int // of the name that was met; the fewer, the likelier
	met   int // how many of the unknown words are like one of it
}

// nearest returns at most three names that the words in doubt may mean, of
// different rungs, likeliest first, in the unit of the sizes beside them.
func (d *doubt) nearest() []string {
	if d.eitherOr() {
		return d.Names
	}
	typed := d.typed()
	var found []candidate
	unit := d.unit()
	for _, ladder := range d.programme.Ladders {
		for _, rung := range ladder.Rungs {
			if unit != "" && rung.Unit != unit {
				continue
			}
			if c := nearestName(typed, &rung); c.met > 0 {
				found = append(found, c)
			}
		}
	}
	slices.SortStableFunc(found, func(a, b candidate) int {
		return cmp.Or(b.met-a.met, a.words-b.words)
	})
	var out []string
	for _, c := range found {
		if c.met == found[0].met && len(out) < maxSuggestions {
			out = append(out, c.name)
		}
	}
	if len(out) == 0 {
		return d.Names
	}
	return out
}

// eitherOr reports whether several names are typed, of which one must be meant.
func (d *doubt) eitherOr() bool {
	for i := d.From; i < d.To; i++ {
		if d.is(i, words.Or) {
			return len(d.Names) > 1
		}
	}
	return false
}

// typed returns the words of the place in doubt, without their plural s.
func (d *doubt) typed() (out []string) {
	for i := d.at.From; i < d.at.To; i++ {
		if d.Kind(i) == text.Word {
			out = append(out, words.Stem(string(d.Word(i))))
		}
	}
	return out
}

// nearestName returns the name of a rung that shares most with the words typed: a
// short alias as it stands, a longer one as the rung's own name.
func nearestName(typed []string, rung *training.Rung) (best candidate) {
	for i, name := range append([]string{rung.Name}, rung.Aliases...) {
		parts := text.Words(name)
		c := candidate{name: name, words: len(parts)}
		if i > 0 && len(strings.Fields(name)) > 2 {
			c.name = rung.Name
		}
		for _, word := range typed {
			if slices.ContainsFunc(parts, func(part string) bool { return alike(word, words.Stem(part)) }) {
				c.met++
			}
		}
		if c.met > best.met || c.met == best.met && c.words < best.words && best.name != rung.Name {
			best = c
		}
	}
	return best
}

// alike reports whether a word is near enough to another to be offered for it,
// though too far to be read as it: both begin alike and differ in a letter or
// two, whatever their order.
func alike(typed, word string) bool {
	if typed == word {
		return true
	}
	if typed == "" || word == "" || typed[0] != word[0] || len(word) < 3 {
		return false
	}
	var letters [256]int
	for i := range len(typed) {
		letters[typed[i]]++
	}
	for i := range len(word) {
		letters[word[i]]--
	}
	apart := 0
	for _, n := range letters {
		apart += max(n, -n)
	}
	if len(word) < 6 {
		return apart <= 1
	}
	return apart <= 2
}

// known returns the names of all rungs in the unit of the sizes in doubt, or
// those of the gates' rungs if the unit is not known.
func (d *doubt) known() (out []string) {
	unit := d.unit()
	if unit == "" {
		return d.gated()
	}
	for i := range d.names.Rungs {
		if rung := &d.names.Rungs[i]; rung.Unit == unit {
			out = append(out, rung.Name)
		}
	}
	return out
}

// gated returns the rungs of the gates in the unit of the sizes in doubt.
func (d *doubt) gated() (out []string) {
	unit := d.unit()
	for _, gate := range d.programme.Gates {
		if _, rung, ok := d.programme.Find(gate.Rung); ok && (rung.Unit == unit || unit == "") {
			out = append(out, rung.Name)
		}
	}
	return out
}

// unitLike returns the unit that letters glued to a number are like; "" for none.
func unitLike(typed string) string {
	for _, unit := range likeUnits {
		if typed != "" && alike(typed, unit) && typed != unit {
			return unit
		}
	}
	return ""
}
