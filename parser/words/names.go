package words

import (
	"slices"
	"strings"

	"rungbook/parser/text"
	"rungbook/training"
)

// Names is a programme's names and aliases, made ready to be found in a text. The
// key of a name is its words run together, in lower case, without the plural s:
// "pull-ups", "pull ups" and "pullups" have one key. It is immutable.
type Names struct {
	Rungs   []Rung
	Ladders []Ladder

	names map[string]Name         // by key
	most  map[string]int          // by the first word or words of a name, run together: how many words such a name has, at most
	parts map[string][]Named      // by a word of a name, without its plural s: the rungs with that word
	keys  []spelling              // of rungs, with which misspellings are compared; in programme order
	index map[training.RungID]int // of a rung in Rungs
	held  map[string]bool         // every word of any name
	tried map[string]bool         // the first words of the names of attempts
}

// Name is what a name in a text stands for.
type Name struct {
	Ladder bool // it is the name of a ladder, which heads a line; else of a rung
	At     int  // index in Names.Rungs or Names.Ladders
}

// Named is a rung with one of its names.
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
	Goes   bool // it is timed, but its name is a plural: reps of it make sense too

	key       string
	initials  string // of its name; "" for a name of one word
	standards []int  // the times that its standards ask for, in seconds
	with      string // the help with which another rung is this one; "" where it is no helped form
	helps     []helpedForm
}

// Ladder is a ladder as the reader needs it.
type Ladder struct {
	Only int // index of its one rung; -1 where it has several

	inside map[string]int // by a word that stands in the names of one of its rungs alone: that rung
}

// helpedForm says that a rung done with help is the given other rung.
type helpedForm struct {
	help string
	rung int
}

type spelling struct {
	key   string
	rung  int
	alias bool // compared more strictly: an alias of one language may be near an everyday word of another
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

// initials returns the first letters of a name's words; "" if it has one word.
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

// Seconds rounds a time in milliseconds to the nearest second, a half to the even
// one (ISO 80000-1:2022, annex B, rule A; from memory). Where that would round up
// to what one of the rung's standards asks, it rounds down: no standard is met by
// rounding.
func (r *Rung) Seconds(milli int64) int {
	s, part := int(milli/1000), milli%1000
	if (part > 500 || part == 500 && s%2 == 1) && !slices.Contains(r.standards, s+1) {
		s++
	}
	return s
}

// Helped returns which rung it is to do the given rung with help, and the help
// that is left: "" if the help is part of that rung, else help.
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

// Unaided returns which rung a helped form is without its help. helped is false
// for a rung that is no helped form.
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

// addRungs adds the rungs: all their names first and then the aliases, so that no
// alias takes the key of a name.
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

// add adds a name or alias as it is written in the programme. A key that another
// name has already stays with that name.
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

// joining are classes of words that only join the words of a name: sharing one
// of them makes no two names alike.
var joining = OfClasses(On, In, At, To, Of, The, Article, With, My, Not, Without, Last, Doubtful, Rest, Fail, Toes)

func (n *Names) addPart(word string, named Named) {
	for _, have := range n.parts[word] {
		if have.At == named.At {
			return
		}
	}
	n.parts[word] = append(n.parts[word], named)
}

// addLadders adds the names of ladders, which may head a line, and finds for each
// ladder the words that tell its rungs apart under its name: "false grip: deep
// 30s".
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

// Inside returns the rung of a ladder that has the word in a name if no other rung
// of the ladder has.
func (n *Names) Inside(ladder int, word []byte) (rung int, ok bool) {
	rung, ok = n.Ladders[ladder].inside[string(word[:stemLen(word)])]
	return rung, ok
}

// Part reports whether a word stands in some rung's name and does not only join
// others there.
func (n *Names) Part(word []byte) bool { return len(n.With(word)) > 0 }

// Holds reports whether a word stands in some name, also if it only joins others
// there.
func (n *Names) Holds(word []byte) bool { return n.held[string(word)] || n.Part(word) }

// With returns the rungs that have the word in one of their names, in programme
// order, each with the first such name; words that only join others are left out.
func (n *Names) With(word []byte) []Named { return n.parts[string(word[:stemLen(word)])] }

// Starts reports whether some name begins with the word.
func (n *Names) Starts(word []byte) bool {
	return n.most[string(word)] > 0 || n.most[string(word[:stemLen(word)])] > 0
}

// StartsTried reports whether some name of an attempt begins with the word.
func (n *Names) StartsTried(word []byte) bool { return n.tried[string(word)] }

// At finds the longest name that begins at token i, and returns the token behind
// it. A hyphen or a blank may stand between its words. ok is false where no name
// begins there.
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

// nextWord returns the token of the next word of a possible name, which stands
// behind token j, a hyphen between them or nothing; -1 where there is none.
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

// Telling returns the timed rung that has the word in a name if no other rung of
// the programme has: deep, mid, high.
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

// keyOf returns the key of a name of these words.
func keyOf(words []string) string { return Stem(strings.Join(words, "")) }

// Stem returns the word without its plural s.
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
