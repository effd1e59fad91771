package parser

import (
	"strings"
	"unicode/utf8"
)

// kind is the kind of a token.
type kind uint8

const (
	kEnd   kind = iota // past the last token
	kWord              // letters, folded; n and the flags come from the language
	kNum               // digits; n is the value, capped
	kFrac              // a vulgar fraction; n is in thousandths
	kPunct             // one sign; n is it
	kLine              // a line end
	kSign              // emoji, links, mentions: nothing to read
)

// numCap is where the value of a number stops growing: more than any limit.
const numCap = 100_000_000

// token is a piece of the text with what the language knows of it.
type token struct {
	kind     kind
	glued    bool // nothing stands between it and the token before
	capital  bool // a word that begins with a capital letter
	owner    bool // a word that ended in 's, which is cut off
	used     bool // read as part of a pain report; no size may take it
	part     bool // a word of some rung's name
	most     int8 // the most words of a name that begins with this one
	digits   uint8
	from, to int32 // bytes of the original text
	a, b     int32 // the folded word in reader.buf
	n        int32
	f        flags
	m        mood
	body     body
}

// scan fills r.toks from the text. The last token is always kEnd.
func (r *reader) scan(text string) {
	r.toks, r.buf, r.spoken = r.toks[:0], r.buf[:0], 0
	for at := 0; at < len(text); {
		c, size := rune(text[at]), 1
		if c >= utf8.RuneSelf {
			c, size = utf8.DecodeRuneInString(text[at:])
		}
		low, class := c, classOther
		if c < utf8.RuneSelf && (c < 'A' || c > 'Z') {
			class = ascii[c]
		} else {
			low, class = fold(c)
		}
		switch class {
		case classSpace, classDrop:
			at += size
			r.gap = r.gap || class == classSpace
		case classLetter:
			at = r.scanWord(text, at)
		case classDigit:
			at = r.scanNumber(text, at)
		default:
			at = r.scanSign(text, at, size, low, class)
		}
	}
	r.push(token{kind: kEnd, from: int32(len(text)), to: int32(len(text))})
}

func (r *reader) push(t token) {
	t.glued = !r.gap && len(r.toks) > 0
	r.gap = false
	r.toks = append(r.toks, t)
}

func (r *reader) scanNumber(text string, from int) int {
	if c, size := utf8.DecodeRuneInString(text[from:]); c >= utf8.RuneSelf && fractionOf(c) != 0 {
		r.push(token{kind: kFrac, n: int32(fractionOf(c)), from: int32(from), to: int32(from + size)})
		return from + size
	}
	if cap := text[from+1:]; strings.HasPrefix(cap, "\u20e3") || strings.HasPrefix(cap, "\ufe0f\u20e3") { // 1️⃣ numbers a line
		to := from + 1 + strings.Index(cap, "\u20e3") + len("\u20e3")
		r.push(token{kind: kSign, from: int32(from), to: int32(to)})
		return to
	}
	n, digits, at := 0, 0, from
	for at < len(text) && text[at] >= '0' && text[at] <= '9' {
		n = min(n*10+int(text[at]-'0'), numCap)
		digits++
		at++
	}
	for at < len(text) && text[at] >= utf8.RuneSelf { // digits of full width
		c, size := utf8.DecodeRuneInString(text[at:])
		low, class := fold(c)
		if class != classDigit || fractionOf(c) != 0 {
			break
		}
		if n = n*10 + int(low-'0'); n > numCap {
			n = numCap
		}
		digits++
		at += size
	}
	r.push(token{kind: kNum, n: int32(n), digits: uint8(min(digits, 255)), from: int32(from), to: int32(at)})
	return at
}

// scanWord reads letters, and an apostrophe between two of them. A word that
// stands glued between two numbers gives up an x at its end: 30sx3.
func (r *reader) scanWord(text string, from int) int {
	start, at := int32(len(r.buf)), from
	upper := text[from] >= 'A' && text[from] <= 'Z'
	buf := r.buf
	for at < len(text) && lower[text[at]] != 0 {
		buf = append(buf, lower[text[at]])
		at++
	}
	r.buf = buf
	for at < len(text) && (text[at] >= utf8.RuneSelf || text[at] == '\'' || lower[text[at]] != 0) {
		c, size := utf8.DecodeRuneInString(text[at:])
		low, class := fold(c)
		if class == classDrop {
			at += size
			continue
		}
		if low == '\'' && at > from && letterAt(text, at+size) {
			r.buf = append(r.buf, '\'')
			at += size
			continue
		}
		if class != classLetter {
			break
		}
		if at == from {
			upper = c != low && c < 0x250
		}
		r.buf = utf8.AppendRune(r.buf, low)
		at += size
		if low >= 0x3000 { // no blanks between words in Chinese and Japanese writing: a sign a word
			break
		}
	}
	t := token{kind: kWord, capital: upper, from: int32(from), to: int32(at), a: start, b: int32(len(r.buf))}
	if n := len(r.toks); n > 0 && !r.gap && r.toks[n-1].kind == kNum && t.b-t.a > 1 && r.buf[t.b-1] == 'x' && at < len(text) && digitAt(text, at) {
		last := t
		last.a, last.from = t.b-1, t.to-int32(lastSize(text[:at]))
		t.b, t.to = last.a, last.from
		r.pushWord(t)
		t = last
	}
	r.pushWord(t)
	return at
}

// lower maps the letters of ASCII to lower case, and all else to 0.
var lower = func() (table [256]byte) {
	for c := 'a'; c <= 'z'; c++ {
		table[c], table[c-'a'+'A'] = byte(c), byte(c)
	}
	return table
}()

func lastSize(text string) int {
	_, size := utf8.DecodeLastRuneInString(text)
	return size
}

func letterAt(text string, at int) bool {
	c, _ := utf8.DecodeRuneInString(text[at:])
	_, class := fold(c)
	return at < len(text) && class == classLetter
}

func digitAt(text string, at int) bool {
	c, _ := utf8.DecodeRuneInString(text[at:])
	_, class := fold(c)
	return class == classDigit
}

// pushWord adds a word with what the language and the programme's names know of
// it; where it is unknown, of what stands behind an article (l'epaule) or before
// 's.
func (r *reader) pushWord(word token) {
	word.glued = !r.gap && len(r.toks) > 0
	r.gap = false
	r.toks = append(r.toks, word)
	t := &r.toks[len(r.toks)-1]
	text := r.buf[t.a:t.b]
	known := r.lookUp(t, text)
	if known || len(text) < 3 {
		return
	}
	if len(text) > 3 && text[1] == '\'' && r.lookUp(t, text[2:]) {
		t.a += 2
		return
	}
	if text[len(text)-2] == '\'' && text[len(text)-1] == 's' {
		t.b -= 2
		t.owner = true
		r.lookUp(t, r.buf[t.a:t.b])
		return
	}
	if t.most == 0 && !t.part {
		r.drawnOut(t)
	}
}

// drawnOut reads a word whose letters are drawn out: elbowww, huuurts. Only three
// of a letter draw any word out; two at its end may belong to a name (Matt, Ann),
// so that they only do with a word of the body.
func (r *reader) drawnOut(t *token) {
	from, run, most := len(r.buf), 0, 0
	for i := t.a; i < t.b; i++ {
		if c := r.buf[i]; i > t.a && c == r.buf[i-1] {
			run++
		} else {
			run = 1
		}
		most = max(most, run)
		if run > 1 && (i+1 == t.b || run > 2 || r.buf[i+1] == r.buf[i]) {
			continue
		}
		r.buf = append(r.buf, r.buf[i])
	}
	short := r.buf[from:]
	w := languageTable.find(hashWord(short), short)
	if len(short) == int(t.b-t.a) || w == nil || most < 3 && (w.b&(bSite|bPain) == 0 || len(short) < 4) {
		r.buf = r.buf[:from]
		return
	}
	t.a, t.b = int32(from), int32(len(r.buf))
	r.lookUp(t, short)
}

// lookUp puts down what is known of a word, and reports whether the language
// knows it.
func (r *reader) lookUp(t *token, text []byte) bool {
	hash := hashWord(text)
	if name := r.p.names.words.find(hash, text); name != nil {
		t.most, t.part = name.most, name.part
	}
	w := languageTable.find(hash, text)
	if w == nil {
		return false
	}
	t.f, t.m, t.body, t.n = w.f, w.m, w.b, w.n
	r.spoken |= w.b
	return true
}

func (r *reader) scanSign(text string, at, size int, low rune, class class) int {
	switch {
	case class == classLine:
		r.push(token{kind: kLine, from: int32(at), to: int32(at + size)})
		return at + size
	case class != classPunct:
		r.push(token{kind: kSign, from: int32(at), to: int32(at + size)})
		return at + size
	case low == '*' || low == '_':
		return r.scanMark(text, at, size, low)
	case low == '<':
		if to, ok := angled(text, at); ok {
			r.push(token{kind: kSign, n: '<', from: int32(at), to: int32(to)})
			return to
		}
	case low == ':' || low == '/':
		if to, ok := r.link(text, at); ok {
			return to
		}
	}
	r.marks = r.marks || low == '"' || low == '`' || low == '~'
	r.push(token{kind: kPunct, n: low, from: int32(at), to: int32(at + size)})
	return at + size
}

// scanMark drops markdown's stars and underscores; one star between a number
// and what follows is a times sign, an underscore inside a word joins like a
// hyphen.
func (r *reader) scanMark(text string, at, size int, low rune) int {
	end := at + size
	for end < len(text) && text[end] == text[at] {
		end++
	}
	n := len(r.toks)
	single := end == at+size
	switch {
	case low == '*' && single && n > 0 && r.toks[n-1].kind == kNum && starTimes(text, end):
		start := int32(len(r.buf))
		r.buf = append(r.buf, 'x')
		r.pushWord(token{kind: kWord, from: int32(at), to: int32(end), a: start, b: start + 1})
	case low == '*' && single && (n == 0 || r.toks[n-1].kind == kLine) && end < len(text) && text[end] == ' ':
		r.push(token{kind: kPunct, n: ';', from: int32(at), to: int32(end)})
	case low == '_' && single && n > 0 && !r.gap && letterAt(text, end):
		r.push(token{kind: kPunct, n: '-', from: int32(at), to: int32(end)})
	}
	return end
}

// starTimes reports whether a number, a word of one or a bracket follows.
func starTimes(text string, at int) bool {
	for at < len(text) && text[at] == ' ' {
		at++
	}
	return digitAt(text, at) || letterAt(text, at) || at < len(text) && text[at] == '('
}

// angled finds the end of <@1>, <#1>, <:name:1>, <t:1:R> or <https://…>.
func angled(text string, at int) (int, bool) {
	for i := at + 1; i < len(text) && i < at+200; i++ {
		switch text[i] {
		case '>':
			return i + 1, i > at+1
		case ' ', '\n', '<':
			return 0, false
		}
	}
	return 0, false
}

// link swallows the rest of an address whose scheme or host has just been read:
// "https" and then "://", or a slash glued to a word with a dot before it.
func (r *reader) link(text string, at int) (int, bool) {
	n := len(r.toks)
	if n == 0 || r.gap || r.toks[n-1].kind != kWord {
		return 0, false
	}
	scheme := len(text) > at+2 && text[at:at+3] == "://"
	host := text[at] == '/' && n > 2 && r.toks[n-1].glued && r.toks[n-2].kind == kPunct && r.toks[n-2].n == '.' && r.toks[n-2].glued && r.toks[n-3].kind == kWord
	if !scheme && !host {
		return 0, false
	}
	end := at
	for end < len(text) {
		c, size := utf8.DecodeRuneInString(text[end:])
		if _, class := fold(c); class == classSpace || class == classLine {
			break
		}
		end += size
	}
	r.toks[n-1] = token{kind: kSign, n: '<', glued: r.toks[n-1].glued, from: r.toks[n-1].from, to: int32(end)}
	return end, true
}
