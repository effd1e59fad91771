package text

import (
	"strings"
	"unicode/utf8"
)

// Scan cuts a message into tokens. Its cost is linear in the message.
func (t *Text) Scan(message string) {
	t.Message, t.Tokens, t.buf, t.gap = message, t.Tokens[:0], t.buf[:0], false
	t.source = append(t.source[:0], message...)
	for at := 0; at < len(message); {
		c, size := rune(message[at]), 1
		if c >= utf8.RuneSelf {
			c, size = utf8.DecodeRuneInString(message[at:])
		}
		low, class := fold(c)
		switch class {
		case classSpace, classDrop:
			at += size
			t.gap = t.gap || class == classSpace
		case classLetter:
			at = t.scanLetters(at)
		case classDigit:
			at = t.scanDigits(at)
		default:
			at = t.scanSign(at, size, low, class)
		}
	}
	t.push(Token{Kind: End, From: int32(len(message)), To: int32(len(message))})
}

func (t *Text) push(token Token) {
	token.Glued = !t.gap && len(t.Tokens) > 0
	t.gap = false
	t.Tokens = append(t.Tokens, token)
}

// scanDigits reads a number, in the figures of any script, or a vulgar fraction,
// and returns where it ends.
func (t *Text) scanDigits(from int) int {
	if to := t.emoticon(from); to > from {
		t.push(Token{Kind: Mark, From: int32(from), To: int32(to)})
		return to
	}
	if c, size := utf8.DecodeRuneInString(t.Message[from:]); fractionOf(c) != 0 {
		t.push(Token{Kind: Fraction, N: int32(fractionOf(c)), From: int32(from), To: int32(from + size)})
		return from + size
	}
	n, digits, at, keycap := 0, 0, from, false
	for at < len(t.Message) {
		c, size := utf8.DecodeRuneInString(t.Message[at:])
		low, class := fold(c)
		if class == classDrop {
			keycap = keycap || c == '\u20e3'
			at += size
			continue
		}
		if class != classDigit || low > '9' {
			break
		}
		n = min(n*10+int(low-'0'), NumberCap)
		digits++
		at += size
	}
	t.push(Token{Kind: Number, Keycap: keycap, N: int32(n), Digits: uint8(min(digits, 255)), From: int32(from), To: int32(at)})
	return at
}

// scanLetters reads a word, letters and an apostrophe between two of them, and
// returns where it ends. If the word is glued between two numbers, an x at its
// end is a token of its own: 30sx3.
func (t *Text) scanLetters(from int) int {
	if to := t.emoticon(from); to > from {
		t.push(Token{Kind: Mark, From: int32(from), To: int32(to)})
		return to
	}
	start, at, capital := int32(len(t.buf)), from, false
	for at < len(t.Message) {
		c, size := rune(t.Message[at]), 1
		if c >= 'a' && c <= 'z' {
			t.buf = append(t.buf, byte(c))
			at++
			continue
		}
		if c >= utf8.RuneSelf {
			c, size = utf8.DecodeRuneInString(t.Message[at:])
		}
		low, class := fold(c)
		if class == classDrop {
			at += size
			continue
		}
		if low == '\'' && at > from && t.classAt(at+size) == classLetter {
			t.buf = append(t.buf, '\'')
			at += size
			continue
		}
		if class != classLetter {
			break
		}
		capital = capital || at == from && c != low && c < 0x250
		t.buf = utf8.AppendRune(t.buf, low)
		at += size
		if low >= 0x3000 { // Chinese and Japanese have no blanks between words: each character is a word
			break
		}
	}
	at = t.withSlash(start, at)
	t.pushWord(Token{Kind: Word, Capital: capital, From: int32(from), To: int32(at), a: start, b: int32(len(t.buf))})
	return at
}

// withSlash reads the rest of w/ and w/o, which stand for with and without, once
// their w is read. It returns the end of the word.
func (t *Text) withSlash(start int32, at int) int {
	rest := t.Message[at:]
	if string(t.buf[start:]) != "w" || !strings.HasPrefix(rest, "/") {
		return at
	}
	if strings.HasPrefix(rest, "/o") && t.classAt(at+2) != classLetter {
		t.buf = append(t.buf, "/o"...)
		return at + 2
	}
	return at + 1
}

// pushWord adds a word. It cuts off an 's at the word's end, and makes an x at the
// end of a word between two numbers a token of its own.
func (t *Text) pushWord(word Token) {
	letters := t.buf[word.a:word.b]
	if n := len(letters); n > 2 && letters[n-1] == 's' && letters[n-2] == '\'' {
		word.b -= 2
		word.Owner = true
	}
	tight := !t.gap && t.Kind(len(t.Tokens)-1) == Number && t.classAt(int(word.To)) == classDigit
	if n := len(letters); tight && n > 1 && letters[n-1] == 'x' {
		last := word
		last.a, last.From = word.b-1, word.To-int32(lastSize(t.Message[:word.To]))
		word.b, word.To = last.a, last.From
		t.push(word)
		word = last
	}
	t.push(word)
}

func lastSize(s string) int {
	_, size := utf8.DecodeLastRuneInString(s)
	return size
}

// classAt returns the class of the character at a byte; classOther past the end.
func (t *Text) classAt(at int) class {
	if at >= len(t.Message) {
		return classOther
	}
	c, _ := utf8.DecodeRuneInString(t.Message[at:])
	_, class := fold(c)
	return class
}

func (t *Text) scanSign(at, size int, low rune, class class) int {
	end := at + size
	switch {
	case class == classLine:
		t.push(Token{Kind: Line, From: int32(at), To: int32(end)})
		return end
	case class != classSign:
		t.push(Token{Kind: Mark, From: int32(at), To: int32(end)})
		return end
	case low == '*' || low == '_':
		return t.scanStars(at, size, low)
	}
	if to := t.emoticon(at); to > at {
		t.push(Token{Kind: Mark, From: int32(at), To: int32(to)})
		return to
	}
	if to := t.angled(at, low); to > at {
		t.push(Token{Kind: Mark, From: int32(at), To: int32(to)})
		return to
	}
	if to := t.link(at, low); to > at {
		return to
	}
	t.push(Token{Kind: Sign, N: low, From: int32(at), To: int32(end)})
	return end
}

// scanStars reads stars and underscores and returns where they end. Several in a
// row are markdown, and dropped. One star is scanStar's; one underscore within a
// word joins its parts like a hyphen, and is dropped elsewhere.
func (t *Text) scanStars(at, size int, low rune) int {
	end := at + size
	for end < len(t.Message) && t.Message[end] == t.Message[at] {
		end++
	}
	switch {
	case end > at+size:
	case low == '*':
		t.scanStar(at, end)
	case len(t.Tokens) > 0 && !t.gap && t.classAt(end) == classLetter: // an underscore inside a word joins like a hyphen
		t.push(Token{Kind: Sign, N: '-', From: int32(at), To: int32(end)})
	}
	return end
}

// scanStar reads one star, which ends at the given byte. Behind a number it is a
// times sign, before one it marks a correction, and at the head of a line with a
// blank behind it it is a bullet. Any other star is dropped.
func (t *Text) scanStar(at, end int) {
	last := t.Kind(len(t.Tokens) - 1)
	opens := len(t.Tokens) == 0 || last == Line
	switch {
	case t.timesSign(last, end):
		start := int32(len(t.buf))
		t.buf = append(t.buf, 'x')
		t.push(Token{Kind: Word, From: int32(at), To: int32(end), a: start, b: start + 1})
	case opens && strings.HasPrefix(t.Message[end:], " "):
		t.push(Token{Kind: Sign, N: ';', From: int32(at), To: int32(end)})
	case (opens || t.gap) && t.classAt(end) == classDigit && !strings.Contains(t.Message[end:], "*"):
		t.push(Token{Kind: Sign, N: '*', From: int32(at), To: int32(end)})
	}
}

// timesSign reports whether a star multiplies. Before it must stand a number, or
// a unit glued to one, and behind it a number (30s*3); behind a star that follows
// a number there may also be a word or a bracket (3*(30s)).
func (t *Text) timesSign(last Kind, at int) bool {
	n := len(t.Tokens)
	if t.gap && t.classAt(at) == classDigit { // 30/30/25 *28 is a correction
		return false
	}
	unit := last == Word && t.Tokens[n-1].Glued && t.Kind(n-2) == Number && !t.gap
	if last != Number && !unit {
		return false
	}
	for at < len(t.Message) && t.Message[at] == ' ' {
		at++
	}
	next := t.classAt(at)
	return next == classDigit || last == Number && (next == classLetter || at < len(t.Message) && t.Message[at] == '(')
}

// angled returns the end of <@1>, <#1>, <:name:1>, <t:1:R> or <https://…>, and 0
// where none of these begins.
func (t *Text) angled(at int, low rune) int {
	if low != '<' {
		return 0
	}
	for i := at + 1; i < len(t.Message) && i < at+200; i++ {
		switch t.Message[i] {
		case '>':
			if i > at+1 {
				return i + 1
			}
			return 0
		case ' ', '\n', '<':
			return 0
		}
	}
	return 0
}

// link reads the rest of an address whose scheme or host was just read as a word:
// "https" before "://", or a word with a dot in front before a slash.
func (t *Text) link(at int, low rune) int {
	n := len(t.Tokens)
	if n == 0 || t.gap || t.Tokens[n-1].Kind != Word || low != ':' && low != '/' {
		return 0
	}
	scheme := strings.HasPrefix(t.Message[at:], "://")
	host := low == '/' && t.GluedSign(n-2, '.') && t.Kind(n-3) == Word
	if !scheme && !host {
		return 0
	}
	end := at
	for end < len(t.Message) {
		c, size := utf8.DecodeRuneInString(t.Message[end:])
		if _, class := fold(c); class == classSpace || class == classLine {
			break
		}
		end += size
	}
	t.Tokens[n-1] = Token{Kind: Mark, Glued: t.Tokens[n-1].Glued, From: t.Tokens[n-1].From, To: int32(end)}
	return end
}

// emoticons are faces whose figures and letters are no sizes and no words. A face
// must stand between blanks, line ends or the ends of the message.
var emoticons = strings.Fields(`<3 </3 :3 8) 8-) xD XD :D :P :p :o :O T_T \o/ o/ \m/ :') ^^ B) >:3 =3 D: :x :/ =D ;D ;P 0:)`)

// beginsFace holds which bytes begin an emoticon. Hardly any does, so that faces
// are hardly ever looked for.
var beginsFace = func() (table [256]bool) {
	for _, face := range emoticons {
		table[face[0]] = true
	}
	return table
}()

// emoticon returns the end of the face that begins at a byte, or the byte itself
// where none does.
func (t *Text) emoticon(at int) int {
	if !beginsFace[t.Message[at]] || len(t.Tokens) > 0 && !t.gap && t.Kind(len(t.Tokens)-1) != Line {
		return at
	}
	for _, face := range emoticons {
		if face[0] != t.Message[at] || !strings.HasPrefix(t.Message[at:], face) {
			continue
		}
		if face[len(face)-1] == ')' && strings.Count(t.Message[:at], "(") > strings.Count(t.Message[:at], ")") {
			continue // it closes a bracket: (5, 5, 8)
		}
		end := at + len(face)
		if next := t.classAt(end); end == len(t.Message) || next == classSpace || next == classLine {
			return end
		}
	}
	return at
}
