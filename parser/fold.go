package parser

import (
	"unicode"
	"unicode/utf8"
)

// class says what a folded character is to the scanner.
type class uint8

const (
	classOther  class = iota // emoji and signs without a meaning here
	classSpace               // any blank but a line end
	classLine                // a line end
	classLetter              //
	classDigit               //
	classPunct               // a sign with a meaning, after folding
	classDrop                // takes no room: joiners, direction marks, markdown
)

// ascii holds the class of each ASCII character.
var ascii = func() (table [utf8.RuneSelf]class) {
	for c := range table {
		switch {
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z':
			table[c] = classLetter
		case c >= '0' && c <= '9':
			table[c] = classDigit
		}
	}
	for _, c := range " \t\v\f\r" {
		table[c] = classSpace
	}
	table['\n'] = classLine
	for _, c := range ".,;:!?+-/()[]\"'@=&%$<>~#^|`*_" {
		table[c] = classPunct
	}
	return table
}()

// folded maps a character beyond ASCII to the one it is read as.
var folded = map[rune]rune{
	'×': 'x', '✕': 'x', '✖': 'x', '⨯': 'x', 'х': 'x', 'Х': 'x', '‘': '\'', '’': '\'', '‚': '\'', '′': '\'', 'ʹ': '\'', '´': '\'',
	'“': '"', '”': '"', '„': '"', '″': '"', '«': '"', '»': '"', 'ʺ': '"', '–': '-', '—': '-', '−': '-', '‒': '-', '‐': '-', '‑': '-', '―': '-',
	'•': ';', '·': ';', '●': ';', '▪': ';', '‣': ';', '◦': ';', '∙': ';', '⁃': ';', '→': ';', '➡': ';', '…': '.', '、': ',', '。': '.',
	'⁄': '/', '∕': '/', '÷': '/', '＋': '+', '\u2028': '\n', '\u2029': '\n', '\u0085': '\n',
	'ß': 's', 'ø': 'o', 'Ø': 'o', 'ł': 'l', 'Ł': 'l', 'æ': 'a', 'œ': 'o', 'ı': 'i', 'ſ': 's',
}

// bases spells the base letter of the accented Latin ones, in code order from
// U+00C0; a dot leaves the character alone.
const bases = "aaaaaa.ceeeeiiii.nooooo..uuuuy..aaaaaa.ceeeeiiii.nooooo..uuuuy.y"

// fold returns the lower-case character that c is read as, and its class.
func fold(c rune) (rune, class) {
	if c < utf8.RuneSelf {
		if c >= 'A' && c <= 'Z' {
			c += 'a' - 'A'
		}
		return c, ascii[c]
	}
	if c >= 0xFF01 && c <= 0xFF5E { // full-width forms
		return fold(c - 0xFF01 + '!')
	}
	if to, ok := folded[c]; ok {
		return to, ascii[to]
	}
	if c >= 0xC0 && int(c) < 0xC0+len(bases) {
		if base := bases[c-0xC0]; base != '.' {
			return rune(base), classLetter
		}
	}
	return foldRare(c)
}

func foldRare(c rune) (rune, class) {
	switch {
	case fractionOf(c) != 0:
		return c, classDigit
	case unicode.Is(unicode.Cf, c), unicode.Is(unicode.Mn, c): // zero width, direction marks, variation selectors
		return c, classDrop
	case unicode.IsSpace(c):
		return ' ', classSpace
	case unicode.IsLetter(c):
		return unicode.ToLower(c), classLetter
	case unicode.IsDigit(c):
		return c, classOther
	}
	return c, classOther
}

// fractionOf returns a vulgar fraction in thousandths, or 0.
func fractionOf(c rune) int {
	switch c {
	case '½':
		return 500
	case '¼':
		return 250
	case '¾':
		return 750
	case '⅓':
		return 333
	case '⅔':
		return 667
	}
	return 0
}
