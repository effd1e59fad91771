package words

// Short returns the rung that a short form means: its initials (dh), or the
// beginning of a name, of four letters or more (supp, toetrans), of an alias two
// thirds of it at least. ok is false where none fits, or more than one.
func (n *Names) Short(typed string) (rung int, ok bool) {
	found := 0
	for i := range n.Rungs { // names come before aliases
		if key := n.Rungs[i].key; len(typed) >= 4 && len(typed) < len(key) && key[:len(typed)] == typed {
			found, rung = found+1, i
		}
	}
	if found == 1 {
		return rung, true
	}
	found = 0
	for i := range n.keys {
		k := &n.keys[i]
		fits := len(typed) >= 4 && len(typed) < len(k.key) && k.key[:len(typed)] == typed && 3*len(typed) >= 2*len(k.key)
		if !fits && typed != n.Rungs[k.rung].initials {
			continue
		}
		if found == 0 || k.rung != rung {
			found++
		}
		rung = k.rung
	}
	return rung, found == 1
}

// Near returns the rung that has the name nearest to what was typed, its words
// run together. So many slips are allowed: none in a name of up to four
// letters, one up to seven, two beyond. An alias must begin with the same
// letter, and is allowed two from ten letters on. ok is false where no name is
// near enough, or two rungs' names are equally near.
func (n *Names) Near(typed string) (rung int, ok bool) {
	most := slips(len(typed))
	if most == 0 {
		return 0, false
	}
	best, tie := most+1, false
	for i := range n.keys {
		k := &n.keys[i]
		everyday := table[k.key]
		if everyday != nil && everyday.Classes.Has(Everyday) && len(k.key) < 6 && (typed[0] != k.key[0] || Known(typed)) {
			continue
		}
		may := most
		if k.alias {
			if may = min(most, len(typed)/5); typed[0] != k.key[0] {
				continue
			}
		}
		switch d := min(edits(Stem(typed), k.key, may), edits(typed, k.key+"s", may)); {
		case d > may:
		case d < best:
			best, rung, tie = d, k.rung, false
		case d == best && k.rung != rung:
			tie = true
		}
	}
	return rung, best <= most && !tie
}

// NearUnit returns the class of a unit, of time or of reps, from which an unknown
// word is one slip away; ok is false where there is none.
func NearUnit(word []byte) (class Class, ok bool) {
	if len(word) < 4 || Find(word) != nil {
		return 0, false
	}
	for _, unit := range spelledUnits {
		if edits(string(word), unit.word, 1) <= 1 {
			return unit.class, true
		}
	}
	return 0, false
}

// spelledUnit is a unit with which unknown words are compared.
type spelledUnit struct {
	word  string
	class Class
}

// spelledUnits are all such units, in the order of the table.
var spelledUnits = func() (units []spelledUnit) {
	for _, row := range rows {
		if row.Class != Spelled {
			continue
		}
		for _, word := range row.Words {
			for _, class := range [...]Class{Second, Minute, Rep} {
				if table[word].Classes.Has(class) {
					units = append(units, spelledUnit{word, class})
				}
			}
		}
	}
	return units
}()

// slips returns how many slips are allowed in a name of so many letters.
func slips(letters int) int {
	switch {
	case letters <= 4:
		return 0
	case letters <= 7:
		return 1
	}
	return 2
}

// maxName is how many bytes a name may have with which misspellings are compared.
const maxName = 48

// edits returns how many letters must be added, dropped, changed or swapped with a
// neighbour to turn a into b (Damerau's distance, restricted to optimal string
// alignment). If they are more than most it returns some number above most.
func edits(a, b string, most int) int {
	if gap := len(a) - len(b); gap > most || -gap > most || len(b) >= maxName || len(a) >= maxName {
		return most + 1
	}
	var rows [3][maxName]uint8
	before, last, now := &rows[0], &rows[1], &rows[2]
	for j := range len(b) + 1 {
		last[j] = uint8(j)
	}
	for i := 1; i <= len(a); i++ {
		now[0] = uint8(i)
		best := now[0]
		for j := 1; j <= len(b); j++ {
			cost := uint8(1)
			if a[i-1] == b[j-1] {
				cost = 0
			}
			now[j] = min(last[j]+1, now[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				now[j] = min(now[j], before[j-2]+1)
			}
			best = min(best, now[j])
		}
		if int(best) > most {
			return most + 1
		}
		before, last, now = last, now, before
	}
	return int(last[len(b)])
}

// Resembles reports whether a word is too far from any name to be read as one, but
// near enough to be asked about: within two slips of a name of four letters or
// more, or within one of a short alias or of a plural of four letters (dps).
func (n *Names) Resembles(typed string) bool {
	if len(typed) < 3 {
		return false
	}
	for i := range n.keys {
		k := &n.keys[i]
		if len(k.key) == 3 && edits(typed, k.key+"s", 1) <= 1 {
			return true
		}
		most := 2
		if k.alias && len(k.key) < 7 {
			most = 1
		}
		if own := !k.alias || typed[0] == k.key[0]; own && len(typed) > 3 && len(k.key) > 3 && edits(Stem(typed), k.key, most) <= most {
			return true
		}
	}
	return false
}
