package parser

// edits returns how many letters must be added, dropped, changed or swapped
// with a neighbour to turn a into b, or a number above most once it is known to
// be more. (Damerau's distance in the optimal-string-alignment form.)
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

// maxName bounds the names that are compared for misspellings.
const maxName = 48
