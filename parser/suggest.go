package parser

import (
	"strings"
	"unicode/utf8"
)

// maxSuggest is the longest message that is offered again, in characters.
const maxSuggest = 200

// suggest returns at most three corrected messages. Each is the member's own
// text with one place changed, without what it said of the body, and each has
// been read as a log.
func (r *reader) suggest(t *trouble) []string {
	if utf8.RuneCountInString(r.text) > 2*maxSuggest {
		return nil
	}
	var out []string
	for _, with := range r.remedies(t) {
		text := r.rewritten(with)
		if text == "" || utf8.RuneCountInString(text) > maxSuggest || len(out) == 3 {
			continue
		}
		known := false
		for _, have := range out {
			known = known || have == text
		}
		if !known && r.p.isLog(text, r.ctx) {
			out = append(out, text)
		}
	}
	return out
}

// isLog reads a suggestion, without suggestions of its own.
func (p *Parser) isLog(text string, ctx Context) bool {
	if !worthReading(text) {
		return false
	}
	again := readers.Get().(*reader)
	defer readers.Put(again)
	ctx.Addressed = false
	again.reset(p, text, ctx)
	again.deep = true
	return again.read().Verdict == Log
}

// change writes text in the place of tokens from..to.
type change struct {
	from, to int32
	text     string
}

// rewritten returns the message with a change made and all talk of the body
// left out.
func (r *reader) rewritten(c change) string {
	var b strings.Builder
	at := int32(0)
	for i := 0; i < len(r.toks)-1; {
		t := &r.toks[i]
		if int32(i) == c.from {
			b.WriteString(r.text[at:t.from])
			b.WriteString(c.text)
			i = max(int(c.to), i)
			at = t.from
			if i > int(c.from) {
				at = r.toks[i-1].to
			}
			if c.to > c.from {
				continue
			}
			c.from = -1
			continue
		}
		if end := r.bodyTalk(i); end > i {
			at = r.toks[end-1].to
			i = end
			continue
		}
		b.WriteString(r.text[at:t.to])
		at = t.to
		i++
	}
	if int(c.from) == len(r.toks)-1 {
		b.WriteString(c.text)
	}
	return strings.Trim(tidy.Replace(b.String()), " \n,;-+&")
}

// written returns what was typed from one token to another.
func (r *reader) written(from, to int) string { return r.text[r.toks[from].from:r.toks[to-1].to] }

// tidy closes the gaps that what is left out leaves.
var tidy = strings.NewReplacer("  ", " ", " : ", ": ", " , ", ", ", ",,", ",", ", ,", ",", ". .", ".")

// bodyTalk returns where talk of the body that begins at token i ends, with the
// separator before it; i if none begins there.
func (r *reader) bodyTalk(i int) int {
	c := r.clauseAt(i)
	if c == nil {
		return i
	}
	first := -1
	for j := i; j < c.to; j++ {
		if t := &r.toks[j]; t.used || t.kind == kWord && t.body&bodyTalk != 0 && t.f&fFill == 0 {
			first = j
			break
		}
		if k := r.toks[j].kind; j > i && (k == kNum || k == kFrac) {
			break
		}
	}
	if first < 0 || first > i && !r.small(i, first) {
		return i
	}
	end := c.to
	for j := first; j < c.to; j++ {
		if k := r.toks[j].kind; (k == kNum || k == kFrac) && !r.toks[j].used && j > first {
			end = j
			break
		}
	}
	return end
}

const bodyTalk = bSite | bPain | bSkin | bUrgent | bCondition | bTissue | bBurst

// small reports whether nothing of a log stands between two tokens.
func (r *reader) small(from, to int) bool {
	for i := from; i < to; i++ {
		if _, _, ok := r.name(i); ok {
			return false
		}
		if k := r.toks[i].kind; k == kNum || k == kFrac || r.partOfWord(i) {
			return false
		}
	}
	return true
}

func (r *reader) partOfWord(i int) bool { return r.toks[i].kind == kWord && r.partOfAName(i) }

// clauseAt returns the clause that holds token i.
func (r *reader) clauseAt(i int) *clause {
	for k := range r.clauses {
		if c := &r.clauses[k]; i >= c.from && i < c.to {
			return c
		}
	}
	return nil
}
