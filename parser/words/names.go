package words

import (
	"slices"
	"strings"

	"rungbook/parser/text"
	"rungbook/training"
)

// Names is a programme's names and aliases, made ready to be met in a text. A
// key is a name's words run together, in lower case, without the plural s:
// "pull-ups", "pull ups" and "pullups" have one key. It is immutable.
type Names struct {
	Rungs   []Rung
	Ladders []Ladder

	names map[string]Name    // by key
	most  map[string]int     // a first word, or several run together -> most words of a name that begins so
	parts map[string][]Named // words of names, without the plural s -> the rungs that have them
	keys  []spelling         // for misspellings, in programme order
	index map[training.RungID]int
	held  map[string]bool // all words of names
	tried map[string]bool // first words of names of what is tried
}

// Name is what a name in a text stands for.
type Name struct {
	Ladder bool // a whole ladder, as a heading
	At     int  // index in Names.Rungs or Names.Ladders
}

// Named is a rung with the first of its names that a question is about.
type Named struct {
	At   int // index in Names.Rungs
	Name string
}

// Rung is a rung as the reader needs it.
type Rung struct {
	ID     training.RungID
	Name   string
	Unit   training.Unit
	Ladder int
	Goes   bool // timed, yet its name is a plural: reps of it make sense as well

	key       string
	initials  string // of a name of several words
	standards []int  // times that standards ask for, in seconds
	with      string // the help by which it is another rung's helped form
	helps     []helpedForm
}

// Ladder is a ladder as the reader needs it.
type Ladder struct {
	Only int // index of its one rung; -1 where it has several

	inside map[string]int // a word that tells one of its rungs from the others -> that rung
}

// helpedForm says that with this help the rung is another one.
type helpedForm struct {
	help string
	rung int
}

type spelling struct {
	key   string
	rung  int
	alias bool // aliases of any language come near everyday words of others
}

// NewNames builds the lexicon of a programme, which must be indexed.
func NewNames(p *training.Programme) *Names {
	n := &Names{
		names: map[string]Name{}, most: map[string]int{}, parts: map[string][]Named{},
		index: map[training.RungID]int{}, tried: map[string]bool{}, held: map[string]bool{},
	}
	for i, ladder := range p.Ladders {
		for _, r := range ladder.Rungs {
			n.index[r.ID] = len(n.Rungs)
			n.Rungs = append(n.Rungs, Rung{
				ID: r.ID, Name: r.Name, Unit: r.Unit, Ladder: i, Goes: r.Unit == training.Timed && plural(r.Name),
				key: keyOf(text.Words(r.Name)), initials: initials(text.Words(r.Name)), standards: standardsOf(p, r), with: r.Helped.Help,
			})
		}
	}
	for _, ladder := range p.Ladders {
		for _, r := range ladder.Rungs {
			if of, ok := n.index[r.Helped.Of]; ok && r.Helped.Help != "" {
				n.Rungs[of].helps = append(n.Rungs[of].helps, helpedForm{r.Helped.Help, n.index[r.ID]})
			}
		}
	}
	n.addRungs(p)
	n.addLadders(p)
	return n
}

// initials returns the first letters of a name's words; "" for one word.
func initials(words []string) string {
	if len(words) < 2 {
		return ""
	}
	out := ""
	for _, word := range words {
		out += word[:1]
	}
	return out
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

// Seconds returns a time in milliseconds to the nearest second, a half to the
// even one (ISO 80000-1:2022, annex B, rule A; from memory), but never up to what
// a standard asks for: none is met by rounding.
func (r *Rung) Seconds(milli int64) int {
	s, part := int(milli/1000), milli%1000
	if (part > 500 || part == 500 && s%2 == 1) && !slices.Contains(r.standards, s+1) {
		s++
	}
	return s
}

// Helped returns the rung that doing this one with help is, and the help that is
// left to say.
func (n *Names) Helped(at int, help string) (rung int, left string) {
	r := &n.Rungs[at]
	if help == "" || help == r.with || help == "assist" && r.with != "" {
		return at, ""
	}
	for _, h := range r.helps {
		if h.help == help {
			return h.rung, ""
		}
	}
	return at, help
}

// Unaided returns the rung that this one is without the help it is done with, and
// whether there is one.
func (n *Names) Unaided(at int) (rung int, helped bool) {
	for i := range n.Rungs {
		for _, h := range n.Rungs[i].helps {
			if h.rung == at {
				return i, true
			}
		}
	}
	return at, false
}

// addRungs takes canonical names first, so that no alias takes one away.
func (n *Names) addRungs(p *training.Programme) {
	for _, canonical := range []bool{true, false} {
		for _, ladder := range p.Ladders {
			for _, r := range ladder.Rungs {
				names := r.Aliases
				if canonical {
					names = []string{r.Name}
				}
				for _, name := range names {
					n.add(name, Name{At: n.index[r.ID]})
				}
			}
		}
	}
}

func (n *Names) add(written string, name Name) {
	words := text.Words(written)
	key := keyOf(words)
	if key == "" {
		return
	}
	if _, taken := n.names[key]; !taken {
		n.names[key] = name
		if !name.Ladder {
			n.keys = append(n.keys, spelling{key, name.At, key != n.Rungs[name.At].key})
		}
	}
	if !name.Ladder && n.Rungs[name.At].Unit == training.Tried {
		n.tried[words[0]] = true
	}
	joined := ""
	for i, word := range words {
		joined += word
		for _, start := range []string{joined, Stem(joined)} {
			n.most[start] = max(n.most[start], len(words)-i)
		}
		n.held[word] = true
		if found := table[word]; !name.Ladder && (found == nil || !found.Classes.Any(joining)) {
			n.addPart(Stem(word), Named{name.At, written})
		}
	}
}

// joining are words that join those of a name, and tell none from another.
var joining = OfClasses(On, In, At, To, Of, The, Article, With, My, Not, Without, Last, Doubtful, Rest, Fail, Toes)

func (n *Names) addPart(word string, named Named) {
	for _, have := range n.parts[word] {
		if have.At == named.At {
			return
		}
	}
	n.parts[word] = append(n.parts[word], named)
}

// addLadders lets a ladder's name head a line, and finds the words that tell
// its rungs apart under such a heading: "false grip: deep 30s".
func (n *Names) addLadders(p *training.Programme) {
	for i, ladder := range p.Ladders {
		l := Ladder{Only: -1, inside: map[string]int{}}
		count := map[string]int{}
		for _, r := range ladder.Rungs {
			for _, word := range text.Words(r.Name) {
				count[Stem(word)]++
				l.inside[Stem(word)] = n.index[r.ID]
			}
		}
		for word, times := range count {
			if times > 1 {
				delete(l.inside, word)
			}
		}
		if len(ladder.Rungs) == 1 {
			l.Only = n.index[ladder.Rungs[0].ID]
		}
		n.Ladders = append(n.Ladders, l)
		n.add(ladder.Name, Name{Ladder: true, At: i})
	}
}

// Inside returns the rung of a ladder that a word alone tells from the others.
func (n *Names) Inside(ladder int, word []byte) (rung int, ok bool) {
	rung, ok = n.Ladders[ladder].inside[string(word[:stemLen(word)])]
	return rung, ok
}

// Part reports whether a word is part of some rung's name.
func (n *Names) Part(word []byte) bool { return len(n.With(word)) > 0 }

// Holds reports whether a word stands in some name, be it one that only joins others.
func (n *Names) Holds(word []byte) bool { return n.held[string(word)] || n.Part(word) }

// With returns the rungs that have a word in some name of theirs, in programme order,
// each with the first such name.
func (n *Names) With(word []byte) []Named { return n.parts[string(word[:stemLen(word)])] }

// Starts reports whether some name begins with the word.
func (n *Names) Starts(word []byte) bool {
	return n.most[string(word)] > 0 || n.most[string(word[:stemLen(word)])] > 0
}

// StartsTried reports whether some name of what is tried begins with the word.
func (n *Names) StartsTried(word []byte) bool { return n.tried[string(word)] }

// At reads the longest name that begins at token i. A hyphen or a blank may
// stand between its words.
func (n *Names) At(t *text.Text, i int) (name Name, next int, ok bool) {
	first := t.Word(i)
	most := n.most[string(first)]
	if most == 0 && len(first) > 0 {
		most = n.most[string(first[:stemLen(first)])]
	}
	if most == 0 {
		return name, i, false
	}
	var room [64]byte
	key := append(room[:0], first...)
	for j, words := i, 1; ; words++ {
		if found, has := n.names[string(key[:stemLen(key)])]; has {
			name, next, ok = found, j+1, true
		}
		if words >= most {
			break
		}
		if j = nextWord(t, j); j < 0 {
			break
		}
		key = append(key, t.Word(j)...)
	}
	return name, next, ok
}

// nextWord returns the next word of a possible name: after a blank or a hyphen on
// one line. It returns -1 where there is none.
func nextWord(t *text.Text, j int) int {
	if t.Tokens[j].Owner {
		return -1
	}
	if t.Is(j+1, '-') && (t.Glued(j+1) || t.Glued(j+2)) {
		j++
	}
	if t.Kind(j+1) != text.Word {
		return -1
	}
	return j + 1
}

// Telling returns the timed rung whose names alone hold a word: deep, mid, high.
func (n *Names) Telling(word []byte) (rung int, ok bool) {
	with := n.With(word)
	if len(with) != 1 || n.Rungs[with[0].At].Unit != training.Timed || string(word) == n.Rungs[with[0].At].key {
		return 0, false
	}
	for i := range n.Ladders {
		if at, has := n.Inside(i, word); has && at == with[0].At {
			return at, true
		}
	}
	return 0, false
}

// OnRings returns the rung whose name is this one's with "ring" before it.
func (n *Names) OnRings(at int) (rung int, ok bool) {
	name, ok := n.names["ring"+n.Rungs[at].key]
	return name.At, ok && !name.Ladder
}

// Find returns a rung's index in Rungs.
func (n *Names) Find(id training.RungID) (at int, ok bool) {
	at, ok = n.index[id]
	return at, ok
}

// keyOf runs a name's words together, without the plural s.
func keyOf(words []string) string { return Stem(strings.Join(words, "")) }

// Stem cuts a plural s.
func Stem(word string) string { return word[:stemLen(word)] }

func stemLen[T string | []byte](word T) int {
	n := len(word)
	if n > 3 && word[n-1] == 's' && word[n-2] != 's' {
		return n - 1
	}
	return n
}

// Plural reports whether a word ends in a plural s.
func Plural[T string | []byte](word T) bool { return stemLen(word) < len(word) }

func plural(name string) bool {
	words := text.Words(name)
	return len(words) > 0 && Plural(words[len(words)-1])
}
