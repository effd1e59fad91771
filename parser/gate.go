package parser

import "strings"

// worthReading is the gate that nearly all chatter is turned away at: it lets
// through what holds a digit, a number word or a word of the body. It looks at
// each byte once and keeps nothing.
func worthReading(text string) bool {
	for at := 0; at < len(text); {
		c := text[at]
		switch gateClass[c] {
		case gatePass:
			return true
		case gateLetter:
			end := at + 1
			for end < len(text) && gateClass[text[end]] == gateLetter {
				end++
			}
			n := end - at
			if n >= 2 && n < 32 && gateHeads[head(c, text[at+1])]>>n&1 != 0 && gateWord(text[at:end]) {
				return true
			}
			if n > 4 && text[end-1] == text[end-2] && gateDrawn(text[at:end]) {
				return true
			}
			at = end
		default:
			at++
		}
	}
	return false
}

const (
	gateSkip   = iota
	gateLetter // also every byte of a character beyond ASCII
	gatePass   // a digit, or the lead byte of ½ and its like or of full-width letters
)

var (
	gateClass = newGateClass()
	gateWords = map[string]bool{}
	gateHeads [1 << 10]uint32 // by the first two letters, a bit for each length
)

func newGateClass() (table [256]uint8) {
	for c := range table {
		switch {
		case c >= '0' && c <= '9', c == 0xC2, c == 0xEF, c == 0xE2, c == 0xF0:
			table[c] = gatePass
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= 0x80:
			table[c] = gateLetter
		}
	}
	// An emoji opens with F0 or E2 as well; most chatter with one holds no
	// number, so only what can be one passes there.
	table[0xF0], table[0xE2] = gateLetter, gateLetter
	return table
}

// head packs the first two letters of a word.
func head(a, b byte) int { return int(a&31)<<5 | int(b&31) }

func init() {
	add := func(word string) {
		gateWords[word] = true
		if len(word) < 32 {
			gateHeads[head(word[0], word[1])] |= 1 << len(word)
		}
	}
	for word := range strings.FieldsSeq("min dreißig fünf zwölf fünfzehn fünfzig fünfundzwanzig") { // the gate folds no accents
		add(word)
	}
	for word, w := range language {
		if len(word) > 1 && w.f&(fOnes|fTens|fHundred|fHalf|fCouple|fTwice) != 0 || len(word) > 1 && w.b&(bSite|bSkin|bCondition) != 0 || len(word) > 3 && w.b&bPain != 0 || len(word) > 5 && w.f&fMin != 0 || len(word) > 3 && w.f&fHour != 0 {
			add(word)
		}
	}
}

// gateDrawn looks up a word whose last letter is drawn out: elbowww.
func gateDrawn(word string) bool {
	short := len(word) - 1
	for short > 1 && word[short-1] == word[len(word)-1] {
		short--
	}
	return gateWord(word[:short])
}

// gateWord looks a word up in any case, without allocating.
func gateWord(word string) bool {
	var low [32]byte
	if len(word) > len(low) {
		return false
	}
	for i := range len(word) {
		c := word[i]
		if c >= 'A' && c <= 'Z' {
			c += 'a' - 'A'
		}
		low[i] = c
	}
	return gateWords[string(low[:len(word)])]
}
