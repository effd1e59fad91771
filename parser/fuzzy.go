package parser

// correctNames looks for misspelt names beside sizes that parsed, and for the
// words that tell rungs apart under a ladder's heading.
func (r *reader) correctNames() {
	r.underLadders()
	r.sharedNouns()
	for i := 1; i < len(r.items); i++ {
		if r.items[i].k == iName && !r.items[i].near && r.unknown(i-1) { // rign rows
			r.isNear(i-1, i)
		}
	}
	for i := range r.items {
		if r.items[i].k != iSize && r.items[i].k != iCount && r.items[i].k != iFrac {
			continue
		}
		if r.runHasName(i) {
			continue
		}
		if !r.nearFrom(i+1, 1) {
			r.nearFrom(i-1, -1)
		}
	}
}

// underLadders reads "deep 3x30s" behind "false grip:".
func (r *reader) underLadders() {
	ladder := int32(-1)
	for i := range r.items {
		it := &r.items[i]
		switch it.k {
		case iLadder:
			ladder = it.n
		case iPart, iOther, iFill, iSide:
			if ladder < 0 || r.toks[it.from].kind != kWord || it.to != it.from+1 {
				continue
			}
			word := r.word(int(it.from))
			if at, ok := r.p.names.inside[ladder][string(word[:stemLen(word)])]; ok {
				it.k, it.n = iName, at
			}
		}
	}
}

// sharedNouns reads the words before a name that share its noun: deep and mid
// hang.
func (r *reader) sharedNouns() {
	for i := len(r.items) - 1; i >= 2; i-- {
		it := &r.items[i]
		if it.k != iName || it.near || it.to < it.from+2 {
			continue
		}
		inside := r.p.names.inside[r.p.names.rungs[it.n].ladder]
		for j := i; j >= 2 && r.joins(j-1); j -= 2 {
			part := &r.items[j-2]
			if part.k != iPart {
				break
			}
			word := r.word(int(part.from))
			at, ok := inside[string(word[:stemLen(word)])]
			if !ok {
				break
			}
			part.k, part.n = iName, at
		}
	}
}

// joins reports whether item i is an and, a comma or a sign between two names.
func (r *reader) joins(i int) bool {
	it := &r.items[i]
	return it.k == iSep && (it.n == '&' || it.n == '+' || it.n == '/' || it.n == ',') || r.is(int(it.from), "or")
}

// runHasName reports whether a name stands between the separators around item
// i.
func (r *reader) runHasName(i int) bool {
	for j := i; j < len(r.items) && j < i+12 && r.items[j].k != iSep; j++ {
		if r.items[j].k == iName {
			return true
		}
	}
	for j := i; j >= 0 && j > i-12 && r.items[j].k != iSep; j-- {
		if r.items[j].k == iName {
			return true
		}
	}
	return false
}

// nearFrom tries the words that follow (or go before) a size as a misspelt
// name. No unknown word may be left over beside it.
func (r *reader) nearFrom(at, step int) bool {
	for at >= 0 && at < len(r.items) && r.items[at].k == iFill && !r.wordy(at) {
		at += step
	}
	end := at
	for n := 0; n < 4 && end >= 0 && end < len(r.items) && r.wordy(end); n++ {
		end += step
	}
	for ; end != at; end -= step {
		if end >= 0 && end < len(r.items) && r.unknown(end) {
			continue
		}
		from, to := at, end-step
		if from > to {
			from, to = to, from
		}
		if r.isNear(from, to) {
			return true
		}
	}
	return false
}

// unknown reports whether an item is a word that nothing is known of.
func (r *reader) unknown(i int) bool {
	it := &r.items[i]
	t := &r.toks[it.from]
	return it.k == iOther && t.kind == kWord && t.f == 0 && t.m == 0 && t.body == 0 && !t.used
}

// wordy reports whether an item is a word that may be part of a misspelt name.
func (r *reader) wordy(i int) bool {
	it := &r.items[i]
	if it.k != iOther && it.k != iPart && it.k != iFill && !(it.k == iHelp && it.to == it.from+1) || r.toks[it.from].kind != kWord && !r.punct(int(it.from), '-') {
		return false
	}
	t := &r.toks[it.from]
	return it.k != iFill || t.b-t.a > 3 || t.kind == kPunct
}

// isNear looks items from..to up as one misspelt name.
func (r *reader) isNear(from, to int) bool {
	if r.fuzzy >= fuzzyCap {
		return false
	}
	r.fuzzy++
	key := r.key[:0]
	for i := from; i <= to; i++ {
		for j := r.items[i].from; j < r.items[i].to; j++ {
			if r.toks[j].kind != kWord {
				continue
			}
			if otherWork[string(r.word(int(j)))] {
				return false
			}
			key = append(key, r.word(int(j))...)
		}
	}
	r.key = key
	at, _ := r.p.names.nearest(string(key), slips(len(key)))
	if at < 0 {
		return false
	}
	it := item{k: iName, n: at, from: r.items[from].from, to: r.items[to].to, near: true}
	r.items[from] = it
	for i := from + 1; i <= to; i++ {
		r.items[i] = item{k: iFill, from: r.items[i].from, to: r.items[i].to}
	}
	return true
}

// nearest returns the one rung whose name is within so many slips of what was
// typed.
func (l *lexicon) nearest(typed string, most int) (int32, string) {
	if most == 0 {
		return -1, ""
	}
	best, at, name, tie := most+1, int32(-1), "", false
	for i := range l.keys {
		k := &l.keys[i]
		if everyday[k.key] {
			continue
		}
		d := min(edits(stem(typed), k.key, most), edits(typed, k.key+"s", most))
		switch {
		case d < best:
			best, at, name, tie = d, k.rung, k.name, false
		case d == best && d <= most && k.rung != at:
			tie = true
		}
	}
	if tie || best > most {
		return -1, ""
	}
	return at, name
}

// slips returns how many slips a name of so many letters may hold: none up to
// four letters, one up to seven, two beyond.
func slips(letters int) int {
	switch {
	case letters <= 4:
		return 0
	case letters <= 7:
		return 1
	}
	return 2
}

// otherWork holds words of exercises that stand near a rung's name and are none
// of it: a dead hang is not a misspelt deep hang, and must open no gate.
var otherWork = func() map[string]bool {
	words := map[string]bool{}
	eachWord("dead pulled active passive push pushup pushups pressup pressups press presses chin chins chinup chinups chips squat squats crunch crunches plank planks lunge lunges curl curls sit situp situps step steps jump jumps burpee burpees raises thruster thrusters deadlift deadlifts bench handstand handstands", func(word string) { words[word] = true })
	return words
}()

// everyday holds names of one word that people use for much else: they must be
// written right.
var everyday = map[string]bool{"support": true, "press": true, "bridge": true, "stand": true, "balance": true, "lever": true, "plank": true, "attempt": true}

// nearName reports whether the unknown word at token i may be a misspelt name.
func (r *reader) nearName(i int) bool {
	if r.fuzzy >= fuzzyCap {
		return false
	}
	r.fuzzy++
	word := r.word(i)
	if at, _ := r.p.names.nearest(string(word), slips(len(word))); at >= 0 {
		return true
	}
	if t := &r.toks[i+1]; t.kind == kWord {
		key := append(append(r.key[:0], word...), r.word(i+1)...)
		r.key = key
		at, _ := r.p.names.nearest(string(key), slips(len(key)))
		return at >= 0
	}
	return false
}
