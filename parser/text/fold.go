package text

import (
	"unicode"
	"unicode/utf8"
)

// class says how the scanner treats a folded character.
type class uint8

const (
	classOther  class = iota // emoji and signs without a meaning here
	classSpace               // any blank but a line end
	classLine                // a line end
	classLetter              //
	classDigit               //
	classSign                // a sign with a meaning
	classDrop                // left out, as if it did not stand there: joiners, direction marks, combining marks
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
	for _, c := range ".,;:!?+-/()[]\"'@=&%$<>~#^|`*_\\{}" {
		table[c] = classSign
	}
	return table
}()

// folded maps characters beyond ASCII to what they are read as. Cyrillic and
// Greek letters that look like Latin ones are read as Latin ones.
var folded = map[rune]rune{
	'×': 'x', '✕': 'x', '✖': 'x', '⨯': 'x', '‘': '\'', '’': '\'', '‚': '\'', '′': '\'', 'ʹ': '\'', '´': '\'',
	'“': '"', '”': '"', '„': '"', '″': '"', '«': '"', '»': '"', 'ʺ': '"',
	'–': '-', '—': '-', '−': '-', '‒': '-', '‐': '-', '‑': '-', '―': '-',
	'•': ';', '·': ';', '●': ';', '▪': ';', '‣': ';', '◦': ';', '∙': ';', '⁃': ';', '…': '.', '、': ',', '。': '.',
	'°': '%', 'º': '%', '⁄': '/', '∕': '/', '÷': '/', '＋': '+', '\u2028': '\n', '\u2029': '\n', '\u0085': '\n',
	'ß': 's', 'ø': 'o', 'Ø': 'o', 'ł': 'l', 'Ł': 'l', 'æ': 'a', 'œ': 'o', 'ı': 'i', 'ſ': 's',
	'а': 'a', 'е': 'e', 'о': 'o', 'р': 'p', 'с': 'c', 'у': 'y', 'х': 'x', 'і': 'i',
	'ѕ': 's', 'ј': 'j', 'һ': 'h', 'ԁ': 'd', 'ո': 'n', 'к': 'k', 'м': 'm', 'т': 't', 'н': 'h', 'в': 'b',
	'ο': 'o', 'α': 'a', 'ν': 'v', 'ι': 'i', 'ρ': 'p',
	'А': 'a', 'Е': 'e', 'О': 'o', 'Р': 'p', 'С': 'c', 'У': 'y', 'Х': 'x', 'І': 'i',
	'Ѕ': 's', 'Ј': 'j', 'К': 'k', 'М': 'm', 'Т': 't', 'Н': 'h', 'В': 'b',
}

// bases holds, for each character from U+00C0 on, the letter that it is without
// its accent; a dot where the character stays as it is.
const bases = "aaaaaa.ceeeeiiii.nooooo..uuuuy..aaaaaa.ceeeeiiii.nooooo..uuuuy.y"

// fold returns the character that c is read as, in lower case, and its class.
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

// foldRare folds characters that hardly ever stand in a message.
func foldRare(c rune) (rune, class) {
	switch c {
	case '€', '£':
		return c, classSign
	case '→', '➡', '⇒', '➔':
		return '→', classSign
	}
	if to, ok := foldStyled(c); ok {
		return to, ascii[to]
	}
	switch {
	case fractionOf(c) != 0:
		return c, classDigit
	case unicode.In(c, unicode.Cf, unicode.Mn, unicode.Me): // zero width, direction marks, variation selectors, keycaps
		return c, classDrop
	case unicode.IsSpace(c):
		return ' ', classSpace
	case unicode.IsLetter(c):
		return unicode.ToLower(c), classLetter
	}
	return c, classOther
}

// foldStyled folds letters and digits of the mathematical alphabets (U+1D400 on)
// and the decimal digits of other scripts to ASCII.
func foldStyled(c rune) (rune, bool) {
	switch {
	case c >= 0x1D7CE && c <= 0x1D7FF:
		return '0' + (c-0x1D7CE)%10, true
	case c >= 0x1D400 && c < 0x1D6A4:
		return 'a' + (c-0x1D400)%52%26, true
	case unicode.Is(unicode.Nd, c):
		zero := c
		for unicode.Is(unicode.Nd, zero-1) && c-zero < 9 {
			zero--
		}
		return '0' + (c - zero), true
	}
	return c, false
}

// fractionOf returns the value of a vulgar fraction such as ½ in thousandths; 0
// for any other character.
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

// Fold returns a text as the scanner folds words: in lower case, without accents
// and marks. It is for tables in which scanned words are looked up.
func Fold(s string) string {
	out := make([]byte, 0, len(s))
	for _, c := range s {
		if low, class := fold(c); class != classDrop {
			out = utf8.AppendRune(out, low)
		}
	}
	return string(out)
}

// Words folds a name and splits it at anything but letters.
func Words(name string) []string {
	var out []string
	var word []rune
	for _, c := range name {
		low, class := fold(c)
		if class == classLetter {
			word = append(word, low)
		} else if class != classDrop && len(word) > 0 {
			out, word = append(out, string(word)), nil
		}
	}
	if len(word) > 0 {
		out = append(out, string(word))
	}
	return out
}
