package parser

import (
	"slices"
	"strings"

	"rungbook/training"
)

// lexicon is a programme's names and aliases, made ready to be met in a text.
// A key is a name's words run together, in lower case, without the plural s:
// "pull-ups", "pull ups" and "pullups" have one key.
type lexicon struct {
	rungs  []rung
	names  map[string]int32        // key -> index in rungs, or ladderBase + index of a ladder
	starts map[string]int8         // key of a first word -> most words of a name that begins so
	parts  map[string][]int32      // a word of a name -> the rungs it is part of, canonical names first
	inside []map[string]int32      // ladder -> a word that tells one of its rungs from the others -> that rung
	known  map[string]bool         // every word of every name
	keys   []spelling              // for misspellings, in programme order
	sizes  map[training.RungID]int // rung id -> index in rungs
	words  wordTable               // the words of the names, for the scanner
	whole  wordTable               // names, for the reader: n is the index
}

// ladderBase sets the ladders' indexes off from the rungs'.
const ladderBase = 1 << 16

type rung struct {
	id        training.RungID
	name      string
	key       string // the name's words run together, without the plural s
	unit      training.Unit
	ladder    int
	goes      bool  // timed, yet its name is a plural: reps of it make sense as well
	standards []int // times that standards ask for, in seconds
	helps     []helpedForm
	with      string // the help by which it is another rung's helped form
}

// helpedForm says that with this help the rung is another one.
type helpedForm struct {
	help string
	rung int32
}

type spelling struct {
	key  string
	rung int32
	name string
}

func newLexicon(p *training.Programme) lexicon {
	l := lexicon{
		names: map[string]int32{}, starts: map[string]int8{}, parts: map[string][]int32{},
		known: map[string]bool{}, sizes: map[training.RungID]int{},
	}
	for i, ladder := range p.Ladders {
		for _, r := range ladder.Rungs {
			l.sizes[r.ID] = len(l.rungs)
			l.rungs = append(l.rungs, rung{id: r.ID, name: r.Name, key: stem(strings.Join(nameWords(r.Name), "")), unit: r.Unit, ladder: i, goes: r.Unit == training.Timed && plural(r.Name), standards: standardsOf(p, r), with: r.Helped.Help})
		}
	}
	for _, ladder := range p.Ladders {
		for _, r := range ladder.Rungs {
			if of, ok := l.sizes[r.Helped.Of]; ok && r.Helped.Help != "" {
				l.rungs[of].helps = append(l.rungs[of].helps, helpedForm{r.Helped.Help, int32(l.sizes[r.ID])})
			}
		}
	}
	l.addNames(p)
	l.addLadders(p)
	l.addWords()
	return l
}

// standardsOf returns the times that standards of a rung ask for, in seconds.
func standardsOf(p *training.Programme, r training.Rung) (work []int) {
	if r.MoveOn.Work > 0 {
		work = append(work, r.MoveOn.Work)
	}
	for _, gate := range p.Gates {
		if gate.Rung == r.ID {
			work = append(work, gate.Work)
		}
	}
	return work
}

// seconds returns a time in milliseconds to the nearest second, a half to the even
// one (ISO 80000-1:2022, annex B, rule A; from memory), but never up to what a
// standard asks for: none is met by rounding.
func (g *rung) seconds(milli int64) int {
	s, part := int(milli/1000), milli%1000
	if (part > 500 || part == 500 && s%2 == 1) && !slices.Contains(g.standards, s+1) {
		s++
	}
	return s
}

// addWords lets the scanner see at once which words a name may hold, with and
// without a plural s.
func (l *lexicon) addWords() {
	all := make(map[string]word, 2*len(l.starts))
	mark := func(text string, do func(*word)) {
		for _, form := range [...]string{text, text + "s"} {
			if stem(form) == text || form == text {
				w := all[form]
				do(&w)
				all[form] = w
			}
		}
	}
	for text, most := range l.starts {
		mark(text, func(w *word) { w.most = max(w.most, most) })
	}
	for text := range l.parts {
		mark(text, func(w *word) { w.part = true })
	}
	l.words = newWordTable(all)
	whole := make(map[string]word, len(l.names))
	for key, at := range l.names {
		whole[key] = word{n: at}
	}
	l.whole = newWordTable(whole)
}

// addNames takes canonical names first, so that no alias takes one away.
func (l *lexicon) addNames(p *training.Programme) {
	for _, canonical := range []bool{true, false} {
		for _, ladder := range p.Ladders {
			for _, r := range ladder.Rungs {
				names := r.Aliases
				if canonical {
					names = []string{r.Name}
				}
				for _, name := range names {
					l.addName(name, int32(l.sizes[r.ID]))
				}
			}
		}
	}
}

func (l *lexicon) addName(name string, at int32) {
	words := nameWords(name)
	if len(words) == 0 {
		return
	}
	key := stem(strings.Join(words, ""))
	if _, taken := l.names[key]; !taken {
		l.names[key] = at
		l.keys = append(l.keys, spelling{key, at, name})
	}
	joined := ""
	for i, word := range words {
		joined += word
		first := joined
		l.starts[first] = max(l.starts[first], int8(len(words)-i))
		l.starts[stem(first)] = max(l.starts[stem(first)], int8(len(words)-i))
		l.known[word], l.known[stem(word)] = true, true
		l.addPart(stem(word), at)
	}
}

func (l *lexicon) addPart(word string, at int32) {
	for _, have := range l.parts[word] {
		if have == at {
			return
		}
	}
	l.parts[word] = append(l.parts[word], at)
}

// addLadders lets a ladder's name head a line, and finds the words that tell
// its rungs apart under such a heading: "false grip: deep 30s".
func (l *lexicon) addLadders(p *training.Programme) {
	for i, ladder := range p.Ladders {
		inside := map[string]int32{}
		count := map[string]int{}
		for _, r := range ladder.Rungs {
			for _, word := range nameWords(r.Name) {
				count[stem(word)]++
				inside[stem(word)] = int32(l.sizes[r.ID])
			}
		}
		for word, n := range count {
			if n > 1 {
				delete(inside, word)
			}
		}
		l.inside = append(l.inside, inside)
		words := nameWords(ladder.Name)
		key := stem(strings.Join(words, ""))
		if _, taken := l.names[key]; taken || len(words) == 0 {
			continue
		}
		l.names[key] = int32(ladderBase + i)
		joined := ""
		for j, word := range words {
			joined += word
			l.starts[joined] = max(l.starts[joined], int8(len(words)-j))
			l.starts[stem(joined)] = max(l.starts[stem(joined)], int8(len(words)-j))
		}
	}
}

// nameWords folds a name and splits it at anything but letters.
func nameWords(name string) []string {
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

// stem cuts a plural s.
func stem(word string) string { return word[:stemLen(word)] }

func stemLen[T string | []byte](word T) int {
	n := len(word)
	if n > 3 && word[n-1] == 's' && word[n-2] != 's' {
		return n - 1
	}
	return n
}

func plural(name string) bool {
	words := nameWords(name)
	return len(words) > 0 && stem(words[len(words)-1]) != words[len(words)-1]
}

// name reads the longest name that begins at token i. It returns the index of
// the rung (or ladder), the token after the name, and whether there is one.
func (r *reader) name(i int) (at int32, next int, ok bool) {
	t := &r.toks[i]
	if t.kind != kWord || t.used {
		return 0, 0, false
	}
	if t.most == 0 {
		return 0, 0, false
	}
	key, most := append(r.key[:0], r.buf[t.a:t.b]...), int(t.most)
	for j, words := i, 1; ; words++ {
		whole := key[:stemLen(key)]
		if found := r.p.names.whole.find(hashWord(whole), whole); found != nil {
			at, next, ok = found.n, j+1, true
		}
		if words >= most {
			break
		}
		j = r.nextOfName(j)
		if j < 0 {
			break
		}
		key = append(key, r.buf[r.toks[j].a:r.toks[j].b]...)
	}
	r.key = key
	return at, next, ok
}

// nextOfName returns the next word of a possible name: after a blank or a
// hyphen on one line.
func (r *reader) nextOfName(j int) int {
	t := &r.toks[j+1]
	if t.kind == kPunct && t.n == '-' && (t.glued || r.toks[j+2].glued) {
		j++
		t = &r.toks[j+1]
	}
	if t.kind != kWord || t.used || r.toks[j].owner {
		return -1
	}
	return j + 1
}
