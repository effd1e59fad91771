package parser

import (
	"cmp"
	"slices"

	"rungbook/training"
)

// part is a size that found no name, with the words beside it that should have
// been one.
type part struct {
	size     item
	from, to int32 // tokens of the words; equal where there are none
	known    bool  // a word of a name is among them
	plain    bool  // nothing but size and unknown words stands in the clause
	heading  int32 // a ladder named there, plus 1
}

// partAt looks at the words around a stray size.
func (a *assembler) partAt(stray item) part {
	p := part{size: stray, plain: true}
	at := a.itemAt(stray.from)
	a.wordsFrom(&p, at+1, 1)
	if p.from == p.to {
		a.wordsFrom(&p, at-1, -1)
	}
	return p
}

func (r *reader) itemAt(tok int32) int {
	lo, hi := 0, len(r.items)
	for lo < hi {
		if mid := (lo + hi) / 2; r.items[mid].to <= tok {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return lo
}

// wordsFrom takes the unknown words and parts of names on one side of a size.
func (a *assembler) wordsFrom(p *part, at, step int) {
	lead := int32(-1) // a known word right before the unknown ones: box jumps
	for n := 0; at >= 0 && at < len(a.items) && n < 6; at, n = at+step, n+1 {
		it := &a.items[at]
		switch it.k {
		case iSide:
			if !a.hyphened(it, step) {
				return
			}
		case iSep, iSize, iCount, iFrac, iName, iDay, iEffort, iRest, iLoad, iNote, iStray:
			return
		case iFill:
			if p.from != p.to && a.toks[it.from].kind != kPunct && !a.inAName(it) {
				p.plain = false
				return
			}
			if !a.inAName(it) {
				continue
			}
		}
		t := &a.toks[it.from]
		switch {
		case t.used || t.body&bodyTalk != 0 && it.k == iOther:
			p.plain = false
			return
		case it.k == iOther && (t.kind != kWord || t.f != 0 || t.m != 0):
			p.plain = false
			if p.from != p.to {
				return
			}
			if lead = -1; step > 0 && t.kind == kWord && t.m == 0 {
				lead = it.from
			}
			continue
		}
		p.known = p.known || (it.k == iPart || a.inAName(it)) && t.b-t.a > 3 || it.k == iLadder
		if it.k == iLadder {
			p.heading = it.n + 1
		}
		if p.from == p.to {
			p.from, p.to = it.from, it.to
			if lead >= 0 && lead == it.from-1 {
				p.from = lead
			}
		} else {
			p.from, p.to = min(p.from, it.from), max(p.to, it.to)
		}
	}
}

// hyphened reports whether a letter that stands for a side is part of a word of
// its own: L-sit.
func (a *assembler) hyphened(it *item, step int) bool {
	i := int(it.from)
	return step > 0 && it.to == it.from+1 && a.punct(i+1, '-') && a.toks[i+1].glued && a.toks[i+2].glued && a.toks[i+2].kind == kWord
}

// inAName reports whether a word of filling is a word of a name as well: ring,
// strict, band.
func (a *assembler) inAName(it *item) bool {
	if a.toks[it.from].kind != kWord {
		return false
	}
	word := a.word(int(it.from))
	return a.p.names.known[string(word)] && a.toks[it.from].f&(fStyle|fBand|fHelped) == 0
}

// leftOver finds a part of a log that has a size and no skill: then nothing is
// stored, for half a message would be.
func (a *assembler) leftOver() *trouble {
	for _, stray := range a.strays {
		if a.killedAt(stray.from) || a.toks[stray.from].used {
			continue
		}
		p := a.partAt(stray)
		sure := stray.count > 0 || p.from < p.to && p.plain && otherWork[string(a.word(int(p.from)))] && !a.killedAt(p.from) || stray.unit == uSec && stray.milli <= 300_000 && p.plain || stray.unit == uRep && p.plain
		switch {
		case p.from < p.to && (sure || p.known && p.plain):
			return a.unnamed(p)
		case p.from == p.to && stray.count > 0 && stray.unit != uNone && stray.k == iSize:
			return a.trouble("missing-skill", stray)
		}
	}
	return a.dangling()
}

// dangling finds a plus at the end of a message behind which something is
// missing.
func (a *assembler) dangling() *trouble {
	if n := len(a.items); n > 1 && a.items[n-1].k == iSep && a.items[n-1].n == '+' && a.items[n-2].k != iOther {
		return a.trouble("dangling", a.items[n-1])
	}
	return nil
}

// unnamed tells words that might be one of several skills from words that are
// none.
func (a *assembler) unnamed(p part) *trouble {
	t := a.trouble("unknown-skill", item{from: p.from, to: p.to})
	t.size, t.unit = p.size, training.Counted
	if p.size.unit == uSec {
		t.unit = training.Timed
	}
	t.names = a.candidates(p, t.unit)
	if len(t.names) > 0 && p.known {
		t.code = "ambiguous-skill"
	}
	return t
}

// candidates returns at most three names that the words may be meant for: those
// that hold one of them, those of a ladder, or the one nearest in spelling. The
// likeliest come first: what the rung itself is called, and few words.
func (a *assembler) candidates(p part, unit training.Unit) []string {
	var found []spelling
	add := func(at int32, name string) {
		g := &a.p.names.rungs[at]
		if unit != "" && g.unit != unit && !g.goes || g.unit == training.Tried {
			return
		}
		found = append(found, spelling{rung: at, name: name})
	}
	var key []byte
	for i := p.from; i < p.to; i++ {
		if a.toks[i].kind == kWord {
			key = append(key, a.word(int(i))...)
		}
	}
	if at, name := a.p.names.nearest(string(key), slips(len(key))); at >= 0 {
		return []string{name}
	}
	for i := p.from; i < p.to; i++ {
		if word := a.word(int(i)); a.toks[i].kind == kWord && len(word) > 3 {
			for _, at := range a.p.names.parts[string(word[:stemLen(word)])] {
				add(at, a.p.names.called(at, string(word[:stemLen(word)])))
			}
			if at, name := a.p.names.close(string(word)); at >= 0 {
				add(at, name)
			}
		}
	}
	if p.heading > 0 && !slices.ContainsFunc(found, func(s spelling) bool { return a.p.names.rungs[s.rung].name == s.name }) {
		found = found[:0]
		for _, rung := range a.p.programme.Ladders[p.heading-1].Rungs {
			add(int32(a.p.names.sizes[rung.ID]), rung.Name)
		}
	}
	return a.p.likeliest(found)
}

// likeliest returns the first three names of different rungs.
func (p *Parser) likeliest(found []spelling) (out []string) {
	slices.SortStableFunc(found, func(x, y spelling) int {
		return cmp.Or(p.alias(x)-p.alias(y), len(nameWords(x.name))-len(nameWords(y.name)))
	})
	for _, f := range found {
		if len(out) < 3 && !slices.Contains(out, f.name) {
			out = append(out, f.name)
		}
	}
	return out
}

// alias is 1 for a name by which the programme does not call the rung itself.
func (p *Parser) alias(s spelling) int {
	if p.names.rungs[s.rung].name == s.name || len(nameWords(s.name)) == 2 {
		return 0
	}
	return 1
}

// called returns the shortest name of a rung that holds a word; its own, where
// that does.
func (l *lexicon) called(at int32, word string) string {
	best := ""
	for i := range l.keys {
		k := &l.keys[i]
		if k.rung != at || !slices.ContainsFunc(nameWords(k.name), func(w string) bool { return stem(w) == word }) {
			continue
		}
		if k.name == l.rungs[at].name {
			return k.name
		}
		if best == "" || len(nameWords(k.name)) < len(nameWords(best)) {
			best = k.name
		}
	}
	return best
}

// close returns the name that a word is close to in spelling, everyday words
// included: for a suggestion, never for a reading.
func (l *lexicon) close(word string) (int32, string) {
	most := slips(len(word))
	if most == 0 {
		return -1, ""
	}
	for i := range l.keys {
		if k := &l.keys[i]; min(edits(stem(word), k.key, most), edits(word, k.key+"s", most)) <= most {
			return k.rung, k.name
		}
	}
	return -1, ""
}

// nearly judges a message of which nothing could be logged: is it near enough
// to a log to be answered?
func (r *reader) nearly(a *assembler, out *Result) {
	t := a.nearest()
	if t == nil && r.ctx.Addressed {
		t = a.addressed()
	}
	if t != nil {
		out.Verdict, out.Problems = Unsure, []Problem{r.explain(t, nil)}
	}
}

// nearest finds a counted size beside words of which some belong to a name: 3x20s
// hold.
func (a *assembler) nearest() *trouble {
	for _, stray := range a.strays {
		if stray.count == 0 || stray.k != iSize || a.killedAt(stray.from) || a.toks[stray.from].used {
			continue
		}
		p := a.partAt(stray)
		if p.from == p.to || !p.plain {
			continue
		}
		if t := a.unnamed(p); t.code == "ambiguous-skill" || len(t.names) == 1 && a.slipOfEveryday(p) {
			return t
		}
	}
	return nil
}

// slipOfEveryday reports whether the words are one that is a slip away from a name
// that must be written right: it is asked about, never taken.
func (a *assembler) slipOfEveryday(p part) bool {
	if p.to != p.from+1 || a.toks[p.from].kind != kWord {
		return false
	}
	word := string(a.word(int(p.from)))
	for name := range everyday {
		if name[0] == word[0] && edits(word, name, slips(len(word))) <= slips(len(word)) {
			return true
		}
	}
	return false
}

// addressed finds what a message spoken to the bot lacks of being a log.
func (a *assembler) addressed() *trouble {
	for _, stray := range a.strays {
		if a.killedAt(stray.from) || a.toks[stray.from].used {
			continue
		}
		p := a.partAt(stray)
		switch {
		case p.from < p.to && p.plain:
			return a.unnamed(p)
		case p.from == p.to:
			t := a.trouble("missing-skill", stray)
			t.it.to = a.listEnd(stray)
			t.unit = training.Counted
			if stray.unit == uSec {
				t.unit = training.Timed
			}
			return t
		}
	}
	for i := range a.entries {
		e := &a.entries[i]
		if e.from == e.to && a.wholeMessage(e) {
			t := a.trouble("missing-size", item{from: e.nameFrom, to: e.nameTo})
			t.e = e
			return t
		}
	}
	return nil
}

// listEnd returns where a list of sizes ends that begins with a stray one.
func (a *assembler) listEnd(stray item) int32 {
	end := stray.to
	for i := a.itemAt(stray.from); i < len(a.items); i++ {
		switch it := &a.items[i]; it.k {
		case iSize, iFrac:
			end = it.to
		case iSep:
			if it.n != '/' && it.n != ',' && it.n != '+' {
				return end
			}
		default:
			return end
		}
	}
	return end
}

// wholeMessage reports whether a message is a name and little else.
func (a *assembler) wholeMessage(e *entry) bool {
	for i := range a.toks {
		if t := &a.toks[i]; (int32(i) < e.nameFrom || int32(i) >= e.nameTo) && t.kind == kWord && t.f&fFill == 0 {
			return false
		}
	}
	return true
}
